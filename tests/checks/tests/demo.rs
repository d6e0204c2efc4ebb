//! The demo jobs: the checked-in files are what the generator makes, they open
//! like any other job, and the audit finds the three traps and nothing else
//! that is wrong.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use countback_checks::bench::Bench;
use countback_checks::demo::{self, hand::Hand, workboat};
use countback_core::audit::{Audit, Rule, Verdict, audit};
use countback_core::job::{Book, PartState, PlaceState};
use countback_core::jobfile::{self, Opened, sha256_hex};
use countback_core::journal::*;
use countback_core::procedure::{procedure_from_job, procedure_from_json, procedure_to_json};
use countback_core::tag::TagCode;
use countback_core::view;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-jobs")
}

fn on_disk(folder: &Path, found: &mut BTreeSet<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            on_disk(&path, found);
        } else {
            found.insert(path);
        }
    }
}

/// A job's files as they are checked in, opened as any file of a job is.
fn open(name: &str) -> Opened {
    let folder = folder().join(name);
    let read = |name: &str| std::fs::read(folder.join(name)).unwrap();
    let mut present = BTreeSet::new();
    for pictures in ["photos", "thumbs"] {
        for entry in std::fs::read_dir(folder.join(pictures)).unwrap() {
            let path = entry.unwrap().path();
            let hash = path.file_stem().unwrap().to_str().unwrap().to_owned();
            assert_eq!(sha256_hex(&std::fs::read(&path).unwrap()), hash);
            present.insert(hash);
        }
    }
    let (journal, about) = (read(jobfile::JOURNAL_ENTRY), read(jobfile::ABOUT_ENTRY));
    let opened = jobfile::open(&journal, &about, &present).unwrap();
    assert!(opened.missing_photos.is_empty() && opened.never_packed.is_empty());
    opened
}

fn audit_of(book: &Book) -> Audit {
    audit(book.job(), book.now(0))
}

/// Run `cargo run -p countback-checks --bin make_demo` where this fails after a
/// change that was meant.

#[test]
fn checked_in_files_are_what_the_generator_makes() {
    let files = demo::files();
    let mut left = BTreeSet::new();
    on_disk(&folder(), &mut left);
    for file in &files {
        let path = folder().join(&file.path);
        assert!(left.remove(&path), "{} is not there", file.path);
        assert!(
            std::fs::read(path).unwrap() == file.bytes,
            "{} differs",
            file.path
        );
    }
    left.retain(|path| path.extension().is_none_or(|ext| ext != "md"));
    assert!(left.is_empty(), "not from the generator: {left:?}");
    let bytes: usize = files.iter().map(|f| f.bytes.len()).sum();
    assert!(bytes <= 256_000, "{bytes} bytes weigh on the first load");
}

#[test]
fn the_index_names_every_file_and_its_size() {
    let index = std::fs::read_to_string(folder().join("index.json")).unwrap();
    let index: serde_json::Value = serde_json::from_str(&index).unwrap();
    let mut named = 0;
    let mut check = |file: &str, bytes: &serde_json::Value| {
        let found = std::fs::metadata(folder().join(file)).unwrap().len();
        assert_eq!(bytes.as_u64(), Some(found), "{file}");
        named += 1;
    };
    for job in index["jobs"].as_array().unwrap() {
        for (file, bytes) in job["files"].as_object().unwrap() {
            check(file, bytes);
        }
    }
    for procedure in index["procedures"].as_array().unwrap() {
        check(procedure["file"].as_str().unwrap(), &procedure["bytes"]);
    }
    assert_eq!(named + 1, demo::files().len());
}

