//! Finding things by words, sizes and tag codes. Scenarios are invented; the
//! pairs of trade words are common practice, no source.
use countback_checks::bench::*;
use countback_core::audit::Rule;
use countback_core::fastener::identify::Measured;
use countback_core::find::*;
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::tag::TagCode;

const VAN: JobKey = JobKey(1);
const BIKE: JobKey = JobKey(2);

fn code(payload: u16) -> String {
    TagCode::from_payload(payload).unwrap().digits()
}

fn bag(b: &mut Bench, tag: &str, name: &str) -> ContainerId {
    let id = b.record(Act::ContainerNamed {
        tag: tag.to_owned(),
        kind: ContainerKind::Bag,
        name: name.to_owned(),
        lies: "shelf 2".to_owned(),
    });
    ContainerId(id.thing(0))
}

fn note(b: &mut Bench, on: Target, text: &str) -> NoteId {
    let text = text.to_owned();
    NoteId(b.record(Act::NoteAdded { on, text }).thing(0))
}

/// A van with its inlet manifold off, and a few things beside.
struct Van {
    bench: Bench,
    manifold: PartId,
    cover: PartId,
    nut_note: NoteId,
}

fn van() -> Van {
    let mut bench = Bench::default();
    let manifold = bench.part(
        "inlet manifold",
        &[
            ("bolt | thread=M6 x 1 | length=25", 4),
            ("bolt | thread=M8 x 1.25 | length=40 | head=hex 13 mm", 2),
        ],
    );
    let cover = bench.part(
        "rocker cover",
        &[("bolt | thread=M6 x 1 | head=hex 10 mm", 6)],
    );
    bench.part("bonnet", &[]);
    let nut_note = note(
        &mut bench,
        Target::Part(manifold),
        "rear nut: only the long ring spanner gets there",
    );
    Van {
        bench,
        manifold,
        cover,
        nut_note,
    }
}

fn first(index: &Index, question: &str) -> Hit {
    let mut found = index.find(question, 20);
    assert!(!found.hits.is_empty(), "{question} finds nothing");
    found.hits.swap_remove(0)
}

#[test]
fn misspelt_words_still_find_the_thing() {
    let van = van();
    let index = Index::of([(VAN, van.bench.job())]);
    let hit = first(&index, "mainfold");
    assert_eq!(hit.what, Target::Part(van.manifold));
    assert_eq!(hit.why[0].how, How::Spelling);
    assert_eq!(hit.why[0].found, "manifold");
    let hit = first(&index, "spaner");
    assert_eq!(hit.note, Some(van.nut_note));
    assert_eq!(hit.what, Target::Part(van.manifold));
    for nonsense in ["qqqqq", "", "...", "the"] {
        assert_eq!(index.find(nonsense, 20).hits, vec![], "{nonsense}");
    }
}

#[test]
fn a_ten_mil_bolt_is_the_m6_whose_head_takes_a_ten() {
    let van = van();
    let index = Index::of([(VAN, van.bench.job())]);
    for question in ["10 mil bolt", "10mm head", "10 mm bolt"] {
        let found = index.find(question, 20);
        let fixings: Vec<_> = found.hits.iter().map(|h| (h.what, h.why[0].how)).collect();
        // First the one whose head was noted, then the M6 whose head was not;
        // the M8 with its 13 mm head is none.
        assert_eq!(
            fixings,
            [
                (Target::Fixing(van.bench.fixing(van.cover, 0)), How::Head),
                (
                    Target::Fixing(van.bench.fixing(van.manifold, 0)),
                    How::ThreadOfHead
                ),
            ],
            "{question}"
        );
        assert_eq!(found.hits[1].why[0].found, "M6");
    }
    let hit = first(&index, "10 mil bolt inlet");
    assert_eq!(hit.what, Target::Fixing(van.bench.fixing(van.manifold, 0)));
    let hit = first(&index, "13mm");
    assert_eq!(hit.what, Target::Fixing(van.bench.fixing(van.manifold, 1)));
}

