//! The finished demo job: the fuel bowl of a garden tiller, cleaned, back
//! together, run, checked and signed off. Machine and people are invented.
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::torque::TorqueUnit;

use super::hand::{DAY, DeviceOf, HOUR, Hand};
use super::terms::{Connect, F, Off};

/// 2026-04-11, 14:00 UTC.
const START: i64 = 1_775_916_000_000;

const FILTER: &str =
    "plate 150 130 340 200 40; disc 320 230 70; ring 320 230 50; h0 215 160; h0 425 160";
const BOWL: &str = "disc 320 210 130; ring 320 210 108; plate 280 340 80 30 8; axis 320 40 320 450; end 190 210 -10 0; h0 320 210";

pub fn job() -> Hand {
    let mut h = Hand::at(DeviceOf::TILLER, "Rosa", START);
    h.ok(Command::Open {
        head: JobHead {
            title: "Tiller: fuel bowl clean".to_owned(),
            machine: "The allotment's tiller, four-stroke, 5 kW".to_owned(),
            aim: "Hunts at idle, water in the fuel".to_owned(),
            meter: None,
            units: Units {
                torque: TorqueUnit::NewtonMetre,
                length: LengthUnit::Millimetre,
            },
        },
        procedure: None,
    });
    let fuel = off(&mut h);
    h.wait(HOUR);
    back(&mut h, fuel);
    h
}

fn off(h: &mut Hand) -> SupplyId {
    for (kind, text) in [
        (SafeKind::Other, "Plug cap off and tied away"),
        (SafeKind::Cooled, "Silencer cold to the hand"),
    ] {
        let text = text.to_owned();
        let step = h.record(Act::SafeStepListed(SafeStep { kind, text }));
        let step = StepId(step.thing(0));
        h.record(Act::SafeStepConfirmed { step });
    }
    let fuel = h.record(Act::SupplyIsolated {
        name: "Fuel cock under the tank".to_owned(),
        kind: SupplyKind::Fuel,
    });
    h.off(
        Off::new("air filter box", "bench, left")
            .fix(
                F::new("nut | thread=M6 x 1 | head=hex 10 mm", 2)
                    .place("on the studs")
                    .tool("10 mm nut driver"),
            )
            .item(ItemKind::Gasket, "filter box gasket", "", 1)
            .sketch(FILTER),
    );
    h.off(
        Off::new("fuel bowl", "bench, in a tin lid")
            .after("air filter box", Why::BlocksReach)
            .fix(
                F::new("bolt | thread=M6 x 1 | length=12 | head=hex 10 mm", 1)
                    .place("under the bowl")
                    .watch("Fuel runs out when it is slackened: tin under it"),
            )
            .item(ItemKind::ORing, "bowl O-ring", "40 x 2", 1)
            .hazards(&[Hazard::Fuel])
            .sketch(BOWL),
    );
    h.connect(Connect {
        kind: ConnectionKind::Hose,
        name: "fuel hose",
        a: ("fuel bowl", "bowl inlet", Joint::Clamped, true),
        b: ("", "fuel cock", Joint::Clamped, false),
        route: &[],
        tagged: false,
    });
    h.mark_ends();
    h.off(
        Off::new("float", "bench, in the tin lid")
            .after("fuel bowl", Why::Hides)
            .fix(F::new("pin | text=float pin", 1).place("in its posts")),
    );
    h.off(
        Off::new("main jet", "bench, in the tin lid")
            .after("float", Why::Hides)
            .fix(
                F::new("screw | thread=M5 x 0.8 | head=slotted | text=brass jet", 1)
                    .place("centre post"),
            )
            .nothing_loose(),
    );
    h.record(Act::FluidDrained {
        name: "petrol, watery".to_owned(),
        amount: "1 l".to_owned(),
        bleed: false,
    });
    let found = h.finding(h.on("fuel bowl"), "Brown water and rust in the bowl");
    h.decide(found, Decision::Clean, "");
    h.wait(HOUR);
    h.record(Act::WorkDone { finding: found });
    SupplyId(fuel.thing(0))
}

fn back(h: &mut Hand, supply: SupplyId) {
    h.arrive("bowl O-ring");
    h.arrive("filter box gasket");
    h.back("main jet");
    h.back("float");
    h.renew("bowl O-ring");
    h.back("fuel bowl");
    h.join("fuel hose", Side::A);
    h.looks("Ann");
    h.renew("filter box gasket");
    h.back("air filter box");
    let fluid = h.job().fluids.ids().next().expect("petrol was drained");
    let amount = "1 l, fresh".to_owned();
    h.record(Act::FluidFilled { fluid, amount });
    h.record(Act::SupplyRestored { supply });
    let check = h.record(Act::AfterRunOwed {
        what: AfterRunKind::LeakCheck,
        on: h.on("fuel bowl"),
        text: "Bowl and hose dry after ten minutes' running".to_owned(),
        due: Due {
            heat_cycles: 1,
            ..Due::default()
        },
    });
    h.record(Act::Ran { heat_cycles: 1 });
    h.wait(DAY);
    h.record(Act::AfterRunDone {
        after_run: AfterRunId(check.thing(0)),
        reading: "dry, idles evenly".to_owned(),
    });
    h.ok(Command::SignOff);
}
