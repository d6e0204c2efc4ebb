//! The order of going back, the way in and the cost of a miss, on whole jobs
//! and as the screens are told them. Invented scenarios.
use std::collections::BTreeSet;

use countback_checks::bench::*;
use countback_checks::dice::Dice;
use countback_checks::whole_job::{Draw, strip};
use countback_core::access::{self, Costs, Goal, Handy, Pace, Stand, Wait};
use countback_core::audit::Rule;
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::procedure::{PlannedPart, Procedure};
use countback_core::view::{self, At, NodeState};
use countback_core::words::{self, Style};

fn at() -> At {
    At {
        now: START,
        open_since: 0,
        style: Style::default(),
    }
}

fn handy(b: &Bench) -> Handy {
    let back = access::back(b.job());
    access::handy(b.job(), &back, &Pace::of(&b.book, &b.at_work()))
}

/// A part held from somewhere with some tool.
fn held(b: &mut Bench, name: &str, way: Option<WayIn>, tool: &str, after: &[PartId]) -> PartId {
    let mut off = take_off(name);
    off.part.after = after.iter().map(|&p| behind(p)).collect();
    let mut draft = FixingDraft::new(spec("bolt | thread=M8 x 1.25"), 2);
    draft.detail.way = way;
    draft.detail.tool = tool.to_owned();
    off.fixings.push(draft);
    b.take_off(off)
}

fn behind(first: PartId) -> Need {
    Need {
        first: Target::Part(first),
        why: Why::BlocksReach,
    }
}

fn place(part: PartId) -> Command {
    Command::PlacePart {
        part,
        anyway: false,
    }
}

/// The sensor's plug could be parted only once the alternator was off.
fn plug_behind_alternator() -> (Bench, PartId, EndId) {
    let mut b = Bench::default();
    let alternator = b.part("alternator", &[("bolt | thread=M8 x 1.25", 2)]);
    let plug = b.connection(
        "crank sensor plug",
        end(None, "sensor", true),
        end(None, "loom", false),
        &[Target::Part(alternator)],
    );
    (b, alternator, side(plug, Side::A))
}

#[test]
fn the_plug_behind_the_alternator_is_listed_first_and_stops_it() {
    let (mut b, alternator, plug) = plug_behind_alternator();
    let page = view::put_back_page(&b.book, at(), &b.at_work());
    let now: Vec<Target> = page
        .now
        .iter()
        .flat_map(|g| &g.rows)
        .map(|r| r.what)
        .collect();
    assert_eq!(now, [Target::End(plug)]);
    assert_eq!(page.next.map(|r| r.what), Some(Target::End(plug)));
    assert_eq!(page.blocked[0].what, Target::Part(alternator));
    let Refusal::WouldBury { part, owed } = b.refused(place(alternator)) else {
        panic!("not stopped by what it would bury");
    };
    assert_eq!(part, alternator);
    assert_eq!(owed, [Target::Connection(plug.connection)]);
    // The price that is said before it is done all the same: the alternator
    // and its two bolts; a minute off by the log, two back by guess.
    let cost = view::hides(&b.book, alternator, &b.at_work()).cost;
    assert!(
        cost.starts_with("1 part, 2 fasteners, about 3 minutes."),
        "{cost}"
    );
    b.join(plug);
    assert_eq!(handy(&b).order, [Target::Part(alternator)]);
    b.ok(place(alternator));
}

