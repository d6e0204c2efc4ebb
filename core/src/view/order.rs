//! The order part of Put back: what can be done now by position, how seldom the
//! position and the tool change, and what each thing that is waited for holds
//! up.
use rustc_hash::FxHashMap;

use super::At;
use super::put_back::Row;
use crate::access::{Handy, HeldUp, Wait};
use crate::job::{Command, Job, ToBuy};
use crate::journal::*;
use crate::words::{self, Names};

/// What can be done from one position.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// "From below: 4 acts"; empty where no fixing says how it is reached.
    pub title: String,
    pub rows: Vec<Row>,
}

/// A thing that is waited for and what it holds up.
#[derive(Clone, Debug, PartialEq)]
pub struct HeldRow {
    pub by: String,
    /// How much, and which.
    pub note: String,
    pub holds: String,
    /// What says that it is here.
    pub arrived: Option<Command>,
}

/// The acts that can be done now, in the handy order, by position.
pub(super) fn groups(handy: &Handy, now: Vec<Row>) -> Vec<Group> {
    let mut rows: FxHashMap<Target, Row> = now.into_iter().map(|r| (r.what, r)).collect();
    let mut groups: Vec<Group> = Vec::new();
    for run in &handy.runs {
        let here: Vec<Row> = run.acts.iter().filter_map(|w| rows.remove(w)).collect();
        if here.is_empty() {
            continue;
        }
        let n = run.acts.len() as u32;
        let title = if handy.runs.len() == 1 && run.way.is_none() {
            String::new()
        } else {
            let later = match n - here.len() as u32 {
                0 => String::new(),
                later => format!(", {later} of them a little later"),
            };
            let way = run.way.map_or("not noted from where", words::way_in);
            format!(
                "{}: {}{later}",
                words::capital(way),
                words::plural(n, "act")
            )
        };
        groups.push(Group { title, rows: here });
    }
    // Only a record that contradicts itself leaves any.
    let mut left: Vec<Row> = rows.into_values().collect();
    if !left.is_empty() {
        left.sort_by_key(|r| r.what);
        let title = String::new();
        groups.push(Group { title, rows: left });
    }
    groups
}

pub(super) fn changes(handy: &Handy) -> String {
    let (positions, tools) = (handy.position_changes as u32, handy.tool_changes as u32);
    if (positions, tools) == (0, 0) && handy.plain_changes == (0, 0) {
        return String::new();
    }
    let of = |positions: u32, tools: u32| {
        format!(
            "{} of position and {tools} of tool",
            words::plural(positions, "change")
        )
    };
    let (was_positions, was_tools) = handy.plain_changes;
    let was = of(was_positions as u32, was_tools as u32);
    let now = of(positions, tools);
    if was == now {
        format!("In this order: {now}.")
    } else {
        format!("In this order: {now}; the last off first would be {was}.")
    }
}

pub(super) fn held_row(job: &Job, to_buy: &[ToBuy], held: &HeldUp, at: At) -> HeldRow {
    // Only the first few are named; the others are counted.
    let named = held.acts.iter().enumerate().map(|(at, &act)| match at {
        0..3 => words::name(job, act),
        _ => String::new(),
    });
    let names: Vec<String> = named.collect();
    let n = held.acts.len() as u32;
    let alone = match held.alone as u32 {
        a if a == n => String::new(),
        0 => ", others hold them as well".to_owned(),
        a => format!(", {a} by it alone"),
    };
    let until = match held.by {
        Some(Wait::Cure(id)) => job.treatments.get(id).and_then(|it| it.cured_at()),
        _ => None,
    };
    let until = until.map_or_else(String::new, |end| {
        format!("until {}, ", (at.style.when)(end))
    });
    HeldRow {
        by: match held.by {
            None => "A second person's look".to_owned(),
            Some(Wait::Lost(id)) => words::to_be_found(&words::name(job, Target::Part(id))),
            Some(wait) => words::capital(&words::wait(job, wait)),
        },
        note: format!(
            "{until}holds up {}, about {}{alone}",
            words::plural(n, "act"),
            words::plural(u32::try_from(held.minutes).unwrap_or(u32::MAX), "minute"),
        ),
        holds: Names(names).to_string(),
        arrived: match held.by {
            Some(Wait::Delivery(want)) => {
                let buy = to_buy.iter().find(|b| b.want == want);
                buy.map(|b| Command::Record(Act::Arrived { want, n: b.n }))
            }
            _ => None,
        },
    }
}

/// Cures that hold no part up and do hold filling or starting.
pub(super) fn running(job: &Job, at: At) -> impl Iterator<Item = HeldRow> + '_ {
    let running = job
        .treatments
        .iter()
        .filter(move |(_, it)| it.curing(at.now));
    running.filter_map(move |(id, it)| {
        let (fill, start) = (it.treatment.holds_fill, it.treatment.holds_start);
        let holds = match (fill, start) {
            (true, true) => "filling and starting",
            (true, false) => "filling",
            (false, true) => "starting",
            (false, false) => return None,
        };
        Some(HeldRow {
            by: words::capital(&words::wait(job, Wait::Cure(id))),
            note: format!("until {}", (at.style.when)(it.cured_at()?)),
            holds: holds.to_owned(),
            arrived: None,
        })
    })
}
