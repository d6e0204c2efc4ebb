//! The last part of a job as the screens tell it: the second look, what the
//! machine may be let do, checks after running, the page for a successor, the
//! sign-off. Scenarios and their figures are invented.
use countback_checks::bench::*;
use countback_core::audit::{Rule, Verdict, audit};
use countback_core::guard::{Break, BrokenOff};
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::permit::Ask;
use countback_core::view::{self, At, BlockKind};
use countback_core::words::{self, Style};

fn at(now: i64) -> At {
    At {
        now,
        open_since: 0,
        style: Style::default(),
    }
}

fn here(b: &Bench) -> At {
    at(b.ctx.now)
}

fn put(b: &mut Bench, kind: InsideKind, name: &str, n: u16, place: &str) -> InsideId {
    let put = PutIn {
        kind,
        name: name.to_owned(),
        n,
        opening: None,
        place: place.to_owned(),
        hidden_by: None,
    };
    InsideId(b.record(Act::PutIn(put)).thing(0))
}

fn drain(b: &mut Bench, name: &str) -> FluidId {
    let act = Act::FluidDrained {
        name: name.to_owned(),
        amount: "6 l".to_owned(),
        bleed: false,
    };
    FluidId(b.record(act).thing(0))
}

fn fill(fluid: FluidId, anyway: &str) -> Command {
    Command::Fill {
        fluid,
        amount: String::new(),
        anyway: anyway.to_owned(),
        checks: Vec::new(),
    }
}

/// All 41 places are final, and a rag and a socket are not back.
#[test]
fn what_is_inside_is_named_before_any_word_of_success() {
    let mut b = Bench::default();
    let manifold = b.part("manifold", &[("bolt | thread=M8 x 1.25", 41)]);
    let caps = put(&mut b, InsideKind::Cover, "cap", 5, "ports");
    let rags = put(&mut b, InsideKind::Rag, "rag", 2, "port 2");
    let pins = put(&mut b, InsideKind::LockingPin, "timing pin", 2, "camshafts");
    let lock = put(&mut b, InsideKind::LockingPin, "flywheel lock", 1, "");
    let tools = put(&mut b, InsideKind::Tool, "tool", 22, "");
    put(&mut b, InsideKind::Tool, "10 mm socket", 1, "");
    for (inside, n) in [(caps, 5), (rags, 1), (pins, 2), (lock, 1), (tools, 22)] {
        b.record(Act::TakenOut { inside, n });
    }
    b.place(manifold);
    b.fasten(manifold);
    let rows = view::permits(&b.book, here(&b));
    for (row, no) in rows.iter().zip([
        "Do not turn it",
        "Do not crank it",
        "Do not fill it",
        "Do not start it",
    ]) {
        assert!(!row.may && row.answer.starts_with(no), "{}", row.answer);
        assert_eq!(
            view::missing(&b.book, row.asked, row.fluid, here(&b))
                .iter()
                .map(|m| &m.what[..])
                .collect::<Vec<_>>(),
            [
                "Still inside: 2 × rag in port 2 (1 of 2 still in)",
                "Still inside: 10 mm socket"
            ]
        );
    }
    let page = view::audit_page(&b.book, here(&b), &b.at_work());
    assert_eq!(page.verdict.head, "Do not turn the engine.");
    let told = page.verdict.lines.join(" ");
    assert!(told.contains("port 2") && told.contains("10 mm socket"));
    let card = view::job_card(&b.book, here(&b));
    assert!(card.danger && card.under.contains("10 mm socket"));
    let page = view::sign_off_page(&b.book, here(&b));
    assert!(!page.can_sign && page.verdict.danger);
    let page = view::handover_page(&b.book, here(&b));
    let first = page.blocks.first().unwrap();
    assert_eq!(first.kind, BlockKind::Stop);
    assert!(first.lines.iter().all(|it| it.starts_with("DO NOT TURN: ")));
}