#[test]
fn a_missing_washer_holds_up_its_joint_and_what_lies_over_it_and_nothing_else() {
    let mut b = Bench::default();
    let tank = b.part("tank", &[("bolt | thread=M6 x 1", 2)]);
    let mut off = take_off("oil feed");
    off.part.after = vec![behind(tank)];
    let mut banjo = FixingDraft::new(spec("bolt | thread=M10 x 1"), 1);
    banjo.union = true;
    off.fixings.push(banjo);
    let feed = b.take_off(off);
    let guard = b.part("chain guard", &[("bolt | thread=M6 x 1", 2)]);
    let washers = b.job().items.ids().next().unwrap();
    let want = Want::Item(washers);
    assert_eq!(b.job().items.get(washers).unwrap().to_buy(), 2);

    let it = handy(&b);
    assert_eq!(it.held.len(), 1, "{:?}", it.held);
    assert_eq!(it.held[0].by, Some(Wait::Delivery(want)));
    let held: BTreeSet<Target> = it.held[0].acts.iter().copied().collect();
    assert_eq!(
        held,
        BTreeSet::from([Target::Part(feed), Target::Part(tank)])
    );
    assert!(it.order.contains(&Target::Part(guard)));
    assert!(!it.order.contains(&Target::Part(tank)));
    let page = view::put_back_page(&b.book, at(), &b.at_work());
    assert!(
        page.held[0].note.starts_with("holds up 2 acts, about"),
        "{}",
        page.held[0].note
    );
    assert!(page.blocked.iter().any(|r| r.what == Target::Part(tank)));

    // They come, by the button of that line, and nothing is held up.
    b.ok(page.held[0].arrived.clone().unwrap());
    assert_eq!(handy(&b).held, []);
    let order = handy(&b).order;
    let at = |p: PartId| order.iter().position(|&w| w == Target::Part(p)).unwrap();
    assert!(at(feed) < at(tank));

    // Old ones put in again stay a temporary.
    b.place(feed);
    b.ok(Command::FitItem {
        item: washers,
        n: 2,
        old: true,
    });
    assert!(b.audit().has(Rule::OldItemIn));
}

#[test]
fn the_delivery_that_holds_up_most_is_listed_first() {
    let mut b = Bench::default();
    let over: Vec<PartId> = (0..3)
        .map(|n| b.part(&format!("cover {n}"), &[("bolt | thread=M6 x 1", 4)]))
        .collect();
    let gasket = |b: &mut Bench, name: &str, after: &[PartId]| {
        let mut off = take_off(name);
        off.part.after = after.iter().map(|&p| behind(p)).collect();
        off.items.push(ItemDraft {
            kind: ItemKind::Gasket,
            name: format!("gasket of the {name}"),
            size: String::new(),
            count: 1,
        });
        b.take_off(off)
    };
    let small = gasket(&mut b, "lid", &[]);
    let large = gasket(&mut b, "pump", &over);
    let held = handy(&b).held;
    let acts: Vec<usize> = held.iter().map(|h| h.acts.len()).collect();
    assert_eq!(acts, [4, 1]);
    assert!(held[0].acts.contains(&Target::Part(large)));
    assert_eq!(held[1].acts, [Target::Part(small)]);
    assert_eq!(handy(&b).order, []);
}

#[test]
fn what_is_reached_from_below_is_done_in_one_go() {
    let mut b = Bench::default();
    // Nine parts, every other one from below, as they came off.
    for n in 0..9 {
        let way = if n % 2 == 1 {
            WayIn::Below
        } else {
            WayIn::Above
        };
        held(&mut b, &format!("part {n}"), Some(way), "13 mm socket", &[]);
    }
    let it = handy(&b);
    let mut runs: Vec<(Option<WayIn>, usize)> =
        it.runs.iter().map(|r| (r.way, r.acts.len())).collect();
    runs.sort_unstable();
    assert_eq!(runs, [(Some(WayIn::Above), 5), (Some(WayIn::Below), 4)]);
    assert_eq!((it.position_changes, it.tool_changes), (1, 0));
    assert_eq!(it.plain_changes, (8, 0));
    assert!(it.exact);
    let mut titles: Vec<String> = view::put_back_page(&b.book, at(), &b.at_work())
        .now
        .iter()
        .map(|g| g.title.clone())
        .collect();
    titles.sort_unstable();
    assert_eq!(titles, ["From above: 5 acts", "From below: 4 acts"]);
}

