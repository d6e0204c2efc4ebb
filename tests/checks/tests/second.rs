//! The second person: what is asked for, what a closure would hide, what was
//! ticked too lightly, and how a check that was let go reads. Invented scenarios.
use countback_checks::bench::*;
use countback_core::audit::{Rule, Verdict};
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::second::*;
use countback_core::view;

/// A caliper whose bolts are marked as safety-critical, back and final, and the
/// wheel that hides it.
fn brake(marked: bool) -> (Bench, FixingId, PartId) {
    let mut b = Bench::default();
    let wheel = b.part("road wheel", &[("nut | thread=M12 x 1.5", 5)]);
    let mut off = take_off("brake caliper");
    off.part.after = vec![Need {
        first: Target::Part(wheel),
        why: Why::Hides,
    }];
    let mut draft = FixingDraft::new(spec("bolt | thread=M12 x 1.5"), 2);
    draft.detail.safety = marked;
    off.fixings.push(draft);
    let caliper = b.take_off(off);
    let bolts = b.fixing(caliper, 0);
    b.place(caliper);
    b.fasten(caliper);
    (b, bolts, wheel)
}

fn by(b: &mut Bench, name: &str) {
    b.ctx.by = name.to_owned();
}

#[test]
fn the_wheel_would_hide_an_unchecked_caliper() {
    let (mut b, bolts, wheel) = brake(true);
    let unchecked = Unchecked {
        what: Target::Fixing(bolts),
        places: vec![0, 1],
        marked: true,
        critical: Some(Critical::Brakes),
    };
    assert_eq!(hides_unchecked(b.job(), wheel), vec![unchecked]);
    assert!(matches!(
        b.refused(Command::PlacePart {
            part: wheel,
            anyway: false
        }),
        Refusal::WouldBury { .. }
    ));
    // Not by the one who tightened, however the name is spelt.
    by(&mut b, " ann ");
    let what = Target::Fixing(bolts);
    assert!(matches!(
        b.refused(Command::Check { what }),
        Refusal::SameName { .. }
    ));
    by(&mut b, "Bo");
    b.ok(Command::Check { what });
    assert_eq!(hides_unchecked(b.job(), wheel), vec![]);
    b.place(wheel);
}

/// The mark is no way round the look: once lives hang on it by its name, or work
/// was done under the mark, the look is let go by name and reason or not at all.
#[test]
fn a_second_look_is_not_shed_by_taking_off_the_mark() {
    let (mut b, bolts, wheel) = brake(false);
    assert_eq!(suggest_fixing(b.job(), bolts), Some(Critical::Brakes));
    let found = hides_unchecked(b.job(), wheel);
    assert_eq!((found.len(), found[0].marked), (1, true));
    let on = Target::Fixing(bolts);
    let owed = (Rule::IndependentCheck, on);
    let unmarked = |b: &Bench, fixing: FixingId| {
        let mut detail = b.job().fixings.get(fixing).unwrap().detail.clone();
        detail.safety = false;
        [
            Command::Record(Act::FixingDescribed { fixing, detail }),
            Command::Record(Act::SecondLookSet {
                what: Target::Fixing(fixing),
                owed: false,
            }),
        ]
    };
    for shed in unmarked(&b, bolts) {
        assert_eq!(b.refused(shed), Refusal::MarkStays { on });
    }
    assert!(b.rules().contains(&owed));

    // A plain cover: its mark comes off as long as nothing was done under it.
    let mut b = Bench::default();
    let cover = b.part("timing cover", &[("bolt", 2)]);
    let bolts = b.fixing(cover, 0);
    let on = Target::Fixing(bolts);
    let mark = Act::SecondLookSet {
        what: on,
        owed: true,
    };
    b.record(mark.clone());
    for shed in unmarked(&b, bolts) {
        let mut b = b.clone();
        b.ok(shed);
        b.place(cover);
        b.fasten(cover);
        assert_eq!(b.audit().verdict, Verdict::Complete);
    }
    b.place(cover);
    b.fasten(cover);
    for shed in unmarked(&b, bolts) {
        assert_eq!(b.refused(shed), Refusal::MarkStays { on });
    }
    by(&mut b, "Bo");
    b.ok(Command::Check { what: on });
    for shed in unmarked(&b, bolts) {
        assert_eq!(b.refused(shed), Refusal::MarkStays { on });
    }
}

