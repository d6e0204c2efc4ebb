//! The first of many, and the rest at a tap: a page of hundreds of lines is not read with a thumb.

use super::{Button, ButtonFace, Icon, ListLength, Rows, use_local};
use yew::prelude::*;

/// Fewer than this behind the tap are not worth it.
const REST: usize = 3;

/// Properties of [`Few`].
#[derive(Properties, PartialEq)]
pub struct Few {
    /// What they are, read out.
    pub label: AttrValue,
    /// How many stand there at first.
    pub few: usize,
    pub items: Vec<Html>,
    /// Lines of a list, rather than cards one under the other.
    pub list: bool,
}

#[hook]
fn use_few(props: &Few) -> Html {
    let all = use_local(|| false);
    let n = props.items.len();
    let folded = !*all && n >= props.few + REST;
    let shown = if folded { props.few } else { n };
    let items: Html = props.items.iter().take(shown).cloned().collect();
    let length = match shown > 40 {
        true => ListLength::Long,
        false => ListLength::Short,
    };
    let more = Callback::from(move |()| all.set(true));
    html! {
        <>
        if props.list {
            { part!(Rows { label: props.label.clone(), length: length, children: items }) }
        } else {
            { items }
        }
        if folded {
            { part!(Button { label: format!("Show all {n}"), about: props.label.clone(), icon: Icon::More, face: ButtonFace::Wide, onpress: more }) }
        }
        </>
    }
}

crate::live!(Few, use_few);
