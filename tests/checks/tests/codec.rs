//! The stored form of acts: any act survives it, the lines of each version load
//! for ever and read the same, and what is not whole is told from what is newer.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
use std::collections::BTreeSet;
use std::path::PathBuf;

use countback_checks::any_act::{any_event, any_procedure, each_act};
use countback_checks::kinds::{self, ACTS};
use countback_core::codec::{CodecError, decode, encode};
use countback_core::journal::*;
use countback_core::procedure::{
    PlannedConnection, PlannedEnd, PlannedPart, PlannedRoute, Procedure, ProcedureFault,
    procedure_from_json, procedure_to_json,
};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;

fn fixture() -> String {
    let path =
        PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../fixtures/journals/v1-all-acts.jsonl");
    std::fs::read_to_string(path).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2_000))]

    #[test]
    fn any_event_survives_storing(event in any_event()) {
        let line = encode(&event);
        prop_assert!(!line.contains('\n'), "one act, one line");
        prop_assert_eq!(decode(&line), Ok(event));
    }

    #[test]
    fn a_cut_line_is_never_taken(event in any_event(), cut in any::<prop::sample::Index>()) {
        let line = encode(&event);
        let ends: Vec<usize> = line.char_indices().map(|(at, _)| at).collect();
        let short = &line[..*cut.get(&ends)];
        prop_assert_eq!(decode(short), Err(CodecError::Damaged { what: "json" }));
    }

    #[test]
    fn any_text_is_refused_or_read_without_panic(text in any::<String>()) {
        prop_assert!(decode(&text).is_err());
        prop_assert!(procedure_from_json(&text).is_err());
    }

    /// Whatever is read is all that the line says: written again and read again
    /// it is the same act.
    #[test]
    fn a_changed_letter_is_refused_or_read_whole(event in any_event(), at in any::<prop::sample::Index>(), to in "[a-z0-9:\",]") {
        let mut line: Vec<char> = encode(&event).chars().collect();
        let at = at.index(line.len());
        line[at] = to.chars().next().unwrap();
        let line: String = line.into_iter().collect();
        if let Ok(read) = decode(&line) {
            prop_assert_eq!(decode(&encode(&read)), Ok(read));
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(500))]

    #[test]
    fn any_procedure_survives_its_file(procedure in any_procedure()) {
        prop_assert_eq!(procedure_from_json(&procedure_to_json(&procedure)), Ok(procedure));
    }
}

fn all_acts() -> BTreeSet<&'static str> {
    ACTS.iter().copied().collect()
}

#[test]
fn every_kind_of_act_is_drawn() {
    let mut runner = TestRunner::deterministic();
    let mut drawn = BTreeSet::new();
    for strategy in each_act() {
        let act = strategy.new_tree(&mut runner).unwrap().current();
        assert!(drawn.insert(kinds::act(&act)), "twice: {act:?}");
    }
    assert_eq!(drawn, all_acts());
}

#[test]
fn lines_of_version_1_load_for_ever_and_are_written_the_same() {
    let text = fixture();
    let mut kinds = BTreeSet::new();
    for line in text.lines() {
        let event = decode(line).unwrap_or_else(|e| panic!("{e:?}: {line}"));
        kinds.insert(kinds::act(&event.act));
        assert_eq!(encode(&event), line);
    }
    assert_eq!(kinds, all_acts(), "one line of each act");
}

/// Spot checks of the fixture by eye: what the words say is what is meant.
#[test]
fn stored_words_mean_what_they_say() {
    let text = fixture();
    let find = |act: &str| {
        let name = format!("\"act\":\"{act}\"");
        let line = text.lines().find(|l| l.contains(&name)).unwrap();
        decode(line).unwrap()
    };
    let Act::FixingUndone(it) = find("fixing-undone").act else {
        panic!()
    };
    assert_eq!(it.spec.label(), "M8 x 25 bolt, 13 mm head, 8.8");
    assert_eq!((it.count, it.slackened, it.found_empty), (6, 1, 1));
    assert_eq!(it.to.iter().map(|&(_, n)| n).sum::<u16>(), 4);
    assert!(matches!(it.to[1], (Account::Bench, 1)));
    let torque = Figure::Torque {
        milli: 10_500,
        unit: countback_core::torque::TorqueUnit::NewtonMetre,
    };
    assert_eq!(it.detail.stages, [torque, Figure::Angle { degrees: 90 }]);
    let Act::JobOpened(head) = find("job-opened").act else {
        panic!()
    };
    let meter = Meter {
        kind: MeterKind::Hours,
        tenths: 31_405,
    };
    assert_eq!(head.meter, Some(meter));
    let Act::EndPushed { end, seat } = find("end-pushed").act else {
        panic!()
    };
    assert_eq!((end.side, end == seat), (Side::B, true));
}

