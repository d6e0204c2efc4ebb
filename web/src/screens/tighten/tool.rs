//! An adapter on the torque wrench: its lengths by steppers, the setting large,
//! and the sum the other way as a check.
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::view::{self, Tools};
use yew::prelude::*;

use crate::app::the_desk;
use crate::kit::{
    Banner, BannerKind, Button, ButtonKind, Chip, Facts, IArray, Icon, Sheet, Stepper, use_local,
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
    let now = on.or(kept).unwrap_or(Adapter {
        wrench_mm: 400,
        adapter_mm: 50,
        angle: 0,
    });
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
    let page = desk.read(&props.job, |book| {
        view::tighten_page(book, props.fixing, &tools, desk.at())
    });
    let (figure, setting) = page
        .flatten()
        .map(|p| match on {
            Some(_) => (p.figure, p.setting),
            None => (p.figure, view::Setting::default()),
        })
        .unwrap_or_default();
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
    let foot = html! { { part!(Button { label: label, kind: ButtonKind::Main, icon: Icon::Check, onpress: done }) } };
    html! {
        { part!(Sheet { title: "On the wrench", onclose: props.onclose.clone(), foot: foot, children: html! { <>
            if !setting.set.is_empty() {
                <p class="pass__figure">{ format!("Set {}", setting.set) }</p>
                <p>{ format!("The other way: set {}, it gets {}. Asked for: {figure}. The maker's figure wins.", setting.set, setting.gets) }</p>
            } else if !figure.is_empty() {
                <p class="pass__figure">{ figure.clone() }</p>
                <p>{ "Set as it stands, with a socket under the drive." }</p>
            }
            if !setting.hint.is_empty() { { part!(Banner { kind: BannerKind::Caution, title: setting.hint.clone() }) } }
            <div class="chips__row">
                { part!(Chip { label: "An adapter is on it", icon: Icon::Torque, pressed: on.is_some(), onpress: toggle }) }
            </div>
            if on.is_some() {
                { part!(Banner { kind: BannerKind::Caution, title: countback_core::words::STRAIGHT_BAR }) }
                { part!(Stepper { label: "Grip to drive, mm", value: now.wrench_mm, min: 50, max: 2000, step: 5, onchange: change(|a, v| a.wrench_mm = v) }) }
                { part!(Stepper { label: "Drive to fastener, mm", value: now.adapter_mm, min: 0, max: 1000, step: 5, onchange: change(|a, v| a.adapter_mm = v) }) }
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
