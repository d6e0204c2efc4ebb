//! A fastener that was forgotten, and those that a new part brings: the size by
//! chips, how many, and where they lie.
use countback_core::fastener::{FastenerKind, FastenerSpec};
use countback_core::job::{Command, ContainerPick};
use countback_core::journal::*;
use countback_core::view;
use yew::prelude::*;

use super::super::sizes;
use super::add::{Adding, Bag, Form, chips};
use crate::kit::{
    Button, ButtonKind, Chip, ChipRow, Icon, ListRow, Rows, Section, Stepper, TagCode, TagSize,
    TextField,
};
use crate::part;

/// The size: those that are met here, or any.
fn size(form: &Form) -> Html {
    let now = &form.now;
    let known = &form.page.sizes;
    let met = chips(
        known
            .iter()
            .take(8)
            .map(|c| (c.label.as_str(), now.spec.as_ref() == Some(&c.spec))),
    );
    let specs: Vec<FastenerSpec> = known.iter().map(|c| c.spec.clone()).collect();
    let pick = form.pick(move |a, n| {
        a.spec = specs.get(n as usize).cloned();
        a.other_size = false;
    });
    let other = form
        .pick(|a, _| {
            a.other_size = true;
            a.spec.get_or_insert_default();
        })
        .reform(|()| 0);
    html! {
        <>
            { part!(ChipRow::<u32> { label: "Size", items: met, onpress: pick, more: "Another size", onmore: other }) }
            if now.other_size { { any_size(form) } }
        </>
    }
}

/// Kind, head, thread and length by chips.
fn any_size(form: &Form) -> Html {
    let inch = form.now.inch;
    let spec = form.now.spec.clone().unwrap_or_default();
    let change = |change: fn(&mut FastenerSpec, bool, u32)| {
        form.pick(move |a: &mut Adding, n| {
            change(a.spec.get_or_insert_default(), inch, n);
        })
    };
    html! {
        { part!(Section { title: spec.label(), children: html! { <>
            { part!(ChipRow::<u32> { label: "Kind", items: sizes::kind_chips(spec.kind), onpress: change(|s, _, n| sizes::set_kind(s, n)) }) }
            { part!(ChipRow::<u32> { label: "Sizes in", items: sizes::system_chips(inch), onpress: form.pick(|a, n| a.inch = n == 1) }) }
            { sizes::small_sizes(&spec, &form.typed(|a, text| a.spec.get_or_insert_default().text = text).reform(AttrValue::from)) }
            if spec.kind == FastenerKind::Shim {
                { sizes::thickness(inch, spec.length_um, change(|s, _, um| sizes::set_thickness(s, um))) }
            } else { <>
            { part!(sizes::Sizes { label: "Head", items: sizes::head_chips(inch, spec.head), onpress: change(|s, inch, n| s.head = sizes::head(inch, s.head, n)) }) }
            { part!(sizes::Sizes { label: "Thread", items: sizes::thread_chips(inch, spec.thread), onpress: change(|s, inch, n| {
                let new = sizes::thread(inch, n);
                s.thread = if s.thread == new { None } else { new };
            }) }) }
            { part!(sizes::Sizes { label: sizes::length_label(inch), items: sizes::length_chips(inch, spec.length_um), onpress: change(|s, _, um| sizes::flip_length(s, um)) }) }
            </> }
        </> } }) }
    }
}

pub fn fastener(form: &Form) -> Html {
    let now = &form.now;
    html! {
        <>
            { size(form) }
            { part!(Stepper { label: "How many", value: now.count, min: 1, onchange: form.pick(|a, n| { a.count = n; a.slackened = a.slackened.min(n); }) }) }
            { part!(Stepper { label: "Of these only slackened", value: now.slackened, max: now.count, onchange: form.pick(|a, n| a.slackened = n) }) }
            if now.slackened < now.count { { bag(form) } }
        </>
    }
}

/// Where those that came out lie.
fn bag(form: &Form) -> Html {
    let now = &form.now;
    let page = &form.page;
    let mut bags = vec![Bag::Bench];
    let mut labels = vec!["Not bagged".to_owned()];
    if !page.tag.is_empty() {
        bags.insert(0, Bag::New);
        labels.insert(0, "A new bag".to_owned());
    }
    for (id, name) in page.containers.iter().take(4) {
        bags.push(Bag::Have(*id));
        labels.push(name.clone());
    }
    let items = chips(
        bags.iter()
            .zip(&labels)
            .map(|(bag, label)| (label.as_str(), *bag == now.bag)),
    );
    let pick = form.pick(move |a, n| {
        if let Some(&bag) = bags.get(n as usize) {
            a.bag = bag;
        }
    });
    html! {
        <>
            { part!(ChipRow::<u32> { label: "They lie in", items: items, onpress: pick }) }
            if now.bag == Bag::New {
                <div class="write-tag">
                    { part!(TagCode { code: page.tag.clone(), size: TagSize::Large }) }
                    <span>{ "Write this on the bag." }</span>
                </div>
            }
        </>
    }
}

