//! The demo procedures: one made from the finished job, two written down.
//! They give no torque figure: that is the maker's to give.
use countback_core::journal::*;
use countback_core::procedure::*;
use countback_core::torque::pattern::{Layout, Scheme, lay_out, order};

use crate::bench::spec;

/// Name of the file and the procedure, in the order shown.
pub fn all() -> Vec<(&'static str, Procedure)> {
    let bowl = procedure_from_job(super::tiller::job().job());
    vec![
        ("fuel-bowl", bowl),
        ("disc-brake-pads", brake_pads()),
        ("cooling-pump", cooling_pump()),
    ]
}

fn step(kind: SafeKind, text: &str) -> SafeStep {
    let text = text.to_owned();
    SafeStep { kind, text }
}

fn run(kind: AfterRunKind, text: &str, due: Due) -> PlannedRun {
    let text = text.to_owned();
    PlannedRun { kind, text, due }
}

fn part(key: &str, name: &str, after: &[&str]) -> PlannedPart {
    PlannedPart {
        key: key.to_owned(),
        name: name.to_owned(),
        after: after.iter().map(|&key| key.to_owned()).collect(),
        ..PlannedPart::default()
    }
}

fn fixing(fastener: &str, count: u16, place: &str, watch: &str) -> PlannedFixing {
    PlannedFixing {
        numbers: Vec::new(),
        extras: Vec::new(),
        spec: spec(fastener),
        count,
        place: place.to_owned(),
        reuse: Reuse::Reuse,
        detail: FixingDetail {
            watch: watch.to_owned(),
            ..FixingDetail::default()
        },
        round: None,
        last_round: false,
        also: Vec::new(),
    }
}

/// Round a circle, opposite after opposite, as the core gives it for a cross.
fn crosswise(count: u16) -> PlannedRound {
    let points = lay_out(Layout::Circle, usize::from(count), 0);
    let order = order(&points, Scheme::Cross).unwrap_or_default();
    let thousandths = |v: f64| (v * 1000.0).round() as u16;
    PlannedRound {
        points: points
            .iter()
            .map(|p| (thousandths(p.x), thousandths(p.y)))
            .collect(),
        order: order.into_iter().map(|p| p as u16).collect(),
        maker: false,
    }
}

fn hose(name: &str, a: &str, b: &str) -> PlannedConnection {
    PlannedConnection {
        kind: ConnectionKind::Hose,
        name: name.to_owned(),
        a: a.to_owned(),
        b: b.to_owned(),
        joint: Joint::Clamped,
        clamp: String::new(),
        away: false,
        stays: false,
        far: PlannedEnd::default(),
        route: None,
        after: Vec::new(),
        ways: Vec::new(),
    }
}

fn item(kind: ItemKind, name: &str, count: u16) -> PlannedItem {
    PlannedItem {
        kind,
        name: name.to_owned(),
        size: String::new(),
        count,
    }
}

fn brake_pads() -> Procedure {
    let mut wheel = part("wheel", "wheel", &[]);
    wheel.hazards = vec![Hazard::Raised];
    wheel.fixings = vec![PlannedFixing {
        round: Some(crosswise(5)),
        ..fixing(
            "nut",
            5,
            "wheel nuts",
            "Cross-wise, on the ground, with the torque wrench",
        )
    }];
    let mut caliper = part("caliper", "caliper", &["wheel"]);
    caliper.hazards = vec![Hazard::BrakesSteering];
    caliper.note = "Hang it on a hook, never on its hose".to_owned();
    caliper.fixings = vec![PlannedFixing {
        detail: FixingDetail {
            safety: true,
            way: Some(WayIn::Behind),
            ..FixingDetail::default()
        },
        ..fixing("bolt", 2, "slide pins, upper and lower", "")
    }];
    let mut inner = part("inner-pad", "inner pad", &["caliper"]);
    inner.note = "The one with the wear spring".to_owned();
    inner.items = vec![item(ItemKind::Clip, "pad springs", 2)];
    let outer = part("outer-pad", "outer pad", &["caliper"]);
    Procedure {
        title: "Disc brake pads, one wheel".to_owned(),
        machine: "Any car with a sliding caliper".to_owned(),
        aim: "New pads".to_owned(),
        safe: vec![
            step(
                SafeKind::Supported,
                "On a stand, other wheels chocked, brake off at the back if it is a back wheel",
            ),
            step(
                SafeKind::Other,
                "Fluid level looked at: it rises when the piston goes back",
            ),
        ],
        parts: vec![wheel, caliper, inner, outer],
        fluids: Vec::new(),
        after_run: vec![
            run(
                AfterRunKind::Other,
                "Pedal pumped hard before the first move",
                Due::default(),
            ),
            run(
                AfterRunKind::Retighten,
                "Wheel nuts",
                Due {
                    km: 50,
                    ..Due::default()
                },
            ),
        ],
    }
}

fn cooling_pump() -> Procedure {
    let mut guard = part("belt-guard", "belt guard", &[]);
    guard.hazards = vec![Hazard::Belts];
    guard.fixings = vec![fixing("bolt | thread=M6 x 1", 4, "corners", "")];
    let mut belt = part("drive-belt", "drive belt", &["belt-guard"]);
    belt.note = "Mark which way it runs".to_owned();
    let mut pulley = part("pump-pulley", "pump pulley", &["drive-belt"]);
    pulley.fixings = vec![fixing(
        "bolt | thread=M6 x 1",
        4,
        "round the hub",
        "Which side faces the engine?",
    )];
    let mut pump = part("cooling-pump", "cooling pump", &["pump-pulley"]);
    pump.hazards = vec![Hazard::HotCoolant];
    pump.fixings = vec![
        fixing("bolt | thread=M8 x 1.25", 4, "short ones", ""),
        fixing(
            "bolt | thread=M8 x 1.25",
            3,
            "long ones",
            "Those that end in the water jacket need sealer",
        ),
    ];
    pump.connections = vec![
        hose("bottom hose", "pump", "cooler"),
        hose("bypass hose", "pump", "thermostat housing"),
    ];
    pump.items = vec![item(ItemKind::Gasket, "pump gasket", 1)];
    Procedure {
        title: "Cooling pump".to_owned(),
        machine: "Any belt-driven cooling pump".to_owned(),
        aim: "Pump weeps or is noisy".to_owned(),
        safe: vec![
            step(SafeKind::Cooled, "Stone cold before the cap is turned"),
            step(SafeKind::BatteryOff, "Minus lead off"),
        ],
        parts: vec![guard, belt, pulley, pump],
        fluids: vec![PlannedFluid {
            name: "coolant".to_owned(),
            amount: String::new(),
            bleed: true,
        }],
        after_run: vec![
            run(
                AfterRunKind::LeakCheck,
                "Pump flange and hoses, engine warm",
                Due {
                    heat_cycles: 1,
                    ..Due::default()
                },
            ),
            run(
                AfterRunKind::LevelCheck,
                "Coolant, engine cold",
                Due {
                    heat_cycles: 1,
                    ..Due::default()
                },
            ),
        ],
    }
}
