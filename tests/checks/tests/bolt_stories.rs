//! Stories of one fixing, of a bolt that turned up and of what has to be
//! bought, each as a person would live it on the pages that show them. Scenario
//! figures are invented; nothing here is a specification. Longer than most
//! files: one story after the other.
use countback_checks::bench::*;
use countback_core::audit::{Next, Rule, Verdict};
use countback_core::fastener::identify::{Measure, Measured, PitchCount};
use countback_core::fastener::marks::Mark;
use countback_core::fastener::{Drive, FastenerKind, HeadSize};
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::torque::TorqueUnit;
use countback_core::torque::hole::HoleMetal;
use countback_core::view::{self, At, FixingPage};
use countback_core::words::{self, Style};

fn at(b: &Bench) -> At {
    At {
        now: b.ctx.now,
        open_since: 0,
        style: Style::default(),
    }
}

fn page(b: &Bench, id: FixingId) -> FixingPage {
    view::fixing_page(&b.book, id, at(b)).unwrap()
}

fn start_all(fixing: FixingId) -> Command {
    Command::Start {
        fixing,
        which: Thing::All,
        line: None,
        anyway: false,
    }
}

fn tight(fixing: FixingId) -> Command {
    Command::Tighten {
        fixing,
        which: Thing::All,
        to: Tight::Final,
        value: None,
    }
}

/// S8: the new pump's flange is 9 mm where the old one was 12.
#[test]
fn a_thinner_flange_refuses_the_old_bolts_with_the_sum_shown() {
    let mut b = Bench::default();
    let pump = b.part("pump", &[("bolt | thread=M8 x 1.25 | length=30", 6)]);
    let fixing = b.fixing(pump, 0);
    let hole = |parts_um| Hole {
        parts_um,
        washers_um: 0,
        depth_um: 20_000,
        metal: Some(HoleMetal::Aluminium),
    };
    b.record(Act::HoleMeasured {
        fixing,
        hole: hole(12_000),
    });
    let text = page(&b, fixing).hole_text.unwrap();
    assert_eq!(text.sum, "30 − 12 = 18 mm into a hole of 20 mm");
    assert!(!text.bad && !text.doubt, "{text:?}");
    // A new pump came: the page asks for the hole again.
    b.ok(Command::Replace {
        part: pump,
        note: "new".to_owned(),
        as_ordered: true,
        fasteners: Vec::new(),
    });
    assert!(page(&b, fixing).row.hole_old.contains("Measure again"));
    let stale = (Rule::HoleOld, Target::Fixing(fixing));
    assert!(b.rules().contains(&stale));
    b.record(Act::HoleMeasured {
        fixing,
        hole: hole(9_000),
    });
    assert_eq!(page(&b, fixing).row.hole_old, "");
    assert!(!b.rules().contains(&stale));
    // Another one came since: they are refused all the same, and it is told that
    // the sum is of the old stack, as it is before the pass.
    let warned = |b: &Bench| {
        let pass = view::tighten_page(&b.book, fixing, &view::Tools::default(), at(b));
        pass.unwrap().warnings.first().cloned().unwrap_or_default()
    };
    b.ok(Command::Replace {
        part: pump,
        note: "thicker".to_owned(),
        as_ordered: true,
        fasteners: Vec::new(),
    });
    b.place(pump);
    let refusal = b.refused(start_all(fixing));
    let said = words::refusal(b.job(), &refusal, Style::default());
    let old = "The hole was measured before the new pump came. Measure again.";
    assert!(said.ends_with(old), "{said}");
    assert_eq!(warned(&b), old);
    b.record(Act::HoleMeasured {
        fixing,
        hole: hole(9_000),
    });
    assert_eq!(warned(&b), "");
    let refusal = b.refused(start_all(fixing));
    let said = words::refusal(b.job(), &refusal, Style::default());
    assert!(
        said.contains("30 long - 9 under the head = 21 into a hole of 20 mm"),
        "{said}"
    );
    assert!(!said.contains("Measure again"), "{said}");
    // Not as a swap either: no word makes it clamp.
    let anyway = b.refused(Command::Start {
        fixing,
        which: Thing::All,
        line: None,
        anyway: true,
    });
    assert!(matches!(anyway, Refusal::WouldBottom { .. }));
    // A washer of 2 mm, and they pass.
    b.record(Act::HoleMeasured {
        fixing,
        hole: Hole {
            washers_um: 2_000,
            ..hole(9_000)
        },
    });
    b.ok(start_all(fixing));
    b.ok(tight(fixing));
    // The washer was left out after all: what is tight is no longer trusted.
    b.record(Act::HoleMeasured {
        fixing,
        hole: hole(9_000),
    });
    assert!(
        b.rules()
            .contains(&(Rule::Doubtful, Target::Fixing(fixing)))
    );
    // And the audit says why.
    let audit = b.audit();
    let line = audit.open.iter().find(|o| o.rule == Rule::WouldBottom);
    let said = words::owed(b.job(), line.unwrap(), Style::default()).what;
    assert!(
        said.contains("30 − 9 = 21 mm into a hole of 20 mm"),
        "{said}"
    );
    assert!(matches!(b.refused(tight(fixing)), Refusal::AlreadySo(_)));
    // The supplied 28 engage 19 and pass; the old six stay as a pattern.
    b.record(Act::FastenersUndone {
        fixing,
        places: (0..6).collect(),
        out: true,
        to: Account::Bench,
    });
    b.record(Act::FixingRenewed {
        fixing,
        spec: spec("bolt | thread=M8 x 1.25 | length=28"),
        reason: "kit".to_owned(),
    });
    let text = page(&b, fixing).hole_text.unwrap();
    assert_eq!(text.sum, "28 − 9 = 19 mm into a hole of 20 mm");
    let old = b.job().fixings.get(fixing).unwrap().old;
    assert_eq!(b.job().lines.get(old).unwrap().count(Account::Spare), 6);
    b.ok(start_all(fixing));
    b.ok(tight(fixing));
    assert_eq!(b.audit().verdict, Verdict::Complete);
}

#[test]
fn too_little_thread_is_said_and_right_through_never_bottoms() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[("bolt | thread=M8 x 1.25 | length=20", 2)]);
    let fixing = b.fixing(cover, 0);
    let mut measure = |depth_um, metal| {
        let hole = Hole {
            parts_um: 10_000,
            washers_um: 0,
            depth_um,
            metal,
        };
        b.record(Act::HoleMeasured { fixing, hole });
        page(&b, fixing).hole_text.unwrap()
    };
    // 10 mm held: aluminium wants 1.5 times the 8 mm of the bolt.
    let text = measure(20_000, Some(HoleMetal::Aluminium));
    assert!(!text.bad && text.doubt);
    assert!(
        text.verdict.contains("aluminium wants 12 mm"),
        "{}",
        text.verdict
    );
    assert!(text.verdict.contains("maker"));
    assert!(!measure(20_000, Some(HoleMetal::Steel)).doubt);
    assert!(measure(9_000, None).bad);
    assert!(!measure(0, Some(HoleMetal::Steel)).bad);
    // 20 − 10 − 6.8 of a nut: 3.2 stand out, two threads of M8 are 2.5.
    let through = measure(0, None).verdict;
    assert!(
        through.contains("two threads stand out of it."),
        "{through}"
    );
}

