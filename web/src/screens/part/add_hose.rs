//! A hose, pipe, plug, cable or linkage that was forgotten, with its two ends.
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::words;
use yew::prelude::*;

use super::add::{Form, at, chips};
use crate::kit::{Chip, ChipRow, Section, TextField};
use crate::part;

const KINDS: [ConnectionKind; 5] = [
    ConnectionKind::Hose,
    ConnectionKind::Plug,
    ConnectionKind::Pipe,
    ConnectionKind::Cable,
    ConnectionKind::Linkage,
];
const JOINTS: [Joint; 5] = [
    Joint::Clamped,
    Joint::Clicked,
    Joint::PushOn,
    Joint::Threaded,
    Joint::UnionBolt,
];

pub fn fields(form: &Form) -> Html {
    let now = &form.now;
    let kinds = chips(
        (0_u32..)
            .zip(KINDS)
            .map(|(n, k)| (words::connection_kind(k), n == now.kind)),
    );
    let joints = chips(
        (0_u32..)
            .zip(JOINTS)
            .map(|(n, j)| (words::joint(j), n == now.joint)),
    );
    let kind = form.pick(|a, n| {
        let own = KINDS.iter().any(|&k| a.name == words::connection_kind(k));
        a.kind = n;
        if let (true, Some(kind)) = (own || a.name.is_empty(), at(&KINDS, n)) {
            a.name = words::connection_kind(kind).to_owned();
        }
        // What such a joint usually is; a tap changes it.
        a.joint = match n {
            0 => 0,
            1 => 1,
            2 => 3,
            _ => 2,
        };
    });
    let there = match now.more.trim() {
        "" => "the other end",
        at => at,
    };
    html! {
        <>
            { part!(ChipRow::<u32> { label: "Kind", items: kinds, onpress: kind }) }
            { part!(TextField { label: "Name", value: now.name.clone(), hint: "top hose, crank sensor plug", oninput: form.typed(|a, t| a.name = t) }) }
            { part!(Section { title: "Ends that are off", children: html! { <>
                <div class="chips__row">
                    { part!(Chip { label: format!("At {}", form.part_name), pressed: now.here, onpress: form.pick(|a, _| a.here = !a.here).reform(|()| 0) }) }
                    { part!(Chip { label: format!("At {there}"), pressed: now.there, onpress: form.pick(|a, _| a.there = !a.there).reform(|()| 0) }) }
                </div>
                { part!(TextField { label: "The other end is at", value: now.more.clone(), hint: "radiator, loom, tank", oninput: form.typed(|a, t| a.more = t) }) }
            </> } }) }
            { part!(ChipRow::<u32> { label: "Held by", items: joints, onpress: form.pick(|a, n| a.joint = n) }) }
            if at(&JOINTS, now.joint) == Some(Joint::UnionBolt) {
                <p class="soft">{ "Two new washers are put on the list for each end that is off." }</p>
            }
        </>
    }
}

pub fn command(form: &Form) -> Result<Command, &'static str> {
    let now = &form.now;
    let name = now.name.trim().to_owned();
    if name.is_empty() {
        return Err("Give it a name");
    }
    if !now.here && !now.there {
        return Err("Say which end is off");
    }
    let joint = at(&JOINTS, now.joint).unwrap_or(Joint::Clamped);
    let end = |on, label: &str, parted| End {
        on,
        label: label.trim().to_owned(),
        joint,
        clamp: String::new(),
        parted,
    };
    let logged = ConnectionLogged {
        kind: at(&KINDS, now.kind).unwrap_or(ConnectionKind::Hose),
        name,
        a: end(Some(form.part), "", now.here),
        b: end(None, &now.more, now.there),
        route: Vec::new(),
        after: Vec::new(),
        tag: None,
    };
    Ok(Command::Record(Act::ConnectionLogged(Box::new(logged))))
}
