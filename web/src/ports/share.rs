//! Handing words over: through the phone's share sheet where it takes text, and
//! as a small text file where it does not; and printing the page.

use super::{
    Pending,
    bytes::Bytes,
    files::{FileFault, Handed, ReadyFile},
    js,
};

/// Hands a text over; call straight from a tap, as the share sheet needs one.
/// `name` is the file's, should it become one.
pub fn hand_over_text(
    title: &str,
    text: &str,
    name: &str,
) -> Pending<'static, Result<Handed, FileFault>> {
    let data = js::object([("title", title.into()), ("text", text.into())]);
    let navigator = js::window().map(|window| window.navigator()).into();
    let can = js::call_now(&navigator, "canShare", std::slice::from_ref(&data));
    if !can.is_ok_and(|can| can.is_truthy()) {
        let file = ReadyFile::new(name, "text/plain", &[Bytes::from(text.as_bytes().to_vec())]);
        let done = file.and_then(|file| file.download());
        return Box::pin(async move { done });
    }
    let sharing = js::call_now(&navigator, "share", &[data]);
    Box::pin(async move {
        let settled = match sharing {
            Ok(promise) => js::settle(promise).await,
            Err(error) => Err(error),
        };
        match settled {
            Ok(_) => Ok(Handed::Shared),
            Err(error) => match js::error_name(&error).as_str() {
                "AbortError" => Ok(Handed::Cancelled),
                "NotAllowedError" => Err(FileFault::NeedsTap),
                name => Err(FileFault::Refused { name: name.into() }),
            },
        }
    })
}

/// Opens the browser's own print dialogue. Where there is none, nothing happens.
pub fn print() {
    if let Some(window) = js::window() {
        let _ = window.print();
    }
}
