//! The pass as the job stands: a place's state says how many stages it has
//! surely been brought to, and the journal at which one a doubt arose.
use crate::job::{Book, Fixing, PlaceState};
use crate::journal::*;
use crate::torque::stages::{Stage, StageError, StagePlan};
use crate::torque::{Operation, Pass, Torque};

/// A pass under way.
pub(super) struct Running {
    pub pass: Pass,
    /// Indices of the places that want a fastener, in the order of tightening.
    pub order: Vec<u16>,
    pub n_stages: usize,
    /// Why the stages as noted cannot be worked to.
    pub wrong: Option<StageError>,
    /// Stages that are angles.
    angles: Vec<bool>,
}

impl Running {
    /// How many have surely been brought to a stage.
    pub fn n_at(&self, stage: usize) -> usize {
        let reached = |&&place: &&u16| self.pass.reached(usize::from(place)) > stage;
        self.order.iter().filter(reached).count()
    }

    pub fn state(&self, fixing: &Fixing, place: u16) -> PlaceState {
        fixing
            .places
            .get(usize::from(place))
            .map_or(PlaceState::LeftEmpty, |p| p.state)
    }

    /// The stage at which a place is in doubt.
    pub fn doubted(&self, place: u16) -> Option<usize> {
        self.pass
            .doubted()
            .find(|it| it.fastener == usize::from(place))
            .map(|it| it.stage)
    }

    pub fn is_angle(&self, stage: usize) -> bool {
        self.angles.get(stage).copied().unwrap_or(false)
    }
}

pub(super) fn running(book: &Book, id: FixingId, it: &Fixing) -> Running {
    let n_stages = it.detail.stages.len().max(1);
    let mut order =
        it.where_state(|s| !matches!(s, PlaceState::FoundEmpty | PlaceState::LeftEmpty));
    order.sort_by_key(|&place| it.turn(place));
    let dense = order.iter().map(|&p| usize::from(p)).collect();
    let mut pass = Pass::of_stages(dense, n_stages);
    for &place in &order {
        let state = it.places.get(usize::from(place)).map(|p| p.state);
        let fastener = usize::from(place);
        let done = match state {
            Some(PlaceState::Stage(n)) => usize::from(n),
            Some(PlaceState::Final | PlaceState::Checked) => n_stages,
            Some(PlaceState::Doubtful) => last_stage(book, id, place, n_stages) + 1,
            _ => 0,
        };
        for stage in 0..done.min(n_stages) {
            pass.note_done(Operation { stage, fastener });
        }
        if state == Some(PlaceState::Doubtful) {
            let stage = done.min(n_stages) - 1;
            pass.doubt(Operation { stage, fastener });
        }
    }
    let given = as_stages(&it.detail.stages);
    let wrong = match given.as_slice() {
        [] => None,
        stages => StagePlan::new(None, stages, false).err(),
    };
    Running {
        pass,
        order,
        n_stages,
        wrong,
        angles: given
            .iter()
            .map(|s| matches!(s, Stage::Angle { .. }))
            .collect(),
    }
}

/// Figures as the stages they are.
pub(super) fn as_stages(figures: &[Figure]) -> Vec<Stage> {
    figures
        .iter()
        .map(|f| match *f {
            Figure::Torque { milli, unit } => Stage::Torque(Torque::from_thousandths(milli, unit)),
            Figure::Angle { degrees } => Stage::Angle { degrees },
        })
        .collect()
}

/// The stage, from 0, that a doubtful place was brought to last. One that was
/// only started is in doubt before its first stage.
fn last_stage(book: &Book, id: FixingId, place: u16, n_stages: usize) -> usize {
    for event in book.journal().iter().rev().filter(|e| !book.is_struck(e)) {
        match &event.act {
            Act::Tightened {
                fixing, places, to, ..
            } if *fixing == id && places.contains(&place) => {
                return match to {
                    Tight::Snug => 0,
                    Tight::Stage(n) => usize::from(*n).clamp(1, n_stages) - 1,
                    Tight::Final => n_stages - 1,
                };
            }
            Act::Started { fixing, places, .. } | Act::FastenersUndone { fixing, places, .. }
                if *fixing == id && places.contains(&place) =>
            {
                return 0;
            }
            _ => {}
        }
    }
    0
}
