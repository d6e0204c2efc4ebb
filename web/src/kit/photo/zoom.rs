//! How close a photograph is seen, and keeping its middle in the middle when that changes.

use super::PhotoPoint;
use web_sys::Element;

/// How close a photograph is seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Zoom {
    One,
    Two,
    Four,
}

impl Zoom {
    pub(super) const fn class(self) -> Option<&'static str> {
        match self {
            Zoom::One => None,
            Zoom::Two => Some("photo__plate--2"),
            Zoom::Four => Some("photo__plate--4"),
        }
    }

    pub(super) const fn nearer(self) -> Option<Zoom> {
        match self {
            Zoom::One => Some(Zoom::Two),
            Zoom::Two => Some(Zoom::Four),
            Zoom::Four => None,
        }
    }

    pub(super) const fn farther(self) -> Option<Zoom> {
        match self {
            Zoom::One => None,
            Zoom::Two => Some(Zoom::One),
            Zoom::Four => Some(Zoom::Two),
        }
    }

    const fn factor(self) -> f64 {
        match self {
            Zoom::One => 1.0,
            Zoom::Two => 2.0,
            Zoom::Four => 4.0,
        }
    }
}

/// Scrolls so that what was in the middle of the window stays there.
pub(super) fn keep_middle(window: &Element, was: Zoom, now: Zoom) {
    if was == now {
        return;
    }
    let ratio = now.factor() / was.factor();
    let moved = |scrolled: i32, shown: i32| {
        let half = f64::from(shown) / 2.0;
        ((f64::from(scrolled) + half) * ratio - half).round() as i32
    };
    let (left, top) = (window.scroll_left(), window.scroll_top());
    window.set_scroll_left(moved(left, window.client_width()));
    window.set_scroll_top(moved(top, window.client_height()));
}

/// The point of the photograph in the middle of the window.
pub(super) fn middle(window: &Element) -> PhotoPoint {
    let fraction = |scrolled: i32, shown: i32, whole: i32| {
        (f64::from(scrolled) + f64::from(shown) / 2.0) / f64::from(whole.max(1))
    };
    PhotoPoint::from_fractions(
        fraction(
            window.scroll_left(),
            window.client_width(),
            window.scroll_width(),
        ),
        fraction(
            window.scroll_top(),
            window.client_height(),
            window.scroll_height(),
        ),
    )
}
