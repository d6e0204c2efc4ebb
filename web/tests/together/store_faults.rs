//! What the browser's store does when the browser misbehaves: loss, other tabs, newer builds, lost
//! connections, full disks, damaged bytes. Faults are put in with test JavaScript around IndexedDB.

use std::{cell::RefCell, rc::Rc};

use crate::rows::{act, acts, photo};
use countback_web::ports::{
    marker::{BrowserShelf, MemoryShelf, Shelf},
    store::{
        Batch, BrowserStore, Damaged, Fault, First, LostJob, Opened, Opening, Store, StoreEvent,
        verify_job,
    },
};
use js_sys::{Function, Promise};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use wasm_bindgen_test::wasm_bindgen_test;

async fn js(code: &str, a: &str) -> JsValue {
    const TOOLS: &str = "
        const ended = request => new Promise((yes, no) => {
            request.onsuccess = () => yes(request.result); request.onerror = () => no(request.error); });
        const open = (name, version) => ended(indexedDB.open(name, version));
        const write = (db, work) => new Promise((yes, no) => {
            const tx = db.transaction([...db.objectStoreNames], 'readwrite');
            tx.oncomplete = yes; tx.onabort = () => no(tx.error); work(tx); });";
    let code = format!("return (async () => {{ {TOOLS} {code} }})()");
    let run = Function::new_with_args("a", &code);
    let promise: Promise = run
        .call1(&JsValue::NULL, &a.into())
        .expect("runs")
        .unchecked_into();
    JsFuture::from(promise).await.expect("settles")
}

type Told = Rc<RefCell<Vec<StoreEvent>>>;

async fn open(name: &str, shelf: &MemoryShelf) -> (Opened, Told) {
    let told = Told::default();
    let tell = told.clone();
    let opened = BrowserStore::open(
        name,
        Rc::new(shelf.clone()),
        First::default(),
        move |event| tell.borrow_mut().push(event),
    );
    (opened.await.expect("opens"), told)
}

#[wasm_bindgen_test]
async fn every_writing_transaction_is_strict_by_the_browsers_own_word() {
    let patch = "
        const plain = IDBDatabase.prototype.transaction; globalThis.seen = [];
        globalThis.restore = () => { IDBDatabase.prototype.transaction = plain; };
        IDBDatabase.prototype.transaction = function (...all) {
            const tx = plain.apply(this, all);
            if (tx.mode !== 'readonly') globalThis.seen.push(tx.durability);
            return tx; };";
    js(patch, "").await;
    let (opened, _) = open("strict", &MemoryShelf::default()).await;
    let store = opened.store;
    let batch = Batch {
        photos: vec![photo("p")],
        ..acts(1, 2)
    };
    store.write_and_read_back().await.expect("writable");
    store.commit(batch).await.expect("commit");
    store.put_setting("a", "b").await.expect("put");
    store.setting_or("c", "d").await.expect("put");
    store.delete_job("job-a", &[]).await.expect("delete");
    let seen = js("globalThis.restore(); return globalThis.seen.join()", "").await;
    // The write test, and one for each of the four writes.
    assert_eq!(
        seen.as_string().as_deref(),
        Some("strict,strict,strict,strict,strict")
    );
}

#[wasm_bindgen_test]
async fn a_first_run_a_known_store_and_a_vanished_one_are_told_apart() {
    let shelf = MemoryShelf::default();
    let (opened, _) = open("vanish", &shelf).await;
    assert_eq!(opened.opening, Opening::FirstRun);
    assert!(
        opened
            .store
            .commit(acts(1, 5))
            .await
            .expect("commit")
            .marked
    );
    drop(opened);
    let (opened, _) = open("vanish", &shelf).await;
    assert_eq!(opened.opening, Opening::Known { jobs: 1 });
    drop(opened);
    js("await ended(indexedDB.deleteDatabase(a))", "vanish").await;
    let (opened, _) = open("vanish", &shelf).await;
    let lost = LostJob {
        job: "job-a".into(),
        had: 5,
        have: 0,
        missing: 5,
    };
    assert_eq!(
        opened.opening,
        Opening::Lost {
            jobs: vec![lost.clone()]
        }
    );
    drop(opened);
    // It stays lost until the person has read it.
    let (opened, _) = open("vanish", &shelf).await;
    assert_eq!(opened.opening, Opening::Lost { jobs: vec![lost] });
    opened.store.accept_loss("job-a").await.expect("accepted");
    drop(opened);
    assert_eq!(open("vanish", &shelf).await.0.opening, Opening::FirstRun);
}

