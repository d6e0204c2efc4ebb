//! The audit: everything owed, every count that does not close and every state
//! that cannot be, with a verdict; and what a job needs to be signed off.
pub(crate) mod count;
mod impossible;
mod rule;
mod verdict;

pub use rule::{Next, Owed, Rule};
pub use verdict::Verdict;

use crate::debts;
use crate::job::{Excepted, Job};
use crate::journal::OwedKey;

/// The outcome of an audit.
#[derive(Clone, Debug, PartialEq)]
pub struct Audit {
    pub verdict: Verdict,
    /// Open lines, those with which danger goes first.
    pub open: Vec<Owed>,
    /// Lines that an exception with a name and a reason covers.
    pub excepted: Vec<(Owed, Excepted)>,
}

impl Audit {
    pub fn has(&self, rule: Rule) -> bool {
        self.open.iter().any(|o| o.rule == rule)
    }
    /// Open lines of one group.
    pub fn group(&self, next: Next) -> impl Iterator<Item = &Owed> {
        self.open.iter().filter(move |o| o.rule.next() == next)
    }
}

/// Whether an exception with a name and a reason covers it.
pub fn accepted(job: &Job, owed: &Owed) -> bool {
    let last = job.exceptions.iter().rfind(|e| e.owed == owed.key());
    last.is_some_and(|it| covers(it, owed))
}

/// Whether this exception, made of the same thing owed, covers as many as there
/// are now.
fn covers(it: &Excepted, owed: &Owed) -> bool {
    owed.rule.can_be_excepted() && it.up_to.is_none_or(|n| owed.n <= n)
}

/// Audits the job as it stands at `now` (ms since 1970).
pub fn audit(job: &Job, now: i64) -> Audit {
    let mut lines = debts::owed(job, now);
    count::count(job, &mut lines);
    impossible::impossible(job, &mut lines);
    let covered: rustc_hash::FxHashMap<OwedKey, &Excepted> =
        job.exceptions.iter().map(|e| (e.owed, e)).collect();
    let mut open = Vec::with_capacity(lines.len());
    let mut excepted = Vec::new();
    for owed in lines {
        match covered.get(&owed.key()) {
            Some(&exception) if covers(exception, &owed) => {
                excepted.push((owed, exception.clone()));
            }
            _ => open.push(owed),
        }
    }
    // Old ones kept where new were due: accepted when it was decided.
    for (id, fixing) in job.fixings.iter() {
        if let Some(kept) = &fixing.kept {
            let owed = Owed {
                rule: Rule::NotNew,
                on: crate::journal::Target::Fixing(id),
                opened: kept.event,
                n: fixing.wanted() as u32,
                places: Vec::new(),
                with: Vec::new(),
            };
            excepted.push((owed, kept.clone()));
        }
    }
    open.sort_by_key(|o| o.rule);
    Audit {
        verdict: verdict::verdict(job, &open),
        open,
        excepted,
    }
}
