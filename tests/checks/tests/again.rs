//! What comes off a second time, what was covered before it was done, what was
//! said otherwise afterwards. Scenarios are invented; what has to follow is
//! `common practice, no source`.
use countback_checks::bench::*;
use countback_core::access::{self, Stand, Wait};
use countback_core::audit::{Rule, Verdict};
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::tag::TagCode;
use countback_core::torque::TorqueUnit;
use countback_core::view;

fn bag(b: &mut Bench) -> ContainerId {
    let id = b.record(Act::ContainerNamed {
        tag: TagCode::from_payload(21).unwrap().digits(),
        kind: ContainerKind::Bag,
        name: String::new(),
        lies: String::new(),
    });
    ContainerId(id.thing(0))
}

fn start(fixing: FixingId) -> Command {
    Command::Start {
        fixing,
        which: Thing::All,
        line: None,
        anyway: false,
    }
}

fn again(part: PartId, aside: bool) -> Command {
    Command::TakeOffAgain { part, aside }
}

/// A cover comes off a second time: its bolts go back into their bag, its hose
/// end is off, and all of it is owed as at first.
#[test]
fn what_comes_off_again_goes_back_into_its_bag_and_its_hose_end_is_parted() {
    let mut b = Bench::default();
    let container = bag(&mut b);
    let mut off = take_off("cover");
    off.container = ContainerPick::Have(container);
    off.fixings
        .push(FixingDraft::new(spec("bolt | thread=M6 x 1"), 4));
    let cover = b.take_off(off);
    let fixing = b.fixing(cover, 0);
    let in_bag = |b: &Bench| {
        let line = b.job().lines.get(b.job().fixings.get(fixing).unwrap().old);
        line.unwrap().count(Account::Container(container))
    };
    let hose = b.connection(
        "breather hose",
        end(Some(cover), "cover", true),
        end(None, "pipe", false),
        &[],
    );
    let on_cover = EndId {
        connection: hose,
        side: Side::A,
    };
    b.place(cover);
    b.fasten(cover);
    b.join(on_cover);
    assert_eq!(b.audit().verdict, Verdict::Complete);
    // Swung aside, its hose stays on.
    b.ok(again(cover, true));
    assert_eq!(b.job().end(on_cover).unwrap().state, EndState::Secured);
    assert_eq!(in_bag(&b), 4);
    b.place(cover);
    b.fasten(cover);
    b.ok(again(cover, false));
    assert_eq!(b.job().end(on_cover).unwrap().state, EndState::Parted);
    assert!(b.rules().contains(&(Rule::Rejoin, Target::End(on_cover))));
    assert_eq!(in_bag(&b), 4);
    b.place(cover);
    b.fasten(cover);
    b.join(on_cover);
    assert_eq!(b.audit().verdict, Verdict::Complete);
}

/// New ones that were drawn down are not new any more; those that were only
/// started are.
#[test]
fn new_bolts_that_were_drawn_down_are_owed_new_again() {
    let mut b = Bench::default();
    let mut off = take_off("head");
    let mut draft = FixingDraft::new(spec("bolt | thread=M10 x 1.5"), 2);
    draft.reuse = Reuse::Renew;
    off.fixings.push(draft);
    let head = b.take_off(off);
    let fixing = b.fixing(head, 0);
    b.record(Act::Arrived {
        want: Want::Fixing(fixing),
        n: 2,
    });
    b.place(head);
    b.ok(start(fixing));
    b.ok(again(head, false));
    assert!(b.job().to_buy().is_empty(), "only started by hand");
    b.place(head);
    b.fasten(head);
    b.ok(again(head, false));
    let buy = b.job().to_buy();
    assert_eq!(buy.len(), 1);
    assert_eq!((buy[0].want, buy[0].n), (Want::Fixing(fixing), 2));
}

