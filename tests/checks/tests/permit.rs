//! What the machine may be let do, and which checks after running are due.
//! Scenarios and their figures are invented.
use countback_checks::bench::*;
use countback_core::audit::{Owed, Rule, Verdict};
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::permit::*;
use countback_core::words;

fn now(b: &Bench) -> Permit {
    permit(b.job(), b.ctx.now)
}

fn rules(owed: &[Owed]) -> Vec<Rule> {
    owed.iter().map(|o| o.rule).collect()
}

/// A pump with a gasket and its hose, all back and fast but for `left`.
fn pump() -> (Bench, PartId, ItemId, EndId) {
    let mut b = Bench::default();
    let mut off = take_off("water pump");
    off.fixings = vec![FixingDraft::new(spec("bolt | thread=M8 x 1.25"), 4)];
    off.items = vec![ItemDraft {
        kind: ItemKind::Gasket,
        name: "pump gasket".to_owned(),
        size: String::new(),
        count: 1,
    }];
    let part = b.take_off(off);
    let item = b.job().items.ids().next().unwrap();
    let hose = b.connection(
        "bottom hose",
        end(Some(part), "pump", true),
        end(None, "radiator", false),
        &[],
    );
    (b, part, item, side(hose, Side::A))
}

fn settle(b: &mut Bench, part: PartId, item: ItemId, end: EndId) {
    b.ok(Command::FitItem {
        item,
        n: 1,
        old: false,
    });
    b.place(part);
    b.fasten(part);
    b.join(end);
}

#[test]
fn a_rag_stops_everything_and_is_named() {
    let (mut b, part, item, end) = pump();
    let rag = b.record(Act::PutIn(PutIn {
        kind: InsideKind::Rag,
        name: "rag".to_owned(),
        n: 1,
        opening: None,
        place: "port 2".to_owned(),
        hidden_by: None,
    }));
    let inside = Target::Inside(InsideId(rag.thing(0)));
    settle(&mut b, part, item, end);
    for ask in Ask::ALL {
        let permit = now(&b);
        let missing = permit.may(ask).unwrap_err();
        assert_eq!(
            (missing[0].rule, missing[0].on),
            (Rule::TakeOut, inside),
            "{ask:?}"
        );
    }
    b.record(Act::TakenOut {
        inside: InsideId(rag.thing(0)),
        n: 1,
    });
    assert_eq!(now(&b), Permit::default());
    assert_eq!(b.audit().verdict, Verdict::Complete);
}

#[test]
fn a_locking_pin_stops_turning_but_not_filling() {
    let (mut b, part, item, end) = pump();
    b.record(Act::PutIn(PutIn {
        kind: InsideKind::LockingPin,
        name: "timing pin".to_owned(),
        n: 2,
        opening: None,
        place: "flywheel".to_owned(),
        hidden_by: None,
    }));
    settle(&mut b, part, item, end);
    assert_eq!(now(&b).may(Ask::Fill), Ok(()));
    assert_eq!(rules(&now(&b).turn), [Rule::TakeOut]);
}

#[test]
fn filling_waits_for_every_wet_joint_and_for_nothing_else() {
    let (mut b, part, item, hose) = pump();
    let shield = b.part("splash shield", &[("screw", 3)]);
    let drained = b.record(Act::FluidDrained {
        name: "coolant".to_owned(),
        amount: "7 l".to_owned(),
        bleed: false,
    });
    let fluid = Target::Fluid(FluidId(drained.thing(0)));
    let fill = rules(&now(&b).fill);
    for rule in [
        Rule::PlacePart,
        Rule::StartFasteners,
        Rule::Rejoin,
        Rule::Renew,
    ] {
        assert!(fill.contains(&rule), "{rule:?} of {fill:?}");
    }
    assert!(now(&b).fill.iter().all(|o| o.on != Target::Part(shield)));
    b.ok(Command::FitItem {
        item,
        n: 1,
        old: false,
    });
    b.place(part);
    let fixing = b.fixing(part, 0);
    b.ok(Command::Start {
        fixing,
        which: Thing::All,
        line: None,
        anyway: false,
    });
    b.ok(Command::Rejoin {
        end: hose,
        seat: hose,
        anyway: false,
    });
    // All in its place, nothing tight: it would pour out.
    assert_eq!(rules(&now(&b).fill), [Rule::Tighten, Rule::Secure]);
    b.ok(Command::Tighten {
        fixing,
        which: Thing::All,
        to: Tight::Final,
        value: None,
    });
    b.record(Act::EndSecured { end: hose });
    assert_eq!(
        now(&b).may(Ask::Fill),
        Ok(()),
        "the shield may still be off"
    );
    // Dry, it is not cranked; with the shield off it is not started.
    assert_eq!(rules(&now(&b).crank), [Rule::Fill]);
    assert_eq!(now(&b).crank[0].on, fluid);
    b.record(Act::FluidFilled {
        fluid: FluidId(drained.thing(0)),
        amount: "7 l".to_owned(),
    });
    assert_eq!(now(&b).may(Ask::Crank), Ok(()));
    let start = now(&b).start;
    assert!(
        start.iter().any(|o| o.on == Target::Part(shield)),
        "{start:?}"
    );
    b.place(shield);
    b.fasten(shield);
    assert_eq!(now(&b).may(Ask::Start), Ok(()));
}

