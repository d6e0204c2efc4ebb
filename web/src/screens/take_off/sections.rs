//! The sections of the Take off screen: the name, the fasteners and where they
//! go, what had to be off first, where it lies, what hung on it.
use countback_core::journal::PartId;
use countback_core::view::{Chips, Choice, Loosening};
use countback_core::words;
use yew::prelude::*;

use super::super::pick::{Pick, PickHow};
use super::super::tighten::OrderPicture;
use super::draft::{CONTAINERS, Draft, DraftBag, WHYS};
use super::{Over, connection, fixing};
use crate::kit::{
    Banner, BannerKind, Button, ButtonKind, ChipItem, ChipRow, IArray, Icon, ListRow, Rows,
    Section, State, Stepper, TagCode as TagShown, TagSize, TextField,
};
use crate::part;

pub(super) fn name_part(
    now: &Draft,
    chips: &Chips,
    off: &[(PartId, Option<String>)],
    set: &Callback<Draft>,
    typing: bool,
    type_it: &State<bool>,
) -> Html {
    // Once chosen, the choice alone is left; a tap on it brings all back.
    let planned: Vec<Choice> = chips
        .planned
        .iter()
        .filter(|p| now.name.is_empty() || now.planned.as_deref() == Some(&p.key))
        .map(|p| Choice {
            id: p.key.clone(),
            name: p.name.clone(),
        })
        .collect();
    let chosen: Vec<String> = now.planned.iter().cloned().collect();
    let names: IArray<ChipItem<String>> = chips
        .names
        .iter()
        .filter(|n| chips.planned.iter().take(6).all(|p| &p.name != *n))
        .filter(|n| now.name.is_empty() || now.name == **n)
        .take(10)
        .map(|n| ChipItem::new(n.clone(), n.clone(), now.name == *n))
        .collect();
    let plan = {
        let (now, set, plans, off) = (
            now.clone(),
            set.clone(),
            chips.planned.clone(),
            off.to_vec(),
        );
        Callback::from(move |key: String| {
            let mut next = now.clone();
            match plans.iter().find(|it| it.key == key) {
                Some(_) if next.planned.as_ref() == Some(&key) => {
                    next.name = String::new();
                    next.planned = None;
                }
                Some(planned) => next.plan(planned, &off),
                None => {}
            }
            set.emit(next);
        })
    };
    let pick = {
        let (now, set) = (now.clone(), set.clone());
        Callback::from(move |name: String| {
            let mut next = now.clone();
            next.name = if next.name == name {
                String::new()
            } else {
                name
            };
            next.planned = None;
            set.emit(next);
        })
    };
    let typed = {
        let (now, set) = (now.clone(), set.clone());
        Callback::from(move |text: AttrValue| {
            let mut next = now.clone();
            next.name = text.to_string();
            set.emit(next);
        })
    };
    let on_chip =
        chips.names.contains(&now.name) || chips.planned.iter().any(|p| p.name == now.name);
    html! {
        { part!(Section { title: "What comes off?", children: html! { <>
            if !planned.is_empty() {
                { part!(Pick { label: "From the procedure", all: planned, chosen: chosen, how: PickHow::One, onpress: plan }) }
            }
            { part!(ChipRow::<String> { label: "Parts", items: names, onpress: pick, more: "Type it", onmore: {let t = type_it.clone(); Callback::from(move |()| t.set(true))} }) }
            if typing || (!now.name.is_empty() && !on_chip) {
                { part!(TextField { label: "Name of the part", value: now.name.clone(), oninput: typed }) }
            }
        </> } }) }
    }
}

/// In which order the fasteners of a planned part come out, before they do.
pub(super) fn loosen(all: &[Loosening]) -> Html {
    let each = all.iter().map(|it| {
        html! {
            <>
            { part!(Banner { kind: BannerKind::Info, title: it.said.clone() }) }
            if !it.drawing.discs.is_empty() {
                { part!(OrderPicture { drawing: it.drawing.clone() }) }
            }
            </>
        }
    });
    html! { <>{ for each }</> }
}

