//! The user stories of the main job, each as a person would live it. Scenario
//! figures are invented; nothing here is a specification. Longer than most
//! files: one story after the other.
//!
//! Stories that live beside what serves them: the bolt on the floor and the one
//! over in `find.rs` and `identify.rs`, the phone that dies and the round of
//! stages gone on with in `guard.rs`, the successor's page in `handover.rs`, the
//! misspelt word and the tag of the other job in `find.rs`, the way under the
//! machine once in `positions.rs`.
use countback_checks::bench::*;
use countback_core::access::{self, Stand};
use countback_core::audit::{Rule, Verdict};
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::procedure::Procedure;
use countback_core::tag::TagCode;
use countback_core::torque::hole::{HoleVerdict, Stack, check_length};
use countback_core::view;
use countback_core::words::{self, Style};

#[test]
fn three_lengths_in_one_cover_cannot_be_mixed() {
    let mut b = Bench::default();
    let mut off = take_off("timing cover");
    for (text, holes) in [
        ("bolt | thread=M6 x 1 | length=20", vec![1, 4, 6, 9]),
        ("bolt | thread=M6 x 1 | length=35", vec![2, 3, 5, 7, 8]),
        ("bolt | thread=M6 x 1 | length=60", vec![10, 11]),
    ] {
        let mut draft = FixingDraft::new(spec(text), holes.len() as u16);
        draft.numbers = holes;
        off.fixings.push(draft);
    }
    let cover = b.take_off(off);
    let (short, long) = (b.fixing(cover, 0), b.fixing(cover, 2));
    let long_line = b.job().fixings.get(long).unwrap().wants;
    b.place(cover);
    // A 60 offered for hole 4, which wants a 20.
    let hole_4 = Thing::Places(vec![1]);
    let refusal = b.refused(Command::Start {
        fixing: short,
        which: hole_4.clone(),
        line: Some(long_line),
        anyway: false,
    });
    let Refusal::WrongThing {
        place,
        short: short_of,
        ..
    } = refusal
    else {
        panic!("{refusal:?}")
    };
    assert_eq!((place, short_of), (4, Some(long)));
    // Done anyway, it is a swap: final is refused and the audit names both.
    b.ok(Command::Start {
        fixing: short,
        which: hole_4,
        line: Some(long_line),
        anyway: true,
    });
    let short_line = b.job().fixings.get(short).unwrap().wants;
    let to_long = Thing::Places(vec![0]);
    b.ok(Command::Start {
        fixing: long,
        which: to_long,
        line: Some(short_line),
        anyway: true,
    });
    b.ok(Command::Start {
        fixing: short,
        which: Thing::All,
        line: None,
        anyway: false,
    });
    b.ok(Command::Start {
        fixing: long,
        which: Thing::All,
        line: None,
        anyway: false,
    });
    b.fasten_fixing(b.fixing(cover, 1));
    let total: usize = b
        .job()
        .fixings
        .rows()
        .map(|f| f.count_where(|p| p.state.filled()))
        .sum();
    assert_eq!(total, 11, "the count alone would pass");
    let refusal = b.refused(Command::Tighten {
        fixing: short,
        which: Thing::All,
        to: Tight::Final,
        value: None,
    });
    assert!(matches!(refusal, Refusal::WrongThing { place: 4, .. }));
    let swaps: Vec<_> = b
        .audit()
        .open
        .into_iter()
        .filter(|o| o.rule == Rule::WrongThing)
        .collect();
    assert_eq!(swaps.len(), 2);
    assert_eq!(swaps[0].places, vec![1]);
}

fn in_place(fixing: FixingId, line: LineId, anyway: bool) -> Command {
    Command::Start {
        fixing,
        which: Thing::Places(vec![0]),
        line: Some(line),
        anyway,
    }
}

/// What the audit names by a rule, with its words.
fn named_by(b: &Bench, rule: Rule) -> Vec<(Target, String)> {
    let audit = b.audit();
    let lines = audit.open.iter().filter(|o| o.rule == rule);
    lines
        .map(|o| (o.on, words::owed(b.job(), o, Style::default()).what))
        .collect()
}

#[test]
fn two_shims_swapped_are_wrong_although_the_count_is_right() {
    let mut b = Bench::default();
    let mut off = take_off("camshaft");
    for (text, place) in [
        ("shim | length=2.35", "inlet 1"),
        ("shim | length=2.6", "exhaust 1"),
    ] {
        let mut draft = FixingDraft::new(spec(text), 1);
        draft.place = place.to_owned();
        off.fixings.push(draft);
    }
    let shaft = b.take_off(off);
    let (inlet, exhaust) = (b.fixing(shaft, 0), b.fixing(shaft, 1));
    let line = |b: &Bench, f: FixingId| b.job().fixings.get(f).unwrap().wants;
    let (thin, thick) = (line(&b, inlet), line(&b, exhaust));
    b.place(shaft);
    let refusal = b.refused(in_place(inlet, thick, false));
    assert_eq!(
        words::refusal(b.job(), &refusal, Style::default()),
        "Place 1 wants 2.35 mm shim, not 2.6 mm shim. 2.6 mm shim of camshaft, exhaust 1 would then be one short."
    );
    for (fixing, line) in [(inlet, thick), (exhaust, thin)] {
        b.ok(in_place(fixing, line, true));
    }
    // Two came out, two are in, none lies loose; and both places are named.
    assert!(b.job().lines.rows().all(|l| l.loose() == 0));
    let wrong = named_by(&b, Rule::WrongThing);
    let on: Vec<Target> = wrong.iter().map(|it| it.0).collect();
    assert_eq!(on, [Target::Fixing(inlet), Target::Fixing(exhaust)]);
    assert!(wrong[0].1.contains("2.6 mm shim"), "{wrong:?}");
    assert_ne!(b.audit().verdict, Verdict::Complete);
    for (fixing, own) in [(inlet, thin), (exhaust, thick)] {
        b.record(Act::FastenersUndone {
            fixing,
            places: vec![0],
            out: true,
            to: Account::Bench,
        });
        assert_eq!(line(&b, fixing), own);
    }
    b.fasten(shaft);
    assert_eq!(b.audit().verdict, Verdict::Complete);
}

#[test]
fn shims_that_nobody_measured_are_counted_one_by_one_and_told_apart() {
    let mut b = Bench::default();
    let mut off = take_off("bearing cap");
    let mut draft = FixingDraft::new(spec("shim"), 3);
    draft.place = "left".to_owned();
    draft.found_empty = 1;
    off.fixings.push(draft);
    off.fixings.push(FixingDraft::new(spec("bolt"), 2));
    let cap = b.take_off(off);
    let places: Vec<&str> = (0..4)
        .map(|n| {
            b.job()
                .fixings
                .get(b.fixing(cap, n))
                .unwrap()
                .place
                .as_str()
        })
        .collect();
    assert_eq!(places, ["left, 1 of 3", "left, 2 of 3", "left, 3 of 3", ""]);
    let (one, two) = (b.fixing(cap, 0), b.fixing(cap, 1));
    b.place(cap);
    for (fixing, other) in [(one, two), (two, one)] {
        let line = b.job().fixings.get(other).unwrap().old;
        let refusal = b.refused(in_place(fixing, line, false));
        assert!(matches!(refusal, Refusal::WrongThing { .. }));
        b.ok(in_place(fixing, line, true));
    }
    let on: Vec<Target> = named_by(&b, Rule::WrongThing)
        .iter()
        .map(|it| it.0)
        .collect();
    assert_eq!(on, [Target::Fixing(one), Target::Fixing(two)]);
}

