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
use super::draft::{Draft, HERE};
use super::half::{self, Half};
use super::more_part::AboutPart;
use crate::app::the_desk;
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
const FLUIDS: [&str; 6] = [
    "coolant",
    "engine oil",
    "gear oil",
    "brake fluid",
    "hydraulic oil",
    "fuel",
];

#[hook]
fn use_more_sheet(props: &MoreSheet) -> Html {
    let desk = the_desk();
    let what = use_local(|| None::<What>);
    let name = use_local(String::new);
    let place = use_local(String::new);
    let kind = use_local(|| 0_u8);
    let n = use_local(|| 1_u32);
    let flag = use_local(|| false);
    // What a finding or a note is about: the part being logged, if there is
    // one, until something else is chosen.
    let named = !props.draft.name.trim().is_empty();
    let on = use_local(|| if named { HERE } else { "" }.to_owned());
    let hides = use_local(String::new);
    // Those opened last are the likeliest.
    let mut ports = desk.read(&props.job, view::openings).unwrap_or_default();
    ports.reverse();
    ports.truncate(6);
    let port_chips: IArray<ChipItem<usize>> = ports
        .iter()
        .enumerate()
        .map(|(n, (_, port))| ChipItem::new(n, port.clone(), *place == *port))
        .collect();
    let whats: IArray<ChipItem<usize>> = WHATS
        .iter()
        .enumerate()
        .map(|(i, (w, label, icon))| ChipItem::new(i, *label, *what == Some(*w)).with_icon(*icon))
        .collect();
    let choose = {
        let (what, name, kind) = (what.clone(), name.clone(), kind.clone());
        let (job, part) = (props.job.clone(), props.draft.name.clone());
        Callback::from(move |i: usize| {
            let new = WHATS.get(i).map(|w| w.0);
            kind.set(0);
            name.set(match new {
                Some(What::PutIn) => "rag".to_owned(),
                Some(What::Supply) => "battery".to_owned(),
                Some(What::Fluid) => "coolant".to_owned(),
                Some(What::Finding | What::Note) => kept(new, &job, &part)
                    .and_then(|it| it.kept())
                    .unwrap_or_default(),
                None => String::new(),
            });
            what.set(new);
        })
    };
    let opening = ports.iter().find(|(_, port)| *port == *place);
    let about = on.parse().map_or(Target::Job, Target::Part);
    let act = (*what).map(|what| match what {
        What::PutIn => Act::PutIn(PutIn {
            kind: INSIDES
                .get(usize::from(*kind))
                .copied()
                .unwrap_or(InsideKind::Rag),
            name: (*name).clone(),
            n: *n as u16,
            opening: opening.map(|(id, _)| *id),
            place: match opening {
                Some(_) => String::new(),
                None => (*place).clone(),
            },
            hidden_by: hides.parse().ok(),
        }),
        What::Fluid => Act::FluidDrained {
            name: (*name).clone(),
            amount: (*place).clone(),
            bleed: *flag,
        },
        What::Supply => Act::SupplyIsolated {
            name: (*name).clone(),
            kind: SUPPLIES
                .get(usize::from(*kind))
                .copied()
                .unwrap_or(SupplyKind::Other),
        },
        What::Finding => Act::FindingNoted {
            on: about,
            text: (*name).clone(),
        },
        What::Note => Act::NoteAdded {
            on: about,
            text: (*name).clone(),
        },
    });
    // What is about the part being logged is logged with it.
    let with_it = match *what {
        Some(What::Finding | What::Note) if named && *on == HERE => {
            let mut next = props.draft.clone();
            match *what {
                Some(What::Note) if next.note.is_empty() => next.note.clone_from(&name),
                Some(What::Note) => next.note = format!("{}; {}", next.note, *name),
                _ => next.findings.push((*name).clone()),
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
    let half = kept(*what, &props.job, &props.draft.name);
    let log = {
        let half = half.clone();
        let (desk, job) = (desk.clone(), props.job.clone());
        let (with_it, onchange) = (with_it.clone(), props.onchange.clone());
        Callback::from(move |()| {
            let Some(command) = command.clone() else {
                return;
            };
            if let Some(half) = &half {
                half.forget();
            }
            crate::router::close_sheet();
            match with_it.clone() {
                Some(next) => onchange.emit(next),
                None => desk.tell(&job, command),
            }
        })
    };
    // Findings and notes are the longest to type again.
    let set_name = {
        let (name, half) = (name.clone(), half.clone());
        Callback::from(move |t: AttrValue| {
            if let Some(half) = &half {
                half.keep(&t);
            }
            name.set(t.to_string());
        })
    };
    let set = |state: &crate::kit::State<String>| {
        let state = state.clone();
        Callback::from(move |t: AttrValue| state.set(t.to_string()))
    };
    let kinds = |list: Vec<&'static str>| {
        let items: IArray<ChipItem<u8>> = list
            .iter()
            .enumerate()
            .map(|(i, w)| ChipItem::new(i as u8, *w, usize::from(*kind) == i))
            .collect();
        let (kind, name) = (kind.clone(), name.clone());
        let press = Callback::from(move |i: u8| {
            if let Some(word) = list.get(usize::from(i)) {
                name.set(renamed(&name, &list, word));
            }
            kind.set(i);
        });
        html! { { part!(ChipRow::<u8> { label: "Kind", items: items, onpress: press }) } }
    };
    // The kind of a fluid is its name, so a tap says another.
    let fluids: IArray<ChipItem<usize>> = FLUIDS
        .iter()
        .enumerate()
        .map(|(i, w)| ChipItem::new(i, *w, *name == *w))
        .collect();
    let readiness = match (*what, name.trim().is_empty()) {
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
        let press = {
            let on = on.clone();
            Callback::from(move |id: String| on.set(id))
        };
        html! {
            { part!(Pick { label: "It is about", first: first, all: props.chips.parts.clone(), chosen: vec![(*on).clone()], how: PickHow::One, onpress: press }) }
        }
    };
    let form = match *what {
        None => html! {},
        Some(What::PutIn) => html! {
            <>
                { kinds(INSIDES.iter().map(|&k| words::inside_kind(k)).collect()) }
                { part!(Stepper { label: "How many", value: *n, min: 1, max: 99, onchange: { let n = n.clone(); Callback::from(move |v| n.set(v)) } }) }
                { part!(TextField { label: "What it is", value: (*name).clone(), oninput: set_name.clone() }) }
                { part!(TextField { label: "Where it is", value: (*place).clone(), hint: "intake port 2", oninput: set(&place) }) }
                if !ports.is_empty() {
                    { part!(ChipRow::<usize> { label: "Ports laid open", items: port_chips, onpress: { let (ports, place) = (ports.clone(), place.clone()); Callback::from(move |n: usize| if let Some((_, port)) = ports.get(n) { place.set(port.clone()) }) } }) }
                }
                if !props.chips.parts.is_empty() {
                    { part!(Pick { label: "Hidden once this is back", all: props.chips.parts.clone(), chosen: vec![(*hides).clone()], most: 4, how: PickHow::One, onpress: {
                        let hides = hides.clone();
                        Callback::from(move |id: String| hides.set(if *hides == id { String::new() } else { id }))
                    } }) }
                }
            </>
        },
        Some(What::Fluid) => html! {
            <>
                { part!(ChipRow::<usize> { label: "Usual", items: fluids, onpress: { let name = name.clone(); Callback::from(move |i: usize| name.set(FLUIDS.get(i).copied().unwrap_or_default().to_owned())) } }) }
                { part!(TextField { label: "Fluid", value: (*name).clone(), oninput: set_name.clone() }) }
                { crate::screens::fluid::volume(&desk, &props.job, "How much came out", &place) }
                { part!(Chip { label: "Has to be bled afterwards", pressed: *flag, onpress: {let f = flag.clone(); Callback::from(move |()| f.set(!*f))} }) }
            </>
        },
        Some(What::Supply) => html! {
            <>
                { kinds(SUPPLIES.iter().map(|&k| words::supply(k)).collect()) }
                { part!(TextField { label: "What is cut off", value: (*name).clone(), oninput: set_name.clone() }) }
            </>
        },
        Some(What::Finding) => {
            html! { <>{ part!(TextField { label: "What you found", value: (*name).clone(), hint: "crack by the lower stud", oninput: set_name.clone() }) }{ is_on.clone() }</> }
        }
        Some(What::Note) => {
            html! { <>{ part!(TextField { label: "Note", value: (*name).clone(), kind: crate::kit::TextKind::Long, oninput: set_name.clone() }) }{ is_on.clone() }</> }
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

/// Where it is kept, for what is long to type again.
fn kept(what: Option<What>, job: &AttrValue, part: &str) -> Option<Half> {
    let of = match what? {
        What::Finding => half::Of::Finding,
        What::Note => half::Of::Note,
        What::PutIn | What::Fluid | What::Supply => return None,
    };
    Some(Half::new(of, job, part.to_owned()))
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