/// Week five: 9 of 17 parts are back, 3 wait, 4 places are hand-tight, the
/// coolant is out, the battery off.
#[test]
fn one_page_for_a_successor_says_the_danger_first_and_adds_up() {
    let mut b = Bench::default();
    b.record(Act::SupplyIsolated {
        name: "battery".to_owned(),
        kind: SupplyKind::Battery,
    });
    drain(&mut b, "coolant");
    let mut parts = Vec::new();
    for n in 0..17 {
        let mut off = take_off(&format!("part {n}"));
        off.fixings = vec![FixingDraft::new(spec("bolt | thread=M6 x 1"), 4)];
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
        match n {
            8 => drop(b.ok(Command::Start {
                fixing: b.fixing(part, 0),
                which: Thing::All,
                line: None,
                anyway: false,
            })),
            _ => b.fasten(part),
        }
    }
    let page = view::handover_page(&b.book, here(&b));
    let block = |title: &str| page.blocks.iter().find(|it| it.title == title).unwrap();
    let titles: Vec<&str> = page.blocks.iter().map(|it| it.title).collect();
    assert_eq!(titles[..3], ["Do not", "Looks done, is not", "Parts"]);
    assert_eq!(
        block("Do not").lines,
        [
            "DO NOT START: no coolant",
            "DO NOT START: still cut off: battery"
        ]
    );
    assert_eq!(block("Looks done, is not").n, Some(4));
    assert_eq!(
        block("Parts").lines,
        [
            "5 ready + 3 waiting = 8 parts to go back",
            "9 back + 8 to go back = 17 parts in all"
        ]
    );
    // The figures are those of the lists under them.
    assert_eq!(block("Ready to go back").lines.len(), 5);
    assert_eq!(block("Waiting").lines.len(), 3);
    assert_eq!(block("Next").lines, ["part 8"]);
    // As text it is the same, in the same order.
    let text = &page.text;
    let found = ["no coolant", "Looks done, is not: 4", "= 17 parts in all"];
    let places: Vec<usize> = found.iter().map(|it| text.find(it).unwrap()).collect();
    assert!(places.is_sorted(), "{text}");
    for block in &page.blocks {
        assert!(block.lines.iter().all(|it| text.contains(it)));
    }
}

/// Sealant at 10:05, fluid after 24 hours: audit, permit and the list of cures
/// say what the refusal says, whatever was done to the clock.
#[test]
fn a_cure_is_told_the_same_everywhere_and_known_at_reopening() {
    let mut b = Bench::default();
    let mut off = take_off("cover");
    off.treatments.push(
        Treatment {
            kind: TreatmentKind::Sealant,
            product: "silicone".to_owned(),
            on: Target::Job,
            cure_min: 24 * 60,
            open_min: None,
            holds_fill: true,
            holds_start: true,
            holds_cover: false,
        }
        .into(),
    );
    let cover = b.take_off(off);
    let coolant = drain(&mut b, "coolant");
    let treatment = b.job().treatments.ids().next().unwrap();
    b.record(Act::TreatmentApplied { treatment });
    let applied = b.ctx.now;
    b.place(cover);
    // The clock ran ahead while something was noted.
    b.ctx.now = applied + 40 * 24 * HOUR;
    b.record(Act::NoteAdded {
        on: Target::Job,
        text: "clock was wrong".to_owned(),
    });
    let holds = |b: &Bench, now: i64| {
        let ctx = Ctx {
            now,
            ..b.ctx.clone()
        };
        let refused = matches!(
            b.book.decide(fill(coolant, "never mind"), &ctx),
            Err(Refusal::Curing { .. })
        );
        let told = audit(b.job(), now).has(Rule::Curing);
        let page = view::audit_page(&b.book, at(now), &b.at_work());
        let mut rows = page.groups.iter().flat_map(|group| &group.rows);
        let shown = rows.any(|row| row.key.rule == Rule::Curing);
        let permits = view::permits(&b.book, at(now));
        let fills = permits.iter().find(|row| row.asked == Ask::Fill).unwrap();
        let cures = view::due_page(&b.book, at(now)).cures;
        assert_eq!(
            [refused, told, shown, !fills.may, !cures[0].cured],
            [refused; 5],
            "at {now}"
        );
        refused
    };
    for before in [-7 * 24 * HOUR, 6 * HOUR, 24 * HOUR - 1] {
        assert!(holds(&b, applied + before));
    }
    assert!(!holds(&b, applied + 24 * HOUR));
    // Closed over night: the app that is opened the next day knows.
    b.book = Book::open(b.book.journal().clone());
    assert!(holds(&b, applied + HOUR));
    assert!(!holds(&b, applied + 25 * HOUR));
}

