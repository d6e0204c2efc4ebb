//! Second day, in the afternoon: the front cover and the gears behind it.
use countback_core::journal::*;

use super::sketches as s;
use crate::demo::hand::Hand;
use crate::demo::terms::{F, Loose, Off};

pub fn strip(h: &mut Hand) {
    use Why::*;
    h.off(
        Off::new("front cover", "on the bench, face up")
            .after("cooling pump", Hides)
            .after("crankshaft pulley", Hides)
            .after("idler pulley", Hides)
            .after("tacho pick-up", Attached)
            .after("inspection plate", Attached)
            .after("sump, front edge", Attached)
            .fix(
                F::new(
                    "bolt | thread=M6 x 1 | length=25 | head=hex 10 mm | class=8.8",
                    6,
                )
                .place("round the rim")
                .stages(&[5, 10], "engine book"),
            )
            .fix(
                F::new(
                    "bolt | thread=M6 x 1 | length=40 | head=hex 10 mm | class=8.8",
                    5,
                )
                .place("round the rim")
                .stages(&[5, 10], "engine book"),
            )
            .fix(
                F::new(
                    "bolt | thread=M6 x 1 | length=70 | head=hex 10 mm | class=8.8",
                    2,
                )
                .place("through the seal carrier")
                .stages(&[5, 10], "engine book")
                .watch("Three lengths in this cover: a long one in a short hole reaches the gears"),
            )
            .fix(F::new("pin | text=dowel, 8 mm", 2).place("upper left, lower right"))
            .item(ItemKind::Seal, "crank seal", "55 x 72 x 9", 1)
            .treat(
                TreatmentKind::Sealant,
                "grey flange sealant, 2 mm bead",
                24 * 60,
                true,
            )
            .opening("gear case")
            .note("Face down it rocks: lay it on two battens")
            .sketch(s::FRONT_COVER),
    );
    h.off(
        Off::new("oil thrower ring", "crate 7")
            .after("front cover", Hides)
            .note("Dished side outwards")
            .nothing_loose(),
    );
    h.off(
        Off::new("idler gear plate", "crate 7")
            .after("front cover", Hides)
            .fix(
                F::new(
                    "bolt | thread=M8 x 1.25 | length=16 | head=socket hex 6 mm | class=10.9",
                    3,
                )
                .place("round the plate")
                .stages(&[28], "engine book")
                .safety(),
            )
            .treat(
                TreatmentKind::ThreadLocker,
                "medium thread-locker",
                0,
                false,
            )
            .sketch(s::GEAR_PLATE),
    );
    h.off(
        Off::new("idler gear", "crate 7, wrapped")
            .after("idler gear plate", Hides)
            .note("Punch marks: one to the crank, two to the cam")
            .nothing_loose()
            .sketch(s::IDLER_GEAR),
    );
    h.off(
        Off::new("gear spray nozzle", "crate 7")
            .after("front cover", Hides)
            .fix(
                F::new(
                    "screw | thread=M6 x 1 | length=16 | head=socket hex 5 mm",
                    1,
                )
                .place("above the gears"),
            )
            .loose(Loose::Have("idler gear plate")),
    );
    h.off(
        Off::new("oil strainer stay", "crate 7")
            .after("sump, front edge", Hides)
            .fix(
                F::new("bolt | thread=M8 x 1.25 | length=16 | head=hex 13 mm", 2)
                    .place("at the strainer"),
            )
            .loose(Loose::Have("idler gear plate")),
    );
}
