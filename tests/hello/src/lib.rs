//! The least a Yew page can do: mount, show one line, and say that it is
//! ready. The app's start is measured against this one.

use wasm_bindgen::prelude::wasm_bindgen;
use yew::prelude::*;

fn document() -> Option<web_sys::Document> {
    web_sys::window()?.document()
}

#[component]
fn Hello() -> Html {
    use_effect_with((), |()| {
        if let Some(body) = document().and_then(|document| document.body()) {
            let _ = body.set_attribute("data-ready", "");
        }
    });
    html! { <p>{ "Hello" }</p> }
}

/// Mounts the page.
#[wasm_bindgen(start)]
pub fn start() {
    if let Some(root) = document().and_then(|document| document.get_element_by_id("app")) {
        yew::Renderer::<Hello>::with_root(root).render();
    }
}