#[test]
fn shims_under_bolts_swapped_between_two_places_are_both_named_until_they_are_put_right() {
    let mut b = Bench::default();
    let mut off = take_off("bracket");
    for (shim, place) in [
        ("shim | length=0.5", "upper"),
        ("shim | length=0.8", "lower"),
    ] {
        let mut draft = FixingDraft::new(spec("bolt | thread=M8 x 1.25 | length=25"), 2);
        draft.place = place.to_owned();
        draft.extras.push(Extra {
            spec: spec(shim),
            per_place: 1,
        });
        off.fixings.push(draft);
    }
    let bracket = b.take_off(off);
    let (upper, lower) = (b.fixing(bracket, 0), b.fixing(bracket, 1));
    let shims = |b: &Bench, f: FixingId| b.job().fixings.get(f).unwrap().extras[0].0;
    let (thin, thick) = (shims(&b, upper), shims(&b, lower));
    b.place(bracket);
    let other = |fixing, line, anyway| Command::FitOther {
        fixing,
        line,
        anyway,
    };
    let refusal = b.refused(other(upper, thick, false));
    assert_eq!(
        words::refusal(b.job(), &refusal, Style::default()),
        "M8 x 25 bolts of bracket, upper: 0.5 mm shim belongs there, not 0.8 mm shim of bracket."
    );
    b.ok(other(upper, thick, true));
    b.ok(other(lower, thin, true));
    b.ok(Command::FitExtras { fixing: upper });
    b.ok(Command::FitExtras { fixing: lower });
    b.fasten(bracket);
    // Four shims came out and four are in.
    assert!(b.job().lines.rows().all(|l| l.loose() == 0));
    let both = [Target::Fixing(upper), Target::Fixing(lower)];
    let on = |b: &Bench, rule| -> Vec<Target> {
        let mut on: Vec<Target> = named_by(b, rule).iter().map(|it| it.0).collect();
        on.sort();
        on
    };
    assert_eq!(on(&b, Rule::WrongExtra), both);
    assert_eq!(on(&b, Rule::FitExtra), both);
    assert_eq!(
        named_by(&b, Rule::WrongExtra)[0].1,
        "1 × 0.8 mm shim of bracket sits at M8 x 25 bolts of bracket, upper"
    );
    // Out with its bolt, the strange one comes out, and the three others stay.
    for fixing in [upper, lower] {
        b.record(Act::FastenersUndone {
            fixing,
            places: vec![0],
            out: true,
            to: Account::Bench,
        });
    }
    for (line, at) in [(thin, upper), (thick, lower)] {
        let line = b.job().lines.get(line).unwrap();
        assert_eq!((line.count(Account::Fixing(at)), line.loose()), (1, 1));
    }
    for fixing in [upper, lower] {
        b.ok(Command::FitExtras { fixing });
    }
    b.fasten(bracket);
    assert_eq!(b.audit().verdict, Verdict::Complete);
}

#[test]
fn a_hose_has_two_ends_and_each_is_owed_by_itself() {
    let mut b = Bench::default();
    let housing = b.part("thermostat housing", &[("bolt | thread=M6 x 1", 2)]);
    let hose = b.connection(
        "top hose",
        end(Some(housing), "housing", false),
        end(None, "radiator", true),
        &[],
    );
    let (a, radiator) = (side(hose, Side::A), side(hose, Side::B));
    assert_eq!(b.job().end(a).unwrap().state, EndState::Undisturbed);
    assert!(b.rules().contains(&(Rule::Rejoin, Target::End(radiator))));
    b.ok(Command::Rejoin {
        end: radiator,
        seat: radiator,
        anyway: false,
    });
    assert!(
        b.rules().contains(&(Rule::Secure, Target::End(radiator))),
        "pushed on is not tight"
    );
    b.record(Act::EndSecured { end: radiator });
    assert!(!b.rules().iter().any(|(_, on)| *on == Target::End(radiator)));
    b.ok(Command::PartEnd { end: a });
    b.ok(Command::PartEnd { end: radiator });
    b.place(housing);
    b.fasten(housing);
    let left: Vec<_> = b.rules();
    assert_eq!(
        left,
        vec![
            (Rule::Rejoin, Target::End(a)),
            (Rule::Rejoin, Target::End(radiator))
        ]
    );
}

#[test]
fn a_plug_behind_a_part_stops_the_part() {
    let mut b = Bench::default();
    let alternator = b.part("alternator", &[("bolt | thread=M8 x 1.25", 2)]);
    let plug = b.connection(
        "crank sensor plug",
        end(None, "sensor", true),
        end(None, "loom", false),
        &[Target::Part(alternator)],
    );
    let sensor = side(plug, Side::A);
    let refusal = b.refused(Command::PlacePart {
        part: alternator,
        anyway: false,
    });
    assert_eq!(
        refusal,
        Refusal::WouldBury {
            part: alternator,
            owed: vec![Target::Connection(plug)]
        }
    );
    let back = access::back(b.job());
    assert_eq!(back.acts[0].what, Target::End(sensor));
    assert_eq!(back.acts[0].stand, Stand::Now);
    assert_eq!(
        back.stand_of(Target::Part(alternator)),
        Some(&Stand::Blocked(vec![Target::Connection(plug)]))
    );
    b.ok(Command::PlacePart {
        part: alternator,
        anyway: true,
    });
    assert!(
        b.rules()
            .contains(&(Rule::Buried, Target::Connection(plug)))
    );
}

#[test]
fn a_bolt_that_holds_two_parts_is_one_bolt_and_not_final_until_both_are_there() {
    let mut b = Bench::default();
    let bracket = b.part("hose bracket", &[]);
    let mut off = take_off("alternator");
    let mut draft = FixingDraft::new(spec("bolt | thread=M8 x 1.25 | length=70"), 1);
    draft.also = vec![bracket];
    off.fixings.push(draft);
    let alternator = b.take_off(off);
    let shared = b.fixing(alternator, 0);
    assert_eq!(
        b.job()
            .lines
            .get(b.job().fixings.get(shared).unwrap().old)
            .unwrap()
            .total(),
        1
    );
    b.place(alternator);
    b.ok(Command::Start {
        fixing: shared,
        which: Thing::All,
        line: None,
        anyway: false,
    });
    let refusal = b.refused(Command::Tighten {
        fixing: shared,
        which: Thing::All,
        to: Tight::Final,
        value: None,
    });
    assert_eq!(
        refusal,
        Refusal::StackIncomplete {
            fixing: shared,
            part: bracket
        }
    );
    // It was in before the bracket came, so it is hardly through both.
    b.place(bracket);
    assert_eq!(b.rules(), [(Rule::Doubtful, Target::Fixing(shared))]);
    b.record(Act::FastenersUndone {
        fixing: shared,
        places: vec![0],
        out: true,
        to: Account::Bench,
    });
    b.fasten(alternator);
    assert_eq!(b.audit().verdict, Verdict::Complete);
}

