//! Which cautions come before an act: those of what it touches that this job
//! has not yet been shown.

use std::collections::BTreeSet;

use super::for_part_name;
use crate::job::{Command, EndOf, EndState, Job, PartState, Thing};
use crate::journal::*;

/// Everything that a command touches, shown before or not, in order of danger
/// as listed in [`Hazard`].
pub fn touched(command: &Command, job: &Job) -> Vec<Hazard> {
    let mut found = BTreeSet::new();
    match command {
        Command::TakeOff(it) => {
            by_name(&it.part.name, &mut found);
            found.extend(it.part.hazards.iter().copied());
            found.extend(planned(job, it.part.planned.as_deref()));
            for draft in &it.connections {
                logged(&draft.logged, &mut found);
            }
            for item in &it.items {
                by_name(&item.name, &mut found);
            }
            for name in it.openings.iter().chain(&it.carried) {
                by_name(name, &mut found);
            }
        }
        Command::TakeOffAgain { part, .. } => of_part(job, *part, &mut found),
        // What is carried on it goes back with it.
        Command::PlacePart { part, .. } => {
            of_part(job, *part, &mut found);
            let carried = job
                .parts
                .iter()
                .filter(|(_, it)| it.carried_by == Some(*part));
            for (id, _) in carried.filter(|(_, it)| it.off()) {
                of_part(job, id, &mut found);
            }
        }
        Command::AddFixing { parts, .. } => {
            for &part in parts {
                of_part(job, part, &mut found);
            }
        }
        Command::Tighten { fixing, which, .. } => {
            // Asked before the first of a fixing only, not at every place.
            let begun = job.fixings.get(*fixing).is_some_and(|it| {
                it.places
                    .iter()
                    .any(|p| p.state >= crate::job::PlaceState::Snug)
            });
            if !begun || matches!(which, Thing::All) {
                of_fixing(job, *fixing, &mut found);
            }
        }
        Command::PartEnd { end } | Command::Rejoin { end, .. } => of_end(job, *end, &mut found),
        Command::Record(act) | Command::SayLate { act, .. } => of_act(act, job, &mut found),
        _ => {}
    }
    found.into_iter().collect()
}

/// What this job has been shown already. A part carries the cautions that were
/// shown before it came off with all that hung on it; a part placed, an end
/// parted or joined by itself, a fluid drained, a supply isolated and a make-safe
/// step confirmed were each preceded by theirs. A connection that was logged with
/// its end off is not:
/// only the part that it was logged with says what was shown.
pub fn acknowledged(job: &Job) -> BTreeSet<Hazard> {
    let mut known = BTreeSet::new();
    for part in job.parts.rows() {
        known.extend(part.hazards.iter().copied());
        if part.state == PartState::Placed {
            by_name(&part.name, &mut known);
        }
    }
    for it in job.connections.rows() {
        for end in [&it.a, &it.b] {
            if by_itself(end, it.opened) {
                connection(it.kind, [&it.name, &end.end.label], &mut known);
            }
        }
    }
    for it in job.fluids.rows() {
        fluid(&it.name, &mut known);
    }
    for it in job.supplies.rows() {
        supply(it.kind, &it.name, &mut known);
    }
    let confirmed = job.steps.rows().filter(|it| it.confirmed.is_some());
    known.extend(confirmed.filter_map(|it| made_safe(it.step.kind)));
    known
}

/// What is to be shown before a command: each kind once in a job. Asked for
/// again by hand, [`touched`] gives them all.
pub fn before(command: &Command, job: &Job) -> Vec<Hazard> {
    let mut found = touched(command, job);
    // Most acts touch nothing dangerous, and are asked about at every drawing.
    if !found.is_empty() {
        let known = acknowledged(job);
        found.retain(|it| !known.contains(it));
    }
    found
}

/// What a make-safe step guards against.
fn made_safe(kind: SafeKind) -> Option<Hazard> {
    match kind {
        SafeKind::BatteryOff => Some(Hazard::Battery),
        SafeKind::Supported => Some(Hazard::Raised),
        SafeKind::Cooled => Some(Hazard::HotCoolant),
        SafeKind::PressureReleased | SafeKind::Other => None,
    }
}

/// Whether an end was parted or joined by an act of its own.
fn by_itself(end: &EndOf, logged: EventId) -> bool {
    let joined = matches!(
        end.state,
        EndState::Pushed | EndState::Secured | EndState::Checked
    );
    joined || end.first.is_some_and(|parted| parted != logged)
}

/// What a procedure says of the part that is meant by its key.
fn planned(job: &Job, key: Option<&str>) -> Vec<Hazard> {
    let parts = job.procedure.iter().flat_map(|it| &it.parts);
    let it = parts.filter(|it| Some(it.key.as_str()) == key);
    it.flat_map(|it| it.hazards.iter().copied()).collect()
}

fn by_name(name: &str, found: &mut BTreeSet<Hazard>) {
    found.extend(for_part_name(name));
}