#[test]
fn a_part_held_from_two_sides_counts_both() {
    let mut b = Bench::default();
    let (below, above) = (Some(WayIn::Below), Some(WayIn::Above));
    let mut off = take_off("gearbox mount");
    for (way, tool) in [(above, "13 mm socket"), (below, "17 mm spanner")] {
        let mut draft = FixingDraft::new(spec("bolt | thread=M10 x 1.5"), 2);
        draft.detail.way = way;
        draft.detail.tool = tool.to_owned();
        off.fixings.push(draft);
    }
    let mount = b.take_off(off);
    let it = handy(&b);
    assert_eq!((it.position_changes, it.tool_changes), (1, 1));
    // What else is below is done on the same trip, and what is above first.
    let tray = held(&mut b, "tray", below, "17 mm spanner", &[]);
    let cover = held(&mut b, "cover", above, "13 mm socket", &[]);
    let it = handy(&b);
    assert_eq!((it.position_changes, it.tool_changes), (1, 1));
    assert!(it.exact);
    let order = [cover, mount, tray].map(Target::Part);
    let round = [tray, mount, cover].map(Target::Part);
    assert!(it.order == order || it.order == round, "{:?}", it.order);
    // Where half of it is fast, only the other half counts.
    b.place(mount);
    let fixing = b.fixing(mount, 0);
    for command in [
        Command::Start {
            fixing,
            which: Thing::All,
            line: None,
            anyway: false,
        },
        Command::Tighten {
            fixing,
            which: Thing::All,
            to: Tight::Final,
            value: None,
        },
    ] {
        b.ok(command);
    }
    let it = handy(&b);
    assert_eq!(it.order[0], Target::Part(cover));
    assert_eq!((it.position_changes, it.tool_changes), (1, 1));
}

#[test]
fn it_goes_under_again_only_where_access_asks_for_it_and_starts_where_the_person_is() {
    let mut b = Bench::default();
    let (below, above) = (Some(WayIn::Below), Some(WayIn::Above));
    let outer = held(&mut b, "shield", below, "", &[]);
    let middle = held(&mut b, "bracket", above, "", &[outer]);
    let inner = held(&mut b, "pump", below, "", &[middle]);
    let free = held(&mut b, "cover", above, "", &[]);
    let order =
        |parts: &[PartId]| -> Vec<Target> { parts.iter().map(|&p| Target::Part(p)).collect() };
    let it = handy(&b);
    assert_eq!(it.position_changes, 2);
    assert_eq!(it.order[0], Target::Part(inner));
    // Whoever has just worked from above does what is left there first.
    let extra = held(&mut b, "clip plate", above, "", &[]);
    b.place(free);
    b.fasten(free);
    let it = handy(&b);
    assert_eq!(it.order, order(&[extra, inner, middle, outer]));
    assert_eq!(it.position_changes, 3);
}

