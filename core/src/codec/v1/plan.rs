//! Procedures as records: within an act, and as a file of their own, which
//! says of itself what it is.
use std::mem::take;

use serde::{Deserialize, Serialize};

use super::VERSION;
use super::record::{DetailRecord, DueRecord, Words, no, nought};
use super::values::*;
use super::words::Worded;
use crate::codec::{CodecError, newer, pretty::pretty};
use crate::journal::*;
use crate::procedure::*;

/// What the file of a procedure calls itself.
const FORMAT: &str = "countback-procedure";

#[derive(Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields, rename_all = "kebab-case")]
pub struct PlanRecord<'a> {
    /// These two stand in a file only, not within an act.
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    format: Words<'a>,
    #[serde(skip_serializing_if = "nought")]
    v: u32,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    title: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    machine: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    aim: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Vec::is_empty")]
    safe: Vec<NamedRecord<'a>>,
    #[serde(borrow, skip_serializing_if = "Vec::is_empty")]
    parts: Vec<PlannedPartRecord<'a>>,
    #[serde(borrow, skip_serializing_if = "Vec::is_empty")]
    fluids: Vec<NamedRecord<'a>>,
    #[serde(borrow, skip_serializing_if = "Vec::is_empty")]
    after_run: Vec<NamedRecord<'a>>,
}

#[derive(Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields, rename_all = "kebab-case")]
struct PlannedPartRecord<'a> {
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    key: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    name: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    lies: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Vec::is_empty")]
    after: Vec<Words<'a>>,
    #[serde(borrow, skip_serializing_if = "Vec::is_empty")]
    hazards: Vec<Words<'a>>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    note: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Vec::is_empty")]
    fixings: Vec<NamedRecord<'a>>,
    #[serde(borrow, skip_serializing_if = "Vec::is_empty")]
    connections: Vec<NamedRecord<'a>>,
    #[serde(borrow, skip_serializing_if = "Vec::is_empty")]
    items: Vec<NamedRecord<'a>>,
}

/// What a part brings with it, a fluid, a step or a check: one flat record for
/// all of them, as for acts.
#[derive(Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields, rename_all = "kebab-case")]
struct NamedRecord<'a> {
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    kind: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    name: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    text: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    spec: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    size: Words<'a>,
    #[serde(skip_serializing_if = "nought")]
    n: u32,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    place: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    reuse: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Option::is_none")]
    detail: Option<DetailRecord<'a>>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    a: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    b: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    joint: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    amount: Words<'a>,
    #[serde(skip_serializing_if = "no")]
    bleed: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    due: Option<DueRecord>,
}

pub fn plan_record(it: &Procedure) -> PlanRecord<'_> {
    PlanRecord {
        format: Words::default(),
        v: 0,
        title: (&it.title).into(),
        machine: (&it.machine).into(),
        aim: (&it.aim).into(),
        safe: it.safe.iter().map(safe_record).collect(),
        parts: it.parts.iter().map(part_record).collect(),
        fluids: it.fluids.iter().map(fluid_record).collect(),
        after_run: it.after_run.iter().map(run_record).collect(),
    }
}

fn safe_record(it: &SafeStep) -> NamedRecord<'_> {
    NamedRecord {
        kind: word_of(it.kind),
        text: (&it.text).into(),
        ..NamedRecord::default()
    }
}

fn fluid_record(it: &PlannedFluid) -> NamedRecord<'_> {
    NamedRecord {
        name: (&it.name).into(),
        amount: (&it.amount).into(),
        bleed: it.bleed,
        ..NamedRecord::default()
    }
}

fn run_record(it: &PlannedRun) -> NamedRecord<'_> {
    NamedRecord {
        kind: word_of(it.kind),
        text: (&it.text).into(),
        due: due_record(it.due),
        ..NamedRecord::default()
    }
}

fn part_record(it: &PlannedPart) -> PlannedPartRecord<'_> {
    PlannedPartRecord {
        key: (&it.key).into(),
        name: (&it.name).into(),
        lies: (&it.lies).into(),
        after: it.after.iter().map(Words::from).collect(),
        hazards: it.hazards.iter().map(|&h| word_of(h)).collect(),
        note: (&it.note).into(),
        fixings: it.fixings.iter().map(fixing_record).collect(),
        connections: it.connections.iter().map(connection_record).collect(),
        items: it.items.iter().map(item_record).collect(),
    }
}

fn fixing_record(it: &PlannedFixing) -> NamedRecord<'_> {
    NamedRecord {
        spec: it.spec.to_string().into(),
        n: u32::from(it.count),
        place: (&it.place).into(),
        reuse: word_of(it.reuse),
        detail: detail_record(&it.detail),
        ..NamedRecord::default()
    }
}

