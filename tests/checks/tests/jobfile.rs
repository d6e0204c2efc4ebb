//! A job in its file: it comes back whole or not at all, and each way of not
//! being whole is told from the others.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
use std::collections::BTreeSet;

use countback_checks::any_act::any_event;
use countback_checks::bench::*;
use countback_core::codec::encode;
use countback_core::job::Command;
use countback_core::jobfile::*;
use countback_core::journal::*;
use proptest::prelude::*;

/// A small job with two pictures.
fn job() -> Bench {
    let mut b = Bench::default();
    let cover = b.part("cover", &[("bolt | thread=M6 x 1 | length=20", 4)]);
    for n in ["one", "two"] {
        b.record(Act::PhotoTaken(PhotoTaken {
            hash: sha256_hex(n.as_bytes()),
            thumb: sha256_hex(format!("small {n}").as_bytes()),
            width: 640,
            height: 480,
            on: vec![Target::Part(cover)],
            caption: String::new(),
        }));
    }
    b.place(cover);
    b.ok(Command::StrikeLast);
    b
}

fn all_pictures() -> BTreeSet<String> {
    ["one", "small one", "two", "small two"]
        .into_iter()
        .map(|n| sha256_hex(n.as_bytes()))
        .collect()
}

fn reopen(packed: &Packed, present: &BTreeSet<String>) -> Result<Opened, JobFileError> {
    open(
        packed.job_jsonl.as_bytes(),
        packed.about_json.as_bytes(),
        present,
    )
}

/// Packs lines as they are given, with a page that fits them.
fn lines(lines: &[String]) -> Result<Opened, JobFileError> {
    let job_jsonl = lines.iter().map(|l| format!("{l}\n")).collect::<String>();
    let about = About {
        acts: lines.len(),
        bytes: job_jsonl.len(),
        sha256: sha256_hex(job_jsonl.as_bytes()),
        ..About::default()
    };
    open(
        job_jsonl.as_bytes(),
        about.to_json().as_bytes(),
        &BTreeSet::new(),
    )
}

#[test]
fn a_job_comes_back_whole() {
    let b = job();
    let packed = pack_list(b.book.journal(), &all_pictures());
    assert_eq!(packed.not_here, Vec::<String>::new());
    assert_eq!(
        (packed.about.photos.len(), packed.about.thumbs.len()),
        (2, 2)
    );
    assert_eq!(packed.about.title, "Cover off");
    let opened = reopen(&packed, &all_pictures()).unwrap();
    assert_eq!(&opened.journal, b.book.journal());
    assert_eq!(opened.about, packed.about);
    assert!(opened.missing_photos.is_empty() && opened.never_packed.is_empty());
}

#[test]
fn pictures_lost_on_the_way_are_told_from_those_never_packed() {
    let b = job();
    let mut at_hand = all_pictures();
    let never = sha256_hex(b"small two");
    at_hand.remove(&never);
    let packed = pack_list(b.book.journal(), &at_hand);
    assert_eq!(packed.not_here, std::slice::from_ref(&never));
    let lost = sha256_hex(b"one");
    at_hand.remove(&lost);
    let opened = reopen(&packed, &at_hand).unwrap();
    assert_eq!(
        (opened.missing_photos, opened.never_packed),
        (vec![lost], vec![never])
    );
}

#[test]
fn each_fault_has_its_own_name() {
    let packed = pack_list(job().book.journal(), &BTreeSet::new());
    let none = BTreeSet::new();
    let about = |from: &str, to: &str| {
        assert!(packed.about_json.contains(from), "{from}");
        let about = packed.about_json.replace(from, to);
        open(packed.job_jsonl.as_bytes(), about.as_bytes(), &none).unwrap_err()
    };
    assert_eq!(
        about("countback-job", "cookery-book"),
        JobFileError::NotAJob
    );
    assert_eq!(about("{", "["), JobFileError::NotAJob);
    assert_eq!(
        about("\"version\": 1", "\"version\": 2"),
        JobFileError::NewerVersion { version: 2 }
    );
    let field = |what| JobFileError::Damaged(Damage::About { what });
    assert_eq!(about("\"version\": 1", "\"version\": 0"), field("version"));
    assert_eq!(about("\"bytes\"", "\"bites\""), field("field"));
    assert_eq!(
        about("\"sha256\": \"", "\"sha256\": \"../"),
        field("sha256")
    );
    let acts = packed.about.acts;
    assert_eq!(
        about(&format!("\"acts\": {acts}"), "\"acts\": 3"),
        JobFileError::Damaged(Damage::Acts {
            said: 3,
            found: acts
        })
    );
    let other = packed.job_jsonl.replace("shelf", "bench");
    assert!(matches!(
        open(other.as_bytes(), packed.about_json.as_bytes(), &none),
        Err(JobFileError::ChecksumWrong { packed: said, found })
            if said == packed.about.sha256 && found == sha256_hex(other.as_bytes())
    ));
    let half = &packed.job_jsonl.as_bytes()[..packed.job_jsonl.len() / 2];
    assert!(matches!(
        open(half, packed.about_json.as_bytes(), &none),
        Err(JobFileError::Damaged(Damage::Length { .. }))
    ));
    assert_eq!(open(b"", b"", &none), Err(JobFileError::NotAJob));
}

