//! Found later that washers, spacers, shims or a stud came with each fastener.
use countback_core::fastener::{FastenerKind, FastenerSpec};
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::view;
use yew::prelude::*;

use super::super::sizes::{self, Sizes};
use super::Ask;
use crate::app::the_desk;
use crate::kit::{
    Button, ButtonFace, ButtonKind, ChipItem, ChipRow, IArray, Icon, Readiness, Sheet, State,
    Stepper, use_local,
};
use crate::part;

#[derive(Properties, PartialEq)]
pub struct More {
    pub ask: Ask,
}

const KINDS: [(FastenerKind, &str); 4] = [
    (FastenerKind::Washer, "Washer"),
    (FastenerKind::Spacer, "Spacer"),
    (FastenerKind::Shim, "Shim"),
    (FastenerKind::Stud, "Stud"),
];

#[hook]
fn use_more(props: &More) -> Html {
    let desk = the_desk();
    let ask = &props.ask;
    let more = ask.page.more.clone();
    let inch = ask.page.length == LengthUnit::Inch;
    let spec = use_local(|| None::<FastenerSpec>);
    let each = use_local(|| 1_u32);
    let under = use_local(|| u32::from(more.under));
    let kinds: IArray<ChipItem<u8>> = (0..)
        .zip(KINDS)
        .map(|(n, (kind, word))| {
            ChipItem::new(n, word, spec.as_ref().is_some_and(|s| s.kind == kind))
        })
        .collect();
    let set = |change: fn(&FastenerSpec, bool, u32) -> FastenerSpec| {
        let spec = spec.clone();
        Callback::from(move |n: u32| {
            let next = spec.as_ref().map(|s| change(s, inch, n));
            spec.set(next);
        })
    };
    let kind = {
        let (spec, thread) = (spec.clone(), ask.page.spec.thread);
        Callback::from(move |n: u8| {
            let kind = KINDS.get(usize::from(n)).map(|k| k.0);
            spec.set(kind.map(|kind| view::came_with(kind, thread)));
        })
    };
    let size = match spec.as_ref() {
        None => html! {},
        Some(it) => match it.kind {
            FastenerKind::Spacer => part!(Sizes {
                label: "How long it is",
                items: sizes::length_chips(inch, it.length_um),
                onpress: set(|s, _, n| {
                    let mut s = s.clone();
                    sizes::flip_length(&mut s, n);
                    s
                })
            }),
            FastenerKind::Shim => sizes::thickness(
                inch,
                it.length_um,
                set(|s, _, um| {
                    let mut s = s.clone();
                    sizes::set_thickness(&mut s, um);
                    s
                }),
            ),
            _ => part!(Sizes {
                label: "For which thread",
                items: sizes::thread_chips(inch, it.thread),
                onpress: set(|s, inch, n| {
                    let new = sizes::thread(inch, n);
                    let thread = new.filter(|_| s.thread != new);
                    FastenerSpec {
                        thread,
                        ..s.clone()
                    }
                })
            }),
        },
    };
    let add = {
        let (spec, each, under) = (spec.clone(), *each as u8, *under as u16);
        let (fixing, to) = (ask.page.row.id, more.to);
        ask.tell(&desk, move || {
            let spec = spec.as_ref().cloned().unwrap_or_default();
            Command::Record(Act::ExtraAdded {
                fixing,
                extra: Extra {
                    spec,
                    per_place: each,
                },
                under,
                to,
            })
        })
    };
    let ready = match spec.is_some() {
        true => Readiness::Ready,
        false => Readiness::Blocked("Choose what it was, above".into()),
    };
    let foot = html! { { part!(Button { label: "Add it", kind: ButtonKind::Main, icon: Icon::Check, face: ButtonFace::Wide, readiness: ready, onpress: add }) } };
    let step = |state: &State<u32>| {
        let state = state.clone();
        Callback::from(move |n: u32| state.set(n))
    };
    html! {
        { part!(Sheet { title: "More came with each", onclose: ask.onclose.clone(), foot, children: html! { <>
            { part!(ChipRow::<u8> { label: "What was it?", items: kinds, onpress: kind }) }
            { size }
            { part!(Stepper { label: "With each", value: *each, min: 1, max: 6, onchange: step(&each) }) }
            if more.filled > 0 {
                { part!(Stepper { label: "In their places already", value: *under, max: u32::from(more.filled), under: more.of.clone(), onchange: step(&under) }) }
            }
            <p>{ more.lies.clone() }</p>
        </> } }) }
    }
}

crate::live!(More, use_more);