fn connection_record(it: &PlannedConnection) -> NamedRecord<'_> {
    NamedRecord {
        kind: word_of(it.kind),
        name: (&it.name).into(),
        a: (&it.a).into(),
        b: (&it.b).into(),
        joint: word_of(it.joint),
        ..NamedRecord::default()
    }
}

fn item_record(it: &PlannedItem) -> NamedRecord<'_> {
    NamedRecord {
        kind: word_of(it.kind),
        name: (&it.name).into(),
        size: (&it.size).into(),
        n: u32::from(it.count),
        ..NamedRecord::default()
    }
}

/// Reads a procedure within an act, where only the act says its version.
pub fn read_plan(mut it: PlanRecord) -> Reading<Procedure> {
    if !it.format.is_empty() || it.v != 0 {
        return Err(CodecError::damaged("format"));
    }
    Ok(Procedure {
        title: text(&mut it.title),
        machine: text(&mut it.machine),
        aim: text(&mut it.aim),
        safe: all(it.safe, |it| {
            Ok(SafeStep {
                kind: read_word(&mut it.kind, "kind")?,
                text: text(&mut it.text),
            })
        })?,
        parts: it
            .parts
            .into_iter()
            .map(read_part)
            .collect::<Reading<_>>()?,
        fluids: all(it.fluids, |it| {
            Ok(PlannedFluid {
                name: text(&mut it.name),
                amount: text(&mut it.amount),
                bleed: take(&mut it.bleed),
            })
        })?,
        after_run: all(it.after_run, |it| {
            Ok(PlannedRun {
                kind: read_word(&mut it.kind, "kind")?,
                text: text(&mut it.text),
                due: read_due(it.due.take())?,
            })
        })?,
    })
}

/// Reads each record and refuses fields that have no business in it.
fn all<'a, T>(
    list: Vec<NamedRecord<'a>>,
    read: impl Fn(&mut NamedRecord<'a>) -> Reading<T>,
) -> Reading<Vec<T>> {
    list.into_iter()
        .map(|mut it| {
            let value = read(&mut it)?;
            whole((it == NamedRecord::default()).then_some(value), "field")
        })
        .collect()
}

fn read_part(mut it: PlannedPartRecord) -> Reading<PlannedPart> {
    Ok(PlannedPart {
        key: text(&mut it.key),
        name: text(&mut it.name),
        lies: text(&mut it.lies),
        after: it.after.iter_mut().map(text).collect(),
        hazards: each(&mut it.hazards, "hazards", Hazard::read)?,
        note: text(&mut it.note),
        fixings: all(it.fixings, |it| {
            Ok(PlannedFixing {
                spec: read_spec(&mut it.spec, "spec")?,
                count: narrow(&mut it.n, "n")?,
                place: text(&mut it.place),
                reuse: read_word(&mut it.reuse, "reuse")?,
                detail: read_detail(it.detail.take())?,
            })
        })?,
        connections: all(it.connections, |it| {
            Ok(PlannedConnection {
                kind: read_word(&mut it.kind, "kind")?,
                name: text(&mut it.name),
                a: text(&mut it.a),
                b: text(&mut it.b),
                joint: read_word(&mut it.joint, "joint")?,
            })
        })?,
        items: all(it.items, |it| {
            Ok(PlannedItem {
                kind: read_word(&mut it.kind, "kind")?,
                name: text(&mut it.name),
                size: text(&mut it.size),
                count: narrow(&mut it.n, "n")?,
            })
        })?,
    })
}

/// A procedure as a file of its own, laid out for a person.
pub fn plan_to_text(it: &Procedure) -> String {
    let mut record = plan_record(it);
    record.format = FORMAT.into();
    record.v = VERSION;
    // Text, numbers and lists only: nothing that JSON cannot say.
    pretty(&serde_json::to_string(&record).unwrap_or_default())
}

/// Reads such a file.
///
/// # Errors
/// As [`crate::codec::decode`].
pub fn plan_from_text(text: &str) -> Reading<Procedure> {
    let mut record: PlanRecord = serde_json::from_str(text)
        .map_err(|_| newer(text, |_| true).unwrap_or(CodecError::damaged("json")))?;
    if take(&mut record.format).0 != FORMAT {
        return Err(CodecError::damaged("format"));
    }
    match take(&mut record.v) {
        VERSION => read_plan(record),
        0 => Err(CodecError::damaged("v")),
        version => Err(CodecError::Newer { version }),
    }
}
