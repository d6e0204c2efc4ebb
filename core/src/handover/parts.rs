//! Where the parts stand: back, ready, waiting, held by others, left off; and
//! every part is in exactly one of them.

use crate::access::{Back, Stand, Wait};
use crate::job::{Job, PartState};
use crate::journal::*;

/// A part that cannot go back yet, and what it waits for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Waiting {
    pub part: PartId,
    pub on: Vec<Wait>,
}

/// All parts that were ever off. `total` is the sum of the five lists.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Parts {
    pub total: usize,
    pub back: Vec<PartId>,
    /// Can go back now.
    pub ready: Vec<PartId>,
    /// Waits for a delivery, a decision or work.
    pub waiting: Vec<Waiting>,
    /// Others come first.
    pub blocked: Vec<(PartId, Vec<Target>)>,
    pub left_off: Vec<PartId>,
}

impl Parts {
    /// Parts that still have to go back.
    pub fn left(&self) -> usize {
        self.ready.len() + self.waiting.len() + self.blocked.len()
    }
}

pub(super) fn parts(job: &Job, back: &Back) -> Parts {
    let mut parts = Parts {
        total: job.parts.len(),
        ..Parts::default()
    };
    for (id, it) in job.parts.iter() {
        match it.state {
            PartState::Placed => parts.back.push(id),
            PartState::LeftOff => parts.left_off.push(id),
            PartState::Off | PartState::Aside => match back.stand_of(Target::Part(id)) {
                Some(Stand::Waiting(on)) => parts.waiting.push(Waiting {
                    part: id,
                    on: on.clone(),
                }),
                Some(Stand::Blocked(by)) => parts.blocked.push((id, by.clone())),
                Some(Stand::Now) | None => parts.ready.push(id),
            },
        }
    }
    parts
}
