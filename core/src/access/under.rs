//! What has to be done before a thing is covered, and what a part would bury.
//!
//! Every bond that is worked out here, rather than recorded, points from what
//! came off later to what came off earlier. So the order in which all came
//! off, turned round, is always allowed, and no two bonds can block each other
//! for ever. Only what was written down against that order can.
mod cover;
mod open;

use rustc_hash::{FxHashMap, FxHashSet};

use super::back::gather;
use super::otherwise::Otherwise;
use super::settled::{own, settled};
use crate::job::{Job, Part, PartState};
use crate::journal::*;
pub(super) use cover::{Cover, came_first, same_thing};
use open::lying;
pub(super) use open::{joints_open, noted, recorded};

/// What is routed, open or left inside under each part, and what can be got at
/// by another way; gathered once.
#[derive(Default)]
pub struct Under {
    lies: FxHashMap<PartId, Vec<Target>>,
    pub(super) otherwise: Otherwise,
    /// What has to cure before each part goes over it.
    cures: FxHashMap<PartId, Vec<TreatmentId>>,
    /// What parts that are on were put over before it was done.
    behind: FxHashMap<Target, PartId>,
    /// Findings on connections and their ends that are still open.
    found: FxHashMap<Target, Vec<FindingId>>,
}

impl Under {
    pub fn of(job: &Job) -> Self {
        let mut under = Self::default();
        let mut add = |part: PartId, what: Target| under.lies.entry(part).or_default().push(what);
        for (id, it) in job.connections.iter() {
            // What is clipped to a part can be clipped on afterwards.
            for route in it.route.iter().filter(|r| r.kind != RouteKind::ClippedTo) {
                if let Some(part) = route.part {
                    add(part, Target::Connection(id));
                }
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
        for (id, it) in job.findings.iter() {
            let on = matches!(it.on, Target::Connection(_) | Target::End(_));
            if on && !settled(job, Target::Finding(id)) {
                under.found.entry(it.on).or_default().push(id);
            }
        }
        for (id, it) in job.parts.iter() {
            if it.state == PartState::Placed {
                under
                    .behind
                    .extend(it.buried.iter().map(|&what| (what, id)));
            }
        }
        // In a job of no noted ways there is nothing to find out.
        if !job.ways_noted.is_empty() {
            under.otherwise = Otherwise::of(job);
            while !under.otherwise.is_empty() {
                let (acts, blockers) = gather(job, &under);
                let found = Otherwise::hold(job, &mut under, &acts, &blockers);
                if found {
                    break;
                }
            }
        }
        under
    }

    /// As [`Under::of`], with what has not cured by `now` (ms since 1970) and
    /// is to be covered only when it has.
    pub fn at(job: &Job, now: i64) -> Self {
        let mut under = Self::of(job);
        let cures = job.treatments.iter();
        for (id, it) in cures.filter(|(_, it)| it.treatment.holds_cover && it.curing(now)) {
            for part in covers(job, it.treatment.on) {
                under.cures.entry(part).or_default().push(id);
            }
        }
        under
    }

    pub(super) fn cures(&self, part: PartId) -> impl Iterator<Item = TreatmentId> + '_ {
        self.cures.get(&part).into_iter().flatten().copied()
    }

    pub(super) fn all_cures(&self) -> Vec<(Target, TreatmentId)> {
        let each = |(&part, cures): (&PartId, &Vec<TreatmentId>)| {
            let cures = cures.iter().map(move |&id| (Target::Part(part), id));
            cures.collect::<Vec<_>>()
        };
        let mut all: Vec<(Target, TreatmentId)> = self.cures.iter().flat_map(each).collect();
        all.sort_unstable();
        all
    }

    /// The part that is on and has to come off again before this is reached.
    pub(super) fn behind(&self, what: Target) -> Option<PartId> {
        let whole = match what {
            Target::End(end) => self.behind.get(&Target::Connection(end.connection)),
            _ => None,
        };
        self.behind.get(&what).or(whole).copied()
    }

    /// What was found on an end or on its connection and is not done with, in
    /// the order in which it was found.
    pub(super) fn found_on(&self, end: EndId) -> Vec<FindingId> {
        let on = [Target::End(end), Target::Connection(end.connection)];
        let all = on.iter().filter_map(|on| self.found.get(on)).flatten();
        let mut all: Vec<FindingId> = all.copied().collect();
        all.sort_unstable();
        all
    }

    /// A cure that this part has to wait for before it goes over it.
    pub fn cure_under(&self, part: PartId) -> Option<TreatmentId> {
        self.cures(part).next()
    }

    /// Parts to which putting this back closes a way, each with what is off on
    /// one that stays open.
    pub fn still_open(&self, closes: Target) -> Vec<(PartId, Vec<Target>)> {
        self.otherwise.still_open(closes)
    }

    /// Everything recorded as lying right under `part`, open or not.
    pub fn all(&self, job: &Job, part: PartId) -> Vec<Target> {
        let recorded = job.gave_way_to(Target::Part(part)).iter();
        let lying = self.lies.get(&part).into_iter().flatten();
        recorded.chain(lying).copied().collect()
    }

    /// What is still open right under `part`, apart from what lies on it itself.
    pub fn open(&self, job: &Job, part: PartId) -> Vec<Target> {
        let mut out = Vec::new();
        let cover = Cover::part(job, part);
        for &what in job.gave_way_to(Target::Part(part)) {
            recorded(job, &self.otherwise, what, cover, &mut out);
        }
        noted(job, &self.otherwise, cover, &mut out);
        for &what in self.lies.get(&part).into_iter().flatten() {
            lying(job, what, part, &mut out);
        }
        if out.len() > 1 {
            let mut seen = FxHashSet::default();
            out.retain(|&what| seen.insert(what));
        }
        out
    }

    /// All that placing `part` would put out of reach while it is still open:
    /// right under it, and under what is placed under it in turn.
    pub fn deep(&self, job: &Job, part: PartId) -> Vec<Target> {
        let mut seen = FxHashSet::default();
        let mut owed = Vec::new();
        let mut next = vec![part];
        while let Some(part) = next.pop() {
            for what in self.open(job, part) {
                if seen.insert(what) {
                    owed.push(what);
                }
            }
            for &what in job.gave_way_to(Target::Part(part)) {
                if let Target::Part(inner) = what
                    && job
                        .parts
                        .get(inner)
                        .is_some_and(|p| p.state == PartState::Placed)
                    && seen.insert(what)
                {
                    next.push(inner);
                }
            }
        }
        owed
    }
}

/// The parts off that go right over a thing: what came off before it, past what
/// is on or left off.
fn covers(job: &Job, on: Target) -> FxHashSet<PartId> {
    let mut out = FxHashSet::default();
    let mut seen = FxHashSet::default();
    let mut next = vec![on];
    while let Some(what) = next.pop() {
        if !seen.insert(what) {
            continue;
        }
        let mut over = |needs: &[Need]| {
            for need in needs {
                match need.first {
                    // Told late, a circle may lead back to the thing itself.
                    first if first == on => {}
                    Target::Part(p) if job.parts.get(p).is_some_and(Part::off) => {
                        out.insert(p);
                    }
                    first => next.push(first),
                }
            }
        };
        match what {
            Target::Part(id) => {
                if let Some(part) = job.parts.get(id) {
                    over(&part.after);
                }
            }
            Target::Fixing(id) => {
                if let Some(fixing) = job.fixings.get(id) {
                    over(&fixing.after);
                    next.extend(fixing.parts.iter().map(|&p| Target::Part(p)));
                }
            }
            _ => {}
        }
    }
    out
}

/// What placing `part` now would put out of reach while it is still owed: what
/// lies on it, right under it, and under that in turn.
pub fn buried_by(job: &Job, part: PartId) -> Vec<Target> {
    buried_under(job, &Under::of(job), part)
}

/// As [`buried_by`], where what lies under the parts is known already.
pub fn buried_under(job: &Job, under: &Under, part: PartId) -> Vec<Target> {
    let mut owed = under.deep(job, part);
    if let Some(it) = job.parts.get(part) {
        owed.extend(own(it).filter(|&what| !settled(job, what)));
    }
    owed
}
