//! Self-locking nuts: what their running torque is, and what is set with it.
use crate::part;
use countback_core::journal::Figure;
use countback_core::view::{self, SelfLocking};
use countback_core::words;
use yew::prelude::*;

use crate::app::the_desk;
use crate::kit::{Card, Standing, Stepper, use_local};

#[derive(Properties, PartialEq)]
pub struct Running {
    pub it: SelfLocking,
}

#[hook]
fn use_running(props: &Running) -> Html {
    let style = the_desk().style();
    let milli = use_local(|| 0_u32);
    let set = {
        let milli = milli.clone();
        Callback::from(move |n: u32| milli.set(n))
    };
    let said = view::with_running(props.it.figure, *milli, style);
    html! {
        { part!(Card { title: "Self-locking", state: Standing::Waiting, word: "running torque", children: html! { <>
            { for props.it.lines.iter().map(|line| html! { <p>{ *line }</p> }) }
            if let Some(Figure::Torque { unit, .. }) = props.it.figure {
                { part!(Stepper { label: "It runs with", value: *milli, step: 500, max: 1_000_000, unit: words::unit(unit), decimal: style.decimal, onchange: set }) }
            } else {
                <p class="soft">{ "With the figure noted, the sum is worked out here." }</p>
            }
            if let Some(said) = said { <p class="sum-line" role="status">{ said }</p> }
        </> } }) }
    }
}

crate::live!(Running, use_running);