#[test]
fn what_lives_hang_on_by_its_name_is_told_though_it_is_not_marked() {
    // Named so only afterwards: told, not owed.
    let mut b = Bench::default();
    let wheel = b.part("road wheel", &[("nut | thread=M12 x 1.5", 5)]);
    let mut off = take_off("lump");
    off.part.after = vec![Need {
        first: Target::Part(wheel),
        why: Why::Hides,
    }];
    off.fixings
        .push(FixingDraft::new(spec("bolt | thread=M12 x 1.5"), 2));
    let caliper = b.take_off(off);
    b.record(Act::PartDescribed {
        part: caliper,
        name: "brake caliper".to_owned(),
        lies: String::new(),
        note: String::new(),
    });
    b.place(caliper);
    b.fasten(caliper);
    let found = hides_unchecked(b.job(), wheel);
    assert_eq!((found.len(), found[0].marked), (1, false));
    assert!(b.rules().iter().all(|r| r.0 != Rule::IndependentCheck));
    let mut b = Bench::default();
    let cover = b.part("timing cover", &[("bolt", 2)]);
    assert_eq!(suggest_fixing(b.job(), b.fixing(cover, 0)), None);
    let pipe = b.connection(
        "brake pipe",
        end(None, "left", true),
        end(None, "tee", false),
        &[],
    );
    let left = side(pipe, Side::A);
    assert_eq!(suggest_end(b.job(), left), Some(Critical::Brakes));
    let shed = Command::Record(Act::SecondLookSet {
        what: Target::End(left),
        owed: false,
    });
    let stays = Refusal::MarkStays {
        on: Target::End(left),
    };
    assert_eq!(b.refused(shed), stays);
    // The end of a brake pipe is owed a look as its bolts are.
    b.place(cover);
    b.fasten(cover);
    b.join(left);
    let owed = (Rule::IndependentCheck, Target::End(left));
    assert_eq!(b.rules(), [owed]);
    let what = Target::End(left);
    assert!(matches!(
        b.refused(Command::Check { what }),
        Refusal::SameName { .. }
    ));
    by(&mut b, "Bo");
    b.ok(Command::Check { what });
    assert_eq!(b.audit().verdict, Verdict::Complete);
}

#[test]
fn a_check_let_go_reads_with_name_reason_and_whose_work_it_was() {
    let (mut b, bolts, wheel) = brake(true);
    let what = Target::Fixing(bolts);
    let owed = b.audit().open.into_iter().find(|o| o.on == what).unwrap();
    assert_eq!(owed.rule, Rule::IndependentCheck);
    let let_go = |reason: &str| Command::Except {
        owed: owed.key(),
        reason: reason.to_owned(),
    };
    let name = std::mem::take(&mut b.ctx.by);
    let nameless = Refusal::NameMissing(Kind::Name);
    assert_eq!(b.refused(let_go("alone")), nameless);
    b.ctx.by = name;
    assert_eq!(b.refused(let_go(" ")), Refusal::ReasonMissing);
    b.ok(let_go("alone here"));
    let waived = waivers(b.job());
    assert_eq!(waived.len(), 1);
    assert_eq!(
        (waived[0].by.as_str(), waived[0].reason.as_str()),
        ("Ann", "alone here")
    );
    assert!(waived[0].own_work && !waived[0].lapsed);
    assert_eq!(hides_unchecked(b.job(), wheel), vec![]);
    b.place(wheel);
    b.fasten(wheel);
    b.looked_at_by("Cy");
    assert_eq!(b.audit().verdict, Verdict::Complete);
    // Another name is another pair of eyes.
    let (mut b, bolts, _) = brake(true);
    let owed = b
        .audit()
        .open
        .into_iter()
        .find(|o| o.on == Target::Fixing(bolts));
    by(&mut b, "Bo");
    b.ok(Command::Except {
        owed: owed.unwrap().key(),
        reason: "seen from below".to_owned(),
    });
    assert!(!waivers(b.job())[0].own_work);
    // Undone and done again, the check is owed anew.
    b.record(Act::Doubted {
        what: Target::Fixing(bolts),
        places: vec![0],
    });
    assert!(waivers(b.job())[0].lapsed);
}

/// Six numbered bolts, started an hour ago.
fn six() -> (Bench, FixingId) {
    let mut b = Bench::default();
    let mut off = take_off("cover");
    let mut draft = FixingDraft::new(spec("bolt | thread=M6 x 1"), 6);
    draft.numbers = (1..=6).collect();
    off.fixings.push(draft);
    let cover = b.take_off(off);
    let fixing = b.fixing(cover, 0);
    b.place(cover);
    b.ok(Command::Start {
        fixing,
        which: Thing::All,
        line: None,
        anyway: false,
    });
    b.ctx.now += HOUR;
    (b, fixing)
}

