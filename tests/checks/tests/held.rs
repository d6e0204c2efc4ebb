//! What has to wait for something that is neither a hand nor an earlier part:
//! weight, heat, a repair, a cure, another pair of eyes. Order, handover, picture
//! and permit say the same of it.
#![allow(clippy::unwrap_used)]

use countback_checks::bench::*;
use countback_core::access::{self, Stand, Wait};
use countback_core::audit::{Rule, Verdict};
use countback_core::handover::handover;
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::permit::{Ask, permit};
use countback_core::view::{self, At};
use countback_core::words::Style;

const M12: &str = "bolt | thread=M12 x 1.75 | length=80";

fn at(b: &Bench) -> At {
    At {
        now: b.ctx.now,
        open_since: b.ctx.now,
        style: Style::default(),
    }
}

fn place(part: PartId) -> Command {
    Command::PlacePart {
        part,
        anyway: false,
    }
}

fn stand(b: &Bench, part: PartId) -> Stand {
    let back = access::back_at(b.job(), b.ctx.now);
    back.stand_of(Target::Part(part)).unwrap().clone()
}

fn tighten(b: &mut Bench, fixing: FixingId) -> Result<Vec<Event>, Refusal> {
    b.tell(Command::Tighten {
        fixing,
        which: Thing::All,
        to: Tight::Final,
        value: None,
    })
}

/// An arm that is made final under load or heat, and a plate that goes over it.
fn arm_and_plate(until: Hold) -> (Bench, PartId, PartId, FixingId) {
    let mut b = Bench::default();
    let plate = b.part("plate", &[(M12, 1)]);
    let arm = b.part_after("arm", &[(M12, 2)], &[Target::Part(plate)]);
    let fixing = b.fixing(arm, 0);
    b.ok(place(arm));
    b.record(Act::FinalHeld {
        fixing,
        until,
        met: false,
    });
    (b, plate, arm, fixing)
}

/// The weight comes with what goes over it: so that must not wait for the
/// final torque, and the arm waits for nothing that a hand could do.
#[test]
fn what_is_made_final_under_load_does_not_hold_up_what_loads_it() {
    let (mut b, plate, arm, fixing) = arm_and_plate(Hold::Loaded);
    // Started it has to be, or it is buried loose.
    assert_eq!(
        stand(&b, plate),
        Stand::Blocked(vec![Target::Fixing(fixing)])
    );
    b.ok(Command::Start {
        fixing,
        which: Thing::All,
        line: None,
        anyway: false,
    });
    assert_eq!(stand(&b, plate), Stand::Now);
    assert_eq!(stand(&b, arm), Stand::Waiting(vec![Wait::Hold(fixing)]));
    let page = view::put_back_page(&b.book, at(&b), &b.at_work());
    assert_eq!(page.next.unwrap().what, Target::Part(plate));
    assert!(
        page.waiting[0].note.contains("while it bears its weight"),
        "{}",
        page.waiting[0].note
    );

    b.ok(place(plate));
    b.fasten(plate);
    // Covered is not forgotten.
    assert_eq!(b.rules(), [(Rule::Tighten, Target::Fixing(fixing))]);
    assert!(matches!(
        tighten(&mut b, fixing),
        Err(Refusal::FinalHeld { .. })
    ));
    b.record(Act::FinalHeld {
        fixing,
        until: Hold::Loaded,
        met: true,
    });
    tighten(&mut b, fixing).unwrap();
    assert_eq!(b.audit().verdict, Verdict::Complete);
}

/// It gets hot by running: so it may be started, and by nothing else that is open.
#[test]
fn what_is_made_final_hot_does_not_hold_up_the_start() {
    let (mut b, plate, _, fixing) = arm_and_plate(Hold::Hot);
    let tight = |b: &Bench| {
        permit(b.job(), b.ctx.now)
            .start
            .iter()
            .any(|o| o.on == Target::Fixing(fixing))
    };
    assert!(tight(&b), "not even started");
    b.ok(Command::Start {
        fixing,
        which: Thing::All,
        line: None,
        anyway: false,
    });
    b.ok(place(plate));
    b.fasten(plate);
    assert_eq!(permit(b.job(), b.ctx.now).may(Ask::Start), Ok(()));
    assert_eq!(b.rules(), [(Rule::Tighten, Target::Fixing(fixing))]);
}

