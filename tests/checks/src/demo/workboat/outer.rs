//! First day, Ann alone: everything round the engine that is in the way.
use countback_core::journal::*;

use super::sketches as s;
use crate::demo::hand::Hand;
use crate::demo::terms::{F, Loose, Off};

pub fn strip(h: &mut Hand) {
    use Why::*;
    let after_box = "engine box front panel";
    h.off(
        Off::new("deck hatch board", "wheelhouse, against the bulkhead")
            .fix(F::new("screw | thread=M6 x 1 | length=30 | head=slotted", 4).place("corners")),
    );
    h.off(
        Off::new("engine box lid", "wheelhouse, against the bulkhead")
            .after("deck hatch board", Hides)
            .fix(
                F::new("screw | thread=M5 x 0.8 | length=16 | head=cross H2", 6)
                    .place("along the edge"),
            )
            .sketch(s::BOX_LID),
    );
    h.off(
        Off::new(after_box, "wheelhouse, against the bulkhead")
            .after("engine box lid", BlocksReach)
            .fix(F::new("bolt | thread=M6 x 1 | length=20 | head=hex 10 mm", 4).place("corners"))
            .sketch(s::BOX_PANEL),
    );
    h.off(
        Off::new("sound lining, port side", "wheelhouse")
            .after("engine box lid", Hides)
            .fix(F::new("clip | text=grey push clip", 4).place("along the top")),
    );
    h.off(
        Off::new("sound lining, starboard side", "wheelhouse")
            .after("engine box lid", Hides)
            .fix(
                F::new("clip | text=grey push clip", 4)
                    .place("along the top")
                    .found_empty(1),
            )
            .note("The aft clip was missing when we came to it")
            .loose(Loose::Have("sound lining, port side")),
    );
    h.off(
        Off::new("belt guard", "crate 1")
            .after(after_box, BlocksReach)
            .fix(
                F::new(
                    "bolt | thread=M6 x 1 | length=16 | head=hex flange 10 mm",
                    4,
                )
                .place("corners"),
            )
            .hazards(&[Hazard::Belts])
            .sketch(s::BELT_GUARD),
    );
    h.off(
        Off::new("air filter element", "crate 1, in its box")
            .after("engine box lid", Hides)
            .fix(F::new("clip | text=over-centre clip", 2).place("either side"))
            .sketch(s::AIR_ELEMENT),
    );
    h.off(
        Off::new("air filter housing", "crate 1")
            .after("air filter element", Hides)
            .fix(
                F::new("bolt | thread=M8 x 1.25 | length=20 | head=hex 13 mm", 3)
                    .place("at the back"),
            )
            .sketch(s::AIR_HOUSING),
    );
    h.off(
        Off::new("inlet elbow", "crate 1")
            .after("air filter housing", BlocksReach)
            .fix(
                F::new(
                    "bolt | thread=M8 x 1.25 | length=30 | head=hex 13 mm | class=8.8",
                    4,
                )
                .place("round the flange")
                .stages(&[24], "plate on the rocker cover"),
            )
            .item(ItemKind::Gasket, "inlet elbow gasket", "", 1)
            .opening("inlet port")
            .sketch(s::INLET_ELBOW),
    );
    let (opening, _) = h.job().openings.iter().next().expect("the inlet is open");
    h.record(Act::PutIn(PutIn {
        kind: InsideKind::Cover,
        name: "tape over the inlet".to_owned(),
        n: 1,
        opening: Some(opening),
        place: "across the flange".to_owned(),
        hidden_by: None,
    }));
    h.off(
        Off::new("heat shield", "crate 2")
            .after(after_box, BlocksReach)
            .fix(F::new("bolt | thread=M6 x 1 | length=12 | head=hex 10 mm", 4).place("corners"))
            .hazards(&[Hazard::HotExhaust])
            .sketch(s::HEAT_SHIELD),
    );
    h.off(
        Off::new("wet exhaust elbow", "on the deck, on cardboard")
            .after("heat shield", Hides)
            .fix(
                F::new("nut | thread=M10 x 1.5 | head=hex 17 mm", 4)
                    .place("on the studs")
                    .stages(&[40], "engine book")
                    .watch("Lower inner nut only with the short ring spanner")
                    .spanner_only(),
            )
            .item(ItemKind::Gasket, "exhaust elbow gasket", "", 1)
            .hazards(&[Hazard::HotExhaust, Hazard::Lifting])
            .sketch(s::EXHAUST_ELBOW),
    );
    h.off(
        Off::new("relay box", "hangs on its loom, tied up")
            .after(after_box, BlocksReach)
            .fix(
                F::new("screw | thread=M5 x 0.8 | length=16 | head=cross H2", 2)
                    .place("top and bottom"),
            ),
    );
    h.off(
        Off::new("wiring rail", "hangs on its loom, tied up")
            .after("relay box", Attached)
            .fix(
                F::new("screw | thread=M5 x 0.8 | length=12 | head=cross H2", 3)
                    .place("along the rail"),
            )
            .aside()
            .loose(Loose::Have("relay box")),
    );
    h.off(
        Off::new("drive belt", "crate 1")
            .after("belt guard", BlocksReach)
            .hazards(&[Hazard::Belts])
            .note("Arrow on the back points to port")
            .nothing_loose()
            .sketch(s::DRIVE_BELT),
    );
    h.off(
        Off::new("adjuster strap", "crate 2")
            .after("drive belt", Attached)
            .fix(
                F::new("bolt | thread=M8 x 1.25 | length=25 | head=hex 13 mm", 1)
                    .place("at the block"),
            )
            .fix(
                F::new("bolt | thread=M8 x 1.25 | length=35 | head=hex 13 mm", 1)
                    .place("in the slot"),
            )
            .sketch(s::ADJUSTER),
    );
    h.off(
        Off::new("alternator", "crate 2")
            .after("drive belt", Attached)
            .after("adjuster strap", Attached)
            .fix(
                F::new("bolt | thread=M10 x 1.5 | length=90 | head=hex 16 mm", 1)
                    .place("pivot")
                    .extra(2, "washer | text=plain 10 mm")
                    .watch("Spacer washer sits on the engine side"),
            )
            .fix(F::new("nut | thread=M10 x 1.5 | head=hex 16 mm", 1).place("on the pivot"))
            .hazards(&[Hazard::Battery, Hazard::Lifting])
            .sketch(s::ALTERNATOR),
    );
    let eye = h.off(
        Off::new("front lifting eye", "crate 2")
            .after("alternator", BlocksReach)
            .fix(
                F::new(
                    "bolt | thread=M10 x 1.5 | length=25 | head=hex 16 mm | class=8.8",
                    1,
                )
                .place("at the head"),
            ),
    );
    h.off(
        Off::new("alternator bracket", "crate 2")
            .after("alternator", BlocksReach)
            .fix(
                F::new(
                    "bolt | thread=M10 x 1.5 | length=35 | head=hex 16 mm | class=8.8",
                    3,
                )
                .place("at the block")
                .stages(&[45], "engine book"),
            )
            .fix(
                F::new(
                    "bolt | thread=M10 x 1.5 | length=50 | head=hex 16 mm | class=8.8",
                    1,
                )
                .place("through the lifting eye")
                .also(eye)
                .watch("One bolt holds the bracket and the lifting eye"),
            )
            .sketch(s::ALT_BRACKET),
    );
    h.off(
        Off::new("header tank cap", "crate 3")
            .nothing_loose()
            .hazards(&[Hazard::HotCoolant]),
    );
    h.off(
        Off::new("header tank", "crate 3")
            .after("header tank cap", Attached)
            .after("engine box lid", BlocksReach)
            .fix(
                F::new("bolt | thread=M8 x 1.25 | length=25 | head=hex 13 mm", 3)
                    .place("on the bracket"),
            )
            .sketch(s::HEADER_TANK),
    );
    h.off(
        Off::new("raw water filter lid", "crate 4")
            .after("deck hatch board", BlocksReach)
            .fix(F::new("nut | thread=M6 x 1 | head=hand", 3).place("round the lid"))
            .item(ItemKind::ORing, "filter lid O-ring", "80 x 3", 1)
            .sketch(s::FILTER_LID),
    );
    h.off(
        Off::new("raw water filter basket", "crate 4")
            .after("raw water filter lid", Hides)
            .nothing_loose(),
    );
    h.off(
        Off::new("raw water pump cover", "crate 4")
            .after(after_box, BlocksReach)
            .fix(
                F::new(
                    "screw | thread=M4 x 0.7 | length=12 | head=slotted | text=brass",
                    6,
                )
                .place("round the cover")
                .watch("Brass: hand tight and no more"),
            )
            .item(ItemKind::Gasket, "pump cover paper gasket", "", 1)
            .treat(
                TreatmentKind::Lubricant,
                "water-pump grease on the impeller",
                0,
                false,
            )
            .sketch(s::RAW_COVER),
    );
    h.off(
        Off::new("impeller", "crate 4")
            .after("raw water pump cover", Hides)
            .fix(F::new("pin | text=drive pin", 1).place("in the shaft"))
            .note("Vanes trail clockwise, seen from the cover")
            .sketch(s::IMPELLER),
    );
    h.off(
        Off::new("raw water pump", "crate 4")
            .after("drive belt", Attached)
            .after("impeller", Hides)
            .fix(
                F::new("bolt | thread=M8 x 1.25 | length=45 | head=hex 13 mm", 4)
                    .place("round the flange"),
            )
            .item(ItemKind::Gasket, "raw water pump gasket", "", 1)
            .sketch(s::RAW_PUMP),
    );
    h.off(
        Off::new("heat exchanger end cap, front", "crate 3")
            .after(after_box, BlocksReach)
            .fix(
                F::new("bolt | thread=M8 x 1.25 | length=40 | head=hex 13 mm", 4)
                    .place("round the cap"),
            )
            .item(ItemKind::ORing, "front end cap O-ring", "90 x 4", 1)
            .sketch(s::END_CAP_FRONT),
    );
    h.off(
        Off::new("heat exchanger end cap, rear", "crate 3")
            .after(after_box, BlocksReach)
            .fix(
                F::new("bolt | thread=M8 x 1.25 | length=40 | head=hex 13 mm", 4)
                    .place("round the cap"),
            )
            .item(ItemKind::ORing, "rear end cap O-ring", "90 x 4", 1)
            .loose(Loose::Have("heat exchanger end cap, front")),
    );
    h.off(
        Off::new("tube stack", "on the bench, on wood")
            .after("heat exchanger end cap, front", Hides)
            .after("heat exchanger end cap, rear", Hides)
            .item(ItemKind::ORing, "tube stack O-rings", "70 x 4", 2)
            .note("Mark on the rim faces up")
            .nothing_loose()
            .sketch(s::TUBE_STACK),
    );
    h.off(
        Off::new("hose rail", "crate 3")
            .after(after_box, BlocksReach)
            .fix(
                F::new("bolt | thread=M6 x 1 | length=16 | head=hex 10 mm", 2).place("either end"),
            ),
    );
    h.off(
        Off::new("cable duct", "hangs on its loom, tied up")
            .after("wiring rail", Attached)
            .fix(F::new("clip | text=black edge clip", 3).place("along the duct"))
            .loose(Loose::Have("sound lining, port side")),
    );
}