#[test]
fn the_words_of_both_dialects_find_each_other() {
    // As in the trade on both sides: common practice, no source.
    for (one, other) in [
        ("spanner", "wrench"),
        ("ring spanner", "box-end"),
        ("Allen key", "hex key"),
        ("tommy bar", "breaker bar"),
        ("circlip", "snap ring"),
        ("split pin", "cotter pin"),
        ("grub screw", "set screw"),
        ("self-tapper", "sheet-metal screw"),
        ("jubilee clip", "worm-drive hose clip"),
        ("jubilee clip", "hose clamp"),
        ("spring clip", "constant-tension clamp"),
        ("P-clip", "cushion clamp"),
        ("bonnet", "hood"),
        ("boot", "trunk"),
        ("wing", "fender"),
        ("bulkhead", "firewall"),
        ("sump", "oil pan"),
        ("gearbox", "transmission"),
        ("rocker cover", "valve cover"),
        ("silencer", "muffler"),
        ("inlet", "intake"),
        ("earth", "ground"),
        ("paraffin", "kerosene"),
        ("petrol", "gas"),
        ("tyre", "tire"),
        ("axle stand", "jack stand"),
        ("undertray", "splash shield"),
        ("propshaft", "driveshaft"),
        ("strip", "teardown"),
        ("dismantle", "disassemble"),
        ("refit", "reinstall"),
        ("overhaul", "rebuild"),
        ("recondition", "rebuild"),
        ("renew", "replace"),
        ("nyloc", "prevailing-torque nut"),
        ("hand-tight", "finger-tight"),
        ("stretch bolt", "torque-to-yield"),
    ] {
        for (there, asked) in [(one, other), (other, one)] {
            let mut b = Bench::default();
            b.part("unlike thing", &[]);
            let part = b.part(&format!("left {there} zz"), &[]);
            let index = Index::of([(VAN, b.job())]);
            let found = index.find(asked, 20);
            let hit = found.hits.first();
            assert_eq!(
                hit.map(|h| h.what),
                Some(Target::Part(part)),
                "{asked} -> {there}"
            );
            assert_eq!(hit.unwrap().why[0].how, How::Synonym, "{asked} -> {there}");
        }
    }
}

#[test]
fn a_tag_code_says_which_job_and_a_wrong_digit_is_refused() {
    let mut van = van();
    let mut bike = Bench::on(DeviceId(2), "Bo");
    let of_van = bag(&mut van.bench, &code(1_234), "bag 3");
    let of_bike = bag(&mut bike, &code(5_678), "bag 3");
    let index = Index::of([(VAN, van.bench.job()), (BIKE, bike.job())]);
    for (payload, job, container) in [(1_234, VAN, of_van), (5_678, BIKE, of_bike)] {
        let right: TagCode = code(payload).parse().unwrap();
        let on = vec![TagOn {
            job,
            what: Target::Container(container),
        }];
        let known = TagAnswer::Known {
            code: right,
            on: on.clone(),
        };
        assert_eq!(index.tag(&right.to_string()), Some(known.clone()));
        assert_eq!(index.find(&right.digits(), 20).tag, Some(known));
        // Every single wrong digit is refused, and the one meant is near.
        for at in 0..6 {
            for digit in b'0'..=b'9' {
                let mut typed = right.digits().into_bytes();
                if typed[at] == digit {
                    continue;
                }
                typed[at] = digit;
                let typed = String::from_utf8(typed).unwrap();
                match index.tag(&typed) {
                    Some(TagAnswer::Wrong { near, .. }) => {
                        assert!(near.contains(&(right, on.clone())), "{typed}");
                    }
                    other => panic!("{typed}: {other:?}"),
                }
            }
        }
    }
    let unused: TagCode = code(1_111).parse().unwrap();
    assert_eq!(
        index.tag(&code(1_111)),
        Some(TagAnswer::Unknown { code: unused })
    );
    let Some(TagAnswer::Begun { near }) = index.tag("12 3") else {
        panic!("a begun code is offered");
    };
    assert_eq!(near.len(), 1);
    assert_eq!(index.tag("bag 12"), None);
    // "bag 3" exists twice and says so.
    let jobs: Vec<_> = index.find("bag 3", 20).hits.iter().map(|h| h.job).collect();
    assert!(jobs.contains(&VAN) && jobs.contains(&BIKE), "{jobs:?}");
}

