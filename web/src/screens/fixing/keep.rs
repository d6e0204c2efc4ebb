//! What goes in and what goes on: new fasteners or, by decision and with a
//! reason, the old ones; lubricant, thread-locker or sealant on their threads.
use crate::part;
use countback_core::fastener::{FastenerKind, common_items};
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::view::FixingPage;
use yew::prelude::*;

use super::Ask;
use crate::app::{Desk, the_desk};
use crate::kit::{
    Button, ButtonKind, Chip, ChipItem, ChipRow, IArray, Icon, Readiness, Sheet, Stepper,
    TextField, use_local,
};

#[derive(Properties, PartialEq)]
pub struct Keep {
    /// The old ones are to be kept, rather than new ones taken.
    pub old: bool,
    pub ask: Ask,
}

const WHY_OLD: [&str; 4] = [
    "looked at, as new",
    "none to be had",
    "the maker allows it",
    "only for now",
];
const WHY_NEW: [&str; 4] = [
    "used once only",
    "worn or stretched",
    "rusted",
    "the maker asks for it",
];

/// Chips of words, the one that is set on; their number is their place.
fn chips(list: &'static [&'static str], now: &str) -> IArray<ChipItem<u32>> {
    let chip = |(n, w): (usize, &&'static str)| ChipItem::new(n as u32, *w, *w == now);
    list.iter().enumerate().map(chip).collect()
}

#[hook]
fn use_keep(props: &Keep) -> Html {
    let desk = the_desk();
    let ask = &props.ask;
    let why = use_local(String::new);
    let renew = props.old;
    let list: &'static [&'static str] = if renew { &WHY_OLD } else { &WHY_NEW };
    let pick = {
        let why = why.clone();
        Callback::from(move |n: u32| {
            why.set(list.get(n as usize).copied().unwrap_or("").to_owned());
        })
    };
    let typed = {
        let why = why.clone();
        Callback::from(move |t: AttrValue| why.set(t.to_string()))
    };
    let (fixing, spec, reason) = (
        ask.page.row.id,
        ask.page.spec.clone(),
        why.trim().to_owned(),
    );
    // New ones need no reason; keeping old ones is an exception, which does.
    let readiness = match renew && reason.is_empty() {
        true => Readiness::Blocked("Say why, above".into()),
        false => Readiness::Ready,
    };
    let undecided = ask.page.reuse.undecided;
    let act = move || {
        let reason = reason.clone();
        let act = match (renew, undecided) {
            (true, Some(owed)) => return Command::Except { owed, reason },
            (true, None) => Act::OldKept { fixing, reason },
            (false, _) => Act::FixingRenewed {
                fixing,
                spec: spec.clone(),
                reason,
            },
        };
        Command::Record(act)
    };
    let (title, label, under) = match renew {
        true => (
            "Fit the old ones all the same",
            "The old ones go back",
            "The audit lists this by name and reason, as accepted.",
        ),
        false => (
            "Take new ones",
            "New ones go in",
            "They come onto the to-buy list. The old ones that lie loose are kept apart as a pattern.",
        ),
    };
    html! {
        { part!(Sheet { title: title, onclose: ask.onclose.clone(), foot: html! {
            { part!(Button { label: label, kind: ButtonKind::Main, icon: Icon::Check, readiness: readiness, onpress: ask.tell(&desk, act) }) }
        }, children: html! { <>
            <p>{ ask.page.reuse.trade.clone() }</p>
            { part!(ChipRow::<u32> { label: "Why", items: chips(list, &why), onpress: pick }) }
            { part!(TextField { label: "Why, in words", value: (*why).clone(), oninput: typed }) }
            <p class="soft">{ under }</p>
        </> } }) }
    }
}

crate::live!(Keep, use_keep);

/// A bolt that is said to stretch, or not to.
pub fn stretches(desk: &Desk, job: &AttrValue, page: &FixingPage) -> Html {
    if !matches!(page.spec.kind, FastenerKind::Bolt | FastenerKind::Screw) {
        return html! {};
    }
    let on = common_items::stretches(&page.spec);
    let (desk, job, fixing) = (desk.clone(), job.clone(), page.row.id);
    let spec = match on {
        true => common_items::that_does_not_stretch(page.spec.clone()),
        false => common_items::that_stretches(page.spec.clone()),
    };
    let onpress = Callback::from(move |()| {
        let spec = spec.clone();
        desk.tell(&job, Command::Record(Act::FixingMeasured { fixing, spec }));
    });
    html! {
        <div class="chips__row">
            { part!(Chip { label: "stretch bolt", pressed: on, onpress: onpress }) }
        </div>
    }
}

