//! What the fasteners are: the thread that their head is found on, the class
//! by the mark. Both are offers; the person confirms, or leaves it open.
use crate::part;
use countback_core::fastener::marks::Mark;
use countback_core::fastener::{Drive, FastenerSpec, HeadSize};
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::view;
use yew::prelude::*;

use super::Ask;
use crate::app::the_desk;
use crate::kit::{
    Banner, Button, ButtonFace, ButtonKind, ChipItem, ChipRow, IArray, Icon, Sheet, TextField,
    use_local,
};
use crate::screens::sizes::{self, Sizes};

#[derive(Properties, PartialEq)]
pub struct Threads {
    pub ask: Ask,
}

/// The fastener is known better from now on.
fn measured(fixing: FixingId, spec: FastenerSpec) -> Command {
    Command::Record(Act::FixingMeasured { fixing, spec })
}

#[hook]
fn use_threads(props: &Threads) -> Html {
    let desk = the_desk();
    let ask = &props.ask;
    let head = use_local(|| ask.page.spec.head);
    let (inch, system) = sizes::use_system(&desk, &ask.job);
    let offers = desk
        .read(&ask.job, |book| {
            view::thread_offers(book.job(), &ask.page.spec, *head)
        })
        .unwrap_or_default();
    let set = |change: fn(bool, Option<HeadSize>, u32) -> Option<HeadSize>| {
        let head = head.clone();
        Callback::from(move |n: u32| head.set(change(inch, *head, n)))
    };
    let spec = ask.page.spec.clone();
    let row = ask.page.row.id;
    let rows = offers.iter().map(|offer| {
        let known = FastenerSpec {
            thread: Some(offer.thread),
            head: *head,
            ..spec.clone()
        };
        html! {
            <div class="offer" key={offer.label.clone()}>
                { part!(Button { label: format!("{}{}", offer.label, if offer.chosen { ", as noted" } else { "" }), face: ButtonFace::Wide, icon: if offer.chosen { Icon::Check } else { Icon::Bolt }, onpress: ask.tell(&desk, move || measured(row, known.clone())) }) }
                <p class="soft">{ format!("{}: {}", offer.share, offer.standards) }</p>
            </div>
        }
    });
    let open = FastenerSpec {
        thread: None,
        head: *head,
        ..spec.clone()
    };
    html! {
        { part!(Sheet { title: "What thread is it?", onclose: ask.onclose.clone(), foot: html! {
            { part!(Button { label: "Leave it open", face: ButtonFace::Wide, icon: Icon::Help, onpress: ask.tell(&desk, move || measured(row, open.clone())) }) }
        }, children: html! { <>
            if offers.is_empty() {
                { part!(Banner { title: if head.is_none_or(|h| h.size.is_none() && h.drive != Drive::Hand) { "Choose its size: what the spanner says, or the width of the slot." } else if head.is_some_and(|h| h.drive == Drive::Hand) { "A head turned by hand tells nothing of its thread. Measure the thread itself." } else { "No standard held here gives this head. Measure the thread itself." }, icon: Icon::Ruler }) }
            } else {
                <p class="strong">{ "Usually found on this head, the likeliest first. Tap the one you have tried." }</p>
                { for rows }
            }
            { system }
            { part!(Sizes { label: sizes::head_label(*head), items: sizes::head_chips(inch, *head), onpress: set(sizes::head) }) }
            { part!(Sizes { label: "Drive", items: sizes::drive_chips(*head), onpress: set(|_, head, n| Some(sizes::with_drive(head, n))) }) }
        </> } }) }
    }
}

crate::live!(Threads, use_threads);

/// Properties of [`use_thick`].
#[derive(Properties, PartialEq)]
pub struct Thick {
    pub ask: Ask,
}

/// How thick a shim is, measured after it was logged.
#[hook]
fn use_thick(props: &Thick) -> Html {
    let desk = the_desk();
    let ask = &props.ask;
    let spec = use_local(|| ask.page.spec.clone());
    let inch = ask.page.length == LengthUnit::Inch;
    let set = {
        let spec = spec.clone();
        Callback::from(move |um: u32| {
            let mut next = (*spec).clone();
            sizes::set_thickness(&mut next, um);
            spec.set(next);
        })
    };
    let (row, known) = (ask.page.row.id, (*spec).clone());
    html! {
        { part!(Sheet { title: "How thick is it?", onclose: ask.onclose.clone(), foot: html! {
            { part!(Button { label: format!("It is a {}", known.label()), kind: ButtonKind::Main, icon: Icon::Check, onpress: ask.tell(&desk, move || measured(row, known.clone())) }) }
        }, children: html! { <>
            { sizes::thickness(inch, spec.length_um, set) }
            <p class="soft">{ "Wipe it, and measure it flat with a micrometer or the calliper's jaws." }</p>
        </> } }) }
    }
}

crate::live!(Thick, use_thick);

#[derive(Properties, PartialEq)]
pub struct Marks {
    pub ask: Ask,
}

#[hook]
fn use_marks(props: &Marks) -> Html {
    let desk = the_desk();
    let ask = &props.ask;
    let mark = use_local(|| None::<Mark>);
    let usual = desk
        .read(&ask.job, |book| {
            view::usual_marks(book.job(), ask.page.spec.kind)
        })
        .unwrap_or_default();
    let items: IArray<ChipItem<u32>> = usual
        .iter()
        .enumerate()
        .map(|(n, it)| ChipItem::new(n as u32, label(it), mark.as_ref() == Some(it)))
        .collect();
    let pick = {
        let (mark, usual) = (mark.clone(), usual.clone());
        Callback::from(move |n: u32| mark.set(usual.get(n as usize).cloned()))
    };
    let typed = match mark.as_ref() {
        Some(Mark::Text(text)) => text.clone(),
        _ => String::new(),
    };
    let type_it = {
        let mark = mark.clone();
        Callback::from(move |t: AttrValue| mark.set(Some(Mark::Text(t.to_string()))))
    };
    let row = ask.page.row.id;
    let readings = mark
        .as_ref()
        .map(|it| view::class_offers(it, ask.page.spec.kind))
        .unwrap_or_default();
    html! {
        { part!(Sheet { title: "The mark on the head", onclose: ask.onclose.clone(), children: html! { <>
            { part!(ChipRow::<u32> { label: "What stands on it", items: items, onpress: pick }) }
            { part!(TextField { label: "Another mark", value: typed, hint: "figures and letters as read; the maker's own are passed over", oninput: type_it }) }
            { for readings.iter().map(|(class, text)| {
                let known = FastenerSpec { class: Some(*class), ..ask.page.spec.clone() };
                part!(Button { label: format!("Keep {text}"), kind: ButtonKind::Main, icon: Icon::Check, onpress: ask.tell(&desk, move || measured(row, known.clone())) })
            }) }
            if mark.is_some() && readings.is_empty() {
                <p class="soft">{ "This mark says nothing of strength." }</p>
            }
            <p class="soft">{ "No mark says nothing: leave it open. A replaced bolt may be of another class than its maker's figure is for." }</p>
        </> } }) }
    }
}

crate::live!(Marks, use_marks);

fn label(mark: &Mark) -> String {
    match mark {
        Mark::Text(text) => text.clone(),
        Mark::RadialLines(n) => format!("{n} lines"),
    }
}
