//! What must be settled before the machine is turned, cranked, filled or
//! started. Each is read off the open lines of the audit, so that whatever is
//! asked for has a place where it is settled; a line that was excepted by name
//! and reason does not hold it back. Which line matters for which is common
//! practice, no source.

use super::fill::{Wet, fill, seals};
use crate::audit::{Owed, Rule, audit};
use crate::job::{Fixing, Job, PartState, PlaceState};
use crate::journal::*;

/// What the machine is to be let do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Ask {
    /// By hand, slowly.
    Turn,
    /// By the starter, without running.
    Crank,
    /// Fluids in: all that are out.
    Fill,
    Start,
}

impl Ask {
    pub const ALL: [Self; 4] = [Self::Turn, Self::Crank, Self::Fill, Self::Start];
}

/// What each still needs, the most dangerous first; empty where it may be done.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Permit {
    pub turn: Vec<Owed>,
    pub crank: Vec<Owed>,
    pub fill: Vec<Owed>,
    pub start: Vec<Owed>,
}

impl Permit {
    /// What it still needs.
    pub fn needs(&self, ask: Ask) -> &[Owed] {
        match ask {
            Ask::Turn => &self.turn,
            Ask::Crank => &self.crank,
            Ask::Fill => &self.fill,
            Ask::Start => &self.start,
        }
    }

    /// Whether it may be done.
    ///
    /// # Errors
    /// What is missing, the most dangerous first.
    pub fn may(&self, ask: Ask) -> Result<(), &[Owed]> {
        match self.needs(ask) {
            [] => Ok(()),
            missing => Err(missing),
        }
    }
}

/// Works out what the machine may be let do at `now` (ms since 1970).
pub fn permit(job: &Job, now: i64) -> Permit {
    let open = audit(job, now).open;
    let wet = Wet::of(job, None);
    let which = |f: &dyn Fn(&Owed) -> bool| open.iter().filter(|o| f(o)).cloned().collect();
    Permit {
        turn: which(&stops_turning),
        crank: which(&|o| stops_turning(o) || stops_cranking(job, &wet, o)),
        fill: fill(job, &open),
        start: which(&|o| stops_starting(job, o)),
    }
}

/// Anything inside, anything that may be inside, and a fastener that reaches
/// further than its own.
pub(crate) fn stops_turning(owed: &Owed) -> bool {
    matches!(
        owed.rule,
        Rule::TakeOut | Rule::WrongThing | Rule::WrongExtra | Rule::Missing | Rule::WouldBottom
    )
}

/// The starter is not to fling what is loose, run dry, or push at a joint that
/// is not done; parts that are still off do not matter to it, but for what holds
/// a fluid in: the pump would throw it out there.
fn stops_cranking(job: &Job, wet: &Wet, owed: &Owed) -> bool {
    match owed.rule {
        Rule::StartFasteners
        | Rule::Tighten
        | Rule::LastRound
        | Rule::WouldBottom
        | Rule::HoldsTooLittle
        | Rule::Doubtful
        | Rule::NotSure
        | Rule::RepairPlace
        | Rule::FinalTooEarly
        | Rule::FitExtra => holds_what_is_on(job, owed.on),
        Rule::PlacePart => wet.holds(owed.on),
        Rule::Apply => {
            let on = treatment(job, owed.on).filter(|it| it.kind == TreatmentKind::Sealant);
            on.is_some_and(|it| holds_what_is_on(job, it.on))
        }
        // A line under pressure that is open, or sealed with what is spent.
        Rule::Rejoin | Rule::Secure | Rule::WrongEnd => wet.holds(owed.on),
        Rule::Renew | Rule::OldItemIn => match owed.on {
            Target::Item(id) => job
                .items
                .get(id)
                .is_some_and(|it| seals(it.kind) && holds_what_is_on(job, it.on)),
            _ => false,
        },
        Rule::Fill | Rule::LessIn => true,
        Rule::Restore => match owed.on {
            Target::Supply(id) => job
                .supplies
                .get(id)
                .is_some_and(|it| it.kind == SupplyKind::Battery),
            _ => false,
        },
        Rule::Curing => treatment(job, owed.on).is_some_and(|it| it.holds_start),
        _ => false,
    }
}

/// Everything but what can only be done after, and what two phones both said.
fn stops_starting(job: &Job, owed: &Owed) -> bool {
    match owed.rule {
        Rule::AfterRun | Rule::SaidTwice => false,
        Rule::Tighten => !waits_for_heat(job, owed.on),
        _ => true,
    }
}

/// Its final torque comes at working heat, and all before that is done.
fn waits_for_heat(job: &Job, on: Target) -> bool {
    let Target::Fixing(id) = on else {
        return false;
    };
    let held = |it: &Fixing| {
        job.held_by(it) == Some(Hold::Hot)
            && it
                .places
                .iter()
                .all(|p| p.state > PlaceState::Doubtful || p.state.finished())
    };
    job.fixings.get(id).is_some_and(held)
}

/// Whether it belongs to something that is on the machine.
fn holds_what_is_on(job: &Job, on: Target) -> bool {
    let is_on = |part: &PartId| {
        job.parts
            .get(*part)
            .is_some_and(|it| matches!(it.state, PartState::Placed))
    };
    match on {
        Target::Fixing(id) => job
            .fixings
            .get(id)
            .is_some_and(|it| it.parts.is_empty() || it.parts.iter().any(is_on)),
        Target::Part(id) => is_on(&id),
        _ => true,
    }
}

pub(super) fn treatment(job: &Job, on: Target) -> Option<&Treatment> {
    match on {
        Target::Treatment(id) => job.treatments.get(id).map(|it| &it.treatment),
        _ => None,
    }
}
