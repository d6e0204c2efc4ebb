//! A bolt that holds too little thread: longer ones instead, or making it final
//! all the same with a reason that stands in the audit as an exception.
use countback_core::job::Command;
use countback_core::view::{self, TooLittle};
use yew::prelude::*;

use crate::app::{Along, the_desk};
use crate::kit::{
    Banner, BannerKind, Button, ButtonFace, ButtonKind, ChipItem, ChipRow, IArray, Icon, Readiness,
    Section, Sheet, TextField, use_local,
};
use crate::part;
use crate::router;

/// Props of [`AnywaySheet`].
#[derive(Properties, PartialEq)]
pub struct AnywaySheet {
    pub job: AttrValue,
    pub it: TooLittle,
    pub command: Command,
    pub onclose: Callback<()>,
}

/// Reasons that need no typing.
const REASONS: [&str; 3] = [
    "the maker's own length",
    "only until a longer one comes",
    "the hole was measured short",
];

#[hook]
fn use_anyway_sheet(props: &AnywaySheet) -> Html {
    let desk = the_desk();
    let why = use_local(String::new);
    let chips: IArray<ChipItem<usize>> = REASONS
        .iter()
        .enumerate()
        .map(|(n, w)| ChipItem::new(n, *w, **w == *why))
        .collect();
    let pick = {
        let why = why.clone();
        Callback::from(move |n: usize| {
            why.set(REASONS.get(n).copied().unwrap_or("").to_owned());
        })
    };
    let typed = {
        let why = why.clone();
        Callback::from(move |t: AttrValue| why.set(t.to_string()))
    };
    let readiness = match why.trim().is_empty() {
        true => Readiness::Blocked("Say why, above".into()),
        false => Readiness::Ready,
    };
    let go = {
        let (desk, job) = (desk.clone(), props.job.clone());
        let command = view::all_the_same(&props.command, why.trim());
        Callback::from(move |()| {
            router::close_sheet();
            if let Some(command) = command.clone() {
                desk.tell(&job, command);
            }
        })
    };
    // All that are in come out, and the longer ones are wanted from now on.
    let longer = props
        .it
        .longer
        .iter()
        .enumerate()
        .map(|(n, (label, wanted))| {
            let (desk, job) = (desk.clone(), props.job.clone());
            let (out, wanted) = (props.it.out.clone(), wanted.clone());
            let onpress = Callback::from(move |()| {
                router::close_sheet();
                if let Some(out) = out.clone() {
                    desk.tell_then(&job, out, Along::default(), Callback::noop());
                }
                desk.tell(&job, wanted.clone());
            });
            let kind = match n {
                0 => ButtonKind::Main,
                _ => ButtonKind::Plain,
            };
            part!(Button {
                label: format!("Out, and fit {label} ones"),
                kind: kind,
                face: ButtonFace::Wide,
                icon: Icon::Renew,
                onpress: onpress
            })
        });
    html! {
        { part!(Sheet { title: "Too little thread", onclose: props.onclose.clone(), foot: html! { <div class="foot-stack">{ for longer }</div> }, children: html! { <>
            { part!(Banner { kind: BannerKind::Danger, title: props.it.sum.clone(), text: props.it.verdict.clone() }) }
            if props.it.longer.is_empty() {
                <p>{ "No usual length holds enough and stays clear of the bottom of this hole. Measure the hole again, or ask the maker." }</p>
            }
            { part!(Section { title: "Or as it is", children: html! { <>
                <p class="soft">{ "It can tear its thread out when it is drawn down. The audit lists it by name and reason, as accepted." }</p>
                { part!(ChipRow::<usize> { label: "Why all the same", items: chips, onpress: pick }) }
                { part!(TextField { label: "Why, in words", value: (*why).clone(), oninput: typed }) }
                { part!(Button { label: "Final all the same", kind: ButtonKind::Danger, icon: Icon::Warning, readiness: readiness, onpress: go }) }
            </> } }) }
        </> } }) }
    }
}

crate::live!(AnywaySheet, use_anyway_sheet);
