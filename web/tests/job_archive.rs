//! A job packed, opened elsewhere and stored again is the same job; anything less is refused whole.
//! The lazily loaded part is linked in and put where the page's start script would offer it.
#![cfg(target_arch = "wasm32")]
#![allow(
    clippy::expect_used,
    clippy::panic,
    reason = "a failing test should panic"
)]

mod rows;

use std::{cell::RefCell, rc::Rc};

use countback_web::ports::{
    archive::{ArchiveFault, OpenedJob, open_job, pack_job},
    bytes::Bytes,
    hash::sha256_hex,
    photo::{Picture, prepare_bytes},
    store::{ActRow, Batch, MemoryStore, Store, chain},
};
use js_sys::{Object, Promise, Reflect, Uint8Array};
use rows::acts;
use wasm_bindgen::{JsCast, JsValue, closure::Closure};
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

wasm_bindgen_test_configure!(run_in_browser);

const PHONE: &[u8] = include_bytes!("../../tests/fixtures/photos/phone_turned_with_position.jpg");

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

async fn job() -> (MemoryStore, Picture) {
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
    (store, picture)
}

fn joined(parts: &[Bytes]) -> Vec<u8> {
    parts.iter().flat_map(Bytes::to_vec).collect()
}

async fn packed() -> (Vec<u8>, Picture) {
    offer_lazy();
    let (store, picture) = job().await;
    let hash = picture.photo.hash.clone();
    let packed = pack_job(&store, "job-a", &[hash]).await.expect("packed");
    (joined(&packed.parts), picture)
}

#[wasm_bindgen_test]
async fn a_job_comes_back_as_it_was() {
    offer_lazy();
    let (store, picture) = job().await;
    let hash = picture.photo.hash.clone();
    let packed = pack_job(&store, "job-a", &[hash]).await.expect("packed");
    let opened = open_job(&joined(&packed.parts).into())
        .await
        .expect("opened");
    assert_eq!(opened.about, packed.about);
    assert_eq!(
        (opened.about.acts, opened.about.photos, opened.about.thumbs),
        (40, 1, 1)
    );
    let rows = store.rows("job-a").await.expect("rows").rows;
    assert_eq!(
        opened.lines,
        rows.iter().map(|row| row.line.clone()).collect::<Vec<_>>()
    );
    assert_eq!(opened.photos, std::slice::from_ref(&picture.photo));
    assert_eq!(opened.thumbs, [picture.thumb]);
    // Into another store, in one transaction.
    let other = MemoryStore::new();
    let OpenedJob { photos, thumbs, .. } = opened;
    let batch = Batch {
        job: "job-a".into(),
        rows,
        photos,
        thumbs,
        ..Batch::default()
    };
    let ack = other.commit(batch).await.expect("commit");
    assert_eq!(ack.head, store.jobs().await.expect("jobs")[0].head);
}

#[wasm_bindgen_test]
async fn a_photo_that_is_gone_is_named_and_the_rest_is_saved() {
    offer_lazy();
    let (store, picture) = job().await;
    let gone = "0".repeat(64);
    let photos = [gone.clone(), picture.photo.hash];
    let packed = pack_job(&store, "job-a", &photos).await.expect("packed");
    assert_eq!(packed.about.unreadable, [gone]);
    let opened = open_job(&joined(&packed.parts).into())
        .await
        .expect("opened");
    assert_eq!((opened.lines.len(), opened.photos.len()), (40, 1));
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
    assert_eq!(
        open_job(&PHONE.to_vec().into()).await,
        Err(ArchiveFault::NotAJob)
    );
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

fn about(acts: u32, photos: u32, version: u32, lines: &[u8]) -> Vec<u8> {
    let hash = sha256_hex(lines);
    format!(
        r#"{{"format":"countback-job","version":{version},"job":"a","acts":{acts},
            "photos":{photos},"thumbs":0,"job_sha256":"{hash}"}}"#
    )
    .into_bytes()
}

#[wasm_bindgen_test]
async fn an_archive_that_is_not_a_sound_job_is_refused_by_its_reason() {
    offer_lazy();
    let lines = b"{\"n\":1}\n";
    let job = ("job.jsonl", &lines[..]);
    let open = async |entries: &[(&str, &[u8])]| open_job(&forged(entries)).await;
    assert!(
        open(&[("about.json", &about(1, 0, 1, lines)), job])
            .await
            .is_ok()
    );

    let newer = open(&[("about.json", &about(1, 0, 2, lines)), job]).await;
    assert_eq!(newer, Err(ArchiveFault::NewerVersion { version: 2 }));
    assert_eq!(open(&[job]).await, Err(ArchiveFault::NotAJob));
    assert_eq!(
        open(&[("about.json", b"[]"), job]).await,
        Err(ArchiveFault::NotAJob)
    );
    let entry = || "job.jsonl".to_owned();
    let other = open(&[("about.json", &about(1, 0, 1, b"other")), job]).await;
    assert_eq!(other, Err(ArchiveFault::Damaged { entry: entry() }));
    let fewer = open(&[("about.json", &about(2, 0, 1, lines)), job]).await;
    assert_eq!(fewer, Err(ArchiveFault::Damaged { entry: entry() }));
    let missing = open(&[("about.json", &about(1, 1, 1, lines)), job]).await;
    assert_eq!(
        missing,
        Err(ArchiveFault::Incomplete {
            entry: "about.json".into()
        })
    );
}

#[wasm_bindgen_test]
async fn only_pictures_without_a_cameras_data_come_in() {
    offer_lazy();
    let lines = b"{\"n\":1}\n";
    let about = about(1, 1, 1, lines);
    let open = async |name: &str, bytes: &[u8]| {
        let entries = [
            ("about.json", &about[..]),
            ("job.jsonl", lines),
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
    let copy = prepare_bytes(&PHONE.to_vec().into())
        .await
        .expect("prepared")
        .photo;
    let wrong = format!("photos/{}.jpg", "1".repeat(64));
    let refused = open(&wrong, &copy.bytes.to_vec()).await;
    assert_eq!(
        refused,
        Err(ArchiveFault::Damaged {
            entry: wrong.clone()
        })
    );
    let good = format!("photos/{}.jpg", copy.hash);
    assert!(open(&good, &copy.bytes.to_vec()).await.is_ok());
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