#[test]
fn a_stud_that_came_out_with_its_nut_is_two_things_in_one_place() {
    let mut b = Bench::default();
    let mut off = take_off("bracket");
    let mut draft = FixingDraft::new(spec("nut | thread=M6 x 1"), 1);
    draft.extras.push(Extra {
        spec: spec("stud | thread=M6 x 1 | length=45"),
        per_place: 1,
    });
    off.fixings.push(draft);
    let bracket = b.take_off(off);
    let fixing = b.fixing(bracket, 0);
    // Does the hole open into coolant? Asked as a finding, and decided.
    let finding = FindingId(
        b.record(Act::FindingNoted {
            on: Target::Fixing(fixing),
            text: "stud came out: does its hole open into coolant?".to_owned(),
        })
        .thing(0),
    );
    assert_eq!(b.job().lines.rows().filter(|l| l.loose() == 1).count(), 3);
    b.place(bracket);
    b.ok(Command::Start {
        fixing,
        which: Thing::All,
        line: None,
        anyway: false,
    });
    assert!(
        b.rules()
            .contains(&(Rule::FitExtra, Target::Fixing(fixing)))
    );
    b.ok(Command::FitExtras { fixing });
    b.ok(final_on(fixing, Thing::All));
    assert_eq!(b.rules(), vec![(Rule::Decide, Target::Finding(finding))]);
    b.record(Act::Decided {
        finding,
        decision: Decision::Refit,
        reason: "blind hole".to_owned(),
    });
    assert_eq!(b.audit().verdict, Verdict::Complete);
}

fn bag(b: &mut Bench, payload: u16) -> ContainerId {
    let tag = TagCode::from_payload(payload).unwrap().digits();
    let id = b.record(Act::ContainerNamed {
        tag,
        kind: ContainerKind::Bag,
        name: String::new(),
        lies: "shelf".to_owned(),
    });
    ContainerId(id.thing(0))
}

fn final_on(fixing: FixingId, which: Thing) -> Command {
    Command::Tighten {
        fixing,
        which,
        to: Tight::Final,
        value: None,
    }
}

fn start(fixing: FixingId, which: Thing) -> Command {
    Command::Start {
        fixing,
        which,
        line: None,
        anyway: false,
    }
}

#[test]
fn the_bolts_of_one_cover_lie_in_two_bags() {
    let mut b = Bench::default();
    let (bag_7, bag_9) = (bag(&mut b, 7), bag(&mut b, 9));
    let mut off = take_off("cover");
    let mut draft = FixingDraft::new(spec("bolt | thread=M6 x 1 | length=20"), 11);
    draft.apart = Some((bag_9, 2));
    off.fixings.push(draft);
    off.container = ContainerPick::Have(bag_7);
    let cover = b.take_off(off);
    let mut off = take_off("pump");
    off.fixings
        .push(FixingDraft::new(spec("bolt | thread=M8 x 1.25"), 6));
    off.container = ContainerPick::Have(bag_9);
    b.take_off(off);
    let fixing = b.fixing(cover, 0);
    let line = b.job().fixings.get(fixing).unwrap().wants;
    let at = |b: &Bench| b.job().lines.get(line).unwrap().loose_at();
    assert_eq!(
        at(&b),
        vec![
            (Account::Container(bag_7), 9),
            (Account::Container(bag_9), 2)
        ]
    );
    let in_bag_9 = |b: &Bench| -> u32 {
        let lines = b.job().lines.rows();
        lines.map(|l| l.count(Account::Container(bag_9))).sum()
    };
    assert_eq!(in_bag_9(&b), 8);
    b.place(cover);
    b.ok(start(fixing, Thing::Next(9)));
    assert_eq!(
        at(&b),
        vec![(Account::Container(bag_9), 2)],
        "bag 7 is empty, the part is not finished"
    );
    assert!(
        b.rules()
            .contains(&(Rule::StartFasteners, Target::Fixing(fixing)))
    );
    b.ok(start(fixing, Thing::All));
    b.ok(final_on(fixing, Thing::All));
    assert_eq!(in_bag_9(&b), 6);
    assert!(
        !b.rules()
            .iter()
            .any(|(_, on)| *on == Target::Fixing(fixing))
    );
}

#[test]
fn a_bolt_that_shears_leaves_a_place_to_repair_and_one_to_buy() {
    let mut b = Bench::default();
    let pump = b.part("pump", &[("bolt | thread=M10 x 1.5 | length=40", 4)]);
    let fixing = b.fixing(pump, 0);
    b.record(Act::FastenerBroke {
        fixing,
        place: 2,
        stump_in: true,
    });
    assert!(
        b.rules()
            .contains(&(Rule::RepairPlace, Target::Fixing(fixing)))
    );
    let line = b.job().fixings.get(fixing).unwrap().wants;
    assert_eq!(b.job().lines.get(line).unwrap().count(Account::Scrapped), 1);
    let to_buy = b.job().to_buy();
    assert_eq!(to_buy.len(), 1);
    assert_eq!((to_buy[0].want, to_buy[0].n), (Want::Fixing(fixing), 1));
    b.place(pump);
    b.ok(start(fixing, Thing::All));
    assert_eq!(
        b.refused(start(fixing, Thing::Places(vec![2]))),
        Refusal::RepairFirst { fixing, place: 2 }
    );
    b.record(Act::PlaceRepaired { fixing, place: 2 });
    assert!(matches!(
        b.refused(start(fixing, Thing::All)),
        Refusal::NotThere { wanted: 1, .. }
    ));
    b.record(Act::Arrived {
        want: Want::Fixing(fixing),
        n: 1,
    });
    b.ok(start(fixing, Thing::All));
    b.ok(final_on(fixing, Thing::All));
    assert_eq!(b.audit().verdict, Verdict::Complete);
}

#[test]
fn a_new_pump_takes_other_bolts_and_the_old_stay_as_a_pattern() {
    let mut b = Bench::default();
    let pump = b.part("pump", &[("bolt | thread=M8 x 1.25 | length=30", 6)]);
    let fixing = b.fixing(pump, 0);
    let old = b.job().fixings.get(fixing).unwrap().old;
    let hole = |thickness_um| Stack {
        thickness_um,
        hole_depth_um: 20_000,
        metal: None,
    };
    // 12 mm flange and 30 mm bolt engage 18; 9 mm would bottom at 21 in 20.
    let engages = |length_um, stack| check_length(length_um, None, stack);
    assert!(matches!(
        engages(30_000, hole(12_000)),
        HoleVerdict::Fits {
            engaged_um: 18_000,
            ..
        }
    ));
    assert_eq!(
        engages(30_000, hole(9_000)),
        HoleVerdict::Bottoms {
            reach_um: 21_000,
            hole_um: 20_000
        }
    );
    assert!(matches!(
        engages(28_000, hole(9_000)),
        HoleVerdict::Fits {
            engaged_um: 19_000,
            ..
        }
    ));
    b.ok(Command::Replace {
        part: pump,
        note: "thinner flange".to_owned(),
        as_ordered: true,
        fasteners: vec![(fixing, spec("bolt | thread=M8 x 1.25 | length=28"))],
    });
    let row = b.job().lines.get(old).unwrap();
    assert_eq!((row.count(Account::Spare), row.loose()), (6, 0));
    assert_eq!(b.job().short_of(b.job().fixings.get(fixing).unwrap()), 6);
    b.place(pump);
    b.record(Act::Moved {
        line: old,
        from: Account::Spare,
        to: Account::Bench,
        n: 6,
        reason: "to compare".to_owned(),
    });
    assert_eq!(
        b.refused(Command::Start {
            fixing,
            which: Thing::All,
            line: Some(old),
            anyway: false
        }),
        Refusal::NeedsNew {
            what: Target::Fixing(fixing),
            short: 1
        }
    );
    assert!(b.rules().contains(&(Rule::LeftOver, Target::Line(old))));
    b.record(Act::Moved {
        line: old,
        from: Account::Bench,
        to: Account::Spare,
        n: 6,
        reason: "pattern, do not fit".to_owned(),
    });
    b.ok(start(fixing, Thing::All));
    b.ok(final_on(fixing, Thing::All));
    assert_eq!(b.audit().verdict, Verdict::Complete);
}

