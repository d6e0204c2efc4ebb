//! What of a part has still to be reached, and the ways to it that are open.
use rustc_hash::FxHashSet;

use super::super::settled::{own, settled};
use super::super::under::{Cover, came_first, same_thing};
use super::Way;
use crate::job::{EndState, Job, PartState, PlaceState};
use crate::journal::*;

/// What of a part has still to be reached: itself, or what is open on it and
/// was undone with something off that was in the way.
pub(super) fn demand(job: &Job, part: PartId) -> Vec<Target> {
    let Some(it) = job.parts.get(part) else {
        return Vec::new();
    };
    match it.state {
        PartState::LeftOff => Vec::new(),
        PartState::Off | PartState::Aside => vec![Target::Part(part)],
        PartState::Placed => {
            let fixings = it.fixings.iter().copied();
            let fixings = fixings.filter(|&f| needs_way_fixing(job, part, f));
            let ends = it.ends.iter().copied();
            let ends = ends.filter(|&e| needs_way_end(job, part, e));
            let rest = own(it).filter(|&what| !settled(job, what));
            let fixings = fixings.map(Target::Fixing);
            fixings.chain(ends.map(Target::End)).chain(rest).collect()
        }
    }
}

pub(super) fn needs_way_fixing(job: &Job, part: PartId, fixing: FixingId) -> bool {
    let opened = job.fixings.get(fixing).map(|f| f.opened);
    !settled(job, Target::Fixing(fixing)) && opened.is_some_and(|it| past_cover(job, part, it))
}

pub(super) fn needs_way_end(job: &Job, part: PartId, end: EndId) -> bool {
    let first = job.end(end).and_then(|e| e.first);
    !settled(job, Target::End(end)) && first.is_some_and(|it| past_cover(job, part, it))
}

/// By this act, something was off that had been in the way of the part.
fn past_cover(job: &Job, part: PartId, opened: EventId) -> bool {
    let mut seen: FxHashSet<PartId> = FxHashSet::default();
    let mut next = vec![part];
    while let Some(id) = next.pop() {
        if !seen.insert(id) {
            continue;
        }
        for need in job.parts.get(id).into_iter().flat_map(|p| &p.after) {
            if Cover::of(job, need.first).off <= opened {
                return true;
            }
            if let Target::Part(first) = need.first
                && let Some(it) = job.parts.get(first)
                && it.state == PartState::LeftOff
            {
                next.push(first);
            }
        }
    }
    false
}

/// What of a part has to be done before a noted way to it closes.
pub(in super::super) fn open_by_noted(
    job: &Job,
    part: PartId,
    cover: Cover,
    out: &mut Vec<Target>,
) {
    let owed = demand(job, part).into_iter();
    out.extend(owed.filter(|&what| match what {
        Target::Fixing(f) => {
            let parts = job.fixings.get(f).into_iter().flat_map(|f| &f.parts);
            let mut parts = parts.copied();
            !parts.any(|p| cover.what == Target::Part(p) || cover.before(job, p))
                && !came_first(job, cover.what, what)
        }
        Target::End(end) => !later_end(job, end, cover),
        _ => true,
    }));
}

/// The end is joined after the cover is on.
fn later_end(job: &Job, end: EndId, cover: Cover) -> bool {
    let on = job.end(end).and_then(|e| e.end.on);
    same_thing(cover.what, Target::Connection(end.connection))
        || on.is_some_and(|p| cover.before(job, p))
        || came_first(job, cover.what, Target::End(end))
}

/// All ways to a part that are open now, the recorded one first.
pub(super) fn open_ways(job: &Job, part: PartId) -> Vec<Way> {
    let Some(it) = job.parts.get(part) else {
        return Vec::new();
    };
    let all = [&it.after].into_iter().chain(&it.ways);
    all.filter_map(|needs| open_way(job, part, needs)).collect()
}

/// What has to be off on a way; none where any of it is back. What is left off
/// lets through to what had to be off before it.
fn open_way(job: &Job, part: PartId, needs: &[Need]) -> Option<Way> {
    let mut way: Way = Vec::new();
    let mut seen: FxHashSet<Target> = FxHashSet::default();
    let mut next: Vec<Target> = needs.iter().map(|n| n.first).collect();
    while let Some(what) = next.pop() {
        if !seen.insert(what) {
            continue;
        }
        match what {
            Target::Part(id) if id == part => return None,
            Target::Part(id) => {
                let first = job.parts.get(id)?;
                match first.state {
                    PartState::LeftOff => next.extend(first.after.iter().map(|n| n.first)),
                    PartState::Placed => return None,
                    PartState::Off | PartState::Aside => way.push(what),
                }
            }
            Target::Connection(id) => {
                let it = job.connections.get(id)?;
                let ends = [it.a.state, it.b.state];
                let apart = |e: &EndState| matches!(e, EndState::Parted | EndState::LeftOff);
                if !ends.iter().any(apart)
                    || !ends.iter().all(|e| apart(e) || *e == EndState::Undisturbed)
                {
                    return None;
                }
                way.push(what);
            }
            Target::End(end) => {
                let state = job.end(end)?.state;
                if !matches!(state, EndState::Parted | EndState::LeftOff) {
                    return None;
                }
                way.push(what);
            }
            Target::Fixing(id) => {
                let fixing = job.fixings.get(id)?;
                // Its own fixing is not in its way, whatever else it clamps:
                // closing it is what the part is reached for.
                if fixing.parts.contains(&part) {
                    continue;
                }
                let places = &fixing.places;
                if places.iter().any(|p| p.state > PlaceState::Slackened) {
                    return None;
                }
                way.push(what);
            }
            // Nothing is put back that closes these.
            _ => {}
        }
    }
    way.sort_unstable();
    Some(way)
}
