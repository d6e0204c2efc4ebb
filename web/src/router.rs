//! Where the app is: the routes, their written form in the hash, and the moves between them.
//! A route prints to a hash and parses back to itself. Which route was last is told to a callback; keeping it is
//! another's task. Sheets own history entries of their own (see `kit::sheet`), marked in the entry's state.

mod hash;
mod place;

pub use hash::{decode, encode};
pub use place::{Route, Tab};

use crate::kit::use_local;
use gloo::events::EventListener;
use wasm_bindgen::{JsCast, JsValue};
use yew::prelude::*;

/// The key under which an entry of the browser's history holds how many sheets stand open in it.
const SHEETS: &str = "sheets";
/// The key under which an entry holds how many of our own entries lie before it.
const DEPTH: &str = "depth";

/// The hash now in the address, without its `#`; empty if there is none.
pub fn current_hash() -> String {
    let hash = web_sys::window()
        .and_then(|window| window.location().hash().ok())
        .unwrap_or_default();
    hash.strip_prefix('#').unwrap_or(&hash).to_owned()
}

/// The route now in the address.
pub fn current() -> Route {
    Route::parse(&current_hash())
}

/// Goes to a route as a new entry of the history. If a sheet is open its entry is used up, so that the back button
/// leads to the page under the sheet and not to a sheet that has gone.
pub fn go(route: &Route) {
    let Some(history) = history() else { return };
    let depth = entry_number(DEPTH);
    let state = entry_state(0, depth + 1);
    let href = route.href();
    let moved = if entry_number(SHEETS) > 0 {
        history.replace_state_with_url(&state, "", Some(&href))
    } else {
        history.push_state_with_url(&state, "", Some(&href))
    };
    if moved.is_ok() {
        to_top();
        announce();
    }
}

/// Goes to a route in place of the present entry: for a first screen, or when the present one no longer exists.
pub fn replace(route: &Route) {
    let Some(history) = history() else { return };
    let state = entry_state(0, entry_number(DEPTH));
    if history
        .replace_state_with_url(&state, "", Some(&route.href()))
        .is_ok()
    {
        to_top();
        announce();
    }
}

/// One step back if we came from inside the app, otherwise to `fallback` in place of the present entry.
pub fn back(fallback: &Route) {
    if entry_number(DEPTH) == 0 {
        replace(fallback);
    } else if let Some(history) = history() {
        // A refusal here leaves the person where they are; there is nothing to mend.
        let _ = history.back();
    }
}

/// How many sheets stand open in the present entry.
pub(crate) fn sheets_open() -> u32 {
    entry_number(SHEETS)
}

/// Adds an entry for a sheet on the same address. The back button then takes away that entry, and so the sheet.
pub(crate) fn push_sheet(sheets: u32) {
    if let Some(history) = history() {
        let state = entry_state(sheets, entry_number(DEPTH) + 1);
        // Without the entry the sheet still closes by its button; only the back button would leave the page.
        let _ = history.push_state_with_url(&state, "", None);
    }
}

/// Takes the topmost sheet's entry away; the `popstate` that follows closes the sheet.
pub(crate) fn pop_sheet() {
    if let Some(history) = history() {
        let _ = history.back();
    }
}

/// The route in the address, kept up to date. `remember` hears every route that is shown, the first one too.
#[hook]
pub fn use_route(remember: &Callback<Route>) -> Route {
    let route = use_local(current);
    {
        let route = route.clone();
        use_effect_with((), move |()| {
            // The first entry gets our state, so that only entries made by a link lack it. A reload with a sheet open
            // leaves the sheet's mark on the entry, though the sheet is gone; this takes it off.
            if let Some(history) = history() {
                let _ =
                    history.replace_state_with_url(&entry_state(0, entry_number(DEPTH)), "", None);
            }
            let listeners = web_sys::window().map(|window| {
                let (on_pop, on_hash) = (route.clone(), route.clone());
                (
                    EventListener::new(&window, "hashchange", move |_| {
                        mark_new_entry();
                        on_hash.set(current());
                    }),
                    EventListener::new(&window, "popstate", move |_| on_pop.set(current())),
                )
            });
            // A move between the first drawing and now was heard by nobody.
            if *route != current() {
                route.set(current());
            }
            move || drop(listeners)
        });
    }
    let shown = (*route).clone();
    use_effect_with((shown.clone(), remember.clone()), |(shown, remember)| {
        remember.emit(shown.clone())
    });
    shown
}

fn history() -> Option<web_sys::History> {
    web_sys::window().and_then(|window| window.history().ok())
}

fn entry_state(sheets: u32, depth: u32) -> JsValue {
    let state = js_sys::Object::new();
    // Setting a property on a fresh plain object cannot fail.
    let _ = js_sys::Reflect::set(&state, &SHEETS.into(), &sheets.into());
    let _ = js_sys::Reflect::set(&state, &DEPTH.into(), &depth.into());
    state.into()
}

fn entry_number(key: &str) -> u32 {
    let Some(state) = history().and_then(|history| history.state().ok()) else {
        return 0;
    };
    if !state.is_object() {
        return 0;
    }
    let number = js_sys::Reflect::get(&state, &key.into())
        .ok()
        .and_then(|it| it.as_f64())
        .unwrap_or(0.0);
    if number.is_finite() && number > 0.0 {
        number as u32
    } else {
        0
    }
}

/// A link followed by the browser itself makes an entry without our state: it is one deeper than some entry of ours,
/// so `back` may go back from it.
fn mark_new_entry() {
    let Some(history) = history() else { return };
    if history.state().is_ok_and(|state| state.is_null()) {
        let _ = history.replace_state_with_url(&entry_state(0, 1), "", None);
        to_top();
    }
}

/// `pushState` is silent; this tells `use_route`.
fn announce() {
    if let (Some(window), Ok(event)) = (web_sys::window(), web_sys::Event::new("popstate")) {
        let _ = window.dispatch_event(&event);
    }
}

pub fn to_top() {
    if let Some(window) = web_sys::window() {
        window.scroll_to_with_x_and_y(0.0, 0.0);
    }
}

/// Brings the element of this id to the top of the window and the focus to it.
pub fn lead_to(id: &str) {
    let document = web_sys::window().and_then(|window| window.document());
    let found = document.and_then(|document| document.get_element_by_id(id));
    if let Some(element) = found.and_then(|it| it.dyn_into::<web_sys::HtmlElement>().ok()) {
        element.scroll_into_view();
        let _ = element.focus();
    }
}

/// Closes the sheet that stands on top, as its close button does.
pub fn close_sheet() {
    if sheets_open() > 0 {
        pop_sheet();
    }
}
