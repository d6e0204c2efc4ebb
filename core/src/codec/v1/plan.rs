//! Procedures as records: within an act, and as a file of their own, which
//! says of itself what it is.
use super::VERSION;
use super::values::*;
use super::words::Worded;
use crate::codec::CodecError;
use crate::codec::json::{Map, Writer, pretty};
use crate::journal::*;
use crate::procedure::*;

/// What the file of a procedure calls itself.
const FORMAT: &str = "countback-procedure";

/// A procedure as a file of its own, laid out for a person.
pub fn plan_to_text(it: &Procedure) -> String {
    pretty(&Writer::object(|w| {
        w.put("format", FORMAT);
        w.count("v", VERSION);
        plan(w, it);
    }))
}

/// Reads such a file.
///
/// # Errors
/// As [`crate::codec::decode`].
pub fn plan_from_text(text: &str) -> Reading<Procedure> {
    let mut r = Map::parse(text)?;
    if r.words("format")? != FORMAT {
        return Err(CodecError::damaged("format"));
    }
    super::version(&mut r)?;
    let plan = read_plan(&mut r)?;
    r.end()?;
    Ok(plan)
}

pub fn plan(w: &mut Writer, it: &Procedure) {
    w.text("title", &it.title);
    w.text("machine", &it.machine);
    w.text("aim", &it.aim);
    w.records("safe", &it.safe, safe_step);
    w.records("parts", &it.parts, part);
    w.records("fluids", &it.fluids, fluid);
    w.records("after-run", &it.after_run, run);
}

pub fn read_plan(r: &mut Map) -> Reading<Procedure> {
    Ok(Procedure {
        title: r.text("title")?,
        machine: r.text("machine")?,
        aim: r.text("aim")?,
        safe: r.records("safe", read_safe_step)?,
        parts: r.records("parts", read_part)?,
        fluids: r.records("fluids", read_fluid)?,
        after_run: r.records("after-run", read_run)?,
    })
}

fn part(w: &mut Writer, it: &PlannedPart) {
    w.put("key", &it.key);
    w.text("name", &it.name);
    w.text("lies", &it.lies);
    w.each("after", &it.after, String::clone);
    ways(w, &it.ways);
    hazards(w, &it.hazards);
    w.text("note", &it.note);
    w.records("fixings", &it.fixings, fixing);
    w.records("connections", &it.connections, connection);
    w.records("items", &it.items, item);
    w.each("openings", &it.openings, String::clone);
    w.records("treatments", &it.treatments, |w, it| {
        if let Some(fixing) = it.fixing {
            w.number("fixing", i64::from(fixing));
        }
        treatment(w, &it.treatment, None);
    });
}

fn read_part(r: &mut Map) -> Reading<PlannedPart> {
    Ok(PlannedPart {
        key: r.text("key")?,
        name: r.text("name")?,
        lies: r.text("lies")?,
        after: keys(r)?,
        ways: read_ways(r)?,
        hazards: r.each("hazards", Hazard::read)?,
        note: r.text("note")?,
        fixings: r.records("fixings", read_fixing)?,
        connections: r.records("connections", read_connection)?,
        items: r.records("items", read_item)?,
        openings: r.each("openings", |it| Some(it.to_owned()))?,
        treatments: r.records("treatments", |r| {
            let fixing = r.maybe_count("fixing")?;
            Ok(PlannedTreatment {
                fixing: fixing.and_then(|n| u16::try_from(n).ok()),
                treatment: read_treatment(r, Target::Job)?,
            })
        })?,
    })
}

fn keys(r: &mut Map) -> Reading<Vec<String>> {
    r.each("after", |key| Some(key.to_owned()))
}

/// Other ways, each a record of its own.
fn ways(w: &mut Writer, it: &[Vec<String>]) {
    w.records("ways", it, |w, way| w.each("after", way, String::clone));
}

fn read_ways(r: &mut Map) -> Reading<Vec<Vec<String>>> {
    r.records("ways", keys)
}

fn fixing(w: &mut Writer, it: &PlannedFixing) {
    w.put("spec", &it.spec.to_string());
    w.count("n", u32::from(it.count));
    w.text("place", &it.place);
    w.smalls("numbers", &it.numbers);
    w.each("extras", &it.extras, extra_text);
    word(w, "reuse", it.reuse);
    detail(w, &it.detail);
    if let Some(round) = &it.round {
        w.within("round", |w| {
            pairs(w, "points", &round.points);
            w.smalls("order", &round.order);
            w.flag("maker", round.maker);
        });
    }
    w.flag("last-round", it.last_round);
    w.each("also", &it.also, String::clone);
}

