//! What the job says of itself, put right after it was opened: title, machine,
//! aim, and the units in which its figures are shown.
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::torque::TorqueUnit;
use countback_core::words;
use yew::prelude::*;

use super::super::sizes;
use crate::app::the_desk;
use crate::kit::{
    Button, ButtonFace, ButtonKind, ChipItem, ChipRow, IArray, Icon, Readiness, Sheet, TextField,
    use_local,
};
use crate::part;
use crate::router;

#[derive(Properties, PartialEq)]
pub struct Describe {
    pub job: AttrValue,
}

/// The button and its sheet.
#[hook]
fn use_describe(props: &Describe) -> Html {
    let desk = the_desk();
    let draft = use_local(|| None::<JobHead>);
    let now = desk
        .read(&props.job, |book| book.job().head.clone())
        .flatten();
    let Some(now) = now else {
        return html! {};
    };
    let sheet = (*draft).clone().map(|head| {
        let typed = |change: fn(&mut JobHead, String)| {
            let (draft, head) = (draft.clone(), head.clone());
            Callback::from(move |text: AttrValue| {
                let mut next = head.clone();
                change(&mut next, text.to_string());
                draft.set(Some(next));
            })
        };
        let picked = |change: fn(&mut JobHead, u32)| {
            let (draft, head) = (draft.clone(), head.clone());
            Callback::from(move |n: u32| {
                let mut next = head.clone();
                change(&mut next, n);
                draft.set(Some(next));
            })
        };
        let shut = {
            let draft = draft.clone();
            Callback::from(move |()| draft.set(None))
        };
        let readiness = match (head.title.trim().is_empty(), head == now) {
            (true, _) => Readiness::Blocked("Say what the job is".into()),
            (_, true) => Readiness::Blocked("Nothing is changed".into()),
            _ => Readiness::Ready,
        };
        let keep = {
            let (desk, job, head) = (desk.clone(), props.job.clone(), head.clone());
            Callback::from(move |()| {
                router::close_sheet();
                desk.tell(&job, Command::Record(Act::JobDescribed(head.clone())));
            })
        };
        let units: IArray<ChipItem<u32>> = (0_u32..)
            .zip(TorqueUnit::ALL)
            .map(|(n, unit)| ChipItem::new(n, words::unit(unit), head.units.torque == unit))
            .collect();
        let inch = head.units.length == LengthUnit::Inch;
        let foot = part!(Button { label: "Keep it", kind: ButtonKind::Main, icon: Icon::Check, readiness: readiness, onpress: keep });
        part!(Sheet { title: "What the job says", onclose: shut, foot: foot, children: html! { <>
            { part!(TextField { label: "What the job is", value: head.title.clone(), oninput: typed(|h, t| h.title = t) }) }
            { part!(TextField { label: "Machine", value: head.machine.clone(), oninput: typed(|h, t| h.machine = t) }) }
            { part!(TextField { label: "Why", value: head.aim.clone(), oninput: typed(|h, t| h.aim = t) }) }
            { part!(ChipRow::<u32> { label: "Its bolts are in", items: sizes::system_chips(inch), onpress: picked(|h, n| h.units.length = if n == 1 { LengthUnit::Inch } else { LengthUnit::Millimetre }) }) }
            { part!(ChipRow::<u32> { label: "Torque shown in", items: units, onpress: picked(|h, n| if let Some(&unit) = TorqueUnit::ALL.get(n as usize) { h.units.torque = unit }) }) }
            <p class="soft">{ "Figures that were entered keep the unit they were entered in." }</p>
        </> } })
    });
    let press = Callback::from(move |()| draft.set(Some(now.clone())));
    html! {
        <>
            { part!(Button { label: "Title, machine, units", icon: Icon::Edit, face: ButtonFace::Wide, onpress: press }) }
            { sheet.unwrap_or_default() }
        </>
    }
}

crate::live!(Describe, use_describe);