/// Tightened to 40, and then the figure turns out to be 25.
#[test]
fn what_was_made_final_by_another_figure_is_doubtful() {
    let figure = |milli| Figure::Torque {
        milli,
        unit: TorqueUnit::NewtonMetre,
    };
    let mut b = Bench::default();
    let pump = b.part("pump", &[("bolt | thread=M8 x 1.25", 3)]);
    let fixing = b.fixing(pump, 0);
    let say = |b: &mut Bench, stages: Vec<Figure>| {
        let mut detail = b.job().fixings.get(fixing).unwrap().detail.clone();
        detail.stages = stages;
        b.record(Act::FixingDescribed { fixing, detail });
    };
    let doubtful = |b: &Bench| {
        let it = b.job().fixings.get(fixing).unwrap();
        it.count_where(|p| p.state == PlaceState::Doubtful)
    };
    let tighten = |b: &mut Bench, milli| {
        b.ok(Command::Tighten {
            fixing,
            which: Thing::Places(vec![0, 1, 2]),
            to: Tight::Final,
            value: Some(figure(milli)),
        });
    };
    say(&mut b, vec![figure(40_000)]);
    b.place(pump);
    b.ok(start(fixing));
    tighten(&mut b, 40_000);
    assert_eq!(b.audit().verdict, Verdict::Complete);
    // A watch-out alone changes nothing.
    let mut detail = b.job().fixings.get(fixing).unwrap().detail.clone();
    detail.watch = "spring under it".to_owned();
    b.record(Act::FixingDescribed { fixing, detail });
    assert_eq!(doubtful(&b), 0);
    say(&mut b, vec![figure(25_000)]);
    assert_eq!(doubtful(&b), 3);
    assert!(b.audit().has(Rule::Doubtful));
    tighten(&mut b, 25_000);
    // A first stage before the same last one leaves what is final as it is.
    say(&mut b, vec![figure(10_000), figure(25_000)]);
    assert_eq!(doubtful(&b), 0);
    assert_eq!(b.audit().verdict, Verdict::Complete);
}

/// A hose whose bracket is left off hangs open until somebody says what becomes
/// of it; one that was on nothing else goes with the bracket.
#[test]
fn a_hose_on_a_part_that_is_left_off_stays_owed() {
    let mut b = Bench::default();
    let bracket = b.part("bracket", &[("bolt | thread=M6 x 1", 1)]);
    let hose = b.connection(
        "vacuum hose",
        end(Some(bracket), "bracket", true),
        end(None, "inlet", false),
        &[],
    );
    let on_bracket = EndId {
        connection: hose,
        side: Side::A,
    };
    let inner = b.connection(
        "link pipe",
        end(Some(bracket), "top", true),
        end(Some(bracket), "foot", true),
        &[],
    );
    b.ok(Command::LeaveOff {
        what: Target::Part(bracket),
        reason: "not fitted to this engine".to_owned(),
    });
    assert_eq!(b.rules(), [(Rule::Rejoin, Target::End(on_bracket))]);
    for side in [Side::A, Side::B] {
        let end = EndId {
            connection: inner,
            side,
        };
        assert_eq!(b.job().end(end).unwrap().state, EndState::LeftOff);
    }
    let back = access::back(b.job());
    assert_eq!(
        back.stand_of(Target::End(on_bracket)),
        Some(&Stand::Waiting(vec![Wait::Seat(bracket)]))
    );
    b.ok(Command::LeaveOff {
        what: Target::End(on_bracket),
        reason: "plugged".to_owned(),
    });
    assert!(b.audit().open.is_empty());
}

/// Taking the battery off to be safe is owed back, once.
#[test]
fn the_battery_that_was_taken_off_to_be_safe_is_owed_back() {
    let mut b = Bench::default();
    let step = |b: &mut Bench, kind| {
        let id = b.record(Act::SafeStepListed(SafeStep {
            kind,
            text: format!("{kind:?}"),
        }));
        StepId(id.thing(0))
    };
    let supported = step(&mut b, SafeKind::Supported);
    let battery = step(&mut b, SafeKind::BatteryOff);
    b.record(Act::SafeStepConfirmed { step: supported });
    assert!(b.job().supplies.is_empty());
    let confirmed = b.record(Act::SafeStepConfirmed { step: battery });
    let supply = b.job().supplies.ids().next().unwrap();
    assert!(b.rules().contains(&(Rule::Restore, Target::Supply(supply))));
    // Said by mistake, both are gone.
    b.ok(Command::Strike { event: confirmed });
    assert!(b.job().supplies.is_empty());
    // Cut off by itself before, it is the same battery.
    b.record(Act::SupplyIsolated {
        name: "battery".to_owned(),
        kind: SupplyKind::Battery,
    });
    b.record(Act::SafeStepConfirmed { step: battery });
    assert_eq!(b.job().supplies.len(), 1);
}