#[test]
fn a_cure_holds_back_what_it_says_until_it_is_over() {
    let (mut b, part, item, end) = pump();
    let sealed = b.record(Act::TreatmentPrescribed(Treatment {
        kind: TreatmentKind::Sealant,
        product: "sealant".to_owned(),
        on: Target::Part(part),
        cure_min: 24 * 60,
        open_min: None,
        holds_fill: true,
        holds_start: true,
        holds_cover: false,
    }));
    b.record(Act::TreatmentApplied {
        treatment: TreatmentId(sealed.thing(0)),
    });
    settle(&mut b, part, item, end);
    assert_eq!(rules(&now(&b).fill), [Rule::Curing]);
    assert_eq!(rules(&now(&b).crank), [Rule::Curing]);
    assert_eq!(now(&b).may(Ask::Turn), Ok(()));
    b.ctx.now += 25 * HOUR;
    assert_eq!(now(&b), Permit::default(), "over while nobody looked");
}

#[test]
fn the_battery_holds_back_the_starter_but_not_the_hand() {
    let (mut b, part, item, end) = pump();
    settle(&mut b, part, item, end);
    let battery = b.record(Act::SupplyIsolated {
        name: "battery".to_owned(),
        kind: SupplyKind::Battery,
    });
    assert_eq!(rules(&now(&b).crank), [Rule::Restore]);
    assert_eq!(now(&b).may(Ask::Turn), Ok(()));
    b.record(Act::SupplyRestored {
        supply: SupplyId(battery.thing(0)),
    });
    assert_eq!(now(&b).may(Ask::Start), Ok(()));
}

#[test]
fn a_bolt_that_is_too_long_is_not_turned_against() {
    let mut b = Bench::default();
    let cover = b.part(
        "cover",
        &[
            ("bolt | thread=M6 x 1 | length=20", 1),
            ("bolt | thread=M6 x 1 | length=60", 1),
        ],
    );
    let (short, long) = (b.fixing(cover, 0), b.fixing(cover, 1));
    let line = b.job().fixings.get(long).unwrap().wants;
    b.place(cover);
    b.ok(Command::Start {
        fixing: short,
        which: Thing::All,
        line: Some(line),
        anyway: true,
    });
    assert_eq!(rules(&now(&b).turn), [Rule::WrongThing]);
    assert_eq!(now(&b).turn[0].on, Target::Fixing(short));
}

fn owe(b: &mut Bench, what: AfterRunKind, due: Due) -> AfterRunId {
    let id = b.record(Act::AfterRunOwed {
        what,
        on: Target::Job,
        text: "look".to_owned(),
        due,
    });
    AfterRunId(id.thing(0))
}

fn due(b: &Bench, id: AfterRunId) -> DueCheck {
    let checks = due_checks(b.job(), b.ctx.now);
    checks.into_iter().find(|it| it.after_run == id).unwrap()
}

fn read(b: &mut Bench, kind: MeterKind, tenths: u32) {
    b.record(Act::MeterRead(Meter { kind, tenths }));
}

#[test]
fn a_leak_check_is_due_once_it_has_run() {
    let mut b = Bench::default();
    let leak = owe(&mut b, AfterRunKind::LeakCheck, Due::default());
    b.ctx.now += 400 * 24 * HOUR;
    assert!(!due(&b, leak).is_due(), "a year in pieces is not a run");
    b.record(Act::Ran { heat_cycles: 0 });
    assert_eq!(due(&b, leak).reached, [Reached::FirstRun]);
    b.record(Act::AfterRunDone {
        after_run: leak,
        reading: "dry".to_owned(),
    });
    assert_eq!(due_checks(b.job(), b.ctx.now), vec![]);
}

