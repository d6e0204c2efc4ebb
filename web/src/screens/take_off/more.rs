//! What is logged less often and by itself: things put in, fluids, supplies,
//! findings, notes.
use crate::kit::use_local;
use crate::part;
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::view::{self, Chips, Choice};
use countback_core::words;
use yew::prelude::*;

use super::super::pick::{Pick, PickHow};
use super::alone::{Alone, Alones};
use super::draft::{Draft, HERE};
use super::half::{self, Half};
use super::more_part::AboutPart;
use crate::app::{Along, Told, the_desk};
use crate::kit::{
    Button, ButtonKind, Chip, ChipItem, ChipRow, IArray, Icon, Readiness, Sheet, Stepper, TextField,
};
use crate::screens::cautions;

#[derive(Properties, PartialEq)]
pub struct MoreSheet {
    pub job: AttrValue,
    pub chips: Chips,
    pub draft: Draft,
    pub onchange: Callback<Draft>,
    pub onclose: Callback<()>,
}

/// What kind of entry is being made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum What {
    PutIn,
    Fluid,
    Supply,
    Finding,
    Note,
}

/// In the order that [`super::alone`] knows them by.
const WHATS: [(What, &str, Icon); 5] = [
    (What::PutIn, "Rag, cover, pin, tool", Icon::Rag),
    (What::Fluid, "Fluid drained", Icon::Droplet),
    (What::Supply, "Supply cut off", Icon::Battery),
    (What::Finding, "Finding", Icon::Eye),
    (What::Note, "Note", Icon::Note),
];
const INSIDES: [InsideKind; 5] = [
    InsideKind::Rag,
    InsideKind::Cover,
    InsideKind::LockingPin,
    InsideKind::Tool,
    InsideKind::Support,
];
const SUPPLIES: [SupplyKind; 6] = [
    SupplyKind::Battery,
    SupplyKind::Fuel,
    SupplyKind::Air,
    SupplyKind::Water,
    SupplyKind::Hydraulic,
    SupplyKind::Other,
];

