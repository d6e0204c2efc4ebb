//! The torque pass as a person sees it: stories S4, S13 and S14, the order of
//! tightening, what final waits for, adapters and wrenches. All figures are
//! invented.
use countback_checks::bench::*;
use countback_core::audit::{Rule, Verdict};
use countback_core::guard::resume;
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::torque::pattern::Layout;
use countback_core::torque::wrench::WrenchRange;
use countback_core::torque::{Torque, TorqueUnit};
use countback_core::view::*;
use countback_core::words::Style;

const AT: At = At {
    now: START,
    open_since: 0,
    style: Style {
        decimal: '.',
        when: |_| String::new(),
    },
};

fn torque(text: &str) -> Figure {
    let it: Torque = text.parse().unwrap();
    Figure::Torque {
        milli: it.thousandths(),
        unit: it.unit(),
    }
}

/// A part with one fixing, placed.
fn placed(part: &str, fastener: &str, n: u16, stages: &[Figure]) -> (Bench, PartId, FixingId) {
    let mut b = Bench::default();
    let mut off = take_off(part);
    let mut draft = FixingDraft::new(spec(fastener), n);
    draft.detail.stages = stages.to_vec();
    off.fixings.push(draft);
    let part = b.take_off(off);
    let fixing = b.fixing(part, 0);
    b.place(part);
    (b, part, fixing)
}

fn page(b: &Bench, fixing: FixingId) -> TightenPage {
    tighten_page(&b.book, fixing, &Tools::default(), AT).unwrap()
}

/// One tap on the main button; says the number it was for.
fn tap(b: &mut Bench, fixing: FixingId) -> u16 {
    let page = page(b, fixing);
    let step = page.at(None).unwrap().clone();
    let (_, command) = step.act.unwrap();
    b.ok(command);
    step.number
}

/// The book as another start of the app has it.
fn died(b: &mut Bench) {
    b.book = Book::open(b.book.journal().clone());
}

fn touched(b: &Bench) -> Vec<u16> {
    let it = resume(&b.book, b.last_act());
    it.map_or_else(Vec::new, |r| {
        r.touch.iter().filter_map(|t| t.number).collect()
    })
}

/// S13: seven of eleven are final, the phone dies. It opens at hole 8 and asks
/// for 5, 6 and 7.
#[test]
fn the_phone_dies_after_seven_of_eleven() {
    let (mut b, _, fixing) = placed(
        "timing cover",
        "bolt | thread=M6 x 1 | length=20",
        11,
        &[torque("10 N·m")],
    );
    let first: Vec<u16> = (0..11).map(|_| tap(&mut b, fixing)).collect();
    assert_eq!(first, (1..=11).collect::<Vec<_>>(), "by hand, all round");
    for _ in 0..7 {
        tap(&mut b, fixing);
    }
    died(&mut b);
    let it = page(&b, fixing);
    assert_eq!(it.at(None).unwrap().number, 8);
    assert_eq!((it.n_done, it.n_all), (7, 11));
    assert_eq!(
        (it.stage.as_str(), it.figure.as_str()),
        ("Stage 1 of 1", "10 N·m")
    );
    assert_eq!(touched(&b), [5, 6, 7]);
}

/// S14: eight nuts, 20 N·m, 45 N·m, 90 degrees; interrupted after 18 of 24.
#[test]
fn a_pass_of_stages_goes_on_at_stage_3_nut_3() {
    let stages = [
        torque("20 N·m"),
        torque("45 N·m"),
        Figure::Angle { degrees: 90 },
    ];
    let (mut b, _, fixing) = placed("cylinder head", "nut | thread=M10 x 1.25", 8, &stages);
    for _ in 0..8 + 18 {
        tap(&mut b, fixing);
    }
    died(&mut b);
    let it = page(&b, fixing);
    assert_eq!((it.n_done, it.n_all), (18, 24));
    assert_eq!(
        (it.stage.as_str(), it.figure.as_str()),
        ("Stage 3 of 3", "+90°")
    );
    let next = it.at(None).unwrap();
    assert_eq!(
        (next.number, &*next.act.as_ref().unwrap().0),
        (3, "Nut 3 turned on 90°")
    );
    // Not sure about nut 2.
    let two = it.at(Some(1)).unwrap();
    assert_eq!(two.act, None, "it has had its turn");
    b.ok(two.doubt.clone().unwrap());
    let it = page(&b, fixing);
    assert_eq!(it.at(None).unwrap().number, 3, "not silently repeated");
    assert!(it.doubt.contains("nut 2"), "{}", it.doubt);
    assert_eq!(it.stages.last().map(|s| s.n), Some(1));
    for _ in 3..=8 {
        tap(&mut b, fixing);
    }
    // The round is through, the stage is not complete, and nut 2 is named.
    let it = page(&b, fixing);
    assert!(!it.done);
    assert_eq!((it.n_done, it.n_all), (23, 24));
    let two = it.at(None).unwrap();
    assert_eq!((two.number, two.standing), (2, PlaceStanding::Doubt));
    // An angle is not given twice: it is slackened and goes through all stages.
    let (text, slacken) = two.remedy.clone().unwrap();
    assert_eq!(text, "Nut 2 slackened, it starts over");
    b.ok(slacken);
    let labels: Vec<String> = (0..3)
        .map(|_| {
            let label = page(&b, fixing).at(None).unwrap().act.clone().unwrap().0;
            tap(&mut b, fixing);
            label
        })
        .collect();
    assert_eq!(
        labels,
        ["Nut 2 at 20 N·m", "Nut 2 at 45 N·m", "Nut 2 turned on 90°"]
    );
    assert!(page(&b, fixing).done);
}

