//! What has to be done before a thing is covered, and what a part would bury.
//!
//! Every bond that is worked out here, rather than recorded, points from what
//! came off later to what came off earlier. So the order in which all came
//! off, turned round, is always allowed, and no two bonds can block each other
//! for ever. Only what was written down against that order can.
use rustc_hash::{FxHashMap, FxHashSet};

use super::settled::{own, settled};
use crate::job::{Job, PartState};
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
        Self {
            what: Target::Part(part),
            off: job.parts.get(part).map(|p| p.opened).unwrap_or_default(),
        }
    }
    /// A part that will go back later than this: it came off earlier.
    fn before(&self, job: &Job, part: PartId) -> bool {
        self.what != Target::Part(part)
            && job
                .parts
                .get(part)
                .is_some_and(|p| p.off() && p.opened < self.off)
    }
}

/// What is routed, open or left inside under each part; gathered once.
#[derive(Default)]
pub struct Under {
    lies: FxHashMap<PartId, Vec<Target>>,
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
        under
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
            recorded(job, what, cover, &mut out);
        }
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
                    && seen.insert(what)
                {
                    next.push(inner);
                }
            }
        }
        owed
    }
}

/// Adds what is open of a thing that was recorded as coming off after `cover`.
pub(super) fn recorded(job: &Job, what: Target, cover: Cover, out: &mut Vec<Target>) {
    match what {
        Target::Part(id) if what != cover.what => part_open(job, id, cover, out),
        Target::Fixing(id) => {
            if !settled(job, what) && !waits_for_later(job, id, cover) {
                out.push(what);
            }
        }
        Target::Connection(connection) => {
            let open = [Side::A, Side::B].into_iter().any(|side| {
                let end = EndId { connection, side };
                cover.what != Target::End(end)
                    && !settled(job, Target::End(end))
                    && !sits_on_later(job, end, cover)
            });
            if open {
                out.push(what);
            }
        }
        Target::End(end) => {
            if what != cover.what
                && cover.what != Target::Connection(end.connection)
                && !settled(job, what)
                && !sits_on_later(job, end, cover)
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

/// A part that has to be back, and fast as far as it can be by then.
fn part_open(job: &Job, id: PartId, cover: Cover, out: &mut Vec<Target>) {
    let Some(part) = job.parts.get(id) else {
        return;
    };
    match part.state {
        PartState::LeftOff => return,
        PartState::Off | PartState::Aside => {
            out.push(Target::Part(id));
            return;
        }
        PartState::Placed => {}
    }
    for &fixing in &part.fixings {
        // What was undone with the cover still on is in reach with it on.
        let in_reach = job.fixings.get(fixing).is_none_or(|f| f.opened < cover.off);
        if !in_reach
            && !settled(job, Target::Fixing(fixing))
            && !waits_for_later(job, fixing, cover)
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
    out.extend(own(part).filter(|&what| !settled(job, what)));
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

/// Adds what is open of a thing that lies under `part` by where it runs or is.
fn lying(job: &Job, what: Target, part: PartId, out: &mut Vec<Target>) {
    let Target::Connection(connection) = what else {
        if !settled(job, what) {
            out.push(what);
        }
        return;
    };
    let cover = Cover::part(job, part);
    let open = [Side::A, Side::B].into_iter().any(|side| {
        let end = EndId { connection, side };
        let on_it = job.end(end).is_some_and(|e| e.end.on == Some(part));
        !on_it && !settled(job, Target::End(end)) && !sits_on_later(job, end, cover)
    });
    // Written down as parted before the part could come off: it is joined after.
    if open && !came_first(job, part, connection) {
        out.push(what);
    }
}

/// Whether the record says that the connection had to be parted before `part`
/// could come off, through however many others.
fn came_first(job: &Job, part: PartId, connection: ConnectionId) -> bool {
    let mut seen = FxHashSet::default();
    let mut next = vec![Target::Part(part)];
    while let Some(at) = next.pop() {
        if !seen.insert(at) {
            continue;
        }
        let after = match at {
            Target::Connection(id) if id == connection => return true,
            Target::End(id) if id.connection == connection => return true,
            Target::Part(id) => job.parts.get(id).map(|p| &p.after),
            Target::Fixing(id) => job.fixings.get(id).map(|f| &f.after),
            Target::Connection(id) => job.connections.get(id).map(|c| &c.after),
            Target::End(id) => job.connections.get(id.connection).map(|c| &c.after),
            _ => None,
        };
        next.extend(after.into_iter().flatten().map(|n| n.first));
    }
    false
}

/// What placing `part` now would put out of reach while it is still owed: what
/// lies on it, right under it, and under that in turn.
pub fn buried_by(job: &Job, part: PartId) -> Vec<Target> {
    let mut owed = Under::of(job).deep(job, part);
    if let Some(it) = job.parts.get(part) {
        owed.extend(own(it).filter(|&what| !settled(job, what)));
    }
    owed
}
