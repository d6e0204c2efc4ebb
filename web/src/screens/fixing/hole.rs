//! Measuring the hole: what is under the head, a washer, how deep, what metal;
//! the sum is shown as it is set, before anything is kept.
use crate::part;
use countback_core::fastener::FastenerSpec;
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::torque::hole::HoleMetal;
use countback_core::view;
use countback_core::words;
use yew::prelude::*;

use super::Ask;
use crate::app::{Along, the_desk};
use crate::kit::{
    Banner, BannerKind, Button, ButtonKind, Chip, ChipItem, ChipRow, IArray, Icon, Readiness,
    Sheet, Stepper, use_local,
};
use crate::router;

#[derive(Properties, PartialEq)]
pub struct Measure {
    pub ask: Ask,
}

const METALS: [HoleMetal; 7] = [
    HoleMetal::Steel,
    HoleMetal::CastIron,
    HoleMetal::Aluminium,
    HoleMetal::Brass,
    HoleMetal::Magnesium,
    HoleMetal::Insert,
    HoleMetal::Plastic,
];
/// Thicknesses of plain washers from M5 to M16, ISO 7089, in micrometres.
const WASHERS_UM: [u32; 6] = [0, 1_000, 1_600, 2_000, 2_500, 3_000];

#[hook]
fn use_measure(props: &Measure) -> Html {
    let desk = the_desk();
    let style = desk.style();
    let ask = &props.ask;
    let spec = &ask.page.spec;
    // The length and the hole, as they are being set.
    let now = use_local(|| (spec.length_um.unwrap_or(0), ask.page.hole));
    let (length_um, hole) = *now;
    let set = |change: fn(&mut u32, &mut Hole, u32)| {
        let now = now.clone();
        Callback::from(move |n: u32| {
            let (mut length_um, mut hole) = *now;
            change(&mut length_um, &mut hole, n);
            now.set((length_um, hole));
        })
    };
    let known = FastenerSpec {
        length_um: (length_um > 0).then_some(length_um),
        ..spec.clone()
    };
    let measured = length_um > 0 && hole.parts_um > 0;
    let text = measured
        .then(|| view::hole_text(&known, hole, desk.at()))
        .flatten();
    let washers: IArray<ChipItem<u32>> = WASHERS_UM
        .iter()
        .map(|&um| {
            let label = match um {
                0 => "none".to_owned(),
                um => words::mm(um, style),
            };
            ChipItem::new(um, label, hole.washers_um == um)
        })
        .collect();
    let metals: IArray<ChipItem<u32>> = METALS
        .iter()
        .enumerate()
        .map(|(n, &m)| ChipItem::new(n as u32, words::hole_metal(m), hole.metal == Some(m)))
        .collect();
    let keep = {
        let (desk, job, id) = (desk.clone(), ask.job.clone(), ask.page.row.id);
        let longer = (known.length_um != spec.length_um).then(|| known.clone());
        Callback::from(move |()| {
            router::close_sheet();
            if let Some(spec) = longer.clone() {
                let known = Command::Record(Act::FixingMeasured { fixing: id, spec });
                desk.tell_then(&job, known, Along::default(), Callback::noop());
            }
            desk.tell(
                &job,
                Command::Record(Act::HoleMeasured { fixing: id, hole }),
            );
        })
    };
    let readiness = match measured {
        true => Readiness::Ready,
        false => Readiness::Blocked("Set the length and the stack".into()),
    };
    let through = hole.depth_um == 0;
    let step =
        |label: &'static str, value: u32, step: u32, change: fn(&mut u32, &mut Hole, u32)| {
            part!(Stepper {
                label: label,
                value: value,
                step: step,
                max: 300_000,
                unit: "mm",
                decimal: style.decimal,
                onchange: set(change)
            })
        };
    html! {
        { part!(Sheet { title: "Length against the hole", onclose: ask.onclose.clone(), foot: html! { <>
            if let Some(text) = &text {
                { part!(Banner { kind: match (text.bad, text.doubt) { (true, _) => BannerKind::Danger, (_, true) => BannerKind::Caution, _ => BannerKind::Saved }, title: text.sum.clone(), text: text.verdict.clone() }) }
            }
            { part!(Button { label: "Keep it", kind: ButtonKind::Main, icon: Icon::Check, readiness: readiness, onpress: keep }) }
        </> }, children: html! { <>
            { step("Bolt, under the head", length_um, 1_000, |length, _, n| *length = n) }
            { step("Parts and gasket under the head", hole.parts_um, 500, |_, hole, n| hole.parts_um = n) }
            { part!(ChipRow::<u32> { label: "Washer under it", items: washers, onpress: set(|_, hole, n| hole.washers_um = n) }) }
            if !through {
                { step("Hole, to the end of its thread", hole.depth_um, 1_000, |_, hole, n| hole.depth_um = n) }
            }
            <div class="chips__row">
                { part!(Chip { label: "Goes right through", pressed: through, onpress: set(|_, hole, _| hole.depth_um = if hole.depth_um == 0 { 20_000 } else { 0 }).reform(|()| 0) }) }
            </div>
            { part!(ChipRow::<u32> { label: "Thread cut in", items: metals, onpress: set(|_, hole, n| hole.metal = METALS.get(n as usize).copied()) }) }
            <p class="soft">{ "A rod or a thin screwdriver gives the depth; the calliper's tail does as well." }</p>
        </> } }) }
    }
}

crate::live!(Measure, use_measure);
