//! What a fixing's figure goes through on its way from a procedure or from what
//! was typed into the record.
#![allow(clippy::unwrap_used)]
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::procedure::{PlannedFixing, PlannedPart, Procedure};
use countback_core::torque::TorqueUnit;

use super::draft::*;

pub(super) fn ctx(now: i64) -> Ctx {
    Ctx {
        now,
        device: DeviceId(1),
        by: "Ann".to_owned(),
    }
}

pub(super) fn opened(procedure: Option<Procedure>) -> Book {
    let mut book = Book::default();
    let head = JobHead {
        title: "Pump".to_owned(),
        machine: "van".to_owned(),
        aim: String::new(),
        meter: None,
        units: Units {
            torque: TorqueUnit::NewtonMetre,
            length: LengthUnit::Millimetre,
        },
    };
    let open = Command::Open { head, procedure };
    let events = book.decide(open, &ctx(0)).unwrap();
    book.append(events);
    book
}

/// The only fixing of the job once this entry is logged.
fn logged(book: &mut Book, draft: &Draft) -> Fixing {
    let off = draft.take_off("471227");
    let events = book.decide(Command::TakeOff(Box::new(off)), &ctx(9));
    book.append(events.unwrap());
    book.job().fixings.rows().next().unwrap().clone()
}

fn newton_metres(milli: u32) -> Figure {
    Figure::Torque {
        milli,
        unit: TorqueUnit::NewtonMetre,
    }
}

#[test]
fn all_that_a_procedure_says_of_a_figure_is_in_the_record() {
    let said = |stages: Vec<Figure>, tolerance, meant_for| FixingDetail {
        stages,
        tolerance: Some(tolerance),
        meant_for: Some(meant_for),
        running: Some(newton_metres(1_500)),
        source: "workshop manual, page 112".to_owned(),
        tool: "long ring spanner".to_owned(),
        way: Some(WayIn::Below),
        spanner_only: true,
        watch: "the short one is at the top".to_owned(),
        safety: true,
    };
    let turn = Figure::Angle { degrees: 90 };
    let by = Tolerance::By(newton_metres(2_000));
    for detail in [
        said(vec![newton_metres(25_000)], by, MeantFor::Dry),
        said(
            vec![newton_metres(25_500), turn],
            Tolerance::By(Figure::Angle { degrees: 5 }),
            MeantFor::Oiled,
        ),
        said(
            vec![newton_metres(10_000), newton_metres(25_000)],
            Tolerance::Percent(10),
            MeantFor::Dry,
        ),
    ] {
        let planned = PlannedPart {
            key: "cover".to_owned(),
            name: "cover".to_owned(),
            fixings: vec![PlannedFixing {
                spec: "bolt | thread=M8 x 1.25 | length=25".parse().unwrap(),
                count: 6,
                place: "upper".to_owned(),
                numbers: vec![1, 3, 5, 7, 9, 11],
                extras: vec![Extra {
                    spec: "washer | thread=M8 x 1.25".parse().unwrap(),
                    per_place: 2,
                }],
                reuse: Reuse::Inspect,
                detail: detail.clone(),
                round: None,
                last_round: false,
                also: Vec::new(),
            }],
            ..PlannedPart::default()
        };
        let procedure = Procedure {
            title: "Pump".to_owned(),
            parts: vec![planned.clone()],
            ..Procedure::default()
        };
        let mut book = opened(Some(procedure));
        let mut draft = Draft::default();
        draft.plan(&planned, &[]);
        // The page may be killed between the choice and the log.
        let draft = Draft::from_text(&draft.to_text()).unwrap();
        let there = logged(&mut book, &draft);
        assert_eq!(there.detail, detail);
        assert_eq!(there.numbers, [1, 3, 5, 7, 9, 11]);
        let extras: Vec<_> = there
            .extras
            .iter()
            .map(|e| (e.1.spec.label(), e.1.per_place))
            .collect();
        assert_eq!(extras, [("M8 washer".to_owned(), 2)]);
    }
}

