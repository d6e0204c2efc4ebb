//! The verdict: what may be done with the machine as it stands.
use super::{Next, Owed, Rule};
use crate::job::Job;
use crate::journal::Target;

/// In order of danger; the first that holds is the verdict.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Nothing has been taken off.
    NothingOff,
    /// Something is inside: the machine must not be turned.
    DoNotTurn {
        inside: Vec<Target>,
    },
    /// Complete to the eye, but not fit to start: fluids, supplies, cures.
    DoNotStart {
        missing: Vec<Target>,
    },
    /// Things are owed.
    Owed {
        n: u32,
    },
    /// Only checks after running are owed.
    RunThenCheck {
        n: u32,
    },
    /// Nothing is owed.
    Complete,
    SignedOff,
}

pub fn verdict(job: &Job, open: &[Owed]) -> Verdict {
    let inside: Vec<Target> = open
        .iter()
        .filter(|o| o.rule == Rule::TakeOut)
        .map(|o| o.on)
        .collect();
    if !inside.is_empty() {
        return Verdict::DoNotTurn { inside };
    }
    if open.is_empty() {
        if job.is_signed() {
            return Verdict::SignedOff;
        }
        return if job.first_off.is_none() {
            Verdict::NothingOff
        } else {
            Verdict::Complete
        };
    }
    let later = open
        .iter()
        .filter(|o| o.rule.next() == Next::AfterRunning)
        .count();
    let fill = || open.iter().filter(|o| o.rule.next() == Next::Fill);
    let n = fill().count();
    if later + n == open.len() && n > 0 {
        let mut missing: Vec<Target> = Vec::new();
        for owed in fill() {
            if !missing.contains(&owed.on) {
                missing.push(owed.on);
            }
        }
        return Verdict::DoNotStart { missing };
    }
    if later == open.len() {
        return Verdict::RunThenCheck { n: later as u32 };
    }
    Verdict::Owed {
        n: open.len() as u32,
    }
}