/// With a stump in it the flange would have to come off again.
#[test]
fn a_stump_is_drilled_out_before_the_part_goes_on() {
    let mut b = Bench::default();
    let flange = b.part("flange", &[("bolt | thread=M8 x 1.25 | length=30", 3)]);
    let fixing = b.fixing(flange, 0);
    b.record(Act::FastenerBroke {
        fixing,
        place: 1,
        stump_in: true,
    });
    assert_eq!(
        stand(&b, flange),
        Stand::Waiting(vec![Wait::Repair(fixing)])
    );
    let page = view::put_back_page(&b.book, at(&b), &b.at_work());
    assert_eq!(page.next, None);
    assert!(
        page.held.iter().any(|it| it.by.contains("epair")),
        "{:?}",
        page.held
    );
    b.record(Act::PlaceRepaired { fixing, place: 1 });
    assert_eq!(stand(&b, flange), Stand::Now);
}

/// Nobody knows where it is: it is not what comes next.
#[test]
fn a_lost_part_is_not_next() {
    let mut b = Bench::default();
    let guard = b.part("guard", &[]);
    b.record(Act::Moved {
        line: LineId(guard.0),
        from: Account::Bench,
        to: Account::Missing,
        n: 1,
        reason: "not in its crate".to_owned(),
    });
    assert_eq!(stand(&b, guard), Stand::Waiting(vec![Wait::Lost(guard)]));
}

/// What waits for a cure waits on every page.
#[test]
fn a_cure_holds_in_the_order_the_handover_the_picture_and_the_count() {
    let mut b = Bench::default();
    let lid = b.part("lid", &[]);
    let mut off = take_off("flange");
    off.part.after = vec![Need {
        first: Target::Part(lid),
        why: Why::BlocksReach,
    }];
    off.treatments.push(
        Treatment {
            kind: TreatmentKind::Sealant,
            product: "paste".to_owned(),
            on: Target::Job,
            cure_min: 60,
            open_min: None,
            holds_fill: false,
            holds_start: false,
            holds_cover: true,
        }
        .into(),
    );
    let flange = b.take_off(off);
    let treatment = b.job().treatments.ids().next().unwrap();
    b.record(Act::TreatmentApplied { treatment });
    b.ok(place(flange));
    let told = |b: &Bench| {
        let page = handover(b.job(), b.ctx.now);
        let card = view::job_card(&b.book, at(b));
        let drawn = view::picture_page(&b.book, at(b));
        let lid = drawn.nodes.iter().find(|it| it.part == Some(lid)).unwrap();
        (
            page.next,
            page.parts.waiting.len(),
            card.counts.waiting,
            lid.state,
        )
    };
    assert_eq!(stand(&b, lid), Stand::Waiting(vec![Wait::Cure(treatment)]));
    let (next, waiting, counted, drawn) = told(&b);
    assert_eq!((next, waiting, counted), (None, 1, 1));
    b.ctx.now += 2 * HOUR;
    let (next, waiting, counted, now) = told(&b);
    assert_eq!((next, waiting, counted), (Some(Target::Part(lid)), 0, 0));
    assert_ne!(drawn, now);
}

/// Whoever joined it is not the one to look at it: it is nobody's next act.
#[test]
fn an_end_that_lacks_a_second_look_is_not_next() {
    let mut b = Bench::default();
    let pipe = b.connection(
        "fuel pipe",
        end(None, "pump", true),
        end(None, "tank", false),
        &[],
    );
    let it = side(pipe, Side::A);
    // A fuel pipe asks for it by its name.
    assert!(b.job().end(it).unwrap().safety);
    b.join(it);
    assert!(access::lacks_look(b.job(), Target::End(it)));
    let page = view::put_back_page(&b.book, at(&b), &b.at_work());
    assert_eq!(page.next, None);
    assert_eq!(handover(b.job(), b.ctx.now).next, None);
}

