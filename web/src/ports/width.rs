//! Whether a list and its detail fit side by side.
use gloo::events::EventListener;

/// From here on the bar is a rail: the same width as in the stylesheets.
const WIDE: &str = "(min-width: 56.25rem)";

fn query() -> Option<web_sys::MediaQueryList> {
    super::js::window()?.match_media(WIDE).ok().flatten()
}

/// Whether it is so now; a page without a window is narrow.
pub fn wide() -> bool {
    query().is_some_and(|query| query.matches())
}

/// Calls `tell` when it has changed, for as long as the answer is kept.
pub fn watch(tell: impl Fn() + 'static) -> Option<EventListener> {
    let query = query()?;
    Some(EventListener::new(&query, "change", move |_| tell()))
}
