//! A job packed, opened elsewhere and stored again is the same job; anything less is refused whole.
//! The lazily loaded part is linked in and put where the page's start script would offer it.

use std::{cell::RefCell, collections::BTreeSet, rc::Rc};

use crate::rows::acts;
use countback_core::job::{Book, Command, Ctx};
use countback_core::jobfile::{Damage, JobFileError, Limit, pack_list};
use countback_core::journal::{
    Act, DeviceId, JobHead, Journal, LengthUnit, PhotoTaken, Target, Units,
};
use countback_core::torque::TorqueUnit;
use countback_web::ports::{
    archive::{ArchiveFault, OpenedJob, open_entries, open_job, pack_job},
    bytes::Bytes,
    hash::sha256_hex,
    photo::{Picture, prepare_bytes},
    store::{ActRow, Batch, Fault, MemoryStore, Store, Trip, TripHow, chain},
};
use js_sys::{Object, Promise, Reflect, Uint8Array};
use wasm_bindgen::{JsCast, JsValue, closure::Closure};
use wasm_bindgen_test::wasm_bindgen_test;

const PHONE: &[u8] =
    include_bytes!("../../../tests/fixtures/photos/phone_turned_with_position.jpg");

fn method<F: ?Sized>(of: &Object, name: &str, closure: Closure<F>)
where
    F: wasm_bindgen::closure::WasmClosure,
{
    Reflect::set(of, &name.into(), closure.as_ref()).expect("set");
    closure.forget();
}

/// Puts the part where the page's start script puts it.
fn offer_lazy() {
    let part = Object::new();
    method(
        &part,
        "unpack",
        Closure::<dyn Fn(Uint8Array) -> Result<JsValue, JsValue>>::new(|archive: Uint8Array| {
            countback_lazy::unpack(&archive).map(JsValue::from)
        }),
    );
    method(
        &part,
        "packer",
        Closure::<dyn Fn() -> JsValue>::new(|| {
            let packer = Rc::new(RefCell::new(Some(countback_lazy::packer())));
            let made = Object::new();
            let adding = packer.clone();
            method(
                &made,
                "add",
                Closure::<dyn Fn(String, Uint8Array) -> Result<JsValue, JsValue>>::new(
                    move |name: String, bytes: Uint8Array| {
                        let mut packer = adding.borrow_mut();
                        let packer = packer.as_mut().expect("not finished");
                        packer.add(&name, &bytes).map(JsValue::from)
                    },
                ),
            );
            method(
                &made,
                "finish",
                Closure::<dyn Fn() -> Result<JsValue, JsValue>>::new(move || {
                    let packer = packer.borrow_mut().take().expect("not finished");
                    packer.finish().map(JsValue::from)
                }),
            );
            made.into()
        }),
    );
    let loader = Object::new();
    method(
        &loader,
        "load",
        Closure::<dyn Fn(String) -> Promise>::new(move |name: String| {
            assert_eq!(name, "lazy");
            Promise::resolve(&part).unchecked_into()
        }),
    );
    Reflect::set(&js_sys::global(), &"countback".into(), &loader).expect("set");
}

/// A job of three acts, the second a photo of the given hashes.
fn journal(hash: &str, thumb: &str) -> Journal {
    let taken = PhotoTaken {
        hash: hash.into(),
        thumb: thumb.into(),
        width: 4,
        height: 3,
        on: vec![Target::Job],
        caption: String::new(),
    };
    let note = Act::NoteAdded {
        on: Target::Job,
        text: "face clean".into(),
    };
    let head = JobHead {
        title: "Water pump".into(),
        machine: String::new(),
        aim: String::new(),
        meter: None,
        units: Units {
            torque: TorqueUnit::NewtonMetre,
            length: LengthUnit::Millimetre,
        },
    };
    let commands = [
        Command::Open {
            head,
            procedure: None,
        },
        Command::Record(Act::PhotoTaken(taken)),
        Command::Record(note),
    ];
    let ctx = Ctx {
        now: 1_760_000_000_000,
        device: DeviceId(7),
        by: "Ann".into(),
    };
    let mut book = Book::default();
    for command in commands {
        let events = book.decide(command, &ctx).expect("decided");
        book.append(events);
    }
    book.journal().clone()
}

async fn job() -> (MemoryStore, Journal, Picture) {
    let store = MemoryStore::new();
    let picture = prepare_bytes(&PHONE.to_vec().into())
        .await
        .expect("prepared");
    let batch = Batch {
        photos: vec![picture.photo.clone()],
        thumbs: vec![picture.thumb.clone()],
        ..acts(1, 40)
    };
    store.commit(batch).await.expect("commit");
    let journal = journal(&picture.photo.hash, &picture.thumb.hash);
    (store, journal, picture)
}

fn joined(parts: &[Bytes]) -> Vec<u8> {
    parts.iter().flat_map(Bytes::to_vec).collect()
}

