//! The smaller doors in a real browser: locks, news between tabs, files, device number, number
//! style, persistence, wake lock, pending shots.

use std::{cell::RefCell, rc::Rc};

use countback_web::ports::{
    ask::{Wanted, ask},
    clock::Clock,
    device::{device_id, random_u64},
    files::{Handed, ReadyFile, Way, ask_for_file, opened},
    locale::{NumberStyle, languages},
    lock::{JobLock, JobNews},
    marker::MemoryShelf,
    persist,
    photo::{PendingShot, Source, not_arrived, shoot},
    store::MemoryStore,
    wake::Wake,
};
use js_sys::{Function, Promise};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use wasm_bindgen_test::wasm_bindgen_test;

async fn js(code: &str) -> JsValue {
    let run = Function::new_no_args(&format!("return (async () => {{ {code} }})()"));
    let promise: Promise = run.call0(&JsValue::NULL).expect("runs").unchecked_into();
    JsFuture::from(promise).await.expect("settles")
}

async fn pause() {
    js("await new Promise(next => setTimeout(next, 30))").await;
}

#[wasm_bindgen_test]
async fn one_writer_a_job_and_the_next_when_it_lets_go() {
    let first = JobLock::take("a").await.expect("locks").expect("free");
    assert!(JobLock::take("a").await.expect("locks").is_none());
    let other = JobLock::take("b")
        .await
        .expect("locks")
        .expect("another job is free");
    assert_eq!(other.job(), "b");
    let told = Rc::new(RefCell::new(false));
    let tell = told.clone();
    wasm_bindgen_futures::spawn_local(async move {
        let _lock = JobLock::wait("a").await.expect("locks");
        tell.replace(true);
        pause().await;
    });
    pause().await;
    assert!(!*told.borrow(), "it waits while the lock is held");
    drop(first);
    pause().await;
    assert!(*told.borrow());
    pause().await;
    pause().await;
    assert!(
        JobLock::take("a").await.expect("locks").is_some(),
        "freed after the waiting one"
    );
}

#[wasm_bindgen_test]
async fn another_tab_that_holds_the_lock_is_seen() {
    // Held by plain JavaScript, as another tab would.
    js(
        "navigator.locks.request('countback.job.c', () => new Promise(go => globalThis.go = go));
        await new Promise(next => setTimeout(next, 30))",
    )
    .await;
    assert!(JobLock::take("c").await.expect("locks").is_none());
    js("globalThis.go()").await;
    pause().await;
    assert!(JobLock::take("c").await.expect("locks").is_some());
}

#[wasm_bindgen_test]
async fn news_reach_the_other_tab_and_not_this_one() {
    let heard: Rc<RefCell<Vec<String>>> = Rc::default();
    let (one, two) = (heard.clone(), heard.clone());
    let here = JobNews::open(move |job| one.borrow_mut().push(format!("here {job}")));
    let there = JobNews::open(move |job| two.borrow_mut().push(format!("there {job}")));
    here.expect("channel").tell("job-a");
    pause().await;
    assert_eq!(*heard.borrow(), ["there job-a"]);
    drop(there);
}

#[wasm_bindgen_test]
async fn a_device_keeps_its_number() {
    let store = MemoryStore::new();
    let first = device_id(&store, None).await.expect("number");
    assert_eq!(device_id(&store, None).await, Ok(first));
    assert_ne!(device_id(&MemoryStore::new(), None).await, Ok(first));
    let found = format!("{first:016x}");
    assert_eq!(device_id(&MemoryStore::new(), Some(found)).await, Ok(first));
    assert_ne!(random_u64(), random_u64());
}

#[wasm_bindgen_test]
fn the_clock_agrees_with_the_browser_and_does_not_go_back() {
    let clock = Clock::start();
    let (one, browser, two) = (clock.now_ms(), js_sys::Date::now() as u64, clock.now_ms());
    assert!(one.abs_diff(browser) < 1000 && one <= two);
}

