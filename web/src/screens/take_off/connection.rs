//! A hose, pipe, plug, cable or linkage with its two ends.
use crate::kit::use_local;
use crate::part;
use countback_core::journal::PartId;
use countback_core::words;
use yew::prelude::*;

use super::draft::{Draft, DraftConnection, JOINTS, KINDS, ROUTES};
use crate::app::the_desk;
use crate::kit::{
    Button, ButtonFace, ButtonKind, Chip, ChipItem, ChipRow, IArray, Icon, Readiness, Section,
    Sheet, TextField,
};

/// Which ends are off, in words.
pub fn ends_text(c: &DraftConnection) -> String {
    match (c.a_off, c.b_off) {
        (true, true) => "both ends off".to_owned(),
        (true, false) => format!("off at {}", or(&c.a, "this part")),
        (false, true) => format!("off at {}", or(&c.b, "the other end")),
        (false, false) => "both ends still on".to_owned(),
    }
}

fn or<'a>(text: &'a str, other: &'a str) -> &'a str {
    if text.is_empty() { other } else { text }
}

#[derive(Properties, PartialEq)]
pub struct ConnectionSheet {
    pub part: AttrValue,
    pub parts: Vec<(PartId, String)>,
    pub connection: Option<DraftConnection>,
    /// The connection, or `None` to take it out of the entry.
    pub ondone: Callback<Option<DraftConnection>>,
    pub onclose: Callback<()>,
}