fn tighten(b: &mut Bench, fixing: FixingId, places: &[u16], after_ms: i64) {
    // The bench lets a minute pass before each act.
    b.ctx.now += after_ms - MINUTE;
    b.ok(Command::Tighten {
        fixing,
        which: Thing::Places(places.to_vec()),
        to: Tight::Final,
        value: None,
    });
}

fn again(b: &Bench) -> Vec<(Slip, Vec<u16>)> {
    let list = touch_again(&b.book, Pace::default());
    list.into_iter().map(|it| (it.why, it.places)).collect()
}

#[test]
fn at_a_sound_pace_and_in_order_nothing_is_asked() {
    let (mut b, fixing) = six();
    for place in 0..6 {
        tighten(&mut b, fixing, &[place], 5_000);
    }
    assert_eq!(again(&b), vec![]);
}

#[test]
fn all_in_one_tap_is_touched_again() {
    let (mut b, fixing) = six();
    tighten(&mut b, fixing, &[0, 1, 2, 3, 4, 5], HOUR);
    assert_eq!(again(&b), vec![(Slip::Bulk, vec![0, 1, 2, 3, 4, 5])]);
    b.record(Act::Touched {
        what: Target::Fixing(fixing),
        places: vec![0, 1, 2, 3],
        sure: true,
    });
    assert_eq!(again(&b), vec![(Slip::Bulk, vec![4, 5])]);
    b.record(Act::Touched {
        what: Target::Fixing(fixing),
        places: vec![4],
        sure: false,
    });
    assert_eq!(again(&b), vec![(Slip::Bulk, vec![5])], "4 is doubtful now");
    by(&mut b, "Bo");
    b.ok(Command::Check {
        what: Target::Fixing(fixing),
    });
    assert_eq!(again(&b), vec![]);
}

#[test]
fn faster_than_a_hand_and_out_of_order() {
    let (mut b, fixing) = six();
    tighten(&mut b, fixing, &[0], 5_000);
    tighten(&mut b, fixing, &[1], 700);
    // 4 before 3.
    tighten(&mut b, fixing, &[3], 5_000);
    tighten(&mut b, fixing, &[2], 5_000);
    assert_eq!(
        again(&b),
        vec![(Slip::TooFast, vec![1]), (Slip::OutOfOrder, vec![3])]
    );
    // What is struck was never said.
    b.ok(Command::StrikeLast);
    b.ok(Command::StrikeLast);
    assert_eq!(again(&b), vec![(Slip::TooFast, vec![1])]);
}

#[test]
fn what_lives_hang_on_comes_first() {
    let mut b = Bench::default();
    let mut parts = Vec::new();
    for (name, safety) in [("cover", false), ("brake caliper", true)] {
        let mut off = take_off(name);
        let mut draft = FixingDraft::new(spec("bolt | thread=M8 x 1.25"), 4);
        draft.detail.safety = safety;
        off.fixings.push(draft);
        parts.push(b.take_off(off));
    }
    for &part in &parts {
        b.place(part);
        b.fasten(part);
    }
    let list = touch_again(&b.book, Pace::default());
    assert_eq!(list.len(), 2);
    assert!(list[0].safety && list[0].what == Target::Fixing(b.fixing(parts[1], 0)));
}

/// Eight fixings of one bolt each are gone through by one hand as eight bolts of
/// one fixing are; another hand has its own pace.
#[test]
fn how_fast_goes_by_the_hand_and_not_by_the_fixing() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[("bolt | thread=M6 x 1", 1); 8]);
    b.place(cover);
    let fixings = b.job().parts.get(cover).unwrap().fixings.clone();
    for &fixing in &fixings {
        b.ok(Command::Start {
            fixing,
            which: Thing::All,
            line: None,
            anyway: false,
        });
    }
    b.ctx.now += HOUR;
    let at_pace = |b: &Bench, ms: i64, names: &[&str]| {
        let mut b = b.clone();
        for (n, &fixing) in fixings.iter().enumerate() {
            by(&mut b, names[n % names.len()]);
            tighten(&mut b, fixing, &[0], ms);
        }
        let asked: Vec<Target> = touch_again(&b.book, Pace::default())
            .into_iter()
            .filter(|it| it.why == Slip::TooFast)
            .map(|it| it.what)
            .collect();
        asked
    };
    let all: Vec<Target> = fixings.iter().map(|&id| Target::Fixing(id)).collect();
    assert_eq!(at_pace(&b, 1_000, &["Ann"]), all[1..]);
    assert_eq!(at_pace(&b, 5_000, &["Ann"]), []);
    // Two who work side by side, each at four seconds a bolt.
    assert_eq!(at_pace(&b, 2_000, &["Ann"]), all[1..]);
    assert_eq!(at_pace(&b, 2_000, &["Ann", "Bo"]), []);
}

