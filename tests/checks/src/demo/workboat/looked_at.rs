//! What was found, decided and ordered; what a recount brought to light.
use countback_core::job::Command;
use countback_core::journal::*;

use super::sketches as s;
use crate::bench::spec;
use crate::demo::hand::{DAY, HOUR, Hand};

pub fn findings(h: &mut Hand) {
    let pump = h.finding(
        h.on("cooling pump"),
        "Weeps at the tell-tale, shaft has play, bearing rough",
    );
    let impeller = h.finding(
        h.on("impeller"),
        "Two vanes cracked at the root, one piece gone",
    );
    let stack = h.finding(h.on("tube stack"), "A third of the tubes furred with scale");
    let cover = h.finding(h.on("front cover"), "Old sealant left in two bolt holes");
    let belt = h.finding(h.on("drive belt"), "Edge frayed over a hand's length");
    h.finding(
        h.on("header tank cap"),
        "Rubber hard: will it hold pressure?",
    );
    h.show(
        s::IMPELLER_FOUND,
        "The cracked vanes",
        vec![h.on("impeller")],
        &[h.on("impeller"), h.on("impeller")],
    );
    h.note(
        h.on("idler gear"),
        "Turned the crank by hand until all three punch marks met, then took the gear out",
    );
    h.wait(2 * HOUR);
    h.by("Ann");
    h.decide(pump, Decision::Renew, "Not worth a bearing kit");
    h.decide(impeller, Decision::Renew, "");
    h.decide(
        stack,
        Decision::Clean,
        "Overnight in weak acid, rinse, rod through",
    );
    h.decide(cover, Decision::Clean, "Pick out, tap through, blow out");
    h.decide(belt, Decision::Renew, "Cheap while it is off");
    for (what, on) in [
        ("flange sealant, grey, 1 tube", Target::Job),
        (
            "piece of impeller vane: look in the front end cap",
            h.on("tube stack"),
        ),
    ] {
        let what = what.to_owned();
        if on == Target::Job {
            h.record(Act::BuyListed { what, n: 1, on });
        } else {
            h.note(on, &what);
        }
    }
    let wants: Vec<(Want, u32)> = h.job().to_buy().iter().map(|b| (b.want, b.n)).collect();
    for (want, n) in wants {
        if matches!(want, Want::Line(_)) {
            h.record(Act::Ordered { want, n });
        }
    }
    h.wait(DAY);
    h.record(Act::WorkDone { finding: stack });
    h.record(Act::WorkDone { finding: cover });
}

/// The day after: bags are counted before the rest goes back. One bolt of the
/// front cover turns up in the bilge; one brass screw does not turn up at all.
pub fn recounts(h: &mut Hand) -> LineId {
    h.wait(12 * HOUR);
    h.by("Rosa");
    let stray = h.record(Act::StrayFound {
        spec: spec("nut | thread=M6 x 1 | head=hand"),
        place: "in the bilge under the filter".to_owned(),
    });
    let lid = h.fixing("raw water filter lid", 0);
    let (line, bag) = bag_of(h, lid, "raw water filter lid");
    h.ok(Command::Recount {
        line,
        account: bag,
        found: 2,
        reason: "counted twice".to_owned(),
    });
    let stray = StrayId(stray.thing(0));
    h.record(Act::StrayIdentified { stray, line });
    h.record(Act::Moved {
        line,
        from: Account::Bench,
        to: bag,
        n: 1,
        reason: "back into its bag".to_owned(),
    });
    let cover = h.fixing("raw water pump cover", 0);
    let (line, bag) = bag_of(h, cover, "raw water pump cover");
    h.ok(Command::Recount {
        line,
        account: bag,
        found: 5,
        reason: "bag says six".to_owned(),
    });
    line
}

fn bag_of(h: &Hand, fixing: FixingId, container: &str) -> (LineId, Account) {
    let line = h.job().fixings.get(fixing).expect("fixing").wants;
    (line, Account::Container(h.container(container)))
}
