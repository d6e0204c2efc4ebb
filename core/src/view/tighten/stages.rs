//! Stages being set: parts of a full figure or figures of their own, angles
//! last, with what is doubtful about them said at once.
use super::super::At;
use crate::job::Job;
use crate::journal::*;
use crate::torque::stages::{Stage, StagePlan, usual_percents};
use crate::torque::{Torque, TorqueUnit};
use crate::words;

/// Ways to divide a full figure, in hundredths. The first is usual for so many
/// fasteners; an offer, not a rule.
pub fn splits(n: usize) -> Vec<Vec<u16>> {
    let mut all = vec![usual_percents(n).to_vec()];
    for other in [&[100][..], &[50, 100], &[30, 60, 100], &[20, 40, 80, 100]] {
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
