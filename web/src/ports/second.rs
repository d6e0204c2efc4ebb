//! The second file of the app's WASM (`web/later.txt`), which boot.js fetches
//! when the first screen stands.

use super::js;

/// Waits until it is there. At once where the WASM was not divided, as in the
/// tests.
pub async fn arrived() {
    let page = js::get(&js_sys::global(), "countback");
    if let Some(whole) = page.and_then(|page| js::get(&page, "whole")) {
        let _ = js::settle(whole).await;
    }
}
