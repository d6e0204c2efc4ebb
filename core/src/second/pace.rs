//! What was said to be final or fast in a way that asks for a second touch: many
//! places in one tap, faster than a hand can, or out of the order of the drawing.
//! How fast goes by the hand, not by the thing: eight fixings of one bolt are
//! gone through as eight bolts of one fixing are.

use std::collections::BTreeMap;

use crate::job::{Book, EndState, Fixing, PlaceState};
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

/// Places of one fixing to be touched again for one reason, or an end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Again {
    /// A fixing or an end.
    pub what: Target,
    pub why: Slip,
    /// Of a fixing, by index.
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
}

/// What one person did last.
#[derive(Clone, Copy)]
struct Hand {
    what: Target,
    at: i64,
    /// When the thing before it was done.
    before: Option<i64>,
}

/// The time from what `by` did last to `at`, in ms; the longest there is where
/// that is not known. The work on one end, pushed on and made fast, counts from
/// the thing before it.
fn spent<'a>(hands: &mut BTreeMap<&'a str, Hand>, by: &'a str, what: Target, at: i64) -> i64 {
    let last = hands.get(by).copied();
    let same_end = last.filter(|it| it.what == what && matches!(what, Target::End(_)));
    let since = match same_end {
        Some(it) => it.before,
        None => last.map(|it| it.at),
    };
    let before = since;
    hands.insert(by, Hand { what, at, before });
    // A clock that was set back says nothing of the pace.
    since
        .map(|since| at.saturating_sub(since))
        .filter(|spent| *spent >= 0)
        .unwrap_or(i64::MAX)
}

const FINAL: u16 = u16::MAX;

/// What is to be touched again, safety-critical joints first, otherwise fixings
/// in order of being undone and then ends. A place that was touched again with a sure hand,
/// checked by another, or tightened anew at a sound pace is not asked for.
pub fn touch_again(book: &Book, pace: Pace) -> Vec<Again> {
    let job = book.job();
    let mut seen: BTreeMap<FixingId, Seen> = BTreeMap::new();
    let mut ends: BTreeMap<EndId, Option<Slip>> = BTreeMap::new();
    let mut hands: BTreeMap<&str, Hand> = BTreeMap::new();
    for event in book.journal().iter().filter(|it| !book.is_struck(it)) {
        let by = event.by.trim();
        match &event.act {
            Act::Tightened {
                fixing, places, to, ..
            } => {
                if let Some(it) = job.fixings.get(*fixing) {
                    let spent = spent(&mut hands, by, Target::Fixing(*fixing), event.at);
                    let seen = seen.entry(*fixing).or_default();
                    tightened(seen, it, places, *to, spent, pace);
                }
            }
            // Started anew, whatever was said before is gone.
            Act::Started { fixing, places, .. } | Act::FastenersUndone { fixing, places, .. } => {
                let seen = seen.entry(*fixing).or_default();
                for place in places {
                    seen.places.remove(place);
                    seen.reached.remove(place);
                }
                spent(&mut hands, by, Target::Fixing(*fixing), event.at);
            }
            Act::EndPushed { end, .. } | Act::EndParted { end } => {
                ends.remove(end);
                spent(&mut hands, by, Target::End(*end), event.at);
            }
            Act::EndSecured { end } => {
                let spent = spent(&mut hands, by, Target::End(*end), event.at);
                ends.insert(*end, (spent < pace.place_ms).then_some(Slip::TooFast));
            }
            Act::Touched {
                what: Target::End(end),
                sure: true,
                ..
            }
            | Act::Checked {
                what: Target::End(end),
                ..
            } => {
                ends.remove(end);
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
                    what: Target::Fixing(id),
                    why,
                    places,
                    safety: it.detail.safety,
                });
            }
        }
    }
    for (id, why) in ends {
        let end = job.end(id).filter(|it| it.state == EndState::Secured);
        if let (Some(end), Some(why)) = (end, why) {
            again.push(Again {
                what: Target::End(id),
                why,
                places: Vec::new(),
                safety: end.safety,
            });
        }
    }
    again.sort_by_key(|it| !it.safety);
    again
}

fn tightened(seen: &mut Seen, fixing: &Fixing, places: &[u16], to: Tight, spent: i64, pace: Pace) {
    let stages = fixing.detail.stages.len();
    let stage = match to {
        Tight::Snug => 0,
        Tight::Stage(n) if usize::from(n) >= stages => FINAL,
        Tight::Stage(n) => u16::from(n),
        Tight::Final => FINAL,
    };
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
