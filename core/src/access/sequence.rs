//! An order for open acts, so that each follows what blocks it.
use std::cmp::Reverse;
use std::collections::BinaryHeap;

use rustc_hash::FxHashMap;

use super::back::{Act, Back};
use crate::job::Job;
use crate::journal::*;

/// Where each act stands in the list.
pub(super) fn index_of(acts: &[Act]) -> FxHashMap<Target, usize> {
    acts.iter().enumerate().map(|(n, a)| (a.what, n)).collect()
}

/// The acts in which a thing is dealt with, by their places in the list.
pub(super) fn places_of(
    job: &Job,
    index: &FxHashMap<Target, usize>,
    what: Target,
) -> [Option<usize>; 2] {
    match what {
        Target::Connection(connection) => [Side::A, Side::B].map(|side| {
            let end = EndId { connection, side };
            index.get(&Target::End(end)).copied()
        }),
        // Fastened in the act of a part that it holds.
        Target::Fixing(id) => {
            let parts = job.fixings.get(id).into_iter().flat_map(|f| &f.parts);
            let mut acts = parts.filter_map(|&p| index.get(&Target::Part(p)).copied());
            [acts.next(), None]
        }
        other => [index.get(&other).copied(), None],
    }
}

/// Orders the acts so that each follows what blocks it; the earliest given wins
/// a tie. What could be either way about goes as `by_choice` has it.
pub(super) fn sequence(
    job: &Job,
    acts: Vec<Act>,
    blockers: &[Vec<Target>],
    by_choice: &[(Target, Target)],
) -> Back {
    let index = index_of(&acts);
    let mut waits_on = vec![0_u32; acts.len()];
    let mut frees: Vec<Vec<usize>> = vec![Vec::new(); acts.len()];
    for (n, blocked) in blockers.iter().enumerate() {
        let firsts = blocked
            .iter()
            .flat_map(|&what| places_of(job, &index, what));
        for first in firsts.flatten() {
            if let (Some(list), Some(count)) = (frees.get_mut(first), waits_on.get_mut(n)) {
                list.push(n);
                *count += 1;
            }
        }
    }
    for (before, after) in by_choice {
        if let (Some(&first), Some(&n)) = (index.get(before), index.get(after))
            && let (Some(list), Some(count)) = (frees.get_mut(first), waits_on.get_mut(n))
        {
            list.push(n);
            *count += 1;
        }
    }
    let mut ready: BinaryHeap<Reverse<usize>> = waits_on
        .iter()
        .enumerate()
        .filter(|&(_, &count)| count == 0)
        .map(|(n, _)| Reverse(n))
        .collect();
    let mut sequence = Vec::with_capacity(acts.len());
    while let Some(Reverse(n)) = ready.pop() {
        sequence.push(n);
        for &next in frees.get(n).into_iter().flatten() {
            if let Some(count) = waits_on.get_mut(next) {
                *count -= 1;
                if *count == 0 {
                    ready.push(Reverse(next));
                }
            }
        }
    }
    let mut slots: Vec<Option<Act>> = acts.into_iter().map(Some).collect();
    let ordered: Vec<Act> = sequence
        .iter()
        .filter_map(|&n| slots.get_mut(n)?.take())
        .collect();
    let stuck: Vec<Act> = slots.into_iter().flatten().collect();
    let circle = stuck.iter().map(|a| a.what).collect();
    Back {
        acts: ordered.into_iter().chain(stuck).collect(),
        circle,
        by_choice: by_choice.to_vec(),
        cures: Vec::new(),
    }
}
