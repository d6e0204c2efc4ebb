//! What a procedure made from one job brings to the entries of the next.
#![allow(clippy::unwrap_used)]
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::procedure::{procedure_from_job, procedure_from_json, procedure_to_json};

use super::draft::*;
use super::draft_checks::{ctx, opened};

/// Logs an entry; the part that it is of.
pub(super) fn log(book: &mut Book, draft: &Draft) -> PartId {
    let off = draft.take_off("471227");
    let now = book.journal().len() as i64;
    let events = book.decide(Command::TakeOff(Box::new(off)), &ctx(now));
    let events = events.unwrap();
    // A new bag is named before it.
    let off = events.iter().find(|it| matches!(it.act, Act::PartOff(_)));
    let part = PartId(off.unwrap().id.thing(0));
    book.append(events);
    part
}

/// What one job knew of its hoses, ports, shared bolts and things to put on, the
/// next one that follows its procedure logs as well.
#[test]
fn a_procedure_brings_ends_ports_shared_fixings_and_what_is_put_on() {
    let mut first = opened(None);
    let bolts = |n: u16| DraftFixing {
        spec: "bolt | thread=M8 x 1.25 | length=25".to_owned(),
        count: n,
        ..DraftFixing::default()
    };
    let bracket = Draft {
        name: "bracket".to_owned(),
        fixings: vec![bolts(2), bolts(3)],
        bag: DraftBag::Bench,
        ..Draft::default()
    };
    let bracket = log(&mut first, &bracket);
    let fixing = first.job().parts.get(bracket).unwrap().fixings[1];
    let cover = Draft {
        name: "cover".to_owned(),
        fixings: vec![bolts(4)],
        bag: DraftBag::Bench,
        connections: vec![DraftConnection {
            name: "vent hose".to_owned(),
            a: "cover".to_owned(),
            b: "bracket".to_owned(),
            a_here: true,
            a_off: true,
            b_off: true,
            b_on: bracket.to_string(),
            a_clamp: "spring band".to_owned(),
            b_joint: Some(2),
            route: "behind the bracket".to_owned(),
            route_by: Some((0, bracket.to_string())),
            ..DraftConnection::default()
        }],
        openings: vec!["oil passage".to_owned()],
        treatments: vec![
            DraftTreatment {
                product: "grey silicone".to_owned(),
                cure_h: 24,
                cure_min: 30,
                open_min: 10,
                cover: true,
                ..DraftTreatment::default()
            },
            DraftTreatment {
                kind: 2,
                product: "medium".to_owned(),
                fixing: Some(0),
                ..DraftTreatment::default()
            },
        ],
        ..Draft::default()
    };
    let cover = log(&mut first, &cover);
    let also = Act::AlsoHolds {
        fixing,
        part: cover,
    };
    let events = first.decide(Command::Record(also), &ctx(90)).unwrap();
    first.append(events);

    let plan = procedure_from_job(first.job());
    let plan = procedure_from_json(&procedure_to_json(&plan)).unwrap();
    let parts = plan.parts.clone();
    let mut next = opened(Some(plan));
    let mut off: Vec<(PartId, Option<String>)> = Vec::new();
    for planned in &parts {
        let mut draft = Draft::default();
        draft.plan(planned, &off);
        draft.bag = DraftBag::Bench;
        let draft = Draft::from_text(&draft.to_text()).unwrap();
        off.push((log(&mut next, &draft), Some(planned.key.clone())));
    }
    // Told by names, as the ids are others.
    let told = |book: &Book| {
        let job = book.job();
        let name = |what: Target| countback_core::words::name(job, what);
        let mut all: Vec<String> = Vec::new();
        for it in job.fixings.rows() {
            let parts: Vec<String> = it.parts.iter().map(|&p| name(Target::Part(p))).collect();
            all.push(format!("{} {} {parts:?}", it.spec, it.places.len()));
        }
        for it in job.connections.rows() {
            let ends = [&it.a, &it.b].map(|e| {
                let on = e.end.on.map(|p| name(Target::Part(p)));
                let end = &e.end;
                format!(
                    "{} {on:?} {:?} {} {}",
                    end.label, end.joint, end.clamp, end.parted
                )
            });
            let run = it
                .route
                .iter()
                .map(|r| (r.part.map(|p| name(Target::Part(p))), &r.text));
            all.push(format!(
                "{} {ends:?} {:?}",
                it.name,
                run.collect::<Vec<_>>()
            ));
        }
        for it in job.openings.rows() {
            all.push(format!(
                "{} {:?}",
                it.name,
                it.shut_by.map(|p| name(Target::Part(p)))
            ));
        }
        for it in job.treatments.rows() {
            let it = &it.treatment;
            let times = (it.cure_min, it.open_min, it.holds_fill, it.holds_cover);
            all.push(format!(
                "{:?} {} {} {times:?}",
                it.kind,
                it.product,
                name(it.on)
            ));
        }
        all
    };
    let wanted = told(&first);
    assert_eq!(wanted.len(), 3 + 1 + 1 + 2, "{wanted:#?}");
    assert_eq!(told(&next), wanted);

    // One with no number is not logged, and moves no thread-locker to its neighbour.
    let mut draft = Draft::default();
    draft.plan(&parts[1], &[]);
    draft.fixings.insert(0, bolts(0));
    draft.treatments[1].fixing = Some(1);
    assert_eq!(draft.take_off("471227").treatments[1].fixing, Some(0));
    // A hose is said to run by a part that is still on, in words.
    let mut planned = parts[1].clone();
    let run = planned.connections[0].route.as_mut().unwrap();
    assert_eq!(run.by, "bracket");
    run.text.clear();
    draft.plan(&planned, &[]);
    assert_eq!(draft.connections[0].route, "bracket");

    // A size that is taken out of the entry takes its thread-locker with it.
    let mut draft = Draft::default();
    draft.plan(&parts[1], &[]);
    draft.fixings.insert(0, bolts(1));
    draft.treatments[1].fixing = Some(1);
    draft.take_out_fixing(0);
    assert_eq!(draft.treatments[1].fixing, Some(0));
    draft.take_out_fixing(0);
    assert_eq!(draft.treatments.len(), 1);
}