/// Doubt about a torque stage that is past holds that stage, not the last one.
#[test]
fn a_doubt_is_about_the_stage_it_arose_at() {
    let stages = [torque("20 N·m"), torque("45 N·m")];
    let (mut b, _, fixing) = placed("pump", "bolt | thread=M8 x 1.25 | length=25", 4, &stages);
    for _ in 0..4 + 4 {
        tap(&mut b, fixing);
    }
    let two = page(&b, fixing).at(Some(1)).unwrap().clone();
    b.ok(two.doubt.unwrap());
    let it = page(&b, fixing);
    assert_eq!(it.stage, "Stage 1 of 2", "no later stage begins");
    let next = it.at(None).unwrap();
    assert_eq!(next.act.as_ref().unwrap().0, "Bolt 2 touched again, 20 N·m");
    assert_eq!(next.remedy, None);
    tap(&mut b, fixing);
    assert_eq!(page(&b, fixing).stage, "Stage 2 of 2");
    // Struck, the doubt is back.
    b.ok(Command::StrikeLast);
    assert_eq!(
        page(&b, fixing).at(None).unwrap().standing,
        PlaceStanding::Doubt
    );
}

/// S4: one bolt for two parts is started with one of them, and final is refused
/// with the reason until both are there.
#[test]
fn a_shared_bolt_is_not_final_while_the_bracket_is_off() {
    let mut b = Bench::default();
    let bracket = b.part("hose bracket", &[]);
    let mut off = take_off("alternator");
    let mut draft = FixingDraft::new(spec("bolt | thread=M8 x 1.25 | length=70"), 1);
    draft.detail.stages = vec![torque("12 N·m"), torque("25 N·m")];
    draft.also = vec![bracket];
    off.fixings.push(draft);
    let alternator = b.take_off(off);
    let fixing = b.fixing(alternator, 0);
    assert_eq!(page(&b, fixing).before, Before::Part(alternator));
    b.place(alternator);
    tap(&mut b, fixing);
    let it = page(&b, fixing);
    assert_eq!(it.before, Before::Nothing, "the first stage is not final");
    tap(&mut b, fixing);
    let it = page(&b, fixing);
    let Before::Final(why, None) = &it.before else {
        panic!("{:?}", it.before)
    };
    assert_eq!(
        why,
        "Not final yet: it also holds hose bracket, which is off."
    );
    let (_, command) = it.at(None).unwrap().act.clone().unwrap();
    assert_eq!(
        b.refused(command),
        Refusal::StackIncomplete {
            fixing,
            part: bracket
        }
    );
    // The bolt was in before the bracket came: it is hardly through both, so it
    // is asked after, and starts over.
    b.place(bracket);
    let it = page(&b, fixing);
    assert_eq!(it.before, Before::Nothing);
    assert_eq!(it.at(None).unwrap().standing, PlaceStanding::Doubt);
    tap(&mut b, fixing);
    assert_eq!(page(&b, fixing).stage, "Stage 2 of 2");
    tap(&mut b, fixing);
    assert!(page(&b, fixing).done);
}

#[test]
fn final_waits_for_weight_heat_and_neighbours() {
    let mut b = Bench::default();
    let mut off = take_off("control arm");
    for n in [2, 1] {
        let mut draft = FixingDraft::new(spec("bolt | thread=M12 x 1.75 | length=80"), n);
        draft.detail.stages = vec![torque("80 N·m")];
        off.fixings.push(draft);
    }
    let arm = b.take_off(off);
    let (bush, other) = (b.fixing(arm, 0), b.fixing(arm, 1));
    b.place(arm);
    for until in [Hold::Neighbours, Hold::Loaded] {
        b.record(Act::FinalHeld {
            fixing: bush,
            until,
            met: false,
        });
    }
    tap(&mut b, bush);
    tap(&mut b, bush);
    let held = |b: &Bench| page(b, bush).before;
    let only =
        |text: &str, until| Before::Final(format!("Not final yet: only {text}."), Some(until));
    assert_eq!(
        held(&b),
        only("when all its neighbours are in", Hold::Neighbours)
    );
    tap(&mut b, other);
    assert_eq!(held(&b), only("while it bears its weight", Hold::Loaded));
    let (_, command) = page(&b, bush).at(None).unwrap().act.clone().unwrap();
    assert_eq!(
        b.refused(command.clone()),
        Refusal::FinalHeld {
            fixing: bush,
            until: Hold::Loaded
        }
    );
    b.record(Act::FinalHeld {
        fixing: bush,
        until: Hold::Loaded,
        met: true,
    });
    b.ok(command);
    tap(&mut b, bush);
    assert!(page(&b, bush).done);
    // Out again, it has to bear its weight once more.
    let out = page(&b, bush).places[0].out.clone().unwrap();
    b.ok(out);
    tap(&mut b, bush);
    assert_eq!(held(&b), only("while it bears its weight", Hold::Loaded));
}