#[test]
fn a_check_is_due_by_what_comes_first() {
    let mut b = Bench::default();
    let mut head = head("wheels");
    head.meter = Some(Meter {
        kind: MeterKind::Miles,
        tenths: 1_000_000,
    });
    b.record(Act::JobDescribed(head));
    let wheels = owe(
        &mut b,
        AfterRunKind::Retighten,
        Due {
            heat_cycles: 2,
            km: 50,
            hours: 0,
            days: 30,
        },
    );
    let it = due(&b, wheels);
    assert_eq!(
        (it.ran, it.is_due(), it.wants_reading),
        (false, false, false)
    );
    b.record(Act::Ran { heat_cycles: 1 });
    let it = due(&b, wheels);
    assert!(!it.is_due() && it.wants_reading, "ran, but how far?");
    assert_eq!(it.left.heat_cycles, Some(1));
    // 31 miles are 49.89 km, 31.1 are 50.05.
    read(&mut b, MeterKind::Miles, 1_000_310);
    let it = due(&b, wheels);
    assert_eq!((it.is_due(), it.left.km_tenths), (false, Some(2)));
    read(&mut b, MeterKind::Miles, 1_000_311);
    assert_eq!(due(&b, wheels).reached, [Reached::Distance]);
    b.record(Act::Ran { heat_cycles: 1 });
    assert_eq!(
        due(&b, wheels).reached,
        [Reached::HeatCycles, Reached::Distance]
    );
    b.ctx.now += 30 * 24 * HOUR;
    assert!(due(&b, wheels).reached.contains(&Reached::Days));
}

#[test]
fn hours_count_from_the_last_reading_before_the_check_was_set() {
    let mut b = Bench::default();
    read(&mut b, MeterKind::Hours, 5_000);
    let oil = owe(
        &mut b,
        AfterRunKind::LevelCheck,
        Due {
            hours: 10,
            ..Due::default()
        },
    );
    read(&mut b, MeterKind::Hours, 5_099);
    let it = due(&b, oil);
    assert_eq!(
        (it.ran, it.is_due(), it.left.hours_tenths),
        (true, false, Some(1))
    );
    read(&mut b, MeterKind::Hours, 5_100);
    assert_eq!(due(&b, oil).reached, [Reached::Hours]);
    // Kilometres say nothing of hours.
    let other = owe(
        &mut b,
        AfterRunKind::Other,
        Due {
            hours: 1,
            ..Due::default()
        },
    );
    read(&mut b, MeterKind::Kilometres, 900_000);
    assert!(!due(&b, other).is_due());
    // What is due comes first.
    assert_eq!(due_checks(b.job(), b.ctx.now)[0].after_run, oil);
}

#[test]
fn checks_can_be_done_on_a_job_signed_off_by_exception() {
    let mut b = Bench::default();
    let bracket = b.part("bracket", &[("bolt | thread=M6 x 1", 1)]);
    let later = owe(
        &mut b,
        AfterRunKind::Retighten,
        Due {
            heat_cycles: 1,
            ..Due::default()
        },
    );
    b.place(bracket);
    b.fasten(bracket);
    assert_eq!(b.audit().verdict, Verdict::RunThenCheck { n: 1 });
    assert!(matches!(
        b.refused(Command::SignOff),
        Refusal::StillOwed { n: 1 }
    ));
    let owed = b.audit().open[0].key();
    b.ok(Command::Except {
        owed,
        reason: "sold; told the buyer".to_owned(),
    });
    b.ok(Command::SignOff);
    b.record(Act::Ran { heat_cycles: 1 });
    b.record(Act::MeterRead(Meter {
        kind: MeterKind::Kilometres,
        tenths: 10,
    }));
    assert_eq!(due(&b, later).reached, [Reached::HeatCycles]);
    b.record(Act::AfterRunDone {
        after_run: later,
        reading: "no movement".to_owned(),
    });
    assert_eq!(due_checks(b.job(), b.ctx.now), vec![]);
}

