//! The stored line of version 1: one flat record for every act, each act using
//! the fields it needs. One record keeps the compiled reader and writer a tenth
//! of the size of one per act, and reads text without copying it.
use std::borrow::Cow;
use std::fmt;

use serde::de::{Deserialize, Deserializer, Error, Visitor};
use serde::{Deserialize as Read, Serialize as Write, Serializer};

use super::plan::PlanRecord;

/// Text that is borrowed from the line where that is possible; empty when the
/// field is not there.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Words<'a>(pub Cow<'a, str>);

impl Words<'_> {
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

impl<'a> From<&'a str> for Words<'a> {
    fn from(text: &'a str) -> Self {
        Self(Cow::Borrowed(text))
    }
}

impl<'a> From<&'a String> for Words<'a> {
    fn from(text: &'a String) -> Self {
        Self(Cow::Borrowed(text))
    }
}

impl From<String> for Words<'_> {
    fn from(text: String) -> Self {
        Self(Cow::Owned(text))
    }
}

impl serde::Serialize for Words<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_str(&self.0)
    }
}

impl<'de: 'a, 'a> Deserialize<'de> for Words<'a> {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        struct Text;
        impl<'de> Visitor<'de> for Text {
            type Value = Words<'de>;
            fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
                f.write_str("text")
            }
            fn visit_borrowed_str<E: Error>(self, text: &'de str) -> Result<Self::Value, E> {
                Ok(Words(Cow::Borrowed(text)))
            }
            fn visit_str<E: Error>(self, text: &str) -> Result<Self::Value, E> {
                Ok(Words(Cow::Owned(text.to_owned())))
            }
        }
        from.deserialize_str(Text)
    }
}

pub fn no(flag: &bool) -> bool {
    !flag
}

pub fn nought(n: &u32) -> bool {
    *n == 0
}

/// Fields in the order in which they are written. What is empty, nought or
/// false is not written.
#[derive(Debug, Default, PartialEq, Read, Write)]
#[serde(default, deny_unknown_fields, rename_all = "kebab-case")]
pub struct Record<'a> {
    pub v: u32,
    #[serde(borrow)]
    pub id: Words<'a>,
    /// Not written for the first act of a tap.
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub with: Words<'a>,
    pub at: i64,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub by: Words<'a>,
    #[serde(borrow)]
    pub act: Words<'a>,

    // Which thing.
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub part: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub fixing: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub end: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub seat: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub item: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub container: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub opening: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub inside: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub fluid: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub treatment: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub supply: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub step: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub finding: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub stray: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub after_run: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub photo: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub line: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub want: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub event: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub rule: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub what: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub on: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub opened: Words<'a>,

    // What it is.
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub kind: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Option::is_none")]
    pub tag: Option<Words<'a>>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub title: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub name: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub product: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub spec: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub size: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub machine: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub aim: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub meter: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub torque_unit: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub length_unit: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub amount: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub decision: Words<'a>,

    // Where and how many.
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub place: Words<'a>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub places: Vec<u16>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub numbers: Vec<u16>,
    #[serde(skip_serializing_if = "nought")]
    pub number: u32,
    #[serde(skip_serializing_if = "nought")]
    pub n: u32,
    #[serde(skip_serializing_if = "nought")]
    pub slackened: u32,
    #[serde(skip_serializing_if = "nought")]
    pub found_empty: u32,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub from: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub to: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub value: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub lies: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Vec::is_empty")]
    pub went: Vec<Words<'a>>,

    // What belongs to it.
    #[serde(borrow, skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<Words<'a>>,
    #[serde(borrow, skip_serializing_if = "Vec::is_empty")]
    pub after: Vec<Words<'a>>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub carried_by: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub hidden_by: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub shut_by: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Vec::is_empty")]
    pub buried: Vec<Words<'a>>,
    #[serde(borrow, skip_serializing_if = "Vec::is_empty")]
    pub hazards: Vec<Words<'a>>,
    #[serde(borrow, skip_serializing_if = "Vec::is_empty")]
    pub extras: Vec<Words<'a>>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub reuse: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Option::is_none")]
    pub detail: Option<DetailRecord<'a>>,
    #[serde(borrow, skip_serializing_if = "Option::is_none")]
    pub a: Option<EndRecord<'a>>,
    #[serde(borrow, skip_serializing_if = "Option::is_none")]
    pub b: Option<EndRecord<'a>>,
    #[serde(borrow, skip_serializing_if = "Vec::is_empty")]
    pub route: Vec<RouteRecord<'a>>,
    #[serde(borrow, skip_serializing_if = "Option::is_none")]
    pub procedure: Option<Box<PlanRecord<'a>>>,
    #[serde(borrow, skip_serializing_if = "Option::is_none")]
    pub planned: Option<Words<'a>>,

    // Times and sizes.
    #[serde(skip_serializing_if = "nought")]
    pub cure_min: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub open_min: Option<u32>,
    #[serde(skip_serializing_if = "nought")]
    pub heat_cycles: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub due: Option<DueRecord>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub reading: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub hash: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub thumb: Words<'a>,
    #[serde(skip_serializing_if = "nought")]
    pub width: u32,
    #[serde(skip_serializing_if = "nought")]
    pub height: u32,
    #[serde(skip_serializing_if = "nought")]
    pub x: u32,
    #[serde(skip_serializing_if = "nought")]
    pub y: u32,
    #[serde(borrow, skip_serializing_if = "Vec::is_empty")]
    pub shows: Vec<Words<'a>>,

    // Yes or no.
    #[serde(skip_serializing_if = "no")]
    pub aside: bool,
    #[serde(skip_serializing_if = "no")]
    pub out: bool,
    #[serde(skip_serializing_if = "no")]
    pub stump_in: bool,
    #[serde(skip_serializing_if = "no")]
    pub bleed: bool,
    #[serde(skip_serializing_if = "no")]
    pub holds_fill: bool,
    #[serde(skip_serializing_if = "no")]
    pub holds_start: bool,
    #[serde(skip_serializing_if = "no")]
    pub as_ordered: bool,
    #[serde(skip_serializing_if = "no")]
    pub old: bool,
    #[serde(skip_serializing_if = "no")]
    pub sure: bool,

    // Words of the person.
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub text: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub note: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub caption: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub reason: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub verdict: Words<'a>,
}

