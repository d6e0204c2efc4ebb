//! The audit's word: first, large, and in words.

use super::{Glyph, GlyphSize, Standing};
use yew::prelude::*;

/// Properties of [`Verdict`].
#[derive(Properties, PartialEq)]
pub struct Verdict {
    /// `Danger`, `Owed` or `Settled`; others are drawn as owed.
    pub state: Standing,
    /// "Do not turn the engine. A rag is in the intake port."
    pub words: AttrValue,
    #[prop_or_default]
    pub text: Option<AttrValue>,
}

/// A verdict.
impl Verdict {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        let class = match props.state {
            Standing::Settled => "verdict--settled",
            Standing::Danger => "verdict--danger",
            Standing::Can
            | Standing::Owed
            | Standing::Blocked
            | Standing::Waiting
            | Standing::Off => "verdict--owed",
        };
        html! {
            <section class={classes!("verdict", class)}>
                <p class="verdict__words">{ part!(Glyph { icon: props.state.icon(), size: GlyphSize::Large }) }<span>{ props.words.clone() }</span></p>
                if let Some(text) = &props.text { <p>{ text.clone() }</p> }
            </section>
        }
    }
}