/// Sealant that is to be covered only when it has cured holds what goes over it
/// and nothing else, says until when, and says at reopening that it is over and
/// how that is known.
#[test]
fn a_cure_holds_what_goes_over_it_and_nothing_else() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[]);
    let bracket = b.part("bracket", &[]);
    let mut off = take_off("pump");
    off.part.after = vec![Need {
        first: Target::Part(cover),
        why: Why::Hides,
    }];
    off.treatments.push(
        Treatment {
            kind: TreatmentKind::Sealant,
            product: "silicone".to_owned(),
            on: Target::Job,
            cure_min: 60,
            open_min: None,
            holds_fill: false,
            holds_start: true,
            holds_cover: true,
        }
        .into(),
    );
    let pump = b.take_off(off);
    let treatment = b.job().treatments.ids().next().unwrap();
    b.record(Act::TreatmentApplied { treatment });
    let applied = b.ctx.now;
    b.place(pump);
    let place = Command::PlacePart {
        part: cover,
        anyway: false,
    };
    let refusal = b.refused(place.clone());
    assert!(matches!(refusal, Refusal::Curing { .. }), "{refusal:?}");
    let page = view::put_back_page(&b.book, at(b.ctx.now), &b.at_work());
    let now: Vec<Target> = page
        .now
        .iter()
        .flat_map(|g| &g.rows)
        .map(|r| r.what)
        .collect();
    assert_eq!(now, [Target::Part(bracket)]);
    assert_eq!(page.waiting[0].what, Target::Part(cover));
    assert!(
        page.waiting[0]
            .note
            .contains("the cure of sealant silicone on pump"),
        "{}",
        page.waiting[0].note
    );
    assert_eq!(page.held.len(), 2, "{:?}", page.held);
    let until = (Style::default().when)(applied + HOUR);
    assert!(
        page.held
            .iter()
            .all(|row| row.note.contains(&format!("until {until}")))
    );
    assert_eq!(
        [&*page.held[0].holds, &*page.held[1].holds],
        ["cover", "starting"]
    );
    assert_eq!(page.cured, Vec::<String>::new());

    // Over while the app was open, and while it was closed.
    let mut later = at(applied + HOUR);
    let page = view::put_back_page(&b.book, later, &b.at_work());
    assert_eq!((page.held.len(), page.waiting.len(), page.n_now), (0, 0, 2));
    assert!(
        page.cured[0].ends_with(&format!("cured since {until}")),
        "{:?}",
        page.cured
    );
    let start = |at: At| {
        let rows = view::permits(&b.book, at);
        rows.into_iter()
            .find(|row| row.asked == Ask::Start)
            .unwrap()
            .by_clock
    };
    assert_eq!(start(later), "");
    later.open_since = later.now;
    let put_on = (Style::default().when)(applied);
    let says = format!("put on {put_on}, over {until} by this phone's clock");
    assert!(view::put_back_page(&b.book, later, &b.at_work()).cured[0].ends_with(&says));
    assert!(
        start(later).ends_with(&format!("{says}.")),
        "{}",
        start(later)
    );
    let fills = view::permits(&b.book, later)
        .into_iter()
        .find(|row| row.asked == Ask::Fill);
    assert_eq!(fills.unwrap().by_clock, "");
    b.ctx.now = later.now;
    b.ok(place);
}

