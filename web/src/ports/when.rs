//! A time as the reader writes it: weekday, day, month, hour and minute, where
//! they are and in their language.
use js_sys::{Date, Object, Reflect};
use wasm_bindgen::JsValue;

/// `ms` since 1970 as local day and time.
pub fn when(ms: i64) -> String {
    let options = Object::new();
    for (key, value) in [
        ("weekday", "short"),
        ("day", "numeric"),
        ("month", "short"),
        ("hour", "2-digit"),
        ("minute", "2-digit"),
    ] {
        // Setting a plain field of a fresh object does not fail.
        let _ = Reflect::set(&options, &key.into(), &value.into());
    }
    let date = Date::new(&JsValue::from_f64(ms as f64));
    let language = super::locale::languages()
        .into_iter()
        .next()
        .unwrap_or_default();
    String::from(date.to_locale_string(&language, &options))
}
