//! Small helpers for talking to JavaScript that every port needs.

use js_sys::{Function, Promise, Reflect};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::Window;

pub(super) fn window() -> Option<Window> {
    web_sys::window()
}

/// `error.name`, the only part of a browser error that may be branched on: its text is empty or
/// differs from browser to browser.
pub(super) fn error_name(error: &JsValue) -> String {
    text(error, "name").unwrap_or_else(|| "Error".into())
}

pub(super) fn get(of: &JsValue, name: &str) -> Option<JsValue> {
    if of.is_undefined() || of.is_null() {
        return None;
    }
    Reflect::get(of, &name.into())
        .ok()
        .filter(|value| !value.is_undefined() && !value.is_null())
}

pub(super) fn text(of: &JsValue, name: &str) -> Option<String> {
    get(of, name)?.as_string()
}

pub(super) fn number(of: &JsValue, name: &str) -> Option<f64> {
    get(of, name)?.as_f64()
}

/// True for what JavaScript takes for true.
pub(super) fn flag(of: &JsValue, name: &str) -> bool {
    get(of, name).is_some_and(|value| value.is_truthy())
}

pub(super) fn has(of: &JsValue, name: &str) -> bool {
    get(of, name).is_some()
}

pub(super) fn set(of: &JsValue, name: &str, value: impl Into<JsValue>) {
    // Only ever called on plain objects made here, where setting cannot fail.
    let _ = Reflect::set(of, &name.into(), &value.into());
}

/// A plain object with these members.
pub(super) fn object<const N: usize>(members: [(&str, JsValue); N]) -> JsValue {
    let made = js_sys::Object::new();
    for (name, value) in members {
        set(&made, name, value);
    }
    made.into()
}

/// Calls the method `name` and, when it returns a promise, waits for it.
pub(super) async fn call(of: &JsValue, name: &str, args: &[JsValue]) -> Result<JsValue, JsValue> {
    settle(call_now(of, name, args)?).await
}

/// Calls the method `name` and returns what it returns.
pub(super) fn call_now(of: &JsValue, name: &str, args: &[JsValue]) -> Result<JsValue, JsValue> {
    let method: Function = get(of, name)
        .and_then(|method| method.dyn_into().ok())
        .ok_or_else(|| object([("name", "NotSupportedError".into())]))?;
    method.apply(of, &args.iter().collect())
}

pub(super) async fn settle(value: JsValue) -> Result<JsValue, JsValue> {
    match value.dyn_into::<Promise>() {
        Ok(promise) => JsFuture::from(promise).await,
        Err(value) => Ok(value),
    }
}

/// Resolves after `ms` milliseconds; never, where there is no window to time by.
pub(super) async fn sleep(ms: i32) {
    let promise = Promise::new(&mut |resolve, _| {
        if let Some(window) = window() {
            let _ = window.set_timeout_with_callback_and_timeout_and_arguments_0(&resolve, ms);
        }
    });
    let _ = JsFuture::from(promise).await;
}

/// The first of `work` and a wait of `ms`: `None` when the wait won.
pub(super) async fn within<T>(ms: i32, work: impl Future<Output = T>) -> Option<T> {
    let mut work = std::pin::pin!(work);
    let mut alarm = std::pin::pin!(sleep(ms));
    std::future::poll_fn(|ctx| {
        use std::task::Poll::{Pending, Ready};
        if let Ready(done) = work.as_mut().poll(ctx) {
            return Ready(Some(done));
        }
        match alarm.as_mut().poll(ctx) {
            Ready(()) => Ready(None),
            Pending => Pending,
        }
    })
    .await
}
