//! Self-locking nuts: what their running torque is, and what is set with it.
use crate::part;
use countback_core::fastener::{FastenerKind, common_items};
use countback_core::job::Command;
use countback_core::journal::{Act, Figure, FixingDetail, FixingId};
use countback_core::view::{self, FixingPage, SelfLocking};
use countback_core::words;
use yew::prelude::*;

use crate::app::{Desk, the_desk};
use crate::kit::{Button, ButtonFace, ButtonKind, Card, Icon, Standing, Stepper, use_local};

#[derive(Properties, PartialEq)]
pub struct Running {
    pub job: AttrValue,
    pub fixing: FixingId,
    pub detail: FixingDetail,
    pub it: SelfLocking,
}

#[hook]
fn use_running(props: &Running) -> Html {
    let desk = the_desk();
    let style = desk.style();
    let noted = match (props.it.running, props.it.figure) {
        (Some(Figure::Torque { milli, unit }), Some(Figure::Torque { unit: own, .. }))
            if unit == own =>
        {
            milli
        }
        _ => 0,
    };
    let milli = use_local(|| noted);
    let set = {
        let milli = milli.clone();
        Callback::from(move |n: u32| milli.set(n))
    };
    let said = view::with_running(props.it.figure, *milli, style);
    let note = match props.it.figure {
        Some(Figure::Torque { unit, .. }) if *milli != noted => {
            let detail = FixingDetail {
                running: (*milli > 0).then_some(Figure::Torque {
                    milli: *milli,
                    unit,
                }),
                ..props.detail.clone()
            };
            let (job, fixing) = (props.job.clone(), props.fixing);
            Some(Callback::from(move |()| {
                let detail = detail.clone();
                desk.tell(
                    &job,
                    Command::Record(Act::FixingDescribed { fixing, detail }),
                );
            }))
        }
        _ => None,
    };
    html! {
        { part!(Card { title: "Self-locking", state: Standing::Waiting, word: "running torque", children: html! { <>
            { for props.it.lines.iter().map(|line| html! { <p>{ *line }</p> }) }
            if let Some(Figure::Torque { unit, .. }) = props.it.figure {
                { part!(Stepper { label: "It runs with", value: *milli, step: 500, max: 1_000_000, unit: words::unit(unit), decimal: style.decimal, onchange: set.clone(), reads: Callback::from(move |text: String| view::type_torque(&text, unit).map(|n| set.emit(n))) }) }
            } else {
                <p class="soft">{ "With the figure noted, the sum is worked out here." }</p>
            }
            if let Some(said) = said {
                <p class="sum-line" role="status">{ said }</p>
            } else if !props.it.set.is_empty() {
                <p class="sum-line" role="status">{ props.it.set.clone() }</p>
            }
            if let Some(onpress) = note {
                { part!(Button { label: "Note what it runs with", icon: Icon::Check, face: ButtonFace::Wide, onpress: onpress }) }
            }
        </> } }) }
    }
}

/// A plain nut that is said to lock by itself.
pub fn say_so(desk: &Desk, job: &AttrValue, page: &FixingPage) -> Html {
    if page.spec.kind != FastenerKind::Nut {
        return html! {};
    }
    let (desk, job, fixing) = (desk.clone(), job.clone(), page.row.id);
    let spec = common_items::that_locks(page.spec.clone());
    let press = Callback::from(move |()| {
        let spec = spec.clone();
        desk.tell(&job, Command::Record(Act::FixingMeasured { fixing, spec }));
    });
    part!(Button {
        label: "It is a self-locking nut",
        kind: ButtonKind::Quiet,
        icon: Icon::Torque,
        onpress: press
    })
}

crate::live!(Running, use_running);