fn read_fixing(r: &mut Map) -> Reading<PlannedFixing> {
    Ok(PlannedFixing {
        spec: r.read("spec", |text| text.parse().ok())?,
        count: r.small("n")?,
        place: r.text("place")?,
        numbers: r.smalls("numbers")?,
        extras: r.each("extras", read_extra)?,
        reuse: r.read("reuse", Reuse::read)?,
        detail: read_detail(r)?,
        round: r.within("round", |r| {
            Ok(PlannedRound {
                points: read_pairs(r, "points")?,
                order: r.smalls("order")?,
                maker: r.flag("maker")?,
            })
        })?,
        last_round: r.flag("last-round")?,
        also: r.each("also", |key| Some(key.to_owned()))?,
    })
}

fn connection(w: &mut Writer, it: &PlannedConnection) {
    word(w, "kind", it.kind);
    w.text("name", &it.name);
    w.text("a", &it.a);
    w.text("b", &it.b);
    word(w, "joint", it.joint);
    w.text("clamp", &it.clamp);
    w.flag("away", it.away);
    w.flag("stays", it.stays);
    let far = &it.far;
    if *far != PlannedEnd::default() {
        w.within("far", |w| {
            w.flag("off", far.off);
            w.text("on", &far.on);
            if let Some(joint) = far.joint {
                word(w, "joint", joint);
            }
            w.text("clamp", &far.clamp);
        });
    }
    if let Some(route) = &it.route {
        w.within("route", |w| {
            word(w, "kind", route.kind);
            w.text("by", &route.by);
            w.text("text", &route.text);
        });
    }
    w.each("after", &it.after, String::clone);
    ways(w, &it.ways);
}

fn read_connection(r: &mut Map) -> Reading<PlannedConnection> {
    Ok(PlannedConnection {
        kind: r.read("kind", ConnectionKind::read)?,
        name: r.text("name")?,
        a: r.text("a")?,
        b: r.text("b")?,
        joint: r.read("joint", Joint::read)?,
        clamp: r.text("clamp")?,
        away: r.flag("away")?,
        stays: r.flag("stays")?,
        far: r
            .within("far", |r| {
                Ok(PlannedEnd {
                    off: r.flag("off")?,
                    on: r.text("on")?,
                    joint: r.maybe("joint", Joint::read)?,
                    clamp: r.text("clamp")?,
                })
            })?
            .unwrap_or_default(),
        route: r.within("route", |r| {
            Ok(PlannedRoute {
                kind: r.read("kind", RouteKind::read)?,
                by: r.text("by")?,
                text: r.text("text")?,
            })
        })?,
        after: keys(r)?,
        ways: read_ways(r)?,
    })
}

fn item(w: &mut Writer, it: &PlannedItem) {
    word(w, "kind", it.kind);
    w.text("name", &it.name);
    w.text("size", &it.size);
    w.count("n", u32::from(it.count));
}

fn read_item(r: &mut Map) -> Reading<PlannedItem> {
    Ok(PlannedItem {
        kind: r.read("kind", ItemKind::read)?,
        name: r.text("name")?,
        size: r.text("size")?,
        count: r.small("n")?,
    })
}

fn fluid(w: &mut Writer, it: &PlannedFluid) {
    w.text("name", &it.name);
    w.text("amount", &it.amount);
    w.flag("bleed", it.bleed);
}

fn read_fluid(r: &mut Map) -> Reading<PlannedFluid> {
    Ok(PlannedFluid {
        name: r.text("name")?,
        amount: r.text("amount")?,
        bleed: r.flag("bleed")?,
    })
}

fn run(w: &mut Writer, it: &PlannedRun) {
    word(w, "kind", it.kind);
    w.text("text", &it.text);
    due(w, it.due);
}

fn read_run(r: &mut Map) -> Reading<PlannedRun> {
    Ok(PlannedRun {
        kind: r.read("kind", AfterRunKind::read)?,
        text: r.text("text")?,
        due: read_due(r)?,
    })
}
