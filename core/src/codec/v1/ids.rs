//! Things and accounts as stored text: "job", "part:…", "end:…:a",
//! "container:…", "bench". An id is its own printed text.
use std::fmt::Display;

use super::words::{Worded, words};
use crate::journal::*;

words! { Side { A = "a", B = "b" } }

pub fn end_text(end: EndId) -> String {
    format!("{}:{}", end.connection, end.side.word())
}

pub fn read_end_id(text: &str) -> Option<EndId> {
    let (connection, side) = text.split_once(':')?;
    Some(EndId {
        connection: typed(connection)?,
        side: Side::read(side)?,
    })
}

/// Reads an id. Only the text that the id itself prints is taken, so that
/// one id has one spelling.
pub fn reference(text: &str) -> Option<Ref> {
    let found: Ref = text.parse().ok()?;
    let sub = text.get(EVENT_LEN + 1..)?;
    (plain(text) && (sub.len() == 1 || !sub.starts_with('0'))).then_some(found)
}

pub fn typed<I: Id>(text: &str) -> Option<I> {
    reference(text).map(I::from_ref)
}

pub fn event_id(text: &str) -> Option<EventId> {
    let found: EventId = text.parse().ok()?;
    (text.len() == EVENT_LEN && plain(text)).then_some(found)
}

/// Eight digits, a dash and sixteen digits.
const EVENT_LEN: usize = 25;

/// "+7" and "A" are read as numbers, but no id prints them.
fn plain(text: &str) -> bool {
    text.bytes()
        .all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f' | b'-'))
}

fn tagged(kind: &str, id: impl Display) -> String {
    format!("{kind}:{id}")
}

pub fn target_text(target: &Target) -> String {
    match *target {
        Target::Job => "job".to_owned(),
        Target::Part(it) => tagged("part", it),
        Target::Fixing(it) => tagged("fixing", it),
        Target::Connection(it) => tagged("connection", it),
        Target::End(it) => tagged("end", end_text(it)),
        Target::Item(it) => tagged("item", it),
        Target::Container(it) => tagged("container", it),
        Target::Opening(it) => tagged("opening", it),
        Target::Inside(it) => tagged("inside", it),
        Target::Fluid(it) => tagged("fluid", it),
        Target::Treatment(it) => tagged("treatment", it),
        Target::Supply(it) => tagged("supply", it),
        Target::Step(it) => tagged("step", it),
        Target::Finding(it) => tagged("finding", it),
        Target::Buy(it) => tagged("buy", it),
        Target::Stray(it) => tagged("stray", it),
        Target::AfterRun(it) => tagged("after-run", it),
        Target::Line(it) => tagged("line", it),
    }
}

pub fn read_target(text: &str) -> Option<Target> {
    if text == "job" {
        return Some(Target::Job);
    }
    let (kind, rest) = text.split_once(':')?;
    Some(match kind {
        "part" => Target::Part(typed(rest)?),
        "fixing" => Target::Fixing(typed(rest)?),
        "connection" => Target::Connection(typed(rest)?),
        "end" => Target::End(read_end_id(rest)?),
        "item" => Target::Item(typed(rest)?),
        "container" => Target::Container(typed(rest)?),
        "opening" => Target::Opening(typed(rest)?),
        "inside" => Target::Inside(typed(rest)?),
        "fluid" => Target::Fluid(typed(rest)?),
        "treatment" => Target::Treatment(typed(rest)?),
        "supply" => Target::Supply(typed(rest)?),
        "step" => Target::Step(typed(rest)?),
        "finding" => Target::Finding(typed(rest)?),
        "buy" => Target::Buy(typed(rest)?),
        "stray" => Target::Stray(typed(rest)?),
        "after-run" => Target::AfterRun(typed(rest)?),
        "line" => Target::Line(typed(rest)?),
        _ => return None,
    })
}

pub fn account_text(account: Account) -> String {
    match account {
        Account::Fixing(it) => tagged("fixing", it),
        Account::Item(it) => tagged("item", it),
        Account::Part(it) => tagged("part", it),
        Account::Inside(it) => tagged("inside", it),
        Account::Container(it) => tagged("container", it),
        Account::Bench => "bench".to_owned(),
        Account::Scrapped => "scrapped".to_owned(),
        Account::Missing => "missing".to_owned(),
        Account::Spare => "spare".to_owned(),
        Account::LeftOff => "left-off".to_owned(),
    }
}

pub fn read_account(text: &str) -> Option<Account> {
    Some(match text {
        "bench" => Account::Bench,
        "scrapped" => Account::Scrapped,
        "missing" => Account::Missing,
        "spare" => Account::Spare,
        "left-off" => Account::LeftOff,
        _ => match read_target(text)? {
            Target::Fixing(it) => Account::Fixing(it),
            Target::Item(it) => Account::Item(it),
            Target::Part(it) => Account::Part(it),
            Target::Inside(it) => Account::Inside(it),
            Target::Container(it) => Account::Container(it),
            _ => return None,
        },
    })
}

pub fn want_text(want: Want) -> String {
    target_text(&match want {
        Want::Item(it) => Target::Item(it),
        Want::Fixing(it) => Target::Fixing(it),
        Want::Extra(it) => Target::Line(it),
        Want::Line(it) => Target::Buy(it),
    })
}

pub fn read_want(text: &str) -> Option<Want> {
    match read_target(text)? {
        Target::Item(it) => Some(Want::Item(it)),
        Target::Fixing(it) => Some(Want::Fixing(it)),
        Target::Line(it) => Some(Want::Extra(it)),
        Target::Buy(it) => Some(Want::Line(it)),
        _ => None,
    }
}

pub fn tight_text(tight: Tight) -> String {
    match tight {
        Tight::Snug => "snug".to_owned(),
        Tight::Stage(n) => format!("stage {n}"),
        Tight::Final => "final".to_owned(),
    }
}

pub fn read_tight(text: &str) -> Option<Tight> {
    match text {
        "snug" => Some(Tight::Snug),
        "final" => Some(Tight::Final),
        _ => text.strip_prefix("stage ")?.parse().ok().map(Tight::Stage),
    }
}
