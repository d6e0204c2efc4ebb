//! The order over all lengths of a part, as the maker has it: hole by hole.
use countback_core::journal::*;
use countback_core::view::{Drawing, RingChoice};
use yew::prelude::*;

use super::picture::OrderPicture;
use super::tell_now;
use crate::app::the_desk;
use crate::kit::{Button, ButtonFace, ButtonKind, Icon, Readiness, Sheet, use_local};
use crate::part;
use crate::router;

/// Props of [`RingSheet`].
#[derive(Properties, PartialEq)]
pub struct RingSheet {
    pub job: AttrValue,
    pub choice: RingChoice,
    /// The order that is gone by; without words while there is none.
    pub drawing: Drawing,
    /// To the order of the one length that the page is of.
    pub onown: Callback<()>,
    pub onclose: Callback<()>,
}

#[hook]
fn use_ring_sheet(props: &RingSheet) -> Html {
    let desk = the_desk();
    let none = props.drawing.order.is_empty();
    let tapped = use_local(move || none.then(Vec::<(u16, u16)>::new));
    let choice = &props.choice;
    let all = choice.holes.len();
    let tell = |order: Vec<(u16, u16)>| {
        let (desk, job, lines) = (desk.clone(), props.job.clone(), choice.lines.clone());
        Callback::from(move |()| {
            router::close_sheet();
            let ring = Ring {
                lines: lines.clone(),
                apart: false,
                order: order.clone(),
            };
            tell_now(&desk, &job, Act::RingSet(ring));
        })
    };
    let Some(now) = (*tapped).clone() else {
        let start = {
            let tapped = tapped.clone();
            Callback::from(move |()| tapped.set(Some(Vec::new())))
        };
        return html! {
            { part!(Sheet { title: "Order over all lengths", onclose: props.onclose.clone(), children: html! { <>
                { part!(OrderPicture { drawing: props.drawing.clone() }) }
                { part!(Button { label: "Put in the maker's order", icon: Icon::Edit, face: ButtonFace::Wide, onpress: start }) }
                if !choice.order.is_empty() {
                    { part!(Button { label: "By how they lie instead", icon: Icon::Undo, face: ButtonFace::Wide, onpress: tell(Vec::new()) }) }
                }
                { part!(Button { label: "The order of this length alone", icon: Icon::Renew, kind: ButtonKind::Quiet, face: ButtonFace::Wide, onpress: props.onown.clone() }) }
            </> } }) }
        };
    };
    let readiness = if now.len() == all {
        Readiness::Ready
    } else {
        Readiness::Blocked(format!("{} of {all} tapped", now.len()).into())
    };
    let foot = html! {
        { part!(Button { label: "Use the maker's order", kind: ButtonKind::Main, icon: Icon::Check, readiness, onpress: tell(now.clone()) }) }
    };
    let cells = choice.holes.iter().map(|hole| {
        let turn = now.iter().position(|&at| at == hole.at);
        let (tapped, now, at) = (tapped.clone(), now.clone(), hole.at);
        let press = Callback::from(move |_: MouseEvent| {
            if !now.contains(&at) {
                let mut next = now.clone();
                next.push(at);
                tapped.set(Some(next));
            }
        });
        html! {
            <button type="button" key={hole.number} class={classes!("place", if turn.is_some() { "place--settled" } else { "place--open" })} onclick={press}>
                <span class="unseen">{ "Hole " }</span>
                <span class="place__number">{ hole.number }</span>
                <span class="unseen">{ ", " }</span>
                <span class="place__word">{ turn.map_or_else(|| hole.has.clone(), |t| format!("turn {}", t + 1)) }</span>
            </button>
        }
    });
    let back = {
        let (tapped, mut next) = (tapped.clone(), now.clone());
        next.pop();
        Callback::from(move |()| {
            tapped.set(Some(next.clone()));
        })
    };
    html! {
        { part!(Sheet { title: "Order over all lengths", onclose: props.onclose.clone(), foot: foot, children: html! { <>
            <p>{ "Tap the holes one after another, as the maker has them. The maker's order wins." }</p>
            <div class="places" role="group" aria-label="Holes">{ for cells }</div>
            { part!(Button { label: "Take back the last", icon: Icon::Undo, face: ButtonFace::Wide, onpress: back }) }
        </> } }) }
    }
}

crate::live!(RingSheet, use_ring_sheet);
