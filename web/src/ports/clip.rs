//! Text onto the clipboard.

use wasm_bindgen::JsValue;

use super::{Pending, js};

/// Copies a text; call straight from a tap. False where the browser does not
/// allow it.
pub fn copy(text: &str) -> Pending<'static, bool> {
    let clipboard = js::window().and_then(|window| js::get(&window.navigator(), "clipboard"));
    let clipboard = clipboard.unwrap_or(JsValue::UNDEFINED);
    // Begun before this returns, while the tap still counts.
    let copying = js::call_now(&clipboard, "writeText", &[text.into()]);
    Box::pin(async move {
        match copying {
            Ok(promise) => js::settle(promise).await.is_ok(),
            Err(_) => false,
        }
    })
}