#[test]
fn the_arm_waits_for_the_hose_behind_it_and_says_its_route() {
    let mut b = Bench::default();
    let arm = b.part("support arm", &[("bolt | thread=M8 x 1.25", 2)]);
    let id = b.record(Act::ConnectionLogged(Box::new(ConnectionLogged {
        kind: ConnectionKind::Hose,
        name: "fuel return hose".to_owned(),
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
    let refusal = b.refused(place(arm));
    let said = words::refusal(b.job(), &refusal, Style::default());
    let named = "fuel return hose (behind support arm)";
    assert!(said.contains(named), "{said}");
    let page = view::put_back_page(&b.book, at(), &b.at_work());
    assert_eq!(page.blocked[0].note, format!("first: {named}"));
    let ends = [side(hose, Side::A), side(hose, Side::B)].map(Target::End);
    assert_eq!(handy(&b).order[..2], ends);
    assert_eq!(handy(&b).order[2], Target::Part(arm));
}

/// Whatever the job: the handy order is allowed, has nothing in it that waits,
/// and is never worse than the last off first.
#[test]
fn the_handy_order_is_allowed_and_never_worse_than_the_plain_one() {
    let ways = [WayIn::Above, WayIn::Below, WayIn::WheelOff];
    for seed in 0..150 {
        let mut dice = Dice::new(seed);
        let parts = dice.from_to(1, 30);
        let draw = Draw {
            parts,
            made_safe: true,
            late: false,
            ways: seed % 2 == 1,
        };
        let mut b = strip(&mut dice, draw);
        let fixings: Vec<FixingId> = b.job().fixings.ids().collect();
        for fixing in fixings {
            let mut detail = b.job().fixings.get(fixing).unwrap().detail.clone();
            detail.way = dice.pick(&ways).copied();
            detail.tool = format!("tool {}", dice.below(3));
            let _ = b.tell(Command::Record(Act::FixingDescribed { fixing, detail }));
        }
        let back = access::back(b.job());
        let it = handy(&b);
        let worth = |(positions, tools): (usize, usize)| 4 * positions + tools;
        assert!(
            worth((it.position_changes, it.tool_changes)) <= worth(it.plain_changes),
            "{seed}: {it:?}"
        );
        let mut done: BTreeSet<Target> = BTreeSet::new();
        for &what in &it.order {
            match back.stand_of(what).unwrap() {
                Stand::Now => {}
                Stand::Waiting(waits) => panic!("{seed}: {what:?} waits for {waits:?}"),
                Stand::Blocked(by) => {
                    for first in by {
                        let settled_by_then = match first {
                            Target::Connection(id) => [Side::A, Side::B].iter().all(|&side| {
                                let end = Target::End(EndId {
                                    connection: *id,
                                    side,
                                });
                                back.stand_of(end).is_none() || done.contains(&end)
                            }),
                            Target::Fixing(id) => b
                                .job()
                                .fixings
                                .get(*id)
                                .unwrap()
                                .parts
                                .iter()
                                .any(|p| done.contains(&Target::Part(*p))),
                            // What is inside comes out before all else.
                            Target::Inside(_) | Target::Opening(_) => true,
                            other => done.contains(other),
                        };
                        assert!(settled_by_then, "{seed}: {what:?} before {first:?}");
                    }
                }
            }
            done.insert(what);
        }
        let runs: usize = it.runs.iter().map(|r| r.acts.len()).sum();
        assert_eq!(runs, it.order.len());
        // All that may be done now is offered.
        let looks: Vec<Target> = it
            .held
            .iter()
            .filter(|h| h.by.is_none())
            .flat_map(|h| h.acts.iter().copied())
            .collect();
        for act in back.now().filter(|a| !looks.contains(&a.what)) {
            assert!(it.order.contains(&act.what), "{seed}: {act:?} is left out");
        }
    }
}

/// By parts the many bolts of one are less than the few of two; a fixing that
/// holds two parts is undone once.
#[test]
fn the_way_in_of_fewest_acts_counts_fasteners_and_ends_and_what_is_shared_once() {
    let mut b = Bench::default();
    let lid = b.part("lid", &[("bolt | thread=M6 x 1", 12)]);
    let left = b.part("left guard", &[]);
    let mut both = FixingDraft::new(spec("nut | thread=M6 x 1"), 3);
    both.also.push(left);
    let mut off = take_off("right guard");
    off.fixings = vec![FixingDraft::new(spec("clip"), 1), both];
    let right = b.take_off(off);
    let five = [("bolt | thread=M6 x 1", 5)];
    let deep = b.part_after("filter", &five, &[Target::Part(lid)]);
    b.ok(Command::Record(Act::WayNoted {
        what: Target::Part(deep),
        needs: vec![behind(left), behind(right)],
    }));
    for both in [[deep, lid], [left, right]] {
        b.place(both[0]);
        if both[0] == deep {
            b.fasten(deep);
        }
        b.place(both[1]);
        b.fasten(both[1]);
    }
    let told = |goal| view::way_answer(&b.book, goal, false, &b.at_work()).unwrap();
    // Three nuts, two parts and a clip against a part with twelve bolts.
    let to_filter = told(Goal::Thing(Target::Part(deep)));
    assert!(
        to_filter.sum.starts_with("6 acts, about"),
        "{}",
        to_filter.sum
    );
    assert!(
        to_filter.note.starts_with("An act is"),
        "{}",
        to_filter.note
    );
    // Two parts and what holds both.
    assert_eq!(to_filter.steps.len(), 3, "{:?}", to_filter.steps);
    let shared = to_filter
        .steps
        .iter()
        .filter(|s| s.note == "counted with what it holds");
    assert_eq!(shared.count(), 1, "{:?}", to_filter.steps);
    assert!(
        to_filter.others[0].sum.starts_with("13 acts, about"),
        "{}",
        to_filter.others[0].sum
    );
    // What holds the thing itself comes after it is got at.
    assert!(told(Goal::Thing(Target::Part(left))).steps.is_empty());
}

#[test]
fn the_least_way_in_is_found_with_the_other_way_beside_it() {
    let mut b = Bench::default();
    let a = b.part("cowl", &[("bolt | thread=M6 x 1", 6)]);
    let c = b.part("hatch", &[("nut | thread=M6 x 1", 1)]);
    let plate = b.part_after("plate", &[("bolt | thread=M6 x 1", 6)], &[Target::Part(a)]);
    let deep = b.part_after("filter", &[], &[Target::Part(plate)]);
    let all = [deep, plate, c, a];
    for part in all {
        b.place(part);
        b.fasten(part);
    }
    let goal = Goal::Thing(Target::Part(deep));
    let told = view::way_answer(&b.book, goal, false, &b.at_work()).unwrap();
    let names: Vec<&str> = told.steps.iter().map(|s| s.name.as_str()).collect();
    assert_eq!(names, ["cowl", "plate"]);
    assert!(told.others.is_empty());

    b.ok(Command::Record(Act::WayNoted {
        what: Target::Part(deep),
        needs: vec![behind(c)],
    }));
    for by_minutes in [false, true] {
        let told = view::way_answer(&b.book, goal, by_minutes, &b.at_work()).unwrap();
        assert_eq!(told.steps.len(), 1);
        assert_eq!(told.steps[0].name, "hatch");
        // A part and its nut; two parts with six bolts each.
        assert!(told.sum.starts_with("2 acts, about"), "{}", told.sum);
        assert_eq!(told.others.len(), 1);
        assert_eq!(told.others[0].by, "or cowl and plate");
        assert!(told.others[0].sum.starts_with("14 acts, about"));
    }
    // What is off already costs nothing.
    for part in [a, plate] {
        for fixing in b.job().parts.get(part).unwrap().fixings.clone() {
            let places = (0..6).collect();
            b.ok(Command::Record(Act::FastenersUndone {
                fixing,
                places,
                out: true,
                to: Account::Bench,
            }));
        }
        b.ok(Command::TakeOffAgain { part, aside: false });
    }
    let told = view::way_answer(&b.book, goal, false, &b.at_work()).unwrap();
    assert_eq!(told.sum, "Nothing has to come off first.");
}

/// A job of last year on the same machine tells the way in to what it had off,
/// though all of it is on again, with its own minutes.
#[test]
fn before_the_first_bolt_an_earlier_job_on_the_machine_tells_the_way_in() {
    let mut old = Bench::default();
    let guard = old.part("guard", &[]);
    let belt = held(&mut old, "belt", None, "", &[guard]);
    let pump = held(&mut old, "pump", None, "", &[belt]);
    let mut b = Bench::default();
    let machine = |b: &mut Bench, name: &str| {
        let machine = name.to_owned();
        let head = JobHead {
            machine,
            ..head("Water pump")
        };
        b.record(Act::JobDescribed(head));
    };
    machine(&mut old, "Van 3");
    machine(&mut b, "the boat");
    let groups = |b: &Bench| view::earlier_groups(&b.book, &[("old", old.job())]);
    assert_eq!(groups(&b), []);
    machine(&mut b, "van 3 ");
    let rows = |b: &Bench| -> Vec<String> {
        let rows = groups(b).into_iter().flat_map(|g| g.rows);
        rows.map(|r| r.name).collect()
    };
    assert_eq!(rows(&b), ["pump", "belt", "guard"]);
    assert_eq!(groups(&b)[0].title, "From Water pump");
    // Still in pieces over there, and whole here.
    let goal = Goal::Thing(Target::Part(pump));
    let told = view::way_answer_earlier(&old.book, goal, false, &old.at_work()).unwrap();
    let steps: Vec<&str> = told.steps.iter().map(|s| s.name.as_str()).collect();
    assert_eq!((steps, told.noted_of), (vec!["guard", "belt"], None));
    assert!(told.steps[1].note.contains("by your log"), "{told:?}");
    assert!(
        told.note.ends_with("As it came apart in Water pump."),
        "{}",
        told.note
    );
    // What is off here is asked about here.
    b.part("Belt", &[]);
    assert_eq!(rows(&b), ["pump", "guard"]);
}

#[test]
fn before_the_first_bolt_the_procedure_tells_the_way_in() {
    let part = |key: &str, after: &[&str]| PlannedPart {
        key: key.to_owned(),
        name: key.to_owned(),
        after: after.iter().map(|&a| a.to_owned()).collect(),
        ..PlannedPart::default()
    };
    let mut b = Bench::default();
    b.record(Act::ProcedureAttached(Procedure {
        title: "Pump".to_owned(),
        machine: String::new(),
        aim: String::new(),
        safe: Vec::new(),
        parts: vec![
            part("guard", &[]),
            part("belt", &["guard"]),
            part("pump", &["belt"]),
        ],
        fluids: Vec::new(),
        after_run: Vec::new(),
    }));
    let groups = view::way_in_page(&b.book, at());
    assert_eq!(groups[0].title, "From the procedure, still on");
    assert_eq!(groups[0].rows[0].name, "pump");
    let goal = groups[0].rows[0].goal;
    let steps = |b: &Bench| -> Vec<String> {
        let told = view::way_answer(&b.book, goal, false, &b.at_work()).unwrap();
        told.steps.iter().map(|s| s.name.clone()).collect()
    };
    assert_eq!(steps(&b), ["guard", "belt"]);
    let told = view::way_answer(&b.book, goal, false, &b.at_work()).unwrap();
    assert!(told.note.contains("does not tell yet"), "{}", told.note);
    // One of them is off by now.
    let mut guard = take_off("belt guard");
    guard.part.planned = Some("guard".to_owned());
    b.take_off(guard);
    assert_eq!(steps(&b), ["belt"]);
    let page = view::picture_page(&b.book, at());
    let stands: Vec<(&str, NodeState)> = page
        .nodes
        .iter()
        .map(|n| (n.name.as_str(), n.state))
        .collect();
    assert_eq!(
        stands,
        [
            ("belt guard", NodeState::Can),
            ("belt", NodeState::StillOn),
            ("pump", NodeState::StillOn)
        ]
    );
}

#[test]
fn minutes_are_learned_from_the_log_of_whoever_is_at_work() {
    let mut b = Bench::default();
    let mut parts = Vec::new();
    for n in 0..4 {
        // Ten minutes each; the second after a night.
        b.ctx.now += if n == 1 { 9 * HOUR } else { 9 * MINUTE };
        parts.push(b.part(&format!("part {n}"), &[("bolt | thread=M8 x 1.25", 2)]));
    }
    let pace = Pace::of(&b.book, &b.at_work());
    let off: Vec<u32> = (0..4).map(|slot| pace.off(slot)).collect();
    assert_eq!(off, [10, 10, 10, 10]);
    let known: Vec<bool> = (0..4).map(|slot| pace.knows(slot)).collect();
    assert_eq!(known, [true, false, true, true]);
    assert!(pace.learned());
    // Twice the fasteners, so more than ten minutes at that pace.
    assert!(pace.guess(4) > 10);

    // Somebody else's times are not this person's.
    b.ctx.by = "Ben".to_owned();
    b.record(Act::NoteAdded {
        on: Target::Job,
        text: "went on with it".to_owned(),
    });
    let pace = Pace::of(&b.book, &b.at_work());
    assert!(!pace.learned() && !pace.knows(0));
    assert_eq!(pace.off(0), 2);
}

#[test]
fn the_audit_ranks_a_group_by_what_has_to_come_off_again() {
    let mut b = Bench::default();
    let outer = b.part("grille", &[("bolt | thread=M6 x 1", 12)]);
    let near = b.part("lamp", &[("bolt | thread=M6 x 1", 2)]);
    let deep = b.part_after(
        "horn",
        &[("bolt | thread=M6 x 1", 2)],
        &[Target::Part(outer)],
    );
    b.place(deep);
    b.place(near);
    // The grille goes on over the horn, which is not fast.
    b.ok(Command::PlacePart {
        part: outer,
        anyway: true,
    });
    b.fasten(outer);
    let audit = b.audit();
    let costs = Costs::of(&b.book, &b.at_work());
    let of = |part: PartId| {
        let fixing = Target::Fixing(b.fixing(part, 0));
        let owed = audit
            .open
            .iter()
            .find(|o| o.on == fixing && o.rule == Rule::StartFasteners);
        costs.of_owed(owed.unwrap())
    };
    assert!(of(near).none());
    assert_eq!((of(deep).parts, of(deep).fasteners), (1, 12));
    let page = view::audit_page(&b.book, at(), &b.at_work());
    let group = page
        .groups
        .iter()
        .find(|g| g.rows.iter().any(|r| r.key.rule == Rule::StartFasteners));
    let rows = &group.unwrap().rows;
    assert!(rows[0].what.contains("horn"), "{rows:?}");
    assert!(
        rows[0]
            .todo
            .contains("First off again: 1 part, 12 fasteners, about"),
        "{}",
        rows[0].todo
    );
    assert!(!rows[1].todo.contains("off again"), "{}", rows[1].todo);
    let note = page.cost_note.unwrap();
    assert!(
        note.starts_with("Dearest to leave: Behind grille"),
        "{note}"
    );
    let picture = view::picture_page(&b.book, at());
    let grille = picture.nodes.iter().find(|n| n.name == "grille").unwrap();
    assert_eq!(grille.state, NodeState::Hides);
}

#[test]
fn the_picture_shows_every_part_once_the_outermost_on_top() {
    let mut dice = Dice::new(7);
    let b = strip(
        &mut dice,
        Draw {
            parts: 60,
            made_safe: true,
            late: false,
            ways: false,
        },
    );
    let page = view::picture_page(&b.book, at());
    assert_eq!(page.nodes.len(), b.job().parts.len());
    let counted: u32 = page.counts.iter().map(|c| c.1).sum();
    assert_eq!(counted as usize, page.nodes.len());
    let y = |part: PartId| page.nodes.iter().find(|n| n.part == Some(part)).unwrap().y;
    for (id, part) in b.job().parts.iter() {
        for need in &part.after {
            if let Target::Part(first) = need.first {
                assert!(
                    y(first) < y(id),
                    "{} is not above {}",
                    words::name(b.job(), need.first),
                    part.name
                );
            }
        }
    }
}

#[test]
fn what_waits_for_another_persons_look_is_not_proposed_and_holds_up_what_hides_it() {
    let mut b = Bench::default();
    let wheel = b.part("road wheel", &[("nut | thread=M12 x 1.5", 5)]);
    let mut off = take_off("caliper");
    off.part.after = vec![behind(wheel)];
    let mut draft = FixingDraft::new(spec("bolt | thread=M12 x 1.5"), 2);
    draft.detail.safety = true;
    off.fixings.push(draft);
    let caliper = b.take_off(off);
    b.place(caliper);
    assert_eq!(handy(&b).order[0], Target::Part(caliper));
    b.fasten(caliper);
    let it = handy(&b);
    assert_eq!(it.order, []);
    assert_eq!(it.held.len(), 1);
    assert_eq!(it.held[0].by, None);
    assert!(it.held[0].acts.contains(&Target::Part(wheel)));
    let page = view::put_back_page(&b.book, at(), &b.at_work());
    assert_eq!(page.next, None);
    assert_eq!(page.begun[0].what, Target::Part(caliper));
    // Another name looks, and the wheel is next.
    b.ctx.by = "Ben".to_owned();
    b.ok(Command::Check {
        what: Target::Fixing(b.fixing(caliper, 0)),
    });
    assert_eq!(handy(&b).order, [Target::Part(wheel)]);
}

#[test]
fn every_part_of_a_large_job_can_be_named_as_what_came_first() {
    let mut b = Bench::default();
    let first = b.part("bracket", &[]);
    for n in 0..60 {
        let mut off = take_off(if n == 30 { "bracket" } else { "cover" });
        off.part.lies = format!("shelf {n}");
        b.take_off(off);
    }
    let placed = b.part("guard", &[]);
    b.place(placed);
    let chips = countback_core::view::chips(&b.book, &[]);
    assert_eq!(chips.parts_off.len(), 61);
    assert_eq!(chips.parts.len(), 62);
    assert_eq!(chips.parts.last().unwrap().id, placed.to_string());
    // Two of one name are told apart, and the older is found by a few letters.
    let left = countback_core::view::narrowed(&chips.parts_off, "brac");
    let names: Vec<&str> = left.iter().map(|it| it.name.as_str()).collect();
    assert_eq!(names, ["bracket, shelf 30", "bracket, shelf"]);
    assert_eq!(left[1].id, first.to_string());
}