/// Two of six snap on the way off, their stumps in the block.
#[test]
fn bolts_that_snap_on_the_way_off_are_scrap_and_their_holes_owed_a_repair() {
    let mut b = Bench::default();
    let mut off = take_off("manifold");
    let mut draft = FixingDraft::new(spec("bolt | thread=M8 x 1.25"), 6);
    draft.slackened = 1;
    draft.broke = 2;
    off.fixings.push(draft.clone());
    draft.broke = 6;
    let mut too_many = off.clone();
    too_many.fixings.push(draft);
    let refusal = b.refused(Command::TakeOff(Box::new(too_many)));
    assert!(matches!(refusal, Refusal::CountsDoNotFit { .. }));
    let manifold = b.take_off(off);
    let fixing = b.fixing(manifold, 0);
    let it = b.job().fixings.get(fixing).unwrap();
    assert_eq!(it.where_state(|s| s == PlaceState::Broken), [3, 4]);
    assert_eq!(it.where_state(|s| s == PlaceState::Slackened), [5]);
    let line = b.job().lines.get(it.old).unwrap();
    assert_eq!((line.loose(), line.count(Account::Scrapped)), (3, 2));
    let repair = (Rule::RepairPlace, Target::Fixing(fixing));
    assert!(b.rules().contains(&repair));
    for place in [3, 4] {
        b.record(Act::PlaceRepaired { fixing, place });
    }
    assert!(!b.rules().contains(&repair));
    let buy = b.job().to_buy();
    assert_eq!((buy[0].want, buy[0].n), (Want::Fixing(fixing), 2));
}

/// A rag that a cover was put on over is not taken out by a tap: the cover comes
/// off again, or somebody says that it is reached all the same.
#[test]
fn what_a_part_was_put_on_over_is_not_settled_behind_it() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[("bolt | thread=M6 x 1", 2)]);
    let put_in = b.record(Act::PutIn(PutIn {
        kind: InsideKind::Rag,
        name: "rag".to_owned(),
        n: 1,
        opening: None,
        place: "port 2".to_owned(),
        hidden_by: Some(cover),
    }));
    let inside = InsideId(put_in.thing(0));
    b.ok(Command::PlacePart {
        part: cover,
        anyway: true,
    });
    b.fasten(cover);
    let out = Command::Record(Act::TakenOut { inside, n: 1 });
    let refusal = b.refused(out.clone());
    let what = Target::Inside(inside);
    assert_eq!(refusal, Refusal::Covered { what, by: cover });
    assert_ne!(b.audit().verdict, Verdict::Complete);
    // Where the phone is right, the cover comes off and the rag out.
    let mut right = b.clone();
    right.ok(again(cover, false));
    right.ok(out.clone());
    right.place(cover);
    right.fasten(cover);
    assert_eq!(right.audit().verdict, Verdict::Complete);
    // Where it is wrong, a word is enough, and stays in the record.
    let ways = view::ways_on(&b.book, &refusal).unwrap();
    assert_eq!(ways.go.unwrap().1, cover);
    b.ok(ways.anyway.1);
    b.ok(out);
    assert_eq!(b.audit().verdict, Verdict::Complete);
    assert!(b.job().notes.rows().any(|note| note.on == what));
}

/// Nuts behind a cover are not tightened with the cover on.
#[test]
fn a_joint_behind_a_cover_is_not_tightened_through_it() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[("bolt | thread=M6 x 1", 2)]);
    let pump = b.part_after(
        "pump",
        &[("nut | thread=M8 x 1.25", 2)],
        &[Target::Part(cover)],
    );
    let nuts = b.fixing(pump, 0);
    b.place(pump);
    b.ok(start(nuts));
    b.ok(Command::PlacePart {
        part: cover,
        anyway: true,
    });
    let tighten = Command::Tighten {
        fixing: nuts,
        which: Thing::All,
        to: Tight::Final,
        value: None,
    };
    let what = Target::Fixing(nuts);
    assert_eq!(
        b.refused(tighten.clone()),
        Refusal::Covered { what, by: cover }
    );
    b.ok(again(cover, false));
    b.ok(tighten);
    b.place(cover);
    b.fasten(cover);
    assert_eq!(b.audit().verdict, Verdict::Complete);
}

/// A bolt that holds two parts is in before the second one is put there: it can
/// hardly be through both.
#[test]
fn a_shared_bolt_that_was_in_before_its_second_part_is_doubtful() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[("bolt | thread=M6 x 1", 2)]);
    let mut off = take_off("bracket");
    let mut draft = FixingDraft::new(spec("bolt | thread=M6 x 1"), 1);
    draft.also.push(cover);
    off.fixings.push(draft);
    let bracket = b.take_off(off);
    let shared = b.fixing(bracket, 0);
    b.place(cover);
    b.ok(start(shared));
    b.ok(Command::PlacePart {
        part: bracket,
        anyway: true,
    });
    let it = b.job().fixings.get(shared).unwrap();
    assert_eq!(it.where_state(|s| s == PlaceState::Doubtful), [0]);
    assert!(
        b.rules()
            .contains(&(Rule::Doubtful, Target::Fixing(shared)))
    );
}

