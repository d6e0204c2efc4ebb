//! A photograph with its numbered marks: zoom by buttons, marks as buttons, and a way to set a mark without a finger.

mod mark;
mod shot;
mod thumb;
mod zoom;

pub use mark::PhotoMark;
pub use shot::Shot;
pub use thumb::{Thumb, Thumbs};

use super::{Button, Glyph, GlyphSize, Icon, Readiness};
use crate::kit::use_local;
use implicit_clone::unsync::IArray;
use mark::MarkButton;
use web_sys::{Element, HtmlElement};
use yew::prelude::*;
use zoom::{Zoom, keep_middle, middle};

/// A point on a photograph, in thousandths of its width and height from the top left.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PhotoPoint {
    pub x: u16,
    pub y: u16,
}

impl PhotoPoint {
    /// From fractions of width and height; what lies outside is drawn to the edge.
    pub fn from_fractions(x: f64, y: f64) -> PhotoPoint {
        let thousandths = |fraction: f64| (fraction.clamp(0.0, 1.0) * 1000.0).round() as u16;
        PhotoPoint {
            x: thousandths(x),
            y: thousandths(y),
        }
    }
}

/// Properties of [`PhotoView`].
#[derive(Properties, PartialEq)]
pub struct PhotoView {
    /// The picture, or how it stands.
    pub src: Shot,
    /// What is seen: "Alternator from above".
    pub alt: AttrValue,
    #[prop_or_default]
    pub marks: IArray<PhotoMark>,
    #[prop_or_default]
    pub onmark: Callback<u16>,
    /// Given while a mark is to be set: called with where.
    #[prop_or_default]
    pub onplace: Option<Callback<PhotoPoint>>,
}

/// A photograph with marks.
#[hook]
fn use_photo_view(props: &PhotoView) -> Html {
    let window = use_node_ref();
    let zoom = use_local(|| Zoom::One);
    {
        let window = window.clone();
        let before = use_mut_ref(|| Zoom::One);
        use_effect_with(*zoom, move |zoom| {
            let was = before.replace(*zoom);
            if let Some(window) = window.cast::<Element>() {
                keep_middle(&window, was, *zoom);
            }
        });
    }
    let Shot::There(src) = &props.src else {
        return not_shown(&props.alt, &props.src);
    };
    let onclick = props.onplace.clone().map(|onplace| {
        Callback::from(move |event: MouseEvent| {
            if let Some(plate) = event.target_dyn_into::<HtmlElement>() {
                let area = plate.get_bounding_client_rect();
                if area.width() > 0.0 && area.height() > 0.0 {
                    onplace.emit(PhotoPoint::from_fractions(
                        (f64::from(event.client_x()) - area.left()) / area.width(),
                        (f64::from(event.client_y()) - area.top()) / area.height(),
                    ));
                }
            }
        })
    });
    let marks = props.marks.iter().map(|mark| {
        let number = mark.number;
        html! {
            { part!(key: number; MarkButton { mark: mark.clone(), onpress: props.onmark.reform(move |()| number) }) }
        }
    });
    let to = |step: Option<Zoom>| {
        let zoom = zoom.clone();
        (
            if step.is_some() {
                Readiness::Ready
            } else {
                Readiness::Blocked("No further".into())
            },
            Callback::from(move |()| {
                if let Some(step) = step {
                    zoom.set(step)
                }
            }),
        )
    };
    let (can_in, zoom_in) = to(zoom.nearer());
    let (can_out, zoom_out) = to(zoom.farther());
    let in_middle = props.onplace.clone().map(|onplace| {
        let window = window.clone();
        let onpress = move |()| {
            if let Some(window) = window.cast::<Element>() {
                onplace.emit(middle(&window));
            }
        };
        html! { { part!(Button { label: "Mark the middle", icon: Icon::Place, onpress: onpress }) } }
    });
    html! {
        <div class="photo">
            <div class="photo__window" ref={window} tabindex="0" role="group" aria-label={props.alt.clone()}>
                <div class={classes!("photo__plate", zoom.class())}>
                    <img class="photo__image" src={src.clone()} alt={props.alt.clone()} decoding="async" {onclick} />
                    { for marks }
                </div>
            </div>
            <div class="photo__tools">
                { part!(Button { label: "Closer", icon: Icon::ZoomIn, readiness: can_in, onpress: zoom_in }) }
                { part!(Button { label: "Whole", icon: Icon::ZoomOut, readiness: can_out, onpress: zoom_out }) }
                { in_middle }
            </div>
        </div>
    }
}

crate::live!(PhotoView, use_photo_view);

/// What stands where the photograph is not shown, or not yet.
fn not_shown(alt: &AttrValue, shot: &Shot) -> Html {
    html! {
        <div class="photo">
            <div class="photo__window">
                <div class="photo__gone">
                    { part!(Glyph { icon: Icon::Photo, size: GlyphSize::Large }) }
                    <p>{ alt.clone() }</p>
                    <p>{ shot.said() }</p>
                </div>
            </div>
        </div>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_point_never_leaves_the_photo() {
        assert_eq!(
            PhotoPoint::from_fractions(0.25, 0.5),
            PhotoPoint { x: 250, y: 500 }
        );
        assert_eq!(
            PhotoPoint::from_fractions(-3.0, 9.0),
            PhotoPoint { x: 0, y: 1000 }
        );
        assert_eq!(
            PhotoPoint::from_fractions(f64::NAN, 1.0),
            PhotoPoint { x: 0, y: 1000 }
        );
    }
}