#[test]
fn filling_over_an_open_joint_needs_a_reason_that_stands_in_the_record() {
    let mut b = Bench::default();
    let pump = b.part("pump", &[("bolt | thread=M8 x 1.25", 4)]);
    let hose = b.connection(
        "hose",
        end(Some(pump), "pump", true),
        end(None, "", false),
        &[],
    );
    b.place(pump);
    b.fasten(pump);
    let coolant = drain(&mut b, "coolant");
    for command in [
        fill(coolant, " "),
        Command::Record(Act::FluidFilled {
            fluid: coolant,
            amount: String::new(),
        }),
    ] {
        let refusal = b.refused(command);
        let Refusal::NotReady { ask, missing } = &refusal else {
            panic!("{refusal:?}");
        };
        assert_eq!(
            (*ask, missing[0].on),
            (Ask::Fill, Target::End(side(hose, Side::A)))
        );
        let said = words::refusal(b.job(), &refusal, Style::default());
        assert_eq!(said, "Do not fill it. Open: hose, end at pump.");
    }
    let acts = b.ok(fill(coolant, "to find the leak"));
    assert_eq!(acts.len(), 2);
    assert_eq!(
        words::act(b.job(), &acts[1], Style::default()),
        "Note on coolant: to find the leak"
    );
    assert!(!b.audit().has(Rule::Fill) && b.audit().has(Rule::Rejoin));
    // Both are one tap, and are struck together.
    b.ok(Command::StrikeLast);
    assert!(b.audit().has(Rule::Fill));
    b.join(side(hose, Side::A));
    assert_eq!(b.ok(fill(coolant, "")).len(), 1);
}

#[test]
fn a_meter_only_goes_up_and_checks_fall_due_on_the_list_of_jobs() {
    let mut b = Bench::default();
    let wheel = b.part("wheel", &[("nut | thread=M12 x 1.5", 5)]);
    let read = |tenths| {
        Command::Record(Act::MeterRead(Meter {
            kind: MeterKind::Kilometres,
            tenths,
        }))
    };
    b.ok(read(1_000_000));
    let retighten = Act::AfterRunOwed {
        what: AfterRunKind::Retighten,
        on: Target::Part(wheel),
        text: String::new(),
        due: Due {
            km: 50,
            ..Due::default()
        },
    };
    b.record(retighten);
    b.place(wheel);
    b.fasten(wheel);
    b.looked_at_by("Bo");
    let due = |b: &Bench| view::job_card(&b.book, here(b)).due;
    assert_eq!(due(&b), "");
    let refusal = b.refused(read(999_999));
    assert!(matches!(refusal, Refusal::MeterLower { .. }));
    let said = words::refusal(b.job(), &refusal, Style::default());
    assert!(
        said.starts_with("99999.9 km is less than the 100000 km"),
        "{said}"
    );
    // Another kind of meter is another meter.
    b.record(Act::MeterRead(Meter {
        kind: MeterKind::Hours,
        tenths: 10,
    }));
    b.ok(read(1_000_300));
    assert_eq!(
        view::due_page(&b.book, here(&b)).checks[0].note,
        "20 km to go"
    );
    assert_eq!(due(&b), "");
    b.ok(read(1_000_500));
    assert_eq!(due(&b), "Due: re-tighten: wheel");
    let page = view::due_page(&b.book, here(&b));
    assert_eq!(
        (page.n_due, &page.checks[0].note[..]),
        (1, "due now: 50 km run")
    );
    // The job stays open for it.
    assert!(b.tell(Command::SignOff).is_err());
    b.record(Act::AfterRunDone {
        after_run: page.checks[0].id,
        reading: String::new(),
    });
    assert_eq!(due(&b), "");
    b.ok(Command::SignOff);
}

