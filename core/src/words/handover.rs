//! Words of the page for whoever takes over.
use super::{Style, name, owed};
use crate::audit::{Owed, Rule};
use crate::handover::{Parts, Stop};
use crate::job::Job;
use crate::journal::Target;

/// What must not be done with the machine, and why: "DO NOT START: no coolant".
pub fn stop(job: &Job, stop: Stop, line: &Owed, style: Style) -> String {
    let what = match stop {
        Stop::DoNotTurn => "DO NOT TURN",
        Stop::DoNotStart => "DO NOT START",
    };
    let thing = name(job, line.on);
    let why = match line.rule {
        Rule::Fill => format!("no {thing}"),
        Rule::Bleed => format!("{thing} not bled"),
        Rule::LessIn => format!("less {thing} in than came out"),
        Rule::Restore => format!("still cut off: {thing}"),
        Rule::Curing => {
            let until = match line.on {
                Target::Treatment(id) => job.treatments.get(id).and_then(|t| t.cured_at()),
                _ => None,
            };
            let until = until.map_or(String::new(), |at| format!(" until {}", (style.when)(at)));
            format!("still curing{until}: {thing}")
        }
        _ => owed(job, line, style).what,
    };
    format!("{what}: {why}")
}

/// "5 ready + 3 waiting = 8 parts to go back".
pub fn parts_left(parts: &Parts) -> String {
    let terms = [
        (parts.ready.len(), "ready"),
        (parts.waiting.len(), "waiting"),
        (parts.blocked.len(), "behind others"),
    ];
    sum(&terms, parts.left(), "to go back")
}

/// "9 back + 8 to go back = 17 parts in all".
pub fn parts_total(parts: &Parts) -> String {
    let terms = [
        (parts.back.len(), "back"),
        (parts.left(), "to go back"),
        (parts.left_off.len(), "left off by decision"),
    ];
    sum(&terms, parts.total, "in all")
}

/// Terms of nought are left out, but for the first two.
fn sum(terms: &[(usize, &str)], total: usize, of: &str) -> String {
    let shown = terms
        .iter()
        .enumerate()
        .filter(|(at, it)| *at < 2 || it.0 > 0);
    let terms: Vec<String> = shown.map(|(_, (n, what))| format!("{n} {what}")).collect();
    let parts = if total == 1 { "part" } else { "parts" };
    format!("{} = {total} {parts} {of}", terms.join(" + "))
}
