//! Small pictures in a row, each a button that opens the photograph.

use super::super::{Glyph, Icon};
use super::Shot;
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
    /// The picture, or how it stands.
    pub src: Shot,
    /// What is seen; the name of the link.
    pub alt: AttrValue,
    pub href: AttrValue,
}

/// One small picture.
impl Thumb {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        let shows = match &props.src {
            Shot::There(src) => {
                html! { <img class="thumb__image" src={src.clone()} alt="" decoding="async" /> }
            }
            shot => {
                let icon = match shot.word() {
                    Some(_) => Icon::Alert,
                    None => Icon::Photo,
                };
                html! { <span class="thumb__none">{ part!(Glyph { icon: icon }) }{ shot.word() }</span> }
            }
        };
        let class = props.src.word().map(|_| "thumb--none");
        let word = props.src.word().map(|it| format!(", {it}"));
        let word = word.unwrap_or_default();
        html! {
            <a class={classes!("thumb", class)} href={props.href.clone()} aria-label={format!("Photo: {}{}", props.alt, word)}>
                { shows }
            </a>
        }
    }
}
