//! Opening a job: machine, aim, mileage, who is at work, a procedure.
use crate::kit::use_local;
use crate::part;
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::torque::TorqueUnit;
use countback_core::words;
use yew::prelude::*;

use crate::app::the_desk;
use crate::kit::{
    ActPlace, Button, ButtonKind, ChipItem, ChipRow, IArray, Icon, MainAct, NumberField, Page,
    Readiness, Reading, TextField,
};
use crate::router::{self, Route};

#[hook]
pub fn use_new_job() -> Html {
    let desk = the_desk();
    let title = use_local(|| desk.typed("new-title").unwrap_or_default());
    let machine = use_local(|| desk.typed("new-machine").unwrap_or_default());
    let aim = use_local(|| desk.typed("new-aim").unwrap_or_default());
    let by = use_local(|| desk.typed("new-by").unwrap_or_else(|| desk.prefs().by));
    let meter = use_local(|| desk.typed("new-reading").unwrap_or_default());
    let meter_kind = use_local(|| {
        let kept = desk.typed("new-counted").unwrap_or_default();
        METERS
            .into_iter()
            .find(|it| word_of(*it) == kept)
            .unwrap_or(MeterKind::Kilometres)
    });
    // A unit that was chosen stands for a reading.
    let counted = use_local(|| false);
    let unit = use_local(|| TorqueUnit::NewtonMetre);
    let inch = use_local(|| false);
    let procedures = desk.procedures();
    let chosen = use_local(|| desk.chosen_procedure());
    {
        let desk = desk.clone();
        use_effect_with((), move |()| desk.load_demos());
    }
    let busy = use_local(|| false);
    let name = [
        title.as_str(),
        chosen.as_deref().unwrap_or_default(),
        &machine,
    ]
    .into_iter()
    .map(str::trim)
    .find(|it| !it.is_empty())
    .unwrap_or_default()
    .to_owned();
    let open = {
        let desk = desk.clone();
        let (machine, aim, by, busy) = (machine.clone(), aim.clone(), by.clone(), busy.clone());
        let (meter, meter_kind, unit, inch) = (meter.clone(), *meter_kind, *unit, *inch);
        let procedure = (*chosen).as_ref().and_then(|title| {
            let found = procedures.iter().find(|p| p.title == *title);
            found.cloned()
        });
        let name = name.clone();
        Callback::from(move |()| {
            busy.set(true);
            let who = (*by).clone();
            desk.set_prefs(|p| p.by = who);
            let tenths =
                crate::ports::locale::NumberStyle::read(&meter).map(|n| (n * 10.0).round() as u32);
            let head = JobHead {
                title: name.clone(),
                machine: (*machine).clone(),
                aim: (*aim).clone(),
                meter: tenths.map(|tenths| Meter {
                    kind: meter_kind,
                    tenths,
                }),
                units: Units {
                    torque: unit,
                    length: match inch {
                        true => LengthUnit::Inch,
                        false => LengthUnit::Millimetre,
                    },
                },
            };
            let procedure = procedure.clone();
            let busy = busy.clone();
            let done = Callback::from(move |told: Result<String, _>| {
                busy.set(false);
                if let Ok(key) = told {
                    for place in KEPT {
                        the_desk().keep_typed(place, "");
                    }
                    router::replace(&Route::Job { job: key.into() });
                }
            });
            desk.open_job(Command::Open { head, procedure }, done);
        })
    };
    let read = crate::ports::locale::NumberStyle::read(&meter).is_some();
    let readiness = match (*busy, name.is_empty()) {
        (true, _) => Readiness::Busy,
        (false, true) => Readiness::Blocked("Say what it is first".into()),
        (false, false) if !read && !meter.trim().is_empty() => {
            Readiness::Blocked("The reading is no number".into())
        }
        (false, false) if !read && *counted => {
            Readiness::Blocked("Say the reading, or tap its unit again for none".into())
        }
        (false, false) => Readiness::Ready,
    };
    let act = html! {
        { part!(MainAct { place: ActPlace::Bottom, children: html! { <>
            { part!(Button { label: "Open the job", kind: ButtonKind::Main, icon: Icon::Check, readiness: readiness, onpress: open }) }
        </> } }) }
    };
    let set = |state: &crate::kit::State<String>, place: &'static str| {
        let (state, desk) = (state.clone(), desk.clone());
        Callback::from(move |text: AttrValue| {
            desk.keep_typed(place, &text);
            state.set(text.to_string());
        })
    };
    let kinds: IArray<ChipItem<u8>> = METERS
        .into_iter()
        .zip(0_u8..)
        .map(|(kind, n)| {
            let on = (read || *counted) && kind == *meter_kind;
            ChipItem::new(n, word_of(kind), on)
        })
        .collect();
    let units: IArray<ChipItem<u8>> = UNITS
        .into_iter()
        .enumerate()
        .map(|(n, u)| ChipItem::new(n as u8, words::unit(u), u == *unit))
        .collect();
    let titles: Vec<String> = procedures.iter().map(|p| p.title.clone()).collect();
    let plans: IArray<ChipItem<usize>> = procedures
        .iter()
        .enumerate()
        .map(|(n, p)| {
            let on = chosen.as_ref() == Some(&p.title);
            ChipItem::new(n, p.title.clone(), on).with_icon(Icon::Procedure)
        })
        .collect();
    html! {
        { part!(Page { title: "New job", back: Route::Jobs, act: act, children: html! { <>
            { part!(TextField { label: "Machine", value: (*machine).clone(), hint: "As you would say it: the van, the tractor", oninput: set(&machine, "new-machine") }) }
            { part!(TextField { label: "What the job is", value: (*title).clone(), hint: chosen.as_ref().map_or_else(|| "Water pump, top end".to_owned(), |it| format!("{it}, as the procedure says, unless you say otherwise")), oninput: set(&title, "new-title") }) }
            { part!(ChipRow::<usize> { label: "Start from a procedure", items: plans, onpress: {let chosen = chosen.clone(); Callback::from(move |n: usize| {
                let title = titles.get(n).cloned();
                chosen.set(title.filter(|title| chosen.as_ref() != Some(title)));
            })} }) }
            { part!(Button { label: "Open a procedure from a file", kind: ButtonKind::Quiet, icon: Icon::OpenFile, onpress: {let (desk, chosen) = (desk.clone(), chosen.clone()); Callback::from(move |()| {
                let chosen = chosen.clone();
                desk.open_file(Callback::from(move |title| chosen.set(Some(title))));
            })} }) }
            { part!(TextField { label: "Why", value: (*aim).clone(), hint: "Weeping seal, gasket, find the knock", oninput: set(&aim, "new-aim") }) }
            { part!(TextField { label: "Who is at work", value: (*by).clone(), hint: "Stands in the record beside each act", oninput: set(&by, "new-by") }) }
            { part!(NumberField { label: "Reading now", value: (*meter).clone(), oninput: set(&meter, "new-reading").reform(|(text, _): (AttrValue, Reading)| text) }) }
            { part!(ChipRow::<u8> { label: "Counted in", items: kinds, onpress: {let (desk, k, counted) = (desk.clone(), meter_kind.clone(), counted.clone()); Callback::from(move |n: u8| {
                let kind = METERS.get(usize::from(n)).copied().unwrap_or(MeterKind::Hours);
                desk.keep_typed("new-counted", word_of(kind));
                counted.set(!*counted || *k != kind);
                k.set(kind);
            })} }) }
            { part!(ChipRow::<u32> { label: "Its bolts are in", items: super::sizes::system_chips(*inch), onpress: {let inch = inch.clone(); Callback::from(move |n: u32| inch.set(n == 1))} }) }
            { part!(ChipRow::<u8> { label: "Torque shown in", items: units, onpress: {let u = unit.clone(); Callback::from(move |n: u8| { if let Some(&x) = UNITS.get(usize::from(n)) { u.set(x); } })} }) }
        </> } }) }
    }
}

/// Where what is typed is kept until the job is opened.
const KEPT: [&str; 6] = [
    "new-title",
    "new-machine",
    "new-aim",
    "new-by",
    "new-reading",
    "new-counted",
];

const METERS: [MeterKind; 3] = [MeterKind::Kilometres, MeterKind::Miles, MeterKind::Hours];

fn word_of(kind: MeterKind) -> &'static str {
    match kind {
        MeterKind::Kilometres => "km",
        MeterKind::Miles => "miles",
        MeterKind::Hours => "hours",
    }
}

const UNITS: [TorqueUnit; 5] = [
    TorqueUnit::NewtonMetre,
    TorqueUnit::PoundForceFoot,
    TorqueUnit::PoundForceInch,
    TorqueUnit::KilogramForceMetre,
    TorqueUnit::KilogramForceCentimetre,
];
