//! Places that were said to be final in a way that asks for a second touch: many
//! in one tap, faster than a hand can, or out of the order of the drawing.

use std::collections::BTreeMap;

use crate::job::{Book, Fixing, PlaceState};
use crate::journal::*;

/// What a hand can do. Own choice; settable, for a nut gun is not a spanner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pace {
    /// From so many places in one tap it is a tick, not a report.
    pub bulk: usize,
    /// The least time from one place to the next, in ms.
    pub place_ms: i64,
}

impl Default for Pace {
    fn default() -> Self {
        Self {
            bulk: 4,
            place_ms: 3_000,
        }
    }
}

/// Why a place is to be touched again.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Slip {
    Bulk,
    TooFast,
    OutOfOrder,
}

/// Places of one fixing to be touched again for one reason.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Again {
    pub fixing: FixingId,
    pub why: Slip,
    /// By index.
    pub places: Vec<u16>,
    /// Lives hang on it, as marked.
    pub safety: bool,
}

/// What of a fixing has happened so far.
#[derive(Default)]
struct Seen {
    /// Each place as it was last tightened, and what was wrong with that.
    places: BTreeMap<u16, Option<Slip>>,
    /// The highest stage each place has reached; `FINAL` when final.
    reached: BTreeMap<u16, u16>,
    last_at: Option<i64>,
}

const FINAL: u16 = u16::MAX;

/// The places to be touched again, safety-critical fixings first, otherwise in
/// order of being undone. A place that was touched again with a sure hand,
/// checked by another, or tightened anew at a sound pace is not asked for.
pub fn touch_again(book: &Book, pace: Pace) -> Vec<Again> {
    let job = book.job();
    let mut seen: BTreeMap<FixingId, Seen> = BTreeMap::new();
    for event in book.journal().iter().filter(|it| !book.is_struck(it)) {
        match &event.act {
            Act::Tightened {
                fixing, places, to, ..
            } => {
                if let Some(it) = job.fixings.get(*fixing) {
                    let seen = seen.entry(*fixing).or_default();
                    tightened(seen, it, places, *to, event.at, pace);
                }
            }
            // Started anew, whatever was said before is gone.
            Act::Started { fixing, places, .. } | Act::FastenersUndone { fixing, places, .. } => {
                let seen = seen.entry(*fixing).or_default();
                for place in places {
                    seen.places.remove(place);
                    seen.reached.remove(place);
                }
                seen.last_at = Some(event.at);
            }
            Act::Touched {
                what: Target::Fixing(fixing),
                places,
                sure: true,
            }
            | Act::Checked {
                what: Target::Fixing(fixing),
                places,
            } => {
                if let Some(seen) = seen.get_mut(fixing) {
                    for (place, last) in &mut seen.places {
                        if places.is_empty() || places.contains(place) {
                            *last = None;
                        }
                    }
                }
            }
            _ => {}
        }
    }
    let mut again = Vec::new();
    for (id, it) in job.fixings.iter() {
        let Some(seen) = seen.get(&id) else { continue };
        for why in [Slip::Bulk, Slip::TooFast, Slip::OutOfOrder] {
            let still = |place: u16| {
                it.places
                    .get(usize::from(place))
                    .is_some_and(|p| p.state == PlaceState::Final)
            };
            let places: Vec<u16> = seen
                .places
                .iter()
                .filter(|(place, last)| **last == Some(why) && still(**place))
                .map(|(&place, _)| place)
                .collect();
            if !places.is_empty() {
                again.push(Again {
                    fixing: id,
                    why,
                    places,
                    safety: it.detail.safety,
                });
            }
        }
    }
    again.sort_by_key(|it| !it.safety);
    again
}

fn tightened(seen: &mut Seen, fixing: &Fixing, places: &[u16], to: Tight, at: i64, pace: Pace) {
    let stages = fixing.detail.stages.len();
    let stage = match to {
        Tight::Snug => 0,
        Tight::Stage(n) if usize::from(n) >= stages => FINAL,
        Tight::Stage(n) => u16::from(n),
        Tight::Final => FINAL,
    };
    // A clock that was set back says nothing of the pace.
    let spent = seen
        .last_at
        .map(|last| at.saturating_sub(last))
        .filter(|spent| *spent >= 0)
        .unwrap_or(i64::MAX);
    let needed = pace.place_ms.saturating_mul(places.len() as i64);
    for &place in places {
        let why = if stage != FINAL {
            None
        } else if places.len() >= pace.bulk {
            Some(Slip::Bulk)
        } else if spent < needed {
            Some(Slip::TooFast)
        } else if out_of_order(seen, fixing, place, places, stage) {
            Some(Slip::OutOfOrder)
        } else {
            None
        };
        seen.places.insert(place, why);
    }
    for &place in places {
        seen.reached.insert(place, stage);
    }
    seen.last_at = Some(at);
}

/// Whether one that comes before it was passed over: by the round that was set,
/// else by the numbers of the drawing. Without either there is no order to break.
fn out_of_order(seen: &Seen, fixing: &Fixing, place: u16, with: &[u16], stage: u16) -> bool {
    let rank: fn(&Fixing, u16) -> u16 = match (&fixing.round, fixing.numbers.is_empty()) {
        (Some(_), _) => Fixing::turn,
        (None, false) => Fixing::number,
        (None, true) => return false,
    };
    let mine = rank(fixing, place);
    (0_u16..).zip(&fixing.places).any(|(other, at)| {
        rank(fixing, other) < mine
            && !with.contains(&other)
            && !matches!(at.state, PlaceState::FoundEmpty | PlaceState::LeftEmpty)
            && seen.reached.get(&other).is_none_or(|it| *it < stage)
    })
}