#[wasm_bindgen_test]
async fn a_cut_tail_is_told_by_its_number_of_entries() {
    let shelf = MemoryShelf::default();
    let (opened, _) = open("tail", &shelf).await;
    opened.store.commit(acts(1, 3)).await.expect("commit");
    let before: Vec<_> = opened.store.jobs().await.expect("jobs");
    opened.store.commit(acts(4, 5)).await.expect("commit");
    drop(opened);
    // A clean prefix, as a browser leaves it after its log was cut: the last batch never happened.
    let cut = format!(
        "const db = await open(a); await write(db, tx => {{
            for (const key of ['{}', '{}']) tx.objectStore('acts').delete(['job-a', key]);
            tx.objectStore('heads').put({{ job: 'job-a', count: 3, head: '{}', first: '', last: '' }}, 'job-a');
        }}); db.close();",
        act(4).key,
        act(5).key,
        before[0].head
    );
    js(&cut, "tail").await;
    let (opened, _) = open("tail", &shelf).await;
    let lost = LostJob {
        job: "job-a".into(),
        had: 5,
        have: 3,
        missing: 2,
    };
    assert_eq!(opened.opening, Opening::Lost { jobs: vec![lost] });
    assert_eq!(
        verify_job(&opened.store, "job-a").await,
        Ok(()),
        "what is left is sound"
    );
}

#[wasm_bindgen_test]
async fn a_missing_row_and_a_changed_line_are_found() {
    let (opened, _) = open("holes", &MemoryShelf::default()).await;
    let store = opened.store;
    store.commit(acts(1, 5)).await.expect("commit");
    assert_eq!(verify_job(&store, "job-a").await, Ok(()));
    let damaged = Err(Fault::Corrupt {
        what: Damaged::Job {
            job: "job-a".into(),
        },
    });
    let change = format!(
        "const db = await open(a); await write(db, tx => tx.objectStore('acts')
            .put({{ key: '{0}', seq: 2, line: 'other' }}, ['job-a', '{0}'])); db.close();",
        act(2).key
    );
    js(&change, "holes").await;
    assert_eq!(verify_job(&store, "job-a").await, damaged);
    let remove = format!(
        "const db = await open(a); await write(db, tx =>
            tx.objectStore('acts').delete(['job-a', '{}'])); db.close();",
        act(2).key
    );
    js(&remove, "holes").await;
    assert_eq!(store.rows("job-a").await.expect("rows").missing, 1);
    assert_eq!(verify_job(&store, "job-a").await, damaged);
}

#[wasm_bindgen_test]
async fn a_damaged_photo_is_named_and_the_job_stays_readable() {
    let (opened, _) = open("photo", &MemoryShelf::default()).await;
    let store = opened.store;
    let picture = photo("good");
    let batch = Batch {
        photos: vec![picture.clone()],
        ..acts(1, 1)
    };
    store.commit(batch).await.expect("commit");
    let harm = format!(
        "const db = await open(a); await write(db, tx => tx.objectStore('photos').put(
            {{ hash: '{0}', mime: 'image/jpeg', bytes: new Uint8Array([1, 2]).buffer }}, '{0}')); db.close();",
        picture.hash
    );
    js(&harm, "photo").await;
    let what = Damaged::Photo {
        hash: picture.hash.clone(),
    };
    assert_eq!(
        store.photo(&picture.hash).await,
        Err(Fault::Corrupt { what })
    );
    assert_eq!(store.rows("job-a").await.expect("rows").rows, [act(1)]);
}

#[wasm_bindgen_test]
async fn a_newer_build_in_another_tab_closes_this_one() {
    let (opened, told) = open("upgrade", &MemoryShelf::default()).await;
    opened.store.commit(acts(1, 1)).await.expect("commit");
    js("(await open(a, 7)).close()", "upgrade").await;
    assert_eq!(*told.borrow(), [StoreEvent::ReloadWanted]);
    assert_eq!(opened.store.commit(acts(2, 2)).await, Err(Fault::Closed));
    assert_eq!(opened.store.jobs().await, Err(Fault::Closed));
    drop(opened);
    // This build on the newer database: it reads, and refuses to write.
    let (opened, _) = open("upgrade", &MemoryShelf::default()).await;
    assert!(opened.store.is_newer());
    assert_eq!(
        opened.store.write_and_read_back().await,
        Err(Fault::NewerVersion)
    );
    assert_eq!(
        opened.store.rows("job-a").await.expect("rows").rows,
        [act(1)]
    );
    assert_eq!(
        opened.store.commit(acts(2, 2)).await,
        Err(Fault::NewerVersion)
    );
}

