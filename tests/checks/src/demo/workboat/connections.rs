//! What was parted: hoses, pipes, plugs, cables and the throttle.
use countback_core::journal::*;
use {ConnectionKind::*, Joint::*};

use crate::demo::hand::Hand;
use crate::demo::terms::Connect;

fn one(
    h: &mut Hand,
    kind: ConnectionKind,
    name: &'static str,
    a: (&'static str, &'static str, Joint, bool),
    b: (&'static str, &'static str, Joint, bool),
    tagged: bool,
) {
    h.connect(Connect {
        kind,
        name,
        a,
        b,
        route: &[],
        tagged,
    });
}

/// Ann's, on the first day.
pub fn outer(h: &mut Hand) {
    one(
        h,
        Hose,
        "breather hose",
        ("air filter housing", "filter housing", Clamped, true),
        ("", "rocker cover", Clamped, false),
        false,
    );
    one(
        h,
        Plug,
        "alternator plug",
        ("alternator", "three-way plug", Clicked, true),
        ("", "loom", Clicked, false),
        false,
    );
    one(
        h,
        Cable,
        "alternator main cable",
        ("alternator", "stud B+", Threaded, true),
        ("", "starter stud", Threaded, false),
        false,
    );
    one(
        h,
        Plug,
        "relay box plug",
        ("relay box", "ten-way plug", Clicked, true),
        ("", "loom", Clicked, false),
        false,
    );
    one(
        h,
        Hose,
        "header tank hose",
        ("header tank", "tank, bottom", Clamped, true),
        ("", "pump suction tee", Clamped, false),
        true,
    );
    one(
        h,
        Hose,
        "vent hose",
        ("header tank", "tank, top", Clamped, true),
        ("", "head, vent", Clamped, true),
        true,
    );
    one(
        h,
        Hose,
        "raw water inlet hose",
        ("raw water pump", "pump, lower", Clamped, true),
        ("", "seacock filter", Clamped, false),
        true,
    );
    one(
        h,
        Hose,
        "raw water outlet hose",
        ("raw water pump", "pump, upper", Clamped, true),
        ("heat exchanger end cap, front", "front cap", Clamped, true),
        true,
    );
    one(
        h,
        Hose,
        "exchanger to exhaust hose",
        ("heat exchanger end cap, rear", "rear cap", Clamped, true),
        ("wet exhaust elbow", "elbow spray", Clamped, true),
        true,
    );
    one(
        h,
        Hose,
        "exhaust hose",
        ("wet exhaust elbow", "elbow outlet", Clamped, true),
        ("", "silencer", Clamped, false),
        false,
    );
    h.connect(Connect {
        kind: Hose,
        name: "heater return hose",
        a: ("", "block, behind the alternator bracket", Clamped, true),
        b: ("", "heater", Clamped, false),
        route: &[(
            RouteKind::Behind,
            "alternator bracket",
            "between bracket and block",
        )],
        tagged: true,
    });
    one(
        h,
        Hose,
        "heater feed hose",
        ("", "head, rear", Clamped, false),
        ("hose rail", "rail", Clamped, true),
        true,
    );
    one(
        h,
        Cable,
        "engine earth strap",
        ("", "block, front", Threaded, true),
        ("", "hull anode bar", Threaded, false),
        false,
    );
    one(
        h,
        Linkage,
        "throttle cable",
        ("", "pump lever", PushOn, true),
        ("", "wheelhouse", PushOn, false),
        false,
    );
    one(
        h,
        Linkage,
        "stop cable",
        ("", "stop lever", PushOn, true),
        ("", "wheelhouse", PushOn, false),
        false,
    );
}

/// Ben's, on the second.
pub fn inner(h: &mut Hand) {
    one(
        h,
        Hose,
        "coolant top hose",
        ("thermostat housing", "housing", Clamped, true),
        ("", "heat exchanger, top", Clamped, true),
        true,
    );
    one(
        h,
        Hose,
        "coolant bottom hose",
        ("cooling pump", "pump suction", Clamped, true),
        ("", "heat exchanger, bottom", Clamped, false),
        true,
    );
    one(
        h,
        Hose,
        "bypass hose",
        ("bypass elbow", "elbow", Clamped, true),
        ("cooling pump", "pump, small spigot", Clamped, true),
        true,
    );
    one(
        h,
        Plug,
        "temperature sender plug",
        ("thermostat housing", "sender", Clicked, true),
        ("", "loom", Clicked, false),
        false,
    );
    one(
        h,
        Plug,
        "oil pressure sender plug",
        ("oil filter head", "sender", Clicked, true),
        ("", "loom", Clicked, false),
        false,
    );
    one(
        h,
        Plug,
        "tacho plug",
        ("tacho pick-up", "pick-up", Clicked, true),
        ("", "loom", Clicked, false),
        false,
    );
    one(
        h,
        Pipe,
        "oil filter feed pipe",
        ("oil filter head", "filter head", UnionBolt, true),
        ("", "block gallery", UnionBolt, false),
        false,
    );
    one(
        h,
        Pipe,
        "fuel feed pipe",
        ("fuel lift pump", "lift pump, in", Threaded, true),
        ("", "day tank cock", Threaded, false),
        true,
    );
    one(
        h,
        Pipe,
        "fuel transfer pipe",
        ("fuel lift pump", "lift pump, out", UnionBolt, true),
        ("fuel filter bracket", "filter, in", UnionBolt, true),
        true,
    );
    one(
        h,
        Pipe,
        "fuel return pipe",
        ("fuel filter bracket", "filter, bleed", UnionBolt, true),
        ("", "return rail", UnionBolt, false),
        false,
    );
}