pub(super) fn fasteners(
    now: &Draft,
    chips: &Chips,
    set: &Callback<Draft>,
    over: &State<Over>,
) -> Html {
    let sizes: IArray<ChipItem<usize>> = chips
        .sizes
        .iter()
        .enumerate()
        .take(8)
        .map(|(n, c)| {
            let text = c.spec.to_string();
            ChipItem::new(
                n,
                c.label.clone(),
                now.fixings.iter().any(|f| f.spec == text),
            )
        })
        .collect();
    let pick = {
        let (now, set, sizes) = (now.clone(), set.clone(), chips.sizes.clone());
        Callback::from(move |n: usize| {
            let mut next = now.clone();
            if let Some(chip) = sizes.get(n) {
                next.add_size(&chip.spec, chip.count);
            }
            set.emit(next);
        })
    };
    html! {
        { part!(Section { title: "Fasteners", count: format!("{} in all", now.fixings.iter().map(|f| u32::from(f.count)).sum::<u32>()), children: html! { <>
            { for now.fixings.iter().enumerate().map(|(n, f)| {
                let count = {
                    let (now, set) = (now.clone(), set.clone());
                    Callback::from(move |count: u32| {
                        let mut next = now.clone();
                        if count == 0 {
                            next.take_out_fixing(n);
                        } else if let Some(at) = next.fixings.get_mut(n) {
                            at.count = count as u16;
                        }
                        set.emit(next);
                    })
                };
                let over = over.clone();
                html! {
                    <div class="counted" key={n}>
                        { part!(Stepper { label: f.read_spec().label(), value: u32::from(f.count), under: fixing::under(f), onchange: count }) }
                        { part!(Button { label: "Details", about: f.read_spec().label(), kind: ButtonKind::Quiet, icon: Icon::Edit, onpress: Callback::from(move |()| over.set(Over::Fixing(n))) }) }
                    </div>
                }
            }) }
            { part!(ChipRow::<usize> { label: "Add a size", items: sizes, onpress: pick, more: "Another size", onmore: {let over = over.clone(); Callback::from(move |()| over.set(Over::NewFixing))} }) }
        </> } }) }
    }
}

/// Stand for a new container and for the bench where else an id stands.
const NEW: &str = "new";
const BENCH: &str = "bench";

pub(super) fn bag(now: &Draft, chips: &Chips, set: &Callback<Draft>, tag: &str) -> Html {
    let new = format!(
        "New {} {}",
        words::container_kind(now.container_kind()),
        spaced(tag)
    );
    let fixed = |id: &str, name: String| Choice {
        id: id.to_owned(),
        name,
    };
    let first = vec![fixed(NEW, new), fixed(BENCH, "Not bagged".to_owned())];
    let chosen = match &now.bag {
        DraftBag::New => NEW,
        DraftBag::Bench => BENCH,
        DraftBag::Have(id) => id,
    };
    let pick = {
        let (now, set) = (now.clone(), set.clone());
        Callback::from(move |id: String| {
            let bag = match id.as_str() {
                NEW => DraftBag::New,
                BENCH => DraftBag::Bench,
                _ => DraftBag::Have(id),
            };
            set.emit(Draft { bag, ..now.clone() })
        })
    };
    let kinds: IArray<ChipItem<usize>> = CONTAINERS
        .iter()
        .enumerate()
        .map(|(n, &kind)| {
            ChipItem::new(
                n,
                words::container_kind(kind),
                n == usize::from(now.container),
            )
        })
        .collect();
    let kind = {
        let (now, set) = (now.clone(), set.clone());
        Callback::from(move |chosen: usize| {
            set.emit(Draft {
                container: chosen as u8,
                ..now.clone()
            })
        })
    };
    html! {
        { part!(Section { title: "Where the fasteners go", children: html! { <>
            { part!(Pick { label: "The fasteners go into", first: first, icon: Icon::Bag, all: chips.containers.clone(), chosen: vec![chosen.to_owned()], most: 3, how: PickHow::One, onpress: pick }) }
            if now.bag == DraftBag::New && !now.fixings.is_empty() {
                <div class="write-tag">
                    { part!(TagShown { code: tag.to_owned(), size: TagSize::Large }) }
                    <span>{ format!("Write this on the {}.", words::container_kind(now.container_kind())) }</span>
                </div>
                { part!(ChipRow::<usize> { label: "It is a", items: kinds, onpress: kind }) }
            }
        </> } }) }
    }
}

pub(super) fn spaced(tag: &str) -> String {
    tag.as_bytes()
        .chunks(2)
        .map(|c| String::from_utf8_lossy(c).into_owned())
        .collect::<Vec<_>>()
        .join(" ")
}