#[test]
fn newer_is_told_from_damaged() {
    let line = r#"{"v":1,"id":"00000007-0000000000000001","at":5,"by":"Ann","act":"fluid-bled","fluid":"00000003-0000000000000001-0"}"#;
    assert!(decode(line).is_ok());
    let newer = |version| Err(CodecError::Newer { version });
    let damaged = |what| Err(CodecError::Damaged { what });
    let change = |from: &str, to: &str| decode(&line.replace(from, to));
    assert_eq!(change("\"v\":1", "\"v\":2"), newer(2));
    let v3 = r#"{"v":3,"act":["of","a","form"],"unheard":{"of":1}}"#;
    assert_eq!(decode(v3), newer(3));
    let v3 = r#"{"v":3,"act":"weighed","unheard":{"of":[1.5,null,-1e99]}}"#;
    assert_eq!(decode(v3), newer(3));
    assert_eq!(change("fluid-bled", "fluid-weighed"), newer(1));
    assert_eq!(change("\"v\":1", "\"v\":0"), damaged("v"));
    assert_eq!(change("\"v\":1,", ""), damaged("v"));
    assert_eq!(change("-0\"}", "\"}"), damaged("fluid"));
    assert_eq!(change("-0\"}", "-00\"}"), damaged("fluid"));
    assert_eq!(change("00000007", "0000000G"), damaged("id"));
    assert_eq!(change("\"fluid\":", "\"liquid\":"), damaged("fluid"));
    assert_eq!(
        change("\"by\"", "\"lies\":\"shelf\",\"by\""),
        damaged("field")
    );
    assert_eq!(change("\"at\":5", "\"at\":5,\"at\":6"), damaged("field"));
    assert_eq!(change("\"at\":5", "\"at\":\"five\""), damaged("at"));
}

#[test]
fn a_procedure_file_is_looked_through() {
    let part = |key: &str, after: &[&str]| PlannedPart {
        key: key.to_owned(),
        after: after.iter().map(|&k| k.to_owned()).collect(),
        ..PlannedPart::default()
    };
    let read = |parts: Vec<PlannedPart>| {
        let procedure = Procedure {
            parts,
            ..Procedure::default()
        };
        procedure_from_json(&procedure_to_json(&procedure)).map(drop)
    };
    assert_eq!(read(vec![part("a", &["b"]), part("b", &[])]), Ok(()));
    let same = Err(ProcedureFault::SameKey("a".to_owned()));
    assert_eq!(read(vec![part("a", &[]), part("a", &[])]), same);
    let none = Err(ProcedureFault::NoSuchKey("b".to_owned()));
    assert_eq!(read(vec![part("a", &["b"])]), none);
    let circle = Err(ProcedureFault::Circle("a".to_owned()));
    assert_eq!(read(vec![part("a", &["b"]), part("b", &["a"])]), circle);
    let other = |over: &str| PlannedPart {
        ways: vec![vec![over.to_owned()]],
        ..part("a", &[])
    };
    assert_eq!(read(vec![other("b")]), none);
    assert_eq!(read(vec![other("a")]), circle);
    assert_eq!(read(vec![other("b"), part("b", &["a"])]), Ok(()));
    let hose = |far: &str, run: &str| PlannedPart {
        connections: vec![PlannedConnection {
            kind: ConnectionKind::Hose,
            name: String::new(),
            a: String::new(),
            b: String::new(),
            joint: Joint::Clamped,
            clamp: String::new(),
            away: false,
            stays: false,
            far: PlannedEnd {
                on: far.to_owned(),
                ..PlannedEnd::default()
            },
            route: Some(PlannedRoute {
                kind: RouteKind::Behind,
                by: run.to_owned(),
                text: String::new(),
            }),
            after: Vec::new(),
            ways: Vec::new(),
        }],
        ..part("a", &[])
    };
    assert_eq!(read(vec![hose("b", "")]), none);
    assert_eq!(read(vec![hose("", "b")]), none);
    assert_eq!(read(vec![hose("", "a")]), Ok(()));
    let whole = procedure_to_json(&Procedure::default());
    let unreadable = |text: &str| match procedure_from_json(text) {
        Err(ProcedureFault::Unreadable(why)) => why,
        other => panic!("{other:?}"),
    };
    let newer = unreadable(&whole.replace("\"v\": 1", "\"v\": 2"));
    assert_eq!(newer, CodecError::Newer { version: 2 });
    let other = unreadable(&whole.replace("countback-procedure", "recipe"));
    assert_eq!(other, CodecError::Damaged { what: "format" });
    let long = " ".repeat(4_000_001);
    assert!(matches!(
        procedure_from_json(&long),
        Err(ProcedureFault::TooLong { .. })
    ));
}
