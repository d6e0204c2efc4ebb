//! Found later by what a hose or cable runs: through or behind a part, which
//! then does not go back over it while it is open.
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::view::Choice;
use countback_core::words;
use yew::prelude::*;

use super::super::pick::{Pick, PickHow};
use super::add::{at, chips};
use crate::app::the_desk;
use crate::kit::{Button, ButtonKind, ChipRow, Icon, Readiness, Sheet, TextField, use_local};
use crate::part;
use crate::router;

#[derive(Properties, PartialEq)]
pub struct Runs {
    pub job: AttrValue,
    pub connection: ConnectionId,
    pub title: AttrValue,
    /// Every part, those that are off first.
    pub parts: Vec<Choice>,
    pub onclose: Callback<()>,
}

const KINDS: [RouteKind; 3] = [RouteKind::Behind, RouteKind::Through, RouteKind::ClippedTo];

#[hook]
fn use_runs(props: &Runs) -> Html {
    let desk = the_desk();
    let kind = use_local(|| RouteKind::Behind);
    let by = use_local(|| None::<String>);
    let text = use_local(String::new);
    let part: Option<PartId> = by.as_ref().and_then(|id| id.parse().ok());
    let kinds = chips(KINDS.iter().map(|&it| (words::route(it), it == *kind)));
    let pick_kind = {
        let kind = kind.clone();
        Callback::from(move |n: u32| {
            if let Some(it) = at(&KINDS, n) {
                kind.set(it);
            }
        })
    };
    let pick = {
        let by = by.clone();
        Callback::from(move |id: String| by.set(Some(id)))
    };
    let oninput = {
        let text = text.clone();
        Callback::from(move |typed: AttrValue| text.set(typed.to_string()))
    };
    let readiness = match part.is_none() && text.trim().is_empty() {
        true => Readiness::Blocked("Say by what".into()),
        false => Readiness::Ready,
    };
    let log = {
        let (desk, job, connection) = (desk.clone(), props.job.clone(), props.connection);
        let route = countback_core::journal::Route {
            kind: *kind,
            part,
            text: match part {
                Some(_) => String::new(),
                None => text.trim().to_owned(),
            },
        };
        Callback::from(move |()| {
            router::close_sheet();
            let route = route.clone();
            desk.tell(&job, Command::Record(Act::Routed { connection, route }));
        })
    };
    let foot = part!(Button {
        label: "It runs there",
        kind: ButtonKind::Main,
        icon: Icon::Check,
        readiness: readiness,
        onpress: log
    });
    html! {
        { part!(Sheet { title: "How it runs", onclose: props.onclose.clone(), foot: foot, children: html! { <>
            <p class="strong">{ props.title.clone() }</p>
            { part!(ChipRow::<u32> { label: "It runs", items: kinds, onpress: pick_kind }) }
            { part!(Pick { label: "This part", all: props.parts.clone(), chosen: by.iter().cloned().collect::<Vec<_>>(), how: PickHow::One, onpress: pick }) }
            if part.is_none() {
                { part!(TextField { label: "Or in words", value: (*text).clone(), oninput: oninput }) }
            }
        </> } }) }
    }
}

crate::live!(Runs, use_runs);
