//! Numbers as heroes: "3 of 4", and a figure read from the floor.

use super::Standing;
use yew::prelude::*;

/// Properties of [`Count`].
#[derive(Properties, PartialEq)]
pub struct Count {
    pub n: u32,
    /// Out of how many; none for a bare count.
    #[prop_or_default]
    pub of: Option<u32>,
    /// Colours the number; the word that says the same stands elsewhere in the row.
    #[prop_or_default]
    pub state: Option<Standing>,
    #[prop_or_default]
    pub size: CountSize,
}

/// How large a count is drawn.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum CountSize {
    #[default]
    Row,
    /// 44 px.
    Figure,
}

/// A count.
impl Count {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        let state = props
            .state
            .map(|state| format!("count--{}", state.suffix()));
        let size = match props.size {
            CountSize::Row => None,
            CountSize::Figure => Some("count--figure"),
        };
        html! {
            <span class={classes!("count", size, state)}>
                <span class="count__n">{ props.n }</span>
                if let Some(of) = props.of { { " " }<span class="count__of">{ "of " }{ of }</span> }
            </span>
        }
    }
}

/// Properties of [`Figure`].
#[derive(Properties, PartialEq)]
pub struct Figure {
    /// The number as it is to be read: "25", "12,5".
    pub value: AttrValue,
    #[prop_or_default]
    pub unit: Option<AttrValue>,
    /// What it is: "Specified torque".
    pub what: AttrValue,
}

/// A figure of 44 px with its unit and what it is.
impl Figure {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        html! {
            <div class="figure">
                <span class="figure__what">{ props.what.clone() }</span>
                <span class="figure__n">
                    { props.value.clone() }
                    if let Some(unit) = &props.unit { { " " }<span class="figure__unit">{ unit.clone() }</span> }
                </span>
            </div>
        }
    }
}
