//! Way in before the first bolt and after it, for parts, connections and
//! openings, and the minutes it tells. Invented scenarios.
use std::collections::BTreeSet;

use countback_checks::bench::*;
use countback_checks::random_graphs::Seeded;
use countback_core::access::ways::{EXACT_UP_TO, Measure};
use countback_core::access::{Asking, AtWork, Costs, Goal, Laid, Pace};
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::procedure::{
    PlannedPart, Procedure, procedure_from_job, procedure_from_json, procedure_to_json,
};
use countback_core::view::{self, At};
use countback_core::words::Style;

fn at() -> At {
    At {
        now: START,
        open_since: 0,
        style: Style::default(),
    }
}

fn behind(first: PartId) -> Need {
    Need {
        first: Target::Part(first),
        why: Why::BlocksReach,
    }
}

/// Drained through a hatch instead, the pump is the lesser work; the hose on it
/// as well, and a job like it says so before the first bolt.
#[test]
fn a_procedure_with_two_ways_tells_the_lesser_before_the_first_bolt() {
    let mut b = Bench::default();
    let guard = b.part("guard", &[("bolt | thread=M6 x 1", 4)]);
    let belt = b.part_after("belt", &[], &[Target::Part(guard)]);
    let hatch = b.part("hatch", &[("bolt | thread=M6 x 1", 2)]);
    let pump = b.part_after(
        "pump",
        &[("bolt | thread=M8 x 1.25", 3)],
        &[Target::Part(belt)],
    );
    let hose = b.connection(
        "bottom hose",
        end(Some(pump), "pump", true),
        end(None, "cooler", false),
        &[Target::Part(belt)],
    );
    for what in [Target::Part(pump), Target::Connection(hose)] {
        b.record(Act::WayNoted {
            what,
            needs: vec![behind(hatch)],
        });
    }
    let file = procedure_to_json(&procedure_from_job(b.job()));
    let procedure = procedure_from_json(&file).unwrap();
    let planned = procedure.parts.iter().find(|p| p.key == "pump").unwrap();
    assert_eq!(planned.after, ["belt"]);
    assert_eq!(planned.ways, [["hatch"]]);

    let mut new = Bench::default();
    new.record(Act::ProcedureAttached(procedure));
    let rows = |b: &Bench| -> Vec<(String, Goal)> {
        let groups = view::way_in_page(&b.book, at()).into_iter();
        let rows = groups.flat_map(|g| g.rows);
        rows.map(|r| (r.name, r.goal)).collect()
    };
    let ask = |b: &Bench, name: &str| {
        let all = rows(b);
        let (_, goal) = all.iter().find(|(of, _)| of == name).unwrap();
        let told = view::way_answer(&b.book, *goal, false, &b.at_work()).unwrap();
        let steps = told.steps.iter().map(|s| s.name.clone());
        let others = told.others.iter().map(|o| o.by.clone());
        (
            steps.collect::<Vec<_>>().join(", "),
            others.collect::<Vec<_>>().join(", "),
        )
    };
    let lesser = ("hatch".to_owned(), "or guard and belt".to_owned());
    assert_eq!(ask(&new, "pump"), lesser);
    assert_eq!(ask(&new, "bottom hose"), lesser);
    // With the guard and the belt off, nothing more has to come off.
    let off = |b: &mut Bench, key: &str| {
        let mut it = take_off(key);
        it.part.planned = Some(key.to_owned());
        b.take_off(it);
    };
    off(&mut new, "guard");
    off(&mut new, "belt");
    assert_eq!(ask(&new, "pump").0, "");
    // What came off for it keeps the other way in mind.
    off(&mut new, "pump");
    let pump = new.job().parts.iter().find(|(_, p)| p.name == "pump");
    let pump = Goal::Thing(Target::Part(pump.unwrap().0));
    let asking = Asking::of(&new.book, &new.at_work());
    assert_eq!(asking.each(pump, Measure::Acts).len(), 2);
}

