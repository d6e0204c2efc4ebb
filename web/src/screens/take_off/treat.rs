//! What is to be put on when a part goes back: its product and the times of its
//! label. Filled in with the part's entry, or later on its own page.
use countback_core::journal::TreatmentKind;
use countback_core::words;
use yew::prelude::*;

use super::draft::{DraftTreatment, TREATMENTS};
use crate::kit::{Chip, ChipItem, ChipRow, IArray, Icon, Stepper, TextField};
use crate::part;

/// The kinds, each to be chosen; or, with none chosen yet, each to be added.
pub fn kinds(chosen: Option<u8>, onpress: Callback<u8>) -> Html {
    let items: IArray<ChipItem<u8>> = TREATMENTS
        .iter()
        .zip(0_u8..)
        .map(|(&kind, n)| {
            let item = ChipItem::new(n, words::treatment_kind(kind), chosen == Some(n));
            match chosen {
                Some(_) => item,
                None => item.with_icon(Icon::Plus),
            }
        })
        .collect();
    part!(ChipRow::<u8> {
        label: "To be put on at put back",
        items: items,
        onpress: onpress
    })
}

/// What of its kind it is, in a word.
pub fn word(it: &DraftTreatment) -> &'static str {
    let kind = TREATMENTS.get(usize::from(it.kind)).copied();
    words::treatment_kind(kind.unwrap_or(TreatmentKind::Sealant))
}

/// The fields of one. `n` counts those before it, whose fields have the same
/// names.
pub fn fields(it: &DraftTreatment, n: usize, onchange: &Callback<DraftTreatment>) -> Html {
    let edit = |change: fn(&mut DraftTreatment, u32)| {
        let (it, onchange) = (it.clone(), onchange.clone());
        Callback::from(move |n: u32| {
            let mut next = it.clone();
            change(&mut next, n);
            onchange.emit(next);
        })
    };
    let product = {
        let (it, onchange) = (it.clone(), onchange.clone());
        Callback::from(move |text: AttrValue| {
            onchange.emit(DraftTreatment {
                product: text.to_string(),
                ..it.clone()
            });
        })
    };
    let sealant = TREATMENTS.get(usize::from(it.kind)) == Some(&TreatmentKind::Sealant);
    html! {
        <>
            { part!(TextField { label: numbered("Product", n), value: it.product.clone(), oninput: product }) }
            if sealant {
                { part!(Stepper { label: "Assemble within, by its label", value: it.open_min, max: 240, step: 5, unit: "minutes", under: (it.open_min == 0).then_some(AttrValue::Static("Left at 0 where the label does not say.")), onchange: edit(|t, n| t.open_min = n) }) }
            }
            { part!(Stepper { label: "Cures for, hours", value: it.cure_h, max: 240, unit: "hours", onchange: edit(|t, n| t.cure_h = n) }) }
            { part!(Stepper { label: "and minutes", value: it.cure_min, max: 55, step: 5, unit: "minutes", onchange: edit(|t, n| t.cure_min = n) }) }
            if it.cures() > 0 {
                <div class="chips__row">
                    { part!(Chip { label: "Covered only once cured", pressed: it.cover, onpress: edit(|t, _| t.cover = !t.cover).reform(|()| 0) }) }
                </div>
            }
        </>
    }
}

/// A field's name among its like: "Product", "Product (2)".
pub fn numbered(label: &'static str, n: usize) -> AttrValue {
    match n {
        0 => AttrValue::Static(label),
        n => AttrValue::from(format!("{label} ({})", n + 1)),
    }
}
