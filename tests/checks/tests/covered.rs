//! What must be finished before a part goes over it, whatever is lacking; and
//! what was accepted by name and reason, which holds up nothing more. Scenarios
//! are invented; what has to follow is `common practice, no source`.
use countback_checks::bench::*;
use countback_core::access::{self, Stand, Wait};
use countback_core::audit::Rule;
use countback_core::handover::{self, Stop};
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::torque::TorqueUnit;
use countback_core::view::{self, NextAct};
use countback_core::words::Style;

fn newton_metres(n: u32) -> Figure {
    Figure::Torque {
        milli: n * 1_000,
        unit: TorqueUnit::NewtonMetre,
    }
}

fn at(b: &Bench) -> view::At {
    view::At {
        now: b.ctx.now,
        open_since: b.ctx.now,
        style: Style::default(),
    }
}

/// A guard over a pump with six bolts: (guard, pump, its fixing).
fn guarded(b: &mut Bench, spec_of: &str, n: u16) -> (PartId, PartId, FixingId) {
    let guard = b.part("guard", &[("bolt | thread=M6 x 1", 2)]);
    let pump = b.part_after("pump", &[(spec_of, n)], &[Target::Part(guard)]);
    let fixing = b.fixing(pump, 0);
    (guard, pump, fixing)
}

fn buries(b: &mut Bench, guard: PartId, what: Target) {
    let refusal = b.refused(Command::PlacePart {
        part: guard,
        anyway: false,
    });
    let Refusal::WouldBury { owed, .. } = refusal else {
        panic!("{refusal:?}");
    };
    assert!(owed.contains(&what), "{owed:?}");
    // Own up to it, and the audit says that it lies behind.
    b.ok(Command::PlacePart {
        part: guard,
        anyway: true,
    });
    assert!(b.rules().contains(&(Rule::Buried, what)));
}

/// All six are final, and gone round once more they are not yet.
#[test]
fn a_last_round_is_made_before_a_part_goes_over_it() {
    let mut b = Bench::default();
    let (guard, pump, fixing) = guarded(&mut b, "bolt | thread=M8 x 1.25", 6);
    let detail = FixingDetail {
        stages: vec![newton_metres(12), newton_metres(25)],
        ..FixingDetail::default()
    };
    b.record(Act::FixingDescribed { fixing, detail });
    b.record(Act::LastRoundAsked {
        fixing,
        asked: true,
    });
    b.place(pump);
    b.ok(Command::Start {
        fixing,
        which: Thing::All,
        line: None,
        anyway: false,
    });
    for to in [Tight::Stage(1), Tight::Final] {
        b.ok(Command::Tighten {
            fixing,
            which: Thing::All,
            to,
            value: None,
        });
    }
    assert!(
        b.rules()
            .contains(&(Rule::LastRound, Target::Fixing(fixing)))
    );
    let page = view::put_back_page(&b.book, at(&b), &b.at_work());
    assert!(!page.all_back);
    assert_eq!(page.next.map(|it| it.what), Some(Target::Part(pump)));
    let row = view::fixing_row(b.job(), fixing, None, at(&b)).unwrap();
    assert_eq!(row.lacks, ["last round owed"]);
    buries(&mut b, guard, Target::Fixing(fixing));
}

/// A hose end on the seat of another is fast, and wrong.
#[test]
fn an_end_on_a_strange_seat_is_not_closed_in() {
    let mut b = Bench::default();
    let guard = b.part("guard", &[("bolt | thread=M6 x 1", 2)]);
    let hoses: Vec<ConnectionId> = ["feed", "return"]
        .map(|name| {
            let tank = end(None, "tank", true);
            let pump = end(None, "pump", false);
            b.connection(name, tank, pump, &[Target::Part(guard)])
        })
        .to_vec();
    let [feed, back] = [side(hoses[0], Side::A), side(hoses[1], Side::A)];
    for (end, seat) in [(feed, back), (back, feed)] {
        b.ok(Command::Rejoin {
            end,
            seat,
            anyway: true,
        });
        b.record(Act::EndSecured { end });
    }
    buries(&mut b, guard, Target::Connection(feed.connection));
}