pub(super) fn came_after(now: &Draft, chips: &Chips, set: &Callback<Draft>) -> Html {
    if chips.first_off.is_empty() {
        return html! {};
    }
    let first = vec![Choice {
        id: String::new(),
        name: "Free to reach".to_owned(),
    }];
    let chosen = match now.after.is_empty() {
        true => vec![String::new()],
        false => now.after.clone(),
    };
    let pick = {
        let (now, set) = (now.clone(), set.clone());
        Callback::from(move |id: String| {
            let mut next = now.clone();
            if id.is_empty() {
                next.after.clear();
            } else if let Some(at) = next.after.iter().position(|a| *a == id) {
                next.after.remove(at);
            } else {
                next.after.push(id);
            }
            set.emit(next);
        })
    };
    // One node however many: a list that grows would be drawn anew around an
    // open sheet.
    let named = now.after.iter();
    let named = named.filter_map(|id| chips.first_off.iter().find(|it| it.id == *id));
    let whys = html! { <>{ for named.map(|it| why(now, set, it)) }</> };
    html! {
        { part!(Section { title: "What had to be off first?", children: html! { <>
            { part!(Pick { label: "It could be reached", first: first, all: chips.first_off.clone(), chosen: chosen, onpress: pick }) }
            { whys }
        </> } }) }
    }
}

/// Why a part that was named had to be off first.
fn why(now: &Draft, set: &Callback<Draft>, first: &Choice) -> Html {
    let on = now.why(&first.id);
    let items: IArray<ChipItem<u8>> = WHYS
        .iter()
        .zip(0_u8..)
        .map(|(&why, n)| ChipItem::new(n, words::why(why), n == on))
        .collect();
    let (now, set, id) = (now.clone(), set.clone(), first.id.clone());
    let press = Callback::from(move |n: u8| {
        let mut next = now.clone();
        next.set_why(&id, n);
        set.emit(next);
    });
    part!(ChipRow::<u8> {
        label: format!("Why {} first", first.name),
        items: items,
        onpress: press
    })
}

pub(super) fn lies(now: &Draft, chips: &Chips, set: &Callback<Draft>) -> Html {
    let items: IArray<ChipItem<String>> = chips
        .lies
        .iter()
        .take(5)
        .map(|l| ChipItem::new(l.clone(), l.clone(), now.lies == *l))
        .collect();
    let pick = {
        let (now, set) = (now.clone(), set.clone());
        Callback::from(move |lies: String| {
            let mut next = now.clone();
            next.lies = if next.lies == lies {
                String::new()
            } else {
                lies
            };
            set.emit(next);
        })
    };
    html! { { part!(ChipRow::<String> { label: "It lies", items: items, onpress: pick }) } }
}

pub(super) fn hung(now: &Draft, over: &State<Over>) -> Html {
    let besides = now.carried.iter().zip(std::iter::repeat("Comes off on it"));
    let besides = besides.chain(now.findings.iter().zip(std::iter::repeat("Finding on it")));
    if now.connections.is_empty() && now.items.is_empty() && besides.clone().next().is_none() {
        return html! {};
    }
    html! {
        { part!(Rows { label: "What hung on it", children: html! { <>
            { for now.connections.iter().enumerate().map(|(n, c)| {
                let over = over.clone();
                html! { { part!(ListRow { what: c.called().to_owned(), lead: Icon::Hose, tag: (!c.tag.is_empty()).then(|| AttrValue::from(c.tag.clone())), lies: connection::ends_text(c), onpress: Callback::from(move |()| over.set(Over::Connection(Some(n)))) }) } }
            }) }
            { for now.items.iter().enumerate().map(|(n, i)| {
                let over = over.clone();
                html! { { part!(ListRow { what: format!("{} × {} {}", i.count, i.called(), i.size), lead: Icon::Gasket, lies: "Used once: a new one is owed", onpress: Callback::from(move |()| over.set(Over::Item(Some(n)))) }) } }
            }) }
            { for besides.map(|(what, why)| {
                let over = over.clone();
                part!(ListRow { what: what.clone(), lead: Icon::SubAssembly, lies: why, onpress: Callback::from(move |()| over.set(Over::More)) })
            }) }
        </> } }) }
    }
}