// Source: Unicode CLDR number symbols for these languages (memory).
#[wasm_bindgen_test]
fn number_style_follows_the_language() {
    let style = |decimal, group| NumberStyle {
        decimal,
        group: Some(group),
    };
    assert_eq!(NumberStyle::of_language("en-GB"), style('.', ','));
    assert_eq!(NumberStyle::of_language("de-DE"), style(',', '.'));
    assert_eq!(NumberStyle::of_language("fr-FR"), style(',', '\u{202f}'));
    assert!(!languages().is_empty());
}

#[wasm_bindgen_test]
async fn a_file_goes_out_as_a_download_where_nothing_can_be_shared() {
    js("globalThis.clicked = [];
        const plain = HTMLAnchorElement.prototype.click;
        globalThis.unclick = () => { HTMLAnchorElement.prototype.click = plain; };
        HTMLAnchorElement.prototype.click = function () {
            globalThis.clicked.push(this.download);
            globalThis.content = fetch(this.href).then(answer => answer.text()); };
        Object.defineProperty(navigator, 'canShare', { value: () => false, configurable: true })")
    .await;
    let parts = [b"one ".to_vec().into(), b"two".to_vec().into()];
    let file = ReadyFile::new("job.zip", "application/zip", &parts).expect("file");
    assert_eq!(file.way(), Way::Download);
    assert_eq!(file.hand_over().await, Ok(Handed::Downloading));
    let told =
        js("globalThis.unclick(); return globalThis.clicked.join() + ': ' + await content").await;
    assert_eq!(told.as_string().as_deref(), Some("job.zip: one two"));
}

#[wasm_bindgen_test]
async fn sharing_offers_the_real_file_and_a_closed_sheet_is_no_copy() {
    js("globalThis.answer = null;
        const put = (name, value) => Object.defineProperty(navigator, name, { value, configurable: true });
        put('canShare', data => data.files[0].type === 'application/zip');
        put('share', async data => {
            globalThis.shared = data.files[0].name;
            if (globalThis.answer) throw new DOMException('', globalThis.answer); })")
    .await;
    let parts = [b"x".to_vec().into()];
    let file = ReadyFile::new("job.zip", "application/zip", &parts).expect("file");
    assert_eq!(file.way(), Way::Share);
    assert_eq!(file.hand_over().await, Ok(Handed::Shared));
    assert_eq!(
        js("return globalThis.shared").await.as_string().as_deref(),
        Some("job.zip")
    );
    js("globalThis.answer = 'AbortError'").await;
    assert_eq!(file.hand_over().await, Ok(Handed::Cancelled));
    js("globalThis.answer = 'NotAllowedError'").await;
    assert!(file.hand_over().await.is_err());
    js("Object.defineProperty(navigator, 'canShare', { value: () => false, configurable: true })")
        .await;
}

/// Makes the next file input answer by itself instead of opening the system's picker.
async fn answer_picker(code: &str) {
    js(&format!(
        "const plain = HTMLInputElement.prototype.click;
        HTMLInputElement.prototype.click = function () {{
            HTMLInputElement.prototype.click = plain;
            globalThis.asked = [this.type, this.accept, this.getAttribute('capture'), this.multiple].join('|');
            const choose = (...files) => {{
                const all = new DataTransfer(); files.forEach(file => all.items.add(file));
                this.files = all.files; this.dispatchEvent(new Event('change')); }};
            setTimeout(() => {{ {code} }}, 10); }}"
    ))
    .await;
}

#[wasm_bindgen_test]
async fn a_chosen_file_is_read_and_a_large_one_is_not() {
    answer_picker("choose(new File(['hello'], 'job.zip'))").await;
    let asking = ask_for_file(".zip").expect("page");
    let file = opened(asking, 100).await.expect("read").expect("chosen");
    assert_eq!(
        (file.name.as_str(), file.bytes.to_vec()),
        ("job.zip", b"hello".to_vec())
    );
    answer_picker("choose(new File(['hello'], 'job.zip'))").await;
    assert!(
        opened(ask_for_file(".zip").expect("page"), 4)
            .await
            .is_err()
    );
    answer_picker("this.dispatchEvent(new Event('cancel'))").await;
    assert_eq!(
        opened(ask_for_file(".zip").expect("page"), 4).await,
        Ok(None)
    );
}

#[wasm_bindgen_test]
async fn the_camera_is_asked_for_and_the_shot_is_pending_before_it_opens() {
    let shelf = MemoryShelf::default();
    let shot = PendingShot {
        job: "job-a".into(),
        subject: "water pump".into(),
        route: "#/off".into(),
        draft: "{}".into(),
    };
    answer_picker("choose(new File(['x'], 'photo.jpg'))").await;
    let shooting = shoot(Rc::new(shelf.clone()), Source::Camera, &shot).expect("page");
    // At once, in the tap itself: the page may be gone in the next instant.
    assert_eq!(not_arrived(&shelf), Some(shot.clone()));
    assert_eq!(shooting.files().await.len(), 1);
    let asked = js("return globalThis.asked").await;
    assert_eq!(
        asked.as_string().as_deref(),
        Some("file|image/*|environment|false")
    );
    assert_eq!(
        not_arrived(&shelf),
        Some(shot.clone()),
        "until it is stored"
    );
    answer_picker("this.dispatchEvent(new Event('cancel'))").await;
    let shooting = shoot(Rc::new(shelf.clone()), Source::Camera, &shot).expect("page");
    assert!(shooting.files().await.is_empty());
    assert_eq!(not_arrived(&shelf), None);
}

#[wasm_bindgen_test]
async fn the_picker_takes_several_and_leaves_nothing_in_the_page() {
    answer_picker("choose(new File(['x'], 'a'), new File(['y'], 'b'))").await;
    let wanted = Wanted {
        accept: "image/*",
        camera: false,
        many: true,
    };
    assert_eq!(ask(wanted).expect("page").chosen().await.len(), 2);
    let left = js("return document.querySelectorAll('input[type=file]').length").await;
    assert_eq!(left.as_f64(), Some(0.0));
}

#[wasm_bindgen_test]
async fn persistence_is_told_as_the_browser_answers_it() {
    let said = js("return await navigator.storage.persisted()")
        .await
        .as_bool();
    let kept = persist::state().await;
    assert_eq!(said, Some(kept == persist::Kept::Promised));
    js("navigator.storage.persist = async () => true").await;
    assert_eq!(persist::ask().await, persist::Kept::Promised);
    js("delete navigator.storage.persist").await;
    assert!(persist::used_bytes().await.is_some());
}

#[wasm_bindgen_test]
async fn the_wake_lock_is_asked_for_again_when_the_page_comes_back() {
    js("globalThis.locks = [];
        const request = async () => {
            const lock = { release: async () => lock.onrelease() }; locks.push(lock); return lock; };
        Object.defineProperty(navigator, 'wakeLock', { value: { request }, configurable: true })")
    .await;
    assert!(Wake::is_possible());
    let told: Rc<RefCell<Vec<bool>>> = Rc::default();
    let tell = told.clone();
    let wake = Wake::new(move |on| tell.borrow_mut().push(on));
    assert!(wake.on().await);
    // The browser takes it away with the page, and the page comes back.
    js("locks[0].onrelease(); document.dispatchEvent(new Event('visibilitychange'))").await;
    pause().await;
    assert_eq!(js("return locks.length").await.as_f64(), Some(2.0));
    wake.off().await;
    js("document.dispatchEvent(new Event('visibilitychange'))").await;
    pause().await;
    assert_eq!(
        js("return locks.length").await.as_f64(),
        Some(2.0),
        "not when it is off"
    );
    assert_eq!(told.borrow().first(), Some(&true));
    assert_eq!(told.borrow().last(), Some(&false));
}