pub fn fastener_command(form: &Form) -> Result<Command, &'static str> {
    let now = &form.now;
    let spec = now.spec.clone().ok_or("Choose its size")?;
    let draft = view::forgotten(spec, now.count as u16, now.slackened as u16);
    // Nothing is written on a bag for what stayed in, or is not kept.
    let bagged = now.slackened < now.count && draft.reuse != Reuse::Renew;
    let container = match now.bag {
        Bag::New if bagged => ContainerPick::New {
            tag: form.page.tag.clone(),
            kind: ContainerKind::Bag,
            name: String::new(),
            lies: form.lies.clone(),
        },
        Bag::Have(id) => ContainerPick::Have(id),
        Bag::New | Bag::Bench => ContainerPick::Bench,
    };
    Ok(Command::AddFixing {
        parts: vec![form.part],
        draft,
        container,
    })
}

/// A new part that wants other fasteners than the old one.
pub fn brings(form: &Form) -> Html {
    let now = &form.now;
    let fixings = &form.page.fixings;
    let offered = chips(
        fixings
            .iter()
            .map(|(id, name)| (name.as_str(), now.fixing == Some(*id))),
    );
    let ids: Vec<FixingId> = fixings.iter().map(|f| f.0).collect();
    let pick = form.pick(move |a, n| {
        a.fixing = ids.get(n as usize).copied();
        a.spec = None;
        a.other_size = false;
    });
    let ready = now.fixing.zip(now.spec.clone());
    let take = form
        .pick(|a, _| {
            if let (Some(fixing), Some(spec)) = (a.fixing, a.spec.take()) {
                a.brings.retain(|(of, _)| *of != fixing);
                a.brings.push((fixing, spec));
                a.other_size = false;
            }
        })
        .reform(|()| 0);
    let name = |id: FixingId| {
        let found = fixings.iter().find(|f| f.0 == id);
        found.map_or_else(String::new, |f| f.1.clone())
    };
    html! {
        <>
            <p class="soft">{ "The old ones are kept as spares, as a pattern; the new ones are owed, and stand on the to-buy list until they are here." }</p>
            { part!(ChipRow::<u32> { label: "In place of", items: offered, onpress: pick }) }
            { size(form) }
            if let Some((fixing, spec)) = ready {
                { part!(Button { label: format!("{} in place of {}", spec.label(), name(fixing)), icon: Icon::Plus, onpress: take }) }
            }
            if !now.brings.is_empty() {
                { part!(Rows { label: "It brings", children: html! { <>
                    { for now.brings.iter().map(|(fixing, spec)| {
                        let fixing = *fixing;
                        let drop = form.pick(move |a, _| a.brings.retain(|b| b.0 != fixing)).reform(|()| 0);
                        part!(ListRow { what: spec.label(), lies: format!("in place of {}", name(fixing)), lead: Icon::Bolt, children: html! { <>
                            { part!(Button { label: "Not this one", about: spec.label(), kind: ButtonKind::Quiet, icon: Icon::Close, onpress: drop }) }
                        </> } })
                    }) }
                </> } }) }
            }
            <div class="chips__row">
                { part!(Chip { label: "The part is another than ordered", pressed: !now.as_ordered, onpress: form.pick(|a, _| a.as_ordered = !a.as_ordered).reform(|()| 0) }) }
            </div>
            { part!(TextField { label: "About the new part", value: now.name.clone(), hint: "thinner flange, other maker", oninput: form.typed(|a, t| a.name = t) }) }
        </>
    }
}

pub fn brings_command(form: &Form) -> Result<Command, &'static str> {
    let now = &form.now;
    if now.brings.is_empty() {
        return Err("Choose the fasteners it brings");
    }
    let note = now.name.trim().to_owned();
    if !now.as_ordered && note.is_empty() {
        return Err("Say what is other about the part");
    }
    Ok(Command::Replace {
        part: form.part,
        note,
        as_ordered: now.as_ordered,
        fasteners: now.brings.clone(),
    })
}
