//! A line across the page that says how things stand.

use super::{Glyph, Icon};
use yew::prelude::*;

/// What a banner is for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum BannerKind {
    #[default]
    Info,
    Caution,
    /// Danger or refusal; interrupts a reader of the screen.
    Danger,
    Saved,
}

/// Properties of [`Banner`].
#[derive(Properties, PartialEq)]
pub struct Banner {
    #[prop_or_default]
    pub kind: BannerKind,
    pub title: AttrValue,
    #[prop_or_default]
    pub text: Option<AttrValue>,
    /// What the title rests on: behind a word that opens it.
    #[prop_or_default]
    pub why: Option<AttrValue>,
    #[prop_or_default]
    pub icon: Option<Icon>,
    /// Buttons.
    #[prop_or_default]
    pub children: Html,
}

/// A banner.
impl Banner {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        let (class, icon, role) = match props.kind {
            BannerKind::Info => ("banner--info", Icon::Info, None),
            BannerKind::Caution => ("banner--caution", Icon::Warning, None),
            BannerKind::Danger => ("banner--danger", Icon::Stop, Some("alert")),
            BannerKind::Saved => ("banner--saved", Icon::Check, None),
        };
        let has_acts = !matches!(&props.children, Html::VList(list) if list.is_empty());
        html! {
            <div class={classes!("banner", class)} {role}>
                <span class="banner__mark">{ part!(Glyph { icon: props.icon.unwrap_or(icon) }) }</span>
                <div class="banner__words">
                    <p class="banner__title">{ props.title.clone() }</p>
                    if let Some(text) = &props.text { <p class="banner__rest">{ text.clone() }</p> }
                    if let Some(why) = &props.why {
                        <details class="why"><summary class="why__ask">{ "Why" }</summary><p class="banner__rest">{ why.clone() }</p></details>
                    }
                    if has_acts { <div class="banner__acts">{ props.children.clone() }</div> }
                </div>
            </div>
        }
    }
}
