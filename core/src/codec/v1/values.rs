//! Conversions of the values that several acts and procedures share. Writing
//! cannot fail; reading names the field that is not whole.
use std::mem::take;

use super::ids;
use super::record::{DetailRecord, DueRecord, EndRecord, RouteRecord, Words};
use super::torque::{figure_text, read_figure};
use super::words::Worded;
use crate::codec::CodecError;
use crate::fastener::FastenerSpec;
use crate::journal::*;

pub type Reading<T> = Result<T, CodecError>;

/// Names the field of a value that could not be read.
pub fn whole<T>(found: Option<T>, field: &'static str) -> Reading<T> {
    found.ok_or(CodecError::damaged(field))
}

pub fn id_words<I: Id>(id: I) -> Words<'static> {
    id.as_ref().to_string().into()
}

pub fn maybe_id_words<I: Id>(id: Option<I>) -> Words<'static> {
    id.map(id_words).unwrap_or_default()
}

pub fn word_of<T: Worded>(value: T) -> Words<'static> {
    value.word().into()
}

pub fn text(words: &mut Words) -> String {
    take(words).0.into_owned()
}

pub fn read_id<I: Id>(words: &mut Words, field: &'static str) -> Reading<I> {
    whole(ids::id::<I>(&take(words).0), field)
}

/// No text, no id.
pub fn read_maybe_id<I: Id>(words: &mut Words, field: &'static str) -> Reading<Option<I>> {
    if words.is_empty() {
        return Ok(None);
    }
    read_id(words, field).map(Some)
}

pub fn read_word<T: Worded>(words: &mut Words, field: &'static str) -> Reading<T> {
    whole(T::read(&take(words).0), field)
}

pub fn read_spec(words: &mut Words, field: &'static str) -> Reading<FastenerSpec> {
    whole(take(words).0.parse().ok(), field)
}

pub fn read_target(words: &mut Words, field: &'static str) -> Reading<Target> {
    whole(ids::read_target(&take(words).0), field)
}

pub fn narrow<N: TryFrom<u32>>(n: &mut u32, field: &'static str) -> Reading<N> {
    whole(N::try_from(take(n)).ok(), field)
}

/// Reads each text of a list.
pub fn each<T>(
    list: &mut Vec<Words>,
    field: &'static str,
    read: impl Fn(&str) -> Option<T>,
) -> Reading<Vec<T>> {
    let read = take(list).into_iter().map(|it| read(&it.0)).collect();
    whole(read, field)
}

pub fn targets(list: &[Target]) -> Vec<Words<'static>> {
    list.iter().map(|&it| ids::target_text(it).into()).collect()
}

/// "blocks-reach part:…".
pub fn needs(list: &[Need]) -> Vec<Words<'static>> {
    list.iter()
        .map(|it| format!("{} {}", it.why.word(), ids::target_text(it.first)).into())
        .collect()
}

pub fn read_need(text: &str) -> Option<Need> {
    let (why, first) = text.split_once(' ')?;
    Some(Need {
        first: ids::read_target(first)?,
        why: Why::read(why)?,
    })
}

/// "2 washer | thread=…": so many to a place, and what each is.
pub fn extra_words(extra: &Extra) -> Words<'static> {
    format!("{} {}", extra.per_place, extra.spec).into()
}

pub fn read_extra(text: &str) -> Option<Extra> {
    let (per_place, spec) = text.split_once(' ')?;
    Some(Extra {
        per_place: per_place.parse().ok()?,
        spec: spec.parse().ok()?,
    })
}

/// "4 container:…".
pub fn went_words(&(account, n): &(Account, u16)) -> Words<'static> {
    format!("{n} {}", ids::account_text(account)).into()
}

pub fn read_went(text: &str) -> Option<(Account, u16)> {
    let (n, account) = text.split_once(' ')?;
    Some((ids::read_account(account)?, n.parse().ok()?))
}

/// "123456.7 km".
pub fn meter_words(meter: Meter) -> Words<'static> {
    let (whole, tenth) = (meter.tenths / 10, meter.tenths % 10);
    format!("{whole}.{tenth} {}", meter.kind.word()).into()
}

pub fn read_meter(text: &str) -> Option<Meter> {
    let (figure, unit) = text.split_once(' ')?;
    let (whole, tenth) = figure.split_once('.').unwrap_or((figure, "0"));
    let tenth: u8 = tenth.parse().ok().filter(|&it| it < 10)?;
    let whole: u32 = whole.parse().ok()?;
    Some(Meter {
        kind: MeterKind::read(unit)?,
        tenths: whole.checked_mul(10)?.checked_add(u32::from(tenth))?,
    })
}

/// Nothing known, nothing written.
pub fn detail_record(it: &FixingDetail) -> Option<DetailRecord<'_>> {
    let record = DetailRecord {
        stages: it.stages.iter().map(|&f| figure_text(f).into()).collect(),
        source: (&it.source).into(),
        tool: (&it.tool).into(),
        way: it.way.map(word_of).unwrap_or_default(),
        spanner_only: it.spanner_only,
        watch: (&it.watch).into(),
        safety: it.safety,
    };
    (record != DetailRecord::default()).then_some(record)
}

pub fn read_detail(record: Option<DetailRecord>) -> Reading<FixingDetail> {
    let Some(mut it) = record else {
        return Ok(FixingDetail::default());
    };
    Ok(FixingDetail {
        stages: each(&mut it.stages, "stages", read_figure)?,
        source: text(&mut it.source),
        tool: text(&mut it.tool),
        way: if it.way.is_empty() {
            None
        } else {
            Some(read_word(&mut it.way, "way")?)
        },
        spanner_only: it.spanner_only,
        watch: text(&mut it.watch),
        safety: it.safety,
    })
}

pub fn end_record(it: &End) -> EndRecord<'_> {
    EndRecord {
        part: maybe_id_words(it.on),
        label: (&it.label).into(),
        joint: word_of(it.joint),
        clamp: (&it.clamp).into(),
        parted: it.parted,
    }
}

pub fn read_end(record: Option<EndRecord>, field: &'static str) -> Reading<End> {
    let mut it = whole(record, field)?;
    Ok(End {
        on: read_maybe_id(&mut it.part, "part")?,
        label: text(&mut it.label),
        joint: read_word(&mut it.joint, "joint")?,
        clamp: text(&mut it.clamp),
        parted: it.parted,
    })
}

pub fn route_record(it: &Route) -> RouteRecord<'_> {
    RouteRecord {
        kind: word_of(it.kind),
        part: maybe_id_words(it.part),
        text: (&it.text).into(),
    }
}

pub fn read_route(mut it: RouteRecord) -> Reading<Route> {
    Ok(Route {
        kind: read_word(&mut it.kind, "kind")?,
        part: read_maybe_id(&mut it.part, "part")?,
        text: text(&mut it.text),
    })
}

pub fn due_record(it: Due) -> Option<DueRecord> {
    (it != Due::default()).then(|| DueRecord {
        heat_cycles: u32::from(it.heat_cycles),
        km: it.km,
        hours: it.hours,
        days: it.days,
    })
}

pub fn read_due(record: Option<DueRecord>) -> Reading<Due> {
    let mut it = record.unwrap_or_default();
    Ok(Due {
        heat_cycles: narrow(&mut it.heat_cycles, "heat-cycles")?,
        km: it.km,
        hours: it.hours,
        days: it.days,
    })
}