/// 10 mm of thread in aluminium, which wants 12: not made final unasked.
#[test]
fn too_little_thread_is_made_final_only_with_a_reason_that_stands() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[("bolt | thread=M8 x 1.25 | length=20", 3)]);
    let fixing = b.fixing(cover, 0);
    let hole = |parts_um| Hole {
        parts_um,
        washers_um: 0,
        depth_um: 20_000,
        metal: Some(HoleMetal::Aluminium),
    };
    b.record(Act::HoleMeasured {
        fixing,
        hole: hole(10_000),
    });
    b.place(cover);
    b.ok(start_all(fixing));
    let snug = Command::Tighten {
        fixing,
        which: Thing::All,
        to: Tight::Snug,
        value: None,
    };
    b.ok(snug);
    let refusal = b.refused(tight(fixing));
    assert!(matches!(refusal, Refusal::HoldsTooLittle { .. }));
    let said = words::refusal(b.job(), &refusal, Style::default());
    assert!(
        said.contains("20 − 10 = 10 mm into a hole of 20 mm"),
        "{said}"
    );
    assert!(said.contains("aluminium wants 12 mm"), "{said}");
    let anyway = |which, reason: &str| Command::TightenAnyway {
        fixing,
        which,
        to: Tight::Final,
        value: None,
        reason: reason.to_owned(),
    };
    assert!(matches!(
        b.refused(anyway(Thing::All, " ")),
        Refusal::HoldsTooLittle { .. }
    ));
    b.ok(anyway(Thing::Next(1), "the maker's length"));
    // The reason stands for this hole and these bolts.
    b.ok(tight(fixing));
    let audit = b.audit();
    assert_eq!(audit.verdict, Verdict::Complete);
    let (owed, by) = &audit.excepted[0];
    assert_eq!(
        (owed.rule, owed.n, by.reason.as_str()),
        (Rule::HoldsTooLittle, 3, "the maker's length")
    );
    // The hole measured anew is another sum: it is owed again.
    b.record(Act::HoleMeasured {
        fixing,
        hole: hole(11_000),
    });
    let owed = (Rule::HoldsTooLittle, Target::Fixing(fixing));
    assert_eq!(b.rules(), [owed]);
    b.ok(Command::StrikeLast);
    assert_eq!(b.rules(), []);
    // With the last of the tap gone its reason is gone with it.
    b.ok(Command::StrikeLast);
    b.ok(Command::StrikeLast);
    assert!(matches!(
        b.refused(tight(fixing)),
        Refusal::HoldsTooLittle { .. }
    ));
    // One that does not come through is refused in any metal.
    b.record(Act::HoleMeasured {
        fixing,
        hole: Hole {
            metal: None,
            ..hole(20_000)
        },
    });
    assert!(matches!(
        b.refused(tight(fixing)),
        Refusal::HoldsTooLittle { .. }
    ));
}

/// Old one-use bolts are kept after one broke: the broken one stays scrap.
#[test]
fn keeping_the_old_ones_never_brings_a_broken_one_back() {
    let mut b = Bench::default();
    let mut off = take_off("flywheel");
    let mut draft = FixingDraft::new(spec("bolt | thread=M10 x 1 | length=25"), 6);
    draft.reuse = Reuse::Renew;
    draft.slackened = 1;
    off.fixings.push(draft);
    let part = b.take_off(off);
    let fixing = b.fixing(part, 0);
    let old = b.job().fixings.get(fixing).unwrap().old;
    let slack = b
        .job()
        .fixings
        .get(fixing)
        .unwrap()
        .where_state(|s| s == PlaceState::Slackened)[0];
    b.record(Act::FastenerBroke {
        fixing,
        place: slack,
        stump_in: true,
    });
    assert_eq!(b.job().lines.get(old).unwrap().count(Account::Scrapped), 6);
    b.record(Act::OldKept {
        fixing,
        reason: "none to be had".to_owned(),
    });
    let line = b.job().lines.get(old).unwrap();
    assert_eq!((line.loose(), line.count(Account::Scrapped)), (5, 1));
    b.place(part);
    b.record(Act::PlaceRepaired {
        fixing,
        place: slack,
    });
    assert!(matches!(
        b.refused(start_all(fixing)),
        Refusal::NotThere {
            wanted: 6,
            there: 5,
            ..
        }
    ));
    // One that breaks when it is loose is scrap as well, and deciding again
    // does not change that.
    b.record(Act::FastenerBroke {
        fixing,
        place: slack,
        stump_in: false,
    });
    b.record(Act::FixingRenewed {
        fixing,
        spec: spec("bolt | thread=M10 x 1 | length=25"),
        reason: "kit".to_owned(),
    });
    b.record(Act::OldKept {
        fixing,
        reason: "kit was wrong".to_owned(),
    });
    let line = b.job().lines.get(old).unwrap();
    assert_eq!((line.loose(), line.count(Account::Scrapped)), (4, 2));
}

/// S1, on the page: a 60 in hole 4 that wants a 20.
#[test]
fn a_swap_stands_on_the_page_of_the_fixing_and_in_the_audit() {
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
    b.place(cover);
    let shown = page(&b, short);
    assert_eq!(shown.places, "1, 4, 6, 9");
    let sizes: Vec<_> = shown.sizes.iter().map(|s| s.places.as_str()).collect();
    assert_eq!(
        sizes,
        ["places 1, 4, 6, 9", "places 2, 3, 5, 7, 8", "places 10, 11"]
    );
    // The other lengths of this cover are what a hand may take by mistake.
    let long_line = b.job().fixings.get(long).unwrap().wants;
    assert!(shown.offered.iter().any(|(line, _)| *line == long_line));
    let hole_4 = shown.open.iter().find(|p| p.1 == 4).unwrap().0;
    let swap = |anyway| Command::Start {
        fixing: short,
        which: Thing::Places(vec![hole_4]),
        line: Some(long_line),
        anyway,
    };
    let refusal = b.refused(swap(false));
    let said = words::refusal(b.job(), &refusal, Style::default());
    assert!(
        said.contains("Place 4") && said.contains("one short"),
        "{said}"
    );
    b.ok(swap(true));
    assert_eq!(page(&b, short).wrong.len(), 1);
    assert!(page(&b, short).wrong[0].starts_with("Place 4 holds M6 x 60 bolt"));
    let audit = b.audit();
    let owed = audit.open.iter().find(|o| o.rule == Rule::WrongThing);
    let text = words::owed(b.job(), owed.unwrap(), Style::default());
    assert!(
        text.what.contains("M6 x 60") && text.what.contains("M6 x 20"),
        "{}",
        text.what
    );
}

