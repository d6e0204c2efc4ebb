//! Conversions of the values that several acts and procedures share. Writing
//! cannot fail; reading names the field that is not whole.
use super::ids::{account_text, read_account, read_target, target_text};
use super::torque::{figure_text, read_figure, read_tolerance, tolerance_text};
use super::words::Worded;
use crate::codec::CodecError;
use crate::codec::json::{Map, Writer};
use crate::journal::*;

pub type Reading<T> = Result<T, CodecError>;

pub fn word<T: Worded>(w: &mut Writer, field: &'static str, value: T) {
    w.put(field, value.word());
}

pub fn target(w: &mut Writer, field: &'static str, it: Target) {
    w.put(field, &target_text(&it));
}

pub fn account(w: &mut Writer, field: &'static str, it: Account) {
    w.put(field, &account_text(it));
}

pub fn hazards(w: &mut Writer, list: &[Hazard]) {
    w.each("hazards", list, |it| it.word().to_owned());
}

/// "blocks-reach part:…".
pub fn needs(w: &mut Writer, list: &[Need]) {
    w.each("after", list, |it| {
        format!("{} {}", it.why.word(), target_text(&it.first))
    });
}

pub fn read_needs(r: &mut Map) -> Reading<Vec<Need>> {
    r.each("after", |text| {
        let (why, first) = text.split_once(' ')?;
        Some(Need {
            first: read_target(first)?,
            why: Why::read(why)?,
        })
    })
}

/// "2 washer | thread=…": so many to a place, and what each is.
pub fn extra_text(it: &Extra) -> String {
    format!("{} {}", it.per_place, it.spec)
}

pub fn read_extra(text: &str) -> Option<Extra> {
    let (per_place, spec) = text.split_once(' ')?;
    Some(Extra {
        per_place: per_place.parse().ok()?,
        spec: spec.parse().ok()?,
    })
}

/// "4 container:…".
pub fn went_text(&(account, n): &(Account, u16)) -> String {
    format!("{n} {}", account_text(account))
}

pub fn read_went(text: &str) -> Option<(Account, u16)> {
    let (n, account) = text.split_once(' ')?;
    Some((read_account(account)?, n.parse().ok()?))
}

