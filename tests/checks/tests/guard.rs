//! Coming back after an interruption: what is asked, in which order, and what
//! the answers do. Torque figures are invented.
use countback_checks::bench::*;
use countback_core::audit::Rule;
use countback_core::guard::*;
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::torque::TorqueUnit;

/// Eleven bolts, numbered, all started by hand.
fn cover() -> (Bench, FixingId) {
    let mut b = Bench::default();
    let mut off = take_off("timing cover");
    let mut draft = FixingDraft::new(spec("bolt | thread=M6 x 1 | length=20"), 11);
    draft.numbers = (1..=11).collect();
    off.fixings.push(draft);
    let cover = b.take_off(off);
    let fixing = b.fixing(cover, 0);
    b.place(cover);
    b.ok(start(fixing));
    (b, fixing)
}

fn start(fixing: FixingId) -> Command {
    Command::Start {
        fixing,
        which: Thing::All,
        line: None,
        anyway: false,
    }
}

fn tighten(b: &mut Bench, fixing: FixingId, n: u16, to: Tight) {
    b.ok(Command::Tighten {
        fixing,
        which: Thing::Next(n),
        to,
        value: None,
    });
}

fn numbers(resume: &Resume) -> Vec<u16> {
    resume.touch.iter().filter_map(|it| it.number).collect()
}

/// The book as another start of the app has it.
fn reopened(b: &Bench) -> Book {
    Book::open(b.book.journal().clone())
}

#[test]
fn the_phone_dies_after_seven_of_eleven() {
    let (mut b, fixing) = cover();
    for _ in 0..7 {
        tighten(&mut b, fixing, 1, Tight::Final);
    }
    let book = reopened(&b);
    let it = resume(&book, b.last_act()).unwrap();
    assert_eq!(it.hand, Target::Fixing(fixing));
    assert_eq!(numbers(&it), [5, 6, 7]);
    let next = it.next.unwrap();
    assert_eq!((next.number, next.to), (8, Some(Tight::Final)));
    // Two are sure, one is not: it is owed again and the others stay final.
    b.record(it.touch[0].answer(true));
    b.record(it.touch[1].answer(false));
    let it = resume(&b.book, b.last_act()).unwrap();
    assert_eq!(numbers(&it), [7], "what was answered is not asked again");
    assert_eq!(it.next.unwrap().number, 8, "and not silently repeated");
    b.record(it.touch[0].answer(true));
    assert_eq!(resume(&b.book, b.last_act()), None);
    let doubtful: Vec<_> = b
        .audit()
        .open
        .into_iter()
        .filter(|o| o.rule == Rule::Doubtful)
        .flat_map(|o| o.places)
        .collect();
    assert_eq!(doubtful, vec![5], "place with the number 6");
}

#[test]
fn a_round_of_stages_goes_on_where_it_was() {
    let mut b = Bench::default();
    let mut off = take_off("cylinder head");
    let mut draft = FixingDraft::new(spec("nut | thread=M10 x 1.25"), 8);
    draft.numbers = (1..=8).collect();
    let newton_metres = |n: u32| Figure::Torque {
        milli: n * 1_000,
        unit: TorqueUnit::NewtonMetre,
    };
    draft.detail.stages = vec![
        newton_metres(20),
        newton_metres(45),
        Figure::Angle { degrees: 90 },
    ];
    off.fixings.push(draft);
    let part = b.take_off(off);
    let fixing = b.fixing(part, 0);
    b.place(part);
    b.ok(start(fixing));
    // 18 of 24 operations.
    for stage in 1..=3 {
        for _ in 0..if stage == 3 { 2 } else { 8 } {
            tighten(&mut b, fixing, 1, Tight::Stage(stage));
        }
    }
    let it = resume(&b.book, b.last_act()).unwrap();
    let next = it.next.unwrap();
    assert_eq!((next.number, next.to), (3, Some(Tight::Stage(3))));
    assert_eq!(numbers(&it), [8, 1, 2]);
    b.record(it.touch[2].answer(false));
    let it = resume(&b.book, b.last_act()).unwrap();
    assert_eq!(it.next.unwrap().number, 3, "nut 2 is not silently repeated");
    let places = &b.job().fixings.get(fixing).unwrap().places;
    assert_eq!(places[1].state, PlaceState::Doubtful);
    // The round done, nut 2 still keeps the stage from being complete.
    b.ok(Command::Tighten {
        fixing,
        which: Thing::Places((2..8).collect()),
        to: Tight::Stage(3),
        value: None,
    });
    assert!(
        b.rules()
            .contains(&(Rule::Doubtful, Target::Fixing(fixing)))
    );
    assert!(!b.job().fixings.get(fixing).unwrap().finished());
}

