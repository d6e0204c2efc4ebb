//! Stages put in by steppers and chips: a full figure in parts, or figures of
//! their own, angles last; and what final waits for.
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::torque::TorqueUnit;
use countback_core::view::{self, MadeStages};
use countback_core::words;
use yew::prelude::*;

use super::before::hold_chip;
use crate::app::the_desk;
use crate::kit::{
    Button, ButtonFace, ButtonKind, Chip, ChipItem, ChipRow, IArray, Icon, Readiness, Section,
    Sheet, Stepper, use_local,
};
use crate::part;
use crate::router;
use crate::screens::fixing::meant_chips;

/// Props of [`StagesSheet`].
#[derive(Properties, PartialEq)]
pub struct StagesSheet {
    pub job: AttrValue,
    pub fixing: FixingId,
    /// Something is tightened: the stages stay.
    pub begun: bool,
    pub holds: Vec<(Hold, bool)>,
    /// Whether a last round is asked for; none where none can be made.
    pub last_round: Option<bool>,
    pub onclose: Callback<()>,
}

/// Tenths of the unit, up and down.
const FINER: [(&str, i64); 6] = [
    ("−10", -10_000),
    ("+10", 10_000),
    ("+50", 50_000),
    ("−0.5", -500),
    ("+0.5", 500),
    ("+0.1", 100),
];
const HOLDS: [Hold; 3] = [Hold::Neighbours, Hold::Loaded, Hold::Hot];

