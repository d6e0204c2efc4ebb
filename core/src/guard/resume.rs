//! Coming back to a job: what to touch again and where to go on.

use super::hand::{Past, Unit, belongs, in_hand, past, stands};
use crate::job::{Book, Fixing, Job, PlaceState};
use crate::journal::*;

/// How many things are touched again (common practice, no source).
const BACK: usize = 3;
/// How far back they are looked for, in single steps.
const LOOK_BACK: usize = 64;

/// How long the app may be out of sight before the guard asks, unless set
/// otherwise; in ms. Own choice: as long as a phone call.
pub const PATIENCE_MS: i64 = 120_000;

/// What broke the work off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Break {
    /// The app was out of sight.
    Hidden,
    /// Another job was opened in between.
    OtherJob,
    /// The phone died, or the app was closed under way.
    Died,
}

impl Break {
    /// Being out of sight from `since` until `until`, in ms, is a break from
    /// `patience_ms` on.
    pub fn hidden(since: i64, until: i64, patience_ms: i64) -> Option<Self> {
        (until.saturating_sub(since) >= patience_ms).then_some(Self::Hidden)
    }
}

/// A break, and the last act before it: what was in the hand then is asked
/// about, whatever is done elsewhere afterwards.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BrokenOff {
    pub why: Break,
    pub last: EventId,
}

/// Something to be touched again.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Touch {
    pub what: Target,
    /// The place of a fixing, by index.
    pub place: Option<u16>,
    /// Its number on the drawing.
    pub number: Option<u16>,
    /// The act that is being asked about.
    pub act: EventId,
}

impl Touch {
    /// The act that answers. Not sure makes the place doubtful, or the thing
    /// unsure; it is then owed, and never done again silently.
    pub fn answer(self, sure: bool) -> Act {
        Act::Touched {
            what: self.what,
            places: self.place.into_iter().collect(),
            sure,
        }
    }
}

/// The next place of a fixing and what is to be done there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    pub fixing: FixingId,
    pub place: u16,
    pub number: u16,
    /// None: start it by hand.
    pub to: Option<Tight>,
}

/// Work that was broken off.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Resume {
    /// The thing in hand: a fixing, an end or a part.
    pub hand: Target,
    /// In the order in which they were done; never empty.
    pub touch: Vec<Touch>,
    /// Where it goes on, where the thing is a fixing.
    pub next: Option<Step>,
}

/// What to ask first after a break that came after the act `last`. Nothing when
/// nothing was under way, everything was touched again already, or work on the
/// thing has gone on since.
pub fn resume(book: &Book, last: EventId) -> Option<Resume> {
    let job = book.job();
    let Past { units, since } = past(book, last, LOOK_BACK);
    if job.is_signed() || since.went_on {
        return None;
    }
    let hand = in_hand(job, units.first()?)?;
    if since.done.iter().any(|&what| belongs(job, hand, what)) {
        return None;
    }
    let mut back: Vec<&Unit> = Vec::new();
    for unit in &units {
        let of_hand = belongs(job, hand, unit.what) && stands(job, unit);
        let again = |it: &&Unit| (it.what, it.place) == (unit.what, unit.place);
        if of_hand && back.len() < BACK && !back.iter().any(again) {
            back.push(unit);
        }
    }
    let touch: Vec<Touch> = back
        .into_iter()
        .rev()
        .filter(|it| !it.touched)
        .map(|it| Touch {
            what: it.what,
            place: it.place,
            number: number(job, it.what, it.place),
            act: it.event,
        })
        .collect();
    if touch.is_empty() {
        return None;
    }
    let next = match hand {
        Target::Fixing(id) => job.fixings.get(id).and_then(|it| step(id, it)),
        _ => None,
    };
    Some(Resume { hand, touch, next })
}

fn number(job: &Job, what: Target, place: Option<u16>) -> Option<u16> {
    match what {
        Target::Fixing(id) => Some(job.fixings.get(id)?.number(place?)),
        _ => None,
    }
}

/// The place that is furthest behind, of equals the one whose turn comes first. Doubtful places are
/// asked for by the audit and not passed over in the round.
fn step(id: FixingId, fixing: &Fixing) -> Option<Step> {
    let behind = (0_u16..)
        .zip(&fixing.places)
        .filter(|(_, p)| !p.state.finished())
        .filter(|(_, p)| !matches!(p.state, PlaceState::Doubtful | PlaceState::Broken))
        .min_by_key(|(n, p)| (p.state, fixing.turn(*n)))?;
    let (place, at) = behind;
    let staged = !fixing.detail.stages.is_empty();
    let to = match at.state {
        PlaceState::Open => None,
        PlaceState::Stage(n) => Some(Tight::Stage(n.saturating_add(1))),
        _ if staged => Some(Tight::Stage(1)),
        _ => Some(Tight::Final),
    };
    Some(Step {
        fixing: id,
        place,
        number: fixing.number(place),
        to,
    })
}