/// How a fixing is tightened and got at.
#[derive(Debug, Default, PartialEq, Read, Write)]
#[serde(default, deny_unknown_fields, rename_all = "kebab-case")]
pub struct DetailRecord<'a> {
    #[serde(borrow, skip_serializing_if = "Vec::is_empty")]
    pub stages: Vec<Words<'a>>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub source: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub tool: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub way: Words<'a>,
    #[serde(skip_serializing_if = "no")]
    pub spanner_only: bool,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub watch: Words<'a>,
    #[serde(skip_serializing_if = "no")]
    pub safety: bool,
}

/// One end of a connection.
#[derive(Debug, Default, PartialEq, Read, Write)]
#[serde(default, deny_unknown_fields, rename_all = "kebab-case")]
pub struct EndRecord<'a> {
    /// The part it sits on; not written for the machine itself.
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub part: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub label: Words<'a>,
    #[serde(borrow)]
    pub joint: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub clamp: Words<'a>,
    #[serde(skip_serializing_if = "no")]
    pub parted: bool,
}

/// One stretch of the way a connection takes.
#[derive(Debug, Default, PartialEq, Read, Write)]
#[serde(default, deny_unknown_fields, rename_all = "kebab-case")]
pub struct RouteRecord<'a> {
    #[serde(borrow)]
    pub kind: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub part: Words<'a>,
    #[serde(borrow, skip_serializing_if = "Words::is_empty")]
    pub text: Words<'a>,
}

/// When a check after running falls due.
#[derive(Debug, Default, PartialEq, Read, Write)]
#[serde(default, deny_unknown_fields, rename_all = "kebab-case")]
pub struct DueRecord {
    #[serde(skip_serializing_if = "nought")]
    pub heat_cycles: u32,
    #[serde(skip_serializing_if = "nought")]
    pub km: u32,
    #[serde(skip_serializing_if = "nought")]
    pub hours: u32,
    #[serde(skip_serializing_if = "nought")]
    pub days: u32,
}
