//! The Job screen: how a job stands, its steps and its containers.
use super::At;
use super::log::{LogRow, row};
use super::part::{FindingRow, finding_row};
use crate::access::{self, Stand};
use crate::audit::{Audit, audit};
use crate::fastener::FastenerSpec;
use crate::job::{Book, Job, PartState};
use crate::journal::*;
use crate::words;

/// The figures of a job.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    pub parts: usize,
    pub off: usize,
    pub back: usize,
    /// Lines of the audit.
    pub owed: usize,
    pub waiting: usize,
    pub inside: usize,
    pub to_buy: usize,
    /// Checks owed after running.
    pub after_run: usize,
    /// Fasteners in containers and on the bench.
    pub loose: u32,
}

pub fn counts(job: &Job, audit: &Audit, now: i64) -> Counts {
    let back = access::back_at(job, now);
    let off = job
        .parts
        .rows()
        .filter(|p| matches!(p.state, PartState::Off | PartState::Aside))
        .count();
    Counts {
        parts: job.parts.len(),
        off,
        back: job
            .parts
            .rows()
            .filter(|p| p.state == PartState::Placed)
            .count(),
        owed: audit.open.len(),
        waiting: back
            .acts
            .iter()
            .filter(|a| matches!(a.stand, Stand::Waiting(_)))
            .count(),
        inside: job.insides.rows().filter(|i| i.n_in > 0).count(),
        to_buy: job.to_buy().len(),
        after_run: job.after_runs.rows().filter(|a| !a.done).count(),
        loose: job
            .lines
            .rows()
            .filter(|l| {
                matches!(
                    l.thing,
                    crate::ledger::Thing::Fastener(_) | crate::ledger::Thing::Extra(_)
                )
            })
            .map(crate::ledger::Line::loose)
            .sum(),
    }
}

/// A job in the list of jobs.
#[derive(Clone, Debug, PartialEq)]
pub struct JobCard {
    pub title: String,
    pub machine: String,
    pub verdict: String,
    /// What stands under it: what is inside, what is missing.
    pub under: String,
    pub danger: bool,
    /// Checks that have fallen due; mostly empty.
    pub due: String,
    pub counts: Counts,
    pub signed: bool,
}