/// The pump would throw the oil out where the housing is off.
#[test]
fn the_starter_waits_for_what_holds_the_oil_in() {
    let mut b = Bench::default();
    let mut off = take_off("oil filter housing");
    off.items.push(ItemDraft {
        kind: ItemKind::ORing,
        name: "O-ring".to_owned(),
        size: String::new(),
        count: 1,
    });
    let housing = b.take_off(off);
    let stops = permit(b.job(), b.ctx.now).crank;
    assert!(
        stops
            .iter()
            .any(|o| (o.rule, o.on) == (Rule::PlacePart, Target::Part(housing))),
        "{stops:?}"
    );
    // A guard that is off is no matter.
    let guard = b.part("belt guard", &[]);
    let stops = permit(b.job(), b.ctx.now).crank;
    assert!(stops.iter().all(|o| o.on != Target::Part(guard)));
}

/// One that is missing was accepted: two more that are lost later are not.
#[test]
fn an_exception_covers_what_was_accepted_and_no_more() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[("bolt | thread=M6 x 1 | length=20", 6)]);
    let fixing = b.fixing(cover, 0);
    let line = b.job().fixings.get(fixing).unwrap().old;
    let from = b.job().lines.get(line).unwrap().accounts()[0].0;
    let lose = |b: &mut Bench, n: u32| {
        b.record(Act::Moved {
            line,
            from,
            to: Account::Missing,
            n,
            reason: "rolled away".to_owned(),
        });
    };
    let missing = |b: &Bench| {
        let open = b.audit().open.into_iter();
        open.filter(|o| o.rule == Rule::Missing).collect::<Vec<_>>()
    };
    let accept = |b: &mut Bench| {
        let owed = missing(b)[0].key();
        b.ok(Command::Except {
            owed,
            reason: "seen under the bench".to_owned(),
        });
    };
    lose(&mut b, 1);
    accept(&mut b);
    assert_eq!(missing(&b), []);
    lose(&mut b, 2);
    assert_eq!(missing(&b)[0].n, 3);
    assert!(
        permit(b.job(), b.ctx.now)
            .turn
            .iter()
            .any(|o| o.rule == Rule::Missing)
    );
    accept(&mut b);
    assert_eq!(missing(&b), []);
}

/// An old gasket accepted once is not accepted for the next time it is opened.
#[test]
fn what_was_accepted_of_one_gasket_says_nothing_of_the_next() {
    let mut b = Bench::default();
    let mut off = take_off("cover");
    off.items.push(ItemDraft {
        kind: ItemKind::Gasket,
        name: "gasket".to_owned(),
        size: String::new(),
        count: 1,
    });
    off.fixings.push(FixingDraft::new(
        spec("bolt | thread=M6 x 1 | length=20"),
        2,
    ));
    let cover = b.take_off(off);
    let item = b.job().items.ids().next().unwrap();
    b.ok(Command::FitItem {
        item,
        n: 1,
        old: true,
    });
    b.ok(Command::PlacePart {
        part: cover,
        anyway: true,
    });
    b.fasten(cover);
    let open = |b: &Bench| b.audit().open.iter().any(|o| o.on == Target::Item(item));
    for owed in b.audit().open {
        b.ok(Command::Except {
            owed: owed.key(),
            reason: "to move it to the door".to_owned(),
        });
    }
    assert!(!open(&b));
    b.record(Act::FastenersUndone {
        fixing: b.fixing(cover, 0),
        places: vec![0, 1],
        out: true,
        to: Account::Bench,
    });
    b.ok(Command::TakeOffAgain {
        part: cover,
        aside: false,
    });
    assert!(open(&b));
}

/// The refusal to place a part names its own seal and sealant, each with what is
/// said when it is there.
#[test]
fn what_goes_on_the_part_itself_is_named_and_settled_from_the_refusal() {
    let mut b = Bench::default();
    let mut off = take_off("timing cover");
    off.items.push(ItemDraft {
        kind: ItemKind::ORing,
        name: "O-ring".to_owned(),
        size: String::new(),
        count: 2,
    });
    let cover = b.take_off(off);
    let Refusal::WouldBury { owed, .. } = b.refused(place(cover)) else {
        panic!("placed without its seal");
    };
    let hides = view::hides(&b.book, cover, &b.at_work());
    assert_eq!(hides.owed, []);
    let own: Vec<Target> = hides.own.iter().map(|row| row.what).collect();
    assert_eq!(own, owed);
    b.ok(hides.own[0].settle.clone().unwrap());
    assert_eq!(view::hides(&b.book, cover, &b.at_work()).own, []);
    b.ok(place(cover));
}
