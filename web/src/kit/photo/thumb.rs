//! Small pictures in a row, each a button that opens the photograph.

use super::super::{Glyph, Icon};
use yew::prelude::*;

/// Properties of [`Thumbs`].
#[derive(Properties, PartialEq)]
pub struct Thumbs {
    /// [`Thumb`]s.
    pub children: Html,
}

/// A row of small pictures.
impl Thumbs {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        html! { <div class="thumbs">{ props.children.clone() }</div> }
    }
}

/// Properties of [`Thumb`].
#[derive(Properties, PartialEq)]
pub struct Thumb {
    /// `None` while it loads or if it cannot be read.
    pub src: Option<AttrValue>,
    /// What is seen; the name of the link.
    pub alt: AttrValue,
    pub href: AttrValue,
}

/// One small picture.
impl Thumb {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        html! {
            <a class="thumb" href={props.href.clone()} aria-label={format!("Photo: {}", props.alt)}>
                if let Some(src) = &props.src {
                    <img class="thumb__image" src={src.clone()} alt="" decoding="async" />
                } else {
                    <span class="thumb__none">{ part!(Glyph { icon: Icon::Photo }) }</span>
                }
            </a>
        }
    }
}
