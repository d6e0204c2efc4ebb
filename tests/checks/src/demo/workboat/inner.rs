//! Second day, Ben: the front of the engine down to the gears.
use countback_core::journal::*;

use super::gears;
use super::sketches as s;
use crate::demo::hand::Hand;
use crate::demo::terms::{F, Loose, Off};

pub fn strip(h: &mut Hand) {
    use Why::*;
    h.off(
        Off::new("thermostat cover", "crate 3")
            .after("header tank", BlocksReach)
            .fix(
                F::new("bolt | thread=M8 x 1.25 | length=30 | head=hex 13 mm", 3)
                    .place("round the cover"),
            )
            .item(ItemKind::Gasket, "thermostat cover gasket", "", 1)
            .sketch(s::THERMO_COVER),
    );
    h.off(
        Off::new("thermostat", "crate 3")
            .after("thermostat cover", Hides)
            .item(ItemKind::ORing, "thermostat O-ring", "54 x 3", 1)
            .note("Spring side to the engine, vent pin on top")
            .nothing_loose()
            .sketch(s::THERMOSTAT),
    );
    let tank_bracket = h.off(
        Off::new("header tank bracket", "crate 3")
            .after("header tank", BlocksReach)
            .fix(
                F::new("bolt | thread=M8 x 1.25 | length=20 | head=hex 13 mm", 2)
                    .place("at the head"),
            ),
    );
    h.off(
        Off::new("thermostat housing", "crate 3")
            .after("thermostat", Hides)
            .after("header tank bracket", SharesFixing)
            .fix(F::new("bolt | thread=M8 x 1.25 | length=35 | head=hex 13 mm", 2).place("lower"))
            .fix(F::new("bolt | thread=M8 x 1.25 | length=55 | head=hex 13 mm", 2).place("upper"))
            .fix(
                F::new("bolt | thread=M8 x 1.25 | length=80 | head=hex 13 mm", 1)
                    .place("middle, through the bracket")
                    .also(tank_bracket)
                    .watch("The longest one takes the tank bracket with it"),
            )
            .item(ItemKind::Gasket, "thermostat housing gasket", "", 1)
            .sketch(s::THERMO_HOUSING),
    );
    h.off(
        Off::new("pipe guard", "crate 5")
            .fix(
                F::new("bolt | thread=M6 x 1 | length=16 | head=hex 10 mm", 4)
                    .place("two above, two below")
                    .way(WayIn::Side),
            )
            .loose(Loose::Have("thermostat cover")),
    );
    h.off(
        Off::new("cooling pump pulley", "crate 5")
            .after("drive belt", Attached)
            .fix(
                F::new(
                    "bolt | thread=M6 x 1 | length=16 | head=hex 10 mm | class=10.9",
                    4,
                )
                .place("round the hub")
                .stages(&[14], "engine book")
                .watch("Offset side faces the engine"),
            )
            .sketch(s::PUMP_PULLEY),
    );
    h.off(
        Off::new("cooling pump", "crate 5")
            .after("cooling pump pulley", Hides)
            .after("hose rail", BlocksReach)
            .fix(
                F::new(
                    "bolt | thread=M8 x 1.25 | length=30 | head=hex 13 mm | class=8.8",
                    4,
                )
                .place("short ones")
                .stages(&[24], "engine book"),
            )
            .fix(
                F::new(
                    "bolt | thread=M8 x 1.25 | length=65 | head=hex 13 mm | class=8.8",
                    3,
                )
                .place("long ones, through the cover")
                .stages(&[24], "engine book")
                .watch("Sealer on the threads: they end in the water jacket"),
            )
            .item(ItemKind::Gasket, "cooling pump gasket", "", 1)
            .sketch(s::COOLING_PUMP),
    );
    h.off(
        Off::new("bypass elbow", "crate 5")
            .after("thermostat housing", BlocksReach)
            .fix(
                F::new("bolt | thread=M6 x 1 | length=20 | head=hex 10 mm", 2).place("either side"),
            )
            .item(ItemKind::ORing, "bypass elbow O-ring", "22 x 3", 1)
            .sketch(s::BYPASS_ELBOW),
    );
    h.off(
        Off::new("idler pulley", "crate 5")
            .after("drive belt", Attached)
            .fix(
                F::new(
                    "bolt | thread=M10 x 1.5 | length=50 | head=hex 16 mm | class=8.8",
                    1,
                )
                .place("centre")
                .extra(1, "spacer | text=12 mm long, bevelled end")
                .watch("Spacer behind the pulley, bevel to the block")
                .stages(&[45], "engine book"),
            )
            .sketch(s::IDLER),
    );
    h.off(
        Off::new("damper ring", "crate 5")
            .after("drive belt", Attached)
            .fix(
                F::new(
                    "bolt | thread=M8 x 1.25 | length=20 | head=socket hex 6 mm | class=10.9",
                    6,
                )
                .place("round the rim")
                .stages(&[15, 32], "engine book"),
            )
            .hazards(&[Hazard::Lifting])
            .sketch(s::DAMPER),
    );
    h.record(Act::PutIn(PutIn {
        kind: InsideKind::LockingPin,
        name: "flywheel pin".to_owned(),
        n: 1,
        opening: None,
        place: "bell housing, port side".to_owned(),
        hidden_by: None,
    }));
    h.off(
        Off::new("crankshaft pulley", "crate 5")
            .after("damper ring", Hides)
            .fix(
                F::new(
                    "bolt | thread=M16 x 1.5 | length=60 | head=hex 24 mm | class=10.9",
                    1,
                )
                .place("centre")
                .stages(&[100], "engine book")
                .then_turn(90)
                .tool("24 mm socket, long bar, flywheel held")
                .reuse(Reuse::Renew)
                .safety()
                .watch("New bolt each time; oil under the head"),
            )
            .sketch(s::CRANK_PULLEY),
    );
    h.off(
        Off::new("front mount bracket, port", "crate 6")
            .after("hose rail", BlocksReach)
            .fix(
                F::new(
                    "bolt | thread=M12 x 1.75 | length=35 | head=hex 18 mm | class=8.8",
                    4,
                )
                .place("at the block")
                .stages(&[40, 80], "engine book")
                .way(WayIn::Below)
                .safety(),
            )
            .hazards(&[Hazard::Raised, Hazard::Lifting])
            .sketch(s::MOUNT),
    );
    h.off(
        Off::new(
            "front mount bracket, starboard",
            "swung aside on its rear bolts",
        )
        .aside()
        .fix(
            F::new(
                "bolt | thread=M12 x 1.75 | length=35 | head=hex 18 mm | class=8.8",
                4,
            )
            .place("at the block")
            .slackened(2)
            .stages(&[40, 80], "engine book")
            .way(WayIn::Below)
            .safety(),
        )
        .hazards(&[Hazard::Raised])
        .loose(Loose::Have("front mount bracket, port")),
    );
    h.off(
        Off::new("dipstick tube", "crate 6")
            .fix(
                F::new("bolt | thread=M6 x 1 | length=16 | head=hex 10 mm", 1)
                    .place("at the block"),
            )
            .item(ItemKind::ORing, "dipstick tube O-ring", "12 x 2", 1),
    );
    h.off(Off::new("oil filter", "in the oil tray").nothing_loose());
    h.off(
        Off::new("oil filter head", "crate 6")
            .after("oil filter", Attached)
            .fix(
                F::new(
                    "bolt | thread=M8 x 1.25 | length=40 | head=hex 13 mm | class=8.8",
                    4,
                )
                .place("corners")
                .stages(&[24], "engine book"),
            )
            .item(ItemKind::Gasket, "filter head gasket", "", 1)
            .sketch(s::FILTER_HEAD),
    );
    h.off(
        Off::new("oil pipe clip", "crate 6")
            .after("oil filter head", BlocksReach)
            .fix(
                F::new("bolt | thread=M6 x 1 | length=20 | head=hex 10 mm", 1)
                    .place("at the block"),
            )
            .loose(Loose::Have("oil filter head")),
    );
    h.off(
        Off::new("fuel lift pump", "crate 6, in a bag")
            .after("oil pipe clip", BlocksReach)
            .fix(
                F::new("nut | thread=M8 x 1.25 | head=hex 13 mm", 2)
                    .place("on the studs")
                    .stages(&[18], "engine book"),
            )
            .item(ItemKind::Gasket, "lift pump gasket", "", 1)
            .hazards(&[Hazard::Fuel])
            .sketch(s::LIFT_PUMP),
    );
    let bracket = h.off(
        Off::new("fuel filter bracket", "crate 6, upright")
            .fix(
                F::new("bolt | thread=M10 x 1.5 | length=25 | head=hex 16 mm", 2)
                    .place("at the block"),
            )
            .hazards(&[Hazard::Fuel])
            .sketch(s::FUEL_BRACKET),
    );
    h.off(
        Off::new("fuel filter", "crate 6, on its bracket")
            .with(bracket)
            .nothing_loose(),
    );
    h.off(
        Off::new("tacho pick-up", "crate 6")
            .fix(
                F::new(
                    "screw | thread=M5 x 0.8 | length=12 | head=socket hex 4 mm",
                    1,
                )
                .place("beside the pulley"),
            )
            .loose(Loose::Have("oil filter head")),
    );
    h.off(
        Off::new("inspection plate", "crate 7")
            .fix(
                F::new(
                    "screw | thread=M5 x 0.8 | length=12 | head=socket hex 4 mm",
                    3,
                )
                .place("round the plate"),
            )
            .item(ItemKind::ORing, "inspection plate O-ring", "60 x 2", 1)
            .sketch(s::INSPECTION),
    );
    h.off(
        Off::new("pump drive cover", "crate 7")
            .after("fuel lift pump", BlocksReach)
            .fix(
                F::new("bolt | thread=M6 x 1 | length=20 | head=hex 10 mm", 5)
                    .place("round the cover")
                    .stages(&[10], "engine book"),
            )
            .item(ItemKind::Gasket, "drive cover gasket", "", 1)
            .sketch(s::DRIVE_COVER),
    );
    h.off(
        Off::new("sump, front edge", "let down on its rear bolts")
            .aside()
            .fix(
                F::new(
                    "bolt | thread=M6 x 1 | length=20 | head=hex flange 8 mm",
                    10,
                )
                .place("front edge and sides")
                .slackened(6)
                .stages(&[10], "engine book")
                .way(WayIn::Below),
            )
            .sketch(s::SUMP),
    );
    gears::strip(h);
}
