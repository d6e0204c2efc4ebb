//! Debts of what was put in, drained, cut off, put on, found or prescribed.
use super::push;
use crate::audit::{Owed, Rule};
use crate::job::{FindingOf, Job, PartState, Treated};
use crate::journal::*;

pub fn inside(job: &Job, owed: &mut Vec<Owed>) {
    for (id, it) in job.insides.iter() {
        if it.n_in > 0 {
            push(owed, Rule::TakeOut, Target::Inside(id), it.opened, it.n_in);
        }
    }
}

/// A make-safe step counts only if it was confirmed; once parts are off, one
/// that was not is owed an answer.
pub fn steps(job: &Job, owed: &mut Vec<Owed>) {
    if job.first_off.is_none() {
        return;
    }
    for (id, it) in job.steps.iter() {
        if it.confirmed.is_none() {
            push(owed, Rule::MakeSafe, Target::Step(id), it.opened, 1);
        }
    }
}

pub fn fluids(job: &Job, owed: &mut Vec<Owed>) {
    for (id, it) in job.fluids.iter() {
        if it.filled.is_none() {
            push(owed, Rule::Fill, Target::Fluid(id), it.opened, 1);
        }
        if it.bleed && !it.bled {
            push(owed, Rule::Bleed, Target::Fluid(id), it.opened, 1);
        }
        if it.short().is_some() {
            push(owed, Rule::LessIn, Target::Fluid(id), it.opened, 1);
        }
    }
}

pub fn treatments(job: &Job, now: i64, owed: &mut Vec<Owed>) {
    for (id, it) in job.treatments.iter() {
        treatment(job, id, it, owed);
        let on = Target::Treatment(id);
        let Some(applied) = it.applied else {
            continue;
        };
        if it.curing(now) {
            push(owed, Rule::Curing, on, it.applied_by, 1);
        }
        if let (Some(open), Some(closed)) = (it.treatment.open_min, it.closed)
            && closed > applied.saturating_add(i64::from(open) * 60_000)
        {
            push(owed, Rule::ClosedLate, on, it.closed_by, 1);
        }
    }
}

/// To be put on, or not sure to be on.
pub fn treatment(job: &Job, id: TreatmentId, it: &Treated, owed: &mut Vec<Owed>) {
    let on = Target::Treatment(id);
    if !it.sure {
        push(owed, Rule::NotSure, on, it.applied_by, 1);
    }
    if it.applied.is_none() && !moot(job, it.treatment.on) {
        push(owed, Rule::Apply, on, it.opened, 1);
    }
}

/// Nothing is left to put it on: the part is left off by decision, the fixing
/// empty by decision.
fn moot(job: &Job, on: Target) -> bool {
    match on {
        Target::Part(id) => job
            .parts
            .get(id)
            .is_some_and(|p| p.state == PartState::LeftOff),
        Target::Fixing(id) => job.fixings.get(id).is_some_and(|f| f.wanted() == 0),
        _ => false,
    }
}

pub fn supplies(job: &Job, owed: &mut Vec<Owed>) {
    for (id, it) in job.supplies.iter() {
        if !it.restored {
            push(owed, Rule::Restore, Target::Supply(id), it.opened, 1);
        }
    }
}

pub fn findings(job: &Job, owed: &mut Vec<Owed>) {
    for (id, it) in job.findings.iter() {
        finding(id, it, owed);
    }
}

pub fn finding(id: FindingId, it: &FindingOf, owed: &mut Vec<Owed>) {
    let on = Target::Finding(id);
    if it.decision.is_none() {
        push(owed, Rule::Decide, on, it.opened, 1);
    } else if it.work_owed() {
        push(owed, Rule::DoWork, on, it.decided.unwrap_or(it.opened), 1);
    }
}

pub fn strays(job: &Job, owed: &mut Vec<Owed>) {
    for (id, it) in job.strays.iter() {
        if !it.settled {
            push(owed, Rule::Stray, Target::Stray(id), it.opened, 1);
        }
    }
}

pub fn after_runs(job: &Job, owed: &mut Vec<Owed>) {
    for (id, it) in job.after_runs.iter() {
        if !it.done {
            push(owed, Rule::AfterRun, Target::AfterRun(id), it.opened, 1);
        }
    }
}
