//! Marks on the browser's own time line, for measuring from tap to saved.
use super::js;

pub fn mark(name: &str) {
    if let Some(clock) = js::window().and_then(|w| w.performance()) {
        let _ = clock.mark(name);
    }
}

/// The span from the last `act:tap` to now, named `act:saved`.
pub fn measure_saved() {
    if let Some(clock) = js::window().and_then(|w| w.performance()) {
        let _ = clock.measure_with_start_mark("act:saved", "act:tap");
    }
}
