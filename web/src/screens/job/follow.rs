//! A procedure for a job that is open: what it expects is offered from there on,
//! what is off stays as it is.
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::procedure::Procedure;
use yew::prelude::*;

use crate::app::the_desk;
use crate::kit::{Button, ButtonFace, ButtonKind, Icon, Sheet, use_local};
use crate::part;
use crate::router;

#[derive(Properties, PartialEq)]
pub struct Follow {
    pub job: AttrValue,
}

/// The button and its sheet.
#[hook]
fn use_follow(props: &Follow) -> Html {
    let desk = the_desk();
    let shown = use_local(|| false);
    let now = desk.read(&props.job, |book| {
        let followed = book.job().procedure.as_ref();
        followed.map(|it| it.title.clone())
    });
    let now = now.flatten();
    let show = |on: bool| {
        let shown = shown.clone();
        Callback::from(move |()| shown.set(on))
    };
    let row = |it: Procedure| {
        let (desk, job) = (desk.clone(), props.job.clone());
        let title = it.title.clone();
        let press = Callback::from(move |()| {
            router::close_sheet();
            desk.tell(&job, Command::Record(Act::ProcedureAttached(it.clone())));
        });
        part!(Button {
            label: title,
            icon: Icon::Procedure,
            face: ButtonFace::Wide,
            onpress: press
        })
    };
    let others = desk.procedures().into_iter();
    let others: Vec<Html> = others
        .filter(|it| now.as_ref() != Some(&it.title))
        .map(row)
        .collect();
    let open_file = {
        let desk = desk.clone();
        Callback::from(move |()| desk.open_file(Callback::from(|_| ())))
    };
    html! {
        <>
            { part!(Button { label: "Follow a procedure", icon: Icon::Procedure, face: ButtonFace::Wide, onpress: show(true) }) }
            if *shown {
                { part!(Sheet { title: "Follow a procedure", onclose: show(false), children: html! { <>
                    <p>{ "It offers what comes off from here on. What is off stays as it was logged; its make-safe steps and checks after running are added to those of the job." }</p>
                    if let Some(now) = &now { <p class="soft">{ format!("Now: {now}. Another one takes its place.") }</p> }
                    if others.is_empty() { <p class="soft">{ "There is no other one on this phone." }</p> }
                    { others }
                    { part!(Button { label: "Open a procedure from a file", kind: ButtonKind::Quiet, icon: Icon::OpenFile, face: ButtonFace::Wide, onpress: open_file }) }
                </> } }) }
            }
        </>
    }
}

crate::live!(Follow, use_follow);
