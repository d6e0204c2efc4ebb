//! How long parts take, by the log of the person at work: the time from their
//! tap before to the tap that says a part is off, or back and fast. Where the
//! log does not tell, an estimate by fasteners, set to the person's own pace as
//! soon as some parts tell it, of this job or of others.
use super::from_job::part_of;
use super::settled;
use crate::job::{Book, Part};
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

/// Who is at work, and how fast they were in other jobs than the one at hand.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct AtWork {
    pub who: String,
    off: Tally,
    back: Tally,
}

impl AtWork {
    /// Somebody of whom no other job tells.
    pub fn named(who: &str) -> Self {
        Self {
            who: who.to_owned(),
            ..Self::default()
        }
    }

    /// Reads what these jobs tell of the person: once, when a job is opened.
    pub fn told_by<'a>(who: &str, books: impl IntoIterator<Item = &'a Book>) -> Self {
        let mut it = Self::named(who);
        for book in books {
            let (off, back) = times(book, who);
            let guess = guesses(book);
            it.off = it.off.plus(Tally::of(&off, &guess));
            it.back = it.back.plus(Tally::of(&back, &guess));
        }
        it
    }
}

/// What parts took against what was guessed of them, in seconds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Tally {
    n: u32,
    real: u64,
    guessed: u64,
}

impl Tally {
    fn of(times: &[Time], guess: &[u32]) -> Self {
        let known = times.iter().zip(guess).filter(|(t, _)| t.known);
        known.fold(Self::default(), |it, (time, guess)| Self {
            n: it.n + 1,
            real: it.real + u64::from(time.seconds),
            guessed: it.guessed + u64::from(*guess),
        })
    }
    fn plus(self, more: Self) -> Self {
        Self {
            n: self.n.saturating_add(more.n),
            real: self.real.saturating_add(more.real),
            guessed: self.guessed.saturating_add(more.guessed),
        }
    }
    /// Tells a pace.
    fn enough(self) -> bool {
        self.n >= ENOUGH
    }
    fn scale(self) -> (u64, u64) {
        if self.enough() {
            (self.real, self.guessed.max(1))
        } else {
            (1, 1)
        }
    }
}

/// Seconds for each part, by its place in the job.
#[derive(Clone, Debug, Default)]
pub struct Pace {
    off: Vec<Time>,
    back: Vec<Time>,
    /// The person's pace off the machine, as a part of the estimate.
    scale: (u64, u64),
    learned: bool,
}

#[derive(Clone, Copy, Debug, Default)]
struct Time {
    seconds: u32,
    known: bool,
}

impl Pace {
    /// Reads this person's entries. The pace of this job is the nearest; until
    /// it tells one, the other jobs count as well.
    pub fn of(book: &Book, work: &AtWork) -> Self {
        let (mut off, mut back) = times(book, &work.who);
        let guess = guesses(book);
        let fill = |times: &mut [Time], elsewhere: Tally| {
            let here = Tally::of(times, &guess);
            let told = if here.enough() {
                here
            } else {
                here.plus(elsewhere)
            };
            for (time, guess) in times.iter_mut().zip(&guess).filter(|(t, _)| !t.known) {
                time.seconds = scaled(*guess, told.scale());
            }
            told
        };
        let told_off = fill(&mut off, work.off);
        let told_back = fill(&mut back, work.back);
        Self {
            off,
            back,
            scale: told_off.scale(),
            learned: told_off.enough() || told_back.enough(),
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
        self.learned
    }
}

/// What each part took this person, off and back, where the log tells.
fn times(book: &Book, who: &str) -> (Vec<Time>, Vec<Time>) {
    let job = book.job();
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
    (off, back)
}

/// What each part would take by its fasteners, one way.
fn guesses(book: &Book) -> Vec<u32> {
    let job = book.job();
    let parts = job.parts.rows();
    let of = |p: &Part| {
        let fixings = p.fixings.iter().filter_map(|&f| job.fixings.get(f));
        estimate(fixings.map(|f| f.places.len() as u32).sum())
    };
    parts.map(of).collect()
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
