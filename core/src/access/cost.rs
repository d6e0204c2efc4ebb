//! The cost of a miss, on the job's own parts: what would have to come off
//! again to get at a thing, in parts, fasteners and minutes.
use super::Node;
use super::miss::{Again, Miss, Misses};
use super::ways::Ways;
use crate::job::{Job, PartState};
use crate::journal::*;

/// Minutes for a part and for each of its fasteners when the person's own log
/// does not tell (own choice, no source).
const PART_MINUTES: u32 = 3;
const FASTENERS_A_MINUTE: u32 = 2;

/// What it takes to get at a thing again.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Cost {
    pub parts: u32,
    pub fasteners: u32,
    pub minutes: u32,
}

/// The parts of a job as the ways to them, with what each costs to take off.
pub struct Costs {
    ways: Ways,
    in_place: Vec<bool>,
    again: Vec<Again>,
}

impl Costs {
    /// Reads the job once for any number of questions.
    pub fn of(job: &Job) -> Self {
        let n = job.parts.len();
        let mut ways = Ways::new(n);
        let slot = |part: PartId| job.parts.slot(part).map(|s| s as Node);
        let firsts = |needs: &[Need]| -> Vec<Node> {
            let part = |need: &Need| match need.first {
                Target::Part(part) => slot(part),
                _ => None,
            };
            needs.iter().filter_map(part).collect()
        };
        let mut again = Vec::with_capacity(n);
        for (node, part) in (0..).zip(job.parts.rows()) {
            // The way it was taken off is one; any noted since are others.
            if part.ways.is_empty() {
                for first in firsts(&part.after) {
                    let _ = ways.must(node, first);
                }
            } else {
                let _ = ways.alternative(node, &firsts(&part.after));
                for way in &part.ways {
                    let _ = ways.alternative(node, &firsts(way));
                }
            }
            let fasteners: u32 = part
                .fixings
                .iter()
                .filter_map(|&f| job.fixings.get(f))
                .map(|f| f.places.len() as u32)
                .sum();
            let minutes = PART_MINUTES + fasteners.div_ceil(FASTENERS_A_MINUTE);
            again.push(Again {
                parts: 1,
                fasteners,
                minutes,
            });
        }
        let in_place = job
            .parts
            .rows()
            .map(|p| p.state == PartState::Placed)
            .collect();
        Self {
            ways,
            in_place,
            again,
        }
    }

    /// What has to come off to reach what lies behind `part`, once it is on.
    pub fn behind(&self, job: &Job, part: PartId) -> Cost {
        let Some(node) = job.parts.slot(part) else {
            return Cost::default();
        };
        let mut in_place = self.in_place.clone();
        if let Some(at) = in_place.get_mut(node) {
            *at = true;
        }
        let misses = Misses {
            ways: &self.ways,
            in_place: &in_place,
            again: &self.again,
        };
        let way = misses
            .cost(node as Node)
            .map(|m| cost_of(&m))
            .unwrap_or_default();
        // The part itself comes off as well as what lies over it.
        let own = self.again.get(node).copied().unwrap_or_default();
        Cost {
            parts: way.parts.saturating_add(own.parts),
            fasteners: way.fasteners.saturating_add(own.fasteners),
            minutes: way.minutes.saturating_add(own.minutes),
        }
    }
}

fn cost_of(miss: &Miss) -> Cost {
    let fit = |n: u64| u32::try_from(n).unwrap_or(u32::MAX);
    Cost {
        parts: fit(miss.parts),
        fasteners: fit(miss.fasteners),
        minutes: fit(miss.minutes),
    }
}
