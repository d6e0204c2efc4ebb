//! The cautions that stand before an act: what this job has not shown yet, a
//! card each, and the button that waits until they were read. Which were read
//! stays on the phone.
use countback_core::caution::DEFERS;
use countback_core::job::Command;
use countback_core::view::{self, PassCaution};
use yew::prelude::*;

use crate::app::{Desk, the_desk};
use crate::kit::{
    Button, ButtonFace, ButtonKind, Caution, Gravity, IArray, Icon, Readiness, Sheet, use_local,
};
use crate::part;
use crate::router;

fn key(job: &str) -> String {
    format!("cautions.{job}")
}

/// The titles that were read on this phone, a line each.
pub fn read(desk: &Desk, job: &str) -> String {
    desk.typed(&key(job)).unwrap_or_default()
}

/// Keeps that one was read.
fn keep(desk: &Desk, job: &str, title: &str) {
    let read = format!("{}{title}\n", read(desk, job));
    desk.keep_typed(&key(job), &read);
    desk.changed();
}

/// What is to be read before any of these.
pub fn unread(desk: &Desk, job: &str, commands: &[Command]) -> Vec<PassCaution> {
    let read = read(desk, job);
    let left = desk.read(job, |book| view::cautions(book.job(), commands, &read));
    left.unwrap_or_default()
}

/// Why a button waits, while something is to be read.
pub fn hold(left: &[PassCaution]) -> Readiness {
    match left.is_empty() {
        true => Readiness::Ready,
        false => Readiness::Blocked("Read the caution first".into()),
    }
}

/// The card of one, with the button that says it was read.
pub fn card(desk: &Desk, job: &AttrValue, it: &PassCaution) -> Html {
    let (desk, job, title) = (desk.clone(), job.clone(), it.title);
    let onread = Callback::from(move |()| keep(&desk, &job, title));
    let gravity = if it.grave {
        Gravity::Danger
    } else {
        Gravity::Care
    };
    let lines: IArray<AttrValue> = it.lines.iter().map(|&l| AttrValue::from(l)).collect();
    part!(Caution {
        title: it.title,
        lines: lines,
        gravity: gravity,
        defers: DEFERS,
        onread: onread
    })
}

/// The cards of all.
pub fn cards(desk: &Desk, job: &AttrValue, left: &[PassCaution]) -> Html {
    html! { <>{ for left.iter().map(|it| card(desk, job, it)) }</> }
}

/// A button whose act is held until what it touches was read about: its first
/// tap then opens the cautions, and the last one read does it.
#[derive(Properties, PartialEq)]
pub struct Held {
    pub job: AttrValue,
    pub label: AttrValue,
    pub about: AttrValue,
    pub icon: Icon,
    pub command: Command,
}

#[hook]
fn use_held(props: &Held) -> Html {
    let desk = the_desk();
    let asked = use_local(|| false);
    let left = unread(&desk, &props.job, std::slice::from_ref(&props.command));
    let tell = {
        let (desk, job, command) = (desk.clone(), props.job.clone(), props.command.clone());
        Callback::from(move |()| desk.tell(&job, command.clone()))
    };
    let press = match left.is_empty() {
        true => tell.clone(),
        false => {
            let asked = asked.clone();
            Callback::from(move |()| asked.set(true))
        }
    };
    let shut = {
        let asked = asked.clone();
        Callback::from(move |()| asked.set(false))
    };
    let done = Callback::from(move |()| {
        router::close_sheet();
        tell.emit(());
    });
    let foot = html! {
        { part!(Button { label: props.label.clone(), about: props.about.clone(), kind: ButtonKind::Main, face: ButtonFace::Wide, icon: props.icon, readiness: hold(&left), onpress: done }) }
    };
    html! {
        <>
            { part!(Button { label: props.label.clone(), about: props.about.clone(), icon: props.icon, onpress: press }) }
            if *asked {
                { part!(Sheet { title: props.about.clone(), onclose: shut, foot: foot, children: html! { <>
                    { cards(&desk, &props.job, &left) }
                    if left.is_empty() { <p class="soft">{ "Read. Go on." }</p> }
                </> } }) }
            }
        </>
    }
}

crate::live!(Held, use_held);
