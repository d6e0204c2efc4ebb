//! Two weeks later, Ann and Ben by turns: the gears, the front cover and what
//! sits on it are back and final; the pump has not come.
use countback_core::job::Command;
use countback_core::journal::*;

use super::sketches as s;
use crate::demo::hand::{DAY, HOUR, Hand};

/// Puts back what can go back, and springs two of the traps.
pub fn put_back(h: &mut Hand) -> InsideId {
    h.by("Ben");
    deliveries(h);
    gears(h);
    cover(h);
    h.wait(DAY + 2 * HOUR);
    on_the_cover(h);
    oil_and_fuel(h);
    h.by("Ann");
    traps(h)
}

fn deliveries(h: &mut Hand) {
    for name in [
        "crank seal",
        "inlet elbow gasket",
        "filter head gasket",
        "lift pump gasket",
        "drive cover gasket",
        "inspection plate O-ring",
        "dipstick tube O-ring",
        "thermostat O-ring",
        "thermostat cover gasket",
        "thermostat housing gasket",
        "pump cover paper gasket",
    ] {
        h.arrive(name);
    }
    let bolt = Want::Fixing(h.fixing("crankshaft pulley", 0));
    h.record(Act::Arrived { want: bolt, n: 1 });
    let impeller = h.part("impeller");
    let lines: Vec<_> = h
        .job()
        .buys
        .iter()
        .filter(|(_, b)| b.on == Target::Part(impeller) || b.on == Target::Job)
        .map(|(id, b)| (id, b.n))
        .collect();
    for (id, n) in lines {
        let want = Want::Line(id);
        h.record(Act::Arrived { want, n });
    }
    h.ok(Command::Replace {
        part: impeller,
        note: "as the old one, by its size".to_owned(),
        as_ordered: true,
        fasteners: Vec::new(),
    });
    let finding = h
        .job()
        .findings
        .iter()
        .find(|(_, f)| f.on == Target::Part(impeller))
        .map(|(id, _)| id)
        .expect("the impeller was found cracked");
    h.record(Act::WorkDone { finding });
}

fn apply(h: &mut Hand, part: &str) {
    let on = h.on(part);
    let treatment = h
        .job()
        .treatments
        .iter()
        .find(|(_, t)| t.treatment.on == on)
        .map(|(id, _)| id)
        .unwrap_or_else(|| panic!("nothing to put on {part}"));
    h.record(Act::TreatmentApplied { treatment });
}

fn gears(h: &mut Hand) {
    h.back("oil strainer stay");
    h.back("idler gear");
    h.show(
        s::PUNCH_MARKS,
        "All three punch marks meet",
        vec![h.on("idler gear")],
        &[h.on("idler gear"), h.on("idler gear"), h.on("idler gear")],
    );
    apply(h, "idler gear plate");
    h.back("idler gear plate");
    h.back("gear spray nozzle");
    h.back("oil thrower ring");
    h.by("Ann");
    h.check("idler gear plate", 0);
    h.by("Ben");
}

fn cover(h: &mut Hand) {
    apply(h, "front cover");
    h.renew("crank seal");
    h.back("front cover");
    h.note(
        h.on("front cover"),
        "Bead unbroken all round, snug from the middle outwards, then 10 N.m crosswise",
    );
    h.back("sump, front edge");
}

fn on_the_cover(h: &mut Hand) {
    h.renew("inspection plate O-ring");
    h.back("inspection plate");
    h.back("tacho pick-up");
    h.join("tacho plug", Side::A);
    h.back("idler pulley");
    h.back("crankshaft pulley");
    take_out(h, "flywheel pin");
    h.by("Ann");
    h.check("crankshaft pulley", 0);
    h.by("Ben");
    h.back("damper ring");
    h.back("front mount bracket, port");
    h.back("front mount bracket, starboard");
    h.by("Ann");
    h.check("front mount bracket, port", 0);
    h.by("Ben");
}

fn oil_and_fuel(h: &mut Hand) {
    h.renew("drive cover gasket");
    h.back("pump drive cover");
    h.renew("lift pump gasket");
    h.back("fuel lift pump");
    h.back("fuel filter bracket");
    for (name, side) in [
        ("fuel feed pipe", Side::A),
        ("fuel transfer pipe", Side::A),
        ("fuel transfer pipe", Side::B),
        ("fuel return pipe", Side::A),
    ] {
        washers(h, name, side);
        h.join(name, side);
    }
    // Fuel is looked at by two, before anything covers it.
    h.looks("Ann");
    h.back("oil pipe clip");
    h.renew("filter head gasket");
    h.back("oil filter head");
    washers(h, "oil filter feed pipe", Side::A);
    h.join("oil filter feed pipe", Side::A);
    h.join("oil pressure sender plug", Side::A);
    h.back("oil filter");
    h.renew("dipstick tube O-ring");
    h.back("dipstick tube");
    let oil = h.job().fluids.iter().find(|(_, f)| f.name == "engine oil");
    let fluid = oil.map(|(id, _)| id).expect("oil was drained");
    let amount = "9 l".to_owned();
    // The oil side is shut; what is open elsewhere holds none of it.
    h.bench.ok(Command::Fill {
        fluid,
        amount,
        anyway: "What is still open holds no oil".to_owned(),
        checks: Vec::new(),
    });
    for (what, text) in [
        (
            AfterRunKind::LeakCheck,
            "Front cover, filter head and fuel unions, engine warm",
        ),
        (AfterRunKind::LevelCheck, "Oil and coolant, engine cold"),
    ] {
        h.record(Act::AfterRunOwed {
            what,
            on: Target::Job,
            text: text.to_owned(),
            due: Due {
                heat_cycles: 1,
                ..Due::default()
            },
        });
    }
    h.record(Act::AfterRunOwed {
        what: AfterRunKind::Retighten,
        on: h.on("damper ring"),
        text: "Damper ring, cold".to_owned(),
        due: Due {
            hours: 25,
            ..Due::default()
        },
    });
}

/// A union bolt takes two new washers, one each face
/// (common practice, no source).
fn washers(h: &mut Hand, name: &str, side: Side) {
    let end = h.end(name, side);
    for item in h.job().end(end).expect("end").items.clone() {
        h.ok(Command::FitItem {
            item,
            n: 2,
            old: false,
        });
    }
}

fn take_out(h: &mut Hand, name: &str) {
    let put_in = h.job().insides.iter().find(|(_, it)| it.put.name == name);
    let inside = put_in.map(|(id, _)| id).expect("it was put in");
    h.record(Act::TakenOut { inside, n: 1 });
}

fn traps(h: &mut Hand) -> InsideId {
    h.back("front lifting eye");
    // The heater return hose is still off behind it, and she knows better.
    let part = h.part("alternator bracket");
    h.ok(Command::PlacePart { part, anyway: true });
    h.fasten("alternator bracket");
    h.fasten("front lifting eye");
    take_out(h, "tape over the inlet");
    // In words only: nothing says which part hides it.
    let rag = h.record(Act::PutIn(PutIn {
        kind: InsideKind::Rag,
        name: "blue rag".to_owned(),
        n: 1,
        opening: None,
        place: "inlet port, pushed well in".to_owned(),
        hidden_by: None,
    }));
    h.wait(3 * HOUR);
    h.renew("inlet elbow gasket");
    h.back("inlet elbow");
    InsideId(rag.thing(0))
}