#[hook]
fn use_more_sheet(props: &MoreSheet) -> Html {
    let desk = the_desk();
    let part = props.draft.name.clone();
    // What a finding or a note is about: the part being logged, if there is
    // one, until something else is chosen.
    let named = !part.trim().is_empty();
    let half = Half::new(half::Of::Alone, &props.job, "");
    let all = use_local(|| {
        let kept = half.kept().unwrap_or_default();
        Alones::from_text(&kept, &part)
    });
    let put = {
        let (all, half, part) = (all.clone(), half.clone(), part.clone());
        Callback::from(move |next: Alones| {
            half.keep(&next.to_text(&part));
            all.set(next);
        })
    };
    let set = |change: fn(&mut Alone, String)| {
        let (all, put) = (all.clone(), put.clone());
        Callback::from(move |text: String| {
            let mut next = (*all).clone();
            next.change(|it| change(it, text));
            put.emit(next);
        })
    };
    let typed = |change: fn(&mut Alone, String)| set(change).reform(|t: AttrValue| t.to_string());
    let now = all.now();
    let what = all.what.and_then(|at| WHATS.get(at)).map(|it| it.0);
    let on = Alones::about(&now, &part);
    // Those opened last are the likeliest.
    let mut ports = desk.read(&props.job, view::openings).unwrap_or_default();
    ports.reverse();
    ports.truncate(6);
    let port_chips: IArray<ChipItem<usize>> = ports
        .iter()
        .enumerate()
        .map(|(n, (_, port))| ChipItem::new(n, port.clone(), now.place == *port))
        .collect();
    let whats: IArray<ChipItem<usize>> = WHATS
        .iter()
        .enumerate()
        .map(|(i, (w, label, icon))| ChipItem::new(i, *label, what == Some(*w)).with_icon(*icon))
        .collect();
    let choose = {
        let (all, put) = (all.clone(), put.clone());
        Callback::from(move |i: usize| {
            let mut next = (*all).clone();
            next.what = Some(i);
            put.emit(next);
        })
    };
    let opening = ports.iter().find(|(_, port)| *port == now.place);
    let about = on.parse().map_or(Target::Job, Target::Part);
    let name = now.name.clone();
    let act = what.map(|what| match what {
        What::PutIn => Act::PutIn(PutIn {
            kind: INSIDES
                .get(usize::from(now.kind))
                .copied()
                .unwrap_or(InsideKind::Rag),
            name: name.clone(),
            n: now.n as u16,
            opening: opening.map(|(id, _)| *id),
            place: match opening {
                Some(_) => String::new(),
                None => now.place.clone(),
            },
            hidden_by: now.hides.parse().ok(),
        }),
        What::Fluid => Act::FluidDrained {
            name: name.clone(),
            amount: now.place.clone(),
            bleed: now.bleed,
        },
        What::Supply => Act::SupplyIsolated {
            name: name.clone(),
            kind: SUPPLIES
                .get(usize::from(now.kind))
                .copied()
                .unwrap_or(SupplyKind::Other),
        },
        What::Finding => Act::FindingNoted {
            on: about,
            text: name.clone(),
        },
        What::Note => Act::NoteAdded {
            on: about,
            text: name.clone(),
        },
    });
    // What is about the part being logged is logged with it.
    let with_it = match what {
        Some(What::Finding | What::Note) if named && on == HERE => {
            let mut next = props.draft.clone();
            match what {
                Some(What::Note) if next.note.is_empty() => next.note.clone_from(&name),
                Some(What::Note) => next.note = format!("{}; {name}", next.note),
                _ => next.findings.push(name.clone()),
            }
            Some(next)
        }
        _ => None,
    };
    let command = act.map(Command::Record);
    let to_read = match &command {
        Some(command) => cautions::unread(&desk, &props.job, std::slice::from_ref(command)),
        None => Vec::new(),
    };
    let log = {
        let (desk, job) = (desk.clone(), props.job.clone());
        let (with_it, onchange) = (with_it.clone(), props.onchange.clone());
        let (all, half, part) = (all.clone(), half.clone(), part.clone());
        Callback::from(move |()| {
            let Some(command) = command.clone() else {
                return;
            };
            let mut left = (*all).clone();
            left.logged();
            crate::router::close_sheet();
            let left = left.to_text(&part);
            match with_it.clone() {
                Some(next) => {
                    half.keep(&left);
                    onchange.emit(next);
                }
                None => {
                    let half = half.clone();
                    // What could not be saved is still there to be logged.
                    let done = Callback::from(move |told: Told| {
                        if let Told::Saved(_) = told {
                            half.keep(&left);
                        }
                    });
                    desk.tell_then(&job, command, Along::default(), done);
                }
            }
        })
    };
    let kinds = |list: &[&'static str], press: Callback<String>| {
        let items: IArray<ChipItem<u8>> = list
            .iter()
            .enumerate()
            .map(|(i, w)| ChipItem::new(i as u8, *w, usize::from(now.kind) == i))
            .collect();
        let press = press.reform(|i: u8| i.to_string());
        html! { { part!(ChipRow::<u8> { label: "Kind", items: items, onpress: press }) } }
    };
    // The kind of a fluid is its name, so a tap says another.
    let drained = desk.read(&props.job, |book| view::drain_offers(book.job()));
    let drained = drained.unwrap_or_default();
    let fluids: IArray<ChipItem<usize>> = drained
        .iter()
        .enumerate()
        .map(|(i, it)| ChipItem::new(i, it.name.clone(), name == it.name))
        .collect();
    let readiness = match (what, name.trim().is_empty()) {
        (None, _) => Readiness::Blocked("Choose what it is".into()),
        (Some(_), true) => Readiness::Blocked("Say it in a few words".into()),
        _ => cautions::hold(&to_read),
    };
    let foot = if what.is_none() && named {
        // What is said of the part is in its entry already.
        html! { { part!(Button { label: "Done", kind: ButtonKind::Main, icon: Icon::Check, onpress: Callback::from(|()| crate::router::close_sheet()) }) } }
    } else {
        html! { { part!(Button { label: if with_it.is_some() { "Log it with the part" } else { "Log it" }, kind: ButtonKind::Main, icon: Icon::Check, readiness: readiness, onpress: log }) } }
    };
    let fixed = |id: &str, name: String| Choice {
        id: id.to_owned(),
        name,
    };
    let mut first = vec![fixed("", "the whole job".to_owned())];
    if named {
        first.insert(0, fixed(HERE, props.draft.name.clone()));
    }
    let is_on = {
        let press = set(|it, id| it.on = Some(id));
        html! {
            { part!(Pick { label: "It is about", first: first, all: props.chips.parts.clone(), chosen: vec![on.clone()], how: PickHow::One, onpress: press }) }
        }
    };
    let name_typed = typed(|it, t| it.name = t);
    let count = set(|it, n| it.n = n.parse().unwrap_or(1)).reform(|n: u32| n.to_string());
    let form = match what {
        None => html! {},
        Some(What::PutIn) => html! {
            <>
                { kinds(&inside_words(), set(|it, n| chosen_kind(it, &n, &inside_words()))) }
                { part!(Stepper { label: "How many", value: now.n, min: 1, max: 99, onchange: count }) }
                { part!(TextField { label: "What it is", value: name.clone(), oninput: name_typed }) }
                { part!(TextField { label: "Where it is", value: now.place.clone(), hint: "intake port 2", oninput: typed(|it, t| it.place = t) }) }
                if !ports.is_empty() {
                    { part!(ChipRow::<usize> { label: "Ports laid open", items: port_chips, onpress: { let ports = ports.clone(); set(|it, t| it.place = t).reform(move |n: usize| ports.get(n).map(|it| it.1.clone()).unwrap_or_default()) } }) }
                }
                if !props.chips.parts.is_empty() {
                    { part!(Pick { label: "Hidden once this is back", all: props.chips.parts.clone(), chosen: vec![now.hides.clone()], most: 4, how: PickHow::One, onpress: set(|it, id| it.hides = if it.hides == id { String::new() } else { id }) }) }
                }
            </>
        },
        Some(What::Fluid) => html! {
            <>
                { part!(ChipRow::<usize> { label: "Usual", items: fluids, onpress: set(|it, t| { it.bleed = t.starts_with('+'); it.name = t[1..].to_owned(); }).reform(move |i: usize| drained.get(i).map(|it| format!("{}{}", if it.bleed { '+' } else { '-' }, it.name)).unwrap_or("-".to_owned())) }) }
                { part!(TextField { label: "Fluid", value: name.clone(), oninput: name_typed }) }
                { crate::screens::fluid::volume(&desk, &props.job, "How much came out", &now.place, set(|it, t| it.place = t)) }
                { part!(Chip { label: "Has to be bled afterwards", pressed: now.bleed, onpress: set(|it, _| it.bleed = !it.bleed).reform(|()| String::new()) }) }
            </>
        },
        Some(What::Supply) => html! {
            <>
                { kinds(&supply_words(), set(|it, n| chosen_kind(it, &n, &supply_words()))) }
                { part!(TextField { label: "What is cut off", value: name.clone(), oninput: name_typed }) }
            </>
        },
        Some(What::Finding) => {
            html! { <>{ part!(TextField { label: "What you found", value: name.clone(), hint: "crack by the lower stud", oninput: name_typed }) }{ is_on.clone() }</> }
        }
        Some(What::Note) => {
            html! { <>{ part!(TextField { label: "Note", value: name.clone(), kind: crate::kit::TextKind::Long, oninput: name_typed }) }{ is_on.clone() }</> }
        }
    };
    html! {
        { part!(Sheet { title: "More", onclose: props.onclose.clone(), foot, children: html! { <>
            { part!(ChipRow::<usize> { label: "Log by itself", items: whats, onpress: choose }) }
            { form }
            { cautions::cards(&desk, &props.job, &to_read) }
            if !props.draft.name.trim().is_empty() {
                { part!(AboutPart { job: props.job.clone(), draft: props.draft.clone(), chips: props.chips.clone(), onchange: props.onchange.clone() }) }
            }
        </> } }) }
    }
}

/// The name once another kind is chosen: its word, unless something else was
/// typed.
fn renamed(name: &str, words: &[&str], word: &str) -> String {
    match name.trim().is_empty() || words.contains(&name) {
        true => word.to_owned(),
        false => name.to_owned(),
    }
}

fn inside_words() -> [&'static str; 5] {
    INSIDES.map(words::inside_kind)
}

fn supply_words() -> [&'static str; 6] {
    SUPPLIES.map(words::supply)
}

/// Another kind, and its word for a name where nothing else was typed.
fn chosen_kind(it: &mut Alone, kind: &str, words: &[&str]) {
    it.kind = kind.parse().unwrap_or(0);
    if let Some(word) = words.get(usize::from(it.kind)) {
        it.name = renamed(&it.name, words, word);
    }
}

crate::live!(MoreSheet, use_more_sheet);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_kind_does_not_write_over_what_was_typed() {
        let words = ["rag", "tool"];
        assert_eq!(renamed("10 mm socket", &words, "tool"), "10 mm socket");
        assert_eq!(renamed("rag", &words, "tool"), "tool");
        assert_eq!(renamed(" ", &words, "tool"), "tool");
    }
}
