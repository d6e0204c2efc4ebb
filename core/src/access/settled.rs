//! Whether a thing is back and finished.
use crate::audit::{self, Rule};
use crate::debts;
use crate::job::{Fixing, Job, Part, PartState, Place, PlaceState};
use crate::journal::*;

/// Back, fast, joined and renewed, as far as it can be before running: it owes
/// nothing by itself that has to be reached, or what it owes was accepted by
/// name and reason.
pub fn settled(job: &Job, what: Target) -> bool {
    // Where nothing was accepted, what is plainly unfinished is not settled: asked
    // first, as it is asked often.
    let accepts = !job.exceptions.is_empty();
    match what {
        Target::Part(id) => job.parts.get(id).is_none_or(|part| {
            part.state == PartState::LeftOff
                || (part.state == PartState::Placed
                    && part.sure
                    && part
                        .fixings
                        .iter()
                        .all(|&f| settled(job, Target::Fixing(f)))
                    && part.ends.iter().all(|&e| settled(job, Target::End(e)))
                    && own(part).all(|what| settled(job, what)))
        }),
        Target::Fixing(id) => job.fixings.get(id).is_none_or(|it| {
            (it.finished() || accepts)
                && (plain(job, it) || owes_nothing(job, what))
                && (it.wanted() == 0 || lies_with(it).all(|what| settled(job, what)))
        }),
        Target::End(id) => job.end(id).is_none_or(|it| {
            let plain = it.state.finished() && it.sure && !it.safety && it.elsewhere.is_none();
            (plain || ((it.state.finished() || accepts) && owes_nothing(job, what)))
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
        Target::Item(id) => job
            .items
            .get(id)
            .is_none_or(|it| (it.finished() && it.sure) || (accepts && owes_nothing(job, what))),
        Target::Treatment(id) => job
            .treatments
            .get(id)
            .is_none_or(|it| (it.applied.is_some() && it.sure) || owes_nothing(job, what)),
        Target::Finding(id) => job.findings.get(id).is_none_or(|it| {
            let done = it.decision.is_some() && !it.work_owed();
            done || (accepts && owes_nothing(job, what))
        }),
        Target::Inside(id) => job.insides.get(id).is_none_or(|it| it.n_in == 0),
        Target::Opening(id) => job
            .openings
            .get(id)
            .is_none_or(|it| it.inside.iter().all(|&i| settled(job, Target::Inside(i)))),
        _ => true,
    }
}

/// One-use items and treatments that go with a fixing.
fn lies_with(it: &Fixing) -> impl Iterator<Item = Target> + '_ {
    let items = it.items.iter().map(|&i| Target::Item(i));
    items.chain(it.treatments.iter().map(|&t| Target::Treatment(t)))
}

/// What a fixing or an end, all in and fast, or a part on its place still owes
/// by itself; nothing of what only lacks a second look.
pub fn lacking(job: &Job, what: Target) -> Vec<Rule> {
    if let Target::Part(id) = what {
        let unsure = job.parts.get(id).is_some_and(|it| !it.sure);
        return if unsure {
            vec![Rule::NotSure]
        } else {
            Vec::new()
        };
    }
    let owed = debts::of(job, what).into_iter();
    let open = owed.filter(|it| it.rule != Rule::IndependentCheck && !audit::accepted(job, it));
    open.map(|it| it.rule).collect()
}

/// All in and fast, and nothing about it of which anything could be owed: most
/// fixings are so, and are told without working out what they owe.
fn plain(job: &Job, it: &Fixing) -> bool {
    let off = |p: &PartId| job.parts.get(*p).is_some_and(Part::off);
    it.finished()
        && it.sure
        && it.reuse == Reuse::Reuse
        && it.wants == it.old
        && it.extras.is_empty()
        && it.strange.is_empty()
        && !it.detail.safety
        && it.hole.is_none()
        && it.last_round != Some(true)
        && it.spec.text.is_empty()
        && !it.detail.by_angle()
        && it
            .places
            .iter()
            .all(|p| p.holds.is_none_or(|h| h == it.wants))
        && !it.parts.iter().any(off)
}

fn owes_nothing(job: &Job, what: Target) -> bool {
    debts::of(job, what)
        .iter()
        .all(|owed| audit::accepted(job, owed))
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
        && lies_with(it).all(|what| settled(job, what))
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

/// Done, and all that it lacks is a second person's look.
pub fn lacks_look(job: &Job, what: Target) -> bool {
    let lies: Vec<Target> = match what {
        Target::Fixing(id) => match job.fixings.get(id) {
            Some(it) if it.finished() => lies_with(it).collect(),
            _ => return false,
        },
        Target::End(id) => match job.end(id) {
            Some(it) => it.items.iter().map(|&i| Target::Item(i)).collect(),
            None => return false,
        },
        _ => return false,
    };
    let owed = debts::of(job, what);
    let mut open = owed.iter().filter(|it| !audit::accepted(job, it));
    let look = open
        .next()
        .is_some_and(|it| it.rule == Rule::IndependentCheck);
    look && open.next().is_none() && lies.into_iter().all(|what| settled(job, what))
}