#[test]
fn the_workboat_is_half_stripped_and_whole_as_a_record() {
    let opened = open("workboat");
    let book = Book::open(opened.journal);
    let job = book.job();
    let fasteners: usize = job.fixings.rows().map(|f| f.places.len()).sum();
    let back = job.parts.rows().filter(|p| p.state == PartState::Placed);
    let back = back.count();
    assert_eq!(job.parts.len(), 60);
    assert_eq!(fasteners, 180);
    assert_eq!(job.connections.len(), 25);
    assert_eq!(job.photos.len(), 40);
    assert!((20..=40).contains(&back), "{back} of 60 are back");
    let finished = job.fixings.rows().flat_map(|f| &f.places);
    let finished = finished.filter(|p| p.state >= PlaceState::Final).count();
    assert!(finished >= 50, "{finished} are final");
    let people: BTreeSet<&str> = book.journal().iter().map(|e| e.by.as_str()).collect();
    assert_eq!(people, BTreeSet::from(["Ann", "Ben", "Rosa"]));
    assert!(job.misfits.is_empty() && job.said_twice.is_empty());
    for tag in job.containers.rows().map(|c| &c.tag) {
        assert!(tag.parse::<TagCode>().is_ok(), "{tag}");
    }
    let shared = job.fixings.rows().filter(|f| f.parts.len() > 1).count();
    assert_eq!(shared, 2);
}

#[test]
fn the_audit_finds_the_three_traps_and_nothing_else_wrong() {
    let (hand, traps) = workboat::job();
    let book = Book::open(open("workboat").journal);
    assert_eq!(&book, &hand.bench.book);
    let audit = audit_of(&book);
    let inside = vec![Target::Inside(traps.rag)];
    assert_eq!(audit.verdict, Verdict::DoNotTurn { inside });
    // What a job half done owes by rights.
    let by_rights = [
        Rule::PlacePart,
        Rule::StartFasteners,
        Rule::FitExtra,
        Rule::Rejoin,
        Rule::Renew,
        Rule::Apply,
        Rule::Fill,
        Rule::Bleed,
        Rule::Restore,
        Rule::Decide,
        Rule::DoWork,
        Rule::IndependentCheck,
        Rule::AfterRun,
    ];
    let wrong = audit.open.iter().filter(|o| !by_rights.contains(&o.rule));
    let wrong: Vec<_> = wrong.map(|o| (o.rule, o.on, o.n, o.with.clone())).collect();
    let screws = book
        .job()
        .fixings
        .iter()
        .find(|(_, f)| f.wants == traps.short);
    let screws = Target::Fixing(screws.unwrap().0);
    let bracket = vec![Target::Part(traps.bracket)];
    assert_eq!(
        wrong,
        [
            (Rule::TakeOut, Target::Inside(traps.rag), 1, vec![]),
            (Rule::Missing, Target::Line(traps.short), 1, vec![screws]),
            (Rule::Buried, Target::Connection(traps.hose), 1, bracket),
        ]
    );
}

#[test]
fn marks_point_at_what_they_number() {
    for name in ["workboat", "tiller"] {
        let book = Book::open(open(name).journal);
        let job = book.job();
        assert!(job.marks.len() >= job.photos.len());
        for mark in job.marks.rows() {
            assert!(mark.x < 1_000 && mark.y < 1_000, "{mark:?}");
            assert!(job.known(mark.what).is_ok() && mark.what != Target::Job);
            // A number on the drawing is the number of a place where the
            // fixing's places have numbers.
            if let Target::Fixing(fixing) = mark.what {
                let numbers = &job.fixings.get(fixing).unwrap().numbers;
                assert!(
                    numbers.is_empty() || numbers.contains(&mark.number),
                    "{mark:?}"
                );
            }
        }
        for photo in job.photos.ids() {
            let mut numbers: Vec<u16> = job
                .marks
                .rows()
                .filter(|m| m.photo == photo)
                .map(|m| m.number)
                .collect();
            numbers.sort_unstable();
            let expected: Vec<u16> = (1..).take(numbers.len()).collect();
            assert_eq!(numbers, expected);
        }
    }
}

#[test]
fn the_tiller_is_finished_and_signed_off() {
    let book = Book::open(open("tiller").journal);
    let audit = audit_of(&book);
    assert_eq!(audit.verdict, Verdict::SignedOff);
    assert!(audit.open.is_empty() && audit.excepted.is_empty());
}