#[test]
fn eight_on_a_circle_go_crosswise_and_are_numbered_by_their_turn() {
    let (mut b, _, fixing) = placed("pump", "bolt | thread=M8 x 1.25 | length=25", 8, &[]);
    let it = b.job().fixings.get(fixing).unwrap();
    let round = chosen_layout(fixing, it, Layout::Circle, 0).unwrap();
    // ASME PCC-1 for eight bolts, as `torque::pattern::cross_order` gives it.
    assert_eq!(round.order, [0, 4, 2, 6, 1, 5, 3, 7]);
    b.record(Act::RoundSet(round.clone()));
    let first: Vec<u16> = (0..8).map(|_| tap(&mut b, fixing)).collect();
    assert_eq!(first, (1..=8).collect::<Vec<_>>());
    let it = page(&b, fixing);
    assert_eq!(it.drawing.order, "1, 2, 3, 4, 5, 6, 7, 8");
    assert_eq!(it.drawing.loosen, "8, 7, 6, 5, 4, 3, 2, 1");
    assert!(it.drawing.said.starts_with("Circle: crosswise"));
    let opposite = |a: &Disc, b: &Disc| a.x + b.x == 1000 && a.y + b.y == 1000;
    let by_turn = |n: u16| it.drawing.discs.iter().find(|d| d.number == n).unwrap();
    assert!(opposite(by_turn(1), by_turn(2)) && opposite(by_turn(7), by_turn(8)));
    // The guard goes on where the turn is, and calls places by the same number.
    for _ in 0..3 {
        tap(&mut b, fixing);
    }
    let it = resume(&b.book, b.last_act()).unwrap();
    assert_eq!(touched(&b), [1, 2, 3]);
    assert_eq!((it.next.unwrap().number, it.next.unwrap().place), (4, 6));
    // The maker's order in its stead; what is done stays done at its place.
    let maker = Round {
        order: vec![7, 6, 5, 4, 3, 2, 1, 0],
        maker: true,
        ..round.clone()
    };
    b.record(Act::RoundSet(maker));
    let it = page(&b, fixing);
    assert_eq!(it.drawing.said, "The maker's order");
    let done: Vec<u16> = it
        .places
        .iter()
        .filter(|p| p.standing == PlaceStanding::Final)
        .map(|p| p.index)
        .collect();
    assert_eq!(done, [4, 2, 0], "in the new order");
    // An order that leaves one out is none.
    let short = Round {
        order: vec![0, 1, 2, 3, 4, 5, 6, 6],
        ..round
    };
    assert_eq!(
        b.refused(Command::Record(Act::RoundSet(short))),
        Refusal::BadRound { fixing }
    );
}

/// Five places that lie in no order: both ways of going round are offered, and
/// the page names the one that was taken.
#[test]
fn the_order_is_named_by_the_way_that_was_chosen() {
    let (mut b, part, fixing) = placed("cover", "bolt | thread=M6 x 1 | length=20", 7, &[]);
    let photo = b.photo(Target::Part(part), (1600, 1200));
    let irregular = [
        (100, 100),
        (480, 160),
        (900, 90),
        (300, 420),
        (820, 500),
        (140, 900),
        (600, 780),
    ];
    for (n, (x, y)) in (1..).zip(irregular) {
        b.record(Act::MarkSet {
            photo,
            number: n,
            x,
            y,
            what: Target::Fixing(fixing),
        });
    }
    let offers = photo_offers(b.job(), fixing);
    let said: Vec<&str> = offers.iter().map(|o| o.text.as_str()).collect();
    assert_eq!(
        said,
        [
            "Irregular: from the middle outwards",
            "Irregular: crosswise, opposite follows opposite",
            "Irregular: as marked"
        ]
    );
    for offer in offers {
        b.record(Act::RoundSet(offer.round));
        assert_eq!(page(&b, fixing).drawing.said, offer.text);
    }
}

#[test]
fn marks_on_a_photo_give_the_order() {
    let (mut b, part, fixing) = placed("cover", "bolt | thread=M6 x 1 | length=20", 5, &[]);
    let photo = b.photo(Target::Part(part), (1600, 1200));
    let mark = |b: &mut Bench, number: u16, x: u16| {
        b.record(Act::MarkSet {
            photo,
            number,
            x,
            y: 500,
            what: Target::Fixing(fixing),
        })
    };
    for n in 0..4 {
        mark(&mut b, n + 1, 100 + 200 * n);
    }
    assert_eq!(photo_offers(b.job(), fixing), []);
    assert_eq!(
        marks_said(b.job(), fixing),
        ["4 of 5 places are marked on the photo."]
    );
    // Set on top of another: no position, and it is said.
    let twice = mark(&mut b, 5, 701);
    assert_eq!(photo_offers(b.job(), fixing), []);
    assert!(marks_said(b.job(), fixing)[0].contains("Marks 4 and 5"));
    b.ok(Command::Strike { event: twice });
    mark(&mut b, 5, 900);
    let offers = photo_offers(b.job(), fixing);
    assert_eq!(offers[0].text, "Line: from the middle outwards");
    assert_eq!(offers[0].round.order[0], 2, "the middle first");
    assert!(!offers[0].unclear);
    b.record(Act::RoundSet(offers[0].round.clone()));
    let it = page(&b, fixing);
    assert_eq!(
        it.drawing.photo.as_ref().map(|p| (p.1, p.2)),
        Some((1600, 1200))
    );
    assert_eq!(it.at(None).unwrap().index, 2);
}

