//! A gasket or sealant whose joint is closed up: open it again, or say with a
//! reason that it was there before.
use crate::part;
use countback_core::job::{Command, Refusal};
use countback_core::journal::*;
use countback_core::view;
use yew::prelude::*;

use super::cautions;
use crate::app::{Desk, Told, the_desk};
use crate::kit::{
    Banner, BannerKind, Button, ButtonFace, ButtonKind, ChipItem, ChipRow, IArray, Icon, Readiness,
    Sheet, TextField, use_local,
};
use crate::router;

/// Tells an act; where it comes too late, asks instead of only refusing.
pub fn tell_or_ask(desk: &Desk, job: &AttrValue, command: Command, onlate: Callback<()>) {
    let (again, of) = (desk.clone(), job.clone());
    let done = Callback::from(move |told: Told| match told {
        Told::Refused(Refusal::ShutOver { .. }) => onlate.emit(()),
        Told::Refused(why) => again.refuse(&of, &why),
        _ => {}
    });
    desk.try_tell(job, command, done);
}

/// What an act that can come too late is about.
fn about(act: &Act) -> Option<Target> {
    match act {
        Act::ItemFitted { item, .. } => Some(Target::Item(*item)),
        Act::TreatmentApplied { treatment } => Some(Target::Treatment(*treatment)),
        _ => None,
    }
}

#[derive(Properties, PartialEq)]
pub struct Late {
    pub job: AttrValue,
    /// What was said.
    pub act: Act,
    pub onclose: Callback<()>,
}

#[hook]
fn use_late(props: &Late) -> Html {
    let desk = the_desk();
    let why = use_local(String::new);
    let shut = about(&props.act).and_then(|what| {
        let read = |book: &_| view::shut_over(book, what, desk.at());
        desk.read(&props.job, read).flatten()
    });
    let Some(shut) = shut else {
        return html! {};
    };
    let reasons = shut.reasons;
    let chip = |(n, text): (usize, &&'static str)| ChipItem::new(n, *text, *text == *why);
    let chips: IArray<ChipItem<usize>> = reasons.iter().enumerate().map(chip).collect();
    let pick = {
        let why = why.clone();
        Callback::from(move |n: usize| why.set(reasons.get(n).copied().unwrap_or("").to_owned()))
    };
    let typed = {
        let why = why.clone();
        Callback::from(move |text: AttrValue| why.set(text.to_string()))
    };
    let close_and = |command: Command| {
        let (desk, job) = (desk.clone(), props.job.clone());
        Callback::from(move |()| {
            router::close_sheet();
            desk.tell(&job, command.clone());
        })
    };
    let (label, open) = shut.open;
    let to_read = cautions::unread(&desk, &props.job, std::slice::from_ref(&open));
    let reason = why.trim().to_owned();
    let readiness = match reason.is_empty() {
        true => Readiness::Blocked("Say why, above".into()),
        false => Readiness::Ready,
    };
    let late = close_and(Command::SayLate {
        act: props.act.clone(),
        reason,
    });
    html! {
        { part!(Sheet { title: "It cannot get there any more", onclose: props.onclose.clone(), foot: html! {
            { part!(Button { label: label, kind: ButtonKind::Main, icon: Icon::TakeOff, readiness: cautions::hold(&to_read), onpress: close_and(open) }) }
        }, children: html! { <>
            { part!(Banner { kind: BannerKind::Danger, title: shut.why }) }
            { cautions::cards(&desk, &props.job, &to_read) }
            { part!(ChipRow::<usize> { label: "Or it is there all the same", items: chips, onpress: pick }) }
            { part!(TextField { label: "Why, in words", value: (*why).clone(), oninput: typed }) }
            { part!(Button { label: "Log it, with this reason", face: ButtonFace::Wide, icon: Icon::Check, readiness: readiness, onpress: late }) }
        </> } }) }
    }
}

crate::live!(Late, use_late);
