//! The page for whoever takes over, after an invented scenario of week five.
use countback_checks::bench::*;
use countback_core::access::Wait;
use countback_core::audit::{Rule, Verdict};
use countback_core::handover::*;
use countback_core::job::*;
use countback_core::journal::*;

/// Nine of 17 parts are back, three wait for a delivery, four places are
/// hand-tight only, coolant is out, the battery is off.
fn week_five() -> (Bench, Vec<PartId>, FluidId, SupplyId) {
    let mut b = Bench::default();
    let battery = b.record(Act::SupplyIsolated {
        name: "battery".to_owned(),
        kind: SupplyKind::Battery,
    });
    let coolant = b.record(Act::FluidDrained {
        name: "coolant".to_owned(),
        amount: "7 l".to_owned(),
        bleed: false,
    });
    let mut parts = Vec::new();
    for n in 0..17 {
        let mut off = take_off(&format!("part {n}"));
        off.fixings = vec![FixingDraft::new(spec("bolt | thread=M6 x 1"), 4)];
        // Those from 14 on need a gasket that is not here.
        if n >= 14 {
            off.items = vec![ItemDraft {
                kind: ItemKind::Gasket,
                name: format!("gasket {n}"),
                size: String::new(),
                count: 1,
            }];
        }
        parts.push(b.take_off(off));
    }
    for (n, &part) in parts.iter().take(9).enumerate() {
        b.place(part);
        if n < 8 {
            b.fasten(part);
        } else {
            let fixing = b.fixing(part, 0);
            b.ok(Command::Start {
                fixing,
                which: Thing::All,
                line: None,
                anyway: false,
            });
        }
    }
    (
        b,
        parts,
        FluidId(coolant.thing(0)),
        SupplyId(battery.thing(0)),
    )
}

#[test]
fn a_successor_reads_the_danger_first_and_numbers_that_add_up() {
    let (mut b, parts, coolant, battery) = week_five();
    let page = handover(b.job(), b.ctx.now);
    let stops: Vec<_> = page.stops.iter().map(|(s, o)| (*s, o.rule, o.on)).collect();
    assert_eq!(
        stops,
        [
            (Stop::DoNotStart, Rule::Fill, Target::Fluid(coolant)),
            (Stop::DoNotStart, Rule::Restore, Target::Supply(battery)),
        ]
    );
    let hand_tight = b.fixing(parts[8], 0);
    assert_eq!(page.not_tight, 4);
    assert_eq!(page.looks_done.len(), 1);
    assert_eq!(page.looks_done[0].doubt, Doubt::NotTight);
    assert_eq!(page.looks_done[0].owed.on, Target::Fixing(hand_tight));
    let it = &page.parts;
    assert_eq!(
        (it.total, it.back.len(), it.ready.len(), it.waiting.len()),
        (17, 9, 5, 3)
    );
    assert_eq!((it.left(), it.blocked.len()), (8, 0));
    assert!(
        it.waiting
            .iter()
            .all(|w| matches!(w.on[..], [Wait::Delivery(Want::Item(_))]))
    );
    // What was begun is finished before another is taken up.
    assert_eq!(page.next, Some(Target::Part(parts[8])));
    b.ok(Command::Tighten {
        fixing: hand_tight,
        which: Thing::All,
        to: Tight::Final,
        value: None,
    });
    let page = handover(b.job(), b.ctx.now);
    assert_eq!((page.not_tight, page.looks_done.len()), (0, 0));
    assert!(matches!(page.next, Some(Target::Part(p)) if page.parts.ready.contains(&p)));
}

#[test]
fn what_is_inside_stands_before_everything() {
    let (mut b, parts, coolant, _) = week_five();
    b.record(Act::PutIn(PutIn {
        kind: InsideKind::Rag,
        name: "rag".to_owned(),
        n: 1,
        opening: None,
        place: "port 2".to_owned(),
        hidden_by: None,
    }));
    let line = b.job().fixings.get(b.fixing(parts[16], 0)).unwrap().old;
    b.ok(Command::Recount {
        line,
        account: Account::Bench,
        found: 3,
        reason: String::new(),
    });
    let page = handover(b.job(), b.ctx.now);
    let stops: Vec<_> = page.stops.iter().map(|(s, o)| (*s, o.rule)).collect();
    assert_eq!(
        stops,
        [
            (Stop::DoNotTurn, Rule::TakeOut),
            (Stop::DoNotTurn, Rule::Missing),
            (Stop::DoNotStart, Rule::Fill),
            (Stop::DoNotStart, Rule::Restore),
        ]
    );
    assert_eq!(page.stops[2].1.on, Target::Fluid(coolant));
    assert!(matches!(page.verdict, Verdict::DoNotTurn { .. }));
    assert_eq!(page.count.len(), 1);
}

#[test]
fn every_part_is_counted_once_whatever_its_state() {
    let (mut b, parts, ..) = week_five();
    // One is left off by decision, one hides behind another.
    b.ok(Command::LeaveOff {
        what: Target::Part(parts[9]),
        reason: "not fitted any more".to_owned(),
    });
    b.record(Act::CameAfter {
        what: Target::Part(parts[10]),
        needs: vec![Need {
            first: Target::Part(parts[11]),
            why: Why::BlocksReach,
        }],
    });
    let page = handover(b.job(), b.ctx.now);
    let it = &page.parts;
    assert_eq!(it.left_off, [parts[9]]);
    assert_eq!(it.blocked.len(), 1);
    assert_eq!(it.blocked[0].0, parts[11], "it was off first, so it waits");
    assert_eq!(it.back.len() + it.left() + it.left_off.len(), it.total);
    assert_eq!(it.total, 17);
}

#[test]
fn a_finished_job_is_a_short_page() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[("bolt | thread=M6 x 1", 2)]);
    b.place(cover);
    b.fasten(cover);
    let page = handover(b.job(), b.ctx.now);
    assert_eq!(page.verdict, Verdict::Complete);
    assert_eq!(page.open, 0);
    assert!(page.stops.is_empty() && page.looks_done.is_empty() && page.next.is_none());
}