/// Paste bought for a pump does not keep the pump off; the new pump does.
#[test]
fn only_what_stands_for_the_part_holds_it_back() {
    let mut b = Bench::default();
    let pump = b.part("pump", &[("bolt | thread=M8 x 1.25", 2)]);
    let on = Target::Part(pump);
    let buy = |b: &mut Bench, what: &str| {
        let what = what.to_owned();
        b.record(Act::BuyListed { what, n: 1, on })
    };
    buy(&mut b, "assembly paste");
    assert_eq!(access::back(b.job()).stand_of(on), Some(&Stand::Now));
    let line = BuyId(buy(&mut b, "pump").thing(0));
    assert_eq!(
        access::back(b.job()).stand_of(on),
        Some(&Stand::Waiting(vec![Wait::Delivery(Want::Line(line))]))
    );
}

/// What is behind a part that was put on too early is not among what can be done
/// now: it waits for that part to come off.
#[test]
fn what_is_behind_a_part_that_is_on_is_not_offered_as_next() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[("bolt | thread=M6 x 1", 2)]);
    let plug = b.connection(
        "sensor plug",
        end(None, "sensor", true),
        end(None, "loom", false),
        &[Target::Part(cover)],
    );
    let sensor = EndId {
        connection: plug,
        side: Side::A,
    };
    let stand = |b: &Bench| access::back(b.job()).stand_of(Target::End(sensor)).cloned();
    assert_eq!(stand(&b), Some(Stand::Now));
    b.ok(Command::PlacePart {
        part: cover,
        anyway: true,
    });
    assert_eq!(stand(&b), Some(Stand::Waiting(vec![Wait::Behind(cover)])));
    b.ok(Command::Reached {
        what: Target::End(sensor),
        reason: "from below".to_owned(),
    });
    assert_eq!(stand(&b), Some(Stand::Now));
}

/// A cover that was put on over a pump is not what to go on with: whatever is
/// tightened on it has to be undone.
#[test]
fn a_part_that_is_on_over_what_is_owed_comes_off_again_before_it_is_tightened() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[("bolt | thread=M6 x 1", 2)]);
    let pump = b.part_after(
        "pump",
        &[("nut | thread=M8 x 1.25", 2)],
        &[Target::Part(cover)],
    );
    b.ok(Command::PlacePart {
        part: cover,
        anyway: true,
    });
    let on = Target::Part(cover);
    let over = Stand::Waiting(vec![Wait::Over(Target::Part(pump))]);
    assert_eq!(access::back(b.job()).stand_of(on), Some(&over));
    let at = view::At {
        now: b.ctx.now,
        open_since: 0,
        style: countback_core::words::Style::default(),
    };
    let page = view::put_back_page(&b.book, at, &b.at_work());
    assert_eq!(page.next.map(|row| row.what), Some(on));
    let page = view::part_page(&b.book, cover, at).unwrap();
    assert_eq!(page.hides, ["pump"]);
    b.ok(again(cover, false));
    assert_eq!(
        access::back(b.job()).stand_of(Target::Part(pump)),
        Some(&Stand::Now)
    );
}

/// A hose that was seen to be cracked is not joined before it is decided whether
/// a new one comes.
#[test]
fn a_hose_with_a_finding_waits_for_the_decision_and_its_part_does_not() {
    let mut b = Bench::default();
    let pump = b.part("pump", &[("bolt | thread=M8 x 1.25", 2)]);
    let hose = b.connection(
        "feed hose",
        end(Some(pump), "pump", true),
        end(None, "tank", false),
        &[],
    );
    let end = Target::End(EndId {
        connection: hose,
        side: Side::A,
    });
    let finding = b.record(Act::FindingNoted {
        on: Target::Connection(hose),
        text: "cracked at the clamp".to_owned(),
    });
    let finding = FindingId(finding.thing(0));
    let stand = |b: &Bench, what| access::back(b.job()).stand_of(what).cloned();
    assert_eq!(stand(&b, Target::Part(pump)), Some(Stand::Now));
    b.place(pump);
    let waits = |wait| Some(Stand::Waiting(vec![wait]));
    assert_eq!(stand(&b, end), waits(Wait::Decision(finding)));
    b.record(Act::Decided {
        finding,
        decision: Decision::Renew,
        reason: "new one".to_owned(),
    });
    assert_eq!(stand(&b, end), waits(Wait::Work(finding)));
    b.record(Act::WorkDone { finding });
    assert_eq!(stand(&b, end), Some(Stand::Now));
}
