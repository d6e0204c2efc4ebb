//! One numbered mark on a photograph.

use super::PhotoPoint;
use implicit_clone::ImplicitClone;
use web_sys::HtmlElement;
use yew::prelude::*;

/// A mark: its number, where it sits and what it points at.
#[derive(Clone, Debug, PartialEq)]
pub struct PhotoMark {
    pub number: u16,
    pub point: PhotoPoint,
    /// What it points at: "upper bolt, M8".
    pub name: AttrValue,
    /// What tells it from its neighbours, shown below its number: "35 mm".
    pub tag: AttrValue,
    /// Its shape among its neighbours.
    pub group: u8,
}

impl ImplicitClone for PhotoMark {}

/// Properties of [`MarkButton`].
#[derive(Properties, PartialEq)]
pub(super) struct MarkButton {
    pub mark: PhotoMark,
    pub onpress: Callback<()>,
}

/// The mark as a button. Its place is set through the style object: a style attribute would be refused by the
/// content-security policy.
#[hook]
fn use_mark_button(props: &MarkButton) -> Html {
    let node = use_node_ref();
    {
        let node = node.clone();
        use_effect_with(props.mark.point, move |point| {
            if let Some(button) = node.cast::<HtmlElement>() {
                for (name, thousandths) in [("--x", point.x), ("--y", point.y)] {
                    let _ = button
                        .style()
                        .set_property(name, &format!("{}%", f64::from(thousandths) / 10.0));
                }
            }
        });
    }
    let onclick = props
        .onpress
        .reform(|event: MouseEvent| event.stop_propagation());
    html! {
        <button ref={node} type="button" class={classes!("photo__mark", shape(props.mark.group))}
            aria-label={format!("{}: {}", props.mark.number, props.mark.name)} {onclick}>
            <span aria-hidden="true">{ props.mark.number }</span>
            if !props.mark.tag.is_empty() { <small class="photo__tag" aria-hidden="true">{ props.mark.tag.clone() }</small> }
        </button>
    }
}

/// Round, square, and cut at a corner; more than that the tag tells apart.
const fn shape(group: u8) -> &'static str {
    match group % 3 {
        0 => "photo__mark--round",
        1 => "photo__mark--square",
        _ => "photo__mark--cut",
    }
}

crate::live!(MarkButton, use_mark_button);
