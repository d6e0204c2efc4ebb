//! One more make-safe step: one of the usual that was not listed, or another
//! in words.
use countback_core::job::Command;
use countback_core::journal::*;
use yew::prelude::*;

use crate::app::the_desk;
use crate::kit::{
    Button, ButtonKind, ChipItem, ChipRow, IArray, Icon, Readiness, Sheet, TextField, use_local,
};
use crate::part;
use crate::router;

#[derive(Properties, PartialEq)]
pub struct AnotherStep {
    pub job: AttrValue,
    /// Usual steps that were not listed yet.
    pub offers: Vec<SafeStep>,
}

#[hook]
fn use_another_step(props: &AnotherStep) -> Html {
    let desk = the_desk();
    let open = use_local(|| false);
    let text = use_local(String::new);
    let at = AttrValue::from(format!("{}/step", props.job));
    let list = {
        let (desk, job, at) = (desk.clone(), props.job.clone(), at.clone());
        Callback::from(move |step: SafeStep| {
            router::close_sheet();
            desk.keep_typed(&at, "");
            desk.tell(&job, Command::Record(Act::SafeStepListed(step)));
        })
    };
    let sheet = open.then(|| {
        let shut = {
            let open = open.clone();
            Callback::from(move |()| open.set(false))
        };
        let readiness = match text.trim().is_empty() {
            true => Readiness::Blocked("Say what is made safe".into()),
            false => Readiness::Ready,
        };
        let other = SafeStep {
            kind: SafeKind::Other,
            text: text.trim().to_owned(),
        };
        let foot = part!(Button { label: "List it", kind: ButtonKind::Main, icon: Icon::Check, readiness: readiness, onpress: list.reform(move |()| other.clone()) });
        let usual: IArray<ChipItem<usize>> = props
            .offers
            .iter()
            .enumerate()
            .map(|(n, step)| ChipItem::new(n, step.text.clone(), false))
            .collect();
        let pick = {
            let (list, offers) = (list.clone(), props.offers.clone());
            Callback::from(move |n: usize| {
                if let Some(step) = offers.get(n) {
                    list.emit(step.clone());
                }
            })
        };
        let typed = {
            let (desk, text, at) = (desk.clone(), text.clone(), at.clone());
            Callback::from(move |t: AttrValue| {
                desk.keep_typed(&at, &t);
                text.set(t.to_string());
            })
        };
        html! {
            { part!(Sheet { title: "Another make-safe step", onclose: shut, foot: foot, children: html! { <>
                if !props.offers.is_empty() {
                    { part!(ChipRow::<usize> { label: "Usual", items: usual, onpress: pick }) }
                }
                { part!(TextField { label: "What is made safe", value: (*text).clone(), hint: "Wheels chocked, key out, gas shut off", oninput: typed }) }
            </> } }) }
        }
    });
    let press = {
        let (desk, open, text) = (desk.clone(), open.clone(), text.clone());
        Callback::from(move |()| {
            text.set(desk.typed(&at).unwrap_or_default());
            open.set(true);
        })
    };
    html! {
        <>
            { part!(Button { label: "Another step", icon: Icon::Edit, kind: ButtonKind::Quiet, onpress: press }) }
            { sheet.unwrap_or_default() }
        </>
    }
}

crate::live!(AnotherStep, use_another_step);
