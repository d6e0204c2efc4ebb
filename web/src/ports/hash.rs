//! SHA-256 as lower-case hex: of text in Rust, of photo bytes by the browser where they lie.

pub use countback_core::jobfile::sha256_hex;
use js_sys::Uint8Array;
use wasm_bindgen::JsCast;
use wasm_bindgen_futures::JsFuture;

use super::{bytes::Bytes, js};

/// SHA-256 of bytes on either side. `None` when the browser offers no hashing (a page that was not
/// served over HTTPS) and the bytes live in JavaScript.
pub async fn sha256_of(bytes: &Bytes) -> Option<String> {
    if let Some(bytes) = bytes.in_rust() {
        return Some(sha256_hex(bytes));
    }
    let subtle = js::window()?.crypto().ok()?.subtle();
    let promise = subtle
        .digest_with_str_and_buffer_source("SHA-256", &bytes.to_js())
        .ok()?;
    let digest = JsFuture::from(promise).await.ok()?;
    let digest = Uint8Array::new(digest.dyn_ref::<js_sys::ArrayBuffer>()?);
    Some(hex(&digest.to_vec()))
}

fn hex(bytes: &[u8]) -> String {
    let digit = |n: u8| char::from(if n < 10 { b'0' + n } else { b'a' + n - 10 });
    bytes
        .iter()
        .flat_map(|byte| [digit(byte >> 4), digit(byte & 15)])
        .collect()
}
