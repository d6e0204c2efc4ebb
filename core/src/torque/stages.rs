//! The stages of tightening: parts of the full figure, or given figures, and
//! angles last.

use super::amount::Torque;
use std::cmp::Ordering;

/// One stage as it is given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// Part of the full torque, in hundredths.
    Percent(u16),
    /// A figure of its own.
    Torque(Torque),
    /// Turned on by so many degrees. Several angles are several stages: 60 and
    /// then 30 is not 90 at once.
    Angle { degrees: u16 },
}

/// One stage as it is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StageTarget {
    Torque(Torque),
    Angle { degrees: u16 },
}

/// Stages that can be worked to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StagePlan {
    targets: Vec<StageTarget>,
    /// Once more around at the last torque when all is done, neighbour by
    /// neighbour.
    round_at_end: bool,
}

/// Why stages cannot be worked to. Stages are counted from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StageError {
    /// No stage at all.
    None,
    /// Parts of a full torque that is not given.
    FullTorqueNeeded { stage: usize },
    /// No part, or more than the whole.
    BadPercent { stage: usize, percent: u16 },
    /// A torque no greater than the one before.
    NotRising { stage: usize },
    /// A torque after an angle: once turned by angle, no torque is true any more.
    TorqueAfterAngle { stage: usize },
    /// No turn, or more than two turns.
    BadAngle { stage: usize, degrees: u16 },
    /// A round at the last torque cannot follow an angle.
    RoundAfterAngle,
}

impl StagePlan {
    /// Checks the stages and works out their torques.
    ///
    /// # Errors
    /// [`StageError`] naming the first stage that cannot be.
    ///
    /// ```
    /// use countback_core::torque::stages::{Stage, StagePlan, StageTarget};
    /// let full = "80 N·m".parse().ok();
    /// let plan = StagePlan::new(full, &[30, 60, 100].map(Stage::Percent), true).unwrap();
    /// assert_eq!(plan.targets()[0], StageTarget::Torque("24 N·m".parse().unwrap()));
    /// assert_eq!(plan.passes(), 4, "three stages and a round at the end");
    /// ```
    pub fn new(
        full: Option<Torque>,
        stages: &[Stage],
        round_at_end: bool,
    ) -> Result<Self, StageError> {
        let mut targets = Vec::with_capacity(stages.len());
        let mut last: Option<Torque> = None;
        let mut turned = false;
        for (stage, given) in stages.iter().enumerate() {
            let torque = match *given {
                Stage::Angle { degrees } => {
                    if !(1..=720).contains(&degrees) {
                        return Err(StageError::BadAngle { stage, degrees });
                    }
                    turned = true;
                    targets.push(StageTarget::Angle { degrees });
                    continue;
                }
                Stage::Torque(torque) => torque,
                Stage::Percent(percent) => {
                    let full = full.ok_or(StageError::FullTorqueNeeded { stage })?;
                    (1..=100)
                        .contains(&percent)
                        .then(|| full.percent(percent))
                        .flatten()
                        .ok_or(StageError::BadPercent { stage, percent })?
                }
            };
            if turned {
                return Err(StageError::TorqueAfterAngle { stage });
            }
            let rising = last.map_or(torque.thousandths() > 0, |last| {
                torque.compare(last) == Ordering::Greater
            });
            if !rising {
                return Err(StageError::NotRising { stage });
            }
            last = Some(torque);
            targets.push(StageTarget::Torque(torque));
        }
        if targets.is_empty() {
            return Err(StageError::None);
        }
        if round_at_end && turned {
            return Err(StageError::RoundAfterAngle);
        }
        Ok(Self {
            targets,
            round_at_end,
        })
    }

    /// The stages in their order, without the round at the end.
    pub fn targets(&self) -> &[StageTarget] {
        &self.targets
    }

    pub fn round_at_end(&self) -> bool {
        self.round_at_end
    }

    /// How often each fastener is gone to.
    pub fn passes(&self) -> usize {
        self.targets.len() + usize::from(self.round_at_end)
    }

    /// What is done on pass `pass`, counted from 0; the round at the end is at
    /// the last torque.
    pub fn target(&self, pass: usize) -> Option<StageTarget> {
        match self.targets.get(pass) {
            Some(target) => Some(*target),
            None if self.round_at_end && pass == self.targets.len() => self.targets.last().copied(),
            None => None,
        }
    }

    /// Every torque that a wrench must be set to.
    pub fn torques(&self) -> Vec<Torque> {
        self.targets
            .iter()
            .filter_map(|it| match it {
                StageTarget::Torque(torque) => Some(*torque),
                StageTarget::Angle { .. } => None,
            })
            .collect()
    }
}

/// Usual parts of the full torque for a joint of so many bolts, each to be
/// followed by one round: 30-60-100 below twelve bolts, 20-40-80-100 from
/// twelve on (piping-designer.com, `seen`). An offer, not a rule.
pub fn usual_percents(bolts: usize) -> &'static [u16] {
    match bolts {
        0..=2 => &[100],
        3..=11 => &[30, 60, 100],
        _ => &[20, 40, 80, 100],
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn torque(text: &str) -> Torque {
        text.parse().unwrap()
    }

    #[test]
    fn impossible_stages_are_named() {
        let plan =
            |stages: &[Stage]| StagePlan::new(Some(torque("100 N·m")), stages, false).map(|_| ());
        let angle = |degrees| Stage::Angle { degrees };
        let given = |text| Stage::Torque(torque(text));
        assert_eq!(plan(&[]), Err(StageError::None));
        assert_eq!(
            plan(&[Stage::Percent(0)]),
            Err(StageError::BadPercent {
                stage: 0,
                percent: 0
            })
        );
        assert_eq!(
            plan(&[Stage::Percent(110)]),
            Err(StageError::BadPercent {
                stage: 0,
                percent: 110
            })
        );
        assert_eq!(
            plan(&[given("20 N·m"), given("15 lbf·in")]),
            Err(StageError::NotRising { stage: 1 })
        );
        assert_eq!(
            plan(&[Stage::Percent(50), Stage::Percent(50)]),
            Err(StageError::NotRising { stage: 1 })
        );
        assert_eq!(
            plan(&[given("20 N·m"), angle(90), given("45 N·m")]),
            Err(StageError::TorqueAfterAngle { stage: 2 })
        );
        assert_eq!(
            plan(&[angle(0)]),
            Err(StageError::BadAngle {
                stage: 0,
                degrees: 0
            })
        );
        assert_eq!(
            StagePlan::new(None, &[Stage::Percent(50)], false),
            Err(StageError::FullTorqueNeeded { stage: 0 })
        );
        assert_eq!(
            StagePlan::new(None, &[given("20 N·m"), angle(90)], true),
            Err(StageError::RoundAfterAngle)
        );
    }

    #[test]
    fn angles_given_apart_stay_apart() {
        let stages = [
            Stage::Torque(torque("27 N·m")),
            Stage::Angle { degrees: 60 },
            Stage::Angle { degrees: 30 },
        ];
        let plan = StagePlan::new(None, &stages, false).unwrap();
        assert_eq!(plan.passes(), 3);
        assert_eq!(plan.target(2), Some(StageTarget::Angle { degrees: 30 }));
        assert_eq!(plan.target(3), None);
    }
}
