//! Ranks the standard threads by what was measured.

use super::likelihood;
use super::measured::Measured;
use crate::fastener::suggest::head_likelihood;
use crate::fastener::thread::Thread;
use crate::fastener::thread_table::{StandardThread, seldom_threads, standard_threads};
use std::collections::BTreeSet;

/// A thread and the chance that the fastener has it, 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RankedThread {
    pub thread: Thread,
    pub chance: f64,
}

/// How far the thread is settled.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Confidence {
    /// Several threads are about as likely.
    Open,
    /// One is likelier than all others together.
    Likely,
    /// The others together have one chance in twenty at most.
    Sure,
}

impl Confidence {
    /// By the chance of the first of `ranked`.
    pub fn of(ranked: &[RankedThread]) -> Self {
        match ranked.first().map(|it| it.chance) {
            Some(chance) if chance >= 0.95 => Self::Sure,
            Some(chance) if chance > 0.5 => Self::Likely,
            _ => Self::Open,
        }
    }
}

/// Threads below this chance are left out of the answer.
const DROPPED: f64 = 1e-4;

/// How much likelier a thread is for being used on this machine already.
const HERE: f64 = 4.0;

/// A special head, or one that is in no table.
const ODD_HEAD: f64 = 0.03;

/// The description given by hand is taken at its word, nearly.
const MISNAMED: f64 = 0.002;

/// The threads that may be, the likeliest first; `here` are the threads known
/// on this machine. Empty when no standard thread comes near the readings.
pub fn rank_threads(found: &Measured, here: impl IntoIterator<Item = Thread>) -> Vec<RankedThread> {
    let here: BTreeSet<Thread> = here.into_iter().collect();
    let heads = found.head.map(|head| head_likelihood(head, found.kind));
    let told_by_pitch = found.pitch.is_some() || found.thread.is_some();
    let mut ranked: Vec<RankedThread> = standard_threads()
        .chain(seldom_threads().filter(|_| told_by_pitch))
        .map(|StandardThread { thread, weight }| {
            // How often a thread is met is known by its order only: its root
            // keeps the order, and a clear reading goes before it.
            let mut chance = f64::from(weight).sqrt() * found.habit.weight(thread);
            if here.contains(&thread) {
                chance *= HERE;
            }
            if let Some(heads) = &heads {
                chance *= heads.get(&thread).copied().unwrap_or(0.0) + ODD_HEAD;
            }
            if let Some(named) = found.thread {
                chance *= if named == thread { 1.0 } else { MISNAMED };
            }
            if let Some(tapers) = found.tapers
                && tapers != thread.tapers()
            {
                chance *= MISNAMED;
            }
            RankedThread {
                thread,
                chance: chance * readings(found, thread),
            }
        })
        .collect();
    let total: f64 = ranked.iter().map(|it| it.chance).sum();
    // A density this low is a reading several deviations off everything.
    if total < 1e-12 {
        return Vec::new();
    }
    for it in &mut ranked {
        it.chance /= total;
    }
    ranked.retain(|it| it.chance >= DROPPED);
    ranked.sort_by(|a, b| b.chance.total_cmp(&a.chance).then(a.thread.cmp(&b.thread)));
    ranked
}

/// The density of all size readings for a thread.
fn readings(found: &Measured, thread: Thread) -> f64 {
    let mut density = 1.0;
    if let Some(measure) = found.outside {
        density *= thread
            .outside_limits()
            .map_or(0.0, |it| likelihood::outside(measure, it));
    }
    if let Some(measure) = found.bore {
        density *= thread
            .bore_limits()
            .map_or(0.0, |it| likelihood::bore(measure, it));
    }
    if let Some(count) = found.pitch {
        density *= thread
            .pitch_mm()
            .map_or(0.0, |it| likelihood::pitch(count, it * 1e3));
    }
    density
}