/// Keeps a handle on the store's own connection, to break it.
const SPY: &str = "
    const plain = IDBDatabase.prototype.transaction;
    IDBDatabase.prototype.transaction = function (...all) {
        globalThis.connection = this; return plain.apply(this, all); };
    globalThis.unspy = () => { IDBDatabase.prototype.transaction = plain; };";

#[wasm_bindgen_test]
async fn a_dropped_connection_is_opened_again_and_the_write_goes_through_once() {
    js(SPY, "").await;
    let (opened, told) = open("dropped", &MemoryShelf::default()).await;
    opened.store.commit(acts(1, 1)).await.expect("commit");
    js("globalThis.connection.close()", "").await;
    let ack = opened
        .store
        .commit(acts(2, 2))
        .await
        .expect("commit after reopening");
    assert_eq!((ack.last_seq, ack.replayed), (2, false));
    js("globalThis.connection.close()", "").await;
    assert_eq!(opened.store.probe().await, Ok(()));
    js("globalThis.unspy()", "").await;
    assert!(told.borrow().is_empty());
    assert_eq!(verify_job(&opened.store, "job-a").await, Ok(()));
}

#[wasm_bindgen_test]
async fn a_database_that_was_cleared_is_not_made_anew_under_the_page() {
    js(SPY, "").await;
    let (opened, told) = open("cleared", &MemoryShelf::default()).await;
    opened.store.commit(acts(1, 1)).await.expect("commit");
    js(
        "globalThis.connection.close(); await ended(indexedDB.deleteDatabase(a))",
        "cleared",
    )
    .await;
    assert_eq!(opened.store.commit(acts(2, 2)).await, Err(Fault::Gone));
    assert_eq!(*told.borrow(), [StoreEvent::ConnectionLost]);
    let left = "globalThis.unspy();
        return (await indexedDB.databases()).filter(db => db.name === a).length";
    assert_eq!(js(left, "cleared").await.as_f64(), Some(0.0));
}

#[wasm_bindgen_test]
async fn an_abort_after_every_request_succeeded_is_not_a_save() {
    let (opened, _) = open("late-abort", &MemoryShelf::default()).await;
    opened.store.commit(acts(1, 1)).await.expect("commit");
    // Aborts in the success event of the last put, as a full disk does.
    let patch = "
        const plain = IDBObjectStore.prototype.put;
        globalThis.unput = () => { IDBObjectStore.prototype.put = plain; };
        IDBObjectStore.prototype.put = function (...all) {
            const request = plain.apply(this, all), tx = this.transaction;
            request.addEventListener('success', () => tx.abort());
            return request; };";
    js(patch, "").await;
    let picture = photo("with it");
    let batch = Batch {
        photos: vec![picture.clone()],
        ..acts(2, 3)
    };
    let failed = opened.store.commit(batch).await;
    js("globalThis.unput()", "").await;
    assert!(failed.is_err(), "{failed:?}");
    assert_eq!(
        opened.store.rows("job-a").await.expect("rows").rows,
        [act(1)]
    );
    assert_eq!(opened.store.photo(&picture.hash).await, Ok(None));
    assert_eq!(opened.store.jobs().await.expect("jobs")[0].count, 1);
}

#[wasm_bindgen_test]
async fn a_full_disk_is_named_and_leaves_nothing_half_written() {
    let (opened, _) = open("full", &MemoryShelf::default()).await;
    // A refusal in the middle of the batch, by the name that browsers use.
    let patch = "
        const plain = IDBObjectStore.prototype.add; let left = 3;
        globalThis.unadd = () => { IDBObjectStore.prototype.add = plain; };
        IDBObjectStore.prototype.add = function (...all) {
            if (--left < 0) throw new DOMException('', 'QuotaExceededError');
            return plain.apply(this, all); };";
    js(patch, "").await;
    let failed = opened.store.commit(acts(1, 5)).await;
    js("globalThis.unadd()", "").await;
    assert_eq!(failed, Err(Fault::StorageFull));
    assert!(
        opened
            .store
            .rows("job-a")
            .await
            .expect("rows")
            .rows
            .is_empty()
    );
    assert_eq!(
        opened
            .store
            .commit(acts(1, 5))
            .await
            .map(|ack| ack.last_seq),
        Ok(5)
    );
}

