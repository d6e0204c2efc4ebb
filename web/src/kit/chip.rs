//! Chips: choose one or several with a thumb. Which are chosen is the screen's to keep.

use super::{Glyph, Icon, id::id_of};
use implicit_clone::ImplicitClone;
use implicit_clone::unsync::IArray;
use yew::prelude::*;

/// Properties of [`Chip`].
#[derive(Properties, PartialEq)]
pub struct Chip {
    pub label: AttrValue,
    #[prop_or_default]
    pub pressed: bool,
    #[prop_or_default]
    pub icon: Option<Icon>,
    #[prop_or_default]
    pub onpress: Callback<()>,
}

/// One chip that is on or off.
impl Chip {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        let icon = if props.pressed {
            Some(Icon::Check)
        } else {
            props.icon
        };
        html! {
            <button type="button" class="chip" aria-pressed={if props.pressed { "true" } else { "false" }}
                onclick={props.onpress.reform(|_: MouseEvent| ())}>
                if let Some(icon) = icon { { part!(Glyph { icon: icon }) } }
                <span>{ props.label.clone() }</span>
            </button>
        }
    }
}

/// One choice of a [`ChipRow`].
#[derive(Clone, Debug, PartialEq)]
pub struct ChipItem<T> {
    /// What the screen gets back when the chip is pressed.
    pub value: T,
    pub label: AttrValue,
    pub icon: Option<Icon>,
    pub pressed: bool,
}

impl<T: Clone> ImplicitClone for ChipItem<T> {}

impl<T: PartialEq> ChipItem<T> {
    /// A choice without icon.
    pub fn new(value: T, label: impl Into<AttrValue>, pressed: bool) -> Self {
        ChipItem {
            value,
            label: label.into(),
            icon: None,
            pressed,
        }
    }

    /// The same choice with an icon.
    pub fn with_icon(mut self, icon: Icon) -> Self {
        self.icon = Some(icon);
        self
    }
}

/// Properties of [`ChipRow`].
#[derive(Properties, PartialEq)]
pub struct ChipRow<T: Clone + PartialEq + 'static> {
    /// What is chosen: "Head size".
    pub label: AttrValue,
    pub items: IArray<ChipItem<T>>,
    /// The value of the chip pressed, on or off.
    pub onpress: Callback<T>,
    /// A last chip that opens what is not listed: "Other".
    #[prop_or_default]
    pub more: Option<AttrValue>,
    #[prop_or_default]
    pub onmore: Callback<()>,
}

/// A labelled row of chips that wraps. Whether one or several may be on is decided by the screen that holds them.
impl<T: Clone + PartialEq + 'static> ChipRow<T> {
    /// Draws it.
    pub fn draw(self) -> Html {
        let chips = self.items.iter().map(|item| Face {
            label: item.label.clone(),
            icon: item.icon,
            pressed: item.pressed,
        });
        let (items, onpress) = (self.items.clone(), self.onpress);
        let press = Callback::from(move |n: usize| {
            if let Some(item) = items.get(n) {
                onpress.emit(item.value.clone());
            }
        });
        draw_row(self.label, chips.collect(), &press, self.more, &self.onmore)
    }
}

/// A chip of a row without the value it stands for, so that drawing is the same code for every kind of value.
struct Face {
    label: AttrValue,
    icon: Option<Icon>,
    pressed: bool,
}

fn draw_row(
    label: AttrValue,
    chips: Vec<Face>,
    onpress: &Callback<usize>,
    more: Option<AttrValue>,
    onmore: &Callback<()>,
) -> Html {
    let id = id_of(&label);
    let chips = chips.into_iter().enumerate().map(|(n, face)| {
        let onpress = onpress.reform(move |()| n);
        part!(Chip {
            label: face.label,
            icon: face.icon,
            pressed: face.pressed,
            onpress
        })
    });
    html! {
        <div class="chips" role="group" aria-labelledby={id.clone()}>
            <span class="chips__label" {id}>{ label }</span>
            <div class="chips__row">
                { for chips }
                if let Some(more) = more {
                    <button type="button" class="chip" onclick={onmore.reform(|_: MouseEvent| ())}>
                        { part!(Glyph { icon: Icon::More }) }<span>{ more }</span>
                    </button>
                }
            </div>
        </div>
    }
}
