//! The Yew app: screens over the folded job. Views hold no rules.

pub mod app;
pub mod kit;
pub mod ports;
pub mod router;
pub mod screens;

/// Begins, and puts the app on the page in place of the words that stand there
/// while it loads.
#[cfg(target_arch = "wasm32")]
#[wasm_bindgen::prelude::wasm_bindgen(start)]
pub fn start() {
    let document = web_sys::window().and_then(|w| w.document());
    if let Some(place) = document.and_then(|d| d.get_element_by_id("app")) {
        app::begin(place);
    }
}