#[test]
fn acts_that_are_whole_but_not_one_job_are_refused() {
    let b = job();
    let good: Vec<String> = b.book.journal().iter().map(encode).collect();
    assert!(lines(&good).is_ok());
    let bad = |damage| Err(JobFileError::Damaged(damage));
    assert_eq!(lines(&[]), bad(Damage::NotOpened));
    assert_eq!(lines(&good[1..]), bad(Damage::NotOpened));
    let twice: Vec<String> = good.iter().chain(&good[2..3]).cloned().collect();
    assert_eq!(
        lines(&twice),
        bad(Damage::SameId {
            line: good.len() + 1
        })
    );
    let other = Bench::on(DeviceId(2), "Bob");
    let mut two = good.clone();
    two.extend(other.book.journal().iter().map(encode));
    assert_eq!(
        lines(&two),
        bad(Damage::OtherJob {
            line: good.len() + 1
        })
    );
    let newer = |line: &str| lines(&[good[0].clone(), line.to_owned()]);
    assert_eq!(
        newer(r#"{"v":2,"act":"weighed"}"#),
        Err(JobFileError::NewerVersion { version: 2 })
    );
    let line = |what| bad(Damage::Line { line: 2, what });
    assert_eq!(newer("{}"), line("v"));
    let swap = |n: usize, from: &str, to: &str| {
        assert!(good[n].contains(from), "{}", good[n]);
        lines(&[good[0].clone(), good[n].replace(from, to)])
    };
    let photo = good.iter().position(|l| l.contains("photo-taken")).unwrap();
    let hash = sha256_hex(b"one");
    assert_eq!(swap(photo, &hash, "../../etc/passwd"), line("hash"));
    let thumb = sha256_hex(b"small one");
    assert_eq!(swap(photo, &thumb, &thumb.to_uppercase()), line("thumb"));
    assert_eq!(swap(photo, "\"at\":1", "\"at\":-1"), line("at"));
    assert_eq!(swap(photo, "\"at\":1", "\"at\":999991"), line("at"));
    assert_eq!(swap(photo, "\"id\":\"68", "\"id\":\"ff"), line("id"));
}

#[test]
fn files_beyond_any_job_are_refused_unread() {
    let none = BTreeSet::new();
    let long = vec![b' '; Limit::About.most() + 1];
    let refused = |limit, found| Err(JobFileError::TooLarge { limit, found });
    assert_eq!(open(b"", &long, &none), refused(Limit::About, long.len()));
    let b = job();
    let good: Vec<String> = b.book.journal().iter().map(encode).collect();
    let words = "x".repeat(Limit::Act.most());
    let line = format!(
        r#"{{"v":1,"id":"00000010-0000000000000001","at":5,"act":"note-added","on":"job","text":"{words}"}}"#
    );
    assert_eq!(
        lines(&[good[0].clone(), line.clone()]),
        refused(Limit::Act, line.len())
    );
    // Nothing is so deep that reading it overruns the stack.
    let deep = format!("{}{}", "[".repeat(100_000), "]".repeat(100_000));
    assert!(lines(&[good[0].clone(), deep.clone()]).is_err());
    assert_eq!(
        open(b"", deep.as_bytes(), &none),
        Err(JobFileError::NotAJob)
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// Whatever acts a job holds, they come back.
    #[test]
    fn any_acts_come_back(events in prop::collection::vec(any_event(), 0..20)) {
        let mut journal = Journal::new(job().book.journal().iter().cloned());
        for mut event in events {
            // After the opening, whose clock starts at the second it was made in.
            event.id.clock = event.id.clock % 1_000_000 + (START / 1000) as u32 + 200;
            event.with = event.id;
            event.at = event.at.rem_euclid(1_000_000_000_000);
            match &mut event.act {
                Act::JobOpened(_) => continue,
                Act::PhotoTaken(it) => {
                    it.hash = sha256_hex(it.hash.as_bytes());
                    it.thumb = sha256_hex(it.thumb.as_bytes());
                }
                _ => {}
            }
            journal.add(event);
        }
        let opened = reopen(&pack_list(&journal, &BTreeSet::new()), &BTreeSet::new());
        prop_assert_eq!(opened.map(|o| o.journal), Ok(journal));
    }

    /// One changed byte of the acts is never taken; one of the page about them
    /// is refused or changes nothing but its words.
    #[test]
    fn one_changed_byte_is_found(at in any::<prop::sample::Index>(), to in any::<u8>(), in_acts in any::<bool>()) {
        let b = job();
        let packed = pack_list(b.book.journal(), &all_pictures());
        let mut acts = packed.job_jsonl.clone().into_bytes();
        let mut about = packed.about_json.clone().into_bytes();
        let file = if in_acts { &mut acts } else { &mut about };
        let at = at.index(file.len());
        prop_assume!(file[at] != to);
        file[at] = to;
        match open(&acts, &about, &all_pictures()) {
            Ok(opened) => {
                prop_assert!(!in_acts);
                prop_assert_eq!(&opened.journal, b.book.journal());
            }
            Err(why) => {
                let checksum = matches!(why, JobFileError::ChecksumWrong { .. });
                prop_assert!(!in_acts || checksum, "{why:?}");
            }
        }
    }
}
