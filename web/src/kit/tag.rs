//! The code of a container, drawn like the tag that hangs on it.

use yew::prelude::*;

/// How large a tag is drawn.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum TagSize {
    /// In a line of text.
    #[default]
    Line,
    /// In a card.
    Large,
    /// To be read from the floor, or copied with a marker pen.
    Figure,
}

/// Properties of [`TagCode`].
#[derive(Properties, PartialEq)]
pub struct TagCode {
    pub code: AttrValue,
    #[prop_or_default]
    pub size: TagSize,
    /// What hangs there, read out before the code: "Bag", "Tray".
    #[prop_or(AttrValue::Static("Bag"))]
    pub what: AttrValue,
}

/// A tag code.
impl TagCode {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        let size = match props.size {
            TagSize::Line => None,
            TagSize::Large => Some("tag--large"),
            TagSize::Figure => Some("tag--figure"),
        };
        html! {
            <span class={classes!("tag", size)}>
                <span class="tag__eye" aria-hidden="true"></span>
                <span><span class="unseen">{ props.what.clone() }{ " " }</span>{ props.code.clone() }</span>
            </span>
        }
    }
}