/// "123456.7 km".
pub fn meter(w: &mut Writer, it: Meter) {
    let (whole, tenth) = (it.tenths / 10, it.tenths % 10);
    let unit = it.kind.word();
    w.show("meter", &format_args!("{whole}.{tenth} {unit}"));
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
pub fn detail(w: &mut Writer, it: &FixingDetail) {
    if *it == FixingDetail::default() {
        return;
    }
    w.within("detail", |w| {
        w.each("stages", &it.stages, figure_text);
        if let Some(tolerance) = it.tolerance {
            w.put("tolerance", &tolerance_text(tolerance));
        }
        if let Some(meant_for) = it.meant_for {
            word(w, "meant-for", meant_for);
        }
        if let Some(running) = it.running {
            w.put("running", &figure_text(&running));
        }
        w.text("source", &it.source);
        w.text("tool", &it.tool);
        if let Some(way) = it.way {
            word(w, "way", way);
        }
        w.flag("spanner-only", it.spanner_only);
        w.text("watch", &it.watch);
        w.flag("safety", it.safety);
    });
}

pub fn read_detail(r: &mut Map) -> Reading<FixingDetail> {
    let detail = r.within("detail", |r| {
        Ok(FixingDetail {
            stages: r.each("stages", read_figure)?,
            tolerance: r.maybe("tolerance", read_tolerance)?,
            meant_for: r.maybe("meant-for", MeantFor::read)?,
            running: r.maybe("running", read_figure)?,
            source: r.text("source")?,
            tool: r.text("tool")?,
            way: r.maybe("way", WayIn::read)?,
            spanner_only: r.flag("spanner-only")?,
            watch: r.text("watch")?,
            safety: r.flag("safety")?,
        })
    })?;
    Ok(detail.unwrap_or_default())
}

pub fn end(w: &mut Writer, field: &'static str, it: &End) {
    w.within(field, |w| {
        w.maybe_id("part", it.on);
        w.text("label", &it.label);
        word(w, "joint", it.joint);
        w.text("clamp", &it.clamp);
        w.flag("parted", it.parted);
    });
}

pub fn read_end(r: &mut Map, field: &'static str) -> Reading<End> {
    let end = r.within(field, |r| {
        Ok(End {
            on: r.maybe_id("part")?,
            label: r.text("label")?,
            joint: r.read("joint", Joint::read)?,
            clamp: r.text("clamp")?,
            parted: r.flag("parted")?,
        })
    })?;
    end.ok_or(CodecError::damaged(field))
}

pub fn route(w: &mut Writer, it: &Route) {
    word(w, "kind", it.kind);
    w.maybe_id("part", it.part);
    w.text("text", &it.text);
}

pub fn read_route(r: &mut Map) -> Reading<Route> {
    Ok(Route {
        kind: r.read("kind", RouteKind::read)?,
        part: r.maybe_id("part")?,
        text: r.text("text")?,
    })
}

pub fn due(w: &mut Writer, it: Due) {
    if it == Due::default() {
        return;
    }
    w.within("due", |w| {
        w.count("heat-cycles", u32::from(it.heat_cycles));
        w.count("km", it.km);
        w.count("hours", it.hours);
        w.count("days", it.days);
    });
}

pub fn read_due(r: &mut Map) -> Reading<Due> {
    let due = r.within("due", |r| {
        Ok(Due {
            heat_cycles: r.small("heat-cycles")?,
            km: r.count("km")?,
            hours: r.count("hours")?,
            days: r.count("days")?,
        })
    })?;
    Ok(due.unwrap_or_default())
}

pub fn safe_step(w: &mut Writer, it: &SafeStep) {
    word(w, "kind", it.kind);
    w.text("text", &it.text);
}

pub fn read_safe_step(r: &mut Map) -> Reading<SafeStep> {
    Ok(SafeStep {
        kind: r.read("kind", SafeKind::read)?,
        text: r.text("text")?,
    })
}

/// Left and top of each, one after the other.
pub fn pairs(w: &mut Writer, key: &'static str, pairs: &[(u16, u16)]) {
    let flat: Vec<u16> = pairs.iter().flat_map(|&(x, y)| [x, y]).collect();
    w.smalls(key, &flat);
}

/// Pairs, one after the other.
pub fn read_pairs(r: &mut Map, key: &'static str) -> Reading<Vec<(u16, u16)>> {
    let flat = r.smalls(key)?;
    let (pairs, rest) = flat.as_chunks::<2>();
    match rest {
        [] => Ok(pairs.iter().map(|&[x, y]| (x, y)).collect()),
        _ => Err(CodecError::damaged(key)),
    }
}

/// What is put on; in a procedure it does not say on what.
pub fn treatment(w: &mut Writer, it: &Treatment, on: Option<Target>) {
    word(w, "kind", it.kind);
    w.text("product", &it.product);
    if let Some(on) = on {
        target(w, "on", on);
    }
    w.count("cure-min", it.cure_min);
    if let Some(open) = it.open_min {
        w.number("open-min", i64::from(open));
    }
    w.flag("holds-fill", it.holds_fill);
    w.flag("holds-start", it.holds_start);
    w.flag("holds-cover", it.holds_cover);
}

pub fn read_treatment(r: &mut Map, on: Target) -> Reading<Treatment> {
    Ok(Treatment {
        kind: r.read("kind", TreatmentKind::read)?,
        product: r.text("product")?,
        on,
        cure_min: r.count("cure-min")?,
        open_min: r.maybe_count("open-min")?,
        holds_fill: r.flag("holds-fill")?,
        holds_start: r.flag("holds-start")?,
        holds_cover: r.flag("holds-cover")?,
    })
}
