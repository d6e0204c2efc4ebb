//! The running check of a pass: which fastener is at which stage, what is next,
//! and which one is in doubt.

use super::stages::{StagePlan, StageTarget};
use std::collections::BTreeSet;

/// One fastener brought to one stage. Both counted from 0; fasteners are
/// numbered as they are marked, not in the order of tightening.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Operation {
    pub stage: usize,
    pub fastener: usize,
}

/// What comes next.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PassNext {
    Do(Operation),
    /// All that is not in doubt is done; these must be settled first.
    Settle(Vec<Operation>),
    Complete,
}

/// How a doubtful operation is made good.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DoubtRemedy {
    /// Touch it again with the wrench at the same figure: nothing is lost if it
    /// was done.
    TouchAgain,
    /// An angle cannot be done again on top: slacken this fastener and take it
    /// through all stages anew, or as the maker says.
    SlackenAndStartOver,
}

/// A pass over like fasteners in a fixed order, stage by stage.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pass {
    order: Vec<usize>,
    stages: usize,
    done: BTreeSet<Operation>,
    doubted: BTreeSet<Operation>,
}

impl Pass {
    /// A pass that has not begun. `order` holds each fastener once.
    pub fn new(order: Vec<usize>, plan: &StagePlan) -> Self {
        Self::of_stages(order, plan.passes())
    }

    /// The same where only the number of stages is known, as without a figure.
    pub fn of_stages(order: Vec<usize>, stages: usize) -> Self {
        Self {
            order,
            stages,
            done: BTreeSet::new(),
            doubted: BTreeSet::new(),
        }
    }

    /// All operations in the order they are done.
    pub fn operations(&self) -> impl Iterator<Item = Operation> + '_ {
        (0..self.stages).flat_map(move |stage| {
            self.order
                .iter()
                .map(move |&fastener| Operation { stage, fastener })
        })
    }

    /// How many operations the whole pass has.
    pub fn len(&self) -> usize {
        self.stages * self.order.len()
    }

    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// How many are done and not in doubt.
    pub fn n_done(&self) -> usize {
        self.done.len()
    }

    /// Notes an operation as done; this settles its doubt. `false` when the pass
    /// has no such operation.
    pub fn note_done(&mut self, operation: Operation) -> bool {
        let known = operation.stage < self.stages && self.order.contains(&operation.fastener);
        if known {
            self.doubted.remove(&operation);
            self.done.insert(operation);
        }
        known
    }

    /// "Not sure about this one": it is neither done nor to be done again
    /// unasked. `false` when it had not been noted as done.
    pub fn doubt(&mut self, operation: Operation) -> bool {
        let was_done = self.done.remove(&operation);
        if was_done {
            self.doubted.insert(operation);
        }
        was_done
    }

    pub fn doubted(&self) -> impl Iterator<Item = Operation> + '_ {
        self.doubted.iter().copied()
    }

    /// The stage a fastener has surely reached, counted as stages done in a row;
    /// 0 is not begun.
    pub fn reached(&self, fastener: usize) -> usize {
        (0..self.stages)
            .take_while(|&stage| self.done.contains(&Operation { stage, fastener }))
            .count()
    }

    /// Whether every fastener has surely been brought to a stage.
    pub fn stage_complete(&self, stage: usize) -> bool {
        self.order
            .iter()
            .all(|&fastener| self.done.contains(&Operation { stage, fastener }))
    }

    /// What comes next. A doubtful operation is passed over within its stage, so
    /// that the rest can be finished, but no later stage begins before it is
    /// settled.
    pub fn next(&self) -> PassNext {
        for stage in 0..self.stages {
            let open = self
                .order
                .iter()
                .map(|&fastener| Operation { stage, fastener })
                .find(|it| !self.done.contains(it) && !self.doubted.contains(it));
            if let Some(operation) = open {
                return PassNext::Do(operation);
            }
            let doubted: Vec<_> = self
                .doubted
                .iter()
                .filter(|it| it.stage == stage)
                .copied()
                .collect();
            if !doubted.is_empty() {
                return PassNext::Settle(doubted);
            }
        }
        PassNext::Complete
    }
}

impl DoubtRemedy {
    /// What makes a doubt good at a stage of `plan`.
    pub fn of(plan: &StagePlan, stage: usize) -> Self {
        match plan.target(stage) {
            Some(StageTarget::Angle { .. }) => Self::SlackenAndStartOver,
            _ => Self::TouchAgain,
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::stages::Stage;
    use super::*;

    /// Eight nuts, 20 N·m, 45 N·m, then 90 degrees; interrupted after 18 of 24.
    #[test]
    fn an_interrupted_pass_goes_on_where_it_was() {
        let stages = [
            Stage::Torque("20 N·m".parse().unwrap()),
            Stage::Torque("45 N·m".parse().unwrap()),
            Stage::Angle { degrees: 90 },
        ];
        let plan = StagePlan::new(None, &stages, false).unwrap();
        let mut pass = Pass::new((0..8).collect(), &plan);
        assert_eq!(pass.len(), 24);
        let all: Vec<_> = pass.operations().collect();
        for operation in &all[..18] {
            assert!(pass.note_done(*operation));
        }
        assert_eq!(
            pass.next(),
            PassNext::Do(Operation {
                stage: 2,
                fastener: 2
            })
        );

        let nut_2 = Operation {
            stage: 2,
            fastener: 1,
        };
        assert!(pass.doubt(nut_2));
        assert_eq!(pass.reached(1), 2);
        // It is not silently done again ...
        assert_eq!(
            pass.next(),
            PassNext::Do(Operation {
                stage: 2,
                fastener: 2
            })
        );
        for operation in &all[18..] {
            pass.note_done(*operation);
        }
        // ... and the stage is not complete.
        assert!(!pass.stage_complete(2));
        assert_eq!(pass.next(), PassNext::Settle(vec![nut_2]));
        assert_eq!(DoubtRemedy::of(&plan, 2), DoubtRemedy::SlackenAndStartOver);
        assert_eq!(DoubtRemedy::of(&plan, 1), DoubtRemedy::TouchAgain);
        pass.note_done(nut_2);
        assert_eq!(pass.next(), PassNext::Complete);
        assert_eq!(pass.n_done(), 24);
    }

    #[test]
    fn a_doubt_holds_back_the_next_stage() {
        let plan =
            StagePlan::new("40 N·m".parse().ok(), &[50, 100].map(Stage::Percent), false).unwrap();
        let mut pass = Pass::new(vec![0, 2, 1], &plan);
        for operation in pass.operations().take(3).collect::<Vec<_>>() {
            pass.note_done(operation);
        }
        pass.doubt(Operation {
            stage: 0,
            fastener: 2,
        });
        assert_eq!(
            pass.next(),
            PassNext::Settle(vec![Operation {
                stage: 0,
                fastener: 2
            }])
        );
        assert!(!pass.note_done(Operation {
            stage: 9,
            fastener: 0
        }));
        assert!(!pass.doubt(Operation {
            stage: 1,
            fastener: 0
        }));
    }
}