/// What gives no order is told, as far apart as it lies on the photo itself.
#[test]
fn marks_that_lie_on_one_another_on_a_long_photo_are_named() {
    let (mut b, part, fixing) = placed("sump", "bolt | thread=M6 x 1 | length=20", 4, &[]);
    let taken = PhotoTaken {
        hash: "ab".repeat(32),
        thumb: "cd".repeat(32),
        width: 4000,
        height: 500,
        on: vec![Target::Part(part)],
        caption: String::new(),
    };
    let photo = PhotoId(b.record(Act::PhotoTaken(taken)).thing(0));
    // The last two are 60 thousandths of the height apart: 30 of 3,200 pixels.
    for (number, (x, y)) in (1..).zip([(100, 500), (500, 500), (900, 400), (900, 460)]) {
        b.record(Act::MarkSet {
            photo,
            number,
            x,
            y,
            what: Target::Fixing(fixing),
        });
    }
    assert_eq!(photo_offers(b.job(), fixing), []);
    let said = marks_said(b.job(), fixing);
    assert!(said[0].starts_with("Marks 3 and 4 lie on one another"));
}

/// One figure, one verdict: as it is typed while taking off, and in the pass.
#[test]
fn a_figure_is_doubted_alike_where_it_is_typed_and_in_the_pass() {
    let m8 = "bolt | thread=M8 x 1.25 | length=25 | class=8.8";
    let mut doubts = Vec::new();
    for meant_for in [None, Some(MeantFor::Dry), Some(MeantFor::Oiled)] {
        let detail = FixingDetail {
            stages: vec![torque("33 N·m")],
            meant_for,
            ..FixingDetail::default()
        };
        let nm = TorqueUnit::NewtonMetre;
        let typed = typed_doubt(&spec(m8), [("33", Some(nm))], &detail, nm, AT.style);
        let (mut b, _, fixing) = placed("cover", m8, 4, &[]);
        b.record(Act::FixingDescribed { fixing, detail });
        assert_eq!(page(&b, fixing).warnings.first(), typed.as_ref());
        doubts.push(typed.unwrap_or_default());
    }
    assert!(doubts[0].starts_with("High for this bolt."), "{doubts:?}");
    assert_eq!(doubts[1], "", "usual where threads are dry");
    assert!(doubts[2].contains("(oiled)"), "{doubts:?}");
    // One that follows raises nothing of the first.
    let nm = Some(TorqueUnit::NewtonMetre);
    let low = |typed: &[(&str, Option<TorqueUnit>)]| {
        let meant = FixingDetail::default();
        let typed = typed.iter().copied();
        typed_doubt(&spec(m8), typed, &meant, TorqueUnit::NewtonMetre, AT.style)
    };
    assert!(low(&[("2", nm)]).is_some());
    assert_eq!(low(&[("2", nm), ("25", nm)]), None);
    assert_eq!(low(&[("two", nm), ("33", nm)]), None, "nothing is read");
}

#[test]
fn the_adapter_and_the_wrenches_are_said_before_the_pass() {
    let (b, _, fixing) = placed(
        "pump",
        "bolt | thread=M10 x 1.5 | length=40 | class=8.8",
        2,
        &[torque("20 N·m"), torque("45 N·m")],
    );
    let wrench = |name: &str, min: &str, max: &str| Wrench {
        name: name.to_owned(),
        range: WrenchRange {
            min: min.parse().unwrap(),
            max: max.parse().unwrap(),
        },
    };
    let mut tools = Tools {
        wrenches: vec![wrench("small one", "5 N·m", "25 N·m")],
        adapter: None,
    };
    let of = |b: &Bench, tools: &Tools| tighten_page(&b.book, fixing, tools, AT).unwrap();
    assert_eq!(
        of(&b, &tools).warnings,
        ["45 N·m is above what your wrenches reach."]
    );
    tools.wrenches.push(wrench("long one", "40 N·m", "200 N·m"));
    assert_eq!(of(&b, &tools).warnings, Vec::<String>::new());
    // 80 N·m, L 400 mm, E 50 mm: 71.1 is set (the sum is torque x L / (L + E)).
    let adapter = |angle| {
        Some(Adapter {
            wrench_mm: 400,
            adapter_mm: 50,
            angle,
        })
    };
    tools.adapter = adapter(0);
    let eighty: Torque = "80 N·m".parse().unwrap();
    let it = set_up(eighty, &tools, TorqueUnit::NewtonMetre, AT.style);
    assert_eq!((it.set.as_str(), it.gets.as_str()), ("71.1 N·m", "80 N·m"));
    assert_eq!(
        (it.hint.as_str(), it.wrench.as_str()),
        ("", "long one, 40 to 200 N·m")
    );
    // Through the adapter 45 N·m is set as 40; still reached.
    assert_eq!(of(&b, &tools).warnings, Vec::<String>::new());
    // A wrench in another unit than the job's says its setting on its own scale.
    let mut pounds = Tools {
        wrenches: vec![wrench("old one", "20 lbf·ft", "100 lbf·ft")],
        adapter: None,
    };
    let it = set_up(eighty, &pounds, TorqueUnit::NewtonMetre, AT.style);
    assert_eq!(it.wrench, "old one, 20 to 100 lbf·ft: set 59.0 lbf·ft");
    // What was entered in that unit is set as it was entered.
    let sixty: Torque = "60 lbf·ft".parse().unwrap();
    let it = set_up(sixty, &pounds, TorqueUnit::NewtonMetre, AT.style);
    assert_eq!(it.wrench, "old one, 20 to 100 lbf·ft: set 60 lbf·ft");
    // Through the adapter: 80 N·m x 400 / 450 = 71.11 N·m = 52.4 lbf·ft.
    pounds.adapter = adapter(0);
    let it = set_up(eighty, &pounds, TorqueUnit::NewtonMetre, AT.style);
    assert_eq!(it.wrench, "old one, 20 to 100 lbf·ft: set 52.4 lbf·ft");
    tools.adapter = adapter(90);
    let it = set_up(eighty, &tools, TorqueUnit::NewtonMetre, AT.style);
    assert_eq!(it.set, "80 N·m");
    assert!(it.hint.starts_with("Nothing to correct"));
}

