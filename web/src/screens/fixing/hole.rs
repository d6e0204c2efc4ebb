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
use crate::screens::sizes::{self, Scale};

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

/// Stacks and depths that are met most, in millimetres.
const STACKS_MM: [u32; 8] = [3, 5, 6, 8, 10, 12, 15, 20];
const DEPTHS_MM: [u32; 7] = [10, 12, 15, 20, 25, 30, 40];
/// The same in sixty-fourths of an inch.
const STACKS_IN: [u16; 8] = [8, 12, 16, 20, 24, 32, 40, 48];
const DEPTHS_IN: [u16; 7] = [24, 32, 40, 48, 64, 80, 96];

#[derive(Clone, Copy)]
struct Setting {
    length_um: u32,
    hole: Hole,
    deep: bool,
}

#[hook]
fn use_measure(props: &Measure) -> Html {
    let desk = the_desk();
    let style = desk.style();
    let ask = &props.ask;
    let spec = &ask.page.spec;
    // What is being set; a depth that nobody has said is not taken for one.
    let now = use_local(|| Setting {
        length_um: spec.length_um.unwrap_or(0),
        hole: ask.page.hole,
        deep: ask.page.hole.parts_um > 0,
    });
    let Setting {
        length_um,
        hole,
        deep,
    } = *now;
    let set = |change: fn(&mut Setting, u32)| {
        let now = now.clone();
        Callback::from(move |n: u32| {
            let mut next = *now;
            change(&mut next, n);
            now.set(next);
        })
    };
    let known = FastenerSpec {
        length_um: (length_um > 0).then_some(length_um),
        ..spec.clone()
    };
    let measured = length_um > 0 && hole.parts_um > 0 && deep;
    let text = measured
        .then(|| view::hole_text(&known, hole, ask.page.length, desk.at()))
        .flatten();
    let washers: IArray<ChipItem<u32>> = WASHERS_UM
        .iter()
        .map(|&um| {
            let label = match um {
                0 => "none".to_owned(),
                um => words::length(um, ask.page.length, style),
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
        false => Readiness::Blocked("Set length, stack and depth".into()),
    };
    let through = deep && hole.depth_um == 0;
    let inch = ask.page.length == LengthUnit::Inch;
    let scale = Scale { inch };
    // In an inch job the steps are 1/8 and 1/50 in.
    let step = |label: &'static str, um: u32, step: u32, change: fn(&mut Setting, u32)| {
        part!(Stepper {
            label: label,
            value: scale.shown(um),
            step: scale.step(step, if step == 1_000 { 125 } else { 20 }),
            max: scale.shown(300_000),
            unit: scale.unit(),
            decimal: style.decimal,
            onchange: set(change).reform(move |n: u32| scale.um(n))
        })
    };
    let stacks = sizes::near_chips(inch, &STACKS_MM, &STACKS_IN, |um| um == hole.parts_um);
    let depths = sizes::near_chips(inch, &DEPTHS_MM, &DEPTHS_IN, |um| um == hole.depth_um);
    let unit = if inch { "inches" } else { "mm" };
    let depth: fn(&mut Setting, u32) = |now, n| {
        now.hole.depth_um = n;
        now.deep = true;
    };
    html! {
        { part!(Sheet { title: "Length against the hole", onclose: ask.onclose.clone(), foot: html! { <div class="foot-stack">
            if let Some(text) = &text {
                { part!(Banner { kind: match (text.bad, text.doubt) { (true, _) => BannerKind::Danger, (_, true) => BannerKind::Caution, _ => BannerKind::Saved }, title: text.sum.clone(), text: text.verdict.clone() }) }
            }
            { part!(Button { label: "Keep it", kind: ButtonKind::Main, icon: Icon::Check, readiness: readiness, onpress: keep }) }
        </div> }, children: html! { <>
            { step("Bolt, under the head", length_um, 1_000, |now, n| now.length_um = n) }
            { part!(ChipRow::<u32> { label: format!("Parts and gasket under the head, {unit}"), items: stacks, onpress: set(|now, n| now.hole.parts_um = n) }) }
            { step("Under the head, as measured", hole.parts_um, 500, |now, n| now.hole.parts_um = n) }
            { part!(ChipRow::<u32> { label: "Washer under it", items: washers, onpress: set(|now, n| now.hole.washers_um = n) }) }
            { part!(ChipRow::<u32> { label: format!("Hole, to the end of its thread, {unit}"), items: depths, onpress: set(depth) }) }
            <div class="chips__row">
                { part!(Chip { label: "Goes right through", pressed: through, onpress: set(depth).reform(|()| 0) }) }
            </div>
            if deep && !through {
                { step("Hole, as measured", hole.depth_um, 1_000, depth) }
            }
            { part!(ChipRow::<u32> { label: "Thread cut in", items: metals, onpress: set(|now, n| now.hole.metal = METALS.get(n as usize).copied()) }) }
            <p class="soft">{ "A rod or a thin screwdriver gives the depth; the calliper's tail does as well." }</p>
        </> } }) }
    }
}

crate::live!(Measure, use_measure);
