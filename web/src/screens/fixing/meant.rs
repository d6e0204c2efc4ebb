//! What a figure is meant with, by chips: how far off it may be, and whether it
//! is for dry threads or oiled ones. A second tap takes it back.
use countback_core::journal::{FixingDetail, MeantFor, Tolerance};
use countback_core::view;
use countback_core::words::{self, Style};
use yew::prelude::*;

use crate::kit::{ChipItem, ChipRow, IArray};
use crate::part;

const FOR: [MeantFor; 2] = [MeantFor::Dry, MeantFor::Oiled];

/// The chips over a detail that is being set.
pub fn meant_chips(now: &FixingDetail, style: Style, set: Callback<FixingDetail>) -> Html {
    let choices = view::tolerances(now.stages.last().copied(), now.tolerance);
    let tolerances: IArray<ChipItem<u32>> = (0_u32..)
        .zip(&choices)
        .map(|(n, &it)| ChipItem::new(n, words::tolerance(it, style), now.tolerance == Some(it)))
        .collect();
    let threads: IArray<ChipItem<u32>> = (0_u32..)
        .zip(FOR)
        .map(|(n, it)| ChipItem::new(n, words::meant_for(it), now.meant_for == Some(it)))
        .collect();
    let pick_tolerance = {
        let (now, set) = (now.clone(), set.clone());
        Callback::from(move |n: u32| {
            let picked: Option<Tolerance> = choices.get(n as usize).copied();
            set.emit(FixingDetail {
                tolerance: picked.filter(|_| picked != now.tolerance),
                ..now.clone()
            });
        })
    };
    let pick_threads = {
        let now = now.clone();
        Callback::from(move |n: u32| {
            let picked = FOR.get(n as usize).copied();
            set.emit(FixingDetail {
                meant_for: picked.filter(|_| picked != now.meant_for),
                ..now.clone()
            });
        })
    };
    html! {
        <>
        { part!(ChipRow::<u32> { label: "May be off by", items: tolerances, onpress: pick_tolerance }) }
        { part!(ChipRow::<u32> { label: "The figure is for", items: threads, onpress: pick_threads }) }
        </>
    }
}