#[test]
fn a_doubtful_figure_is_said_at_the_top_and_in_the_jobs_unit() {
    let (b, _, fixing) = placed(
        "cover",
        "bolt | thread=M6 x 1 | length=20 | class=8.8",
        3,
        &[torque("88 N·m")],
    );
    let it = page(&b, fixing);
    assert_eq!(it.warnings.len(), 1);
    assert!(it.warnings[0].starts_with("This bolt would give way"));
    assert!(it.warnings[0].contains("lbf·in"));
    assert!(it.warnings[0].contains("maker's figure"));
    // Entered in another unit: shown in the job's, kept as it was.
    let (mut b, _, fixing) = placed(
        "cover",
        "bolt | thread=M8 x 1.25 | length=20 | class=8.8",
        1,
        &[torque("18 lbf·ft")],
    );
    tap(&mut b, fixing);
    let it = page(&b, fixing);
    assert_eq!(
        (it.figure.as_str(), it.noted.as_str()),
        ("24.4 N·m", "noted as 18 lbf·ft")
    );
    tap(&mut b, fixing);
    assert_eq!(
        b.job().fixings.get(fixing).unwrap().last_value,
        Some(torque("18 lbf·ft"))
    );
    // Low before an angle is meant so.
    let angle = [torque("3 N·m"), Figure::Angle { degrees: 90 }];
    let bolt = "bolt | thread=M8 x 1.25 | length=20 | class=8.8";
    let (b, _, fixing) = placed("cover", bolt, 1, &angle);
    assert_eq!(page(&b, fixing).warnings, Vec::<String>::new());
    // Stages that cannot be worked to are named.
    let falling = [torque("30 N·m"), torque("25 N·m")];
    let (b, _, fixing) = placed("cover", bolt, 1, &falling);
    assert!(page(&b, fixing).warnings[0].starts_with("Stage 2: no more than"));
}

#[test]
fn cautions_come_before_the_pass_and_once() {
    let (b, _, fixing) = placed(
        "brake caliper",
        "bolt | thread=M10 x 1.5 | length=30",
        2,
        &[],
    );
    let titles: Vec<&str> = pass_cautions(b.job(), fixing, "")
        .iter()
        .map(|c| c.title)
        .collect();
    assert_eq!(titles[0], "Over-tightening");
    assert!(titles.len() > 1, "{titles:?}");
    assert_eq!(pass_cautions(b.job(), fixing, &titles.join("\n")), []);
    // A part that is no danger has the one about tightening only.
    let (b, _, fixing) = placed("cover", "bolt | thread=M6 x 1 | length=20", 2, &[]);
    assert_eq!(pass_cautions(b.job(), fixing, "").len(), 1);
}

/// Four or more in a ring with stages: once more all round, when all is final.
#[test]
fn after_the_pass_of_a_ring_all_are_gone_round_once_more() {
    let stages = [torque("20 N·m"), torque("45 N·m")];
    let (mut b, part, fixing) = placed("cover", "bolt | thread=M8 x 1.25 | length=25", 6, &stages);
    // A cover without an order owes none; a row neither.
    let it = b.job().fixings.get(fixing).unwrap().clone();
    let row = chosen_layout(fixing, &it, Layout::Line, 0).unwrap();
    b.record(Act::RoundSet(row));
    assert_eq!(page(&b, fixing).last_round, Some(false));
    let ring = chosen_layout(fixing, &it, Layout::Circle, 0).unwrap();
    b.record(Act::RoundSet(ring.clone()));
    assert_eq!(page(&b, fixing).last_round, Some(true), "a ring in stages");
    let early = Command::GoRound {
        fixing,
        turned: false,
    };
    assert!(matches!(b.refused(early.clone()), Refusal::PlaceIs { .. }));
    let owed = (Rule::LastRound, Target::Fixing(fixing));
    for _ in 0..18 {
        assert!(!b.rules().contains(&owed), "not before all is final");
        tap(&mut b, fixing);
    }
    assert_eq!(b.rules(), [owed]);
    let it = page(&b, fixing);
    assert_eq!(
        (it.stage.as_str(), it.figure.as_str()),
        ("Once more all round", "45 N·m")
    );
    assert_eq!((it.next, it.check), (None, false));
    let round = it.round.unwrap();
    assert_eq!(round.none.0, "Gone round at 45 N·m, none turned");
    // One turned: the round is owed still, and said so.
    b.ok(round.turned.1);
    assert_eq!(b.rules(), [owed]);
    assert!(
        page(&b, fixing)
            .round
            .unwrap()
            .said
            .starts_with("One turned")
    );
    b.ok(round.none.1.clone());
    assert_eq!(b.audit().verdict, Verdict::Complete);
    assert!(page(&b, fixing).round.is_none());
    assert!(matches!(b.refused(early), Refusal::AlreadySo(_)));
    // Taken back, it is owed again; and so when one was out since.
    b.ok(Command::StrikeLast);
    assert_eq!(b.rules(), [owed]);
    b.ok(round.none.1);
    b.record(Act::FastenersUndone {
        fixing,
        places: vec![2],
        out: false,
        to: Account::Bench,
    });
    for _ in 0..2 {
        tap(&mut b, fixing);
    }
    assert_eq!(b.rules(), [owed]);
    // The person says no, and an order set anew does not ask again.
    b.record(Act::LastRoundAsked {
        fixing,
        asked: false,
    });
    assert_eq!(b.rules(), []);
    b.record(Act::RoundSet(ring));
    assert_eq!(b.rules(), []);
    let _ = part;
}

