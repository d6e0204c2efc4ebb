//! The maker's figure for a fixing: stages with their units, and the doubt
//! about each as it is typed.
use crate::part;
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::torque::{Torque, TorqueUnit};
use countback_core::view;
use countback_core::words;
use yew::prelude::*;

use super::Ask;
use crate::app::the_desk;
use crate::kit::{
    Button, ButtonFace, ButtonKind, Chip, ChipItem, ChipRow, IArray, Icon, Readiness, Sheet,
    Stepper, TextField, use_local,
};

#[derive(Properties, PartialEq)]
pub struct Stages {
    pub ask: Ask,
}

const UNITS: [TorqueUnit; 5] = [
    TorqueUnit::NewtonMetre,
    TorqueUnit::PoundForceFoot,
    TorqueUnit::PoundForceInch,
    TorqueUnit::KilogramForceMetre,
    TorqueUnit::KilogramForceCentimetre,
];
/// Degrees stand after the units among the chips.
const DEGREES: u32 = 5;

/// A start near the figure, in whole units or degrees; the stepper does the rest.
const NEARLY: [u32; 8] = [10, 20, 25, 40, 50, 80, 90, 120];

fn unit_of(figure: Figure) -> u32 {
    match figure {
        Figure::Torque { unit, .. } => UNITS.iter().position(|u| *u == unit).unwrap_or(0) as u32,
        Figure::Angle { .. } => DEGREES,
    }
}

/// The same number in another unit: it was read off in that one.
fn as_unit(figure: Figure, n: u32) -> Figure {
    let milli = match figure {
        Figure::Torque { milli, .. } => milli,
        Figure::Angle { degrees } => u32::from(degrees) * 1_000,
    };
    match UNITS.get(n as usize) {
        Some(&unit) => Figure::Torque { milli, unit },
        None => Figure::Angle {
            degrees: (milli / 1_000).min(720) as u16,
        },
    }
}

fn with_number(figure: Figure, n: u32) -> Figure {
    match figure {
        Figure::Torque { unit, .. } => Figure::Torque { milli: n, unit },
        Figure::Angle { .. } => Figure::Angle {
            degrees: n.min(720) as u16,
        },
    }
}

