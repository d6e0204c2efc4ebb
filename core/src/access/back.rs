//! The way back: every act still open, whether it can be done now, what blocks
//! it or what it waits for, and an order for all of them.
use std::collections::BinaryHeap;

use rustc_hash::FxHashMap;

use super::settled::{Under, must_precede, settled};
use crate::job::{Job, PartState};
use crate::journal::*;

/// What an act on the way back waits for that no hand can hurry.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Wait {
    Delivery(Want),
    Decision(FindingId),
    /// Cleaning, mending or renewing that was decided.
    Work(FindingId),
}

/// How an act stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stand {
    Now,
    Blocked(Vec<Target>),
    Waiting(Vec<Wait>),
}

/// One act on the way back: placing and fastening a part, or joining an end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Act {
    pub what: Target,
    pub stand: Stand,
    /// The part is placed and only its fixings, ends or checks are open.
    pub begun: bool,
}

/// The way back as it stands.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Back {
    /// Open acts in an order that access allows, the last off first.
    pub acts: Vec<Act>,
    /// Acts that must each come before the other: the record contradicts itself.
    pub circle: Vec<Target>,
}

impl Back {
    pub fn now(&self) -> impl Iterator<Item = &Act> {
        self.acts.iter().filter(|a| a.stand == Stand::Now)
    }
    pub fn stand_of(&self, what: Target) -> Option<&Stand> {
        self.acts.iter().find(|a| a.what == what).map(|a| &a.stand)
    }
}

/// Works out the way back from the job as it stands.
pub fn back(job: &Job) -> Back {
    let under = Under::of(job);
    let mut acts = Vec::new();
    let mut blockers: Vec<Vec<Target>> = Vec::new();
    // Last off is first back, unless access says otherwise.
    for (id, part) in job.parts.iter().rev() {
        let what = Target::Part(id);
        if settled(job, what) {
            continue;
        }
        let begun = part.state == PartState::Placed;
        let (blocked, waits) = if begun {
            Default::default()
        } else {
            hold_back(job, &under, id)
        };
        let stand = if !blocked.is_empty() {
            Stand::Blocked(blocked.clone())
        } else if !waits.is_empty() {
            Stand::Waiting(waits)
        } else {
            Stand::Now
        };
        acts.push(Act { what, stand, begun });
        blockers.push(blocked);
    }
    for (end, connection, it) in job.ends() {
        let what = Target::End(end);
        if settled(job, what) {
            continue;
        }
        let mut blocked: Vec<Target> = Vec::new();
        for &first in job
            .gave_way_to(what)
            .iter()
            .chain(job.gave_way_to(Target::Connection(end.connection)))
        {
            if !settled(job, first) {
                blocked.push(first);
            }
        }
        if let Some(part) = it.end.on
            && job
                .parts
                .get(part)
                .is_some_and(|p| matches!(p.state, PartState::Off | PartState::Aside))
            && !connection
                .after
                .iter()
                .any(|n| n.first == Target::Part(part))
        {
            blocked.push(Target::Part(part));
        }
        let waits: Vec<Wait> = it
            .items
            .iter()
            .filter(|&&i| job.items.get(i).is_some_and(|i| i.to_buy() > 0))
            .map(|&i| Wait::Delivery(Want::Item(i)))
            .collect();
        let begun = it.state > crate::job::EndState::Parted;
        let stand = if !blocked.is_empty() {
            Stand::Blocked(blocked.clone())
        } else if !waits.is_empty() {
            Stand::Waiting(waits)
        } else {
            Stand::Now
        };
        acts.push(Act { what, stand, begun });
        blockers.push(blocked);
    }
    order(acts, &blockers)
}

/// What must come before a part, and what it waits for itself.
fn hold_back(job: &Job, under: &Under, id: PartId) -> (Vec<Target>, Vec<Wait>) {
    let mut blocked = Vec::new();
    let mut waits = Vec::new();
    for what in must_precede(job, under, id) {
        if settled(job, what) || what == Target::Part(id) {
            continue;
        }
        match what {
            Target::Item(item) => {
                if job.items.get(item).is_some_and(|i| i.to_buy() > 0) {
                    waits.push(Wait::Delivery(Want::Item(item)));
                }
            }
            // Put on as the part goes back.
            Target::Treatment(_) => {}
            Target::Finding(finding) => {
                let undecided = job
                    .findings
                    .get(finding)
                    .is_some_and(|f| f.decision.is_none());
                waits.push(if undecided {
                    Wait::Decision(finding)
                } else {
                    Wait::Work(finding)
                });
            }
            other => blocked.push(other),
        }
    }
    for (buy, it) in job.buys.iter() {
        if it.on == Target::Part(id) && it.arrived < it.n {
            waits.push(Wait::Delivery(Want::Line(buy)));
        }
    }
    (blocked, waits)
}

/// Orders the acts so that each follows what blocks it; the earliest given wins
/// a tie.
fn order(acts: Vec<Act>, blockers: &[Vec<Target>]) -> Back {
    let index: FxHashMap<Target, usize> =
        acts.iter().enumerate().map(|(n, a)| (a.what, n)).collect();
    let at = |what: &Target| match what {
        Target::Connection(id) => [Side::A, Side::B]
            .into_iter()
            .filter_map(|side| {
                index
                    .get(&Target::End(EndId {
                        connection: *id,
                        side,
                    }))
                    .copied()
            })
            .collect::<Vec<_>>(),
        other => index.get(other).copied().into_iter().collect(),
    };
    let mut waits_on = vec![0_u32; acts.len()];
    let mut frees: Vec<Vec<usize>> = vec![Vec::new(); acts.len()];
    for (n, blocked) in blockers.iter().enumerate() {
        for first in blocked.iter().flat_map(&at) {
            if let (Some(list), Some(count)) = (frees.get_mut(first), waits_on.get_mut(n)) {
                list.push(n);
                *count += 1;
            }
        }
    }
    let mut ready: BinaryHeap<std::cmp::Reverse<usize>> = waits_on
        .iter()
        .enumerate()
        .filter(|&(_, &count)| count == 0)
        .map(|(n, _)| std::cmp::Reverse(n))
        .collect();
    let mut sequence = Vec::with_capacity(acts.len());
    while let Some(std::cmp::Reverse(n)) = ready.pop() {
        sequence.push(n);
        for &next in frees.get(n).into_iter().flatten() {
            if let Some(count) = waits_on.get_mut(next) {
                *count -= 1;
                if *count == 0 {
                    ready.push(std::cmp::Reverse(next));
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
    }
}
