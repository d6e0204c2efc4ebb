//! A caution: shown before the act it belongs to, passed by one button that says so.

use super::{Button, ButtonKind, Glyph, Icon, id::id_of};
use implicit_clone::unsync::IArray;
use yew::prelude::*;

/// How grave a caution is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Gravity {
    /// Can hurt.
    #[default]
    Care,
    /// Can kill or maim.
    Danger,
}

/// Properties of [`Caution`].
#[derive(Properties, PartialEq)]
pub struct Caution {
    /// What is touched: "Fuel under pressure".
    pub title: AttrValue,
    /// What to do, one short line each.
    pub lines: IArray<AttrValue>,
    #[prop_or_default]
    pub gravity: Gravity,
    /// To whose word this defers.
    #[prop_or(AttrValue::Static("The maker's instructions and local rules come before this."))]
    pub defers: AttrValue,
    #[prop_or(AttrValue::Static("Read, go on"))]
    pub go: AttrValue,
    pub onread: Callback<()>,
}

/// A caution.
impl Caution {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        let id = id_of(&props.title);
        let (class, icon) = match props.gravity {
            Gravity::Care => (None, Icon::Warning),
            Gravity::Danger => (Some("caution--danger"), Icon::Stop),
        };
        html! {
            <section class={classes!("caution", class)} aria-labelledby={id.clone()}>
                <div class="caution__head">{ part!(Glyph { icon: icon }) }<h2 class="caution__title" {id}>{ props.title.clone() }</h2></div>
                <ul class="caution__list">{ for props.lines.iter().map(|line| html! { <li>{ line.clone() }</li> }) }</ul>
                <p class="caution__defer">{ props.defers.clone() }</p>
                <div class="caution__go">{ part!(Button { label: props.go.clone(), kind: ButtonKind::Main, icon: Icon::Check, onpress: props.onread.clone() }) }</div>
            </section>
        }
    }
}