#[derive(Properties, PartialEq)]
pub struct Treat {
    pub ask: Ask,
}

const KINDS: [TreatmentKind; 3] = [
    TreatmentKind::Lubricant,
    TreatmentKind::ThreadLocker,
    TreatmentKind::Sealant,
];
const PRODUCTS: [&[&str]; 3] = [
    &["engine oil", "grease", "copper paste"],
    &["medium strength", "high strength", "low strength"],
    &["thread sealant", "PTFE tape", "silicone"],
];

/// What the label of a product says.
#[derive(Clone, Debug, Default, PartialEq)]
struct Label {
    /// Its kind, by its place in [`KINDS`].
    at: usize,
    product: String,
    /// Until it bears.
    hours: u32,
    minutes: u32,
    /// Minutes within which to assemble; 0 where it does not say.
    open: u32,
}

#[hook]
fn use_treat(props: &Treat) -> Html {
    let desk = the_desk();
    let ask = &props.ask;
    let now = use_local(Label::default);
    let Label { at, product, .. } = (*now).clone();
    let set = |change: fn(&mut Label, u32)| {
        let now = now.clone();
        Callback::from(move |n: u32| {
            let mut next = (*now).clone();
            change(&mut next, n);
            now.set(next);
        })
    };
    let typed = {
        let now = now.clone();
        Callback::from(move |t: AttrValue| {
            now.set(Label {
                product: t.to_string(),
                ..(*now).clone()
            })
        })
    };
    let kind = KINDS.get(at).copied().unwrap_or(TreatmentKind::Lubricant);
    let products = PRODUCTS.get(at).copied().unwrap_or(&[]);
    let (cure_min, open_min) = (now.hours * 60 + now.minutes, now.open);
    let add = {
        let (on, product) = (Target::Fixing(ask.page.row.id), product.clone());
        move || {
            Command::Record(Act::TreatmentPrescribed(Treatment {
                kind,
                product: product.trim().to_owned(),
                on,
                cure_min,
                open_min: (open_min > 0).then_some(open_min),
                holds_fill: false,
                holds_start: cure_min > 0,
                holds_cover: false,
            }))
        }
    };
    html! {
        { part!(Sheet { title: "On its threads", onclose: ask.onclose.clone(), foot: html! {
            { part!(Button { label: "It wants this", kind: ButtonKind::Main, icon: Icon::Check, onpress: ask.tell(&desk, add) }) }
        }, children: html! { <>
            { part!(ChipRow::<u32> { label: "What", items: chips(&["lubricant", "thread-locker", "sealant"], ["lubricant", "thread-locker", "sealant"].get(at).copied().unwrap_or("")), onpress: set(|now, n| *now = Label { at: n as usize, ..Label::default() }) }) }
            { part!(ChipRow::<u32> { label: "Product", items: chips(products, &product), onpress: set(|now, n| {
                now.product = PRODUCTS.get(now.at).and_then(|list| list.get(n as usize)).copied().unwrap_or("").to_owned();
            }) }) }
            { part!(TextField { label: "Product in words", value: product, hint: "as its label says", oninput: typed }) }
            if kind != TreatmentKind::Lubricant {
                { part!(Stepper { label: "Cures for, by its label", value: now.hours, max: 168, unit: "hours", onchange: set(|now, n| now.hours = n) }) }
                { part!(Stepper { label: "and minutes", value: now.minutes, max: 55, step: 5, unit: "minutes", onchange: set(|now, n| now.minutes = n) }) }
                { part!(Stepper { label: "Assemble within, by its label", value: now.open, max: 240, step: 5, unit: "minutes", under: (now.open == 0).then_some(AttrValue::Static("Left at 0 where the label does not say.")), onchange: set(|now, n| now.open = n) }) }
            }
            <p class="soft">{ "Oil or paste on the threads makes a figure meant for dry ones too much. The maker says which it is for." }</p>
        </> } }) }
    }
}

crate::live!(Treat, use_treat);
