//! A leaf on its own: one thing with its details in place, and the pairs of a word and a fact on it.

use super::{Standing, StateTag};
use implicit_clone::unsync::IArray;
use yew::prelude::*;

/// Properties of [`Card`].
#[derive(Properties, PartialEq)]
pub struct Card {
    pub title: AttrValue,
    #[prop_or_default]
    pub state: Option<Standing>,
    #[prop_or_default]
    pub word: Option<AttrValue>,
    #[prop_or_default]
    pub children: Html,
}

/// A card.
impl Card {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        let state = props.state.map(|state| format!("card--{}", state.suffix()));
        html! {
            <section class={classes!("card", state)}>
                <div class="card__head">
                    <h3 class="card__title">{ props.title.clone() }</h3>
                    if let Some(state) = props.state { { part!(StateTag { state: state, word: props.word.clone() }) } }
                </div>
                { props.children.clone() }
            </section>
        }
    }
}

/// Properties of [`Facts`].
#[derive(Properties, PartialEq)]
pub struct Facts {
    /// Word and fact: ("Thread", "M8 × 1.25").
    pub items: IArray<(AttrValue, AttrValue)>,
}

/// Words and facts in two columns.
impl Facts {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        let items = props
            .items
            .iter()
            .map(|(word, fact)| html! { <><dt>{ word.clone() }</dt><dd>{ fact.clone() }</dd></> });
        html! { <dl class="facts">{ for items }</dl> }
    }
}
