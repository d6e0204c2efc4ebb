//! Stages being set: parts of a full figure or figures of their own, angles
//! last, with what is doubtful about them said at once.
use super::super::At;
use crate::job::Job;
use crate::journal::*;
use crate::torque::stages::{Stage, StagePlan, usual_percents};
use crate::torque::{Torque, TorqueUnit};
use crate::words::{self, Style};

/// Stages as they are being set: the figure at hand and what was made of it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct MadeStages {
    pub detail: FixingDetail,
    /// The figure at hand, in thousandths of its unit; 0 where none is entered.
    pub milli: u32,
    pub unit: TorqueUnit,
    /// The angle at hand; 0 where none is entered.
    pub degrees: u16,
    /// The parts, in hundredths, that the stages are of the figure: they go with
    /// it. None where they were put in one by one.
    pub parts: Option<Vec<u16>>,
}

impl MadeStages {
    /// From what is noted for a fixing of so many places; with nothing noted,
    /// no figure stands there.
    pub fn of(detail: FixingDetail, n: usize, unit: TorqueUnit) -> Self {
        let stages = &detail.stages;
        let (milli, unit) = last_torque(stages).unwrap_or((0, unit));
        let full = Figure::Torque { milli, unit };
        let divided = |parts: &Vec<u16>| *stages == split(full, parts);
        Self {
            milli,
            unit,
            degrees: last_angle(stages),
            parts: splits(n).into_iter().find(divided).filter(|_| milli > 0),
            detail,
        }
    }

    /// The figure at hand, once there is one.
    pub fn full(&self) -> Option<Figure> {
        let (milli, unit) = (self.milli, self.unit);
        (milli > 0).then_some(Figure::Torque { milli, unit })
    }

    /// The figure is another: stages that are parts of it go with it.
    pub fn enter(&mut self, milli: u32, unit: TorqueUnit) {
        (self.milli, self.unit) = (milli, unit);
        if let Some(parts) = self.parts.take() {
            self.divide(&parts);
        }
    }

    /// Makes the stages parts of the figure.
    pub fn divide(&mut self, parts: &[u16]) {
        let divided = self.full().map(|full| split(full, parts));
        self.detail.stages = divided.unwrap_or_default();
        self.parts = Some(parts.to_vec());
    }

    /// One more stage after the others, as it is.
    pub fn add(&mut self, stage: Option<Figure>) {
        self.detail.stages.extend(stage);
        self.parts = None;
    }

    /// Takes the last stage off. At hand is then what is left.
    pub fn shorten(&mut self) {
        let stages = &mut self.detail.stages;
        stages.pop();
        (self.milli, self.unit) = last_torque(stages).unwrap_or((0, self.unit));
        self.degrees = last_angle(stages);
        self.parts = None;
    }

    /// The angle at hand, once there is one.
    pub fn turn(&self) -> Option<Figure> {
        let degrees = self.degrees;
        (degrees > 0).then_some(Figure::Angle { degrees })
    }

    /// Why it is not to be kept in the stead of `noted`: what is at hand would
    /// be lost, or there is nothing.
    pub fn waits(&self, noted: &FixingDetail, style: Style) -> Option<String> {
        let stages = &self.detail.stages;
        let torque = last_torque(stages) == Some((self.milli, self.unit));
        let angle = last_angle(stages) == self.degrees;
        let lost = [
            self.full().filter(|_| !torque),
            self.turn().filter(|_| !angle),
        ];
        if let Some(lost) = lost.into_iter().flatten().next() {
            return Some(words::in_no_stage(lost, style));
        }
        (stages.is_empty() && self.detail == *noted).then(|| words::NO_FIGURE.to_owned())
    }
}

/// The last torque of some stages, as it was entered.
fn last_torque(stages: &[Figure]) -> Option<(u32, TorqueUnit)> {
    stages.iter().rev().find_map(|f| match *f {
        Figure::Torque { milli, unit } => Some((milli, unit)),
        Figure::Angle { .. } => None,
    })
}

/// The last angle in degrees; 0 without one.
fn last_angle(stages: &[Figure]) -> u16 {
    let angle = |f: &Figure| match *f {
        Figure::Angle { degrees } => Some(degrees),
        Figure::Torque { .. } => None,
    };
    stages.iter().rev().find_map(angle).unwrap_or(0)
}

/// Ways to divide a full figure, in hundredths. The first is usual for so many
/// fasteners; an offer, not a rule.
pub fn splits(n: usize) -> Vec<Vec<u16>> {
    let mut all = vec![usual_percents(n).to_vec()];
    for other in [
        &[100][..],
        &[50, 100],
        &[30, 60, 100],
        &[25, 50, 75, 100],
        &[20, 40, 80, 100],
    ] {
        if all.iter().all(|it| it != other) {
            all.push(other.to_vec());
        }
    }
    all
}

/// A full figure divided: each stage in the unit that the figure was entered in.
pub fn split(full: Figure, percents: &[u16]) -> Vec<Figure> {
    let Figure::Torque { milli, unit } = full else {
        return Vec::new();
    };
    let full = Torque::from_thousandths(milli, unit);
    percents
        .iter()
        .filter_map(|&p| full.percent(p))
        .map(|t| Figure::Torque {
            milli: t.thousandths(),
            unit,
        })
        .collect()
}