/// A washer was lost and all was tightened without it; found again, it is still
/// owed, and nothing goes over the bolts before that.
#[test]
fn a_washer_left_out_is_seen_before_it_is_covered() {
    let mut b = Bench::default();
    let guard = b.part("guard", &[("bolt | thread=M6 x 1", 2)]);
    let mut off = take_off("pump");
    let mut draft = FixingDraft::new(spec("bolt | thread=M8 x 1.25"), 2);
    draft.extras.push(Extra {
        spec: spec("washer"),
        per_place: 1,
    });
    off.fixings.push(draft);
    off.part.after = vec![Need {
        first: Target::Part(guard),
        why: Why::Hides,
    }];
    let pump = b.take_off(off);
    let fixing = b.fixing(pump, 0);
    let washers = b.job().fixings.get(fixing).unwrap().extras[0].0;
    b.record(Act::Moved {
        line: washers,
        from: Account::Bench,
        to: Account::Missing,
        n: 2,
        reason: "rolled away".to_owned(),
    });
    b.place(pump);
    b.ok(Command::Start {
        fixing,
        which: Thing::All,
        line: None,
        anyway: false,
    });
    b.ok(Command::Tighten {
        fixing,
        which: Thing::All,
        to: Tight::Final,
        value: None,
    });
    buries(&mut b, guard, Target::Fixing(fixing));
}

/// What came off on a part lies behind all that the part lies behind.
#[test]
fn what_is_carried_is_not_shut_in() {
    let mut b = Bench::default();
    let guard = b.part("guard", &[("bolt | thread=M6 x 1", 2)]);
    let mut off = take_off("pump");
    off.fixings
        .push(FixingDraft::new(spec("bolt | thread=M8 x 1.25"), 2));
    off.carried.push("sender".to_owned());
    off.part.after = vec![Need {
        first: Target::Part(guard),
        why: Why::Hides,
    }];
    let pump = b.take_off(off);
    let sender = b.job().parts.iter().last().unwrap().0;
    assert_eq!(b.job().parts.get(sender).unwrap().name, "sender");
    b.record(Act::FindingNoted {
        on: Target::Part(sender),
        text: "cracked".to_owned(),
    });
    b.place(pump);
    b.fasten(pump);
    buries(&mut b, guard, Target::Part(sender));
}

/// An old gasket that was accepted by name and reason holds up nothing more.
#[test]
fn what_was_accepted_holds_up_nothing() {
    let mut b = Bench::default();
    let lid = b.part("lid", &[("bolt | thread=M6 x 1", 2)]);
    let cover = b.part_after(
        "cover",
        &[("bolt | thread=M6 x 1", 4)],
        &[Target::Part(lid)],
    );
    let gasket = b.record(Act::ItemRemoved(ItemRemoved {
        kind: ItemKind::Gasket,
        name: "gasket".to_owned(),
        size: String::new(),
        count: 1,
        on: Target::Part(cover),
    }));
    let item = ItemId(gasket.thing(0));
    b.ok(Command::FitItem {
        item,
        n: 1,
        old: true,
    });
    b.ok(Command::PlacePart {
        part: cover,
        anyway: true,
    });
    b.fasten(cover);
    let stand = |b: &Bench| {
        let back = access::back(b.job());
        let acts = back.acts.into_iter();
        acts.map(|it| (it.what, it.stand)).collect::<Vec<_>>()
    };
    assert!(
        stand(&b)
            .iter()
            .any(|it| it.0 == Target::Part(lid) && it.1 != Stand::Now)
    );
    let audit = b.audit();
    let old = audit.open.iter().find(|o| o.rule == Rule::OldItemIn);
    b.ok(Command::Except {
        owed: old.expect("the old one is owed").key(),
        reason: "only to move it".to_owned(),
    });
    assert_eq!(stand(&b), [(Target::Part(lid), Stand::Now)]);
    b.place(lid);
    assert!(b.rules().iter().all(|it| it.0 != Rule::Buried));
}