fn with_stages(stages: &[(&str, u8)]) -> Draft {
    Draft {
        name: "cover".to_owned(),
        fixings: vec![DraftFixing {
            spec: "bolt | thread=M8 x 1.25 | length=25".to_owned(),
            count: 6,
            stages: stages.iter().map(|&(t, u)| (t.to_owned(), u)).collect(),
            ..DraftFixing::default()
        }],
        ..Draft::default()
    }
}

#[test]
fn a_typed_figure_is_logged_with_its_unit_and_its_range() {
    // The unit beside the field is newton metres; what is typed goes before it.
    let detail = logged(&mut opened(None), &with_stages(&[("18 ft-lb", 0)])).detail;
    let unit = TorqueUnit::PoundForceFoot;
    let milli = 18_000;
    assert_eq!(detail.stages, [Figure::Torque { milli, unit }]);
    let mut ranged = with_stages(&[("5", 0), ("10-11", 0)]);
    ranged.fixings[0].tolerance = Some(Tolerance::Percent(10));
    let detail = logged(&mut opened(None), &ranged).detail;
    assert_eq!(detail.stages, [newton_metres(5_000), newton_metres(10_500)]);
    assert_eq!(
        detail.tolerance,
        Some(Tolerance::By(newton_metres(500))),
        "what was typed goes before what was there"
    );
}

#[test]
fn what_is_not_read_holds_the_entry_and_stays_in_it() {
    for (stages, stage) in [
        (&[("25 lb", 0)][..], "stage 1"),
        (&[("20", 0), ("about 25", 0)], "stage 2"),
        (&[("20", 0), ("90", 5), ("30", 0)], "stage 3"),
    ] {
        let draft = with_stages(stages);
        let wrong = draft.wrong_figure().unwrap();
        assert!(wrong.contains(stage), "{wrong}");
        let again = Draft::from_text(&draft.to_text()).unwrap();
        assert_eq!(again.fixings[0].stages, draft.fixings[0].stages);
    }
    for stages in [
        &[][..],
        &[("", 0)],
        &[("20", 0), ("90", 5)],
        &[("10-11", 0)],
    ] {
        assert_eq!(with_stages(stages).wrong_figure(), None, "{stages:?}");
    }
}

#[test]
fn numbers_of_holes_that_are_not_read_hold_the_entry() {
    let mut draft = with_stages(&[]);
    draft.fixings[0].count = 3;
    for (typed, ok) in [
        ("", true),
        ("1, 4, 6", true),
        ("1;4;6", true),
        ("1-3", false),
        ("1, 4", false),
        ("A, B, C", false),
        ("2, 2, 3", false),
    ] {
        draft.fixings[0].numbers = typed.to_owned();
        assert_eq!(draft.wrong_figure().is_none(), ok, "{typed}");
    }
}

#[test]
fn what_sits_one_by_one_begins_with_one() {
    use countback_core::fastener::{FastenerKind, FastenerSpec};
    use countback_core::view;
    for (kind, count) in [
        (FastenerKind::Circlip, 1),
        (FastenerKind::Clamp, 1),
        (FastenerKind::Pin, 1),
        (FastenerKind::Bolt, 2),
        (FastenerKind::Nut, 2),
    ] {
        let mut draft = Draft::default();
        draft.add_size(&FastenerSpec::of(kind), kind.first_count());
        assert_eq!(draft.fixings[0].count, count, "{}", kind.word());
    }
    let chips = view::chips(&opened(None), &[]);
    assert!(
        chips
            .sizes
            .iter()
            .all(|it| it.count == it.spec.kind.first_count())
    );
}

