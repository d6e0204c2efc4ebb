//! Whether a thing is back and finished, and what a part would hide.
use crate::job::{Job, PartState, PlaceState};
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
                    && part.items.iter().all(|&i| settled(job, Target::Item(i))))
        }),
        Target::Fixing(id) => job.fixings.get(id).is_none_or(|it| {
            it.finished()
                && it.places.iter().all(|p| {
                    !it.detail.safety
                        || p.state != PlaceState::Final
                        || job.exceptions.iter().any(|e| e.owed.on == what)
                })
        }),
        Target::End(id) => job.end(id).is_none_or(|it| {
            it.state.finished() && it.items.iter().all(|&i| settled(job, Target::Item(i)))
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

/// What lies under a part: gathered once for all parts, for each its own.
#[derive(Default)]
pub struct Under {
    routed: rustc_hash::FxHashMap<PartId, Vec<Target>>,
}

impl Under {
    pub fn of(job: &Job) -> Self {
        let mut under = Self::default();
        let mut add = |part: PartId, what: Target| under.routed.entry(part).or_default().push(what);
        for (id, it) in job.connections.iter() {
            for part in it.route.iter().filter_map(|r| r.part) {
                add(part, Target::Connection(id));
            }
        }
        for (id, it) in job.openings.iter() {
            if let Some(part) = it.shut_by {
                add(part, Target::Opening(id));
            }
        }
        for (id, it) in job.insides.iter() {
            let by_opening = it
                .put
                .opening
                .and_then(|o| job.openings.get(o))
                .and_then(|o| o.shut_by);
            if let Some(part) = it.put.hidden_by.filter(|&p| Some(p) != by_opening) {
                add(part, Target::Inside(id));
            }
        }
        under
    }
}

/// Everything that must be settled before `part` may go back, settled or not.
pub fn must_precede(job: &Job, under: &Under, part: PartId) -> Vec<Target> {
    let mut first: Vec<Target> = job.gave_way_to(Target::Part(part)).to_vec();
    first.extend(under.routed.get(&part).into_iter().flatten());
    if let Some(it) = job.parts.get(part) {
        first.extend(it.items.iter().map(|&i| Target::Item(i)));
        first.extend(it.treatments.iter().map(|&t| Target::Treatment(t)));
        first.extend(it.findings.iter().map(|&f| Target::Finding(f)));
    }
    first
}

/// What placing `part` now would put out of reach while it is still owed: what
/// lies right under it, and what lies under that in turn.
pub fn buried_by(job: &Job, part: PartId) -> Vec<Target> {
    let under = Under::of(job);
    let mut seen = rustc_hash::FxHashSet::default();
    let mut owed = Vec::new();
    let mut next = vec![part];
    while let Some(part) = next.pop() {
        for what in must_precede(job, &under, part) {
            if what == Target::Part(part) || !seen.insert(what) {
                continue;
            }
            if !settled(job, what) {
                owed.push(what);
            }
            if let Target::Part(inner) = what {
                next.push(inner);
            }
        }
    }
    owed
}