#[test]
fn photos_are_found_by_caption_and_by_what_is_on_them() {
    let mut van = van();
    let photo = |b: &mut Bench, on: Target, caption: &str| {
        PhotoId(
            b.record(Act::PhotoTaken(PhotoTaken {
                hash: "00".to_owned(),
                thumb: "00".to_owned(),
                width: 4,
                height: 3,
                on: vec![on],
                caption: caption.to_owned(),
            }))
            .thing(0),
        )
    };
    let cover = Target::Part(van.cover);
    let routed = photo(&mut van.bench, cover, "how the loom runs");
    let index = Index::of([(VAN, van.bench.job())]);
    let hit = first(&index, "loom photo");
    assert_eq!((hit.photo, hit.what), (Some(routed), cover));
    let found = index.find("valve cover", 20);
    assert!(found.hits.iter().any(|h| h.photo == Some(routed)));
}

#[test]
fn what_meets_more_of_the_question_comes_first() {
    let mut b = Bench::default();
    let upper = b.part("upper timing cover", &[]);
    b.part("lower timing cover", &[]);
    b.part("cover", &[]);
    let index = Index::of([(VAN, b.job())]);
    assert_eq!(
        first(&index, "upper timing cover").what,
        Target::Part(upper)
    );
    assert_eq!(first(&index, "upp tim").what, Target::Part(upper));
}

/// Ten thousand records of all kinds; the bounds are the house plan's, held
/// where the code is built as it is shipped.
#[test]
fn ten_thousand_records_are_indexed_and_asked_in_time() {
    let mut b = Bench::default();
    let sides = [
        "upper", "lower", "left", "right", "front", "rear", "inner", "outer",
    ];
    let things = [
        "bracket",
        "cover",
        "housing",
        "manifold",
        "pump",
        "hose guide",
        "shield",
    ];
    let mut n = 0_usize;
    while Index::of([(VAN, b.job())]).len() < 10_000 {
        let mut events = Vec::new();
        for _ in 0..500 {
            n += 1;
            let name = format!("{} {} {n}", sides[n % 8], things[n % 7]);
            let mut off = take_off(&name);
            off.part.note = format!("mark{n} behind the {}", things[n % 5]);
            off.fixings = vec![FixingDraft::new(
                spec("bolt | thread=M6 x 1 | length=25 | head=hex 10 mm"),
                4,
            )];
            let made = b
                .book
                .decide(Command::TakeOff(Box::new(off)), &b.ctx)
                .unwrap();
            b.book.append(made.clone());
            events.extend(made);
        }
    }
    let index = Index::of([(VAN, b.job())]);
    let mut builds: Vec<_> = (0..5)
        .map(|_| {
            let clock = std::time::Instant::now();
            std::hint::black_box(Index::of([(VAN, b.job())]));
            clock.elapsed()
        })
        .collect();
    builds.sort();
    // The fastest of five: the others also measure what else the machine does.
    let built = builds[0];
    let mut slowest = std::time::Duration::ZERO;
    for question in [
        "mainfold",
        "10 mil bolt",
        "upper cover",
        "b",
        "bo",
        "wrench",
        "47 12 25",
    ] {
        let mut times: Vec<_> = (0..9)
            .map(|_| {
                let clock = std::time::Instant::now();
                std::hint::black_box(index.find(question, 50));
                clock.elapsed()
            })
            .collect();
        times.sort();
        println!("{question}: {:?}", times[4]);
        slowest = slowest.max(times[4]);
    }
    println!(
        "{} records built in {built:?}, slowest {slowest:?}",
        index.len()
    );
    assert_eq!(
        first(&index, "mark77").what,
        first(&index, "rear bracket 77").what
    );
    if !cfg!(debug_assertions) {
        assert!(built.as_millis() <= 30, "{built:?}");
        assert!(slowest.as_micros() <= 2_000, "{slowest:?}");
    }
}

