//! Checks after running: what has fallen due by now, and what is left until the
//! others do. A check counts from where the meter stood when it was set, and in
//! days from the first run after that: a machine in pieces does not age it.

use crate::job::{AfterRun, Job};
use crate::journal::*;

/// How a check fell due.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Reached {
    /// It ran, and no other time was set.
    FirstRun,
    HeatCycles,
    Distance,
    Hours,
    Days,
}

/// What is left until a check falls due; none where that is not asked for or
/// not known.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Left {
    pub heat_cycles: Option<u16>,
    /// In tenths of a kilometre.
    pub km_tenths: Option<u32>,
    /// In tenths of an hour.
    pub hours_tenths: Option<u32>,
    pub days: Option<u32>,
}

/// A check that is still owed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DueCheck {
    pub after_run: AfterRunId,
    /// The machine has run since the check was set.
    pub ran: bool,
    /// Why it is due; empty while it is not.
    pub reached: Vec<Reached>,
    pub left: Left,
    /// Nobody can tell without reading the meter.
    pub wants_reading: bool,
}

impl DueCheck {
    pub fn is_due(&self) -> bool {
        !self.reached.is_empty()
    }
}

const DAY_MS: i64 = 86_400_000;

/// The checks after running that are owed at `now` (ms since 1970), those that
/// are due first, otherwise in order of being set.
pub fn due_checks(job: &Job, now: i64) -> Vec<DueCheck> {
    let mut checks: Vec<DueCheck> = job
        .after_runs
        .iter()
        .filter(|(_, it)| !it.done)
        .map(|(id, it)| stand(job, id, it, now))
        .collect();
    checks.sort_by_key(|it| !it.is_due());
    checks
}

/// Whether a check is owed and due at `now` (ms since 1970).
pub fn is_due(job: &Job, id: AfterRunId, now: i64) -> bool {
    let check = job.after_runs.get(id).filter(|it| !it.done);
    check.is_some_and(|it| stand(job, id, it, now).is_due())
}

fn stand(job: &Job, id: AfterRunId, it: &AfterRun, now: i64) -> DueCheck {
    let gone = Gone::since(job, it.opened);
    let ran_at = gone.first_run;
    let mut check = DueCheck {
        after_run: id,
        ran: ran_at.is_some(),
        reached: Vec::new(),
        left: Left::default(),
        wants_reading: false,
    };
    let due = it.due;
    if due == Due::default() {
        if check.ran {
            check.reached.push(Reached::FirstRun);
        }
        return check;
    }
    if due.heat_cycles > 0 {
        let left = due.heat_cycles.saturating_sub(gone.heat_cycles);
        check.left.heat_cycles = Some(left);
        check.note(left == 0, Reached::HeatCycles);
    }
    if due.km > 0 {
        let left = gone
            .km_tenths
            .map(|it| (due.km.saturating_mul(10)).saturating_sub(it));
        check.left.km_tenths = left;
        check.wants_reading |= left.is_none() && check.ran;
        check.note(left == Some(0), Reached::Distance);
    }
    if due.hours > 0 {
        let left = gone
            .hours_tenths
            .map(|it| (due.hours.saturating_mul(10)).saturating_sub(it));
        check.left.hours_tenths = left;
        check.wants_reading |= left.is_none() && check.ran;
        check.note(left == Some(0), Reached::Hours);
    }
    if due.days > 0 {
        let days = ran_at.map_or(0, |at| (now.saturating_sub(at) / DAY_MS).max(0));
        let left = due
            .days
            .saturating_sub(u32::try_from(days).unwrap_or(u32::MAX));
        check.left.days = Some(left);
        check.note(left == 0 && check.ran, Reached::Days);
    }
    // What is due already needs no reading to say so.
    check.wants_reading &= check.reached.is_empty();
    check
}

impl DueCheck {
    fn note(&mut self, holds: bool, how: Reached) {
        if holds {
            self.reached.push(how);
        }
    }
}

/// What the machine has done since an act.
struct Gone {
    heat_cycles: u16,
    km_tenths: Option<u32>,
    hours_tenths: Option<u32>,
    /// In ms.
    first_run: Option<i64>,
}

impl Gone {
    fn since(job: &Job, opened: EventId) -> Self {
        let runs = || job.runs.iter().filter(|it| it.event > opened);
        let km = travelled(job, opened, km_tenths);
        let hours = travelled(job, opened, hours_tenths);
        // A meter that has moved says that it ran, even if nobody did.
        let moved = [&km, &hours]
            .into_iter()
            .flatten()
            .filter(|it| it.gone > 0)
            .map(|it| it.at);
        Self {
            heat_cycles: runs().fold(0_u16, |sum, it| sum.saturating_add(it.heat_cycles)),
            first_run: runs().map(|it| it.at).chain(moved).min(),
            km_tenths: km.map(|it| it.gone),
            hours_tenths: hours.map(|it| it.gone),
        }
    }
}

/// How far a meter has moved.
struct Moved {
    gone: u32,
    /// When it was first seen to have, or last read; in ms.
    at: i64,
}

/// From where the meter stood when the act was made (or at the opening, or the
/// first reading after it) to the highest reading since.
fn travelled(job: &Job, opened: EventId, unit: fn(Meter) -> Option<u32>) -> Option<Moved> {
    let reading = |it: &crate::job::Reading| unit(it.meter).map(|n| (n, it.at, it.event));
    let at_opening = job.head.as_ref().and_then(|it| it.meter).and_then(unit);
    let before = job
        .readings
        .iter()
        .filter_map(reading)
        .filter(|it| it.2 <= opened)
        .map(|it| it.0)
        .max();
    let after: Vec<(u32, i64, EventId)> = job
        .readings
        .iter()
        .filter_map(reading)
        .filter(|it| it.2 > opened)
        .collect();
    let from = before.or(at_opening).or(after.first().map(|it| it.0))?;
    let highest = after.iter().map(|it| it.0).max()?;
    let gone = highest.saturating_sub(from);
    let first = after.iter().find(|it| it.0 > from).or(after.last())?;
    Some(Moved { gone, at: first.1 })
}

fn km_tenths(meter: Meter) -> Option<u32> {
    match meter.kind {
        MeterKind::Kilometres => Some(meter.tenths),
        // The international mile is 1.609344 km by definition.
        MeterKind::Miles => u32::try_from(u64::from(meter.tenths) * 1_609_344 / 1_000_000).ok(),
        MeterKind::Hours => None,
    }
}

fn hours_tenths(meter: Meter) -> Option<u32> {
    matches!(meter.kind, MeterKind::Hours).then_some(meter.tenths)
}