#[test]
fn a_last_round_needs_four_places_and_a_torque() {
    for (n, stages) in [
        (3, vec![torque("20 N·m"), torque("45 N·m")]),
        (8, vec![torque("20 N·m"), Figure::Angle { degrees: 90 }]),
        (8, vec![]),
    ] {
        let (mut b, _, fixing) = placed("head", "bolt | thread=M8 x 1.25 | length=25", n, &stages);
        assert_eq!(page(&b, fixing).last_round, None);
        let asked = Act::LastRoundAsked {
            fixing,
            asked: true,
        };
        assert_eq!(
            b.refused(Command::Record(asked)),
            Refusal::NoLastRound { fixing }
        );
    }
    // One figure in one go: only where the person asks for it.
    let one = [torque("25 N·m")];
    let (mut b, _, fixing) = placed("cover", "bolt | thread=M8 x 1.25 | length=25", 4, &one);
    let it = b.job().fixings.get(fixing).unwrap().clone();
    b.record(Act::RoundSet(
        chosen_layout(fixing, &it, Layout::Circle, 0).unwrap(),
    ));
    assert_eq!(page(&b, fixing).last_round, Some(false));
    b.record(Act::LastRoundAsked {
        fixing,
        asked: true,
    });
    assert_eq!(page(&b, fixing).last_round, Some(true));
}

/// Who went round is no second pair of eyes.
#[test]
fn who_went_the_last_round_cannot_be_the_second_look() {
    let stages = [torque("20 N·m"), torque("45 N·m")];
    let (mut b, _, fixing) = placed("wheel", "nut | thread=M12 x 1.5", 5, &stages);
    let detail = FixingDetail {
        safety: true,
        stages: stages.to_vec(),
        ..FixingDetail::default()
    };
    b.record(Act::FixingDescribed { fixing, detail });
    b.record(Act::LastRoundAsked {
        fixing,
        asked: true,
    });
    for _ in 0..15 {
        tap(&mut b, fixing);
    }
    b.ctx.by = "Bo".to_owned();
    b.ok(page(&b, fixing).round.unwrap().none.1);
    let look = Command::Check {
        what: Target::Fixing(fixing),
    };
    assert!(matches!(b.refused(look.clone()), Refusal::SameName { .. }));
    b.ctx.by = "Cy".to_owned();
    b.ok(look);
    assert_eq!(b.rules(), [], "a look turns nothing: the round stands");
}

/// An order set under way changes who is next, and not what a place is called.
#[test]
fn an_order_set_under_way_calls_no_place_otherwise() {
    let (mut b, _, fixing) = placed(
        "pump",
        "bolt | thread=M8 x 1.25 | length=25",
        8,
        &[torque("10 N·m"), torque("25 N·m")],
    );
    let log = |b: &Bench| -> Vec<String> {
        let all = b.book.journal().iter();
        all.filter(|e| !matches!(e.act, Act::RoundSet(_)))
            .map(|e| countback_core::words::act(b.job(), e, AT.style))
            .collect()
    };
    let called = |b: &Bench| -> Vec<u16> {
        let it = b.job().fixings.get(fixing).unwrap();
        (0..8).map(|place| it.number(place)).collect()
    };
    let ring = |b: &Bench| {
        let it = b.job().fixings.get(fixing).unwrap();
        chosen_layout(fixing, it, Layout::Circle, 0).unwrap()
    };
    // Nothing is touched yet: the turn gives the number.
    b.record(Act::RoundSet(ring(&b)));
    assert_eq!(called(&b), [1, 5, 3, 7, 2, 6, 4, 8]);
    for _ in 0..8 + 3 {
        tap(&mut b, fixing);
    }
    let it = page(&b, fixing);
    let two = it.places.iter().find(|p| p.number == 2).unwrap();
    b.ok(two.doubt.clone().unwrap());
    let (before, doubt) = (log(&b), page(&b, fixing).doubt);
    assert!(doubt.starts_with("Not sure of bolt 2."), "{doubt}");
    // The maker's order, the other way round.
    let maker = Round {
        order: vec![7, 6, 5, 4, 3, 2, 1, 0],
        maker: true,
        ..ring(&b)
    };
    // It is shown with these numbers before it is set, and after.
    let it = b.job().fixings.get(fixing).unwrap();
    let shown = drawing(b.job(), it, Some(&maker), None).order;
    b.record(Act::RoundSet(maker.clone()));
    assert_eq!(called(&b), [1, 5, 3, 7, 2, 6, 4, 8]);
    assert_eq!(page(&b, fixing).doubt, doubt);
    assert_eq!(log(&b), before);
    assert_eq!(page(&b, fixing).drawing.order, "8, 4, 6, 2, 7, 3, 5, 1");
    assert_eq!(shown, "8, 4, 6, 2, 7, 3, 5, 1");
    assert_eq!(page(&b, fixing).at(None).unwrap().number, 8, "its turn");
    // Another one, and all of it folded anew.
    b.record(Act::RoundSet(ring(&b)));
    died(&mut b);
    assert_eq!(called(&b), [1, 5, 3, 7, 2, 6, 4, 8]);
    assert_eq!(log(&b), before);
}