#[test]
fn one_use_fasteners_are_due_new_and_keeping_old_ones_is_an_exception() {
    let mut b = Bench::default();
    let mut off = take_off("bracket");
    let mut draft = FixingDraft::new(spec("nut | thread=M10 x 1.5 | text=self-locking nut"), 4);
    draft.reuse = Reuse::Renew;
    off.fixings.push(draft);
    let hub = b.take_off(off);
    let fixing = b.fixing(hub, 0);
    let shown = page(&b, fixing).reuse;
    assert!(shown.renew && !shown.doubt);
    assert!(
        shown
            .trade
            .starts_with("The trade takes self-locking nuts new")
    );
    assert_eq!(b.job().to_buy().len(), 1);
    assert_eq!(
        b.refused(Command::Record(Act::OldKept {
            fixing,
            reason: " ".to_owned()
        })),
        Refusal::ReasonMissing
    );
    b.record(Act::OldKept {
        fixing,
        reason: "none to be had".to_owned(),
    });
    // They were put with the scrap; they are to hand again, and nothing is to buy.
    assert_eq!(b.job().to_buy().len(), 0);
    b.place(hub);
    b.ok(start_all(fixing));
    b.ok(tight(fixing));
    let audit = b.audit();
    assert_eq!(audit.open, vec![]);
    let (owed, exception) = &audit.excepted[0];
    assert_eq!((owed.rule, owed.n), (Rule::NotNew, 4));
    assert_eq!(
        (exception.reason.as_str(), exception.by.as_str()),
        ("none to be had", "Ann")
    );
    assert!(page(&b, fixing).reuse.now.contains("none to be had (Ann)"));
    // Said a second time it changes nothing.
    assert_eq!(
        b.refused(Command::Record(Act::OldKept {
            fixing,
            reason: "again".to_owned()
        })),
        Refusal::AlreadySo(Target::Fixing(fixing))
    );
}

#[test]
fn old_fasteners_that_the_trade_takes_new_are_doubted_until_it_is_decided() {
    let mut b = Bench::default();
    let mut off = take_off("head");
    let mut draft = FixingDraft::new(spec("bolt | thread=M10 x 1.5 | length=100"), 8);
    let nm = |milli| Figure::Torque {
        milli,
        unit: TorqueUnit::NewtonMetre,
    };
    draft.detail.stages = vec![nm(40_000), Figure::Angle { degrees: 90 }];
    off.fixings.push(draft);
    let head = b.take_off(off);
    let fixing = b.fixing(head, 0);
    let shown = page(&b, fixing).reuse;
    assert!(shown.doubt, "angle-tightened: {shown:?}");
    // The audit asks, until it is said either way.
    let asked = (Rule::OldOrNew, Target::Fixing(fixing));
    assert!(b.rules().contains(&asked));
    b.ok(Command::Except {
        owed: shown.undecided.unwrap(),
        reason: "the maker allows it".to_owned(),
    });
    assert!(!b.rules().contains(&asked));
    let kept = page(&b, fixing).reuse;
    assert!(!kept.doubt && kept.undecided.is_none());
    assert!(kept.now.contains("the maker allows it (Ann)"), "{kept:?}");
    b.ok(Command::StrikeLast);
    assert!(b.rules().contains(&asked));
    let same = b.job().fixings.get(fixing).unwrap().spec.clone();
    b.record(Act::FixingRenewed {
        fixing,
        spec: same,
        reason: String::new(),
    });
    assert!(!page(&b, fixing).reuse.doubt);
    assert!(!b.rules().contains(&asked));
    assert_eq!(b.job().to_buy()[0].n, 8);
    // A bolt that is said to stretch is asked after as well.
    let rod = b.part("rod", &[("bolt | thread=M8 x 1 | text=stretch bolt", 2)]);
    let asked = (Rule::OldOrNew, Target::Fixing(b.fixing(rod, 0)));
    assert!(b.rules().contains(&asked));
}

/// A gasket of another thickness makes another sum; so does a washer.
#[test]
fn a_new_gasket_or_washer_makes_the_measured_hole_a_stale_one() {
    let mut b = Bench::default();
    let mut off = take_off("cover");
    let mut draft = FixingDraft::new(spec("bolt | thread=M6 x 1 | length=20"), 4);
    draft.extras.push(Extra {
        spec: spec("washer"),
        per_place: 1,
    });
    off.fixings.push(draft);
    let cover = b.take_off(off);
    let fixing = b.fixing(cover, 0);
    let gasket = b.record(Act::ItemRemoved(ItemRemoved {
        kind: ItemKind::Gasket,
        name: "gasket".to_owned(),
        size: String::new(),
        count: 1,
        on: Target::Part(cover),
    }));
    let washers = b.job().fixings.get(fixing).unwrap().extras[0].0;
    let mut other = take_off("bracket");
    let mut draft = FixingDraft::new(spec("bolt | thread=M8 x 1.25"), 1);
    draft.extras.push(Extra {
        spec: spec("spacer | length=5"),
        per_place: 1,
    });
    other.fixings.push(draft);
    let bracket = b.take_off(other);
    let bracket = b.fixing(bracket, 0);
    let spacer = b.job().fixings.get(bracket).unwrap().extras[0].0;
    for (new, name) in [
        (
            Act::ExtraFitted {
                fixing,
                line: spacer,
                from: Account::Bench,
                n: 1,
            },
            "spacer",
        ),
        (
            Act::ItemFitted {
                item: ItemId(gasket.thing(0)),
                n: 1,
                old: false,
                reason: String::new(),
            },
            "gasket",
        ),
        (
            Act::StockAdded {
                line: washers,
                to: Account::Bench,
                n: 1,
            },
            "washer",
        ),
    ] {
        b.record(Act::HoleMeasured {
            fixing,
            hole: Hole {
                parts_um: 8_000,
                ..Hole::default()
            },
        });
        assert_eq!(page(&b, fixing).row.hole_old, "");
        b.record(new);
        let row = view::part_page(&b.book, cover, at(&b)).unwrap().fixings[0].clone();
        assert!(row.hole_old.contains(name), "{}", row.hole_old);
        let audit = b.audit();
        let line = audit.open.iter().find(|o| o.rule == Rule::HoleOld).unwrap();
        let said = words::owed(b.job(), line, Style::default()).what;
        assert!(said.contains(name), "{said}");
    }
}

#[test]
fn a_figure_is_held_against_the_threads_it_is_meant_for_and_shows_how_far_it_may_be_off() {
    let mut b = Bench::default();
    let fixing = with_stages(
        &mut b,
        "bolt | thread=M8 x 1.25 | length=30 | class=8.8",
        &[nm(10_000), nm(36_000)],
    );
    let pass = |b: &Bench| view::tighten_page(&b.book, fixing, &Default::default(), at(b)).unwrap();
    // 36 N·m is too much for one that is oiled, and in order for a dry one.
    assert_ne!(page(&b, fixing).stages[1].doubt, "");
    let mut detail = page(&b, fixing).detail;
    detail.meant_for = Some(MeantFor::Dry);
    detail.tolerance = Some(Tolerance::Percent(10));
    b.record(Act::FixingDescribed { fixing, detail });
    // While it is being set the sheet says the same of it as the pass will.
    assert_eq!(
        view::stages_said(b.job(), fixing, &page(&b, fixing).detail, at(&b)),
        [""; 0]
    );
    let falling = FixingDetail {
        stages: vec![nm(30_000), nm(20_000), nm(0)],
        ..page(&b, fixing).detail
    };
    let said = view::stages_said(b.job(), fixing, &falling, at(&b));
    assert!(said[0].starts_with("Stage 2: no more than"), "{said:?}");
    let shown = page(&b, fixing);
    assert_eq!(shown.stages[1].doubt, "");
    assert!(shown.stages[1].reckoned.contains("0.12 to 0.24 (dry)"));
    assert_eq!(shown.meant, "± 10 %: 32.4 to 39.6 N·m; for dry threads");
    // The tolerance is of the last stage; the threads are those of all.
    assert_eq!(pass(&b).meant, "for dry threads");
    assert!(pass(&b).warnings.is_empty(), "{:?}", pass(&b).warnings);
    b.record(Act::TreatmentPrescribed(Treatment {
        kind: TreatmentKind::Lubricant,
        product: "engine oil".to_owned(),
        on: Target::Fixing(fixing),
        cure_min: 0,
        open_min: None,
        holds_fill: false,
        holds_start: false,
        holds_cover: false,
    }));
    assert!(pass(&b).warnings.iter().any(|w| w == words::DRY_BUT_OILED));
    assert_eq!(
        words::tolerance(
            Tolerance::By(Figure::Angle { degrees: 5 }),
            Style::default()
        ),
        "± 5°"
    );
}