#[test]
fn what_is_left_off_by_design_closes_its_places_with_a_reason() {
    let mut b = Bench::default();
    let pump = b.part("auxiliary pump", &[("bolt | thread=M6 x 1 | length=20", 2)]);
    let hoses = ["feed hose", "return hose"].map(|name| {
        b.connection(
            name,
            end(Some(pump), "pump", true),
            end(None, "engine", false),
            &[],
        )
    });
    let plug = b.connection(
        "pump plug",
        end(Some(pump), "pump", true),
        end(None, "loom", false),
        &[],
    );
    let live = b.record(Act::FindingNoted {
        on: Target::Connection(plug),
        text: "live end hangs free: seal it off".to_owned(),
    });
    let live = FindingId(live.thing(0));
    assert_eq!(
        b.refused(Command::LeaveOff {
            what: Target::Part(pump),
            reason: " ".to_owned()
        }),
        Refusal::ReasonMissing
    );
    b.ok(Command::LeaveOff {
        what: Target::Part(pump),
        reason: "dead, heater works without".to_owned(),
    });
    let places = b.job().fixings.rows().next().unwrap();
    assert_eq!(places.count_where(|p| p.state == PlaceState::LeftEmpty), 2);
    assert_eq!(
        b.job().parts.get(pump).unwrap().left_off_why,
        "dead, heater works without"
    );
    // Each end that hangs open now is owed a word of its own.
    for connection in hoses.into_iter().chain([plug]) {
        let what = Target::End(side(connection, Side::A));
        assert!(b.rules().contains(&(Rule::Rejoin, what)));
        let reason = "joined to one another, the plug capped".to_owned();
        b.ok(Command::LeaveOff { what, reason });
        let state = b.job().end(side(connection, Side::A)).unwrap().state;
        assert_eq!(state, EndState::LeftOff);
    }
    // One joiner and two new clips come instead.
    let mut off = take_off("joiner");
    off.fixings.push(FixingDraft::new(spec("clip"), 2));
    let joiner = b.take_off(off);
    b.place(joiner);
    b.ok(start(b.fixing(joiner, 0), Thing::All));
    assert_eq!(b.rules(), vec![(Rule::Decide, Target::Finding(live))]);
    b.record(Act::Decided {
        finding: live,
        decision: Decision::Repair,
        reason: "cap it".to_owned(),
    });
    assert_eq!(b.rules(), vec![(Rule::DoWork, Target::Finding(live))]);
    b.record(Act::WorkDone { finding: live });
    assert_eq!(b.audit().verdict, Verdict::Complete);
    assert!(
        b.job()
            .lines
            .rows()
            .all(countback_core::ledger::Line::balances)
    );
}

#[test]
fn sealant_cures_by_the_latest_time_known_whatever_the_clock_says() {
    let mut b = Bench::default();
    let mut off = take_off("cover");
    off.treatments.push(
        Treatment {
            kind: TreatmentKind::Sealant,
            product: "silicone".to_owned(),
            on: Target::Job,
            cure_min: 24 * 60,
            open_min: Some(10),
            holds_fill: true,
            holds_start: true,
            holds_cover: false,
        }
        .into(),
    );
    let cover = b.take_off(off);
    let bracket = b.part("bracket", &[]);
    let fluid = FluidId(
        b.record(Act::FluidDrained {
            name: "coolant".to_owned(),
            amount: "6 l".to_owned(),
            bleed: false,
        })
        .thing(0),
    );
    let treatment = b.job().treatments.ids().next().unwrap();
    b.record(Act::TreatmentApplied { treatment });
    let applied = b.ctx.now;
    // Assembled 13 minutes after, where the tube says 10.
    b.ctx.now += 12 * MINUTE;
    b.place(cover);
    assert!(
        b.rules()
            .contains(&(Rule::ClosedLate, Target::Treatment(treatment)))
    );
    let fill = Command::Record(Act::FluidFilled {
        fluid,
        amount: String::new(),
    });
    let until = applied + 24 * HOUR;
    b.ctx.now = applied + 6 * HOUR;
    assert_eq!(
        b.refused(fill.clone()),
        Refusal::Curing { treatment, until }
    );
    // Other work goes on.
    b.place(bracket);
    // A clock set back, for a week, brings nothing nearer and loses no time.
    b.ctx.now = applied - 7 * 24 * HOUR;
    assert_eq!(
        b.refused(fill.clone()),
        Refusal::Curing { treatment, until }
    );
    assert!(b.book.now(b.ctx.now) >= applied + 6 * HOUR);
    // Set forward by mistake while a note was made, and back again: the note
    // carries the wrong time, the sealant is not cured by it.
    b.ctx.now = applied + 40 * 24 * HOUR;
    b.record(Act::NoteAdded {
        on: Target::Job,
        text: "clock was wrong".to_owned(),
    });
    b.ctx.now = applied + 7 * HOUR;
    assert_eq!(
        b.refused(fill.clone()),
        Refusal::Curing { treatment, until }
    );
    b.ctx.now = until;
    b.ok(fill);
}

#[test]
fn a_banjo_bolt_owes_two_washers_and_waits_for_them() {
    let mut b = Bench::default();
    let tank = b.part("tank", &[("bolt | thread=M6 x 1", 2)]);
    let mut feed = end(None, "head", true);
    feed.joint = Joint::UnionBolt;
    let oil = b.connection(
        "oil feed",
        feed,
        end(None, "pump", false),
        &[Target::Part(tank)],
    );
    let joint = side(oil, Side::A);
    let item = b.job().end(joint).unwrap().items[0];
    let to_buy = b.job().to_buy();
    assert_eq!((to_buy[0].want, to_buy[0].n), (Want::Item(item), 2));
    let back = access::back(b.job());
    assert_eq!(
        back.stand_of(Target::End(joint)),
        Some(&Stand::Waiting(vec![access::Wait::Delivery(Want::Item(
            item
        ))]))
    );
    assert_eq!(
        back.stand_of(Target::Part(tank)),
        Some(&Stand::Blocked(vec![Target::Connection(oil)])),
        "the tank waits behind the joint"
    );
    // The old ones fitted are a temporary that blocks complete.
    b.ok(Command::FitItem {
        item,
        n: 2,
        old: true,
    });
    b.join(joint);
    b.ok(Command::PlacePart {
        part: tank,
        anyway: true,
    });
    b.fasten(tank);
    assert!(b.rules().contains(&(Rule::OldItemIn, Target::Item(item))));
    assert_ne!(b.audit().verdict, Verdict::Complete);
    assert!(b.tell(Command::SignOff).is_err());
    b.record(Act::Arrived {
        want: Want::Item(item),
        n: 2,
    });
    let new = Command::FitItem {
        item,
        n: 2,
        old: false,
    };
    // Two new washers get under a bolt that is tight only by way of the tank.
    assert!(matches!(b.refused(new.clone()), Refusal::ShutOver { .. }));
    b.ok(Command::TakeOffAgain {
        part: tank,
        aside: false,
    });
    b.ok(Command::PartEnd { end: joint });
    b.ok(new);
    b.join(joint);
    b.place(tank);
    b.fasten(tank);
    assert_eq!(b.audit().verdict, Verdict::Complete);
}

