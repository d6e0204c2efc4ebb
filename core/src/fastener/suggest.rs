//! From a head to its threads: "12 mm head" offers what it is usually found
//! on, with the standard named. An offer only: the person confirms it or
//! leaves the thread open.

use super::habit::Habit;
use super::head::{Drive, DriveSize, HeadSize};
use super::head_table::{HEAD_STANDARDS, HeadStandard};
use super::kind::FastenerKind;
use super::thread::Thread;
use super::thread_table::standard_threads;
use std::collections::BTreeMap;

/// Sizes this close take the same spanner: 19 mm and 3/4 in.
const SAME_SPANNER_UM: u32 = 100;

/// A thread that a head is found on.
#[derive(Clone, Debug, PartialEq)]
pub struct ThreadSuggestion {
    pub thread: Thread,
    /// The standards that give this head to this thread, the most met first.
    pub standards: Vec<&'static str>,
    /// Part of all cases with this head, 0 to 1, by common practice.
    pub share: f64,
}

/// The threads that `head` is found on, the most likely first. A head of
/// unknown size, or one in no standard, offers nothing.
///
/// ```
/// use countback_core::fastener::{Drive, FastenerKind, HeadSize, habit::Habit, suggest::threads_for_head};
/// let offers = threads_for_head(HeadSize::mm(Drive::Hex, 10), FastenerKind::Bolt, Habit::Metric);
/// assert_eq!(offers[0].thread.short_name(), "M6");
/// ```
pub fn threads_for_head(head: HeadSize, kind: FastenerKind, habit: Habit) -> Vec<ThreadSuggestion> {
    let mut found: BTreeMap<Thread, Vec<(f64, &'static str)>> = BTreeMap::new();
    for (standard, thread, usage) in uses(kind, habit) {
        if let Some(fit) = drive_fit(head.drive, standard.drive)
            && same_spanner(head.size, usage.size)
        {
            found
                .entry(thread)
                .or_default()
                .push((usage.met * fit, standard.name));
        }
    }
    let total: f64 = found.values().flatten().map(|it| it.0).sum();
    let mut offers: Vec<_> = found
        .into_iter()
        .map(|(thread, mut standards)| {
            standards.sort_by(|a, b| b.0.total_cmp(&a.0));
            let met: f64 = standards.iter().map(|it| it.0).sum();
            let mut names: Vec<_> = standards.into_iter().map(|it| it.1).collect();
            names.dedup();
            ThreadSuggestion {
                thread,
                standards: names,
                share: met / total,
            }
        })
        .collect();
    offers.sort_by(|a, b| b.share.total_cmp(&a.share));
    offers
}

/// For each thread that has a standard head: how likely it carries `head`
/// rather than another of its heads, 0 to 1.
pub(super) fn head_likelihood(head: HeadSize, kind: FastenerKind) -> BTreeMap<Thread, f64> {
    let mut met: BTreeMap<Thread, (f64, f64)> = BTreeMap::new();
    for (standard, thread, usage) in uses(kind, Habit::Mixed) {
        let entry = met.entry(thread).or_default();
        entry.1 += usage.met;
        if let Some(fit) = drive_fit(head.drive, standard.drive) {
            // A head of unknown size tells by its drive alone.
            if head.size.is_none() || same_spanner(head.size, usage.size) {
                entry.0 += usage.met * fit;
            }
        }
    }
    met.into_iter()
        .map(|(thread, (with, all))| (thread, with / all))
        .collect()
}

/// The size a standard gives to a thread, and how often that is met.
struct Use {
    size: DriveSize,
    met: f64,
}

fn uses(
    kind: FastenerKind,
    habit: Habit,
) -> impl Iterator<Item = (&'static HeadStandard, Thread, Use)> {
    let weights: BTreeMap<Thread, f64> = standard_threads()
        .map(|it| (it.thread, f64::from(it.weight) * habit.weight(it.thread)))
        .collect();
    HEAD_STANDARDS
        .iter()
        .filter(move |it| it.kind.could_be(kind))
        .flat_map(|standard| standard.entries().into_iter().map(move |it| (standard, it)))
        .map(move |(standard, (thread, size))| {
            // A thread outside the table is rarer than any inside.
            let thread_met = weights
                .get(&thread)
                .copied()
                .unwrap_or(0.5 * habit.weight(thread));
            (
                standard,
                thread,
                Use {
                    size,
                    met: thread_met * f64::from(standard.weight),
                },
            )
        })
}

/// How readily one drive is written down for another. `None`: never.
fn drive_fit(said: Drive, is: Drive) -> Option<f64> {
    match (said, is) {
        _ if said == is => Some(1.0),
        // "10 mm head" is said of a flange head too; "flange" is not said idly.
        (Drive::Hex, Drive::HexFlange) => Some(0.8),
        (Drive::HexFlange, Drive::Hex) => Some(0.1),
        _ if said.could_be(is) => Some(0.3),
        _ => None,
    }
}

fn same_spanner(said: Option<DriveSize>, is: DriveSize) -> bool {
    match (said, said.and_then(DriveSize::to_um), is.to_um()) {
        (Some(said), _, _) if said == is => true,
        (_, Some(said), Some(is)) => said.abs_diff(is) <= SAME_SPANNER_UM,
        _ => false,
    }
}
