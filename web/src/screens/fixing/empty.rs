//! Places of a fixing that stay empty by decision, though its part goes back:
//! which, and why.
use countback_core::job::Command;
use yew::prelude::*;

use super::Ask;
use crate::app::the_desk;
use crate::kit::{
    Button, ButtonFace, ButtonKind, ChipItem, ChipRow, IArray, Icon, Readiness, Sheet, TextField,
    use_local,
};
use crate::part;

#[derive(Properties, PartialEq)]
pub struct Empty {
    pub ask: Ask,
}

/// Reasons that need no typing.
const REASONS: [&str; 3] = [
    "The new part has no hole there",
    "Thread beyond repair, the others hold it",
    "Not needed on this machine",
];

#[hook]
fn use_empty(props: &Empty) -> Html {
    let desk = the_desk();
    let ask = &props.ask;
    let may = &ask.page.may_stay_empty;
    let only = || match may.as_slice() {
        [(index, _)] => vec![*index],
        _ => Vec::new(),
    };
    let picked = use_local(only);
    let typed = use_local(String::new);
    let places: IArray<ChipItem<u32>> = may
        .iter()
        .map(|&(index, number)| {
            let on = picked.contains(&index);
            ChipItem::new(u32::from(index), number.to_string(), on)
        })
        .collect();
    let pick = {
        let picked = picked.clone();
        Callback::from(move |n: u32| {
            let place = n as u16;
            let mut next = (*picked).clone();
            match next.iter().position(|&it| it == place) {
                Some(at) => drop(next.remove(at)),
                None => next.push(place),
            }
            next.sort_unstable();
            picked.set(next);
        })
    };
    let say = |reason: String| {
        let (fixing, places) = (ask.page.row.id, (*picked).clone());
        ask.tell(&desk, move || Command::LeaveEmpty {
            fixing,
            places: places.clone(),
            reason: reason.clone(),
        })
    };
    let which = match picked.is_empty() {
        true => Readiness::Blocked("Choose which, above".into()),
        false => Readiness::Ready,
    };
    let why = match typed.trim().is_empty() {
        true => Readiness::Blocked("Say why, above".into()),
        false => which,
    };
    let oninput = {
        let typed = typed.clone();
        Callback::from(move |text: AttrValue| typed.set(text.to_string()))
    };
    let foot = part!(Button {
        label: "Log it so",
        kind: ButtonKind::Main,
        icon: Icon::Check,
        readiness: why,
        onpress: say(typed.trim().to_owned())
    });
    html! {
        { part!(Sheet { title: "Stays empty, by decision", onclose: ask.onclose.clone(), foot: foot, children: html! { <>
            <p>{ format!("{} of {}. Its fasteners are counted as left off, and the record says who decided it. Where lives hang on it, the maker's word comes first.", ask.page.row.title, ask.page.of) }</p>
            { part!(ChipRow::<u32> { label: "Which place", items: places, onpress: pick }) }
            if !picked.is_empty() {
                { for REASONS.iter().map(|&why| part!(Button { label: why, face: ButtonFace::Wide, onpress: say(why.to_owned()) })) }
            }
            { part!(TextField { label: "Why, in words", value: (*typed).clone(), oninput: oninput }) }
        </> } }) }
    }
}

crate::live!(Empty, use_empty);
