//! The half-stripped demo job: the cooling pump and the front cover of a
//! workboat's four-cylinder diesel. Boat, people and figures are invented;
//! nothing here is a specification.
//!
//! Three traps are in it, each made the way it is made in earnest:
//! a bag that held six screws holds five; a hose end is off behind a bracket
//! that is back; a rag was put into the inlet in a hurry and logged in words
//! only, so that nothing stopped the elbow from going back over it.
mod back;
mod connections;
mod gears;
mod inner;
mod looked_at;
mod outer;
mod sketches;

use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::torque::TorqueUnit;

use super::hand::{DAY, DeviceOf, HOUR, Hand};

/// What the audit must find, as rule and thing.
pub struct Traps {
    /// The line of screws that is one short.
    pub short: LineId,
    /// The hose behind the bracket, and the bracket.
    pub hose: ConnectionId,
    pub bracket: PartId,
    pub rag: InsideId,
}

/// 2026-03-02, 08:00 UTC.
const START: i64 = 1_772_438_400_000;

pub fn job() -> (Hand, Traps) {
    let mut h = Hand::at(DeviceOf::WORKBOAT, "Ann", START);
    h.ok(Command::Open {
        head: JobHead {
            title: "Cooling pump and front cover".to_owned(),
            machine: "The workboat's four-cylinder diesel".to_owned(),
            aim: "Pump weeps at the tell-tale, front cover leaks oil at the crank seal".to_owned(),
            meter: Some(Meter {
                kind: MeterKind::Hours,
                tenths: 31_405,
            }),
            units: Units {
                torque: TorqueUnit::NewtonMetre,
                length: LengthUnit::Millimetre,
            },
        },
        procedure: None,
    });
    make_safe(&mut h);
    outer::strip(&mut h);
    connections::outer(&mut h);
    h.mark_ends();
    h.wait(DAY - 5 * HOUR);
    h.by("Ben");
    inner::strip(&mut h);
    connections::inner(&mut h);
    h.mark_ends();
    looked_at::findings(&mut h);
    h.wait(14 * DAY);
    let rag = back::put_back(&mut h);
    let short = looked_at::recounts(&mut h);
    let traps = Traps {
        short,
        hose: h.connection("heater return hose"),
        bracket: h.part("alternator bracket"),
        rag,
    };
    (h, traps)
}

fn make_safe(h: &mut Hand) {
    let steps = [
        (
            SafeKind::BatteryOff,
            "Both battery switches off, minus lead off, tag on the switch",
        ),
        (
            SafeKind::Cooled,
            "Stone cold: header tank opened by a quarter turn, no hiss",
        ),
        (
            SafeKind::Other,
            "Inlet and bilge seacocks shut, handles tied",
        ),
        (
            SafeKind::Supported,
            "Engine hangs on the hoist before a mount is touched",
        ),
    ];
    let supplies = [
        ("Battery, both banks", SupplyKind::Battery),
        ("Fuel cock at the day tank", SupplyKind::Fuel),
        ("Inlet seacock", SupplyKind::Water),
    ];
    for (name, kind) in supplies {
        let name = name.to_owned();
        h.record(Act::SupplyIsolated { name, kind });
    }
    for (kind, text) in steps {
        let text = text.to_owned();
        let step = StepId(
            h.record(Act::SafeStepListed(SafeStep { kind, text }))
                .thing(0),
        );
        h.record(Act::SafeStepConfirmed { step });
    }
    for (name, amount, bleed) in [
        ("coolant", "11 l", true),
        ("engine oil", "90 l", false),
        ("engine oil", "9 l", false),
    ] {
        h.record(Act::FluidDrained {
            name: name.to_owned(),
            amount: amount.to_owned(),
            bleed,
        });
        // A slip of the thumb, struck at once.
        if amount == "90 l" {
            h.ok(Command::StrikeLast);
        }
    }
}