#[hook]
fn use_stages(props: &Stages) -> Html {
    let desk = the_desk();
    let style = desk.style();
    let ask = &props.ask;
    let unit = ask.page.unit;
    let now = use_local(|| {
        let mut detail = ask.page.detail.clone();
        if detail.stages.is_empty() {
            detail.stages.push(Figure::Torque { milli: 0, unit });
        }
        detail
    });
    let edit = |at: usize, change: fn(&mut FixingDetail, usize, u32)| {
        let now = now.clone();
        Callback::from(move |n: u32| {
            let mut next = (*now).clone();
            change(&mut next, at, n);
            now.set(next);
        })
    };
    let change = |at: usize, to: fn(Figure, u32) -> Figure| {
        let now = now.clone();
        Callback::from(move |n: u32| {
            let mut next = (*now).clone();
            if let Some(stage) = next.stages.get_mut(at) {
                *stage = to(*stage, n);
            }
            now.set(next);
        })
    };
    let source = {
        let now = now.clone();
        Callback::from(move |t: AttrValue| {
            let source = t.to_string();
            now.set(FixingDetail {
                source,
                ..(*now).clone()
            });
        })
    };
    // Typed with its unit, or as a range.
    let reads = |at: usize, chosen: Option<TorqueUnit>| {
        let now = now.clone();
        Callback::from(move |text: String| {
            let mut next = (*now).clone();
            view::type_stage(&mut next, at, &text, chosen)?;
            now.set(next);
            Ok(())
        })
    };
    // Nothing is kept while a typed figure is not read.
    let unread = use_local(|| None::<usize>);
    let not_read = |at: usize| {
        let unread = unread.clone();
        Callback::from(move |is: bool| match is {
            true => unread.set(Some(at)),
            false if *unread == Some(at) => unread.set(None),
            false => {}
        })
    };
    let readiness = match *unread {
        Some(at) if at < now.stages.len() => {
            Readiness::Blocked(format!("Stage {} is not read", at + 1).into())
        }
        _ => Readiness::Ready,
    };
    let surface = now.surface(ask.page.put_on);
    let stages = now.stages.iter().enumerate().map(|(n, &figure)| {
        let on = unit_of(figure);
        let labels = UNITS.iter().map(|&u| words::unit(u)).chain(["degrees"]);
        let units: IArray<ChipItem<u32>> = labels
            .enumerate()
            .map(|(u, label)| ChipItem::new(u as u32, label, on == u as u32))
            .collect();
        let stepper = match figure {
            Figure::Torque { milli, unit } => {
                // A step of about the same pull in every unit.
                let step = match unit {
                    TorqueUnit::KilogramForceMetre => 100,
                    TorqueUnit::PoundForceInch | TorqueUnit::KilogramForceCentimetre => 5_000,
                    _ => 1_000,
                };
                part!(Stepper { label: format!("Stage {}", n + 1), value: milli, step: step, max: 2_000_000, unit: words::unit(unit), decimal: style.decimal, onchange: change(n, with_number), reads: reads(n, Some(unit)), onunread: not_read(n) })
            }
            Figure::Angle { degrees } => {
                part!(Stepper { label: format!("Stage {}", n + 1), value: u32::from(degrees), step: 15, max: 720, unit: "degrees more", onchange: change(n, with_number), reads: reads(n, None), onunread: not_read(n) })
            }
        };
        let these = now.stages.get(n..).unwrap_or_default();
        let found = words::torque_check(&ask.page.spec, these, surface, unit, style)
            .filter(|_| !matches!(figure, Figure::Torque { milli: 0, .. }));
        let in_job = match figure {
            Figure::Torque { milli, unit: own } if own != unit && milli > 0 => {
                Some(Torque::from_thousandths(milli, own).shown_in(unit))
            }
            _ => None,
        };
        let whole = match figure {
            Figure::Torque { milli, .. } => milli / 1_000,
            Figure::Angle { degrees } => u32::from(degrees),
        };
        let nearly: IArray<ChipItem<u32>> = NEARLY
            .iter()
            .map(|&near| {
                let to = match figure {
                    Figure::Torque { .. } => near * 1_000,
                    Figure::Angle { .. } => near,
                };
                ChipItem::new(to, near.to_string(), whole == near)
            })
            .collect();
        html! {
            <div class="stage" key={n}>
                { stepper }
                { part!(ChipRow::<u32> { label: format!("Stage {}, nearly", n + 1), items: nearly, onpress: change(n, with_number) }) }
                { part!(ChipRow::<u32> { label: format!("Unit of stage {}", n + 1), items: units, onpress: change(n, as_unit) }) }
                if let Some(shown) = in_job { <p class="soft">{ format!("That is {shown}.") }</p> }
                if let Some(said) = found.filter(|found| found.doubt.is_empty()).map(|found| found.reckoned()).filter(|said| !said.is_empty()) {
                    <p class="soft">{ said }</p>
                }
                { part!(Button { label: format!("Without stage {}", n + 1), kind: ButtonKind::Quiet, icon: Icon::Close, onpress: edit(n, |d, at, _| { if at < d.stages.len() { d.stages.remove(at); } }).reform(|()| 0) }) }
            </div>
        }
    });
    let said = desk
        .read(&ask.job, |book| {
            view::stages_said(book.job(), ask.page.row.id, &now, desk.at())
        })
        .unwrap_or_default();
    let mark_stays = desk.read(&ask.job, |book| view::mark_stays(book, ask.page.row.id));
    let mark_stays = mark_stays.unwrap_or_default();
    let add = edit(0, |detail, _, _| {
        let next = match detail.stages.last() {
            Some(Figure::Torque { unit, .. }) => Figure::Torque {
                milli: 0,
                unit: *unit,
            },
            _ => Figure::Angle { degrees: 90 },
        };
        detail.stages.push(next);
    })
    .reform(|()| 0);
    let keep = {
        let (fixing, mut detail) = (ask.page.row.id, (*now).clone());
        detail.stages.retain(|s| {
            !matches!(
                s,
                Figure::Torque { milli: 0, .. } | Figure::Angle { degrees: 0 }
            )
        });
        move || {
            Command::Record(Act::FixingDescribed {
                fixing,
                detail: detail.clone(),
            })
        }
    };
    html! {
        { part!(Sheet { title: "The maker's figure", onclose: ask.onclose.clone(), foot: html! {
            { part!(Button { label: "Keep it", kind: ButtonKind::Main, icon: Icon::Check, readiness: readiness, onpress: ask.tell(&desk, keep) }) }
        }, children: html! { <>
            <p class="soft">{ "Only what the maker says. Leave it empty when you do not know. Tap the number to type it: 25, 25 Nm, 10-11." }</p>
            { for stages }
            { for said.iter().map(|s| super::super::doubted(s)) }
            { part!(Button { label: "Add a stage", face: ButtonFace::Wide, icon: Icon::Plus, onpress: add }) }
            { super::meant::meant_chips(&now, style, { let now = now.clone(); Callback::from(move |detail| now.set(detail)) }) }
            { part!(TextField { label: "Where the figure is from", value: now.source.clone(), hint: "workshop manual, page 112", oninput: source }) }
            if mark_stays {
                <p class="soft">{ "Safety: a second look is owed. Where there is nobody else, it is let go in the Audit, with a name and a reason." }</p>
            } else {
                <div class="chips__row">
                    { part!(Chip { label: "Safety: second look", pressed: now.safety, onpress: edit(0, |d, _, _| d.safety = !d.safety).reform(|()| 0) }) }
                </div>
            }
        </> } }) }
    }
}

crate::live!(Stages, use_stages);
