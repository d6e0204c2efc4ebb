//! A bolt that holds too little thread: the sum, the longer ones that would
//! hold enough, and going on with a reason.
use super::super::At;
use crate::fastener::{FastenerSpec, Thread};
use crate::job::{Command, Fixing, Job, PlaceState};
use crate::journal::*;
use crate::ledger::Thing;
use crate::torque::hole::longer_ones;
use crate::words;

/// A bolt that holds too little thread: the sum, and what it says.
#[derive(Clone, Debug, PartialEq)]
pub struct TooLittle {
    pub sum: String,
    pub verdict: String,
    /// Those that are in come out first.
    pub out: Option<Command>,
    /// Longer ones that hold enough and do not bottom, the shortest first; each
    /// with the command that wants them from now on.
    pub longer: Vec<(String, Command)>,
}

/// Where final is next for a bolt that holds too little, and no reason stands.
pub(super) fn too_little(
    (id, it): (FixingId, &Fixing),
    job: &Job,
    next: Option<u16>,
    (stage, n_stages): (Option<usize>, usize),
    at: At,
) -> Option<TooLittle> {
    let place = it.places.get(usize::from(next?))?;
    if stage? + 1 < n_stages || place.state >= PlaceState::Final {
        return None;
    }
    let (hole, _) = it.hole?;
    let opened = it.thread_since()?;
    let stands = |e: &crate::job::Excepted| {
        e.owed.rule == crate::audit::Rule::HoldsTooLittle && e.owed.opened == opened
    };
    let (Thing::Fastener(spec) | Thing::Stray(spec)) = &job.lines.get(place.holds?)?.thing else {
        return None;
    };
    let verdict = it.against_hole(spec).filter(|v| v.too_little())?;
    let unit = job.length_unit();
    let length_um = spec.length_um?;
    let inch = matches!(spec.thread, Some(Thread::Unified { .. }));
    let longer = longer_ones(length_um, spec.thread, hole.stack(), inch);
    let in_them = it.where_state(PlaceState::filled);
    (!job.exceptions.iter().any(stands)).then(|| TooLittle {
        sum: words::hole_sum(length_um, hole, unit, at.style),
        verdict: words::hole_verdict(verdict, hole, unit, at.style),
        out: (!in_them.is_empty()).then_some({
            Command::Record(Act::FastenersUndone {
                fixing: id,
                places: in_them,
                out: true,
                to: Account::Bench,
            })
        }),
        longer: longer
            .into_iter()
            .map(|length_um| {
                let spec = FastenerSpec {
                    length_um: Some(length_um),
                    ..it.spec.clone()
                };
                let label = words::bolt_length(&spec, unit, at.style);
                let reason = words::TOO_SHORT_BEFORE.to_owned();
                let renewed = Act::FixingRenewed {
                    fixing: id,
                    spec,
                    reason,
                };
                (label, Command::Record(renewed))
            })
            .collect(),
    })
}

/// The same command with a reason for going on.
pub fn all_the_same(command: &Command, reason: &str) -> Option<Command> {
    match command.clone() {
        Command::Tighten {
            fixing,
            which,
            to,
            value,
        } => Some(Command::TightenAnyway {
            fixing,
            which,
            to,
            value,
            reason: reason.to_owned(),
        }),
        _ => None,
    }
}
