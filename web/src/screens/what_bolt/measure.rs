//! What can be read off a bolt at the bench, each by a chip or a stepper; a
//! second tap on a chip takes a reading back.
use crate::part;
use countback_core::fastener::FastenerKind;
use countback_core::fastener::identify::{CALLIPER_UM, Measure, Measured, PitchCount, RULER_UM};
use countback_core::fastener::marks::Mark;
use countback_core::view;
use yew::prelude::*;

use crate::app::Desk;
use crate::kit::{ChipItem, ChipRow, IArray, Section, State, Stepper, TextField};
use crate::screens::sizes::{self, Scale, Sizes};

/// A start near the size: bolts measure a little under their name.
const OVER_MM: [u32; 15] = [4, 5, 6, 7, 8, 10, 12, 14, 16, 3, 9, 18, 20, 22, 24];
/// The same in sixty-fourths of an inch.
const OVER_IN: [u16; 14] = [12, 16, 20, 24, 28, 32, 40, 48, 7, 9, 10, 36, 56, 64];
/// How many of them are met most.
const OVER_USUAL: (usize, usize) = (9, 8);
const COUNTS: [u32; 4] = [5, 10, 15, 20];
const TURNED_UP: [&str; 5] = [
    "floor",
    "bench",
    "under the machine",
    "in the machine",
    "tray",
];

/// The outside of a bolt, or the inside of a nut.
fn over(m: &mut Measured) -> &mut Option<Measure> {
    match m.kind {
        FastenerKind::Nut => &mut m.bore,
        _ => &mut m.outside,
    }
}

/// Flips between nothing and a length as read with a calliper.
fn flip(at: &mut Option<Measure>, um: u32, uncertainty_um: u32) {
    *at = match at {
        Some(had) if had.um == um => None,
        _ => Some(Measure {
            um,
            uncertainty_um: at.map_or(uncertainty_um, |had| had.uncertainty_um),
        }),
    };
}

