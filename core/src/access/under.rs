//! What has to be done before a thing is covered, and what a part would bury.
//!
//! Every bond that is worked out here, rather than recorded, points from what
//! came off later to what came off earlier. So the order in which all came
//! off, turned round, is always allowed, and no two bonds can block each other
//! for ever. Only what was written down against that order can.
use rustc_hash::{FxHashMap, FxHashSet};

use super::back::gather;
use super::otherwise::{Otherwise, open_by_noted};
use super::settled::{own, settled};
use crate::job::{Job, Part, PartState};
use crate::journal::*;

/// The thing that is about to be done, over what it covers.
#[derive(Clone, Copy)]
pub(super) struct Cover {
    pub what: Target,
    /// When it came off or apart.
    pub off: EventId,
}

impl Cover {
    fn part(job: &Job, part: PartId) -> Self {
        Self::of(job, Target::Part(part))
    }
    pub(super) fn of(job: &Job, what: Target) -> Self {
        let off = match what {
            Target::Part(id) => job.parts.get(id).map(|p| p.opened),
            Target::Fixing(id) => job.fixings.get(id).map(|f| f.opened),
            Target::Connection(id) => job.connections.get(id).map(|c| c.opened),
            Target::End(end) => job.connections.get(end.connection).map(|c| {
                let first = c.end(end.side).first;
                first.unwrap_or(c.opened)
            }),
            _ => None,
        };
        Self {
            what,
            off: off.unwrap_or_default(),
        }
    }
    /// A part that will go back later than this: it came off earlier.
    pub(super) fn before(&self, job: &Job, part: PartId) -> bool {
        self.what != Target::Part(part)
            && job.parts.get(part).is_some_and(|p| {
                p.off() && (p.opened < self.off || came_first(job, self.what, Target::Part(part)))
            })
    }
}

