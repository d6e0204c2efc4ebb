//! What happens after a bug: nothing more is written, a note is left, and a reload is offered.
//! A panic in WASM leaves borrows locked and state half changed, so nothing computed after it may be
//! saved; everything that was acknowledged is on disk and comes back with the reload.
//!
//! Two watch for it. The hook below, which tells what happened and where. And boot.js, from outside:
//! a trap that is no panic, and a stack that ran over, are heard of by no hook.

use std::sync::atomic::{AtomicBool, Ordering};

use countback_core::codec::json::{Map, Writer};
use wasm_bindgen::{JsCast, JsValue};
use web_sys::HtmlDialogElement;

use super::{
    js,
    marker::{BrowserShelf, Shelf},
};

static STOPPED: AtomicBool = AtomicBool::new(false);
const NOTE: &str = "countback.crash";

/// True once a bug was met in this page: every store then refuses to write.
pub fn stopped() -> bool {
    STOPPED.load(Ordering::Relaxed) || page_stop().is_some_and(|stop| js::flag(&stop, "stopped"))
}

/// What boot.js knows of it; none where no page of ours was loaded.
fn page_stop() -> Option<JsValue> {
    if cfg!(not(target_arch = "wasm32")) {
        return None;
    }
    js::get(&js::get(&js_sys::global(), "countback")?, "stop")
}

/// Stops all writing until the page is loaded again. The panic hook calls this; so may code that
/// finds an invariant broken.
pub fn stop_writing() {
    STOPPED.store(true, Ordering::Relaxed);
}

/// What the crash left for the next start.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CrashNote {
    pub message: String,
    /// Source file and line.
    pub place: String,
    /// Milliseconds since 1970 by the browser's clock.
    pub at_ms: u64,
}

/// The words of the notice, given by the app so that wording stays in one place.
#[derive(Clone, Debug)]
pub struct StopNotice {
    pub title: String,
    pub body: String,
    pub reload: String,
}

/// Installs the hook. After a panic the notice is built with plain elements and a link, because no
/// Rust code may be entered again.
pub fn install(notice: StopNotice) {
    if let Some(stop) = page_stop() {
        js::set(&stop, "title", notice.title.as_str());
        js::set(&stop, "body", notice.body.as_str());
        js::set(&stop, "reload", notice.reload.as_str());
    }
    std::panic::set_hook(Box::new(move |info| {
        stop_writing();
        let message = info.payload_as_str().unwrap_or("").to_owned();
        let place = info
            .location()
            .map(|at| format!("{}:{}", at.file(), at.line()));
        let note = CrashNote {
            message,
            place: place.unwrap_or_default(),
            at_ms: js_sys::Date::now() as u64,
        };
        leave(&note);
        web_sys::console::error_1(&format!("{} at {}", note.message, note.place).into());
        show(&notice);
    }));
}

/// The note of the last crash, if there is one; it stays until [`forget`].
pub fn last_crash() -> Option<CrashNote> {
    let text = BrowserShelf.get(NOTE)?;
    let mut map = Map::parse(&text).ok()?;
    Some(CrashNote {
        message: map.text("message").ok()?,
        place: map.text("place").ok()?,
        at_ms: map.whole("at_ms").ok()?.try_into().ok()?,
    })
}

pub fn forget() {
    BrowserShelf.remove(NOTE);
}

fn leave(note: &CrashNote) {
    let text = Writer::object(|w| {
        w.text("message", &note.message);
        w.text("place", &note.place);
        w.number("at_ms", i64::try_from(note.at_ms).unwrap_or(i64::MAX));
    });
    BrowserShelf.set(NOTE, &text);
}

fn show(notice: &StopNotice) {
    let Some(document) = js::window().and_then(|window| window.document()) else {
        return;
    };
    let make = |tag: &str, text: &str| {
        let made = document.create_element(tag).ok()?;
        made.set_text_content(Some(text));
        Some(made)
    };
    let parts = (
        make("dialog", ""),
        make("h1", &notice.title),
        make("p", &notice.body),
        make("a", &notice.reload),
        document.body(),
    );
    let (Some(panel), Some(title), Some(body), Some(link), Some(page)) = parts else {
        return;
    };
    let _ = panel.set_attribute("role", "alertdialog");
    let _ = panel.set_attribute("class", "stop-notice");
    // Above a sheet that may stand open, and not to be put away.
    let _ = panel.set_attribute("aria-label", &notice.title);
    let _ = panel.set_attribute("closedby", "none");
    let _ = link.set_attribute("class", "button button--main");
    let _ = link.set_attribute("href", "");
    for part in [&title, &body, &link] {
        let _ = panel.append_child(part);
    }
    let _ = page.append_child(&panel);
    let _ = panel.unchecked_ref::<HtmlDialogElement>().show_modal();
}