#[test]
fn what_was_touched_and_then_done_anew_is_asked_again() {
    let (mut b, fixing) = cover();
    tighten(&mut b, fixing, 1, Tight::Snug);
    let it = resume(&b.book, b.last_act()).unwrap();
    for touch in it.touch {
        b.record(touch.answer(true));
    }
    assert_eq!(resume(&b.book, b.last_act()), None);
    b.ok(Command::Tighten {
        fixing,
        which: Thing::Places(vec![0]),
        to: Tight::Final,
        value: None,
    });
    let it = resume(&b.book, b.last_act()).unwrap();
    assert_eq!(numbers(&it), [1]);
}

#[test]
fn a_short_look_away_is_no_break() {
    let (mut b, fixing) = cover();
    tighten(&mut b, fixing, 4, Tight::Final);
    let since = b.ctx.now;
    assert_eq!(
        Break::hidden(since, since + PATIENCE_MS - 1, PATIENCE_MS),
        None
    );
    let long = Break::hidden(since, since + PATIENCE_MS, PATIENCE_MS);
    assert_eq!(long, Some(Break::Hidden));
    // Four in one tap: the last three of them.
    assert_eq!(numbers(&resume(&b.book, b.last_act()).unwrap()), [2, 3, 4]);
}

/// What was in the hand is asked until that is answered, or worked on, or gone
/// on with by word; what is done elsewhere answers nothing.
#[test]
fn work_elsewhere_does_not_answer_what_was_in_the_hand() {
    let (mut b, fixing) = cover();
    let lid = b.part("lid", &[("bolt | thread=M6 x 1", 2)]);
    tighten(&mut b, fixing, 5, Tight::Final);
    let broke = b.last_act();
    b.place(lid);
    b.fasten_fixing(b.fixing(lid, 0));
    let it = resume(&b.book, broke).unwrap();
    assert_eq!(
        (it.hand, numbers(&it)),
        (Target::Fixing(fixing), vec![3, 4, 5])
    );
    b.record(it.touch[0].answer(true));
    assert_eq!(numbers(&resume(&b.book, broke).unwrap()), [4, 5]);
    // Gone on with by word: on record, and taken back with it.
    let mut said = b.clone();
    said.record(Act::WentOn { what: it.hand });
    assert_eq!(resume(&said.book, broke), None);
    said.ok(Command::StrikeLast);
    assert_eq!(numbers(&resume(&said.book, broke).unwrap()), [4, 5]);
    // The next break asks of its own.
    said.record(Act::WentOn { what: it.hand });
    tighten(&mut said, fixing, 1, Tight::Final);
    let again = resume(&said.book, said.last_act()).unwrap();
    assert_eq!(numbers(&again), [4, 5, 6]);
    // Worked on.
    tighten(&mut b, fixing, 1, Tight::Final);
    assert_eq!(resume(&b.book, broke), None);
}

