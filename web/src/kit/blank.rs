//! Pages with nothing on them yet, pages that failed, and pages on their way.

use super::{Button, Glyph, GlyphSize, Icon};
use yew::prelude::*;

/// Properties of [`Empty`].
#[derive(Properties, PartialEq)]
pub struct Empty {
    pub icon: Icon,
    pub title: AttrValue,
    /// What will stand here, or what to do first.
    pub text: AttrValue,
    /// Buttons.
    #[prop_or_default]
    pub children: Html,
}

/// Nothing here yet, and what to do about it.
impl Empty {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        html! {
            <section class="blank">
                { part!(Glyph { icon: props.icon, size: GlyphSize::Large }) }
                <h2 class="blank__title">{ props.title.clone() }</h2>
                <p>{ props.text.clone() }</p>
                <div class="blank__acts">{ props.children.clone() }</div>
            </section>
        }
    }
}

/// Properties of [`ErrorState`].
#[derive(Properties, PartialEq)]
pub struct ErrorState {
    /// What could not be done: "The job could not be opened".
    pub title: AttrValue,
    /// What it means for the person's data, and what to do.
    pub text: AttrValue,
    /// The fault in its own words, for whoever mends it.
    #[prop_or_default]
    pub detail: Option<AttrValue>,
    #[prop_or_default]
    pub onretry: Option<Callback<()>>,
    /// More buttons: save a copy, reload.
    #[prop_or_default]
    pub children: Html,
}

/// Something failed; says what is safe and what to do.
impl ErrorState {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        html! {
            <section class="blank blank--error" role="alert">
                { part!(Glyph { icon: Icon::Alert, size: GlyphSize::Large }) }
                <h2 class="blank__title">{ props.title.clone() }</h2>
                <p>{ props.text.clone() }</p>
                if let Some(detail) = &props.detail { <p class="blank__detail">{ detail.clone() }</p> }
                <div class="blank__acts">
                    if let Some(onretry) = &props.onretry { { part!(Button { label: "Try again", icon: Icon::Renew, onpress: onretry.clone() }) } }
                    { props.children.clone() }
                </div>
            </section>
        }
    }
}

/// Properties of [`Loading`].
#[derive(Properties, PartialEq)]
pub struct Loading {
    /// What is on its way: "Opening the job".
    pub what: AttrValue,
}

/// Something is on its way.
impl Loading {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        html! {
            <div class="loading" role="status">
                <span class="loading__bars" aria-hidden="true"><i></i><i></i><i></i><i></i></span>
                <span>{ props.what.clone() }</span>
            </div>
        }
    }
}