#[test]
fn other_ways_to_a_hose_and_an_opening_are_noted_and_told() {
    let mut b = Bench::default();
    let shield = b.part("shield", &[("bolt | thread=M6 x 1", 5)]);
    let tray = b.part_after("tray", &[], &[Target::Part(shield)]);
    let flap = b.part("flap", &[("screw | thread=M5 x 0.8", 1)]);
    let hose = b.connection(
        "drain hose",
        end(None, "sump", true),
        end(None, "bowl", false),
        &[Target::Part(tray)],
    );
    let sump = b.record(Act::OpeningMade {
        name: "sump".to_owned(),
        on: None,
        shut_by: Some(tray),
    });
    b.join(side(hose, Side::A));
    let hose = Target::Connection(hose);
    let sump = Target::Opening(OpeningId(sump.thing(0)));
    for part in [flap, tray, shield] {
        b.place(part);
        b.fasten(part);
    }
    let before = view::put_back_page(&b.book, at(), &b.at_work());
    for what in [hose, sump] {
        let ask =
            |b: &Bench| view::way_answer(&b.book, Goal::Thing(what), false, &b.at_work()).unwrap();
        let steps = |b: &Bench| -> Vec<String> {
            let told = ask(b).steps.into_iter();
            told.map(|s| s.name).collect()
        };
        assert_eq!(steps(&b), ["shield", "tray"]);
        let told = ask(&b);
        assert_eq!(told.noted_of, Some(what));
        assert!(!told.but.is_empty());
        assert!(told.over.iter().any(|(id, _)| *id == flap));
        b.ok(Command::Record(Act::WayNoted {
            what,
            needs: vec![behind(flap)],
        }));
        assert_eq!(steps(&b), ["flap"]);
        assert_eq!(ask(&b).others[0].by, "or shield and tray");
    }
    // On the way back the recorded way stays what counts.
    assert_eq!(view::put_back_page(&b.book, at(), &b.at_work()), before);
}

/// The plug is behind the bracket, which is back; the cover goes over that.
#[test]
fn the_price_is_of_the_debt_and_not_of_the_part_that_hides_it() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[("bolt | thread=M6 x 1", 6)]);
    let bracket = b.part_after(
        "bracket",
        &[("bolt | thread=M8 x 1.25", 3)],
        &[Target::Part(cover)],
    );
    let plug = b.connection(
        "speed sensor plug",
        end(None, "sensor", true),
        end(None, "loom", false),
        &[Target::Part(bracket)],
    );
    let near = b.connection(
        "breather",
        end(None, "case", true),
        end(None, "box", false),
        &[Target::Part(cover)],
    );
    b.ok(Command::PlacePart {
        part: bracket,
        anyway: true,
    });
    b.fasten(bracket);
    let hides = view::hides(&b.book, cover, &b.at_work());
    let of = |connection: ConnectionId| {
        let mut rows = hides.owed.iter();
        let row = rows.find(|r| {
            r.what == Target::Connection(connection)
                || r.what == Target::End(side(connection, Side::A))
        });
        row.unwrap().cost.clone()
    };
    assert!(
        of(plug).starts_with("2 parts, 9 fasteners, about"),
        "{}",
        of(plug)
    );
    assert!(
        of(near).starts_with("1 part, 6 fasteners, about"),
        "{}",
        of(near)
    );
    // The warning says the dearest.
    assert!(hides.cost.starts_with(&of(plug)), "{}", hides.cost);
}

#[test]
fn a_hose_in_the_way_takes_its_two_minutes() {
    let mut b = Bench::default();
    let hose = b.connection(
        "duct hose",
        end(None, "duct", true),
        end(None, "box", false),
        &[],
    );
    let duct = b.part_after("duct", &[], &[Target::End(side(hose, Side::A))]);
    let plug = b.connection(
        "plug",
        end(None, "sensor", true),
        end(None, "loom", false),
        &[Target::Part(duct)],
    );
    let price = |b: &Bench| {
        let costs = Costs::of(&b.book, &b.at_work());
        costs.once_on(Target::Connection(plug), duct)
    };
    b.ok(Command::PlacePart {
        part: duct,
        anyway: true,
    });
    let open = price(&b);
    b.join(side(hose, Side::A));
    let joined = price(&b);
    assert_eq!((open.parts, joined.parts), (1, 1));
    assert_eq!(joined.minutes, open.minutes + 2);
}

#[test]
fn before_the_first_bolt_the_minutes_go_by_this_persons_other_jobs() {
    let mut old = Bench::default();
    for n in 0..4 {
        // Ten minutes each.
        old.ctx.now += 9 * MINUTE;
        old.part(&format!("part {n}"), &[("bolt | thread=M8 x 1.25", 2)]);
    }
    let like_those = procedure_from_job(old.job());
    let planned = |name: &str, after: &[&str]| PlannedPart {
        key: name.to_owned(),
        name: name.to_owned(),
        after: after.iter().map(|&a| a.to_owned()).collect(),
        fixings: like_those.parts[0].fixings.clone(),
        ..PlannedPart::default()
    };
    let mut new = Bench::default();
    new.record(Act::ProcedureAttached(Procedure {
        parts: vec![planned("guard", &[]), planned("pump", &["guard"])],
        ..Procedure::default()
    }));
    let told = |work: &AtWork| {
        let told = view::way_answer(&new.book, Goal::Planned(1), true, work).unwrap();
        (told.steps[0].note.clone(), told.note)
    };
    let ann = old.ctx.by.clone();
    let (bare, why) = told(&AtWork::named(&ann));
    assert_eq!(bare, "about 2 minutes");
    assert!(why.contains("does not tell yet"), "{why}");
    let work = AtWork::told_by(&ann, [&old.book]);
    let (step, why) = told(&work);
    assert_eq!(step, "about 10 minutes");
    assert!(why.contains("at your own pace"), "{why}");
    // Another person's times are not theirs, whoever made the last entry.
    assert_eq!(AtWork::told_by("Ben", [&old.book]), AtWork::named("Ben"));
    old.ctx.by = "Ben".to_owned();
    old.record(Act::NoteAdded {
        on: Target::Job,
        text: "went on with it".to_owned(),
    });
    assert!(Pace::of(&old.book, &AtWork::named(&ann)).learned());
    assert!(!Pace::of(&old.book, &AtWork::named("Ben")).learned());
}

