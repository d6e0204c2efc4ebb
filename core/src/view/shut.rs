//! What cannot go in or on any more because what it lies under is closed up:
//! the way back to it, or the word that it was there before.
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