/// Tolerances to choose from, by what the last stage is; the one noted is among
/// them.
pub fn tolerances(last: Option<Figure>, noted: Option<Tolerance>) -> Vec<Tolerance> {
    let mut all: Vec<Tolerance> = [5, 10, 15].map(Tolerance::Percent).into();
    match last {
        Some(Figure::Torque { unit, .. }) => {
            let milli = match unit {
                TorqueUnit::NewtonMetre | TorqueUnit::PoundForceFoot => [1_000, 2_000, 5_000],
                TorqueUnit::KilogramForceMetre => [100, 200, 500],
                TorqueUnit::PoundForceInch | TorqueUnit::KilogramForceCentimetre => {
                    [5_000, 10_000, 20_000]
                }
            };
            all.extend(milli.map(|milli| Tolerance::By(Figure::Torque { milli, unit })));
        }
        Some(Figure::Angle { .. }) => {
            all.extend([5, 10].map(|degrees| Tolerance::By(Figure::Angle { degrees })));
        }
        None => {}
    }
    all.extend(noted.filter(|it| !all.contains(it)));
    all
}

/// What is wrong or doubtful about figures that are being set for a fixing.
pub fn stages_said(job: &Job, fixing: FixingId, detail: &FixingDetail, at: At) -> Vec<String> {
    let Some(it) = job.fixings.get(fixing) else {
        return Vec::new();
    };
    let mut said = Vec::new();
    // One that is being entered and has no number yet is none.
    let set = detail.stages.iter().filter(|f| {
        !matches!(
            f,
            Figure::Torque { milli: 0, .. } | Figure::Angle { degrees: 0 }
        )
    });
    let set: Vec<Figure> = set.copied().collect();
    let given: Vec<Stage> = super::running::as_stages(&set);
    if !given.is_empty()
        && let Err(wrong) = StagePlan::new(None, &given, false)
    {
        said.push(words::stage_error(wrong));
    }
    said.extend(super::figure_doubt(job, it, detail, at));
    if detail.dry_but_oiled(super::put_on(job, it)) {
        said.push(words::DRY_BUT_OILED.to_owned());
    }
    said
}

#[cfg(test)]
mod tests {
    use super::*;

    const STYLE: Style = Style {
        decimal: '.',
        when: |_| String::new(),
    };

    fn nm(figures: &[u32]) -> Vec<Figure> {
        let unit = TorqueUnit::NewtonMetre;
        let torque = |&n: &u32| Figure::Torque {
            milli: n * 1000,
            unit,
        };
        figures.iter().map(torque).collect()
    }

    fn empty() -> MadeStages {
        MadeStages::of(FixingDetail::default(), 8, TorqueUnit::NewtonMetre)
    }

    #[test]
    fn no_figure_stands_there_that_nobody_entered() {
        let it = empty();
        assert_eq!((it.full(), it.turn(), it.parts.clone()), (None, None, None));
        let why = it.waits(&FixingDetail::default(), STYLE);
        assert_eq!(why.as_deref(), Some("No figure is entered yet"));
    }

    #[test]
    fn a_figure_that_is_in_no_stage_is_not_lost() {
        let noted = FixingDetail::default();
        let mut it = empty();
        it.enter(45_000, it.unit);
        let why = it.waits(&noted, STYLE).unwrap_or_default();
        assert!(why.starts_with("45 N·m is in no stage yet"), "{why}");
        it.divide(&[100]);
        assert_eq!(
            (it.waits(&noted, STYLE), it.detail.stages),
            (None, nm(&[45]))
        );
        // Put in one by one, each as it is.
        let mut it = empty();
        it.enter(20_000, it.unit);
        it.add(it.full());
        it.enter(45_000, it.unit);
        assert_eq!(it.detail.stages, nm(&[20]));
        assert!(it.waits(&noted, STYLE).is_some());
        it.add(it.full());
        it.degrees = 90;
        let why = it.waits(&noted, STYLE).unwrap_or_default();
        assert!(why.starts_with("+90° is in no stage yet"), "{why}");
        it.add(it.turn());
        assert_eq!(it.waits(&noted, STYLE), None);
        // Without the last, what is at hand is what is left.
        it.shorten();
        it.shorten();
        assert_eq!((it.degrees, it.milli), (0, 20_000));
        assert_eq!(it.waits(&noted, STYLE), None);
    }

    #[test]
    fn stages_that_are_parts_of_a_figure_go_with_it() {
        let mut it = empty();
        it.enter(20_000, it.unit);
        it.divide(&[30, 60, 100]);
        assert_eq!(it.detail.stages, nm(&[6, 12, 20]));
        it.enter(80_000, it.unit);
        assert_eq!(it.detail.stages, nm(&[24, 48, 80]));
        // Noted so, they are known for what they are when they are set again.
        let mut again = MadeStages::of(it.detail.clone(), 8, it.unit);
        again.enter(100_000, it.unit);
        assert_eq!(again.detail.stages, nm(&[30, 60, 100]));
        // Back to none, the stages go too, and that is kept.
        again.enter(0, it.unit);
        assert_eq!(again.detail.stages, []);
        assert_eq!(again.waits(&it.detail, STYLE), None);
        assert!(splits(8).contains(&vec![25, 50, 75, 100]));
    }
}