/// What is not due is done early by a reason that is noted, or not at all; and
/// saying that it was done is no run.
#[test]
fn a_check_that_is_not_due_is_done_early_with_a_reason() {
    let mut b = Bench::default();
    let due = Due {
        km: 50,
        ..Due::default()
    };
    let wheels = owe(&mut b, AfterRunKind::Retighten, due);
    let leak = owe(&mut b, AfterRunKind::LeakCheck, Due::default());
    let done = |after_run, early: &str| Command::CheckDone {
        after_run,
        reading: String::new(),
        early: early.to_owned(),
    };
    for after_run in [wheels, leak] {
        let not_due = Refusal::NotDue { after_run };
        assert_eq!(b.refused(done(after_run, " ")), not_due);
        let act = Act::AfterRunDone {
            after_run,
            reading: String::new(),
        };
        assert_eq!(b.refused(Command::Record(act)), not_due);
    }
    b.record(Act::Ran { heat_cycles: 0 });
    b.ok(done(leak, ""));
    // It ran, but nobody knows how far.
    assert_eq!(
        b.refused(done(wheels, "")),
        Refusal::NotDue { after_run: wheels }
    );
    let runs = b.job().runs.len();
    b.ok(done(wheels, "the owner does it"));
    assert_eq!(due_checks(b.job(), b.ctx.now), vec![]);
    assert_eq!(b.job().runs.len(), runs, "that it was done is no run");
    let note = b.job().notes.rows().last().unwrap();
    assert_eq!(
        (note.on, &note.text[..]),
        (
            Target::AfterRun(wheels),
            "Done before it was due: the owner does it"
        )
    );
}

/// A pump whose coolant hose is open, and a brake pipe that is open too.
fn two_fluids() -> (Bench, FluidId, FluidId, EndId, EndId) {
    let mut b = Bench::default();
    let mut drain = |name: &str, amount: &str| {
        let act = Act::FluidDrained {
            name: name.to_owned(),
            amount: amount.to_owned(),
            bleed: false,
        };
        FluidId(b.record(act).thing(0))
    };
    let (coolant, brake) = (drain("coolant", "7 l"), drain("brake fluid", ""));
    let mut open = |name: &str| {
        let id = b.connection(name, end(None, "near", true), end(None, "far", false), &[]);
        side(id, Side::A)
    };
    let (hose, pipe) = (open("bottom hose"), open("brake pipe"));
    (b, coolant, brake, hose, pipe)
}

fn fill(fluid: FluidId, amount: &str, anyway: &str) -> Command {
    Command::Fill {
        fluid,
        amount: amount.to_owned(),
        anyway: anyway.to_owned(),
        checks: Vec::new(),
    }
}

#[test]
fn an_open_joint_holds_back_its_own_fluid_and_no_other() {
    let (mut b, coolant, brake, hose, pipe) = two_fluids();
    let on = |b: &Bench, fluid| -> Vec<Target> {
        let needs = fill_needs(b.job(), fluid, b.ctx.now);
        needs.iter().map(|o| o.on).collect()
    };
    let ends = [Target::End(hose), Target::End(pipe)];
    // A brake pipe holds no coolant; a hose that is named after nothing may
    // hold either.
    assert_eq!(on(&b, coolant), [ends[0]]);
    assert_eq!(on(&b, brake), ends);
    let passed = not_asked(b.job(), coolant, b.ctx.now);
    assert_eq!(passed.iter().map(|o| o.on).collect::<Vec<_>>(), [ends[1]]);
    // Said by the person, either way, and undone by the opposite.
    let says = |b: &mut Bench, fluid, end: EndId, holds| {
        let on = Target::Connection(end.connection);
        b.record(Act::JointHolds { fluid, on, holds });
    };
    says(&mut b, brake, hose, false);
    assert_eq!(on(&b, brake), [ends[1]]);
    says(&mut b, coolant, pipe, true);
    assert_eq!(on(&b, coolant), ends);
    says(&mut b, coolant, pipe, false);
    b.join(hose);
    b.ok(fill(coolant, "7 l", ""));
    assert!(matches!(
        b.refused(fill(brake, "", "")),
        Refusal::NotReady { .. }
    ));
    let no_joint = Act::JointHolds {
        fluid: coolant,
        on: Target::Job,
        holds: true,
    };
    assert_eq!(
        b.refused(Command::Record(no_joint)),
        Refusal::NoJoint { on: Target::Job }
    );
}

