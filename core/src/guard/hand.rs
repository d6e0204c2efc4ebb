//! What was in the hand last: single steps back through the journal, and the
//! thing they were done to while it is not finished.

use crate::job::{Book, EndState, Job, PartState};
use crate::journal::*;

/// One thing done by one hand: a place of a fixing, an end, a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Unit {
    pub what: Target,
    pub place: Option<u16>,
    pub event: EventId,
    /// It was touched again since.
    pub touched: bool,
}

/// What was done after a break.
#[derive(Default)]
pub(super) struct Since {
    /// To these.
    pub done: Vec<Target>,
    /// Work was gone on with, by word.
    pub went_on: bool,
}

pub(super) struct Past {
    /// Steps up to the break, the latest first.
    pub units: Vec<Unit>,
    pub since: Since,
}

/// Steps back through what stands in the book, from the act `last` on and hardly
/// more than `most` of them, and what came after that act.
pub(super) fn past(book: &Book, last: EventId, most: usize) -> Past {
    let mut units = Vec::new();
    let mut since = Since::default();
    let mut touched: Vec<(Target, Option<u16>)> = Vec::new();
    for event in book.journal().iter().rev() {
        if units.len() >= most {
            break;
        }
        if book.is_struck(event) {
            continue;
        }
        match &event.act {
            Act::Touched { what, places, .. } => {
                if places.is_empty() {
                    touched.push((*what, None));
                }
                touched.extend(places.iter().map(|&p| (*what, Some(p))));
            }
            Act::WentOn { .. } if event.id > last => since.went_on = true,
            act if event.id > last => {
                since.done.extend(steps(act).into_iter().map(|it| it.0));
            }
            act => {
                let done = steps(act).into_iter().rev();
                units.extend(done.map(|(what, place)| Unit {
                    what,
                    place,
                    event: event.id,
                    touched: touched.contains(&(what, place)),
                }));
            }
        }
    }
    Past { units, since }
}

/// What an act on the way back does, place by place. Nothing for acts that a
/// break cannot leave half done.
fn steps(act: &Act) -> Vec<(Target, Option<u16>)> {
    match act {
        Act::Started { fixing, places, .. } | Act::Tightened { fixing, places, .. } => {
            let what = Target::Fixing(*fixing);
            places.iter().map(|&p| (what, Some(p))).collect()
        }
        Act::PartPlaced { part, .. } => vec![(Target::Part(*part), None)],
        Act::EndPushed { end, .. } | Act::EndSecured { end } => vec![(Target::End(*end), None)],
        Act::ItemFitted { item, .. } => vec![(Target::Item(*item), None)],
        Act::TreatmentApplied { treatment } => vec![(Target::Treatment(*treatment), None)],
        Act::FastenersUndone { fixing, .. } => vec![(Target::Fixing(*fixing), None)],
        Act::PartOff(_) | Act::PartOffAgain { .. } | Act::EndParted { .. } => {
            vec![(Target::Job, None)]
        }
        _ => Vec::new(),
    }
}

/// The unfinished thing that the last act was done to: its fixing or end, else
/// the part it belongs to.
pub(super) fn in_hand(job: &Job, last: &Unit) -> Option<Target> {
    match last.what {
        // Undoing was at hand, not putting back: nothing is half done that the
        // counts do not show.
        Target::Fixing(_) if last.place.is_none() => None,
        Target::Item(id) => put_on(job, job.items.get(id)?.on),
        Target::Treatment(id) => put_on(job, job.treatments.get(id)?.treatment.on),
        what => under_way(job, what),
    }
}

/// What a seal or a sealant was put on: a part may lie there still.
fn put_on(job: &Job, on: Target) -> Option<Target> {
    match on {
        Target::Part(id) if job.parts.get(id).is_some_and(|it| it.off()) => Some(on),
        _ => under_way(job, on),
    }
}

/// The thing itself where it is not finished, else the part it holds or sits on.
fn under_way(job: &Job, what: Target) -> Option<Target> {
    match what {
        Target::Fixing(id) => {
            let fixing = job.fixings.get(id)?;
            if !fixing.finished() || fixing.round_owed() {
                return Some(what);
            }
            let parts = fixing.parts.iter().copied();
            parts.map(Target::Part).find(|&it| begun(job, it))
        }
        Target::End(id) => {
            let end = job.end(id)?;
            if !end.state.finished() {
                return Some(what);
            }
            end.end.on.map(Target::Part).filter(|&it| begun(job, it))
        }
        Target::Part(_) => Some(what).filter(|&it| begun(job, it)),
        _ => None,
    }
}

/// Placed, and something of it still to be fastened, joined or renewed.
fn begun(job: &Job, what: Target) -> bool {
    let Target::Part(id) = what else { return false };
    job.parts
        .get(id)
        .is_some_and(|it| it.state == PartState::Placed)
        && !crate::access::settled(job, what)
}

/// Whether a step was done to `hand` or to what belongs to it.
pub(super) fn belongs(job: &Job, hand: Target, what: Target) -> bool {
    if hand == what {
        return true;
    }
    let on = match what {
        Target::Item(id) => job.items.get(id).map(|it| it.on),
        Target::Treatment(id) => job.treatments.get(id).map(|it| it.treatment.on),
        _ => None,
    };
    if let Some(on) = on {
        return belongs(job, hand, on);
    }
    let Target::Part(part) = hand else {
        return false;
    };
    let part = job.parts.get(part);
    match what {
        Target::Fixing(id) => part.is_some_and(|it| it.fixings.contains(&id)),
        Target::End(id) => part.is_some_and(|it| it.ends.contains(&id)),
        _ => false,
    }
}

/// Whether what was done is still so: a place that was emptied again has
/// nothing to be touched.
pub(super) fn stands(job: &Job, unit: &Unit) -> bool {
    match unit.what {
        Target::Fixing(id) => {
            let place = unit.place.map(usize::from);
            let place = place.and_then(|n| job.fixings.get(id)?.places.get(n));
            place.is_some_and(|p| p.state.filled())
        }
        Target::End(id) => job.end(id).is_some_and(|it| it.state >= EndState::Doubtful),
        Target::Part(id) => job
            .parts
            .get(id)
            .is_some_and(|it| it.state == PartState::Placed),
        Target::Item(id) => job
            .items
            .get(id)
            .is_some_and(|it| it.renewed > 0 || it.old_in > 0),
        Target::Treatment(id) => job
            .treatments
            .get(id)
            .is_some_and(|it| it.applied.is_some()),
        _ => false,
    }
}