fn of_part(job: &Job, part: PartId, found: &mut BTreeSet<Hazard>) {
    if let Some(it) = job.parts.get(part) {
        by_name(&it.name, found);
        found.extend(it.hazards.iter().copied());
    }
}

fn of_fixing(job: &Job, fixing: FixingId, found: &mut BTreeSet<Hazard>) {
    for &part in job.fixings.get(fixing).iter().flat_map(|it| &it.parts) {
        of_part(job, part, found);
    }
}

fn of_end(job: &Job, end: EndId, found: &mut BTreeSet<Hazard>) {
    if let Some(it) = job.connections.get(end.connection) {
        connection(it.kind, [&it.name, &it.end(end.side).end.label], found);
    }
}

/// A connection that is logged: an end that stays on is not touched.
fn logged(it: &ConnectionLogged, found: &mut BTreeSet<Hazard>) {
    connection(it.kind, [&it.name], found);
    for end in [&it.a, &it.b].into_iter().filter(|end| end.parted) {
        connection(it.kind, [&end.label], found);
    }
}

fn connection<const N: usize>(
    kind: ConnectionKind,
    names: [&str; N],
    found: &mut BTreeSet<Hazard>,
) {
    // The plug of a temperature sensor carries no coolant.
    let dry = matches!(kind, ConnectionKind::Plug | ConnectionKind::Cable);
    let wet_only = |it: &Hazard| matches!(it, Hazard::HotCoolant | Hazard::Dust);
    let said = names.into_iter().flat_map(for_part_name);
    found.extend(said.filter(|it| !(dry && wet_only(it))));
}

fn fluid(name: &str, found: &mut BTreeSet<Hazard>) {
    by_name(name, found);
    let said = super::Said::of(name);
    if said.has_any(&["brake", "clutch"]) {
        found.insert(Hazard::BrakesSteering);
        found.insert(Hazard::Chemical);
    }
    if said.has_any(&["coolant", "water", "antifreeze"]) {
        found.insert(Hazard::HotCoolant);
    }
    if said.has("gas") {
        found.insert(Hazard::Fuel);
    }
}

fn supply(kind: SupplyKind, name: &str, found: &mut BTreeSet<Hazard>) {
    by_name(name, found);
    match kind {
        SupplyKind::Battery => {
            found.insert(Hazard::Battery);
        }
        SupplyKind::Fuel => {
            found.insert(Hazard::Fuel);
        }
        SupplyKind::Hydraulic => {
            found.insert(Hazard::Hydraulic);
        }
        SupplyKind::Air | SupplyKind::Water | SupplyKind::Other => {}
    }
}

/// What a new name says of a thing that the old one did not.
fn called(what: Target, name: &str, job: &Job, found: &mut BTreeSet<Hazard>) {
    match what {
        Target::Connection(id) | Target::End(EndId { connection: id, .. }) => {
            if let Some(it) = job.connections.get(id) {
                connection(it.kind, [name], found);
            }
        }
        Target::Fluid(_) => fluid(name, found),
        Target::Part(_) | Target::Item(_) | Target::Opening(_) | Target::Supply(_) => {
            by_name(name, found);
        }
        _ => {}
    }
}

fn of_act(act: &Act, job: &Job, found: &mut BTreeSet<Hazard>) {
    match act {
        Act::PartOff(it) => {
            by_name(&it.name, found);
            found.extend(it.hazards.iter().copied());
        }
        Act::PartOffAgain { part, .. } | Act::PartPlaced { part, .. } => {
            of_part(job, *part, found);
        }
        Act::Named { what, name } => called(*what, name, job, found),
        Act::PartDescribed { name, .. } => by_name(name, found),
        Act::ItemRemoved(it) => by_name(&it.name, found),
        Act::OpeningMade { name, .. } => by_name(name, found),
        Act::ConnectionLogged(it) => logged(it, found),
        Act::EndParted { end } | Act::EndPushed { end, .. } | Act::EndSecured { end } => {
            of_end(job, *end, found);
        }
        Act::FluidDrained { name, .. } => fluid(name, found),
        Act::FluidFilled { fluid: id, .. } | Act::FluidBled { fluid: id } => {
            if let Some(it) = job.fluids.get(*id) {
                fluid(&it.name, found);
            }
        }
        Act::SupplyIsolated { name, kind } => supply(*kind, name, found),
        Act::SupplyRestored { supply: id } => {
            if let Some(it) = job.supplies.get(*id) {
                supply(it.kind, &it.name, found);
            }
        }
        Act::PutIn(it) if it.kind == InsideKind::Support => {
            found.insert(Hazard::Raised);
        }
        Act::TreatmentApplied { .. } => {
            found.insert(Hazard::Chemical);
        }
        Act::SafeStepConfirmed { step } => {
            if let Some(it) = job.steps.get(*step) {
                found.extend(made_safe(it.step.kind));
            }
        }
        _ => {}
    }
}
