//! What is still open of a thing that is about to be covered.
use rustc_hash::FxHashSet;

use super::super::otherwise::{Otherwise, open_by_noted};
use super::super::settled::{may_be_covered, own, settled};
use super::{Cover, came_first};
use crate::job::{Job, Part, PartState};
use crate::journal::*;

/// Adds what is open of a thing that was recorded as coming off after `cover`.
pub(in super::super) fn recorded(
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
            if !may_be_covered(job, what) && !waits_for_later(job, id, cover) {
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
pub(in super::super) fn noted(job: &Job, by: &Otherwise, cover: Cover, out: &mut Vec<Target>) {
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
pub(in super::super) fn joints_open(job: &Job, part: &Part, cover: Cover, out: &mut Vec<Target>) {
    for &fixing in &part.fixings {
        // What was undone with the cover still on is in reach with it on.
        let in_reach = job.fixings.get(fixing).is_none_or(|f| f.opened < cover.off);
        if !in_reach
            && cover.what != Target::Fixing(fixing)
            && !may_be_covered(job, Target::Fixing(fixing))
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
pub(super) fn lying(job: &Job, what: Target, part: PartId, out: &mut Vec<Target>) {
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
