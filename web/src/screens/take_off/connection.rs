//! A hose, pipe, plug, cable or linkage with its two ends.
use crate::kit::use_local;
use crate::part;
use countback_core::journal::{Joint, PartId};
use countback_core::view::Choice;
use countback_core::words;
use yew::prelude::*;

use super::super::cautions;
use super::super::pick::{Pick, PickHow};
use super::draft::{Draft, DraftConnection, HERE, JOINTS, KINDS, ROUTES};
use super::half::{self, Half};
use crate::app::the_desk;
use crate::kit::{
    Button, ButtonFace, ButtonKind, Chip, ChipItem, ChipRow, IArray, Icon, Readiness, Section,
    Sheet, TagCode, TagSize, TextField,
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

fn joints(on: Joint) -> IArray<ChipItem<u8>> {
    let chip = |(n, j): (usize, &Joint)| ChipItem::new(n as u8, words::joint(*j), *j == on);
    JOINTS.iter().enumerate().map(chip).collect()
}

fn clips(on: &str) -> IArray<ChipItem<String>> {
    let chip = |it: &&str| ChipItem::new((*it).to_owned(), (*it).to_owned(), *it == on);
    words::CLAMPS.iter().map(chip).collect()
}

/// Chosen, or taken back when it was.
fn flipped(now: &str, new: String) -> String {
    if now == new { String::new() } else { new }
}

/// Where the other end sits: its id, its name, and on a third line the name of
/// where it sat before. The name stands as the end's label, unless another was
/// typed.
fn seat(c: &mut DraftConnection, chosen: String) {
    let mut lines = chosen.split('\n').map(str::to_owned);
    let mut next = || lines.next().unwrap_or_default();
    c.b_on = next();
    let (name, before) = (next(), next());
    if c.b.is_empty() || c.b == before {
        c.b = name;
    }
}

#[derive(Properties, PartialEq)]
pub struct ConnectionSheet {
    pub job: AttrValue,
    /// The code that its ends get, if they get one.
    pub next_tag: String,
    /// Codes of the entry's hoses.
    pub taken: Vec<String>,
    pub part: AttrValue,
    /// Parts off now, and every part, those that are off first.
    pub parts_off: Vec<Choice>,
    pub parts: Vec<Choice>,
    pub connection: Option<DraftConnection>,
    /// The part that it is added to, where it is logged by itself.
    #[prop_or_default]
    pub to: Option<PartId>,
    /// What is changed of one that is in the entry is changed there at once.
    pub onchange: Callback<DraftConnection>,
    /// The connection, or `None` to take it out of the entry.
    pub ondone: Callback<Option<DraftConnection>>,
    pub onclose: Callback<()>,
}

#[hook]
fn use_connection_sheet(props: &ConnectionSheet) -> Html {
    let is_new = props.connection.is_none();
    let part = props.part.clone();
    let half = Half::new(half::Of::Connection, &props.job, part.clone());
    let now = use_local(|| {
        let typed = || {
            let kept = Draft::from_text(&half.kept()?)?;
            let mut it = kept.connections.into_iter().next()?;
            // Another hose of the entry may have got its code since.
            if props.taken.contains(&it.tag) {
                it.tag.clone_from(&props.next_tag);
            }
            Some(it)
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
        let (now, half, onchange) = (now.clone(), half.clone(), props.onchange.clone());
        Callback::from(move |text: String| {
            let mut next = (*now).clone();
            change(&mut next, text);
            if is_new {
                let kept = Draft {
                    connections: vec![next.clone()],
                    ..Draft::default()
                };
                half.keep(&kept.to_text());
            } else {
                onchange.emit(next.clone());
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
    let by: Vec<String> = now.route_by.iter().map(|(_, id)| id.clone()).collect();
    let fixed = |id: &str, name: String| Choice {
        id: id.to_owned(),
        name,
    };
    let seats = vec![
        fixed("", "the machine".to_owned()),
        fixed(HERE, or(&part, "this part").to_owned()),
    ];
    let flip = |label: String, on: bool, change: fn(&mut DraftConnection, String)| {
        html! { { part!(Chip { label: label, pressed: on, onpress: set(change).reform(|()| String::new()) }) } }
    };
    let done = {
        let (now, ondone, half) = (now.clone(), props.ondone.clone(), half.clone());
        Callback::from(move |()| {
            half.forget();
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
    // Logged by itself, it is read about here.
    let desk = the_desk();
    let left = props
        .to
        .map(|part| cautions::unread(&desk, &props.job, &[now.command(part)]));
    let left = left.unwrap_or_default();
    let readiness = match (now.name.trim().is_empty(), now.a_off || now.b_off) {
        (true, _) => Readiness::Blocked("Give it a name".into()),
        (_, false) => Readiness::Blocked("Say which end is off".into()),
        _ => cautions::hold(&left),
    };
    let add = if props.to.is_some() {
        "Log it"
    } else {
        "Add it"
    };
    let foot = html! { { part!(Button { label: if is_new { add } else { "Done" }, kind: ButtonKind::Main, icon: Icon::Check, readiness: readiness, onpress: done }) } };
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
                c.b_joint = None;
            })} }) }
            { part!(TextField { label: "Name", value: now.name.clone(), hint: "top hose, crank sensor plug", oninput: typed(|c, t| c.name = t) }) }
            { part!(Section { title: "Ends that are off", children: html! { <>
                <div class="chips__row">
                    { flip(format!("At {}", or(&now.a, "this part")), now.a_off, |c, _| c.a_off = !c.a_off) }
                    { flip(format!("At {}", or(&now.b, "the other end")), now.b_off, |c, _| c.b_off = !c.b_off) }
                </div>
            </> } }) }
            { part!(Section { title: "This end", children: html! { <>
                { part!(TextField { label: "This end is at", value: now.a.clone(), oninput: typed(|c, t| c.a = t) }) }
                { part!(ChipRow::<u8> { label: "Held by", items: joints(now.joint_a()), onpress: picked(|c, n| c.joint = n.parse().unwrap_or(0)) }) }
                if now.joint_a() == Joint::Clamped {
                    { part!(ChipRow::<String> { label: "Its clip", items: clips(&now.a_clamp), onpress: set(|c, t| c.a_clamp = flipped(&c.a_clamp, t)) }) }
                }
            </> } }) }
            { part!(Section { title: "The other end", children: html! { <>
                { part!(Pick { label: "It sits on", first: seats, all: props.parts.clone(), chosen: vec![now.b_on.clone()], most: 4, how: PickHow::One, onpress: {
                    let (names, part, before) = (props.parts.clone(), props.part.to_string(), now.b_on.clone());
                    set(seat).reform(move |id: String| {
                        let name = |id: &str| match names.iter().find(|it| it.id == id) {
                            Some(it) => it.name.clone(),
                            None if id == HERE => part.clone(),
                            None => String::new(),
                        };
                        format!("{id}\n{}\n{}", name(&id), name(&before))
                    })
                } }) }
                { part!(TextField { label: "The other end is at", value: now.b.clone(), hint: "radiator, loom, tank", oninput: typed(|c, t| c.b = t) }) }
                { part!(ChipRow::<u8> { label: "Held there by", items: joints(now.joint_b()), onpress: picked(|c, n| c.b_joint = n.parse().ok()) }) }
                if now.joint_b() == Joint::Clamped {
                    { part!(ChipRow::<String> { label: "Its clip there", items: clips(&now.b_clamp), onpress: set(|c, t| c.b_clamp = flipped(&c.b_clamp, t)) }) }
                }
            </> } }) }
            if now.joint_a() == Joint::UnionBolt || now.joint_b() == Joint::UnionBolt {
                <p class="soft">{ "Two new washers are put on the list for each end with a union bolt that is off." }</p>
            }
            <div class="chips__row">
                { part!(Chip { label: "Tag both ends", pressed: !now.tag.is_empty(), onpress: set(|c, code| c.tag = flipped(&c.tag, code)).reform({
                    let code = if now.tag.is_empty() { props.next_tag.clone() } else { now.tag.clone() };
                    move |()| code.clone()
                }) }) }
            </div>
            if !now.tag.is_empty() {
                <div class="write-tag">
                    { part!(TagCode { code: now.tag.clone(), size: TagSize::Large, what: "Tag" }) }
                    <span>{ "Write this on both ends." }</span>
                </div>
            }
            if !props.parts_off.is_empty() {
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
                    { part!(Pick { label: "which is off now", all: props.parts_off.clone(), chosen: by, how: PickHow::One, onpress: {set(|c, id| {
                        let kind = c.route_by.as_ref().map_or(0, |r| r.0);
                        c.route_by = Some((kind, id));
                    })} }) }
                </> } }) }
            }
            { part!(TextField { label: "Way it runs, in words", value: now.route.clone(), hint: "behind the support arm", oninput: typed(|c, t| c.route = t) }) }
            { cautions::cards(&desk, &props.job, &left) }
            if !is_new {
                { part!(Button { label: "Take it out of this entry", icon: Icon::Close, face: ButtonFace::Wide, kind: ButtonKind::Danger, onpress: remove }) }
            }
        </> } }) }
    }
}

crate::live!(ConnectionSheet, use_connection_sheet);
