//! A line of one's own on the to-buy list: what, how many, and what for.
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::view::{self, Choice};
use yew::prelude::*;

use super::super::pick::{Pick, PickHow};
use crate::app::the_desk;
use crate::kit::{
    Button, ButtonFace, ButtonKind, ChipItem, ChipRow, IArray, Icon, Readiness, Sheet, Stepper,
    TextField, use_local,
};
use crate::part;
use crate::router;

#[derive(Properties, PartialEq)]
pub struct OwnLine {
    pub job: AttrValue,
}

/// What is bought for most jobs besides parts (common practice, no source).
const USUAL: [&str; 6] = [
    "sealant",
    "thread-locker",
    "coolant",
    "engine oil",
    "oil filter",
    "cleaner",
];

/// The button and its sheet.
#[hook]
fn use_own_line(props: &OwnLine) -> Html {
    let desk = the_desk();
    let open = use_local(|| false);
    let what = use_local(String::new);
    let at = AttrValue::from(format!("{}/buy", props.job));
    let n = use_local(|| 1_u32);
    let of = use_local(String::new);
    let sheet = open.then(|| {
        let parts = desk.read(&props.job, |book| view::chips(book, &[]).parts);
        let parts = parts.unwrap_or_default();
        let usual: IArray<ChipItem<u32>> = (0_u32..)
            .zip(USUAL)
            .map(|(n, word)| ChipItem::new(n, word, *what == word))
            .collect();
        let pick = {
            let what = what.clone();
            Callback::from(move |n: u32| {
                if let Some(word) = USUAL.get(n as usize) {
                    what.set((*word).to_owned());
                }
            })
        };
        let typed = {
            let (desk, what, at) = (desk.clone(), what.clone(), at.clone());
            Callback::from(move |t: AttrValue| {
                desk.keep_typed(&at, &t);
                what.set(t.to_string());
            })
        };
        let whole = vec![Choice {
            id: String::new(),
            name: "The whole job".to_owned(),
        }];
        let choose = {
            let of = of.clone();
            Callback::from(move |id: String| of.set(id))
        };
        let readiness = match what.trim().is_empty() {
            true => Readiness::Blocked("Say what to get".into()),
            false => Readiness::Ready,
        };
        let list = {
            let (desk, job, n, at) = (desk.clone(), props.job.clone(), *n, at.clone());
            let what = what.trim().to_owned();
            let on = of.parse().map_or(Target::Job, Target::Part);
            Callback::from(move |()| {
                router::close_sheet();
                desk.keep_typed(&at, "");
                let what = what.clone();
                desk.tell(&job, Command::Record(Act::BuyListed { what, n, on }));
            })
        };
        let foot = part!(Button { label: "List it", kind: ButtonKind::Main, icon: Icon::Check, readiness: readiness, onpress: list });
        let shut = {
            let open = open.clone();
            Callback::from(move |()| open.set(false))
        };
        let count = {
            let n = n.clone();
            Callback::from(move |value: u32| n.set(value))
        };
        part!(Sheet { title: "Another thing to buy", onclose: shut, foot: foot, children: html! { <>
            { part!(ChipRow::<u32> { label: "Usual", items: usual, onpress: pick }) }
            { part!(TextField { label: "What to get", value: (*what).clone(), hint: "cooling hose 32 mm, clip", oninput: typed }) }
            { part!(Stepper { label: "How many", value: *n, min: 1, onchange: count }) }
            { part!(Pick { label: "It is for", first: whole, all: parts, chosen: vec![(*of).clone()], how: PickHow::One, onpress: choose }) }
        </> } })
    });
    let press = {
        let (open, what, n, of) = (open.clone(), what.clone(), n.clone(), of.clone());
        Callback::from(move |()| {
            what.set(desk.typed(&at).unwrap_or_default());
            n.set(1);
            of.set(String::new());
            open.set(true);
        })
    };
    html! {
        <>
            { part!(Button { label: "Another thing to buy", icon: Icon::Plus, face: ButtonFace::Wide, onpress: press }) }
            { sheet.unwrap_or_default() }
        </>
    }
}

crate::live!(OwnLine, use_own_line);
