//! The user stories of the main job, each as a person would live it. Scenario
//! figures are invented; nothing here is a specification.
use countback_checks::bench::*;
use countback_core::access::{self, Stand};
use countback_core::audit::{Rule, Verdict};
use countback_core::job::*;
use countback_core::journal::*;

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
    b.place(bracket);
    b.ok(Command::Tighten {
        fixing: shared,
        which: Thing::All,
        to: Tight::Final,
        value: None,
    });
    assert_eq!(b.audit().verdict, Verdict::Complete);
}
