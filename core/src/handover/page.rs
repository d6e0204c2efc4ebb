//! The page itself, sorted by danger.

use super::looks::{Doubt, LooksDone, count, is_on, looks_done};
use super::parts::{Parts, parts};
use crate::access::{self, Stand};
use crate::audit::{Next, Owed, Rule, Verdict, audit};
use crate::job::{Excepted, Job};
use crate::journal::*;
use crate::permit::{DueCheck, due_checks, stops_turning};

/// What must not be done with the machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stop {
    DoNotTurn,
    DoNotStart,
}

/// The state of a job on one page, in the order in which it is read.
#[derive(Clone, Debug, PartialEq)]
pub struct Handover {
    pub verdict: Verdict,
    /// First of all: what must not be done, and the one reason for each line.
    /// Turning before starting, then by rule.
    pub stops: Vec<(Stop, Owed)>,
    /// Then what looks done but is not.
    pub looks_done: Vec<LooksDone>,
    /// Of these, places that are in but not tight.
    pub not_tight: u32,
    pub parts: Parts,
    /// Ends that are off and not joined.
    pub ends_off: Vec<EndId>,
    /// Make-safe steps that nobody confirmed, findings that nobody decided.
    pub unsaid: Vec<Owed>,
    /// Things missing, over, or of unknown origin.
    pub count: Vec<Owed>,
    /// What was accepted as it is, by whom and why.
    pub accepted: Vec<(Owed, Excepted)>,
    /// Checks after running, those due first.
    pub after_running: Vec<DueCheck>,
    /// What can be done next: a part or an end begun before a new one.
    pub next: Option<Target>,
    /// Lines of the audit that are open in all.
    pub open: usize,
}

/// Makes the page at `now` (ms since 1970).
pub fn handover(job: &Job, now: i64) -> Handover {
    let audit = audit(job, now);
    let back = access::back_at(job, now);
    let looks_done = looks_done(&audit.open);
    let of = |f: fn(&Owed) -> bool| audit.open.iter().filter(|o| f(o)).cloned().collect();
    let next = back
        .acts
        .iter()
        .filter(|it| it.stand == Stand::Now && is_on(it.what))
        // Whoever did it is not the one to look at it.
        .filter(|it| !access::lacks_look(job, it.what))
        .min_by_key(|it| !it.begun)
        .map(|it| it.what);
    Handover {
        stops: stops(&audit.open),
        not_tight: count(&looks_done, Doubt::NotTight),
        looks_done,
        parts: parts(job, &back),
        ends_off: audit
            .open
            .iter()
            .filter(|o| o.rule == Rule::Rejoin)
            .filter_map(|o| match o.on {
                Target::End(id) => Some(id),
                _ => None,
            })
            .collect(),
        unsaid: of(|o| matches!(o.rule, Rule::MakeSafe | Rule::Decide | Rule::DoWork)),
        count: of(|o| o.rule.next() == Next::Count),
        accepted: audit.excepted,
        after_running: due_checks(job, now),
        next,
        open: audit.open.len(),
        verdict: audit.verdict,
    }
}

/// What is inside or may be stops turning; what is drained, curing or cut off
/// stops starting. Parts that are off are listed as such and not here: nobody
/// starts an engine that is visibly in pieces.
fn stops(open: &[Owed]) -> Vec<(Stop, Owed)> {
    let mut stops: Vec<(Stop, Owed)> = open
        .iter()
        .filter_map(|owed| {
            let stop = match owed.rule {
                _ if stops_turning(owed) => Stop::DoNotTurn,
                Rule::Fill | Rule::Bleed | Rule::LessIn | Rule::Curing | Rule::Restore => {
                    Stop::DoNotStart
                }
                _ => return None,
            };
            Some((stop, owed.clone()))
        })
        .collect();
    stops.sort_by_key(|(stop, owed)| (*stop, owed.rule));
    stops
}
