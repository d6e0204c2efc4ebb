//! Who is at work in a job, and how fast they were in the others.
use std::rc::Rc;

use countback_core::access::AtWork;

use super::desk::Desk;

/// What it was read of: the job, the person, and how many jobs were there.
pub(super) type Of = (String, String, usize);

impl Desk {
    /// Read when it is first asked in a job, and again for another job or name.
    pub fn at_work(&self, job: &str) -> Rc<AtWork> {
        let jobs = self.inner.jobs.borrow();
        let who = self.inner.prefs.borrow().by.trim().to_owned();
        let of = (job.to_owned(), who, jobs.len());
        let mut known = self.inner.at_work.borrow_mut();
        if known.0 != of {
            let others = jobs.iter().filter(|(key, _)| *key != job);
            let work = AtWork::told_by(&of.1, others.map(|(_, open)| &open.book));
            *known = (of, Rc::new(work));
        }
        known.1.clone()
    }
}