#[hook]
fn use_connection_sheet(props: &ConnectionSheet) -> Html {
    let is_new = props.connection.is_none();
    let part = props.part.clone();
    let now = use_local(|| {
        let typed = || {
            let kept = Draft::from_text(&the_desk().typed("connection")?)?;
            kept.connections.into_iter().next()
        };
        props
            .connection
            .clone()
            .or_else(typed)
            .unwrap_or_else(|| DraftConnection {
                name: "hose".to_owned(),
                a: part.to_string(),
                a_here: true,
                a_off: true,
                ..DraftConnection::default()
            })
    });
    let set = |change: fn(&mut DraftConnection, String)| {
        let now = now.clone();
        Callback::from(move |text: String| {
            let mut next = (*now).clone();
            change(&mut next, text);
            if is_new {
                let kept = Draft {
                    connections: vec![next.clone()],
                    ..Draft::default()
                };
                the_desk().keep_typed("connection", &kept.to_text());
            }
            now.set(next);
        })
    };
    let typed =
        |change: fn(&mut DraftConnection, String)| set(change).reform(|t: AttrValue| t.to_string());
    let picked =
        |change: fn(&mut DraftConnection, String)| set(change).reform(|n: u8| n.to_string());
    let kinds: IArray<ChipItem<u8>> = KINDS
        .iter()
        .enumerate()
        .map(|(n, &k)| {
            ChipItem::new(
                n as u8,
                words::connection_kind(k),
                usize::from(now.kind) == n,
            )
        })
        .collect();
    let joints: IArray<ChipItem<u8>> = JOINTS
        .iter()
        .enumerate()
        .map(|(n, &j)| ChipItem::new(n as u8, words::joint(j), usize::from(now.joint) == n))
        .collect();
    let routes: IArray<ChipItem<u8>> = ROUTES
        .iter()
        .enumerate()
        .map(|(n, &r)| {
            ChipItem::new(
                n as u8,
                words::route(r),
                now.route_by
                    .as_ref()
                    .is_some_and(|(k, _)| usize::from(*k) == n),
            )
        })
        .collect();
    let by: IArray<ChipItem<String>> = props
        .parts
        .iter()
        .take(6)
        .map(|(id, name)| {
            ChipItem::new(
                id.to_string(),
                name.clone(),
                now.route_by
                    .as_ref()
                    .is_some_and(|(_, p)| *p == id.to_string()),
            )
        })
        .collect();
    let flip = |label: String, on: bool, change: fn(&mut DraftConnection, String)| {
        html! { { part!(Chip { label: label, pressed: on, onpress: set(change).reform(|()| String::new()) }) } }
    };
    let done = {
        let (now, ondone) = (now.clone(), props.ondone.clone());
        Callback::from(move |()| {
            the_desk().keep_typed("connection", "");
            crate::router::close_sheet();
            ondone.emit(Some((*now).clone()));
        })
    };
    let remove = {
        let ondone = props.ondone.clone();
        Callback::from(move |()| {
            crate::router::close_sheet();
            ondone.emit(None);
        })
    };
    let readiness = match (now.name.trim().is_empty(), now.a_off || now.b_off) {
        (true, _) => Readiness::Blocked("Give it a name".into()),
        (_, false) => Readiness::Blocked("Say which end is off".into()),
        _ => Readiness::Ready,
    };
    let foot = html! { { part!(Button { label: if is_new { "Add it" } else { "Done" }, kind: ButtonKind::Main, icon: Icon::Check, readiness: readiness, onpress: done }) } };
    html! {
        { part!(Sheet { title: "Hose or plug", onclose: props.onclose.clone(), foot, children: html! { <>
            { part!(ChipRow::<u8> { label: "Kind", items: kinds, onpress: {picked(|c, n| {
                let known = KINDS.iter().any(|&k| c.name == words::connection_kind(k));
                c.kind = n.parse().unwrap_or(0);
                let kind = KINDS.get(usize::from(c.kind)).copied();
                if let (true, Some(kind)) = (known || c.name.is_empty(), kind) {
                    c.name = words::connection_kind(kind).to_owned();
                }
                // What such a joint usually is; a tap changes it.
                c.joint = match c.kind { 0 => 0, 1 => 1, 2 => 3, _ => 2 };
            })} }) }
            { part!(TextField { label: "Name", value: now.name.clone(), hint: "top hose, crank sensor plug", oninput: typed(|c, t| c.name = t) }) }
            { part!(Section { title: "Ends that are off", children: html! { <>
                <div class="chips__row">
                    { flip(format!("At {}", or(&now.a, "this part")), now.a_off, |c, _| c.a_off = !c.a_off) }
                    { flip(format!("At {}", or(&now.b, "the other end")), now.b_off, |c, _| c.b_off = !c.b_off) }
                </div>
                { part!(TextField { label: "This end is at", value: now.a.clone(), oninput: typed(|c, t| c.a = t) }) }
                { part!(TextField { label: "The other end is at", value: now.b.clone(), hint: "radiator, loom, tank", oninput: typed(|c, t| c.b = t) }) }
            </> } }) }
            { part!(ChipRow::<u8> { label: "Held by", items: joints, onpress: picked(|c, n| c.joint = n.parse().unwrap_or(0)) }) }
            if JOINTS.get(usize::from(now.joint)) == Some(&countback_core::journal::Joint::UnionBolt) {
                <p class="soft">{ "Two new washers are put on the list for each end that is off." }</p>
            }
            <div class="chips__row">
                { flip("Tag both ends".to_owned(), now.tagged, |c, _| c.tagged = !c.tagged) }
            </div>
            if !props.parts.is_empty() {
                { part!(Section { title: "How it runs", children: html! { <>
                    { part!(ChipRow::<u8> { label: "It runs", items: routes, onpress: {picked(|c, n| {
                        let n = n.parse().unwrap_or(0);
                        let by = c.route_by.take();
                        c.route_by = match by {
                            Some((k, _)) if k == n => None,
                            Some((_, p)) => Some((n, p)),
                            None => Some((n, String::new())),
                        };
                    })} }) }
                    { part!(ChipRow::<String> { label: "which is off now", items: by, onpress: {set(|c, id| {
                        let kind = c.route_by.as_ref().map_or(0, |r| r.0);
                        c.route_by = Some((kind, id));
                    })} }) }
                </> } }) }
            }
            { part!(TextField { label: "Way it runs, in words", value: now.route.clone(), hint: "behind the support arm", oninput: typed(|c, t| c.route = t) }) }
            if !is_new {
                { part!(Button { label: "Take it out of this entry", icon: Icon::Close, face: ButtonFace::Wide, kind: ButtonKind::Danger, onpress: remove }) }
            }
        </> } }) }
    }
}

crate::live!(ConnectionSheet, use_connection_sheet);