/// An adapter has the lengths that were measured, and none before.
#[test]
fn an_adapter_waits_for_both_its_lengths() {
    let (mut b, _, fixing) = placed(
        "pump",
        "bolt | thread=M10 x 1.5 | length=40",
        4,
        &[torque("20 N·m"), torque("45 N·m")],
    );
    let with = |b: &Bench, wrench_mm, adapter_mm| {
        let tools = Tools {
            wrenches: Vec::new(),
            adapter: Some(Adapter {
                wrench_mm,
                adapter_mm,
                angle: 0,
            }),
        };
        wrench_page(&b.book, fixing, &tools, AT.style).unwrap()
    };
    for (wrench, adapter, what) in [(0, 0, "grip"), (400, 0, "fastener"), (0, 50, "grip")] {
        let it = with(&b, wrench, adapter);
        assert!(it.waits.contains(what), "{wrench} {adapter}: {}", it.waits);
        assert_eq!(it.setting, Setting::default(), "{wrench} {adapter}");
    }
    // All are open still: looked up beforehand, it is of the first stage.
    assert_eq!(page(&b, fixing).setting.set, "");
    let it = with(&b, 400, 50);
    assert_eq!((it.waits, it.figure.as_str()), ("", "20 N·m"));
    // 20 x 400 / 450 = 17.8.
    assert_eq!(it.setting.set, "17.8 N·m");
    let bare = wrench_page(&b.book, fixing, &Tools::default(), AT.style).unwrap();
    assert_eq!(
        (bare.figure.as_str(), bare.setting.set.as_str()),
        ("20 N·m", "")
    );
    for _ in 0..8 {
        tap(&mut b, fixing);
    }
    assert_eq!(with(&b, 400, 50).setting.set, "40 N·m", "the second stage");
    // In inches they are said in inches too.
    assert_eq!(with(&b, 400, 50).lengths, <(String, String)>::default());
    let head = b.job().head.clone().unwrap();
    let units = Units {
        length: LengthUnit::Inch,
        ..head.units
    };
    b.record(Act::JobDescribed(JobHead { units, ..head }));
    let lengths = with(&b, 400, 50).lengths;
    assert_eq!(lengths, ("15.748 in".to_owned(), "1.969 in".to_owned()));
}

/// A figure that no wrench reaches is named in the unit that the page is in.
#[test]
fn what_no_wrench_reaches_is_said_in_the_units_of_the_job() {
    let m10 = "bolt | thread=M10 x 1.5 | length=40 | class=8.8";
    let (b, _, fixing) = placed("pump", m10, 2, &[torque("30 lbf·ft")]);
    let range = |min: &str, max: &str| WrenchRange {
        min: min.parse().unwrap(),
        max: max.parse().unwrap(),
    };
    let mut tools = Tools {
        wrenches: vec![Wrench {
            name: String::new(),
            range: range("5 lbf·ft", "25 lbf·ft"),
        }],
        adapter: None,
    };
    let said = |tools: &Tools| tighten_page(&b.book, fixing, tools, AT).unwrap().warnings;
    assert_eq!(
        said(&tools),
        ["40.7 N·m is above what your wrenches reach."]
    );
    // Reached to the line, as it was entered.
    tools.wrenches[0].range = range("5 lbf·ft", "30 lbf·ft");
    assert_eq!(said(&tools), Vec::<String>::new());
}

/// 45 N·m through 400 and 50 mm is 40 on the scale, and the record says so.
#[test]
fn the_record_tells_what_was_set_through_an_adapter() {
    let (mut b, _, fixing) = placed(
        "pump",
        "bolt | thread=M10 x 1.5 | length=40",
        2,
        &[torque("20 N·m"), torque("45 N·m")],
    );
    let adapter = Some(Adapter {
        wrench_mm: 400,
        adapter_mm: 50,
        angle: 0,
    });
    for _ in 0..4 {
        tap(&mut b, fixing);
    }
    b.record(Act::AdapterSet { fixing, adapter });
    assert_eq!(page(&b, fixing).setting.set, "40 N·m");
    tap(&mut b, fixing);
    b.record(Act::AdapterSet {
        fixing,
        adapter: None,
    });
    tap(&mut b, fixing);
    let said: Vec<_> = b
        .book
        .journal()
        .iter()
        .filter_map(|e| match e.act {
            Act::Tightened { value, set, .. } => Some((value, set)),
            _ => None,
        })
        .collect();
    let (twenty, all) = (Some(torque("20 N·m")), Some(torque("45 N·m")));
    assert_eq!(
        said,
        [
            (twenty, None),
            (twenty, None),
            (all, Some(torque("40 N·m"))),
            (all, None)
        ]
    );
    let log: Vec<String> = b
        .book
        .journal()
        .iter()
        .map(|e| countback_core::words::act(b.job(), e, AT.style))
        .collect();
    assert!(
        log.iter()
            .any(|l| l.contains("45 N·m (set 40 N·m, with the adapter)")),
        "{log:?}"
    );
}

