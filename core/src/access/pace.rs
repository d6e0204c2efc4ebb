//! How long parts take, by the log of the person at work: the time from their
//! tap before to the tap that says a part is off, or back and fast. Where the
//! log does not tell, an estimate by fasteners, set to the person's own pace as
//! soon as some parts tell it.
use super::from_job::part_of;
use super::settled;
use crate::job::Book;
use crate::journal::*;

/// Seconds for a part and for each of its fasteners, one way, when no log tells
/// (own choice, no source).
const PART_S: u32 = 90;
const FASTENER_S: u32 = 15;
/// A longer time between two taps is a break and tells nothing, in ms (own
/// choice, no source).
const BREAK_MS: i64 = 45 * 60_000;
/// As many parts tell a person's pace (own choice, no source).
const ENOUGH: u32 = 3;

/// Seconds for each part, by its place in the job.
#[derive(Clone, Debug, Default)]
pub struct Pace {
    off: Vec<Time>,
    back: Vec<Time>,
    /// Parts whose time is in the log.
    pub told: u32,
    /// The person's pace off the machine, as a part of the estimate.
    scale: (u64, u64),
    /// Whose log it is.
    pub who: String,
}

#[derive(Clone, Copy, Debug, Default)]
struct Time {
    seconds: u32,
    known: bool,
}

impl Pace {
    /// Reads the log of whoever made the last entry.
    pub fn of(book: &Book) -> Self {
        let job = book.job();
        let who = book.journal().last().map_or("", |e| e.by.as_str());
        let n = job.parts.len();
        let (mut off, mut back) = (vec![Time::default(); n], vec![Time::default(); n]);
        let mut last: Option<(EventId, i64)> = None;
        // Time that is not a part's yet, and whether all of it is known.
        let (mut spent, mut whole) = (0, false);
        for event in book.journal().iter().filter(|e| e.by == who) {
            if book.is_struck(event) {
                continue;
            }
            if last.is_none_or(|(tap, _)| tap != event.with) {
                let gap = last.map(|(_, at)| event.at - at);
                match gap.filter(|g| (0..=BREAK_MS).contains(g)) {
                    Some(gap) => spent += gap,
                    None => (spent, whole) = (0, false),
                }
                last = Some((event.with, event.at));
                if let Some((part, is_off)) = about(book, &event.act, event.id)
                    && let Some(slot) = job.parts.slot(part)
                {
                    let side = if is_off { &mut off } else { &mut back };
                    if let Some(time) = side.get_mut(slot) {
                        let seconds = u32::try_from(spent / 1000).unwrap_or(u32::MAX);
                        time.seconds = time.seconds.saturating_add(seconds);
                        time.known |= whole && seconds > 0;
                    }
                    spent = 0;
                }
                whole = true;
            }
        }
        for ((id, _), time) in job.parts.iter().zip(&mut back) {
            time.known &= settled(job, Target::Part(id));
        }
        let mut pace = Self {
            off,
            back,
            told: 0,
            scale: (1, 1),
            who: who.to_owned(),
        };
        pace.learn(book);
        pace
    }

    /// Fills in what the log does not tell.
    fn learn(&mut self, book: &Book) {
        let job = book.job();
        let guess: Vec<u32> = job
            .parts
            .rows()
            .map(|p| {
                let fixings = p.fixings.iter().filter_map(|&f| job.fixings.get(f));
                estimate(fixings.map(|f| f.places.len() as u32).sum())
            })
            .collect();
        for (side, is_off) in [(&mut self.off, true), (&mut self.back, false)] {
            let known = side.iter().zip(&guess).filter(|(t, _)| t.known);
            let (n, real, guessed) =
                known.fold((0_u32, 0_u64, 0_u64), |(n, real, guessed), (t, g)| {
                    (n + 1, real + u64::from(t.seconds), guessed + u64::from(*g))
                });
            let scale = if n >= ENOUGH {
                (real, guessed.max(1))
            } else {
                (1, 1)
            };
            for (time, guess) in side.iter_mut().zip(&guess).filter(|(t, _)| !t.known) {
                time.seconds = scaled(*guess, scale);
            }
            if is_off {
                self.scale = scale;
            }
            self.told = self.told.max(n);
        }
    }

    /// Minutes to take a part off, rounded up.
    pub fn off(&self, slot: usize) -> u32 {
        self.off.get(slot).map_or(0, |t| t.seconds.div_ceil(60))
    }
    /// Minutes to put a part back, rounded up.
    pub fn back(&self, slot: usize) -> u32 {
        self.back.get(slot).map_or(0, |t| t.seconds.div_ceil(60))
    }
    /// Minutes to take it off and put it back, rounded up.
    pub fn both(&self, slot: usize) -> u32 {
        let of = |side: &[Time]| side.get(slot).map_or(0, |t| t.seconds);
        of(&self.off).saturating_add(of(&self.back)).div_ceil(60)
    }
    /// Whether the log tells how long this part took to come off.
    pub fn knows(&self, slot: usize) -> bool {
        self.off.get(slot).is_some_and(|t| t.known)
    }
    /// Minutes for a part that is still on, by its fasteners.
    pub fn guess(&self, fasteners: u32) -> u32 {
        scaled(estimate(fasteners), self.scale).div_ceil(60)
    }
    /// Whether the guesses go by the person's own pace.
    pub fn learned(&self) -> bool {
        self.told >= ENOUGH
    }
}

fn estimate(fasteners: u32) -> u32 {
    PART_S.saturating_add(fasteners.saturating_mul(FASTENER_S))
}

fn scaled(seconds: u32, (real, guessed): (u64, u64)) -> u32 {
    u32::try_from(u64::from(seconds) * real / guessed).unwrap_or(u32::MAX)
}

/// The part that an act works on, and whether it is on its way off.
fn about(book: &Book, act: &Act, id: EventId) -> Option<(PartId, bool)> {
    let job = book.job();
    let of = |what: Target| part_of(job, what);
    let (part, off) = match act {
        Act::PartOff(_) => (Some(PartId(id.thing(0))), true),
        Act::PartOffAgain { part, .. } => (Some(*part), true),
        Act::FixingUndone(it) => (it.parts.first().copied(), true),
        Act::FastenersUndone { fixing, .. } => (of(Target::Fixing(*fixing)), true),
        Act::ConnectionLogged(it) => (it.a.on.or(it.b.on), true),
        Act::EndParted { end } => (of(Target::End(*end)), true),
        Act::ItemRemoved(it) => (of(it.on), true),
        Act::PartPlaced { part, .. } => (Some(*part), false),
        Act::Started { fixing, .. }
        | Act::Tightened { fixing, .. }
        | Act::ExtraFitted { fixing, .. } => (of(Target::Fixing(*fixing)), false),
        Act::ItemFitted { item, .. } => (of(Target::Item(*item)), false),
        Act::EndPushed { end, .. } | Act::EndSecured { end } => (of(Target::End(*end)), false),
        Act::TreatmentApplied { treatment } => (of(Target::Treatment(*treatment)), false),
        Act::Checked { what, .. } => (of(*what), false),
        _ => return None,
    };
    Some((part?, off))
}