/// TM 9-2330-326-14&P: from a third of the figure on it is added.
#[test]
fn what_a_nut_runs_with_is_kept_and_goes_with_that_nut() {
    let mut b = Bench::default();
    let fixing = with_stages(
        &mut b,
        "nut | thread=M8 x 1.25 | text=self-locking",
        &[nm(20_000)],
    );
    let pass = |b: &Bench| view::tighten_page(&b.book, fixing, &Default::default(), at(b)).unwrap();
    assert_eq!(pass(&b).self_locking.unwrap().set, "");
    let mut detail = page(&b, fixing).detail;
    detail.running = Some(nm(8_000));
    b.record(Act::FixingDescribed { fixing, detail });
    let set = "20 N·m + 8 N·m running = set 28 N·m";
    assert_eq!(pass(&b).self_locking.unwrap().set, set);
    assert_eq!(page(&b, fixing).self_locking.unwrap().set, set);
    // A new nut has its own.
    b.record(Act::FixingRenewed {
        fixing,
        spec: spec("nut | thread=M8 x 1.25 | text=self-locking"),
        reason: String::new(),
    });
    assert_eq!(pass(&b).self_locking.unwrap().set, "");
}

/// S22 and the offer: a 13 mm head is an M8 as a rule, by the standards named.
#[test]
fn a_thread_is_offered_for_its_head_and_kept_when_it_is_confirmed() {
    let mut b = Bench::default();
    let pump = b.part("pump", &[("bolt | length=30 | head=hex 13 mm", 3)]);
    let fixing = b.fixing(pump, 0);
    let known = b.job().fixings.get(fixing).unwrap().spec.clone();
    let offers = view::thread_offers(b.job(), &known, known.head);
    assert_eq!(offers[0].label, "M8 x 1.25");
    assert!(offers[0].standards.contains("ISO"), "{:?}", offers[0]);
    assert!(view::thread_offers(b.job(), &known, None).is_empty());
    // The mark on the head, with the standard that says so.
    let read = view::class_offers(&Mark::Text("XY 10.9".to_owned()), known.kind);
    assert_eq!(read[0].1, "10.9 by ISO 898-1");
    b.record(Act::FixingMeasured {
        fixing,
        spec: countback_core::fastener::FastenerSpec {
            thread: Some(offers[0].thread),
            class: Some(read[0].0),
            ..known
        },
    });
    let shown = page(&b, fixing);
    assert_eq!(
        (shown.thread.as_str(), shown.class.as_str()),
        ("M8 x 1.25", "10.9")
    );
    assert_eq!(shown.row.title, "M8 x 30 bolt, 13 mm head, 10.9");
    // What lies in the bag is known as well, and goes in without a word.
    b.place(pump);
    b.ok(start_all(fixing));
    b.ok(tight(fixing));
    assert_eq!(b.audit().verdict, Verdict::Complete);
    // A bolt does not turn into a nut by being measured.
    let nut = spec("nut | thread=M8 x 1.25");
    assert!(matches!(
        b.tell(Command::Record(Act::FixingMeasured { fixing, spec: nut })),
        Err(Refusal::Unknown(_))
    ));
}

#[test]
fn a_figure_is_shown_in_the_jobs_unit_and_doubted_with_its_range() {
    let mut b = Bench::default();
    let mut off = take_off("cover");
    let mut draft = FixingDraft::new(spec("bolt | thread=M6 x 1 | length=20 | class=8.8"), 4);
    draft.detail.stages = vec![Figure::Torque {
        milli: 88_000,
        unit: TorqueUnit::PoundForceInch,
    }];
    off.fixings.push(draft);
    let cover = b.take_off(off);
    let fixing = b.fixing(cover, 0);
    let stage = &page(&b, fixing).stages[0];
    assert_eq!(
        (stage.shown.as_str(), stage.entered.as_str()),
        ("9.94 N·m", "88 lbf·in")
    );
    assert_eq!(stage.doubt, "");
    assert!(stage.range.ends_with(" N·m"), "{}", stage.range);
    // The same number taken for newton metres.
    b.record(Act::FixingDescribed {
        fixing,
        detail: FixingDetail {
            stages: vec![Figure::Torque {
                milli: 88_000,
                unit: TorqueUnit::NewtonMetre,
            }],
            ..FixingDetail::default()
        },
    });
    let stage = &page(&b, fixing).stages[0];
    assert!(
        stage.doubt.contains("would give way") && stage.doubt.contains("looks like lbf·in"),
        "{}",
        stage.doubt
    );
}

fn nm(milli: u32) -> Figure {
    Figure::Torque {
        milli,
        unit: TorqueUnit::NewtonMetre,
    }
}

/// A fixing of one cover with these stages.
fn with_stages(b: &mut Bench, text: &str, stages: &[Figure]) -> FixingId {
    let mut off = take_off("cover");
    let mut draft = FixingDraft::new(spec(text), 12);
    draft.detail.stages = stages.to_vec();
    off.fixings.push(draft);
    let cover = b.take_off(off);
    b.fixing(cover, 0)
}

/// The stages that the app itself offers: only the last draws a bolt to its
/// figure, so only the last can be low.
#[test]
fn no_stage_before_the_last_is_low_and_no_torque_before_an_angle() {
    let mut b = Bench::default();
    let m10 = "bolt | thread=M10 x 1.5 | length=40 | class=8.8";
    let full = nm(50_000);
    let percents = &view::splits(12)[0];
    assert_eq!(percents, &[20, 40, 80, 100]);
    let fixing = with_stages(&mut b, m10, &view::split(full, percents));
    let doubts = |b: &Bench, fixing| -> Vec<String> {
        let stages = page(b, fixing).stages;
        stages.iter().map(|s| s.doubt.clone()).collect()
    };
    assert_eq!(doubts(&b, fixing), [""; 4]);
    // Alone, the figure of the first stage is one to be doubted.
    let alone = with_stages(&mut b, m10, &[nm(10_000)]);
    assert_eq!(doubts(&b, alone), ["Low for this bolt."]);
    let turned = with_stages(&mut b, m10, &[nm(10_000), Figure::Angle { degrees: 90 }]);
    assert_eq!(doubts(&b, turned), ["", ""]);
    // Too much is too much at any stage, and the last may well be low.
    let over = with_stages(&mut b, m10, &[nm(150_000), nm(160_000)]);
    assert!(doubts(&b, over).iter().all(|d| d.contains("give way")));
    let low = with_stages(&mut b, m10, &[nm(5_000), nm(10_000)]);
    assert_eq!(doubts(&b, low), ["", "Low for this bolt."]);
}