async fn packed() -> (Vec<u8>, Picture) {
    offer_lazy();
    let (store, journal, picture) = job().await;
    let packed = pack_job(Some(&store), &journal).await.expect("packed");
    (joined(&packed.parts), picture)
}

#[wasm_bindgen_test]
async fn a_job_comes_back_as_it_was() {
    offer_lazy();
    let (store, journal, picture) = job().await;
    let packed = pack_job(Some(&store), &journal).await.expect("packed");
    assert_eq!(packed.not_here, [""; 0]);
    assert_eq!(
        (packed.about.title.as_str(), packed.about.acts),
        ("Water pump", 3)
    );
    let opened = open_job(&joined(&packed.parts).into())
        .await
        .expect("opened");
    assert_eq!(
        opened,
        OpenedJob {
            journal,
            photos: vec![picture.photo],
            thumbs: vec![picture.thumb],
            missing: 0,
        }
    );
}

#[wasm_bindgen_test]
async fn a_photo_that_is_gone_is_named_and_the_rest_is_saved() {
    offer_lazy();
    let (store, _, picture) = job().await;
    let gone = "0".repeat(64);
    let journal = journal(&gone, &picture.thumb.hash);
    let packed = pack_job(Some(&store), &journal).await.expect("packed");
    assert_eq!(packed.not_here, [gone, picture.thumb.hash]);
    let opened = open_job(&joined(&packed.parts).into())
        .await
        .expect("opened");
    assert_eq!((opened.journal, opened.missing), (journal, 1));
}

#[wasm_bindgen_test]
async fn the_acts_are_saved_when_the_store_is_gone_and_it_is_asked_once() {
    offer_lazy();
    let (store, journal, picture) = job().await;
    let trip = |how| Trip {
        at: store.operations() + 1,
        how,
    };
    store.trip(trip(TripHow::Before(Fault::Gone)));
    let before = store.operations();
    let lost = pack_job(Some(&store), &journal).await.expect("packed");
    assert_eq!(store.operations(), before + 1);
    let none = pack_job(None, &journal).await.expect("packed");
    for packed in [lost, none] {
        let mut not_here = [picture.photo.hash.clone(), picture.thumb.hash.clone()];
        not_here.sort();
        assert_eq!(packed.not_here, not_here);
        let opened = open_job(&joined(&packed.parts).into()).await;
        assert_eq!(opened.expect("opened").journal, journal);
    }
}

#[wasm_bindgen_test]
async fn a_harmed_archive_is_refused_whole() {
    let (archive, picture) = packed().await;
    // In the middle of the photo.
    let mut harmed = archive.clone();
    let at = archive.len() / 2;
    harmed[at] ^= 1;
    let name = format!("photos/{}.jpg", picture.photo.hash);
    assert_eq!(
        open_job(&harmed.into()).await,
        Err(ArchiveFault::Damaged { entry: name })
    );
    for end in [0, 1, archive.len() / 3, archive.len() - 1] {
        let cut = open_job(&archive[..end].to_vec().into()).await;
        assert!(cut.is_err(), "cut at {end}");
    }
    assert_eq!(open_job(&PHONE.to_vec().into()).await, not_a_job());
}

const fn not_a_job() -> Result<OpenedJob, ArchiveFault> {
    Err(ArchiveFault::Job(JobFileError::NotAJob))
}

/// Packs entries as they are given, sound as an archive but perhaps not as a job.
fn forged(entries: &[(&str, &[u8])]) -> Bytes {
    let mut packer = countback_lazy::pack::Packer::default();
    let mut archive = Vec::new();
    for (name, bytes) in entries {
        archive.extend(packer.add(name, bytes).expect("added"));
    }
    archive.extend(packer.finish().expect("finished"));
    archive.into()
}

#[wasm_bindgen_test]
async fn an_archive_that_is_not_a_sound_job_is_refused_by_its_reason() {
    offer_lazy();
    let list = pack_list(&journal(&"0".repeat(64), ""), &BTreeSet::new());
    let (about, acts) = (list.about_json.as_str(), list.job_jsonl.as_str());
    let open = async |about: &str, acts: &str| {
        let entries = [
            ("about.json", about.as_bytes()),
            ("job.jsonl", acts.as_bytes()),
        ];
        open_job(&forged(&entries)).await
    };
    let sound = open(about, acts).await.expect("sound");
    assert_eq!((sound.journal.len(), sound.missing), (3, 1));

    let newer = open(&about.replace("\"version\": 1", "\"version\": 2"), acts).await;
    let version = 2;
    assert_eq!(
        newer,
        Err(ArchiveFault::Job(JobFileError::NewerVersion { version }))
    );
    let alone = forged(&[("job.jsonl", acts.as_bytes())]);
    assert_eq!(open_job(&alone).await, not_a_job());
    assert_eq!(open("[]", acts).await, not_a_job());
    let changed = open(about, &acts.replace("clean", "dirty")).await;
    assert!(
        matches!(
            changed,
            Err(ArchiveFault::Job(JobFileError::ChecksumWrong { .. }))
        ),
        "{changed:?}"
    );
    let shorter = open(about, &acts.replace("clean", "")).await;
    assert!(
        matches!(
            shorter,
            Err(ArchiveFault::Job(JobFileError::Damaged(
                Damage::Length { .. }
            )))
        ),
        "{shorter:?}"
    );
    let long = " ".repeat(Limit::About.most() + 1);
    let found = long.len();
    let limit = Limit::About;
    assert_eq!(
        open(&long, acts).await,
        Err(ArchiveFault::Job(JobFileError::TooLarge { limit, found }))
    );
}

