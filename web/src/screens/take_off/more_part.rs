//! The finer points of the part being logged: what it hangs on, what hangs on
//! it, where it lies, what it leaves open, what is to be put on.
use countback_core::journal::TreatmentKind;
use countback_core::view::Chips;
use yew::prelude::*;

use super::super::pick::{Pick, PickHow};
use super::draft::{Draft, DraftTreatment, TREATMENTS};
use super::{half, treat};
use crate::app::the_desk;
use crate::kit::{
    Button, ButtonFace, ButtonKind, Chip, ChipItem, ChipRow, IArray, Icon, Readiness, Section,
    TextField, use_local,
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
            { ports(draft, &props.onchange) }
            { to_put_on(draft, &props.onchange) }
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

/// The ports that it leaves open; one that is emptied is none.
fn ports(draft: &Draft, onchange: &Callback<Draft>) -> Html {
    let put = {
        let (draft, onchange) = (draft.clone(), onchange.clone());
        Callback::from(move |openings: Vec<String>| {
            onchange.emit(Draft {
                openings,
                ..draft.clone()
            });
        })
    };
    let all = &draft.openings;
    let fields = (0..all.len().max(1)).map(|n| {
        let value = all.get(n).cloned().unwrap_or_default();
        let typed = {
            let now = all.clone();
            put.reform(move |text: AttrValue| {
                let mut next = now.clone();
                next.resize(next.len().max(n + 1), String::new());
                super::put(&mut next, n, text.to_string());
                next
            })
        };
        let mut without = all.clone();
        if n < without.len() {
            without.remove(n);
        }
        let remove = put.reform(move |()| without.clone());
        html! {
            <>
                { part!(TextField { label: treat::numbered("Port it leaves open", n), value: value.clone(), hint: "coolant port, intake 2", oninput: typed }) }
                if all.len() > 1 {
                    { part!(Button { label: format!("Take out the port: {}", if value.is_empty() { "no name yet" } else { &value }), icon: Icon::Close, kind: ButtonKind::Quiet, face: ButtonFace::Wide, onpress: remove }) }
                }
            </>
        }
    });
    let another = {
        let now = all.clone();
        put.reform(move |()| [now.as_slice(), &[String::new()]].concat())
    };
    let more = all.last().is_some_and(|it| !it.trim().is_empty());
    html! {
        <>
            { for fields }
            if more {
                { part!(Button { label: "Another port", icon: Icon::Plus, onpress: another }) }
            }
        </>
    }
}

/// The part itself, or the threads of one of its fixings.
fn goes_on(
    draft: &Draft,
    it: &DraftTreatment,
    n: usize,
    onchange: &Callback<DraftTreatment>,
) -> Html {
    if draft.fixings.is_empty() {
        return html! {};
    }
    let fixings = draft.fixings.iter().enumerate().map(|(at, fixing)| {
        let label = fixing.read_spec().labels(u32::from(fixing.count));
        ChipItem::new(at + 1, label, it.fixing == Some(at))
    });
    let part = ChipItem::new(0, "The part", it.fixing.is_none());
    let items: IArray<ChipItem<usize>> = [part].into_iter().chain(fixings).collect();
    let pick = {
        let (it, onchange) = (it.clone(), onchange.clone());
        Callback::from(move |at: usize| {
            onchange.emit(DraftTreatment {
                fixing: at.checked_sub(1),
                ..it.clone()
            });
        })
    };
    html! { { part!(ChipRow::<usize> { label: treat::numbered("It goes on", n), items: items, onpress: pick }) } }
}

/// What is put on when it goes back, one or several.
fn to_put_on(draft: &Draft, onchange: &Callback<Draft>) -> Html {
    let add = {
        let (draft, onchange) = (draft.clone(), onchange.clone());
        Callback::from(move |kind: u8| {
            let mut next = draft.clone();
            // A locker goes on threads, and where there are only these, on them.
            let locker = TREATMENTS.get(usize::from(kind)) == Some(&TreatmentKind::ThreadLocker);
            next.treatments.push(DraftTreatment {
                kind,
                fixing: (locker && next.fixings.len() == 1).then_some(0),
                ..DraftTreatment::default()
            });
            onchange.emit(next);
        })
    };
    let each = draft.treatments.iter().enumerate().map(|(n, it)| {
        let put = {
            let (draft, onchange) = (draft.clone(), onchange.clone());
            Callback::from(move |it: Option<DraftTreatment>| {
                let mut next = draft.clone();
                match it {
                    Some(it) => super::put(&mut next.treatments, n, it),
                    None => drop(next.treatments.remove(n)),
                }
                onchange.emit(next);
            })
        };
        html! {
            <div class="joint">
                <h3 class="joint__what">{ treat::word(it) }</h3>
                { goes_on(draft, it, n, &put.reform(Some)) }
                { treat::fields(it, n, &put.reform(Some)) }
                { part!(Button { label: format!("Take out: {} {}", treat::word(it), it.product).trim_end().to_owned(), icon: Icon::Close, kind: ButtonKind::Quiet, face: ButtonFace::Wide, onpress: put.reform(|()| None) }) }
            </div>
        }
    });
    html! {
        <>
            { treat::kinds(None, add) }
            { for each }
        </>
    }
}