#[test]
fn what_a_figure_was_held_against_is_said_with_what_was_taken_for_known() {
    let mut b = Bench::default();
    let open = with_stages(&mut b, "bolt | thread=M8 x 1.25 | length=30", &[nm(25_000)]);
    let said = page(&b, open).stages[0].reckoned.clone();
    assert!(
        said.contains("class not noted, taken as 8.8 to 10.9; friction 0.08 to 0.16"),
        "{said}"
    );
    assert!(said.contains("It clamps with ") && said.contains(" kN at this figure"));
    assert!(said.contains("gives way from ") && said.contains("no specification"));
    // The same figure clamps the same whatever the class; the yield is its own.
    let known = with_stages(
        &mut b,
        "bolt | thread=M8 x 1.25 | length=30 | class=12.9",
        &[nm(25_000)],
    );
    let strong = page(&b, known).stages[0].reckoned.clone();
    assert!(strong.contains("class 12.9; friction"), "{strong}");
    assert_ne!(said, strong);
    let nut = with_stages(
        &mut b,
        "nut | thread=M8 x 1.25 | class=nut 8",
        &[nm(70_000)],
    );
    let stage = &page(&b, nut).stages[0];
    assert!(stage.doubt.contains("give way"), "{stage:?}");
    assert!(
        stage
            .reckoned
            .contains("the bolt 8.8 it goes with (ISO 898-2")
    );
}

/// The doubt of the pass in the unit that the job is worked in.
#[test]
fn the_pass_doubts_a_figure_in_the_jobs_unit() {
    let mut b = Bench::default();
    let head = b.job().head.clone().unwrap();
    b.record(Act::JobDescribed(JobHead {
        units: Units {
            torque: TorqueUnit::PoundForceFoot,
            ..head.units
        },
        ..head
    }));
    let fixing = with_stages(&mut b, "bolt | thread=M8 x 1.25 | length=30", &[nm(90_000)]);
    let pass = view::tighten_page(&b.book, fixing, &Default::default(), at(&b)).unwrap();
    let said = pass.warnings.join(" ");
    assert!(
        said.contains("give way") && said.contains(" lbf·ft is usual"),
        "{said}"
    );
    assert!(!said.contains("N·m"), "{said}");
}

#[test]
fn a_treatment_of_one_fixing_stands_on_its_page_and_is_owed() {
    let mut b = Bench::default();
    let pump = b.part("pump", &[("bolt | thread=M8 x 1.25 | length=30", 3)]);
    let fixing = b.fixing(pump, 0);
    let id = b.record(Act::TreatmentPrescribed(Treatment {
        kind: TreatmentKind::ThreadLocker,
        product: "medium strength".to_owned(),
        on: Target::Fixing(fixing),
        cure_min: 0,
        open_min: None,
        holds_fill: false,
        holds_start: false,
        holds_cover: false,
    }));
    let treatment = TreatmentId(id.thing(0));
    assert!(!page(&b, fixing).treatments[0].applied);
    assert!(
        b.rules()
            .contains(&(Rule::Apply, Target::Treatment(treatment)))
    );
    b.record(Act::TreatmentApplied { treatment });
    assert!(page(&b, fixing).treatments[0].applied);
}

const FLANGE_BOLT: &str = "bolt | thread=M8 x 1.25 | length=25 | head=hex flange 13 mm";

fn measured_m8() -> Measured {
    let calliper = |um| {
        Some(Measure {
            um,
            uncertainty_um: 50,
        })
    };
    Measured {
        outside: calliper(7_900),
        pitch: Some(PitchCount {
            threads: 10,
            over: Measure {
                um: 12_500,
                uncertainty_um: 500,
            },
        }),
        length: calliper(25_000),
        head: Some(HeadSize::mm(Drive::HexFlange, 13)),
        ..Measured::default()
    }
}

/// From the bench to the page: an M8 worn below its limits or plated above them,
/// in a job in millimetres, is still an M8.
#[test]
fn a_worn_and_a_plated_bolt_are_told_for_what_they_are() {
    let mut van = Bench::default();
    van.part("pump", &[(FLANGE_BOLT, 4)]);
    // 6g lets an M8 be 7.76 to 7.97 mm.
    for um in [7_680, 7_700, 8_020, 8_050] {
        let worn = Measured {
            outside: Some(Measure {
                um,
                uncertainty_um: 50,
            }),
            ..measured_m8()
        };
        let answer = view::what_bolt(&worn, &[van.job()]);
        assert_eq!(answer.threads[0].label, "M8 x 1.25", "{um}");
        assert!(answer.head.contains("M8 x 1.25"), "{}", answer.head);
        assert_eq!(answer.places.len(), 1, "{um}");
    }
}

/// A #10-32 reads all but as an M5: neither is said for sure, and how to tell
/// them is.
#[test]
fn an_inch_bolt_is_never_said_for_sure_to_be_the_metric_one_it_reads_like() {
    let b = Bench::default();
    let calliper = |um| Measure {
        um,
        uncertainty_um: 50,
    };
    let reads = |um| Measured {
        outside: Some(calliper(um)),
        pitch: Some(PitchCount {
            threads: 10,
            over: calliper(7_950),
        }),
        ..Measured::default()
    };
    let answer = view::what_bolt(&reads(4_740), &[b.job()]);
    assert!(!answer.sure, "{}", answer.head);
    assert!(
        answer.next.contains("M5 x 0.8 and #10-32"),
        "{}",
        answer.next
    );
    // A full M5 is no inch bolt.
    let full = view::what_bolt(&reads(4_950), &[b.job()]);
    assert!(full.sure, "{}", full.head);
}

/// S10: a bolt on the floor, two jobs open.
#[test]
fn a_bolt_on_the_floor_is_measured_logged_in_both_jobs_and_settled_in_both() {
    let mut van = Bench::default();
    van.part("pump", &[(FLANGE_BOLT, 4)]);
    van.part("bracket", &[(FLANGE_BOLT, 1)]);
    let mut bike = Bench::on(DeviceId(2), "Ann");
    let guard = bike.part("guard", &[(FLANGE_BOLT, 2)]);
    let short = bike.fixing(guard, 0);
    let line = bike.job().fixings.get(short).unwrap().old;
    bike.ok(Command::Recount {
        line,
        account: Account::Bench,
        found: 1,
        reason: String::new(),
    });
    // Nothing measured: nothing claimed.
    let empty = view::what_bolt(&Measured::default(), &[van.job(), bike.job()]);
    assert_eq!((empty.head.as_str(), empty.places.len()), ("", 0));
    let answer = view::what_bolt(&measured_m8(), &[van.job(), bike.job()]);
    assert!(answer.sure, "{}", answer.head);
    assert!(answer.head.contains("M8 x 1.25"), "{}", answer.head);
    assert_eq!(answer.places.len(), 3);
    // The short one first, though it is of the other job.
    assert_eq!((answer.places[0].job, answer.places[0].short), (1, 1));
    assert_eq!(answer.places[0].fixing, short);
    assert_eq!(answer.spec, spec(FLANGE_BOLT));
    // Logged as found, in both.
    let found = || Act::StrayFound {
        spec: answer.spec.clone(),
        place: "floor".to_owned(),
    };
    let in_van = StrayId(van.record(found()).thing(0));
    let in_bike = StrayId(bike.record(found()).thing(0));
    assert!(van.rules().contains(&(Rule::Stray, Target::Stray(in_van))));
    assert!(
        bike.rules()
            .contains(&(Rule::Stray, Target::Stray(in_bike)))
    );
    assert_eq!(
        view::same_stray(bike.job(), &answer.spec, "floor"),
        Some(in_bike)
    );
    // Said to be of the guard: there it is no longer missing, and the van is told.
    bike.record(Act::StrayIdentified {
        stray: in_bike,
        line: answer.places[0].line,
    });
    assert_eq!(
        bike.job().lines.get(line).unwrap().count(Account::Missing),
        0
    );
    van.record(Act::StraySettled {
        stray: in_van,
        reason: "belongs to the bike".to_owned(),
    });
    assert!(view::strays(van.job()).is_empty() && view::strays(bike.job()).is_empty());
}

