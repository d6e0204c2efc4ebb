//! Letting an independent check go. Anyone who answers for the job may, in
//! their own name and with a reason; the record says whether that was the same
//! hand that tightened it. Alone in a garage there may be nobody else, and that
//! is then what the record says.

use super::critical::{suggest_end, suggest_fixing};
use crate::audit::Rule;
use crate::job::{EndState, Job, PlaceState};
use crate::journal::*;

/// Whether a joint's mark, by which a second person is asked for, stays on: its
/// name tells of what lives hang on, or work was done under the mark. The look
/// is then let go by name and reason, as an exception, never by taking off the
/// mark.
pub fn mark_stays(job: &Job, what: Target) -> bool {
    match what {
        Target::Fixing(id) => job.fixings.get(id).is_some_and(|it| {
            let done = it.places.iter().any(|p| p.state >= PlaceState::Final);
            it.detail.safety && (done || suggest_fixing(job, id).is_some())
        }),
        Target::End(id) => job.end(id).is_some_and(|it| {
            let done = matches!(it.state, EndState::Secured | EndState::Checked);
            it.safety && (done || suggest_end(job, id).is_some())
        }),
        _ => false,
    }
}

/// A check that was let go, as the record has it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Waiver {
    pub on: Target,
    pub by: String,
    pub reason: String,
    /// In ms since 1970.
    pub at: i64,
    /// By the same name that did the work: nobody else has seen it.
    pub own_work: bool,
    /// The work was touched after that; the check is owed anew.
    pub lapsed: bool,
}

/// The checks that were let go, in order.
pub fn waivers(job: &Job) -> Vec<Waiver> {
    job.exceptions
        .iter()
        .filter(|it| it.owed.rule == Rule::IndependentCheck)
        .map(|it| {
            let same = |name: &str| name.trim().to_lowercase() == it.by.trim().to_lowercase();
            let (own_work, since) = match it.owed.on {
                Target::Fixing(id) => job.fixings.get(id).map_or((false, None), |fixing| {
                    let own = fixing
                        .places
                        .iter()
                        .any(|p| p.state >= PlaceState::Final && same(job.name_of(p.who)));
                    (own, Some(fixing.since))
                }),
                Target::End(id) => job.end(id).map_or((false, None), |end| {
                    (same(job.name_of(end.who)), Some(end.since))
                }),
                _ => (false, None),
            };
            Waiver {
                on: it.owed.on,
                by: it.by.clone(),
                reason: it.reason.clone(),
                at: it.at,
                own_work,
                lapsed: since.is_some_and(|since| since != it.owed.opened),
            }
        })
        .collect()
}