#[wasm_bindgen_test]
async fn only_pictures_without_a_cameras_data_come_in() {
    offer_lazy();
    let copy = prepare_bytes(&PHONE.to_vec().into())
        .await
        .expect("prepared")
        .photo;
    let list = pack_list(&journal(&copy.hash, ""), &BTreeSet::new());
    let open = async |name: &str, bytes: &[u8]| {
        let entries = [
            ("about.json", list.about_json.as_bytes()),
            ("job.jsonl", list.job_jsonl.as_bytes()),
            (name, bytes),
        ];
        open_job(&forged(&entries)).await
    };
    let rule = |found: Result<OpenedJob, ArchiveFault>| match found {
        Err(ArchiveFault::Refused { rule, .. }) => rule,
        other => panic!("{other:?}"),
    };
    let named = |bytes: &[u8], kind: &str| format!("photos/{}.{kind}", sha256_hex(bytes));
    // A real photo straight from the phone, with its position.
    assert_eq!(rule(open(&named(PHONE, "jpg"), PHONE).await), "NotStripped");
    assert_eq!(rule(open(&named(PHONE, "png"), PHONE).await), "NotThatKind");
    let svg = b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>";
    let name = named(svg, "jpg");
    assert_eq!(
        open(&name, svg).await,
        Err(ArchiveFault::Damaged {
            entry: name.clone()
        })
    );
    assert_eq!(rule(open(&named(svg, "svg"), svg).await), "BadName");
    assert_eq!(rule(open("script.js", b"x").await), "BadName");
    let wrong = format!("photos/{}.jpg", "1".repeat(64));
    let refused = open(&wrong, &copy.bytes.to_vec()).await;
    assert_eq!(
        refused,
        Err(ArchiveFault::Damaged {
            entry: wrong.clone()
        })
    );
    let good = format!("photos/{}.jpg", copy.hash);
    let opened = open(&good, &copy.bytes.to_vec()).await.expect("opened");
    assert_eq!((opened.photos, opened.missing), (vec![copy], 0));
}

/// The demo's pictures are PNG, and one that no act speaks of is left where it is.
#[wasm_bindgen_test]
async fn a_demo_job_opens_by_the_same_way() {
    let entry = |name: &str, bytes: &[u8]| (name.to_owned(), Bytes::from(bytes.to_vec()));
    let mut entries = vec![
        entry(
            "about.json",
            include_bytes!("../../../demo-jobs/tiller/about.json"),
        ),
        entry(
            "job.jsonl",
            include_bytes!("../../../demo-jobs/tiller/job.jsonl"),
        ),
        entry(
            "photos/6be6aeeb47e25b57b5aaf4061b4683162eb595742ad886eaab8dbe34bb1dd856.png",
            include_bytes!(
                "../../../demo-jobs/tiller/photos/6be6aeeb47e25b57b5aaf4061b4683162eb595742ad886eaab8dbe34bb1dd856.png"
            ),
        ),
    ];
    let stray = include_bytes!("../../../assets/icons/icon-192.png");
    let name = format!("photos/{}.png", sha256_hex(stray));
    entries.push(entry(&name, stray));
    let opened = open_entries(entries).await.expect("opened");
    assert_eq!((opened.photos.len(), opened.missing), (1, 1));
    assert_eq!(opened.photos[0].mime, "image/png");
}

#[wasm_bindgen_test]
async fn without_the_lazy_part_the_fault_says_so() {
    offer_lazy();
    Reflect::delete_property(&js_sys::global(), &"countback".into()).expect("deleted");
    let refused = open_job(&vec![1].into()).await;
    offer_lazy();
    assert_eq!(
        refused,
        Err(ArchiveFault::NotLoaded {
            name: "NoLoader".into()
        })
    );
}

#[wasm_bindgen_test]
fn the_chain_of_an_opened_job_does_not_depend_on_where_it_was_written() {
    let rows: Vec<ActRow> = acts(1, 3).rows;
    let mut turned = rows.clone();
    turned.reverse();
    assert_eq!(chain::of_rows(&rows), chain::of_rows(&turned));
}