/// Twelve that fit better in one job, and the other job is told of it too.
#[test]
fn a_stray_is_matched_to_every_job_that_it_may_be_of() {
    let mut van = Bench::default();
    for n in 0..13 {
        let part = van.part(&format!("cover {n}"), &[(FLANGE_BOLT, 2)]);
        let line = van.job().fixings.get(van.fixing(part, 0)).unwrap().old;
        van.ok(Command::Recount {
            line,
            account: Account::Bench,
            found: 1,
            reason: String::new(),
        });
    }
    let mut bike = Bench::on(DeviceId(2), "Ann");
    bike.part("guard", &[(FLANGE_BOLT, 2)]);
    let mut boat = Bench::on(DeviceId(3), "Ann");
    boat.part("flap", &[("bolt | thread=M12 x 1.75 | length=80", 2)]);
    let jobs = [van.job(), bike.job(), boat.job()];
    let answer = view::what_bolt(&measured_m8(), &jobs);
    assert!(answer.places.iter().all(|it| it.job == 0), "those shown");
    assert_eq!((answer.places.len(), answer.n_places), (12, 14));
    assert_eq!(answer.matching, [0, 1], "those it is owed in");
    let nothing = view::what_bolt(&Measured::default(), &jobs);
    assert_eq!((nothing.n_places, nothing.matching), (0, vec![]));
}

/// A stray that is measured once more and still of no place keeps its readings,
/// and the next measuring goes on from them.
#[test]
fn a_stray_that_is_measured_again_keeps_what_was_read() {
    let calliper = Measure::by_calliper;
    let mut b = Bench::default();
    b.part("pump", &[(FLANGE_BOLT, 4)]);
    let ask = |b: &Bench, found: &Measured| view::what_bolt(found, &[b.job()]).spec;
    let ruler = Measure {
        um: 7_900,
        uncertainty_um: 500,
    };
    let first = Measured {
        outside: Some(ruler),
        ..Measured::default()
    };
    let found = Act::StrayFound {
        spec: ask(&b, &first),
        place: "floor".to_owned(),
    };
    let stray = StrayId(b.record(found).thing(0));
    let again = |b: &Bench| {
        let rows = view::strays(b.job());
        view::measured_again(&rows.iter().find(|it| it.id == stray).unwrap().spec)
    };
    assert_eq!(again(&b), first, "as it was read");
    assert_eq!(
        view::keep_readings(b.job(), stray, &ask(&b, &again(&b))),
        None
    );
    // Its length and pitch, which decide nothing yet; the diameter is not lost.
    let second = Measured {
        length: Some(Measure {
            um: 25_000,
            uncertainty_um: 500,
        }),
        pitch: Some(PitchCount {
            threads: 1,
            over: Measure {
                um: 1_200,
                uncertainty_um: 500,
            },
        }),
        tapers: Some(false),
        ..again(&b)
    };
    let kept = view::keep_readings(b.job(), stray, &ask(&b, &second)).unwrap();
    b.record(kept);
    assert_eq!(again(&b), second);
    assert!(b.rules().contains(&(Rule::Stray, Target::Stray(stray))));
    let log = b.book.journal().iter().last().unwrap();
    let said = words::act(b.job(), log, Style::default());
    assert!(said.starts_with("Measured again, still unknown"), "{said}");
    // With a calliper it is sure, in an inch job too.
    let units = Units {
        length: LengthUnit::Inch,
        ..head("").units
    };
    b.record(Act::JobDescribed(JobHead {
        units,
        ..head("van")
    }));
    let inches = ask(&b, &second);
    let read = view::measured_again(&inches);
    assert_eq!(read.outside.unwrap().uncertainty_um, 500, "{}", inches.text);
    assert!(read.outside.unwrap().um.abs_diff(7_900) < 13);
    let sure = Measured {
        outside: Some(calliper(7_900)),
        pitch: Some(PitchCount {
            threads: 10,
            over: calliper(12_500),
        }),
        ..again(&b)
    };
    b.record(view::keep_readings(b.job(), stray, &ask(&b, &sure)).unwrap());
    assert_eq!(again(&b).thread, "M8 x 1.25".parse().ok());
    // Settled, there is nothing to measure on.
    b.record(Act::StraySettled {
        stray,
        reason: "not of this job".to_owned(),
    });
    assert_eq!(
        view::keep_readings(b.job(), stray, &spec(FLANGE_BOLT)),
        None
    );
    let late = Act::StrayMeasured {
        stray,
        spec: spec(FLANGE_BOLT),
    };
    let refused = b.refused(Command::Record(late));
    assert_eq!(refused, Refusal::AlreadySo(Target::Stray(stray)));
}

/// A job whose fasteners are of both systems is held for neither by its units.
#[test]
fn fasteners_of_both_systems_in_a_job_are_looked_for_in_both() {
    let mut b = Bench::default();
    b.record(Act::JobDescribed(JobHead {
        units: Units {
            length: LengthUnit::Inch,
            ..head("").units
        },
        ..head("van")
    }));
    b.part("pump", &[("bolt | thread=5/16-18 | length=25.4", 4)]);
    let lines_first = |b: &Bench| {
        let marks = view::usual_marks(b.job(), FastenerKind::Bolt);
        matches!(marks[0], Mark::RadialLines(_))
    };
    assert!(
        lines_first(&b),
        "by its units, and its fasteners are no others"
    );
    let share = |b: &Bench| {
        let read = Measured {
            outside: measured_m8().outside,
            ..Measured::default()
        };
        view::what_bolt(&read, &[b.job()]).threads[0].clone()
    };
    assert_eq!(share(&b).label, "5/16-18");
    b.part("alternator", &[("bolt | thread=M8 x 1.25 | length=40", 4)]);
    assert!(!lines_first(&b));
    assert_eq!(share(&b).label, "M8 x 1.25", "the reading decides");
    // A head of the other system leads to its threads in any job.
    let half: HeadSize = spec("bolt | head=hex 1/2 in").head.unwrap();
    let offers = view::thread_offers(Bench::default().job(), &spec("bolt"), Some(half));
    assert_eq!(offers[0].label, "5/16-18");
}

