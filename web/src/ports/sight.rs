//! Whether the page can be seen: the last event a phone is sure to send before
//! it may end the page.
use gloo::events::EventListener;
use web_sys::VisibilityState;

/// Calls `tell` with whether the page is hidden, at each change, for as long as
/// the page lives.
pub fn watch(tell: impl Fn(bool) + 'static) {
    let Some(document) = super::js::window().and_then(|w| w.document()) else {
        return;
    };
    let seen = document.clone();
    EventListener::new(&document, "visibilitychange", move |_| {
        tell(seen.visibility_state() == VisibilityState::Hidden);
    })
    .forget();
}