/// Seven of eight are in by hand and the last is lost: nothing of it can be
/// done, and nothing is offered.
#[test]
fn the_rest_of_a_fixing_that_is_not_to_hand_is_waited_for() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[("bolt | thread=M6 x 1", 8)]);
    let fixing = b.fixing(cover, 0);
    let line = b.job().fixings.get(fixing).unwrap().wants;
    b.record(Act::Moved {
        line,
        from: Account::Bench,
        to: Account::Missing,
        n: 1,
        reason: "rolled away".to_owned(),
    });
    b.place(cover);
    let next = |b: &Bench| view::fixing_row(b.job(), fixing, None, at(b)).unwrap().next;
    assert_eq!(next(&b), NextAct::Start { n: 7 });
    b.ok(Command::Start {
        fixing,
        which: Thing::Next(7),
        line: None,
        anyway: false,
    });
    let NextAct::Wait { text } = next(&b) else {
        panic!("{:?}", next(&b));
    };
    assert_eq!(text, "the last bolt is not to hand");
    let acts = access::back(b.job()).acts;
    let wait = Wait::Delivery(Want::Fixing(fixing));
    assert_eq!(acts[0].stand, Stand::Waiting(vec![wait]));
    let page = view::put_back_page(&b.book, at(&b), &b.at_work());
    assert_eq!(page.next, None);
}

/// A stump is no fastener that is in.
#[test]
fn neighbours_are_not_in_while_one_is_a_stump() {
    let mut b = Bench::default();
    let arm = b.part(
        "arm",
        &[
            ("bolt | thread=M8 x 1.25", 1),
            ("bolt | thread=M10 x 1.5", 1),
        ],
    );
    let (first, second) = (b.fixing(arm, 0), b.fixing(arm, 1));
    b.record(Act::FinalHeld {
        fixing: first,
        until: Hold::Neighbours,
        met: false,
    });
    b.place(arm);
    for fixing in [first, second] {
        b.ok(Command::Start {
            fixing,
            which: Thing::All,
            line: None,
            anyway: false,
        });
    }
    b.record(Act::FastenerBroke {
        fixing: second,
        place: 0,
        stump_in: true,
    });
    let refusal = b.refused(Command::Tighten {
        fixing: first,
        which: Thing::All,
        to: Tight::Final,
        value: None,
    });
    assert!(matches!(refusal, Refusal::FinalHeld { .. }), "{refusal:?}");
}

/// A bolt that reaches the end of its hole stops the successor too.
#[test]
fn the_handover_page_stops_for_all_that_stops_turning() {
    let mut b = Bench::default();
    let pump = b.part("pump", &[("bolt | thread=M8 x 1.25 | length=30", 4)]);
    let fixing = b.fixing(pump, 0);
    b.place(pump);
    b.ok(Command::Start {
        fixing,
        which: Thing::All,
        line: None,
        anyway: false,
    });
    b.record(Act::HoleMeasured {
        fixing,
        hole: Hole {
            parts_um: 9_000,
            washers_um: 0,
            depth_um: 20_000,
            metal: None,
        },
    });
    let page = handover::handover(b.job(), b.ctx.now);
    let stops: Vec<_> = page.stops.iter().map(|(s, o)| (*s, o.rule)).collect();
    assert!(
        stops.contains(&(Stop::DoNotTurn, Rule::WouldBottom)),
        "{stops:?}"
    );
}

/// The pump is lost, and the guard goes on after it: neither is in the order of
/// what comes next, and the pump is named as what holds both up.
#[test]
fn what_comes_after_a_lost_part_is_not_in_the_order() {
    let mut b = Bench::default();
    let (guard, pump, _) = guarded(&mut b, "bolt | thread=M8 x 1.25", 2);
    let free = b.part("bracket", &[("bolt | thread=M6 x 1", 1)]);
    b.record(Act::Moved {
        line: LineId(pump.0),
        from: Account::Bench,
        to: Account::Missing,
        n: 1,
        reason: "not on the shelf".to_owned(),
    });
    let back = access::back(b.job());
    let handy = access::handy(b.job(), &back, &access::Pace::of(&b.book, &b.at_work()));
    assert_eq!(handy.order, [Target::Part(free)]);
    let held: Vec<_> = handy
        .held
        .iter()
        .map(|it| (it.by, it.acts.clone()))
        .collect();
    assert_eq!(
        held,
        [(
            Some(Wait::Lost(pump)),
            vec![Target::Part(pump), Target::Part(guard)]
        )]
    );
    let page = view::put_back_page(&b.book, at(&b), &b.at_work());
    assert!(page.held[0].by.contains("pump"), "{:?}", page.held);
}