#[wasm_bindgen_test]
async fn the_browsers_shelf_keeps_marks_apart_from_other_texts() {
    let shelf = BrowserShelf;
    assert!(shelf.set("other", "text"));
    let opened = BrowserStore::open("shelf", Rc::new(shelf), First::default(), |_| {})
        .await
        .expect("opens");
    opened.store.commit(acts(1, 2)).await.expect("commit");
    drop(opened);
    js("await ended(indexedDB.deleteDatabase(a))", "shelf").await;
    let opened = BrowserStore::open("shelf", Rc::new(shelf), First::default(), |_| {})
        .await
        .expect("opens");
    let lost = LostJob {
        job: "job-a".into(),
        had: 2,
        have: 0,
        missing: 2,
    };
    assert_eq!(opened.opening, Opening::Lost { jobs: vec![lost] });
}

#[wasm_bindgen_test]
async fn what_another_tab_wrote_is_seen_before_anything_is_written_over_it() {
    let shelf = MemoryShelf::default();
    let (here, _) = open("two-tabs", &shelf).await;
    here.store.commit(acts(1, 2)).await.expect("commit");
    let (there, _) = open("two-tabs", &shelf).await;
    there.store.commit(acts(3, 3)).await.expect("commit");
    // This tab still believes that two acts are there.
    let mut late = acts(3, 3);
    late.rows[0].key = "late".into();
    late.put_draft = Some(crate::rows::draft("job-a/late", "text"));
    let refused = here.store.commit(late).await;
    assert_eq!(
        refused,
        Err(Fault::OutOfOrder {
            expected: 4,
            found: 3
        })
    );
    assert_eq!(here.store.drafts("").await, Ok(vec![]));
    here.store.commit(acts(4, 4)).await.expect("commit");
    assert_eq!(verify_job(&there.store, "job-a").await, Ok(()));
    // The same act from both tabs is one act.
    assert!(
        there
            .store
            .commit(acts(4, 4))
            .await
            .expect("commit")
            .replayed
    );
    there.store.delete_job("job-a", &[]).await.expect("delete");
    let refused = here.store.commit(acts(5, 5)).await;
    assert_eq!(
        refused,
        Err(Fault::OutOfOrder {
            expected: 1,
            found: 5
        })
    );
    assert_eq!(here.store.rows("job-a").await.expect("rows").rows, []);
}

/// Prints what it took (with --nocapture); the bound itself is the bench's affair.
#[wasm_bindgen_test]
async fn ten_thousand_acts_are_written_and_come_back_whole() {
    let (opened, _) = open("many", &MemoryShelf::default()).await;
    let mut batch = acts(1, 10_000);
    for row in &mut batch.rows {
        row.line = format!(r#"{{"n":{},"text":"{}"}}"#, row.seq, "x".repeat(280));
    }
    let clock = || js_sys::Date::now();
    let start = clock();
    opened.store.commit(batch.clone()).await.expect("commit");
    let written = clock();
    let rows = opened.store.rows("job-a").await.expect("rows").rows;
    let read = clock();
    assert_eq!(rows, batch.rows);
    let before = clock();
    for n in 10_001..=10_100 {
        opened.store.commit(acts(n, n)).await.expect("commit");
    }
    let one = (clock() - before) / 100.0;
    let bare = "
        const db = await open(a); const start = performance.now();
        for (let n = 0; n < 100; n++) await new Promise((yes, no) => {
            const tx = db.transaction('settings', 'readwrite', { durability: 'strict' });
            tx.objectStore('settings').put('x'.repeat(300), 'bare'); tx.oncomplete = yes; tx.onabort = no; });
        db.close(); return (performance.now() - start) / 100;";
    let bare = js(bare, "many").await.as_f64().expect("number");
    let (written, read) = (written - start, read - written);
    let told = format!(
        "10,000 acts of 300 bytes: written in {written} ms, read in {read} ms; \
         then one act {one:.2} ms, a bare strict put {bare:.2} ms"
    );
    web_sys::console::log_1(&told.into());
}