/// 60 parts held by 180 fasteners, some only once a bolt or a hose was undone,
/// and other ways noted to most of them.
fn sixty_parts(seed: u64) -> (Bench, PartId) {
    let mut seeded = Seeded::new(seed);
    let mut b = Bench::default();
    let mut parts: Vec<PartId> = Vec::new();
    let mut hoses: Vec<EndId> = Vec::new();
    let mut small: Vec<Target> = Vec::new();
    for n in 0..60 {
        let mut after: Vec<Target> = Vec::new();
        if n > 0 {
            for _ in 0..1 + seeded.below(2) {
                after.push(Target::Part(parts[n - 1 - seeded.below(n.min(8))]));
            }
        }
        if n % 12 < 5 {
            let hose = b.connection(
                &format!("hose {n}"),
                end(None, "here", true),
                end(None, "there", false),
                &after,
            );
            hoses.push(side(hose, Side::A));
            small.push(Target::Connection(hose));
        }
        if !small.is_empty() {
            after.push(small[small.len() - 1 - seeded.below(small.len().min(6))]);
        }
        let bolts = ("bolt | thread=M6 x 1", 1 + (n % 5) as u16);
        let part = b.part_after(&format!("part {n}"), &[bolts], &after);
        parts.push(part);
        if n % 3 == 0 {
            small.push(Target::Fixing(b.fixing(part, 0)));
        }
    }
    let held: u32 = b.job().fixings.rows().map(|f| f.places.len() as u32).sum();
    assert_eq!((parts.len(), hoses.len(), held), (60, 25, 180));
    for &part in parts.iter().skip(8) {
        for _ in 0..seeded.below(3) {
            let over = (0..1 + seeded.below(3)).map(|_| parts[seeded.below(60)]);
            let needs = over.filter(|&p| p != part).map(behind).collect();
            let what = Target::Part(part);
            b.record(Act::WayNoted { what, needs });
        }
    }
    for &part in parts.iter().rev() {
        b.ok(Command::PlacePart { part, anyway: true });
        b.fasten_what_fits(part);
    }
    for &end in &hoses {
        // Some are behind what is back: this machine is built on paper.
        let what = Target::End(end);
        let reason = "on paper".to_owned();
        let _ = b.tell(Command::Reached { what, reason });
        b.ok(Command::Rejoin {
            end,
            seat: end,
            anyway: true,
        });
        b.record(Act::EndSecured { end });
    }
    (b, parts[59])
}

#[test]
fn a_job_of_sixty_parts_is_answered_exactly_with_its_hoses_and_bolts() {
    let mut beyond = 0;
    for seed in 0..8 {
        let (b, deepest) = sixty_parts(seed);
        let goal = Goal::Thing(Target::Part(deepest));
        for by_minutes in [false, true] {
            let told = view::way_answer(&b.book, goal, by_minutes, &b.at_work()).unwrap();
            assert!(!told.steps.is_empty());
            assert!(!told.note.contains("There may be less"), "{}", told.note);
        }
        // Searched to the end whatever effort it may take, though more than
        // sixty things are on the ways.
        let laid = Laid::of(b.job());
        let (ways, target) = (laid.ways(None), laid.node(goal).unwrap());
        let asked = ways.least_work_within(target, &laid.off(), &[], Measure::Acts, 0);
        assert!(asked.unwrap().exact, "seed {seed}");
        let mut on_the_ways = BTreeSet::new();
        let mut open = vec![target];
        while let Some(node) = open.pop() {
            if on_the_ways.insert(node) {
                open.extend(ways.ways_to(node).into_iter().flatten());
            }
        }
        beyond += usize::from(on_the_ways.len() > EXACT_UP_TO + 1);
    }
    assert!(beyond >= 6, "only {beyond} are beyond sixty things");
}