#[test]
fn procedures_are_files_that_can_be_read() {
    for (name, procedure) in demo::procedures::all() {
        let path = folder().join(format!("procedures/{name}.json"));
        let text = std::fs::read_to_string(path).unwrap();
        assert_eq!(procedure_from_json(&text), Ok(procedure));
        assert!(text.lines().count() > 20, "laid out for a person");
    }
}

/// The sequence of a job without what belongs to that machine and its people.
#[test]
fn a_procedure_from_a_job_keeps_the_sequence_and_no_person() {
    let (hand, _): (Hand, _) = workboat::job();
    let job = hand.job();
    let procedure = procedure_from_job(job);
    let file = procedure_to_json(&procedure);
    assert_eq!(procedure_from_json(&file), Ok(procedure.clone()));
    for name in ["Ann", "Ben", "Rosa"] {
        assert!(!file.contains(name), "{name}");
    }
    for container in job.containers.rows() {
        assert!(!file.contains(&container.tag), "a tag");
    }
    for photo in job.photos.rows() {
        assert!(!file.contains(&photo.taken.hash), "a photo");
    }
    let names: Vec<_> = procedure.parts.iter().map(|p| &p.name).collect();
    let expected: Vec<_> = job.parts.rows().map(|p| &p.name).collect();
    assert_eq!(names, expected);
    let planned = |name: &str| procedure.parts.iter().find(|p| p.name == name).unwrap();
    let housing = planned("thermostat housing");
    assert_eq!(housing.after, ["thermostat", "header-tank-bracket"]);
    let count: u16 = housing.fixings.iter().map(|f| f.count).sum();
    assert_eq!(count, 5);
    assert_eq!(housing.connections.len(), 2);
    assert_eq!(housing.items.len(), 1);
    let all = |f: fn(&countback_core::procedure::PlannedPart) -> usize| {
        procedure.parts.iter().map(f).sum::<usize>()
    };
    assert_eq!(all(|p| p.fixings.len()), job.fixings.len());
    assert_eq!(all(|p| p.connections.len()), job.connections.len());
    assert_eq!(all(|p| p.items.len()), job.items.len());
    let pulley = &planned("crankshaft pulley").fixings[0];
    assert_eq!(pulley.reuse, Reuse::Renew);
    assert_eq!(
        pulley.detail.watch,
        "New bolt each time; oil under the head"
    );
    assert_eq!(procedure.safe.len(), 4);
    assert_eq!(procedure.fluids.len(), 2);
}

/// The app knows an example by the phone it was made on, and learns nothing of it.
#[test]
fn every_act_of_an_example_is_of_the_phones_that_examples_are_made_on() {
    let mut jobs = 0;
    for folder in std::fs::read_dir(folder()).unwrap() {
        let folder = folder.unwrap();
        if !folder.path().join("job.jsonl").exists() {
            continue;
        }
        let text = std::fs::read_to_string(folder.path().join("job.jsonl")).unwrap();
        assert!(!text.is_empty());
        for line in text.lines() {
            let event = countback_core::codec::decode(line).unwrap();
            assert!(EXAMPLES.contains(&event.id.device), "{line}");
        }
        jobs += 1;
    }
    assert_eq!(jobs, EXAMPLES.len());
}

/// What a procedure has drained is offered first, with its bleeding, until it is
/// drained.
#[test]
fn fluids_of_a_procedure_are_offered_until_they_are_drained() {
    let mut fluids = 0;
    for (name, procedure) in demo::procedures::all() {
        let mut b = Bench::default();
        b.record(Act::ProcedureAttached(procedure.clone()));
        let planned: Vec<_> = procedure.fluids.iter().collect();
        fluids += planned.len();
        let offers = view::drain_offers(b.job());
        for (offer, it) in offers.iter().zip(&planned) {
            assert_eq!((&offer.name, offer.bleed), (&it.name, it.bleed), "{name}");
        }
        let Some(first) = planned.first() else {
            continue;
        };
        b.record(Act::FluidDrained {
            name: first.name.to_uppercase(),
            amount: String::new(),
            bleed: first.bleed,
        });
        let left = view::drain_offers(b.job());
        assert!(left.iter().all(|it| it.name != first.name), "{name}");
    }
    assert!(fluids > 0);
}