#[test]
fn a_union_bolt_among_the_fasteners_brings_two_washers_each() {
    let mut b = Bench::default();
    let mut off = take_off("caliper line");
    let mut draft = FixingDraft::new(spec("bolt | thread=M10 x 1"), 2);
    draft.union = true;
    off.fixings.push(draft);
    let part = b.take_off(off);
    let fixing = b.fixing(part, 0);
    let item = b.job().fixings.get(fixing).unwrap().items[0];
    assert_eq!(b.job().items.get(item).unwrap().count, 4);
    assert!(
        b.job()
            .to_buy()
            .iter()
            .any(|l| l.want == Want::Item(item) && l.n == 4)
    );
    let new_ones = Command::FitItem {
        item,
        n: 4,
        old: false,
    };
    b.ok(new_ones);
    b.place(part);
    b.fasten(part);
    b.looked_at_by("Bo");
    assert_eq!(b.audit().verdict, Verdict::Complete);
    // One bolt out again, and its two washers are spent.
    b.record(Act::FastenersUndone {
        fixing,
        places: vec![0],
        out: true,
        to: Account::Bench,
    });
    assert_eq!(b.job().items.get(item).unwrap().to_buy(), 2);
}

#[test]
fn a_socket_and_a_rag_inside_stop_everything_though_every_place_is_final() {
    let mut b = Bench::default();
    let manifold = b.part("manifold", &[("bolt | thread=M8 x 1.25", 41)]);
    let port = OpeningId(
        b.record(Act::OpeningMade {
            name: "port 2".to_owned(),
            on: None,
            shut_by: Some(manifold),
        })
        .thing(0),
    );
    let put = |b: &mut Bench, kind, name: &str, opening| {
        InsideId(
            b.record(Act::PutIn(PutIn {
                kind,
                name: name.to_owned(),
                n: 2,
                opening,
                place: "port 2".to_owned(),
                hidden_by: None,
            }))
            .thing(0),
        )
    };
    let rags = put(&mut b, InsideKind::Rag, "rag", Some(port));
    let pins = put(&mut b, InsideKind::LockingPin, "timing pin", None);
    let sockets = put(&mut b, InsideKind::Tool, "10 mm socket", None);
    b.record(Act::TakenOut { inside: pins, n: 2 });
    b.record(Act::TakenOut {
        inside: sockets,
        n: 1,
    });
    b.record(Act::TakenOut { inside: rags, n: 1 });
    let refusal = b.refused(Command::PlacePart {
        part: manifold,
        anyway: false,
    });
    assert_eq!(
        refusal,
        Refusal::WouldBury {
            part: manifold,
            owed: vec![Target::Opening(port)]
        }
    );
    b.ok(Command::PlacePart {
        part: manifold,
        anyway: true,
    });
    b.fasten(manifold);
    assert_eq!(
        b.audit().verdict,
        Verdict::DoNotTurn {
            inside: vec![Target::Inside(rags), Target::Inside(sockets)]
        }
    );
    // Not even with a name and a reason.
    let key = b.audit().open[0].key();
    assert_eq!(
        b.refused(Command::Except {
            owed: key,
            reason: "it will burn".to_owned()
        }),
        Refusal::StillInside { n: 1 }
    );
}

#[test]
fn slackened_places_are_owed_though_nothing_lies_in_a_bag() {
    let mut b = Bench::default();
    let mut off = take_off("oil cooler");
    off.part.aside = true;
    let mut draft = FixingDraft::new(spec("bolt | thread=M8 x 1.25"), 5);
    draft.slackened = 3;
    off.fixings.push(draft);
    let cooler = b.take_off(off);
    let fixing = b.fixing(cooler, 0);
    let line = b.job().fixings.get(fixing).unwrap().old;
    assert_eq!(b.job().lines.get(line).unwrap().loose(), 2);
    let owed = |b: &Bench| -> u32 {
        let open = b.audit().open;
        let lines = open.iter().filter(|o| o.on == Target::Fixing(fixing));
        lines.map(|o| o.n).sum()
    };
    assert_eq!(owed(&b), 5);
    b.place(cooler);
    b.ok(start(fixing, Thing::All));
    b.ok(final_on(fixing, Thing::Next(2)));
    assert_eq!(owed(&b), 3);
    b.ok(final_on(fixing, Thing::All));
    assert_eq!(b.audit().verdict, Verdict::Complete);
}

#[test]
fn stages_are_not_skipped_and_a_doubtful_nut_is_not_repeated_silently() {
    let mut b = Bench::default();
    let mut off = take_off("cylinder head");
    let mut draft = FixingDraft::new(spec("nut | thread=M10 x 1.5"), 8);
    let torque = |milli| Figure::Torque {
        milli,
        unit: countback_core::torque::TorqueUnit::NewtonMetre,
    };
    draft.detail.stages = vec![
        torque(20_000),
        torque(45_000),
        Figure::Angle { degrees: 90 },
    ];
    off.fixings.push(draft);
    let head = b.take_off(off);
    let fixing = b.fixing(head, 0);
    b.place(head);
    b.ok(start(fixing, Thing::All));
    let stage = |n, which| Command::Tighten {
        fixing,
        which,
        to: Tight::Stage(n),
        value: None,
    };
    assert!(matches!(
        b.refused(stage(2, Thing::All)),
        Refusal::PlaceIs {
            state: PlaceState::Started,
            ..
        }
    ));
    b.ok(stage(1, Thing::All));
    b.ok(stage(2, Thing::All));
    b.ok(stage(3, Thing::Next(2)));
    // Operation 18 is done; not sure about nut 2.
    b.record(Act::Doubted {
        what: Target::Fixing(fixing),
        places: vec![1],
    });
    b.ok(stage(3, Thing::All));
    let places = &b.job().fixings.get(fixing).unwrap().places;
    assert_eq!(places[1].state, PlaceState::Doubtful);
    assert_eq!(b.rules(), vec![(Rule::Doubtful, Target::Fixing(fixing))]);
    b.ok(final_on(fixing, Thing::Places(vec![1])));
    assert_eq!(b.audit().verdict, Verdict::Complete);
}

