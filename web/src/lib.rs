//! The Yew app: screens over the folded job. Views hold no rules.

pub mod app;
pub mod kit;
pub mod ports;
pub mod router;
pub mod screens;

/// Puts the app on the page, in place of the words that stood there while it
/// loaded.
#[cfg(target_arch = "wasm32")]
#[wasm_bindgen::prelude::wasm_bindgen(start)]
pub fn start() {
    let document = web_sys::window().and_then(|w| w.document());
    if let Some(place) = document.and_then(|d| d.get_element_by_id("app")) {
        yew::Renderer::<app::App>::with_root(place).render();
    }
}
