//! The finer points of the part being logged: what it hangs on, what hangs on
//! it, where it lies, what it leaves open, what is to be put on.
use countback_core::journal::TreatmentKind;
use countback_core::view::Chips;
use countback_core::words;
use yew::prelude::*;

use super::super::pick::{Pick, PickHow};
use super::draft::{Draft, DraftTreatment, TREATMENTS};
use super::half;
use crate::app::the_desk;
use crate::kit::{
    Button, ButtonFace, ButtonKind, Chip, ChipItem, ChipRow, IArray, Icon, Readiness, Section,
    Stepper, TextField, use_local,
};
use crate::part;

#[derive(Properties, PartialEq)]
pub struct AboutPart {
    pub job: AttrValue,
    pub draft: Draft,
    pub chips: Chips,
    pub onchange: Callback<Draft>,
}

#[hook]
fn use_about_part(props: &AboutPart) -> Html {
    let also = use_local(String::new);
    let draft = &props.draft;
    let edit = |change: fn(&mut Draft, String)| {
        let (draft, onchange) = (draft.clone(), props.onchange.clone());
        Callback::from(move |text: String| {
            let mut next = draft.clone();
            change(&mut next, text);
            onchange.emit(next);
        })
    };
    let typed = |change: fn(&mut Draft, String)| edit(change).reform(|t: AttrValue| t.to_string());
    // Named already, then those that are met.
    let met = props.chips.names.iter().take(5);
    let names = draft.carried.iter().chain(met.filter(|it| {
        let known = draft.carried.contains(*it);
        !known && **it != draft.name
    }));
    let carried: IArray<ChipItem<String>> = names
        .map(|it| ChipItem::new(it.clone(), it.clone(), draft.carried.contains(it)))
        .collect();
    let carry = edit(
        |d, name| match d.carried.iter().position(|it| *it == name) {
            Some(at) => drop(d.carried.remove(at)),
            None => d.carried.push(name),
        },
    );
    let add = {
        let (also, carry) = (also.clone(), carry.clone());
        Callback::from(move |()| {
            carry.emit(also.trim().to_owned());
            also.set(String::new());
        })
    };
    let can_add = match also.trim() {
        "" => Readiness::Blocked("Say what it is, above".into()),
        name if draft.carried.iter().any(|it| it == name) => {
            Readiness::Blocked("It is there already".into())
        }
        _ => Readiness::Ready,
    };
    let also_typed = {
        let also = also.clone();
        Callback::from(move |text: AttrValue| also.set(text.to_string()))
    };
    html! {
        { part!(Section { title: format!("About {}", draft.name), children: html! { <>
            <div class="chips__row">
                { part!(Chip { label: "Swung aside, not off", pressed: draft.aside, onpress: edit(|d, _| d.aside = !d.aside).reform(|()| String::new()) }) }
            </div>
            if !props.chips.parts_off.is_empty() {
                { part!(Pick { label: "It came off on this, as one lump", all: props.chips.parts_off.clone(), chosen: draft.carried_by.iter().cloned().collect::<Vec<_>>(), most: 4, how: PickHow::One, onpress: edit(|d, id| d.carried_by = if d.carried_by.as_ref() == Some(&id) { None } else { Some(id) }) }) }
            }
            { part!(ChipRow::<String> { label: "These came off on it and stay on it", items: carried, onpress: carry }) }
            { part!(TextField { label: "Another that stays on it", value: (*also).clone(), hint: "sender, bracket, pulley", oninput: also_typed }) }
            { part!(Button { label: "Add it to these", icon: Icon::Plus, kind: ButtonKind::Plain, readiness: can_add, onpress: add }) }
            { part!(TextField { label: "Where it lies", value: draft.lies.clone(), oninput: typed(|d, t| d.lies = t) }) }
            { part!(TextField { label: "Note, shown again at put back", value: draft.note.clone(), hint: "dowel on the left, spring under the cap", oninput: typed(|d, t| d.note = t) }) }
            { findings(draft, &edit(|d, at| if let Ok(at) = at.parse::<usize>() && at < d.findings.len() { d.findings.remove(at); })) }
            { part!(TextField { label: "Port it leaves open", value: draft.openings.first().cloned().unwrap_or_default(), hint: "coolant port, intake 2", oninput: typed(|d, t| d.openings = if t.trim().is_empty() { Vec::new() } else { vec![t] }) }) }
            { to_put_on(props) }
            { part!(Button { label: "Empty this entry", icon: Icon::Close, face: ButtonFace::Wide, kind: ButtonKind::Danger, onpress: { let (job, onchange) = (props.job.clone(), props.onchange.clone()); Callback::from(move |()| { crate::router::close_sheet(); half::forget_all(&the_desk(), &job); onchange.emit(Draft::default()); }) } }) }
        </> } }) }
    }
}

