//! The states a thing can be in on screen, and the stamp that says so: icon, word and edge, never colour alone.

use super::{Glyph, Icon};
use yew::prelude::*;

/// How a thing stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// Can be done now.
    Can,
    /// Something is still to be done to it.
    Owed,
    /// Nothing more is owed.
    Settled,
    /// Another thing stands in the way.
    Blocked,
    /// Waits for a delivery, a decision or a cure.
    Waiting,
    /// Can hurt or destroy.
    Danger,
    /// Off, in a bag or on the bench; or left off by decision.
    Off,
}

impl Standing {
    /// In the order of the enum.
    pub const ALL: [Standing; 7] = [
        Standing::Can,
        Standing::Owed,
        Standing::Settled,
        Standing::Blocked,
        Standing::Waiting,
        Standing::Danger,
        Standing::Off,
    ];

    /// The ending of the class names: `state--owed`, `row--owed`.
    pub const fn suffix(self) -> &'static str {
        match self {
            Standing::Can => "can",
            Standing::Owed => "owed",
            Standing::Settled => "settled",
            Standing::Blocked => "blocked",
            Standing::Waiting => "waiting",
            Standing::Danger => "danger",
            Standing::Off => "off",
        }
    }

    /// The word shown if the screen has no better one.
    pub const fn word(self) -> &'static str {
        match self {
            Standing::Can => "Can be done",
            Standing::Owed => "Owed",
            Standing::Settled => "Settled",
            Standing::Blocked => "Blocked",
            Standing::Waiting => "Waiting",
            Standing::Danger => "Danger",
            Standing::Off => "Off",
        }
    }

    /// The icon that goes with it.
    pub const fn icon(self) -> Icon {
        match self {
            Standing::Can => Icon::Hand,
            Standing::Owed => Icon::Owed,
            Standing::Settled => Icon::Check,
            Standing::Blocked => Icon::Blocked,
            Standing::Waiting => Icon::Cure,
            Standing::Danger => Icon::Warning,
            Standing::Off => Icon::TakeOff,
        }
    }
}

/// Properties of [`StateTag`].
#[derive(Properties, PartialEq)]
pub struct StateTag {
    pub state: Standing,
    /// The word, if a better one than the state's own is known: "3 owed", "Waits for gasket".
    #[prop_or_default]
    pub word: Option<AttrValue>,
    /// The icon, if a better one is known.
    #[prop_or_default]
    pub icon: Option<Icon>,
}

/// A state as a stamp.
impl StateTag {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        let word = props
            .word
            .clone()
            .unwrap_or(AttrValue::Static(props.state.word()));
        html! {
            <span class={classes!("state", format!("state--{}", props.state.suffix()))}>
                { part!(Glyph { icon: props.icon.unwrap_or(props.state.icon()) }) }
                <span>{ word }</span>
            </span>
        }
    }
}
