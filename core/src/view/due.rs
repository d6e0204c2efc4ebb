//! After running: the checks with what is left until each falls due, the meter,
//! and what was put on and has cured or has not.
use super::At;
use crate::job::{Book, Job, Treated};
use crate::journal::*;
use crate::permit::{due_checks, is_due};
use crate::words::{self, Names};

/// A check that is still owed.
#[derive(Clone, Debug, PartialEq)]
pub struct DueRow {
    pub id: AfterRunId,
    pub text: String,
    /// Why it is due, or what is left.
    pub note: String,
    pub due: bool,
}

/// The meter as it was read last, for the next reading.
#[derive(Clone, Debug, PartialEq)]
pub struct MeterAsk {
    pub kind: MeterKind,
    pub unit: &'static str,
    /// "12 345.6 km", empty when it was never read.
    pub last: String,
    /// In tenths.
    pub tenths: u32,
}

/// Something put on that needs time.
#[derive(Clone, Debug, PartialEq)]
pub struct CureRow {
    pub text: String,
    pub note: String,
    pub cured: bool,
}

#[derive(Clone, Debug, PartialEq)]
pub struct DuePage {
    /// Those due first.
    pub checks: Vec<DueRow>,
    pub n_due: usize,
    pub n_done: usize,
    /// The kind of meter this machine has; kilometres until one is read.
    pub meter: MeterAsk,
    /// Whether any meter was ever read.
    pub meter_known: bool,
    /// How often it ran, and when last; empty when it has not.
    pub ran: String,
    pub cures: Vec<CureRow>,
    /// Nothing came off yet: there is nothing to run.
    pub early: bool,
}

pub fn due_page(book: &Book, at: At) -> DuePage {
    let job = book.job();
    // The later of clock and record: a check is sooner due than missed.
    let now = book.now(at.now);
    let checks: Vec<DueRow> = due_checks(job, now)
        .into_iter()
        .filter_map(|check| {
            let due = job.after_runs.get(check.after_run)?.due;
            Some(DueRow {
                id: check.after_run,
                text: words::name(job, Target::AfterRun(check.after_run)),
                note: words::due_note(&check, due, at.style),
                due: check.is_due(),
            })
        })
        .collect();
    let known = known_meter(job);
    let kind = known.map_or(MeterKind::Kilometres, |it| it.kind);
    DuePage {
        n_due: checks.iter().filter(|it| it.due).count(),
        n_done: job.after_runs.rows().filter(|it| it.done).count(),
        checks,
        meter: meter_ask(book, kind, at),
        meter_known: known.is_some(),
        ran: job.runs.last().map_or_else(String::new, |last| {
            let times = words::plural(job.runs.len() as u32, "time");
            format!("Ran {times}, last {}", (at.style.when)(last.at))
        }),
        cures: cures(job, at),
        early: job.first_off.is_none(),
    }
}

/// Whether a check after running can be said done as it stands: it is due.
pub fn check_is_due(book: &Book, id: AfterRunId, at: At) -> bool {
    is_due(book.job(), id, book.now(at.now))
}

/// The meter of one kind.
pub fn meter_ask(book: &Book, kind: MeterKind, at: At) -> MeterAsk {
    let last = book.job().meter_of(kind);
    MeterAsk {
        kind,
        unit: words::meter_unit(kind),
        last: last
            .map(|it| words::meter(it, at.style))
            .unwrap_or_default(),
        tenths: last.map_or(0, |it| it.tenths),
    }
}

fn known_meter(job: &Job) -> Option<Meter> {
    let read = job.readings.last().map(|it| it.meter);
    read.or(job.head.as_ref().and_then(|it| it.meter))
}

/// By the phone's own clock, as the refusal to fill goes: a clock that ran
/// ahead for a while cures nothing.
fn cures(job: &Job, at: At) -> Vec<CureRow> {
    let curing = job
        .treatments
        .iter()
        .filter(|(_, it)| it.treatment.cure_min > 0);
    let row = |(id, it): (TreatmentId, &Treated)| {
        let until = (at.style.when)(it.cured_at()?);
        let cured = !it.curing(at.now);
        Some(CureRow {
            text: words::name(job, Target::Treatment(id)),
            note: match cured {
                true if unseen(it, at) => over_by_clock(it, at),
                true => format!("cured since {until}"),
                false => format!("curing until {until}"),
            },
            cured,
        })
    };
    curing.filter_map(row).collect()
}

/// It ended while the app was closed: a clock set forward meanwhile looks the
/// same.
fn unseen(it: &Treated, at: At) -> bool {
    it.cured_at().is_some_and(|end| end <= at.open_since)
}

fn over_by_clock(it: &Treated, at: At) -> String {
    let when = |ms: Option<i64>| ms.map(at.style.when).unwrap_or_default();
    words::over_by_clock(&when(it.applied), &when(it.cured_at()))
}

/// Each cure among `held` that is over, and how that is known.
pub(super) fn over<'a>(
    job: &'a Job,
    at: At,
    held: impl Fn(&Treated) -> bool + 'a,
) -> impl Iterator<Item = (String, bool)> + 'a {
    let cures = job.treatments.iter();
    let cures = cures.filter(|(_, it)| it.treatment.cure_min > 0 && it.applied.is_some());
    let over = cures.filter(move |(_, it)| !it.curing(at.now) && held(it));
    over.map(move |(id, it)| {
        let name = words::name(job, Target::Treatment(id));
        let how = match unseen(it, at) {
            true => over_by_clock(it, at),
            false => {
                let end = it.cured_at().map(at.style.when);
                format!("cured since {}", end.unwrap_or_default())
            }
        };
        (format!("{name}: {how}"), unseen(it, at))
    })
}

/// "Due: leak check: pump", for the list of jobs; empty when nothing is.
pub(super) fn due_line(book: &Book, at: At) -> String {
    let job = book.job();
    let due = due_checks(job, book.now(at.now)).into_iter();
    let names: Vec<String> = due
        .filter(|it| it.is_due())
        .map(|it| words::name(job, Target::AfterRun(it.after_run)))
        .collect();
    match names.is_empty() {
        true => String::new(),
        false => format!("Due: {}", Names(names)),
    }
}