#[test]
fn a_make_safe_step_confirmed_late_is_settled_and_says_so() {
    let mut b = Bench::default();
    let step = |b: &mut Bench, text: &str| {
        let step = SafeStep {
            kind: SafeKind::Other,
            text: text.to_owned(),
        };
        StepId(b.record(Act::SafeStepListed(step)).thing(0))
    };
    let (early, late) = (step(&mut b, "battery off"), step(&mut b, "on stands"));
    b.record(Act::SafeStepConfirmed { step: early });
    let cover = b.part("cover", &[]);
    assert!(b.audit().has(Rule::MakeSafe));
    let confirmed = b.ok(Command::Record(Act::SafeStepConfirmed { step: late }));
    assert!(!b.audit().has(Rule::MakeSafe));
    let said = words::act(b.job(), &confirmed[0], Style::default());
    assert_eq!(said, "Confirmed late: on stands");
    for late in [
        view::audit_page(&b.book, here(&b), &b.at_work()).late,
        view::sign_off_page(&b.book, here(&b)).late,
    ] {
        assert_eq!(late.len(), 1);
        assert!(
            late[0].starts_with("on stands: confirmed by Ann"),
            "{late:?}"
        );
    }
    let steps = view::job_page(&b.book, here(&b)).steps;
    assert_eq!(
        steps.iter().map(|s| s.late).collect::<Vec<_>>(),
        [false, true]
    );
    // It is no debt: the job can be closed.
    b.place(cover);
    b.ok(Command::SignOff);
}

/// Caliper bolts behind a wheel, marked as safety-critical and final.
fn brake() -> (Bench, FixingId, PartId) {
    let mut b = Bench::default();
    let wheel = b.part("wheel", &[("nut | thread=M12 x 1.5", 3)]);
    let mut off = take_off("brake caliper");
    let mut draft = FixingDraft::new(spec("bolt | thread=M10 x 1.25"), 2);
    draft.detail.safety = true;
    off.fixings = vec![draft];
    off.part.after = vec![Need {
        first: Target::Part(wheel),
        why: Why::Hides,
    }];
    let caliper = b.take_off(off);
    b.place(caliper);
    b.fasten(caliper);
    let bolts = b.fixing(caliper, 0);
    (b, bolts, wheel)
}

#[test]
fn who_may_look_is_offered_by_name_and_letting_it_go_reads_as_what_it_is() {
    let (mut b, bolts, wheel) = brake();
    let what = Target::Fixing(bolts);
    let hides = view::hides(&b.book, wheel, &b.at_work());
    assert_eq!(hides.owed.len(), 1, "said once: {hides:?}");
    assert!(hides.owed[0].can_check && hides.owed[0].what == what);
    assert!(!hides.cost.is_empty());
    let ask = view::check_ask(&b.book, what, here(&b)).unwrap();
    assert_eq!((&ask.did[..], ask.others.len()), ("Ann", 0));
    b.ctx.by = "Bo".to_owned();
    b.record(Act::NoteAdded {
        on: Target::Job,
        text: "here too".to_owned(),
    });
    let ask = view::check_ask(&b.book, what, here(&b)).unwrap();
    assert_eq!(
        (&ask.did[..], &ask.others[..]),
        ("Ann", &["Bo".to_owned()][..])
    );
    let (owed, mut alone) = (ask.owed.unwrap(), b.clone());
    b.ok(Command::Check { what });
    assert_eq!(
        view::hides(&b.book, wheel, &b.at_work()),
        view::Hides::default()
    );
    // Alone, it is let go, and the record says what that is worth.
    alone.ctx.by = "Ann".to_owned();
    alone.ok(Command::Except {
        owed,
        reason: "I work alone".to_owned(),
    });
    alone.place(wheel);
    let page = view::sign_off_page(&alone.book, here(&alone));
    let row = &page.excepted[0];
    assert!(
        row.what.starts_with("No second look: 2 × M10 x 1.25"),
        "{}",
        row.what
    );
    assert_eq!(
        (&row.reason[..], row.note, &row.by[..]),
        ("I work alone", words::OWN_WORK, "Ann")
    );
}