const FLANGE_BOLT: &str = "bolt | thread=M8 x 1.25 | length=25 | head=hex flange 10 mm";

/// Two jobs with three places for the same bolt between them.
fn two_jobs() -> (Bench, Bench, FixingId) {
    let mut van = Bench::default();
    let pump = van.part("pump", &[(FLANGE_BOLT, 4), ("nut | thread=M6 x 1", 2)]);
    van.part("bracket", &[(FLANGE_BOLT, 1)]);
    let mut bike = Bench::on(DeviceId(2), "Ann");
    bike.part("guard", &[(FLANGE_BOLT, 2)]);
    bike.part("cover", &[("bolt | thread=M6 x 1 | length=20", 5)]);
    let fixing = van.fixing(pump, 0);
    (van, bike, fixing)
}

fn lose_one(b: &mut Bench, fixing: FixingId) {
    let line = b.job().fixings.get(fixing).unwrap().old;
    let there = b.job().lines.get(line).unwrap().count(Account::Bench);
    b.ok(Command::Recount {
        line,
        account: Account::Bench,
        found: there - 1,
        reason: String::new(),
    });
}

#[test]
fn a_bolt_on_the_floor_is_offered_to_both_jobs_and_given_to_none() {
    let (mut van, mut bike, short) = two_jobs();
    lose_one(&mut van, short);
    let found = spec(FLANGE_BOLT);
    let stray = |b: &mut Bench| {
        let spec = found.clone();
        let place = "floor".to_owned();
        Target::Stray(StrayId(b.record(Act::StrayFound { spec, place }).thing(0)))
    };
    let (in_van, in_bike) = (stray(&mut van), stray(&mut bike));
    let measured = Measured::from_spec(&found);
    let answer = origin_of(&measured, &[(VAN, van.job()), (BIKE, bike.job())]);
    let places: Vec<_> = answer
        .places
        .iter()
        .map(|p| (p.job, p.key, p.short))
        .collect();
    assert_eq!(places.len(), 3, "{places:?}");
    assert_eq!(places[0], (VAN, short, 1), "the short one first");
    assert!(places[1..].iter().all(|p| p.2 == 0));
    assert!(places.iter().any(|p| p.0 == BIKE));
    // Open in both until somebody says.
    assert!(van.rules().contains(&(Rule::Stray, in_van)));
    assert!(bike.rules().contains(&(Rule::Stray, in_bike)));
}

#[test]
fn one_over_with_nothing_short_stays_as_found() {
    let (mut van, bike, _) = two_jobs();
    let measured = Measured::from_spec(&spec(FLANGE_BOLT));
    let answer = origin_of(&measured, &[(VAN, van.job()), (BIKE, bike.job())]);
    assert!(answer.places.iter().all(|p| p.short == 0));
    // New ones that are not bought yet make no place short of an old one.
    let mut off = take_off("head");
    let mut draft = FixingDraft::new(spec(FLANGE_BOLT), 3);
    draft.reuse = Reuse::Renew;
    off.fixings.push(draft);
    van.take_off(off);
    let answer = origin_of(&measured, &[(VAN, van.job())]);
    assert!(answer.places.iter().all(|p| p.short == 0));
    assert_eq!(answer.places.len(), 3);
}
