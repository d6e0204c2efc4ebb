//! A thing that goes over others, and what the record says came first.
use rustc_hash::FxHashSet;

use crate::job::Job;
use crate::journal::*;

/// The thing that is about to be done, over what it covers.
#[derive(Clone, Copy)]
pub(in super::super) struct Cover {
    pub what: Target,
    /// When it came off or apart.
    pub off: EventId,
}

impl Cover {
    pub(super) fn part(job: &Job, part: PartId) -> Self {
        Self::of(job, Target::Part(part))
    }
    pub(in super::super) fn of(job: &Job, what: Target) -> Self {
        let off = match what {
            Target::Part(id) => job.parts.get(id).map(|p| p.opened),
            Target::Fixing(id) => job.fixings.get(id).map(|f| f.opened),
            Target::Connection(id) => job.connections.get(id).map(|c| c.opened),
            Target::End(end) => job.connections.get(end.connection).map(|c| {
                let first = c.end(end.side).first;
                first.unwrap_or(c.opened)
            }),
            _ => None,
        };
        Self {
            what,
            off: off.unwrap_or_default(),
        }
    }
    /// A part that will go back later than this: it came off earlier, or this is
    /// an end of what runs behind it.
    pub(in super::super) fn before(&self, job: &Job, part: PartId) -> bool {
        self.what != Target::Part(part)
            && job.parts.get(part).is_some_and(|p| {
                p.off()
                    && (p.opened < self.off
                        || self.runs_by(job, part)
                        || came_first(job, self.what, Target::Part(part)))
            })
    }
    fn runs_by(&self, job: &Job, part: PartId) -> bool {
        let connection = match self.what {
            Target::End(end) => end.connection,
            Target::Connection(id) => id,
            _ => return false,
        };
        let runs = |r: &Route| r.part == Some(part) && r.kind != RouteKind::ClippedTo;
        let it = job.connections.get(connection);
        it.is_some_and(|it| it.route.iter().any(runs))
    }
}

/// The same, or an end and its connection.
pub(in super::super) fn same_thing(a: Target, b: Target) -> bool {
    match (a, b) {
        (Target::End(end), Target::Connection(id)) | (Target::Connection(id), Target::End(end)) => {
            end.connection == id
        }
        _ => a == b,
    }
}

/// Whether the record says that `what` had to be undone or parted before
/// `cover` could come off, through however many others.
pub(in super::super) fn came_first(job: &Job, cover: Target, what: Target) -> bool {
    // Needs come before what needs them, so only what is later than the one
    // that is looked for can lead to it; unless one was remembered late.
    let known = if job.remembered_late {
        None
    } else {
        what.event()
    };
    let leads = |at: Target| known.is_none_or(|known| at.event().is_some_and(|at| at > known));
    if !leads(cover) {
        return false;
    }
    let mut seen = FxHashSet::default();
    let mut next = vec![cover];
    while let Some(at) = next.pop() {
        if !seen.insert(at) {
            continue;
        }
        if same_thing(at, what) && at != cover {
            return true;
        }
        let after = match at {
            Target::Part(id) => job.parts.get(id).map(|p| &p.after),
            Target::Fixing(id) => job.fixings.get(id).map(|f| &f.after),
            Target::Connection(id) => job.connections.get(id).map(|c| &c.after),
            Target::End(id) => job.connections.get(id.connection).map(|c| &c.after),
            _ => None,
        };
        for first in after.into_iter().flatten().map(|n| n.first) {
            if leads(first) || same_thing(first, what) {
                next.push(first);
            }
        }
    }
    false
}
