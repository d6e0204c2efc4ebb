//! A real panic in the page: writing stops, a note is left, a reload is offered. In a file of its
//! own, because the page is of no use afterwards.
#![cfg(target_arch = "wasm32")]
#![allow(clippy::panic, reason = "that is what is tested")]

use countback_web::ports::panic::{self, StopNotice};
use js_sys::Function;
use wasm_bindgen::{JsValue, closure::Closure};
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

wasm_bindgen_test_configure!(run_in_browser);

#[wasm_bindgen_test]
fn a_panic_stops_writing_leaves_a_note_and_offers_a_reload() {
    panic::forget();
    panic::install(StopNotice {
        title: "Stopped".into(),
        body: "What was saved is safe.".into(),
        reload: "Load again".into(),
    });
    assert!(!panic::stopped());
    let bug = Closure::<dyn Fn()>::new(|| panic!("a broken rule"));
    let tried = Function::new_with_args(
        "bug",
        "try { bug(); return 'ran'; } catch { return 'trapped'; }",
    )
    .call1(&JsValue::NULL, bug.as_ref());
    assert_eq!(
        tried.ok().and_then(|told| told.as_string()).as_deref(),
        Some("trapped")
    );
    assert!(panic::stopped());
    let note = panic::last_crash();
    assert_eq!(
        note.as_ref().map(|note| note.message.as_str()),
        Some("a broken rule")
    );
    assert!(note.is_some_and(|note| note.place.contains("crash.rs:") && note.at_ms > 0));
    panic::forget();
    assert_eq!(panic::last_crash(), None);
    let notice = Function::new_no_args(
        "const n = document.querySelector('.stop-notice');
        return [n.getAttribute('role'), n.textContent, n.querySelector('a').getAttribute('href')].join('|')",
    );
    let told = notice
        .call0(&JsValue::NULL)
        .ok()
        .and_then(|told| told.as_string());
    let want = "alertdialog|StoppedWhat was saved is safe.Load again|";
    assert_eq!(told.as_deref(), Some(want));
}