/// Union washers, and sealant on a flange that still lies on the bench: what is
/// put on last is asked about, and what is not sure is owed until it is.
#[test]
fn what_was_put_on_last_is_asked_about() {
    let mut b = Bench::default();
    let pump = b.part("pump", &[("bolt | thread=M6 x 1", 2)]);
    let union = b.fixing(pump, 0);
    let pipe = b.connection(
        "pipe",
        end(None, "pump", true),
        end(None, "rail", false),
        &[],
    );
    let joint = side(pipe, Side::A);
    let washer = |b: &mut Bench, on: Target| {
        let event = b.record(Act::ItemRemoved(ItemRemoved {
            kind: ItemKind::CrushWasher,
            name: "washer".to_owned(),
            size: String::new(),
            count: 2,
            on,
        }));
        ItemId(event.thing(0))
    };
    let fit = |item| Command::FitItem {
        item,
        n: 2,
        old: false,
    };
    for on in [Target::Fixing(union), Target::End(joint)] {
        let item = washer(&mut b, on);
        b.ok(fit(item));
        let it = resume(&b.book, b.last_act()).unwrap();
        let asked: Vec<Target> = it.touch.iter().map(|t| t.what).collect();
        assert_eq!((it.hand, asked), (on, vec![Target::Item(item)]));
        let owed = (Rule::NotSure, Target::Item(item));
        b.record(it.touch[0].answer(false));
        assert!(b.rules().contains(&owed));
        assert_eq!(resume(&b.book, b.last_act()), None);
        b.record(it.touch[0].answer(true));
        assert!(!b.rules().contains(&owed));
    }
    // The seat as a whole is in hand, its washers with it.
    b.ok(Command::Rejoin {
        end: joint,
        seat: joint,
        anyway: false,
    });
    let it = resume(&b.book, b.last_act()).unwrap();
    assert_eq!(it.touch.last().unwrap().what, Target::End(joint));

    let event = b.record(Act::TreatmentPrescribed(Treatment {
        kind: TreatmentKind::Sealant,
        product: "grey paste".to_owned(),
        on: Target::Part(pump),
        cure_min: 0,
        open_min: None,
        holds_fill: false,
        holds_start: false,
        holds_cover: false,
    }));
    let treatment = TreatmentId(event.thing(0));
    b.record(Act::TreatmentApplied { treatment });
    let it = resume(&b.book, b.last_act()).unwrap();
    assert_eq!(it.hand, Target::Part(pump));
    let on = Target::Treatment(treatment);
    assert_eq!(it.touch.iter().map(|t| t.what).collect::<Vec<_>>(), [on]);
    b.record(it.touch[0].answer(false));
    assert!(b.rules().contains(&(Rule::NotSure, on)));
    b.record(it.touch[0].answer(true));
    assert!(!b.rules().contains(&(Rule::NotSure, on)));
}

#[test]
fn what_is_finished_is_left_alone() {
    let (mut b, fixing) = cover();
    tighten(&mut b, fixing, 11, Tight::Final);
    assert_eq!(resume(&b.book, b.last_act()), None);
    // The next part only just placed is in hand.
    let lid = b.part(
        "lid",
        &[("bolt | thread=M6 x 1", 2), ("nut | thread=M8 x 1.25", 1)],
    );
    assert_eq!(resume(&b.book, b.last_act()), None);
    b.place(lid);
    let it = resume(&b.book, b.last_act()).unwrap();
    assert_eq!((it.hand, it.touch.len()), (Target::Part(lid), 1));
    // One of its fixings done, the part is still under way.
    b.fasten_fixing(b.fixing(lid, 0));
    let it = resume(&b.book, b.last_act()).unwrap();
    assert_eq!(it.hand, Target::Part(lid));
    assert_eq!(it.touch.len(), 3);
    assert_eq!(numbers(&it), [1, 2]);
}

#[test]
fn a_plug_pushed_but_not_clicked_is_asked_for() {
    let mut b = Bench::default();
    let plug = b.connection(
        "sensor plug",
        end(None, "sensor", true),
        end(None, "loom", false),
        &[],
    );
    let sensor = side(plug, Side::A);
    b.ok(Command::Rejoin {
        end: sensor,
        seat: sensor,
        anyway: false,
    });
    let it = resume(&b.book, b.last_act()).unwrap();
    assert_eq!(it.hand, Target::End(sensor));
    b.record(it.touch[0].answer(false));
    assert!(b.rules().contains(&(Rule::NotSure, Target::End(sensor))));
}
