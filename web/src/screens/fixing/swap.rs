//! Another fastener went into one of its places, or another shim or washer
//! under one: refused with what it wants, or logged as the swap it is, which the
//! audit then names.
use crate::part;
use countback_core::job::{Command, Refusal, Thing};
use countback_core::journal::*;
use yew::prelude::*;

use super::Ask;
use crate::app::{Told, the_desk};
use crate::kit::{
    Banner, BannerKind, Button, ButtonKind, ChipItem, ChipRow, IArray, Icon, Readiness, Sheet,
    use_local,
};
use crate::router;

#[derive(Properties, PartialEq)]
pub struct Swap {
    pub ask: Ask,
    /// A washer, shim or the like rather than a fastener.
    pub extra: bool,
}

#[hook]
fn use_swap(props: &Swap) -> Html {
    let desk = the_desk();
    let ask = &props.ask;
    let extra = props.extra;
    let offered = match extra {
        true => &ask.page.offered_extras,
        false => &ask.page.offered,
    };
    let line = use_local(|| None::<LineId>);
    let place = use_local(|| ask.page.open.first().map(|p| p.0));
    let refused = use_local(String::new);
    let lines: IArray<ChipItem<u32>> = offered
        .iter()
        .enumerate()
        .map(|(n, (id, text))| ChipItem::new(n as u32, text.clone(), *line == Some(*id)))
        .collect();
    let places: IArray<ChipItem<u32>> = ask
        .page
        .open
        .iter()
        .map(|&(index, number)| {
            let on = *place == Some(index);
            ChipItem::new(u32::from(index), number.to_string(), on)
        })
        .collect();
    let pick_line = {
        let (line, offered, refused) = (line.clone(), offered.clone(), refused.clone());
        Callback::from(move |n: u32| {
            refused.set(String::new());
            line.set(offered.get(n as usize).map(|l| l.0));
        })
    };
    let pick_place = {
        let place = place.clone();
        Callback::from(move |n: u32| place.set(Some(n as u16)))
    };
    let log = |anyway: bool| {
        let (desk, job, id) = (desk.clone(), ask.job.clone(), ask.page.row.id);
        let (line, place, refused) = (*line, *place, refused.clone());
        Callback::from(move |()| {
            let command = match (extra, line, place) {
                (true, Some(line), _) => Command::FitOther {
                    fixing: id,
                    line,
                    anyway,
                },
                (false, line, Some(place)) => Command::Start {
                    fixing: id,
                    which: Thing::Places(vec![place]),
                    line,
                    anyway,
                },
                _ => return,
            };
            let (desk2, job2, refused) = (desk.clone(), job.clone(), refused.clone());
            let done = Callback::from(move |told: Told| match told {
                Told::Refused(
                    why @ (Refusal::WrongThing { .. }
                    | Refusal::WrongExtra { .. }
                    | Refusal::NeedsNew { .. }),
                ) => {
                    refused.set(desk2.refusal(&job2, &why));
                }
                Told::Refused(why) => {
                    router::close_sheet();
                    desk2.refuse(&job2, &why);
                }
                _ => router::close_sheet(),
            });
            desk.try_tell(&job, command, done);
        })
    };
    let readiness = match line.is_some() && (extra || place.is_some()) {
        true => Readiness::Ready,
        false => Readiness::Blocked(
            if extra {
                "Choose which one"
            } else {
                "Choose which one, and where"
            }
            .into(),
        ),
    };
    let foot = if refused.is_empty() {
        html! { { part!(Button { label: "Log it as in", kind: ButtonKind::Main, icon: Icon::Check, readiness: readiness, onpress: log(false) }) } }
    } else {
        html! { <>
            { part!(Banner { kind: BannerKind::Danger, title: (*refused).clone(), text: "Take it out again, or log it as a swap: then it is never final, and the audit names it." }) }
            { part!(Button { label: "Log it as a swap", kind: ButtonKind::Danger, icon: Icon::Warning, onpress: log(true) }) }
        </> }
    };
    html! {
        { part!(Sheet { title: "Another one went in", onclose: ask.onclose.clone(), foot: foot, children: html! { <>
            { part!(ChipRow::<u32> { label: "Which one", items: lines, onpress: pick_line }) }
            if !extra { { part!(ChipRow::<u32> { label: "Into place", items: places, onpress: pick_place }) } }
        </> } }) }
    }
}

crate::live!(Swap, use_swap);
