//! The button: four kinds, one size for gloves, and a busy state that takes no second tap.

use super::{Glyph, Icon};
use yew::prelude::*;

/// What weight a button has on its screen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum ButtonKind {
    /// The one main act of a screen, full width.
    Main,
    #[default]
    Plain,
    /// Beside the way: cancel, more, help.
    Quiet,
    /// An act that can hurt or that throws away.
    Danger,
}

impl ButtonKind {
    const fn class(self) -> &'static str {
        match self {
            ButtonKind::Main => "button--main",
            ButtonKind::Plain => "button--plain",
            ButtonKind::Quiet => "button--quiet",
            ButtonKind::Danger => "button--danger",
        }
    }
}

/// Whether a button can be pressed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Readiness {
    #[default]
    Ready,
    /// The act is under way; presses are ignored until it ends.
    Busy,
    /// Cannot be pressed now, and this is why. Shown under the label.
    Blocked(AttrValue),
}

/// How much of a button is drawn.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum ButtonFace {
    /// Label, and icon if there is one.
    #[default]
    Words,
    /// As wide as its column.
    Wide,
    /// The icon alone; the label is its name.
    IconOnly,
}

/// Properties of [`Button`].
#[derive(Properties, PartialEq)]
pub struct Button {
    pub label: AttrValue,
    #[prop_or_default]
    pub kind: ButtonKind,
    #[prop_or_default]
    pub icon: Option<Icon>,
    #[prop_or_default]
    pub face: ButtonFace,
    #[prop_or_default]
    pub readiness: Readiness,
    /// What the label is about, read out after it: "Place" is read "Place Alternator".
    #[prop_or_default]
    pub about: Option<AttrValue>,
    /// A link that looks like a button, if given; `onpress` is then not called.
    #[prop_or_default]
    pub href: Option<AttrValue>,
    #[prop_or_default]
    pub onpress: Callback<()>,
}

/// A button, or a link drawn as one.
impl Button {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        let face = match props.face {
            ButtonFace::Words => None,
            ButtonFace::Wide => Some("button--wide"),
            ButtonFace::IconOnly => Some("button--icon"),
        };
        let class = classes!("button", props.kind.class(), face);
        let icon = props
            .icon
            .map(|icon| html! { { part!(Glyph { icon: icon }) } });
        let words = match props.face {
            ButtonFace::IconOnly => "unseen",
            ButtonFace::Words | ButtonFace::Wide => "button__words",
        };
        let about = props
            .about
            .as_ref()
            .map(|about| html! { <span class="unseen">{ " " }{ about.clone() }</span> });
        let label = html! { <span class={words}>{ props.label.clone() }{ about }</span> };
        if let (Some(href), Readiness::Ready) = (&props.href, &props.readiness) {
            return html! { <a {class} href={href.clone()}>{ icon }{ label }</a> };
        }
        let onclick = props.onpress.reform(|_: MouseEvent| ());
        match &props.readiness {
            Readiness::Ready => {
                html! { <button type="button" {class} {onclick}>{ icon }{ label }</button> }
            }
            Readiness::Busy => html! {
                <button type="button" {class} aria-busy="true" aria-disabled="true" data-busy="true">
                    <span class="button__busy" aria-hidden="true"></span>{ label }<span class="unseen">{ ", saving" }</span>
                </button>
            },
            Readiness::Blocked(why) => html! {
                <button type="button" {class} aria-disabled="true">
                    { part!(Glyph { icon: Icon::Blocked }) }
                    <span class="button__both">{ label }<span class="button__why">{ why.clone() }</span></span>
                </button>
            },
        }
    }
}