/// The order, the stages and the last round go with the procedure.
#[test]
fn a_procedure_takes_the_round_along() {
    let stages = [torque("20 N·m"), torque("45 N·m")];
    let (mut b, _, fixing) = placed("cover", "bolt | thread=M8 x 1.25 | length=25", 6, &stages);
    let it = b.job().fixings.get(fixing).unwrap().clone();
    let ring = chosen_layout(fixing, &it, Layout::Circle, 0).unwrap();
    b.record(Act::RoundSet(ring.clone()));
    let plan = countback_core::procedure::procedure_from_job(b.job());
    let text = countback_core::procedure::procedure_to_json(&plan);
    let plan = countback_core::procedure::procedure_from_json(&text).unwrap();
    let next_job = |plan: countback_core::procedure::Procedure, n| {
        let mut next = Bench::default();
        let key = plan.parts[0].key.clone();
        let planned = plan.parts[0].fixings[0].clone();
        next.record(Act::ProcedureAttached(plan));
        let mut off = take_off("cover");
        off.part.planned = Some(key);
        let mut draft = FixingDraft::new(planned.spec, n);
        draft.detail = planned.detail;
        off.fixings.push(draft);
        let part = next.take_off(off);
        let fixing = next.fixing(part, 0);
        next.job().fixings.get(fixing).unwrap().clone()
    };
    let there = next_job(plan.clone(), 6);
    assert_eq!(there.detail.stages, stages);
    let round = there.round.unwrap();
    assert_eq!((round.order, round.points), (ring.order, ring.points));
    assert_eq!(there.last_round, Some(true));
    // In the next job the way back round is said before the bolts come out.
    let mut next = Bench::default();
    next.record(Act::ProcedureAttached(plan.clone()));
    let said = loosen_planned(next.job(), &plan.parts[0].key);
    assert_eq!(said.len(), 1);
    assert!(
        said[0].said.contains("loosen in reverse, 6, 5, 4, 3, 2, 1"),
        "{said:?}"
    );
    assert_eq!(said[0].drawing.discs.len(), 6);
    assert!(loosen_planned(next.job(), "another").is_empty());
    // Once it is on and may come off again, by the fixing's own order; while it
    // is off there is nothing to loosen.
    let part = b.job().fixings.get(fixing).unwrap().parts[0];
    assert!(loosen_again(b.job(), part).is_empty());
    for _ in 0..4 {
        tap(&mut b, fixing);
    }
    let said = loosen_again(b.job(), part);
    assert!(
        said[0].said.contains("in reverse, 6, 5, 4, 3, 2, 1"),
        "{said:?}"
    );
    // Another count is another pattern, and a file's order need not go round.
    assert_eq!(next_job(plan.clone(), 5).round, None);
    let mut wild = plan;
    wild.parts[0].fixings[0].round.as_mut().unwrap().order = vec![0, 0, 9];
    assert_eq!(next_job(wild, 6).round, None);
}

/// Angles come last: a torque that follows one is refused, and what stood before
/// still stands.
#[test]
fn no_torque_is_kept_after_an_angle() {
    let mut b = Bench::default();
    let mut off = take_off("head cover");
    let mut draft = FixingDraft::new(spec("bolt | thread=M8 x 1.25 | length=40"), 4);
    draft.detail.stages = vec![torque("20 N·m"), Figure::Angle { degrees: 90 }];
    off.fixings.push(draft);
    let cover = b.take_off(off);
    let fixing = b.fixing(cover, 0);
    let before = b.job().fixings.get(fixing).unwrap().detail.clone();
    let mut detail = before.clone();
    detail.stages.push(torque("30 N·m"));
    assert_eq!(
        b.refused(Command::Record(Act::FixingDescribed {
            fixing,
            detail: detail.clone()
        })),
        Refusal::TorqueAfterAngle {
            fixing: Some(fixing),
            stage: 3
        }
    );
    // At take-off too, where nothing is logged of it.
    let mut off = take_off("side cover");
    let mut draft = FixingDraft::new(spec("bolt | thread=M8 x 1.25 | length=40"), 4);
    draft.detail.stages.clone_from(&detail.stages);
    off.fixings.push(draft);
    assert_eq!(
        b.refused(Command::TakeOff(Box::new(off))),
        Refusal::TorqueAfterAngle {
            fixing: None,
            stage: 3
        }
    );
    assert_eq!(b.job().fixings.get(fixing).unwrap().detail, before);
    detail.stages = vec![
        torque("20 N·m"),
        torque("30 N·m"),
        Figure::Angle { degrees: 90 },
    ];
    b.record(Act::FixingDescribed { fixing, detail });
}

/// One breaks as it is tightened, and all the others are final: the tap that was
/// the next turn says nothing of its thread, which is repaired in another place.
#[test]
fn a_broken_one_is_no_turn_of_the_pass() {
    let (mut b, _, fixing) = placed("cover", "bolt | thread=M8 x 1.25 | length=40", 3, &[]);
    for _ in 0..3 + 2 {
        tap(&mut b, fixing);
    }
    let last = page(&b, fixing).at(None).unwrap().clone();
    b.ok(last.broke.unwrap());
    let it = page(&b, fixing);
    let step = it.at(None).unwrap();
    assert_eq!(step.number, last.number);
    assert_eq!(step.act, None, "the main tap repairs it");
    assert!(step.held.contains("thread"), "{}", step.held);
    let (text, repair) = step.remedy.clone().unwrap();
    assert!(text.contains("repaired"), "{text}");
    b.ok(repair);
    assert!(page(&b, fixing).at(None).unwrap().act.is_some());
}

/// One breaks while others are still to be drawn down: it comes first, before a
/// turn of the next.
#[test]
fn a_broken_one_comes_before_the_next_turn() {
    let (mut b, _, fixing) = placed("cover", "bolt | thread=M8 x 1.25 | length=40", 4, &[]);
    for _ in 0..4 {
        tap(&mut b, fixing);
    }
    let first = page(&b, fixing).at(None).unwrap().clone();
    b.ok(first.broke.unwrap());
    let it = page(&b, fixing);
    let step = it.at(None).unwrap();
    assert_eq!(
        (step.number, step.standing),
        (first.number, PlaceStanding::Broken)
    );
    assert_eq!(step.act, None);
}