/// S25, and what to measure next.
#[test]
fn a_bolt_that_may_be_two_says_what_would_decide() {
    let mut b = Bench::default();
    b.part(
        "cover",
        &[
            ("bolt | thread=M6 x 1 | length=20 | head=hex 10 mm", 4),
            ("bolt | thread=M6 x 1 | length=60 | head=hex 10 mm", 2),
        ],
    );
    let found = Measured {
        head: Some(HeadSize::mm(Drive::Hex, 10)),
        ..Measured::default()
    };
    let answer = view::what_bolt(&found, &[b.job()]);
    assert_eq!(answer.places.len(), 2);
    assert!(answer.next.contains("the length"), "{}", answer.next);
    let told = Measured {
        length: Some(Measure {
            um: 60_000,
            uncertainty_um: 500,
        }),
        ..found
    };
    let answer = view::what_bolt(&told, &[b.job()]);
    assert_eq!(answer.places.len(), 1);
    // None is short: it is offered all the same, and not as missing.
    assert_eq!(answer.places[0].short, 0);
    // A job that is signed off is not asked.
    let mut done = Bench::on(DeviceId(3), "Ann");
    let plate = done.part(
        "plate",
        &[("bolt | thread=M6 x 1 | length=60 | head=hex 10 mm", 1)],
    );
    done.place(plate);
    done.fasten(plate);
    assert_eq!(
        view::what_bolt(&told, &[b.job(), done.job()]).places.len(),
        2
    );
    done.ok(Command::SignOff);
    assert_eq!(
        view::what_bolt(&told, &[b.job(), done.job()]).places.len(),
        1
    );
}

#[test]
fn readings_that_settle_no_thread_are_kept_in_words() {
    let b = Bench::default();
    let ruler = Measured {
        outside: Some(Measure {
            um: 8_000,
            uncertainty_um: 500,
        }),
        ..Measured::default()
    };
    let answer = view::what_bolt(&ruler, &[b.job()]);
    assert!(!answer.sure);
    assert_eq!(answer.spec.thread, None, "a guess is not logged");
    assert_eq!(answer.spec.text, "8 mm over the thread by ruler");
    assert!(answer.next.contains("pitch"), "{}", answer.next);
}

/// S12 and S18: what has to be bought, merged over the parts.
#[test]
fn like_things_of_several_parts_are_one_line_to_buy() {
    let mut b = Bench::default();
    let mut parts = Vec::new();
    for name in ["oil feed", "oil drain"] {
        let mut off = take_off(name);
        off.items.push(ItemDraft {
            kind: ItemKind::CrushWasher,
            name: "copper washer".to_owned(),
            size: "14 x 18".to_owned(),
            count: 2,
        });
        parts.push(b.take_off(off));
    }
    let mut off = take_off("hub");
    let mut draft = FixingDraft::new(spec("nut | thread=M10 x 1.5"), 4);
    draft.reuse = Reuse::Renew;
    off.fixings.push(draft);
    b.take_off(off);
    b.record(Act::BuyListed {
        what: "paste, \"grey\"".to_owned(),
        n: 1,
        on: Target::Job,
    });
    let list = view::to_buy_page(&b.book, at(&b));
    let lines: Vec<_> = list.lines.iter().map(|l| (l.text.as_str(), l.n)).collect();
    assert_eq!(
        lines,
        [
            ("copper washer 14 x 18", 4),
            ("M10 nut", 4),
            ("paste, \"grey\"", 1)
        ]
    );
    assert_eq!(list.lines[0].for_, ["2 for oil feed", "2 for oil drain"]);
    assert_eq!(list.to_order, 9);
    // Each part's own are booked when the line is tapped.
    for &(want, n, _) in &list.lines[0].wants {
        b.record(Act::Ordered { want, n });
    }
    let list = view::to_buy_page(&b.book, at(&b));
    assert_eq!((list.to_order, list.lines[0].on_order), (5, 4));
    assert!(
        list.text
            .contains("4 × copper washer 14 x 18 (4 on order): 2 for oil feed; 2 for oil drain\n")
    );
    // The table by another reader, which shares no code with the writer.
    let mut reader = csv::Reader::from_reader(list.csv.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), 3);
    assert_eq!(
        (&rows[0][0], &rows[0][1], &rows[0][2]),
        ("copper washer 14 x 18", "4", "4")
    );
    assert_eq!(&rows[2][0], "paste, \"grey\"");
    for &(want, n, _) in &list.lines[0].wants {
        b.record(Act::Arrived { want, n });
    }
    let list = view::to_buy_page(&b.book, at(&b));
    assert_eq!(list.lines.len(), 2);
    assert!(
        view::to_buy_page(&Bench::default().book, at(&b))
            .lines
            .is_empty()
    );
}

/// A size that a table program would take for a formula stays words.
#[test]
fn a_table_holds_words_and_no_formulas() {
    let mut b = Bench::default();
    for what in ["=1+1", "@sum", "-5 clips"] {
        b.record(Act::BuyListed {
            what: what.to_owned(),
            n: 1,
            on: Target::Job,
        });
    }
    let csv = view::to_buy_page(&b.book, at(&b)).csv;
    for line in csv.split("\r\n").skip(1).filter(|l| !l.is_empty()) {
        assert!(line.starts_with('\''), "{line}");
    }
}

/// In a job whose lengths are in inches the first chips are inch sizes.
#[test]
fn an_inch_job_is_offered_inch_sizes() {
    let mut b = Bench::default();
    let mut head = b.job().head.clone().unwrap();
    let sizes = |b: &Bench| view::chips(&b.book, &[]).sizes;
    assert!(sizes(&b).iter().any(|s| s.label.starts_with("M6 x 20")));
    head.units.length = LengthUnit::Inch;
    b.record(Act::JobDescribed(head));
    let chips = sizes(&b);
    assert_eq!(chips.len(), 8);
    assert!(chips[0].label.starts_with("1/4-20"), "{}", chips[0].label);
    assert!(chips.iter().all(|s| !s.label.starts_with('M')));
    // Each is a size of ASME B1.1 and B18.2.1 as the head table has them.
    for chip in chips.iter().filter(|c| c.spec.thread.is_some()) {
        let offers = view::thread_offers(b.job(), &chip.spec, chip.spec.head);
        assert!(
            offers.iter().any(|o| Some(o.thread) == chip.spec.thread),
            "{}",
            chip.label
        );
    }
}

/// A photo with bolts of three lengths says at each place which one it takes,
/// and each length has a shape.
#[test]
fn a_photo_tells_which_length_goes_where() {
    let mut b = Bench::default();
    let mut off = take_off("timing cover");
    for length in [35, 20, 60] {
        let text = format!("bolt | thread=M6 x 1 | length={length}");
        off.fixings.push(FixingDraft::new(spec(&text), 1));
    }
    let mark = |n: usize| (100 * n as u16, 500, Some(n));
    off.photos.push(PhotoDraft {
        hash: "a".repeat(64),
        thumb: "b".repeat(64),
        width: 400,
        height: 300,
        caption: String::new(),
        marks: vec![mark(0), mark(1), mark(2)],
    });
    let cover = b.take_off(off);
    let rows = |b: &Bench| view::photo_rows(b.job(), at(b), |_| true);
    let said: Vec<(String, u8)> = rows(&b)[0]
        .marks
        .iter()
        .map(|m| (m.size.clone(), m.group))
        .collect();
    let of = |size: &str, group| (size.to_owned(), group);
    assert_eq!(said, [of("35 mm", 1), of("20 mm", 0), of("60 mm", 2)]);
    // All of one length need no telling apart.
    for n in [0, 2] {
        let fixing = b.fixing(cover, n);
        b.record(Act::FixingMeasured {
            fixing,
            spec: spec("bolt | thread=M6 x 1 | length=20"),
        });
    }
    assert!(rows(&b)[0].marks.iter().all(|m| m.size.is_empty()));
}

