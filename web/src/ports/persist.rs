//! Whether the browser promises to keep this app's data, and how much there is.
//! The quota that a browser tells is not true, so it is not offered here; the real limit is met as
//! [`super::store::Fault::StorageFull`].

use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;

use super::js;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kept {
    /// The browser will not drop the data to make room.
    Promised,
    /// It may. Only a copy in a file is safe then (it is safer in any case).
    MayBeDropped,
    /// The browser does not say.
    Unknown,
}

/// Asks for the promise; call at every start. Browsers answer without asking the person.
pub async fn ask() -> Kept {
    answer("persist").await
}

/// How it stands, without asking.
pub async fn state() -> Kept {
    answer("persisted").await
}

async fn answer(method: &str) -> Kept {
    let Some(window) = js::window() else {
        return Kept::Unknown;
    };
    let Some(storage) = js::get(&window.navigator(), "storage") else {
        return Kept::Unknown;
    };
    let answer = js::call(&storage, method, &[]).await;
    match answer.ok().as_ref().and_then(JsValue::as_bool) {
        Some(true) => Kept::Promised,
        Some(false) => Kept::MayBeDropped,
        None => Kept::Unknown,
    }
}

/// Bytes that this origin uses, as the browser reckons.
pub async fn used_bytes() -> Option<u64> {
    let storage = js::get(&js::window()?.navigator(), "storage")?;
    let promise = js::call_now(&storage, "estimate", &[]).ok()?;
    let estimate = JsFuture::from(js_sys::Promise::resolve(&promise))
        .await
        .ok()?;
    js::number(&estimate, "usage").map(|bytes| bytes as u64)
}
