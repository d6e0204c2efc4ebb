//! Found later that a fixing clamps another part too, as a bolt does that was
//! logged with the first of two parts.
use countback_core::job::Command;
use countback_core::journal::*;
use yew::prelude::*;

use super::super::pick::{Pick, PickHow};
use super::Ask;
use crate::app::the_desk;
use crate::kit::Sheet;
use crate::part;
use crate::router;

#[derive(Properties, PartialEq)]
pub struct Also {
    pub ask: Ask,
}

#[hook]
fn use_also(props: &Also) -> Html {
    let desk = the_desk();
    let ask = &props.ask;
    let press = {
        let (desk, job, fixing) = (desk.clone(), ask.job.clone(), ask.page.row.id);
        Callback::from(move |id: String| {
            if let Ok(part) = id.parse() {
                router::close_sheet();
                desk.tell(&job, Command::Record(Act::AlsoHolds { fixing, part }));
            }
        })
    };
    html! {
        { part!(Sheet { title: "It also holds", onclose: ask.onclose.clone(), children: html! { <>
            <p>{ format!("{} of {}. It is counted once, and is not made final before every part it holds is in place.", ask.page.row.title, ask.page.of) }</p>
            { part!(Pick { label: "The other part", all: ask.page.others.clone(), chosen: Vec::new(), how: PickHow::One, onpress: press }) }
        </> } }) }
    }
}

crate::live!(Also, use_also);