/// A self-locking nut: a third of the figure is added, less is passed over
/// (TM 9-2330-326-14&P: 50 with 30 running is set 80).
#[test]
fn a_self_locking_nut_says_what_its_running_torque_adds() {
    let mut b = Bench::default();
    let part = b.part("arm", &[("nut | thread=M10 x 1.5 | text=self-locking", 2)]);
    let fixing = b.fixing(part, 0);
    let figure = |milli| Figure::Torque {
        milli,
        unit: TorqueUnit::NewtonMetre,
    };
    b.record(Act::FixingDescribed {
        fixing,
        detail: FixingDetail {
            stages: vec![figure(50_000)],
            ..FixingDetail::default()
        },
    });
    let it = page(&b, fixing).self_locking.unwrap();
    assert!(it.lines.iter().any(|l| l.contains("by hand")));
    let set = |milli| view::with_running(it.figure, milli, Style::default());
    assert_eq!(set(30_000).unwrap(), "50 N·m + 30 N·m running = set 80 N·m");
    assert!(set(10_000).unwrap().ends_with("passed over, set 50 N·m."));
    assert_eq!(set(0), None);
    let plain = b.part("other arm", &[("nut | thread=M10 x 1.5", 2)]);
    assert_eq!(page(&b, b.fixing(plain, 0)).self_locking, None);
}

/// In an inch job the hole is said in inches, as it was entered.
#[test]
fn a_hole_is_said_in_the_jobs_unit() {
    for mils in [1, 313, 375, 999, 1_250, 11_811] {
        assert_eq!(words::mils(words::um_of_mils(mils)), mils);
    }
    let hole = Hole {
        parts_um: words::um_of_mils(375),
        washers_um: 0,
        depth_um: words::um_of_mils(1_000),
        metal: None,
    };
    let said = words::hole_sum(25_400, hole, LengthUnit::Inch, Style::default());
    assert_eq!(said, "1 − 0.375 = 0.625 in into a hole of 1 in");
}

#[test]
fn fasteners_to_be_looked_at_first_are_owed_a_look_until_they_are_good_or_new() {
    let mut b = Bench::default();
    let mut off = take_off("exhaust");
    for _ in 0..2 {
        let mut clamp = FixingDraft::new(spec("clamp"), 2);
        clamp.reuse = Reuse::Inspect;
        off.fixings.push(clamp);
    }
    let exhaust = b.take_off(off);
    let (front, rear) = (b.fixing(exhaust, 0), b.fixing(exhaust, 1));
    b.place(exhaust);
    b.fasten(exhaust);
    // All are final, and nobody has said that one was looked at.
    let owed = |f| (Rule::LookAt, Target::Fixing(f));
    assert_eq!(b.rules(), [owed(front), owed(rear)]);
    assert_ne!(b.audit().verdict, Verdict::Complete);
    let line = b.audit().open[0].clone();
    assert_eq!(line.rule.next(), Next::Decide);
    let said = words::owed(b.job(), &line, Style::default());
    assert_eq!(said.what, "Not looked at yet: 2 × clamps of exhaust");
    b.record(Act::LookedAt { fixing: front });
    assert_eq!(b.rules(), [owed(rear)]);
    let again = b.refused(Command::Record(Act::LookedAt { fixing: front }));
    assert_eq!(again, Refusal::AlreadySo(Target::Fixing(front)));
    // A bad one: new ones go in, and those are owed instead.
    b.record(Act::FixingRenewed {
        fixing: rear,
        spec: spec("clamp"),
        reason: "cracked".to_owned(),
    });
    assert_eq!(b.rules(), [(Rule::NotNew, Target::Fixing(rear))]);
    b.record(Act::FastenersUndone {
        fixing: rear,
        places: vec![0, 1],
        out: true,
        to: Account::Scrapped,
    });
    b.record(Act::Arrived {
        want: Want::Fixing(rear),
        n: 2,
    });
    b.fasten_fixing(rear);
    assert_eq!(b.audit().verdict, Verdict::Complete);
    assert!(b.audit().excepted.is_empty());
}

/// An M8 bolt on the floor is not said to be the M6 nut that is missing too.
#[test]
fn a_stray_is_offered_only_as_what_it_can_be() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[(FLANGE_BOLT, 4), ("nut | thread=M6 x 1", 2)]);
    let line = |b: &Bench, n| b.job().fixings.get(b.fixing(cover, n)).unwrap().old;
    let (bolts, nuts) = (line(&b, 0), line(&b, 1));
    for line in [bolts, nuts] {
        b.ok(Command::Recount {
            line,
            account: Account::Bench,
            found: 1,
            reason: String::new(),
        });
    }
    assert_eq!(view::lines_short(&b.book).len(), 2);
    let mut offered = |text: &str| -> Vec<LineId> {
        let act = Act::StrayFound {
            spec: spec(text),
            place: "floor".to_owned(),
        };
        let stray = StrayId(b.record(act).thing(0));
        let fits = view::stray_fits(&b.book, stray).into_iter();
        fits.map(|(line, _)| line).collect()
    };
    assert_eq!(offered("bolt | thread=M8 x 1.25"), [bolts]);
    assert_eq!(offered("nut"), [nuts]);
    assert_eq!(offered("bolt | thread=M10 x 1.5"), []);
    // What is not known speaks against nothing.
    assert_eq!(offered("fastener"), [bolts, nuts]);
}

/// A drain plug comes out with its crush washer, and two castle nuts with a
/// split pin each: new ones are owed for those that were out, are on the to-buy
/// list by size, and the plug is not tightened on the old one unsaid
/// (`common practice, no source`).
#[test]
fn what_is_used_once_with_each_fastener_is_owed_new() {
    let mut b = Bench::default();
    let used = |kind, name: &str, size: &str| {
        Some(Box::new(UsedOnce {
            kind,
            name: name.to_owned(),
            size: size.to_owned(),
            per_place: 1,
        }))
    };
    let mut plug = FixingDraft::new(spec("plug | thread=M14 x 1.5"), 1);
    plug.used = used(
        ItemKind::CrushWasher,
        "crush washer",
        "14 x 18 x 1.5 mm, DIN 7603",
    );
    let mut nuts = FixingDraft::new(spec("nut | thread=M12 x 1.25"), 3);
    nuts.slackened = 1;
    nuts.used = used(ItemKind::SplitPin, "split pin", "3.2 x 32 mm, ISO 1234");
    let mut off = take_off("sump");
    off.fixings = vec![plug, nuts];
    let sump = b.take_off(off);
    let buy: Vec<(String, u32, Vec<String>)> = view::to_buy_page(&b.book, at(&b))
        .lines
        .into_iter()
        .map(|l| (l.text, l.n, l.for_))
        .collect();
    let (plug, nuts) = (b.fixing(sump, 0), b.fixing(sump, 1));
    assert_eq!(buy.len(), 2);
    assert_eq!(buy[0].0, "crush washer 14 x 18 x 1.5 mm, DIN 7603");
    assert_eq!((buy[0].1, buy[1].1), (1, 2));
    b.place(sump);
    b.fasten_what_fits(sump);
    let owed = b.rules();
    for fixing in [plug, nuts] {
        let item = b.job().fixings.get(fixing).unwrap().items[0];
        assert!(
            owed.contains(&(Rule::Renew, Target::Item(item))),
            "{owed:?}"
        );
    }
}
