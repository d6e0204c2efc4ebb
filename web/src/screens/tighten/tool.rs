//! An adapter on the torque wrench: its lengths by steppers, the setting large,
//! and the sum the other way as a check.
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::view::{self, Tools};
use yew::prelude::*;

use crate::app::the_desk;
use crate::kit::{
    Banner, BannerKind, Button, ButtonKind, Chip, ChipItem, ChipRow, Facts, IArray, Icon,
    Readiness, Sheet, Stepper, use_local,
};
use crate::part;
use crate::router::{self, Route};

/// Props of [`ToolSheet`].
#[derive(Properties, PartialEq)]
pub struct ToolSheet {
    pub job: AttrValue,
    pub fixing: FixingId,
    pub onclose: Callback<()>,
}

/// What a length grows by at a tap, in millimetres.
const MORE_MM: [u32; 3] = [10, 50, 100];
const MOST_MM: u32 = 2000;

#[hook]
fn use_tool_sheet(props: &ToolSheet) -> Html {
    let desk = the_desk();
    let kept = desk
        .read(&props.job, |book| {
            book.job().fixings.get(props.fixing).and_then(|f| f.adapter)
        })
        .flatten();
    let trying = use_local(move || kept);
    let on = *trying;
    // No length stands there that nobody measured.
    let now = on.or(kept).unwrap_or_default();
    let keep = {
        let trying = trying.clone();
        move |it: Option<Adapter>| trying.set(it)
    };
    let change = |set: fn(&mut Adapter, u32)| {
        let keep = keep.clone();
        Callback::from(move |value: u32| {
            let mut next = now;
            set(&mut next, value);
            keep(Some(next));
        })
    };
    let tools = Tools {
        wrenches: desk.prefs().wrenches(),
        adapter: on,
    };
    let page = desk
        .read(&props.job, |book| {
            view::wrench_page(book, props.fixing, &tools, desk.style())
        })
        .flatten()
        .unwrap_or_default();
    let (figure, setting) = (page.figure, page.setting);
    let yours: IArray<(AttrValue, AttrValue)> = desk
        .prefs()
        .wrenches
        .iter()
        .map(|w| {
            (
                AttrValue::from(w.name.clone()),
                AttrValue::from(w.range(desk.style())),
            )
        })
        .collect();
    let toggle = {
        let keep = keep.clone();
        Callback::from(move |()| keep(if on.is_some() { None } else { Some(now) }))
    };
    let done = {
        let (desk, job, fixing) = (desk.clone(), props.job.clone(), props.fixing);
        Callback::from(move |()| {
            router::close_sheet();
            if on != kept {
                let act = Act::AdapterSet {
                    fixing,
                    adapter: on,
                };
                desk.tell(&job, Command::Record(act));
            }
        })
    };
    let label = if on == kept {
        "Done"
    } else if on.is_some() {
        "Use this adapter"
    } else {
        "Without an adapter"
    };
    let readiness = match page.waits {
        "" => Readiness::Ready,
        why => Readiness::Blocked(why.into()),
    };
    let long = |label: &'static str, mm: u32, also: String, set: fn(&mut Adapter, u32)| {
        let more: IArray<ChipItem<u32>> = MORE_MM
            .iter()
            .map(|&by| ChipItem::new(by, format!("+{by}"), false))
            .collect();
        let add = change(set).reform(move |by: u32| (mm + by).min(MOST_MM));
        html! { <>
            { part!(Stepper { label: label, value: mm, min: 0, max: MOST_MM, step: 5, unit: "mm", under: (!also.is_empty()).then(|| AttrValue::from(also)), onchange: change(set) }) }
            { part!(ChipRow::<u32> { label: format!("{label}, more"), items: more, onpress: add }) }
        </> }
    };
    let foot = html! { { part!(Button { label: label, kind: ButtonKind::Main, icon: Icon::Check, readiness: readiness, onpress: done }) } };
    html! {
        { part!(Sheet { title: "On the wrench", onclose: props.onclose.clone(), foot: foot, children: html! { <>
            if !setting.set.is_empty() {
                <p class="pass__figure">{ format!("Set {}", setting.set) }</p>
                <p>{ format!("The other way: set {}, it gets {}. Asked for: {figure}. The maker's figure wins.", setting.set, setting.gets) }</p>
            } else if !figure.is_empty() {
                <p class="pass__figure">{ figure.clone() }</p>
                if on.is_none() {
                    <p>{ "Set as it stands, with a socket under the drive." }</p>
                } else if !page.waits.is_empty() {
                    <p>{ "Asked for. What to set stands here once both lengths are measured." }</p>
                }
            }
            if !setting.hint.is_empty() { { part!(Banner { kind: BannerKind::Caution, title: setting.hint.clone() }) } }
            <div class="chips__row">
                { part!(Chip { label: "An adapter is on it", icon: Icon::Torque, pressed: on.is_some(), onpress: toggle }) }
            </div>
            if on.is_some() {
                { part!(Banner { kind: BannerKind::Caution, title: countback_core::words::STRAIGHT_BAR }) }
                { long("Grip to drive", now.wrench_mm, page.lengths.0, |a, v| a.wrench_mm = v) }
                { long("Drive to fastener", now.adapter_mm, page.lengths.1, |a, v| a.adapter_mm = v) }
                { part!(Stepper { label: "Angle, degrees", value: now.angle, min: 0, max: 180, step: 15, under: "0 is straight on, 90 across, 180 turned back over the handle", onchange: change(|a, v| a.angle = v) }) }
            }
            if yours.is_empty() {
                <p class="soft">{ "Your wrenches are not noted. With their ranges, a figure that none reaches is said before the pass." }</p>
            } else {
                { part!(Facts { items: yours }) }
            }
            { part!(Button { label: "Your wrenches", icon: Icon::Settings, kind: ButtonKind::Quiet, href: Route::Settings.href() }) }
        </> } }) }
    }
}

crate::live!(ToolSheet, use_tool_sheet);