/// What is routed, open or left inside under each part, and what can be got at
/// by another way; gathered once.
#[derive(Default)]
pub struct Under {
    lies: FxHashMap<PartId, Vec<Target>>,
    pub(super) otherwise: Otherwise,
    /// What has to cure before each part goes over it.
    cures: FxHashMap<PartId, Vec<TreatmentId>>,
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

/// Adds what is open of a thing that was recorded as coming off after `cover`.
pub(super) fn recorded(
    job: &Job,
    by: &Otherwise,
    what: Target,
    cover: Cover,
    out: &mut Vec<Target>,
) {
    match what {
        Target::Part(id) if what != cover.what => {
            if !by.frees(id, cover.what) {
                part_open(job, by, id, cover, out);
            }
        }
        Target::Fixing(id) => {
            if !settled(job, what) && !waits_for_later(job, id, cover) {
                out.push(what);
            }
        }
        Target::Connection(connection) => {
            joined(job, connection, out, |end| {
                cover.what != Target::End(end) && !goes_on_later(job, end, cover)
            });
        }
        Target::End(end) => {
            if what != cover.what
                && cover.what != Target::Connection(end.connection)
                && !settled(job, what)
                && !goes_on_later(job, end, cover)
            {
                out.push(what);
            }
        }
        other => {
            if other != cover.what && !settled(job, other) {
                out.push(other);
            }
        }
    }
}

/// Adds what has to be done before `cover` closes the last way to it, though
/// it was not recorded as coming off after that.
pub(super) fn noted(job: &Job, by: &Otherwise, cover: Cover, out: &mut Vec<Target>) {
    for id in by.holders(cover.what) {
        let recorded = |first: Target| job.gave_way_to(first).contains(&Target::Part(id));
        let whole = match cover.what {
            Target::End(end) => recorded(Target::Connection(end.connection)),
            _ => false,
        };
        if !recorded(cover.what) && !whole {
            open_by_noted(job, id, cover, out);
        }
    }
}

/// A part that has to be back, and fast as far as it can be by then.
fn part_open(job: &Job, by: &Otherwise, id: PartId, cover: Cover, out: &mut Vec<Target>) {
    let Some(part) = job.parts.get(id) else {
        return;
    };
    match part.state {
        PartState::LeftOff => {
            through_left_off(job, by, id, cover, out);
            return;
        }
        PartState::Off | PartState::Aside => {
            out.push(Target::Part(id));
            return;
        }
        PartState::Placed => {}
    }
    joints_open(job, part, cover, out);
    out.extend(own(part).filter(|&what| !settled(job, what)));
}

/// What is open of a part's joints and has to be done before `cover` is on.
pub(super) fn joints_open(job: &Job, part: &Part, cover: Cover, out: &mut Vec<Target>) {
    for &fixing in &part.fixings {
        // What was undone with the cover still on is in reach with it on.
        let in_reach = job.fixings.get(fixing).is_none_or(|f| f.opened < cover.off);
        if !in_reach
            && cover.what != Target::Fixing(fixing)
            && !settled(job, Target::Fixing(fixing))
            && !waits_for_later(job, fixing, cover)
            && !came_first(job, cover.what, Target::Fixing(fixing))
        {
            out.push(Target::Fixing(fixing));
        }
    }
    for &end in &part.ends {
        let in_reach = job
            .end(end)
            .and_then(|e| e.first)
            .is_none_or(|first| first < cover.off);
        let same = match cover.what {
            Target::End(other) => other.connection == end.connection,
            _ => false,
        };
        if !in_reach && !same && !settled(job, Target::End(end)) && !sits_on_later(job, end, cover)
        {
            out.push(Target::End(end));
        }
    }
}

/// A part that is left off lets through what had it off first: its own cover
/// covers that as well.
fn through_left_off(job: &Job, by: &Otherwise, id: PartId, cover: Cover, out: &mut Vec<Target>) {
    let mut seen = FxHashSet::default();
    let mut next = vec![id];
    while let Some(id) = next.pop() {
        if !seen.insert(id) {
            continue;
        }
        for &what in job.gave_way_to(Target::Part(id)) {
            match what {
                Target::Part(inner)
                    if job
                        .parts
                        .get(inner)
                        .is_some_and(|p| p.state == PartState::LeftOff) =>
                {
                    next.push(inner);
                }
                other => recorded(job, by, other, cover, out),
            }
        }
    }
}

/// The fixing clamps a part that goes back with the cover or after it.
fn waits_for_later(job: &Job, fixing: FixingId, cover: Cover) -> bool {
    job.fixings.get(fixing).is_some_and(|f| {
        f.parts
            .iter()
            .any(|&p| cover.what == Target::Part(p) || cover.before(job, p))
    })
}

/// The end sits on a part that goes back after the cover.
fn sits_on_later(job: &Job, end: EndId, cover: Cover) -> bool {
    job.end(end)
        .and_then(|e| e.end.on)
        .is_some_and(|p| cover.before(job, p))
}

/// As [`sits_on_later`]; or it sits on the cover itself, and nothing says that
/// it was parted only after that was off.
fn goes_on_later(job: &Job, end: EndId, cover: Cover) -> bool {
    let on_cover = job
        .end(end)
        .and_then(|e| e.end.on)
        .is_some_and(|p| cover.what == Target::Part(p));
    let off_first = job
        .connections
        .get(end.connection)
        .is_some_and(|c| c.after.iter().any(|n| n.first == cover.what));
    (on_cover && !off_first) || sits_on_later(job, end, cover)
}

/// Adds what is open of a thing that lies under `part` by where it runs or is.
fn lying(job: &Job, what: Target, part: PartId, out: &mut Vec<Target>) {
    let Target::Connection(connection) = what else {
        if !settled(job, what) {
            out.push(what);
        }
        return;
    };
    let cover = Cover::part(job, part);
    let mut open = Vec::new();
    joined(job, connection, &mut open, |end| {
        let on_it = job.end(end).is_some_and(|e| e.end.on == Some(part));
        !on_it && !sits_on_later(job, end, cover)
    });
    // Written down as parted before the part could come off: it is joined after.
    if !open.is_empty() && !came_first(job, Target::Part(part), Target::Connection(connection)) {
        out.append(&mut open);
    }
}

/// Adds the open ends that are asked for; the connection by its own name when
/// that is all that is open of it.
fn joined(
    job: &Job,
    connection: ConnectionId,
    out: &mut Vec<Target>,
    asked: impl Fn(EndId) -> bool,
) {
    let n = out.len();
    let mut open = 0;
    for side in [Side::A, Side::B] {
        let end = EndId { connection, side };
        if settled(job, Target::End(end)) {
            continue;
        }
        open += 1;
        if asked(end) {
            out.push(Target::End(end));
        }
    }
    if open > 0 && out.len() - n == open {
        out.truncate(n);
        out.push(Target::Connection(connection));
    }
}

/// The same, or an end and its connection.
pub(super) fn same_thing(a: Target, b: Target) -> bool {
    match (a, b) {
        (Target::End(end), Target::Connection(id)) | (Target::Connection(id), Target::End(end)) => {
            end.connection == id
        }
        _ => a == b,
    }
}

/// Whether the record says that `what` had to be undone or parted before
/// `cover` could come off, through however many others.
pub(super) fn came_first(job: &Job, cover: Target, what: Target) -> bool {
    // Needs come before what needs them, so only what is later than the one
    // that is looked for can lead to it; unless one was remembered late.
    let known = if job.remembered_late {
        None
    } else {
        what.event()
    };
    let leads = |at: Target| known.is_none_or(|known| at.event().is_some_and(|at| at > known));
    if !leads(cover) {
        return false;
    }
    let mut seen = FxHashSet::default();
    let mut next = vec![cover];
    while let Some(at) = next.pop() {
        if !seen.insert(at) {
            continue;
        }
        if same_thing(at, what) && at != cover {
            return true;
        }
        let after = match at {
            Target::Part(id) => job.parts.get(id).map(|p| &p.after),
            Target::Fixing(id) => job.fixings.get(id).map(|f| &f.after),
            Target::Connection(id) => job.connections.get(id).map(|c| &c.after),
            Target::End(id) => job.connections.get(id.connection).map(|c| &c.after),
            _ => None,
        };
        for first in after.into_iter().flatten().map(|n| n.first) {
            if leads(first) || same_thing(first, what) {
                next.push(first);
            }
        }
    }
    false
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