#[hook]
fn use_stages_sheet(props: &StagesSheet) -> Html {
    let desk = the_desk();
    let (job, id) = (props.job.clone(), props.fixing);
    let found = desk.read(&job, |book| {
        let it = book.job().fixings.get(id)?;
        let unit = book.job().head.as_ref().map(|h| h.units.torque);
        Some((it.detail.clone(), it.places.len(), unit.unwrap_or_default()))
    });
    let found = found.flatten();
    let making = {
        let found = found.clone();
        use_local(move || {
            let (detail, n, unit) = found.unwrap_or_default();
            MadeStages::of(detail, n, unit)
        })
    };
    let unread = use_local(|| false);
    let Some((noted, n, _)) = found else {
        return html! {};
    };
    let now = (*making).clone();
    let set = {
        let making = making.clone();
        move |change: fn(&mut MadeStages, i64)| {
            let making = making.clone();
            Callback::from(move |value: i64| {
                let mut next = (*making).clone();
                change(&mut next, value);
                making.set(next);
            })
        }
    };
    let units: IArray<ChipItem<usize>> = TorqueUnit::ALL
        .iter()
        .enumerate()
        .map(|(at, &u)| ChipItem::new(at, words::unit(u), now.unit == u))
        .collect();
    let splits = view::splits(n);
    let split_chips: IArray<ChipItem<usize>> = splits
        .iter()
        .enumerate()
        .map(|(at, percents)| {
            let label = if let [_] = percents.as_slice() {
                "In one go".to_owned()
            } else {
                let each: Vec<String> = percents.iter().map(u16::to_string).collect();
                format!("{} %", each.join(", "))
            };
            ChipItem::new(at, label, now.parts.as_ref() == Some(percents))
        })
        .collect();
    let pick_split = {
        let (making, splits) = (making.clone(), splits.clone());
        Callback::from(move |at: usize| {
            if let Some(percents) = splits.get(at) {
                let mut next = (*making).clone();
                next.divide(percents);
                making.set(next);
            }
        })
    };
    let finer: IArray<ChipItem<usize>> = FINER
        .iter()
        .enumerate()
        .map(|(at, (label, _))| ChipItem::new(at, *label, false))
        .collect();
    let pick_finer = set(|m, by| {
        let milli = (i64::from(m.milli) + by).clamp(0, 3_000_000);
        m.enter(milli as u32, m.unit);
    })
    .reform(|at: usize| FINER.get(at).map_or(0, |f| f.1));
    let not_read = {
        let unread = unread.clone();
        Callback::from(move |is: bool| unread.set(is))
    };
    // A unit that was typed goes before the chip.
    let type_figure = {
        let making = making.clone();
        Callback::from(move |text: String| {
            let mut next = (*making).clone();
            let (milli, unit) = view::type_figure(&text, next.unit)?;
            next.enter(milli, unit);
            making.set(next);
            Ok(())
        })
    };
    let style = desk.style();
    let listed: Vec<String> = now
        .detail
        .stages
        .iter()
        .map(|&f| words::figure(f, style))
        .collect();
    let said = desk
        .read(&job, |book| {
            view::stages_said(book.job(), id, &now.detail, desk.at())
        })
        .unwrap_or_default();
    let save = {
        let (desk, job, detail) = (desk.clone(), job.clone(), now.detail.clone());
        Callback::from(move |()| {
            router::close_sheet();
            let act = Act::FixingDescribed {
                fixing: id,
                detail: detail.clone(),
            };
            desk.tell(&job, Command::Record(act));
        })
    };
    let holds: IArray<ChipItem<usize>> = HOLDS
        .iter()
        .enumerate()
        .map(|(at, &h)| {
            let waits = props.holds.iter().any(|&(hold, met)| hold == h && !met);
            ChipItem::new(at, hold_chip(h), waits)
        })
        .collect();
    let pick_hold = {
        let (desk, job, have) = (desk.clone(), job.clone(), props.holds.clone());
        Callback::from(move |at: usize| {
            if let Some(&until) = HOLDS.get(at) {
                let met = have.contains(&(until, false));
                let act = Act::FinalHeld {
                    fixing: id,
                    until,
                    met,
                };
                desk.tell(&job, Command::Record(act));
            }
        })
    };
    let ask_round = {
        let (desk, job, asked) = (desk.clone(), job.clone(), props.last_round == Some(true));
        Callback::from(move |()| {
            let act = Act::LastRoundAsked {
                fixing: id,
                asked: !asked,
            };
            desk.tell(&job, Command::Record(act));
        })
    };
    let readiness = match (props.begun, *unread) {
        (true, _) => Readiness::Blocked("Tightening has begun. Undo it to change them.".into()),
        (_, true) => Readiness::Blocked("The figure is not read".into()),
        _ => match now.waits(&noted, style) {
            Some(why) => Readiness::Blocked(why.into()),
            None => Readiness::Ready,
        },
    };
    let full = now.full();
    let named = |f: Option<Figure>| f.map(|f| words::figure(f, style));
    let turn = now.turn();
    let stage = now.detail.stages.len() + 1;
    // Added once there is one to add.
    let add = |it: Option<Figure>, press: fn(&mut MadeStages, i64)| match named(it) {
        Some(it) => {
            html! { { part!(Button { label: format!("Add {it} as stage {stage}"), icon: Icon::Plus, face: ButtonFace::Wide, onpress: set(press).reform(|()| 0) }) } }
        }
        None => html! {},
    };
    let foot = html! { { part!(Button { label: "Use these stages", kind: ButtonKind::Main, icon: Icon::Check, readiness: readiness, onpress: save }) } };
    html! {
        { part!(Sheet { title: "Stages", onclose: props.onclose.clone(), foot: foot, children: html! { <>
            <div class="sheet__kept">
            <p class="pass__figure">{ if listed.is_empty() { "none noted".to_owned() } else { listed.join(", ") } }</p>
            { for said.iter().map(|s| super::super::doubted(s)) }
            </div>
            if !props.begun {
                <p class="soft">{ "Only what the maker says. The maker's figure wins." }</p>
                { part!(Stepper { label: "Figure", value: now.milli / 1000, min: 0, max: 3000, unit: words::unit(now.unit), under: named(full).unwrap_or_else(|| words::NO_FIGURE.to_owned()), reads: type_figure, onunread: not_read, onchange: set(|m, v| m.enter((v as u32).saturating_mul(1000), m.unit)).reform(|v: u32| i64::from(v)) }) }
                { part!(ChipRow::<usize> { label: "More, less", items: finer, onpress: pick_finer }) }
                { part!(ChipRow::<usize> { label: "Unit", items: units, onpress: set(|m, at| m.enter(m.milli, TorqueUnit::ALL.get(at as usize).copied().unwrap_or_default())).reform(|at: usize| at as i64) }) }
                if full.is_some() {
                    { part!(ChipRow::<usize> { label: "In parts of it", items: split_chips, onpress: pick_split }) }
                }
                { part!(Section { title: "Or stage by stage", children: html! { <>
                    { add(full, |m, _| m.add(m.full())) }
                    { part!(Stepper { label: "Angle, degrees", value: u32::from(now.degrees), min: 0, max: 360, step: 15, onchange: set(|m, v| m.degrees = v as u16).reform(|v: u32| i64::from(v)) }) }
                    { add(turn, |m, _| m.add(m.turn())) }
                    if !now.detail.stages.is_empty() {
                        { part!(Button { label: "Without the last stage", icon: Icon::Close, kind: ButtonKind::Quiet, face: ButtonFace::Wide, onpress: set(|m, _| m.shorten()).reform(|()| 0) }) }
                    }
                </> } }) }
            }
            if !props.begun {
                { meant_chips(&now.detail, style, { let making = making.clone(); Callback::from(move |detail| making.set(MadeStages { detail, ..(*making).clone() })) }) }
            }
            if let Some(asked) = props.last_round {
                <div class="chips__row">
                    { part!(Chip { label: "Go round once more at the end", icon: Icon::Renew, pressed: asked, onpress: ask_round }) }
                </div>
                <p class="soft">{ "For a cover or flange that seals: common practice, listed in ASME PCC-1. The maker's word goes first." }</p>
            }
            { part!(ChipRow::<usize> { label: "Final only", items: holds, onpress: pick_hold }) }
        </> } }) }
    }
}

crate::live!(StagesSheet, use_stages_sheet);
