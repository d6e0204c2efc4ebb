//! What cannot go in or on any more because what it lies under is closed up, or
//! a part lies over it: the way back to it, or the word that it is all the same.
use super::At;
use crate::job::{Book, Command, PlaceState, Refusal};
use crate::journal::*;
use crate::words;

/// A gasket or sealant whose joint is closed.
#[derive(Clone, Debug, PartialEq)]
pub struct ShutOver {
    /// Why it cannot be.
    pub why: String,
    /// What opens the joint again, and what that is called.
    pub open: (&'static str, Command),
    /// What may be so all the same.
    pub reasons: &'static [&'static str],
}

/// The ways on from a refusal, where it knows some.
#[derive(Clone, Debug, PartialEq)]
pub struct WaysOn {
    /// What that is called, and the part on whose page what stands in the way
    /// is dealt with.
    pub go: Option<(String, PartId)>,
    /// What may be so all the same.
    pub anyway: (&'static str, Command),
}

/// From a refusal to touch what lies behind a part: that part, or the word that
/// it can be reached.
pub fn ways_on(book: &Book, refusal: &Refusal) -> Option<WaysOn> {
    let Refusal::Covered { what, by } = *refusal else {
        return None;
    };
    let reason = words::REACHED.to_owned();
    Some(WaysOn {
        go: Some((words::open_over(book.job(), by), by)),
        anyway: (words::REACHED, Command::Reached { what, reason }),
    })
}

/// `None` where nothing is closed over it.
pub fn shut_over(book: &Book, what: Target, at: At) -> Option<ShutOver> {
    let job = book.job();
    let under = job.shut_over(what)?;
    let open = match under {
        Target::Part(part) => Command::TakeOffAgain { part, aside: false },
        Target::Fixing(fixing) => Command::Record(Act::FastenersUndone {
            fixing,
            places: job.fixings.get(fixing)?.where_state(PlaceState::filled),
            out: true,
            to: Account::Bench,
        }),
        Target::End(end) => Command::PartEnd { end },
        _ => return None,
    };
    Some(ShutOver {
        why: words::refusal(job, &Refusal::ShutOver { what, under }, at.style),
        open: (words::open_again(under), open),
        reasons: &words::LATE_REASONS,
    })
}
