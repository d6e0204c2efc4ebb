//! Whether a thing is back and finished.
use crate::audit::Rule;
use crate::job::{EndState, Fixing, Job, PartState, Place, PlaceState};
use crate::journal::*;

/// Back, fast, joined and renewed, as far as it can be before running.
pub fn settled(job: &Job, what: Target) -> bool {
    match what {
        Target::Part(id) => job.parts.get(id).is_none_or(|part| {
            part.state == PartState::LeftOff
                || (part.state == PartState::Placed
                    && part
                        .fixings
                        .iter()
                        .all(|&f| settled(job, Target::Fixing(f)))
                    && part.ends.iter().all(|&e| settled(job, Target::End(e)))
                    && own(part).all(|what| settled(job, what)))
        }),
        Target::Fixing(id) => job.fixings.get(id).is_none_or(|it| {
            it.finished()
                && checked(job, what, it)
                && (it.wanted() == 0
                    || (it.items.iter().all(|&i| settled(job, Target::Item(i)))
                        && it
                            .treatments
                            .iter()
                            .all(|&t| settled(job, Target::Treatment(t)))))
        }),
        Target::End(id) => job.end(id).is_none_or(|it| {
            it.state.finished()
                && (!it.safety || it.state != EndState::Secured || let_go(job, what, it.since))
                && it.items.iter().all(|&i| settled(job, Target::Item(i)))
        }),
        Target::Connection(id) => [Side::A, Side::B].into_iter().all(|side| {
            settled(
                job,
                Target::End(EndId {
                    connection: id,
                    side,
                }),
            )
        }),
        Target::Item(id) => job.items.get(id).is_none_or(|it| it.finished()),
        Target::Inside(id) => job.insides.get(id).is_none_or(|it| it.n_in == 0),
        Target::Opening(id) => job
            .openings
            .get(id)
            .is_none_or(|it| it.inside.iter().all(|&i| settled(job, Target::Inside(i)))),
        Target::Treatment(id) => job.treatments.get(id).is_none_or(|it| it.applied.is_some()),
        Target::Finding(id) => job
            .findings
            .get(id)
            .is_none_or(|it| it.decision.is_some() && !it.work_owed()),
        _ => true,
    }
}

/// Nothing is left of it but the final torque, and that comes under weight or
/// heat: later than what goes over it.
pub(super) fn final_held(job: &Job, it: &Fixing) -> bool {
    let before_final = match it.detail.stages.len() as u8 {
        0 | 1 => PlaceState::Started,
        n => PlaceState::Stage(n - 1),
    };
    let far = |p: &Place| {
        p.state.finished() || (p.state >= before_final && p.state > PlaceState::Doubtful)
    };
    matches!(job.held_by(it), Some(Hold::Loaded | Hold::Hot))
        && !it.finished()
        && it.places.iter().all(far)
        && it.items.iter().all(|&i| settled(job, Target::Item(i)))
        && it
            .treatments
            .iter()
            .all(|&t| settled(job, Target::Treatment(t)))
}

/// Settled as far as it has to be before something goes over it.
pub(super) fn may_be_covered(job: &Job, what: Target) -> bool {
    settled(job, what)
        || match what {
            Target::Fixing(id) => job.fixings.get(id).is_some_and(|it| final_held(job, it)),
            _ => false,
        }
}

/// What lies on a part itself: to be renewed, put on or decided.
pub(super) fn own(part: &crate::job::Part) -> impl Iterator<Item = Target> + '_ {
    part.items
        .iter()
        .map(|&i| Target::Item(i))
        .chain(part.treatments.iter().map(|&t| Target::Treatment(t)))
        .chain(part.findings.iter().map(|&f| Target::Finding(f)))
}

/// A second person has looked, where the fixing asks for it, or an exception
/// says why not.
fn checked(job: &Job, what: Target, it: &Fixing) -> bool {
    !it.detail.safety
        || it.places.iter().all(|p| p.state != PlaceState::Final)
        || let_go(job, what, it.since)
}

/// The second look was let go by name and reason.
fn let_go(job: &Job, what: Target, since: EventId) -> bool {
    job.exceptions.iter().any(|e| {
        e.owed.rule == Rule::IndependentCheck && e.owed.on == what && e.owed.opened == since
    })
}

/// Done, and all that it lacks is a second person's look.
pub fn lacks_look(job: &Job, what: Target) -> bool {
    let done = |on: Target| settled(job, on);
    match what {
        Target::Fixing(id) => job.fixings.get(id).is_some_and(|it| {
            it.finished()
                && !checked(job, what, it)
                && it.items.iter().all(|&i| done(Target::Item(i)))
                && it.treatments.iter().all(|&t| done(Target::Treatment(t)))
        }),
        Target::End(id) => job.end(id).is_some_and(|it| {
            it.safety
                && it.state == EndState::Secured
                && !let_go(job, what, it.since)
                && it.items.iter().all(|&i| done(Target::Item(i)))
        }),
        _ => false,
    }
}