#[test]
fn what_was_ticked_in_bulk_is_touched_place_by_place() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[("bolt | thread=M6 x 1", 6)]);
    let other = b.part("other", &[("bolt | thread=M6 x 1", 2)]);
    b.place(cover);
    b.fasten(cover);
    b.place(other);
    b.fasten(other);
    let rows = view::again_rows(&b.book, None);
    assert_eq!((rows.len(), rows[0].places.len()), (1, 6));
    assert_eq!(view::again_rows(&b.book, Some(other)), []);
    assert_eq!(view::again_rows(&b.book, Some(cover)), rows);
    assert_eq!(view::sign_off_page(&b.book, here(&b)).not_touched, 1);
    b.record(rows[0].answer(vec![0, 1, 2, 3], true));
    let rows = view::again_rows(&b.book, None);
    assert_eq!(rows[0].places, [(4, 5), (5, 6)]);
    b.record(rows[0].answer(vec![4, 5], false));
    assert_eq!(view::again_rows(&b.book, None), []);
    let doubtful = b.audit().open;
    assert_eq!((doubtful[0].rule, doubtful[0].n), (Rule::Doubtful, 2));
}

/// The round of a pass goes its own way over the numbers of the drawing.
#[test]
fn a_round_that_was_set_is_the_order_that_counts() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[("bolt | thread=M6 x 1", 4)]);
    let fixing = b.fixing(cover, 0);
    b.place(cover);
    b.ok(Command::Start {
        fixing,
        which: Thing::All,
        line: None,
        anyway: false,
    });
    b.record(Act::RoundSet(Round {
        fixing,
        photo: None,
        points: vec![(0, 0), (1000, 0), (1000, 1000), (0, 1000)],
        order: vec![0, 2, 1, 3],
        maker: false,
    }));
    let tight = |b: &mut Bench, place: u16| {
        b.ok(Command::Tighten {
            fixing,
            which: Thing::Places(vec![place]),
            to: Tight::Final,
            value: None,
        });
    };
    for place in [0, 2] {
        tight(&mut b, place);
    }
    assert_eq!(view::again_rows(&b.book, None), []);
    // The fourth before the second of the drawing, which is third of the round.
    tight(&mut b, 3);
    let rows = view::again_rows(&b.book, None);
    assert_eq!(
        (rows.len(), rows[0].places.len(), rows[0].why),
        (1, 1, "said out of order")
    );
}

#[test]
fn a_closed_job_reads_with_what_was_left_off_and_opens_again_with_a_reason() {
    let mut b = Bench::default();
    let pump = b.part("auxiliary pump", &[("bolt | thread=M6 x 1", 2)]);
    b.ok(Command::LeaveOff {
        what: Target::Part(pump),
        reason: "dead, heater works without".to_owned(),
    });
    let finding = b.record(Act::FindingNoted {
        on: Target::Job,
        text: "live plug end hangs free".to_owned(),
    });
    let page = view::sign_off_page(&b.book, here(&b));
    assert_eq!((page.can_sign, page.n_open), (false, 1));
    assert_eq!(page.against[0].n, 1);
    assert!(page.against[0].said.ends_with("live plug end hangs free"));
    assert_eq!(b.refused(Command::SignOff), Refusal::StillOwed { n: 1 });
    let owed = b.audit().open[0].key();
    assert_eq!(owed.opened, finding);
    b.ok(Command::Except {
        owed,
        reason: "sealed off with tape".to_owned(),
    });
    b.ok(Command::SignOff);
    let page = view::sign_off_page(&b.book, here(&b));
    let signed = page.signed.unwrap();
    assert_eq!(
        (&signed.text[..], &signed.by[..]),
        ("Signed off with 1 exception", "Ann")
    );
    let left = &page.left_off[0];
    assert_eq!(
        (&left.what[..], &left.reason[..], &left.by[..]),
        ("auxiliary pump", "dead, heater works without", "Ann")
    );
    assert_eq!(page.excepted[0].reason, "sealed off with tape");
    b.ok(Command::Reopen {
        reason: "More work".to_owned(),
    });
    let page = view::sign_off_page(&b.book, here(&b));
    assert!(page.signed.is_none() && page.can_sign);
    let history: Vec<&str> = page.history.iter().map(|it| &it.text[..]).collect();
    assert_eq!(history, ["Signed off", "Reopened: More work"]);
}