#[test]
fn what_hung_on_it_is_named_before_it_is_logged() {
    let hose = DraftConnection {
        name: "top hose".to_owned(),
        a_off: true,
        ..DraftConnection::default()
    };
    let with = |hose: DraftConnection| Draft {
        name: "pump".to_owned(),
        connections: vec![hose],
        ..Draft::default()
    };
    assert_eq!(with(hose.clone()).unsaid(), None);
    // As a sheet may leave it that is closed in the middle.
    let nameless = DraftConnection {
        name: " ".to_owned(),
        kind: 2,
        ..hose.clone()
    };
    let unsaid = with(nameless.clone()).unsaid().unwrap();
    assert_eq!(unsaid, "Give the pipe a name");
    assert_eq!(nameless.called(), "pipe");
    let on = DraftConnection {
        a_off: false,
        ..hose
    };
    let unsaid = with(on).unsaid().unwrap();
    assert_eq!(unsaid, "Say which end of top hose is off");
    let gasket = Draft {
        items: vec![DraftItem::default()],
        ..Draft::default()
    };
    assert_eq!(gasket.unsaid().unwrap(), "Give the gasket a name");
}

#[test]
fn the_code_that_was_shown_is_the_one_that_is_logged() {
    let mut book = opened(None);
    let device = DeviceId(1);
    let free = |book: &Book, kept: &[&str]| {
        countback_core::view::free_tags(std::iter::once(book.job()), kept, device, 2)
    };
    let mut draft = with_stages(&[]);
    let first = free(&book, &[]);
    let hose = |name: &str, tag: &str| DraftConnection {
        name: name.to_owned(),
        a_off: true,
        tag: tag.to_owned(),
        ..DraftConnection::default()
    };
    draft.connections.push(hose("top hose", &first[1]));
    // The bag keeps its code; the next hose has another than both.
    let next = free(&book, &[first[1].as_str()]);
    assert_eq!(next[0], first[0]);
    assert!(!first.contains(&next[1]));
    draft.connections.push(hose("lower hose", &next[1]));
    draft.connections.push(hose("vent hose", ""));
    // The page may be killed between the writing and the log.
    let draft = Draft::from_text(&draft.to_text()).unwrap();
    let off = draft.take_off(&next[0]);
    let events = book.decide(Command::TakeOff(Box::new(off)), &ctx(9));
    book.append(events.unwrap());
    let tags: Vec<_> = book
        .job()
        .connections
        .rows()
        .map(|c| c.tag.clone())
        .collect();
    let wanted = [Some(first[1].clone()), Some(next[1].clone()), None];
    assert_eq!(tags, wanted);
    assert_eq!(book.job().containers.rows().next().unwrap().tag, next[0]);
    let later = free(&book, &[]);
    assert!(
        later
            .iter()
            .all(|it| !first.contains(it) && !next.contains(it))
    );
}

#[test]
fn one_photo_is_left_out_and_the_others_are_logged() {
    let photo = |hash: &str| DraftPhoto {
        hash: hash.to_owned(),
        ..DraftPhoto::default()
    };
    let mut draft = with_stages(&[]);
    draft.photos = ["a", "b", "c"].map(photo).to_vec();
    draft.leave_photo_out("b");
    assert!(draft.has_photo("c") && !draft.has_photo("b"));
    let logged = draft.take_off("471227").photos.into_iter();
    assert_eq!(logged.map(|it| it.hash).collect::<Vec<_>>(), ["a", "c"]);
}

#[test]
fn several_ports_and_things_to_put_on_are_logged() {
    let mut book = opened(None);
    let mut draft = with_stages(&[]);
    // One that was begun and left empty is none.
    draft.openings = ["coolant port", " ", "oil passage "]
        .map(str::to_owned)
        .to_vec();
    let of = |kind: u8, product: &str| DraftTreatment {
        kind,
        product: product.to_owned(),
        ..DraftTreatment::default()
    };
    draft.treatments = vec![of(0, "silicone"), of(1, "grease")];
    let draft = Draft::from_text(&draft.to_text()).unwrap();
    let off = draft.take_off("471227");
    let events = book.decide(Command::TakeOff(Box::new(off)), &ctx(9));
    book.append(events.unwrap());
    let job = book.job();
    let ports: Vec<&str> = job.openings.rows().map(|it| it.name.as_str()).collect();
    assert_eq!(ports, ["coolant port", "oil passage"]);
    let put_on = job
        .treatments
        .rows()
        .map(|it| it.treatment.product.as_str());
    assert_eq!(put_on.collect::<Vec<_>>(), ["silicone", "grease"]);
}
