//! The Audit screen: the verdict, what is owed by what to do next, exceptions.
use super::At;
use crate::access::{AtWork, Cost, Costs};
use crate::audit::{Audit, Next, Owed, Rule, audit};
use crate::job::{Book, Excepted, Job};
use crate::journal::*;
use crate::second;
use crate::words;

pub use crate::access::part_of;

#[derive(Clone, Debug, PartialEq)]
pub struct AuditRow {
    pub key: OwedKey,
    pub n: u32,
    pub what: String,
    pub todo: String,
    /// The part on whose page it is settled.
    pub part: Option<PartId>,
    /// It is on no part, and settled on the Job page.
    pub on_job: bool,
    pub can_be_excepted: bool,
    /// The entry that opened it, in words.
    pub opened: String,
}

#[derive(Clone, Debug, PartialEq)]
pub struct AuditGroup {
    pub next: Next,
    pub title: &'static str,
    pub rows: Vec<AuditRow>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct ExceptedRow {
    pub what: String,
    pub reason: String,
    /// What else there is to know of it; mostly empty.
    pub note: &'static str,
    pub by: String,
    pub when: String,
}

#[derive(Clone, Debug, PartialEq)]
pub struct AuditPage {
    pub verdict: words::VerdictText,
    pub groups: Vec<AuditGroup>,
    pub excepted: Vec<ExceptedRow>,
    /// Make-safe steps that were confirmed after the first part was off.
    pub late: Vec<String>,
    /// The dearest miss of all groups, where more than one has its price, and
    /// where the minutes are from; none where nothing has to come off again.
    pub cost_note: Option<String>,
    pub n_open: usize,
    pub can_sign: bool,
    /// Who signed and when.
    pub signed: Option<String>,
    /// Nothing was ever taken off.
    pub empty: bool,
}

pub fn audit_page(book: &Book, at: At, work: &AtWork) -> AuditPage {
    let job = book.job();
    let audit = audit(job, at.now);
    let costs = Costs::of(book, work);
    let mut dearest: Vec<(&Owed, Cost)> = Vec::new();
    let groups = Next::ALL
        .into_iter()
        .map(|next| {
            let mut owed: Vec<(&Owed, Cost)> =
                audit.group(next).map(|o| (o, costs.of_owed(o))).collect();
            // What takes the most off again first; equals stay by danger.
            owed.sort_by_key(|(_, cost)| std::cmp::Reverse(cost.rank()));
            dearest.extend(owed.first().filter(|(_, cost)| !cost.none()));
            AuditGroup {
                next,
                title: words::group(next),
                rows: owed.iter().map(|(o, c)| row(book, o, *c, at)).collect(),
            }
        })
        .filter(|g| !g.rows.is_empty())
        .collect();
    AuditPage {
        cost_note: cost_note(job, &dearest, costs.learned, at),
        verdict: words::verdict(job, &audit.verdict, &audit.open),
        groups,
        excepted: excepted_rows(job, &audit, at),
        late: late_steps(book, at),
        n_open: audit.open.len(),
        can_sign: audit.open.is_empty() && !job.is_signed() && job.first_off.is_some(),
        signed: job
            .signed
            .as_ref()
            .map(|s| format!("{}, {}", s.by, (at.style.when)(s.at))),
        empty: job.first_off.is_none() && audit.open.is_empty(),
    }
}

/// `dearest` holds that of each group.
fn cost_note(job: &Job, dearest: &[(&Owed, Cost)], learned: bool, at: At) -> Option<String> {
    let (owed, cost) = dearest.iter().rev().max_by_key(|(_, cost)| cost.rank())?;
    let by = words::minutes_by(learned);
    if dearest.len() < 2 {
        return Some(by.to_owned());
    }
    let what = words::owed(job, owed, at.style).what;
    let cost = words::cost(*cost);
    Some(format!("Dearest to leave: {what} ({cost}). {by}"))
}

/// What was accepted as it is, as the record has it.
pub(super) fn excepted_rows(job: &Job, audit: &Audit, at: At) -> Vec<ExceptedRow> {
    let waived = second::waivers(job);
    let row = |(o, e): &(Owed, Excepted)| {
        let own = waived
            .iter()
            .any(|w| w.on == o.on && w.at == e.at && w.own_work);
        ExceptedRow {
            what: words::owed(job, o, at.style).what,
            reason: e.reason.clone(),
            note: match (o.rule, own) {
                (Rule::IndependentCheck, true) => words::OWN_WORK,
                (Rule::IndependentCheck, false) => words::NOT_LOOKED_AT,
                _ => "",
            },
            by: e.by.clone(),
            when: (at.style.when)(e.at),
        }
    };
    audit.excepted.iter().map(row).collect()
}

/// Make-safe steps that were only confirmed once something was off: they are
/// settled, and that it was late stays readable.
pub(super) fn late_steps(book: &Book, at: At) -> Vec<String> {
    let job = book.job();
    let late = job.steps.rows().filter_map(|step| {
        let confirmed = step
            .confirmed
            .filter(|&c| job.first_off.is_some_and(|f| f < c))?;
        let event = book.journal().get(confirmed)?;
        Some(words::confirmed_late(
            &step.step.text,
            &event.by,
            &(at.style.when)(event.at),
        ))
    });
    late.collect()
}

fn row(book: &Book, owed: &Owed, cost: Cost, at: At) -> AuditRow {
    let job = book.job();
    let text = words::owed(job, owed, at.style);
    let opened = book
        .journal()
        .get(owed.opened)
        .map_or_else(String::new, |e| {
            let by = if e.by.is_empty() {
                String::new()
            } else {
                format!(", {}", e.by)
            };
            format!("{}{by}", (at.style.when)(e.at))
        });
    let mut todo = text.todo;
    // Which act it was is told by the journal, which the rule does not know.
    let what = match (owed.rule, book.journal().get(owed.opened)) {
        (Rule::SaidTwice | Rule::Misfit, Some(event)) => {
            format!("{}: {}", text.what, words::act(job, event, at.style))
        }
        _ => text.what,
    };
    if !cost.none() {
        todo.push_str(&match owed.rule {
            Rule::Buried => format!(" That is {}.", words::cost(cost)),
            _ => format!(" First off again: {}.", words::cost(cost)),
        });
    }
    let with = || owed.with.iter().find_map(|&w| part_of(job, w));
    // What is buried is reached by way of the part that is over it.
    let part = match owed.rule {
        Rule::Buried => with().or_else(|| part_of(job, owed.on)),
        _ => part_of(job, owed.on).or_else(with),
    };
    AuditRow {
        key: owed.key(),
        n: owed.n,
        what,
        todo,
        part,
        on_job: part.is_none() && matches!(owed.on, Target::Finding(_)),
        can_be_excepted: owed.rule.can_be_excepted(),
        opened,
    }
}