#[test]
fn the_tool_and_the_way_in_are_there_before_the_hand_goes_in() {
    let mut b = Bench::default();
    let mut off = take_off("housing");
    let mut draft = FixingDraft::new(spec("nut | thread=M8 x 1.25"), 1);
    draft.detail.tool = "long ring spanner".to_owned();
    draft.detail.way = Some(WayIn::Behind);
    draft.detail.spanner_only = true;
    draft.detail.watch = "spring under the cap".to_owned();
    off.fixings.push(draft);
    let housing = b.take_off(off);
    let book = Book::open(b.book.journal().clone());
    let detail = &book.job().fixings.get(b.fixing(housing, 0)).unwrap().detail;
    assert_eq!(detail.tool, "long ring spanner");
    assert_eq!(detail.way, Some(WayIn::Behind));
    assert!(detail.spanner_only);
    assert_eq!(detail.watch, "spring under the cap");
}

#[test]
fn an_arm_cannot_go_back_before_the_hose_that_runs_behind_it() {
    let mut b = Bench::default();
    let arm = b.part("support arm", &[("bolt | thread=M8 x 1.25", 2)]);
    let id = b.record(Act::ConnectionLogged(Box::new(ConnectionLogged {
        kind: ConnectionKind::Hose,
        name: "fuel return".to_owned(),
        a: end(None, "rail", true),
        b: end(None, "tank", true),
        route: vec![Route {
            kind: RouteKind::Behind,
            part: Some(arm),
            text: String::new(),
        }],
        after: Vec::new(),
        tag: None,
    })));
    let hose = ConnectionId(id.thing(0));
    let place = Command::PlacePart {
        part: arm,
        anyway: false,
    };
    let buries = Refusal::WouldBury {
        part: arm,
        owed: vec![Target::Connection(hose)],
    };
    assert_eq!(b.refused(place.clone()), buries);
    let said = words::refusal(b.job(), &buries, Style::default());
    assert!(said.contains("fuel return"), "{said}");
    b.join(side(hose, Side::A));
    assert!(matches!(
        b.refused(place.clone()),
        Refusal::WouldBury { .. }
    ));
    b.join(side(hose, Side::B));
    // It is fuel: nobody has looked but the one who joined it.
    assert!(matches!(
        b.refused(place.clone()),
        Refusal::WouldBury { .. }
    ));
    b.looked_at_by("Bo");
    b.ok(place);
}

#[test]
fn two_phones_put_back_thirteen_parts_and_both_fitted_one_clip() {
    let mut b = Bench::default();
    let parts: Vec<PartId> = (0..13).map(|n| b.part(&format!("part {n}"), &[])).collect();
    let trim = b.part("trim", &[("clip", 1)]);
    b.place(trim);
    let clip = b.fixing(trim, 0);
    let mut other = b.clone();
    other.ctx.device = DeviceId(2);
    other.ctx.by = "Bob".to_owned();
    for (n, &part) in parts.iter().enumerate() {
        if n < 4 { &mut b } else { &mut other }.place(part);
    }
    b.ok(start(clip, Thing::All));
    let theirs = other.ok(start(clip, Thing::All))[0].id;
    let merged = b.book.merge(other.book.journal()).unwrap();
    assert_eq!(merged.added, 10);
    let back = |p: &&Part| p.state == PartState::Placed;
    assert_eq!(b.job().parts.rows().filter(back).count(), 13 + 1);
    let open = b.audit().open;
    assert_eq!(open.len(), 1);
    assert_eq!((open[0].rule, open[0].opened), (Rule::SaidTwice, theirs));
    // Looked at, and the second word struck.
    b.ok(Command::Strike { event: theirs });
    assert_eq!(b.audit().verdict, Verdict::Complete);
}

#[test]
fn one_phone_leaves_a_part_off_and_the_other_fits_it_which_nobody_takes_for_the_same() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[("bolt | thread=M6 x 1", 2)]);
    let mut other = b.clone();
    other.ctx.device = DeviceId(2);
    b.place(cover);
    other.record(Act::NoteAdded {
        on: Target::Job,
        text: "cracked".to_owned(),
    });
    other.ok(Command::LeaveOff {
        what: Target::Part(cover),
        reason: "cracked".to_owned(),
    });
    b.book.merge(other.book.journal()).unwrap();
    assert!(b.audit().has(Rule::Misfit));
    assert!(!b.audit().has(Rule::SaidTwice));
}

#[test]
fn a_gasket_that_was_clamped_is_owed_anew_when_its_cover_comes_off_again() {
    let mut b = Bench::default();
    let mut off = take_off("cover");
    off.fixings
        .push(FixingDraft::new(spec("bolt | thread=M6 x 1"), 2));
    off.items.push(ItemDraft {
        kind: ItemKind::Gasket,
        name: "gasket".to_owned(),
        size: String::new(),
        count: 1,
    });
    let cover = b.take_off(off);
    let item = b.job().parts.get(cover).unwrap().items[0];
    let again = Command::TakeOffAgain {
        part: cover,
        aside: false,
    };
    let fit = Command::FitItem {
        item,
        n: 1,
        old: false,
    };
    b.ok(fit.clone());
    b.place(cover);
    b.ok(again.clone());
    assert!(b.job().items.get(item).unwrap().finished(), "only laid on");
    b.place(cover);
    b.fasten(cover);
    assert_eq!(b.audit().verdict, Verdict::Complete);
    b.ok(again);
    assert!(b.rules().contains(&(Rule::Renew, Target::Item(item))));
    b.ok(fit);
    b.place(cover);
    b.fasten(cover);
    assert_eq!(b.audit().verdict, Verdict::Complete);
}

#[test]
fn what_came_off_on_a_part_goes_back_on_it() {
    let mut b = Bench::default();
    let mut head = take_off("cylinder head");
    head.carried = vec!["temperature sender".to_owned(), "lifting eye".to_owned()];
    head.findings = vec!["crack by the lower stud".to_owned()];
    let head = b.take_off(head);
    let on_it = |b: &Bench| {
        let parts = b.job().parts.iter();
        let on_it = parts.filter(|(_, it)| it.carried_by == Some(head));
        on_it.map(|(_, it)| it.state).collect::<Vec<_>>()
    };
    assert_eq!(on_it(&b), [PartState::Off; 2]);
    let finding = b.job().findings.rows().next().unwrap();
    assert_eq!(finding.on, Target::Part(head));
    let finding = b.job().findings.ids().next().unwrap();
    b.record(Act::Decided {
        finding,
        decision: Decision::Refit,
        reason: "hairline, no leak".to_owned(),
    });
    b.place(head);
    assert_eq!(on_it(&b), [PartState::Placed; 2]);
    // Logged in one tap, it is struck in one tap.
    b.ok(Command::StrikeLast);
    b.ok(Command::StrikeLast);
    b.ok(Command::StrikeLast);
    assert!(b.job().parts.is_empty() && b.job().findings.is_empty());
}

fn shut_over(what: Target, under: Target) -> Refusal {
    Refusal::ShutOver { what, under }
}