pub fn job_card(book: &Book, at: At) -> JobCard {
    let job = book.job();
    let audit = audit(job, at.now);
    let verdict = words::verdict(job, &audit.verdict, &audit.open);
    let head = job.head.clone();
    JobCard {
        title: head.as_ref().map(|h| h.title.clone()).unwrap_or_default(),
        machine: head.map(|h| h.machine).unwrap_or_default(),
        verdict: verdict.head,
        under: verdict.lines.join(" "),
        due: super::due::due_line(book, at),
        danger: verdict.danger,
        counts: counts(job, &audit, at.now),
        signed: job.is_signed(),
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct StepRow {
    pub id: StepId,
    pub text: String,
    pub done: bool,
    /// Confirmed when something was off already.
    pub late: bool,
}

/// What settles a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CareAct {
    TakeOut(InsideId),
    Restore(SupplyId),
    Fill(FluidId),
    Bleed(FluidId),
    Level(FluidId),
    /// It has an act of its own elsewhere.
    Other,
}

/// A supply, a fluid or a thing put in: one line and its one act.
#[derive(Clone, Debug, PartialEq)]
pub struct CareRow {
    pub on: Target,
    pub text: String,
    pub note: String,
    pub done: bool,
    pub act: CareAct,
}

#[derive(Clone, Debug, PartialEq)]
pub struct BuyRow {
    pub want: Want,
    pub text: String,
    pub n: u32,
    pub on_order: u32,
    pub what_for: String,
}

#[derive(Clone, Debug, PartialEq)]
pub struct ContainerRow {
    pub id: ContainerId,
    pub tag: String,
    pub kind: &'static str,
    pub lies: String,
    /// What is in it: line, count, words.
    pub holds: Vec<(LineId, u32, String)>,
    pub total: u32,
    /// What is in it, in one line, or that it is empty.
    pub said: String,
}

/// What the Job screen shows first.
#[derive(Clone, Debug, PartialEq)]
pub struct JobPage {
    pub card: JobCard,
    pub aim: String,
    pub meter: String,
    pub procedure: String,
    pub steps: Vec<StepRow>,
    /// Usual steps that are not among them.
    pub step_offers: Vec<SafeStep>,
    /// Something is off: what is listed now is confirmed late.
    pub begun: bool,
    pub insides: Vec<CareRow>,
}

/// Steps that belong before most jobs (common practice, no source).
const USUAL_STEPS: [(SafeKind, &str); 4] = [
    (SafeKind::BatteryOff, "Battery off"),
    (SafeKind::Supported, "Vehicle supported"),
    (SafeKind::Cooled, "Cooled down"),
    (SafeKind::PressureReleased, "Pressure released"),
];

/// The usual steps of kinds that were not listed yet.
fn step_offers(job: &Job) -> Vec<SafeStep> {
    USUAL_STEPS
        .iter()
        .filter(|(kind, _)| job.steps.rows().all(|s| s.step.kind != *kind))
        .map(|&(kind, text)| SafeStep {
            kind,
            text: text.to_owned(),
        })
        .collect()
}

/// What stands further down on it.
#[derive(Clone, Debug, PartialEq)]
pub struct JobRest {
    /// Findings that are on no part, those still open first.
    pub findings: Vec<FindingRow>,
    pub supplies: Vec<CareRow>,
    pub fluids: Vec<CareRow>,
    pub to_buy: Vec<BuyRow>,
    pub containers: Vec<ContainerRow>,
    pub strays: Vec<CareRow>,
    pub n_entries: usize,
    pub last_entry: Option<LogRow>,
}

pub fn job_page(book: &Book, at: At) -> JobPage {
    let job = book.job();
    let head = job.head.as_ref();
    JobPage {
        card: job_card(book, at),
        aim: head.map(|h| h.aim.clone()).unwrap_or_default(),
        meter: head
            .and_then(|h| h.meter)
            .map(|m| words::meter(m, at.style))
            .unwrap_or_default(),
        procedure: job
            .procedure
            .as_ref()
            .map(|p| p.title.clone())
            .unwrap_or_default(),
        steps: job
            .steps
            .iter()
            .map(|(id, s)| StepRow {
                id,
                text: s.step.text.clone(),
                done: s.confirmed.is_some(),
                late: s
                    .confirmed
                    .is_some_and(|c| job.first_off.is_some_and(|f| f < c)),
            })
            .collect(),
        step_offers: step_offers(job),
        begun: job.first_off.is_some(),
        insides: job
            .insides
            .iter()
            .map(|(id, i)| {
                let note = if i.n_in > 0 {
                    "still inside"
                } else {
                    "taken out"
                };
                care(
                    job,
                    Target::Inside(id),
                    note.to_owned(),
                    i.n_in == 0,
                    CareAct::TakeOut(id),
                )
            })
            .collect(),
    }
}

pub fn job_rest(book: &Book, at: At) -> JobRest {
    let job = book.job();
    let mut findings: Vec<FindingRow> = job
        .findings
        .iter()
        .filter(|(_, f)| access::part_of(job, f.on).is_none())
        .filter_map(|(id, _)| finding_row(job, id))
        .collect();
    findings.sort_by_key(|f| f.done);
    JobRest {
        findings,
        supplies: job
            .supplies
            .iter()
            .map(|(id, s)| {
                let note = if s.restored { "on again" } else { "cut off" };
                care(
                    job,
                    Target::Supply(id),
                    note.to_owned(),
                    s.restored,
                    CareAct::Restore(id),
                )
            })
            .collect(),
        fluids: job
            .fluids
            .iter()
            .map(|(id, f)| {
                care(
                    job,
                    Target::Fluid(id),
                    words::fluid_state(f, at.style),
                    f.filled.is_some() && (!f.bleed || f.bled) && f.short().is_none(),
                    match f.filled {
                        None => CareAct::Fill(id),
                        Some(_) if f.bleed && !f.bled => CareAct::Bleed(id),
                        Some(_) => CareAct::Level(id),
                    },
                )
            })
            .collect(),
        to_buy: job
            .to_buy()
            .into_iter()
            .map(|b| BuyRow {
                want: b.want,
                text: buy_text(job, b.want),
                n: b.n,
                on_order: b.on_order,
                what_for: buy_for(job, b.want, b.on),
            })
            .collect(),
        containers: containers(job),
        strays: job
            .strays
            .iter()
            .map(|(id, s)| {
                care(
                    job,
                    Target::Stray(id),
                    match s.reason.is_empty() && s.settled {
                        true => "it is known where it belongs".to_owned(),
                        false => s.reason.clone(),
                    },
                    s.settled,
                    CareAct::Other,
                )
            })
            .collect(),
        n_entries: book.journal().len(),
        last_entry: book.last_tap().map(|e| row(book, e, at)),
    }
}

fn care(job: &Job, on: Target, note: String, done: bool, act: CareAct) -> CareRow {
    CareRow {
        on,
        text: words::name(job, on),
        note,
        done,
        act,
    }
}

pub(super) fn buy_text(job: &Job, want: Want) -> String {
    match want {
        Want::Item(id) => job
            .items
            .get(id)
            .map(|i| format!("{} {}", i.name, i.size).trim().to_owned()),
        Want::Fixing(id) => job.fixings.get(id).map(|f| f.spec.label()),
        Want::Extra(id) => {
            let spec = job.lines.get(id).and_then(|l| l.thing.spec());
            spec.map(FastenerSpec::label)
        }
        Want::Line(id) => job.buys.get(id).map(|b| b.what.clone()),
    }
    .unwrap_or_default()
}

pub(super) fn buy_for(job: &Job, want: Want, on: Target) -> String {
    match want {
        Want::Item(id) => job.items.get(id).map(|i| words::name(job, i.on)),
        Want::Fixing(_) | Want::Extra(_) => match on {
            Target::Fixing(id) => job
                .fixings
                .get(id)
                .and_then(|f| f.parts.first())
                .map(|&p| words::name(job, Target::Part(p))),
            _ => None,
        },
        Want::Line(_) => Some(words::name(job, on)),
    }
    .unwrap_or_default()
}

/// Every container with what should be in it, by one pass over the lines.
pub fn containers(job: &Job) -> Vec<ContainerRow> {
    let mut rows: Vec<ContainerRow> = job
        .containers
        .iter()
        .map(|(id, c)| ContainerRow {
            id,
            tag: c.tag.clone(),
            kind: words::container_kind(c.kind),
            lies: c.lies.clone(),
            holds: Vec::new(),
            total: 0,
            said: String::new(),
        })
        .collect();
    for (line, it) in job.lines.iter() {
        for &(account, n) in it.accounts() {
            let Account::Container(id) = account else {
                continue;
            };
            let slot = job.containers.slot(id).and_then(|s| rows.get_mut(s));
            if let Some(row) = slot {
                row.holds.push((line, n, words::of_line(job, line, n)));
                row.total += n;
            }
        }
    }
    for row in &mut rows {
        let each = row.holds.iter();
        let each: Vec<String> = each.map(|(_, n, text)| format!("{n} × {text}")).collect();
        row.said = match each.is_empty() {
            true => words::EMPTY.to_owned(),
            false => each.join("; "),
        };
    }
    rows
}