/// A click on one plug follows its push at once; plug upon plug does not.
#[test]
fn ends_made_fast_faster_than_a_hand_can_are_touched_again() {
    let mut b = Bench::default();
    let plugs: Vec<EndId> = ["left plug", "middle plug", "right plug"]
        .map(|name| {
            let a = end(None, "sensor", true);
            side(
                b.connection(name, a, end(None, "loom", false), &[]),
                Side::A,
            )
        })
        .to_vec();
    let join = |b: &mut Bench, end: EndId, after_ms: i64| {
        b.ctx.now += after_ms - MINUTE;
        b.ok(Command::Rejoin {
            end,
            seat: end,
            anyway: false,
        });
        b.ctx.now += 500 - MINUTE;
        b.record(Act::EndSecured { end });
    };
    for (n, &plug) in plugs.iter().enumerate() {
        join(&mut b, plug, if n == 1 { 700 } else { 5_000 });
    }
    let asked = |b: &Bench| -> Vec<Target> {
        let list = touch_again(&b.book, Pace::default());
        list.into_iter().map(|it| it.what).collect()
    };
    assert_eq!(asked(&b), [Target::End(plugs[1])]);
    let row = view::again_rows(&b.book, None).remove(0);
    b.record(row.answer(Vec::new(), true));
    assert_eq!(asked(&b), []);
}

/// What a lid would put out of sight is touched before, and said on its page.
#[test]
fn what_was_ticked_is_told_on_the_page_of_what_hides_it() {
    let mut b = Bench::default();
    let lid = b.part("lid", &[("bolt", 2)]);
    let mut off = take_off("pump");
    off.part.after = vec![Need {
        first: Target::Part(lid),
        why: Why::Hides,
    }];
    off.fixings
        .push(FixingDraft::new(spec("bolt | thread=M6 x 1"), 6));
    let pump = b.take_off(off);
    let bolts = b.fixing(pump, 0);
    b.place(pump);
    b.fasten(pump);
    let rows = view::again_rows(&b.book, Some(lid));
    assert_eq!(rows.len(), 1);
    assert_eq!(rows[0].what, Target::Fixing(bolts));
    assert!(rows[0].under && rows[0].places.len() == 6);
    assert!(!view::again_rows(&b.book, Some(pump))[0].under);
    b.record(rows[0].answer((0..6).collect(), true));
    assert_eq!(view::again_rows(&b.book, Some(lid)), []);
    // Once it is on, they are out of its sight.
    b.ok(Command::StrikeLast);
    b.place(lid);
    assert_eq!(view::again_rows(&b.book, Some(lid)), []);
}

/// Where lives hang on it, the work stands under a name.
#[test]
fn what_lives_hang_on_is_tightened_under_a_name() {
    let mut b = Bench::default();
    by(&mut b, "");
    let caliper = b.part("caliper", &[("bolt | thread=M12 x 1.5", 2)]);
    let fixing = b.fixing(caliper, 0);
    assert!(b.job().fixings.get(fixing).unwrap().detail.safety);
    let tight = started(&mut b, caliper, fixing);
    assert_eq!(b.refused(tight.clone()), Refusal::NameMissing(Kind::Name));
    by(&mut b, "Ann");
    b.ok(tight);
}

/// What was done without a name and marked afterwards is looked at by nobody: it
/// may have been the same hands.
#[test]
fn work_without_a_name_has_no_second_person() {
    let mut b = Bench::default();
    by(&mut b, "");
    let cover = b.part("cover", &[("bolt | thread=M6 x 1", 2)]);
    let fixing = b.fixing(cover, 0);
    let what = Target::Fixing(fixing);
    let tight = started(&mut b, cover, fixing);
    b.ok(tight);
    b.record(Act::SecondLookSet { what, owed: true });
    by(&mut b, "Bo");
    assert_eq!(
        b.refused(Command::Check { what }),
        Refusal::SameName {
            name: String::new()
        }
    );
}

/// The part placed, its bolts in by hand, and what makes them final.
fn started(b: &mut Bench, part: PartId, fixing: FixingId) -> Command {
    b.place(part);
    b.ok(Command::Start {
        fixing,
        which: Thing::All,
        line: None,
        anyway: false,
    });
    Command::Tighten {
        fixing,
        which: Thing::All,
        to: Tight::Final,
        value: None,
    }
}
