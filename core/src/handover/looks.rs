//! What a glance takes for done: fasteners in their places but not tight, ends
//! on but not fast, old one-use items back in, and whatever is in doubt.

use crate::audit::{Owed, Rule};
use crate::journal::*;

/// In what way it is not done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Doubt {
    /// In by hand, snug, or between stages.
    NotTight,
    /// Another fastener, spacer, end or part than its own.
    Wrong,
    /// Pushed on, not clicked or clamped.
    NotFast,
    /// Final or on, but somebody was not sure.
    Unsure,
    /// Tight before all it clamps is there.
    TooEarly,
    /// Old, where new is wanted.
    NotNew,
    /// Nobody else has looked.
    Unchecked,
    /// Something is owed behind it.
    Behind,
}

/// Something that looks done.
#[derive(Clone, Debug, PartialEq)]
pub struct LooksDone {
    pub doubt: Doubt,
    pub owed: Owed,
}

/// Those of the open lines that look done, in the order of the audit.
pub(super) fn looks_done(open: &[Owed]) -> Vec<LooksDone> {
    let doubt = |rule: Rule| {
        Some(match rule {
            Rule::Tighten | Rule::LastRound => Doubt::NotTight,
            Rule::WrongThing
            | Rule::WouldBottom
            | Rule::HoldsTooLittle
            | Rule::WrongExtra
            | Rule::WrongEnd
            | Rule::OtherPart => Doubt::Wrong,
            Rule::Secure => Doubt::NotFast,
            Rule::Doubtful | Rule::NotSure | Rule::ClosedLate => Doubt::Unsure,
            Rule::FinalTooEarly => Doubt::TooEarly,
            Rule::NotNew | Rule::OldItemIn => Doubt::NotNew,
            Rule::IndependentCheck => Doubt::Unchecked,
            Rule::Buried => Doubt::Behind,
            _ => return None,
        })
    };
    let mut found: Vec<LooksDone> = open
        .iter()
        .filter_map(|owed| {
            Some(LooksDone {
                doubt: doubt(owed.rule)?,
                owed: owed.clone(),
            })
        })
        .collect();
    found.sort_by_key(|it| it.doubt);
    found
}

/// Things, not lines: four places of one fixing are four.
pub(super) fn count(found: &[LooksDone], doubt: Doubt) -> u32 {
    let of = found.iter().filter(|it| it.doubt == doubt);
    of.map(|it| it.owed.n).sum()
}

/// Whether a line is about the fastening of a thing that is on.
pub(super) fn is_on(target: Target) -> bool {
    matches!(target, Target::Fixing(_) | Target::End(_) | Target::Part(_))
}