#[test]
fn a_gasket_is_not_fitted_and_sealant_not_put_on_under_a_cover_that_is_on_and_tight() {
    let mut b = Bench::default();
    let mut off = take_off("cover");
    off.fixings.push(FixingDraft::new(spec("bolt"), 2));
    off.items.push(ItemDraft {
        kind: ItemKind::Gasket,
        name: "cover gasket".to_owned(),
        size: String::new(),
        count: 1,
    });
    off.items.push(ItemDraft {
        kind: ItemKind::SplitPin,
        name: "split pin".to_owned(),
        size: String::new(),
        count: 1,
    });
    off.treatments.push(
        Treatment {
            kind: TreatmentKind::Sealant,
            product: "silicone".to_owned(),
            on: Target::Job,
            cure_min: 0,
            open_min: None,
            holds_fill: false,
            holds_start: false,
            holds_cover: false,
        }
        .into(),
    );
    let cover = b.take_off(off);
    let [gasket, pin] = b.job().parts.get(cover).unwrap().items[..] else {
        panic!()
    };
    let sealant = b.job().parts.get(cover).unwrap().treatments[0];
    let fit = |item| Command::FitItem {
        item,
        n: 1,
        old: false,
    };
    let put_on = Act::TreatmentApplied { treatment: sealant };
    b.ok(Command::PlacePart {
        part: cover,
        anyway: true,
    });
    b.ok(start(b.fixing(cover, 0), Thing::All));
    // In by hand only, it can be lifted: said now as well as a minute before.
    assert_eq!(b.job().shut_over(Target::Item(gasket)), None);
    b.ok(final_on(b.fixing(cover, 0), Thing::All));
    let under = Target::Part(cover);
    let refusal = b.refused(fit(gasket));
    assert_eq!(refusal, shut_over(Target::Item(gasket), under));
    assert_eq!(
        words::refusal(b.job(), &refusal, Style::default()),
        "cover is on and tight: cover gasket of cover cannot get there any more. It comes off again first."
    );
    let on = Target::Treatment(sealant);
    assert_eq!(
        b.refused(Command::Record(put_on.clone())),
        shut_over(on, under)
    );
    // What goes in when all is tight still does.
    b.ok(fit(pin));
    let owed = [
        (Rule::Renew, Target::Item(gasket)),
        (Rule::Apply, Target::Treatment(sealant)),
    ];
    assert_eq!(b.rules(), owed);
    // The way on: off again, and then in its order.
    let at = view::At {
        now: b.ctx.now,
        open_since: 0,
        style: Style::default(),
    };
    let way = view::shut_over(&b.book, Target::Item(gasket), at).unwrap();
    assert_eq!(way.open.0, "It comes off again");
    b.ok(way.open.1);
    b.ok(fit(gasket));
    // The pin was bent straight to get the cover off.
    b.ok(fit(pin));
    b.record(put_on);
    b.place(cover);
    b.fasten(cover);
    assert_eq!(b.audit().verdict, Verdict::Complete);
}

#[test]
fn a_gasket_that_was_in_before_is_said_late_with_a_reason_that_stays_on_record() {
    let mut b = Bench::default();
    let mut off = take_off("cover");
    off.fixings.push(FixingDraft::new(spec("bolt"), 2));
    off.items.push(ItemDraft {
        kind: ItemKind::Gasket,
        name: "gasket".to_owned(),
        size: String::new(),
        count: 1,
    });
    let cover = b.take_off(off);
    let gasket = b.job().parts.get(cover).unwrap().items[0];
    b.ok(Command::PlacePart {
        part: cover,
        anyway: true,
    });
    b.fasten(cover);
    let late = |reason: &str| Command::SayLate {
        act: Act::ItemFitted {
            item: gasket,
            n: 1,
            old: false,
            reason: String::new(),
        },
        reason: reason.to_owned(),
    };
    assert_eq!(b.refused(late(" ")), Refusal::ReasonMissing);
    let events = b.ok(late(words::LATE_REASONS[0]));
    assert_eq!(b.audit().verdict, Verdict::Complete);
    let at = view::At {
        now: b.ctx.now,
        open_since: 0,
        style: Style::default(),
    };
    let page = view::part_page(&b.book, cover, at).unwrap();
    assert_eq!(page.notes, [words::LATE_REASONS[0]]);
    // Both are one tap, and struck together.
    b.ok(Command::Strike {
        event: events[0].id,
    });
    assert_eq!(b.rules(), [(Rule::Renew, Target::Item(gasket))]);
    assert!(b.job().notes.is_empty());
}

#[test]
fn washers_are_not_fitted_to_a_union_that_is_fast_nor_paste_to_bolts_that_are_final() {
    let mut b = Bench::default();
    let mut off = take_off("pump");
    let mut bolts = FixingDraft::new(spec("bolt"), 2);
    bolts.union = true;
    off.fixings.push(bolts);
    let pump = b.take_off(off);
    let fixing = b.fixing(pump, 0);
    let washers = b.job().fixings.get(fixing).unwrap().items[0];
    let paste = TreatmentId(
        b.record(Act::TreatmentPrescribed(Treatment {
            kind: TreatmentKind::Lubricant,
            product: "paste".to_owned(),
            on: Target::Fixing(fixing),
            cure_min: 0,
            open_min: None,
            holds_fill: false,
            holds_start: false,
            holds_cover: false,
        }))
        .thing(0),
    );
    let mut pipe = ConnectionLogged {
        kind: ConnectionKind::Pipe,
        name: "feed".to_owned(),
        a: end(None, "pump", true),
        b: end(None, "rail", false),
        route: Vec::new(),
        after: Vec::new(),
        tag: None,
    };
    pipe.a.joint = Joint::UnionBolt;
    let pipe = ConnectionId(b.record(Act::ConnectionLogged(Box::new(pipe))).thing(0));
    let a = EndId {
        connection: pipe,
        side: Side::A,
    };
    let own = b.job().end(a).unwrap().items[0];
    b.place(pump);
    b.fasten(pump);
    b.ok(Command::Rejoin {
        end: a,
        seat: a,
        anyway: false,
    });
    b.record(Act::EndSecured { end: a });
    let fit = |item, n| Command::FitItem {
        item,
        n,
        old: false,
    };
    let apply = Act::TreatmentApplied { treatment: paste };
    for (command, what, under) in [
        (
            fit(washers, 4),
            Target::Item(washers),
            Target::Fixing(fixing),
        ),
        (
            Command::Record(apply),
            Target::Treatment(paste),
            Target::Fixing(fixing),
        ),
        (fit(own, 2), Target::Item(own), Target::End(a)),
    ] {
        assert_eq!(b.refused(command.clone()), shut_over(what, under));
        let at = view::At {
            now: b.ctx.now,
            open_since: 0,
            style: Style::default(),
        };
        // What opens it frees it.
        let way = view::shut_over(&b.book, what, at).unwrap();
        b.ok(way.open.1);
        b.ok(command);
        if let Target::Fixing(_) = under {
            b.fasten(pump);
        }
    }
}