#[test]
fn less_in_than_came_out_is_owed_until_the_level_is_seen_right() {
    let (mut b, coolant, _, hose, _) = two_fluids();
    b.join(hose);
    let level = |amount: &str| Act::LevelSeen {
        fluid: coolant,
        amount: amount.to_owned(),
    };
    assert_eq!(
        b.refused(Command::Record(level(""))),
        Refusal::NotFilled { fluid: coolant }
    );
    b.ok(fill(coolant, "6,2 l", ""));
    let less = |b: &Bench| b.rules().contains(&(Rule::LessIn, Target::Fluid(coolant)));
    assert!(less(&b));
    assert!(now(&b).start.iter().any(|o| o.rule == Rule::LessIn));
    let open = b.audit().open;
    let owed = open.iter().find(|o| o.rule == Rule::LessIn).unwrap();
    let said = words::owed(b.job(), owed, words::Style::default()).todo;
    assert!(
        said.starts_with("7 l came out, 6,2 l went in: 0.8 l less."),
        "{said}"
    );
    b.record(level("0,7 l"));
    assert!(!less(&b));
    // As much as came out, and what was not measured, is no debt.
    for amount in ["6.9 l", "", "some"] {
        let (mut b, coolant, _, hose, _) = two_fluids();
        b.join(hose);
        b.ok(fill(coolant, amount, ""));
        assert!(!b.audit().has(Rule::LessIn), "{amount}");
    }
}

#[test]
fn filling_asks_for_looks_at_leaks_and_level_once_it_has_run() {
    let (mut b, coolant, _, hose, _) = two_fluids();
    b.join(hose);
    b.ok(Command::Fill {
        fluid: coolant,
        amount: String::new(),
        anyway: String::new(),
        checks: vec![AfterRunKind::LeakCheck, AfterRunKind::LevelCheck],
    });
    let owed = b.job().after_runs.rows();
    let on: Vec<_> = owed.map(|it| (it.what, it.on)).collect();
    let fluid = Target::Fluid(coolant);
    assert_eq!(
        on,
        [
            (AfterRunKind::LeakCheck, fluid),
            (AfterRunKind::LevelCheck, fluid)
        ]
    );
}

#[test]
fn the_starter_waits_for_an_open_fuel_pipe_and_not_for_a_vacuum_hose() {
    let mut b = Bench::default();
    let fuel = b.connection(
        "fuel feed",
        end(None, "rail", true),
        end(None, "tank", false),
        &[],
    );
    b.connection(
        "vacuum hose",
        end(None, "servo", true),
        end(None, "inlet", false),
        &[],
    );
    let fuel = side(fuel, Side::A);
    assert_eq!(rules(&now(&b).crank), [Rule::Rejoin]);
    assert_eq!(now(&b).crank[0].on, Target::End(fuel));
    b.join(fuel);
    assert_eq!(now(&b).may(Ask::Crank), Ok(()));
    assert!(now(&b).may(Ask::Start).is_err());
}

#[test]
fn running_it_against_what_stands_is_asked_a_reason_and_logged_with_it() {
    let (mut b, _, _, _, _) = two_fluids();
    let run = |anyway: &str| Command::Run {
        heat_cycles: 0,
        anyway: anyway.to_owned(),
    };
    assert!(matches!(
        b.refused(run(" ")),
        Refusal::NotReady {
            ask: Ask::Start,
            ..
        }
    ));
    let events = b.ok(run("to move it out of the rain"));
    let said: Vec<String> = events
        .iter()
        .map(|e| words::act(b.job(), e, words::Style::default()))
        .collect();
    assert!(said[1].contains("to move it out of the rain"), "{said:?}");
}

#[test]
fn what_was_signed_is_not_struck_before_the_job_is_opened_again() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[]);
    let missing = b.part("trim", &[]);
    b.place(cover);
    let placed = b.book.last_standing().unwrap();
    let owed = b.audit().open[0].key();
    assert_eq!(owed.on, Target::Part(missing));
    b.ok(Command::Except {
        owed,
        reason: "left in the loft".to_owned(),
    });
    b.ok(Command::SignOff);
    let signed = b.job().signed.clone().unwrap();
    assert_eq!(signed.verdict, "complete, but for 1 accepted");
    let strike = Command::Strike { event: placed };
    assert_eq!(b.refused(strike.clone()), Refusal::SignedOff);
    b.ok(Command::Reopen {
        reason: "the loft is empty".to_owned(),
    });
    b.ok(strike);
    assert!(!b.job().is_signed());
}