pub fn readings(
    desk: &Desk,
    job: &AttrValue,
    now: &State<Measured>,
    ask_taper: bool,
    (inch, system): (bool, Html),
    set: &Callback<Measured>,
) -> Html {
    let style = desk.style();
    let m: Measured = **now;
    let change = |to: fn(&mut Measured, u32)| {
        let set = set.clone();
        Callback::from(move |n: u32| {
            let mut next = m;
            to(&mut next, n);
            set.emit(next);
        })
    };
    let marks = desk
        .read(job, |book| view::usual_marks(book.job(), m.kind))
        .unwrap_or_default();
    let nut = m.kind == FastenerKind::Nut;
    let across = m.outside.or(m.bore);
    let scale = Scale { inch };
    let near = sizes::near_chips(inch, &OVER_MM, &OVER_IN, |um| {
        across.is_some_and(|a| match inch {
            true => a.um <= um && a.um + 794 > um,
            false => (a.um + 499) / 1_000 * 1_000 == um,
        })
    });
    let length =
        |label: &'static str, um: u32, step: (u32, u32), most: u32, to: fn(&mut Measured, u32)| {
            part!(Stepper {
                label: label,
                value: scale.shown(um),
                step: scale.step(step.0, step.1),
                min: scale.shown(500),
                max: scale.shown(most),
                unit: scale.unit(),
                decimal: style.decimal,
                onchange: change(to).reform(move |n: u32| scale.um(n))
            })
        };
    let tools = |now: Option<Measure>| -> IArray<ChipItem<u32>> {
        let chip = |um: u32, label: String| {
            ChipItem::new(um, label, now.is_some_and(|a| a.uncertainty_um == um))
        };
        [
            chip(
                CALLIPER_UM,
                view::read_with("calliper", CALLIPER_UM, inch, style),
            ),
            chip(RULER_UM, view::read_with("ruler", RULER_UM, inch, style)),
        ]
        .into_iter()
        .collect()
    };
    let taper: IArray<ChipItem<u32>> = ["stays the same", "tapers"]
        .into_iter()
        .zip(0..)
        .map(|(label, n)| ChipItem::new(n, label, m.tapers == Some(n == 1)))
        .collect();
    let counts: IArray<ChipItem<u32>> = COUNTS
        .iter()
        .map(|&n| {
            let on = m.pitch.is_some_and(|p| u32::from(p.threads) == n);
            ChipItem::new(n, format!("{n} threads"), on)
        })
        .collect();
    let chips: IArray<ChipItem<u32>> = marks
        .iter()
        .enumerate()
        .map(|(n, mark)| {
            let class = view::class_offers(mark, m.kind).first().map(|c| c.0);
            let label = match mark {
                Mark::Text(text) => text.clone(),
                Mark::RadialLines(n) => format!("{n} lines"),
            };
            ChipItem::new(n as u32, label, class.is_some() && m.class == class)
        })
        .collect();
    let mark = {
        let set = set.clone();
        Callback::from(move |n: u32| {
            let read = marks
                .get(n as usize)
                .map(|it| view::class_offers(it, m.kind));
            let class = read.and_then(|r| r.first().map(|c| c.0));
            let mut next = m;
            next.class = if m.class == class { None } else { class };
            set.emit(next);
        })
    };
    let head = {
        let set = set.clone();
        Callback::from(move |n: u32| {
            let head = sizes::head(inch, m.head, n);
            set.emit(Measured { head, ..m });
        })
    };
    html! {
        <>
        { part!(ChipRow::<u32> { label: "Kind", items: sizes::kind_chips(m.kind), onpress: change(|m, n| *m = m.of_kind(sizes::kind(n))) }) }
        { system }
        { part!(Section { title: if nut { "Inside the thread" } else { "Over the thread" }, children: html! { <>
            { part!(Sizes { label: if inch { "Nearly, inches" } else { "Nearly, mm" }, items: (near, if inch { OVER_USUAL.1 } else { OVER_USUAL.0 }), onpress: change(|m, um| flip(over(m), um, CALLIPER_UM)) }) }
            if let Some(a) = across {
                { length("As measured", a.um, (50, 2), 60_000, |m, um| if let Some(a) = over(m) { a.um = um; }) }
                { part!(ChipRow::<u32> { label: "Measured with", items: tools(across), onpress: change(|m, n| if let Some(a) = over(m) { a.uncertainty_um = n; }) }) }
            }
        </> } }) }
        { part!(Section { title: "Pitch, by counting", children: html! { <>
            { part!(ChipRow::<u32> { label: "Count from crest to crest", items: counts, onpress: change(|m, n| {
                let had = m.pitch;
                m.pitch = match had {
                    Some(p) if u32::from(p.threads) == n => None,
                    _ => Some(PitchCount { threads: n as u16, over: had.map_or(Measure { um: n * 1_250, uncertainty_um: RULER_UM }, |p| p.over) }),
                };
            }) }) }
            if ask_taper {
                { part!(ChipRow::<u32> { label: "Along its length it", items: taper, onpress: change(|m, n| m.tapers = Some(n == 1).filter(|now| m.tapers != Some(*now))) }) }
            }
            if let Some(p) = m.pitch {
                { part!(Stepper { label: "Threads", value: u32::from(p.threads), min: 1, max: 60, onchange: change(|m, n| if let Some(p) = &mut m.pitch { p.threads = n as u16; }) }) }
                { length("Over a length of", p.over.um, (500, 20), 100_000, |m, um| if let Some(p) = &mut m.pitch { p.over.um = um; }) }
                { part!(ChipRow::<u32> { label: "Length measured with", items: tools(Some(p.over)), onpress: change(|m, n| if let Some(p) = &mut m.pitch { p.over.uncertainty_um = n; }) }) }
            }
        </> } }) }
        if !nut {
            { part!(Section { title: "Length", children: html! { <>
                { part!(Sizes { label: sizes::length_label(inch), items: sizes::length_chips(inch, m.length.map(|l| l.um)), onpress: change(|m, um| flip(&mut m.length, um, RULER_UM)) }) }
                if let Some(l) = m.length {
                    { length("Under the head", l.um, (1_000, 125), 500_000, |m, um| if let Some(l) = &mut m.length { l.um = um; }) }
                }
            </> } }) }
        }
        { part!(Section { title: "Head", children: html! { <>
            { part!(Sizes { label: "Across flats, or key", items: sizes::head_chips(inch, m.head), onpress: head }) }
            { part!(Sizes { label: "Drive", items: sizes::drive_chips(m.head), onpress: change(|m, n| m.head = Some(sizes::with_drive(m.head, n))) }) }
            { part!(ChipRow::<u32> { label: "Mark on it", items: chips, onpress: mark }) }
        </> } }) }
        </>
    }
}

/// Where it turned up.
pub fn turned_up(place: &State<String>) -> Html {
    let items: IArray<ChipItem<u32>> = TURNED_UP
        .iter()
        .enumerate()
        .map(|(n, w)| ChipItem::new(n as u32, *w, **place == *w))
        .collect();
    let pick = {
        let place = place.clone();
        Callback::from(move |n: u32| {
            place.set(TURNED_UP.get(n as usize).copied().unwrap_or("").to_owned());
        })
    };
    let typed = {
        let place = place.clone();
        Callback::from(move |t: AttrValue| place.set(t.to_string()))
    };
    html! {
        { part!(Section { title: "Where it turned up", children: html! { <>
            { part!(ChipRow::<u32> { label: "Turned up", items: items, onpress: pick }) }
            { part!(TextField { label: "In words", value: (**place).clone(), hint: "by the left wheel", oninput: typed }) }
        </> } }) }
    }
}