crate::live!(AboutPart, use_about_part);

/// Findings that are logged with the part, each with the way to take it out.
fn findings(draft: &Draft, remove: &Callback<String>) -> Html {
    let rows = draft.findings.iter().enumerate().map(|(at, text)| {
        part!(Button {
            label: format!("Take out the finding: {text}"),
            icon: Icon::Close,
            kind: ButtonKind::Quiet,
            face: ButtonFace::Wide,
            onpress: remove.reform(move |()| at.to_string())
        })
    });
    html! { <>{ for rows }</> }
}

/// What is put on when it goes back, with the times of its label.
fn to_put_on(props: &AboutPart) -> Html {
    let draft = &props.draft;
    let treatment = draft.treatments.first();
    let kinds: IArray<ChipItem<u8>> = TREATMENTS
        .iter()
        .zip(0_u8..)
        .map(|(&kind, n)| {
            let on = treatment.is_some_and(|t| t.kind == n);
            ChipItem::new(n, words::treatment_kind(kind), on)
        })
        .collect();
    let edit = |change: fn(&mut DraftTreatment, u32)| {
        let (draft, onchange) = (draft.clone(), props.onchange.clone());
        Callback::from(move |n: u32| {
            let mut next = draft.clone();
            if let Some(it) = next.treatments.first_mut() {
                change(it, n);
            }
            onchange.emit(next);
        })
    };
    let choose = {
        let (draft, onchange) = (draft.clone(), props.onchange.clone());
        Callback::from(move |kind: u8| {
            let mut next = draft.clone();
            match next.treatments.first_mut() {
                Some(t) if t.kind == kind => next.treatments.clear(),
                Some(t) => t.kind = kind,
                None => next.treatments.push(DraftTreatment {
                    kind,
                    ..DraftTreatment::default()
                }),
            }
            onchange.emit(next);
        })
    };
    let product = {
        let (draft, onchange) = (draft.clone(), props.onchange.clone());
        Callback::from(move |text: AttrValue| {
            let mut next = draft.clone();
            if let Some(it) = next.treatments.first_mut() {
                it.product = text.to_string();
            }
            onchange.emit(next);
        })
    };
    let sealant = treatment
        .is_some_and(|t| TREATMENTS.get(usize::from(t.kind)) == Some(&TreatmentKind::Sealant));
    html! {
        <>
            { part!(ChipRow::<u8> { label: "To be put on at put back", items: kinds, onpress: choose }) }
            if let Some(t) = treatment {
                { part!(TextField { label: "Product", value: t.product.clone(), oninput: product }) }
                if sealant {
                    { part!(Stepper { label: "Assemble within, by its label", value: t.open_min, max: 240, step: 5, unit: "minutes", under: (t.open_min == 0).then_some(AttrValue::Static("Left at 0 where the label does not say.")), onchange: edit(|t, n| t.open_min = n) }) }
                }
                { part!(Stepper { label: "Cures for, hours", value: t.cure_h, max: 240, unit: "hours", onchange: edit(|t, n| t.cure_h = n) }) }
                { part!(Stepper { label: "and minutes", value: t.cure_min, max: 55, step: 5, unit: "minutes", onchange: edit(|t, n| t.cure_min = n) }) }
                if t.cures() > 0 {
                    <div class="chips__row">
                        { part!(Chip { label: "Covered only once cured", pressed: t.cover, onpress: edit(|t, _| t.cover = !t.cover).reform(|()| 0) }) }
                    </div>
                }
            }
        </>
    }
}