/// The washers were laid on both studs before it was decided that the bracket
/// stays off: they are off too, and owed again when it goes back after all.
#[test]
fn washers_laid_ready_are_left_off_with_their_places() {
    let mut b = Bench::default();
    let mut off = take_off("bracket");
    let mut draft = FixingDraft::new(spec("nut | thread=M8 x 1.25"), 2);
    draft.extras.push(Extra {
        spec: spec("washer"),
        per_place: 2,
    });
    off.fixings.push(draft);
    let bracket = b.take_off(off);
    let fixing = b.fixing(bracket, 0);
    let washers = b.job().fixings.get(fixing).unwrap().extras[0].0;
    let on_it = |b: &Bench, account| b.job().lines.get(washers).unwrap().count(account);
    b.ok(Command::FitExtras { fixing });
    assert_eq!(on_it(&b, Account::Fixing(fixing)), 4);
    b.ok(Command::LeaveOff {
        what: Target::Part(bracket),
        reason: "goes with the new one".to_owned(),
    });
    assert_eq!(on_it(&b, Account::Fixing(fixing)), 0);
    assert_eq!(on_it(&b, Account::LeftOff), 4);
    assert_eq!(b.rules(), vec![]);
    b.place(bracket);
    assert_eq!(on_it(&b, Account::Bench), 4);
    let owed = b
        .audit()
        .open
        .into_iter()
        .find(|o| o.rule == Rule::FitExtra);
    assert_eq!(owed.map(|o| (o.on, o.n)), Some((Target::Fixing(fixing), 4)));
    b.fasten(bracket);
    assert_eq!(b.audit().verdict, Verdict::Complete);
}

/// A spacer of the pump is on a stud that is then left empty: it is owed to the
/// pump, not left off. Of two studs with one empty, what is on the other stays.
#[test]
fn a_spacer_of_another_fixing_goes_back_to_the_bench_when_its_stud_is_left_empty() {
    let mut b = Bench::default();
    let mut with_spacer = |name: &str, count| {
        let mut off = take_off(name);
        let mut draft = FixingDraft::new(spec("nut | thread=M8 x 1.25"), count);
        draft.extras.push(Extra {
            spec: spec("spacer | length=4"),
            per_place: 1,
        });
        off.fixings.push(draft);
        let part = b.take_off(off);
        b.fixing(part, 0)
    };
    let (plate, pump) = (with_spacer("plate", 2), with_spacer("pump", 2));
    let line = |b: &Bench, fixing| b.job().fixings.get(fixing).unwrap().extras[0].0;
    let (of_plate, of_pump) = (line(&b, plate), line(&b, pump));
    b.ok(Command::FitOther {
        fixing: plate,
        line: of_pump,
        anyway: false,
    });
    b.ok(Command::FitExtras { fixing: plate });
    let at = |b: &Bench, line, account| b.job().lines.get(line).unwrap().count(account);
    let on_plate = Account::Fixing(plate);
    assert_eq!(
        (at(&b, of_plate, on_plate), at(&b, of_pump, on_plate)),
        (1, 1)
    );
    let leave = |b: &mut Bench| {
        b.ok(Command::LeaveOff {
            what: Target::Fixing(plate),
            reason: "thread gone".to_owned(),
        })
    };
    b.ok(Command::PlacePart {
        part: PartId(b.job().fixings.get(plate).unwrap().parts[0].0),
        anyway: false,
    });
    b.ok(start(plate, Thing::Next(1)));
    leave(&mut b);
    assert_eq!(
        (at(&b, of_plate, on_plate), at(&b, of_pump, on_plate)),
        (1, 0)
    );
    assert_eq!(at(&b, of_pump, Account::Bench), 2);
    assert_eq!(
        b.audit()
            .open
            .iter()
            .filter(|o| o.rule == Rule::LeftOver)
            .count(),
        0
    );
}

/// The old gasket was thrown away, so the count says; it cannot be the one that
/// is in again.
#[test]
fn an_old_gasket_goes_in_again_only_from_where_old_ones_lie() {
    let mut b = Bench::default();
    let mut off = take_off("cover");
    off.items.push(ItemDraft {
        kind: ItemKind::Gasket,
        name: "gasket".to_owned(),
        size: String::new(),
        count: 2,
    });
    let cover = b.take_off(off);
    let item = b.job().parts.get(cover).unwrap().items[0];
    let line = b.job().items.get(item).unwrap().line;
    b.ok(Command::Recount {
        line,
        account: Account::Scrapped,
        found: 1,
        reason: String::new(),
    });
    let old = |n| Command::FitItem { item, n, old: true };
    let none = Refusal::NotThere {
        line,
        from: Account::Scrapped,
        wanted: 2,
        there: 1,
    };
    assert_eq!(b.refused(old(2)), none);
    b.ok(old(1));
    assert_eq!(
        b.job().lines.get(line).unwrap().count(Account::Item(item)),
        1
    );
    assert!(b.rules().contains(&(Rule::OldItemIn, Target::Item(item))));
    // A new one for it, and the old one is where old ones lie once more.
    b.ok(Command::FitItem {
        item,
        n: 2,
        old: false,
    });
    let line = b.job().lines.get(line).unwrap();
    assert_eq!(line.count(Account::Item(item)), 2);
    assert_eq!(line.count(Account::Scrapped), 1);
}

/// A job opened from a procedure is one tap with it: neither by the procedure's
/// entry nor as the last tap is the opening struck.
#[test]
fn the_opening_is_not_struck_by_the_entry_of_its_procedure() {
    let mut b = Bench {
        book: Book::default(),
        ..Bench::default()
    };
    let events = b.ok(Command::Open {
        head: head("Gasket"),
        procedure: Some(Procedure::default()),
    });
    let [opening, procedure] = [events[0].id, events[1].id];
    for event in [opening, procedure] {
        let strike = Command::Strike { event };
        assert_eq!(b.refused(strike), Refusal::CannotStrike { event });
    }
    let last = b.refused(Command::StrikeLast);
    assert!(matches!(last, Refusal::CannotStrike { .. }), "{last:?}");
    // Nor by a strike in a file from elsewhere.
    let mut journal = b.book.journal().clone();
    let id = EventId::new(opening.clock + 9, DeviceId(9));
    journal.add(Event {
        id,
        with: id,
        at: b.ctx.now,
        by: "Bo".to_owned(),
        act: Act::Struck { event: opening },
    });
    let told = Book::open(journal);
    assert_eq!(told.job().head, b.job().head);
    // What came later is struck as ever.
    let finding = b.record(Act::NoteAdded {
        on: Target::Job,
        text: "starts badly".to_owned(),
    });
    b.ok(Command::Strike { event: finding });
}

/// A washer laid where no place takes one would sit under nothing and come out
/// with nothing: it is refused even when it is meant.
#[test]
fn a_washer_is_not_laid_where_no_place_takes_one() {
    let mut b = Bench::default();
    let mut with_washer = |name: &str, per_place| {
        let mut off = take_off(name);
        let mut draft = FixingDraft::new(spec("bolt | thread=M6 x 1"), 1);
        draft.extras.push(Extra {
            spec: spec("washer"),
            per_place,
        });
        off.fixings.push(draft);
        let part = b.take_off(off);
        b.fixing(part, 0)
    };
    let (cover, pump) = (with_washer("cover", 0), with_washer("pump", 1));
    let line = |b: &Bench, fixing| b.job().fixings.get(fixing).unwrap().extras[0].0;
    let of_pump = line(&b, pump);
    let lay = |fixing| Command::FitOther {
        fixing,
        line: of_pump,
        anyway: true,
    };
    let none = |fixing| Refusal::NoPlaceFor {
        fixing,
        wanted: 1,
        free: 0,
    };
    assert_eq!(b.refused(lay(cover)), none(cover));
    // Nor where the one place is left empty.
    let bracket = b.part("bracket", &[("nut | thread=M8 x 1.25", 1)]);
    let bare = b.fixing(bracket, 0);
    assert_eq!(b.refused(lay(bare)), none(bare));
}