#[test]
fn what_two_phones_both_said_is_listed_with_what_it_was() {
    let mut b = Bench::default();
    let trim = b.part("trim", &[("clip", 1)]);
    b.place(trim);
    let start = Command::Start {
        fixing: b.fixing(trim, 0),
        which: Thing::All,
        line: None,
        anyway: false,
    };
    let mut other = b.clone();
    other.ctx.device = DeviceId(2);
    b.ok(start.clone());
    other.ok(start);
    b.book.merge(other.book.journal()).unwrap();
    let page = view::audit_page(&b.book, here(&b), &b.at_work());
    assert_eq!(page.n_open, 1);
    assert_eq!(
        page.groups[0].rows[0].what,
        "The same was said on two phones: Started: 1 × clip of trim"
    );
}

/// Seven of eleven were final when the phone died.
#[test]
fn the_card_after_a_break_names_the_last_three_and_the_next() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[("bolt | thread=M6 x 1", 11)]);
    b.place(cover);
    let fixing = b.fixing(cover, 0);
    b.ok(Command::Start {
        fixing,
        which: Thing::All,
        line: None,
        anyway: false,
    });
    for _ in 0..7 {
        b.ok(Command::Tighten {
            fixing,
            which: Thing::Next(1),
            to: Tight::Final,
            value: None,
        });
    }
    for why in [Break::Died, Break::OtherJob, Break::Hidden] {
        let last = b.last_act();
        let card = view::resume_card(&b.book, BrokenOff { why, last }).unwrap();
        let asked: Vec<&str> = card.touch.iter().map(|(_, text)| &text[..7]).collect();
        assert_eq!(asked, ["Place 5", "Place 6", "Place 7"]);
        assert_eq!(card.next, "Then tighten place 8.");
    }
    // How long out of sight is too long is the person's to set.
    let away = |patience_ms| Break::hidden(b.ctx.now - 5 * MINUTE, b.ctx.now, patience_ms);
    assert_eq!(away(5 * MINUTE), Some(Break::Hidden));
    assert_eq!(away(6 * MINUTE), None);
}

/// The tube says ten minutes: by when the joint has to be closed is told from
/// the moment it is put on, what dried is put on anew, and nothing is owed then.
#[test]
fn an_open_time_is_told_while_it_runs_out() {
    let mut b = Bench::default();
    let mut off = take_off("cover");
    off.treatments.push(
        Treatment {
            kind: TreatmentKind::Sealant,
            product: "grey paste".to_owned(),
            on: Target::Job,
            cure_min: 0,
            open_min: Some(10),
            holds_fill: false,
            holds_start: false,
            holds_cover: false,
        }
        .into(),
    );
    let cover = b.take_off(off);
    let treatment = b.job().treatments.ids().next().unwrap();
    let open = |b: &Bench| view::put_back_page(&b.book, here(b), &b.at_work()).open;
    let row = |b: &Bench| view::part_page(&b.book, cover, here(b)).unwrap().treatments[0].clone();
    assert_eq!(open(&b), []);

    let put_on = Command::Record(Act::TreatmentApplied { treatment });
    b.ok(put_on.clone());
    let by = (here(&b).style.when)(b.ctx.now + 10 * MINUTE);
    let says = format!("sealant grey paste on cover: close the joint by {by}");
    assert_eq!(open(&b), [(says, false)]);
    assert!(!row(&b).dried);

    b.ctx.now += 11 * MINUTE;
    let (told, over) = open(&b).remove(0);
    assert!(
        over && told.contains("clean it off and put on new"),
        "{told}"
    );
    assert!(row(&b).dried);

    // Wiped off and put on anew, and closed in time.
    b.ok(put_on.clone());
    assert!(!row(&b).dried);
    b.place(cover);
    assert_eq!(open(&b), []);
    assert_eq!(b.audit().verdict, Verdict::Complete);
    // Once it is closed there is nothing to put on any more.
    assert!(matches!(b.refused(put_on), Refusal::AlreadySo(_)));
}
