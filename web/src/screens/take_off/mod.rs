//! Take off: a part with its fasteners, its bag, its photo and what hung on
//! it, logged in a few taps. The entry is kept at every change.
use crate::part;
mod connection;
mod draft;
mod draft_text;
mod fixing;
mod item;
mod more;

use crate::kit::use_local;
use countback_core::caution;
use countback_core::fastener::FastenerSpec;
use countback_core::job::{Command, PartState};
use countback_core::journal::PartId;
use countback_core::tag::{self, TagCode};
use countback_core::view::{self, Chips};
use countback_core::words;
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

use self::draft::{CONTAINERS, Draft, DraftBag, DraftPhoto};
use super::shots::{Pictures, StoredThumb, TakePhoto};
use super::{OfJob, cautions, lost};
use crate::app::{Along, Desk, NoticeKind, Told, faults, the_desk};
use crate::kit::{
    Button, ButtonFace, ButtonKind, ChipItem, ChipRow, IArray, Icon, ListRow, MainAct, Page,
    Readiness, Rows, Section, Stepper, TagCode as TagShown, TagSize, TextField, Thumbs,
};
use crate::ports::store::{Batch, DraftRow, Fault, Store};
use crate::router::{self, Route};

/// Which sheet is open over the page.
#[derive(Clone, Debug, PartialEq)]
enum Over {
    Nothing,
    Fixing(usize),
    NewFixing,
    Connection(Option<usize>),
    Item(Option<usize>),
    More,
}

fn draft_key(job: &str) -> String {
    format!("{job}/off")
}

/// The next free tag codes over all jobs, the first for a new bag.
fn next_tags(desk: &Desk, n: usize) -> Vec<String> {
    let mut used = std::collections::BTreeSet::new();
    for key in desk.jobs() {
        desk.read(&key, |book| {
            let bags = book.job().containers.rows().map(|c| c.tag.as_str());
            let pairs = book
                .job()
                .connections
                .rows()
                .filter_map(|c| c.tag.as_deref());
            used.extend(bags.chain(pairs).filter_map(|t| t.parse::<TagCode>().ok()));
        });
    }
    let blocks = tag::DeviceBlocks::from_seed(desk.ctx().device.0);
    let mut tags = Vec::new();
    while tags.len() < n {
        let Ok(code) = tag::allocate(&used, blocks) else {
            break;
        };
        used.insert(code);
        tags.push(code.digits());
    }
    tags
}

#[hook]
pub fn use_take_off_screen(props: &OfJob) -> Html {
    let desk = the_desk();
    let job = props.job.clone();
    let draft = use_local(|| None::<Draft>);
    let pictures = use_mut_ref(Vec::new);
    let over = use_local(|| Over::Nothing);
    let typing = use_local(|| false);
    let busy = use_local(|| false);
    // What was begun is there again.
    {
        let (desk, draft, job) = (desk.clone(), draft.clone(), job.clone());
        use_effect_with((), move |()| {
            spawn_local(async move {
                let kept = desk.draft(&draft_key(&job)).await;
                draft.set(Some(
                    kept.and_then(|t| Draft::from_text(&t)).unwrap_or_default(),
                ));
            });
        });
    }
    let seen = desk.read_all(&job, |book, others| {
        let earlier: Vec<_> = others.iter().map(|(_, j)| *j).collect();
        let off: Vec<(PartId, Option<String>)> = book
            .job()
            .parts
            .iter()
            .map(|(id, p)| (id, p.planned.clone()))
            .collect();
        let n_off = book
            .job()
            .parts
            .rows()
            .filter(|p| p.state != PartState::Placed)
            .count();
        (view::chips(book, &earlier), off, n_off)
    });
    let Some((chips, off, n_off)) = seen else {
        return lost();
    };
    let Some(now) = (*draft).clone() else {
        return html! { { part!(crate::kit::Loading { what: "the entry" }) } };
    };
    let tags = next_tags(
        &desk,
        1 + now.connections.iter().filter(|c| c.tagged).count(),
    );
    let tag = tags.first().cloned().unwrap_or_default();

    let set = {
        let (draft, desk, job) = (draft.clone(), desk.clone(), job.clone());
        Callback::from(move |next: Draft| {
            let key = draft_key(&job);
            if next.is_empty() {
                desk.drop_draft(key);
            } else {
                desk.keep_draft(key, next.to_text());
            }
            draft.set(Some(next));
        })
    };
    // The name first: what else there is to log is asked once that was read.
    let logs = |draft: &Draft| {
        let spare = tags.get(1..).unwrap_or_default();
        Command::TakeOff(Box::new(draft.take_off(&tag, spare)))
    };
    let bare = cautions::unread(&desk, &job, &[logs(&now.bare())]);
    let to_read = cautions::unread(&desk, &job, &[logs(&now)]);

    let log = {
        let (desk, job, draft, busy, pictures) = (
            desk.clone(),
            job.clone(),
            draft.clone(),
            busy.clone(),
            pictures.clone(),
        );
        let (now, tags, tag) = (now.clone(), tags.clone(), tag.clone());
        Callback::from(move |()| {
            busy.set(true);
            let spare = tags.get(1..).unwrap_or_default();
            let mut off = Box::new(now.take_off(&tag, spare));
            let touched = desk.read(&job, |book| {
                caution::touched(&Command::TakeOff(off.clone()), book.job())
            });
            // All of them were read before this button could be tapped.
            off.part.hazards = touched.unwrap_or_default();
            let command = Command::TakeOff(off);
            let along = Along {
                pictures: pictures.borrow().clone(),
                drop_draft: Some(draft_key(&job)),
            };
            let (draft, busy, pictures, bag) = (
                draft.clone(),
                busy.clone(),
                pictures.clone(),
                now.bag.clone(),
            );
            let done = Callback::from(move |told: Told| {
                busy.set(false);
                if let Told::Saved(_) = told {
                    pictures.borrow_mut().clear();
                    let bag = if matches!(bag, DraftBag::Bench) {
                        DraftBag::Bench
                    } else {
                        DraftBag::New
                    };
                    draft.set(Some(Draft {
                        bag,
                        ..Draft::default()
                    }));
                    router::to_top();
                }
            });
            desk.tell_then(&job, command, along, done);
        })
    };
    let onpictures = {
        let (desk, job, set, now, pictures) = (
            desk.clone(),
            job.clone(),
            set.clone(),
            now.clone(),
            pictures.clone(),
        );
        Callback::from(move |Pictures(new): Pictures| {
            let mut next = now.clone();
            next.photos.extend(new.iter().map(|p| DraftPhoto {
                hash: p.photo.hash.clone(),
                thumb: p.thumb.hash.clone(),
                width: p.width,
                height: p.height,
                marks: Vec::new(),
            }));
            // The bytes are kept with the entry at once: the page may be killed
            // at the next photo. What is not kept is not shown as taken.
            let Some(store) = desk.store() else {
                return desk.say(NoticeKind::Fault, faults::store(&Fault::Unavailable));
            };
            let (photos, thumbs) = new.iter().cloned().map(|p| (p.photo, p.thumb)).unzip();
            let put_draft = Some(DraftRow {
                key: draft_key(&job),
                text: next.to_text(),
            });
            let batch = Batch {
                photos,
                thumbs,
                put_draft,
                ..Batch::default()
            };
            let (desk, set, pictures) = (desk.clone(), set.clone(), pictures.clone());
            spawn_local(async move {
                match store.commit(batch).await {
                    Ok(_) => {
                        pictures.borrow_mut().extend(new);
                        set.emit(next);
                    }
                    Err(fault) => desk.say(NoticeKind::Fault, faults::store(&fault)),
                }
            });
        })
    };

    let readiness = match (*busy, now.name.trim().is_empty()) {
        (true, _) => Readiness::Busy,
        (_, true) => Readiness::Blocked("Say what comes off".into()),
        _ => cautions::hold(&to_read),
    };
    let label = if now.aside {
        "Log it, swung aside"
    } else {
        "Log it, off"
    };
    let act = html! {
        { part!(MainAct { side: {html! {
            { part!(Button { label: "Undo the last entry", icon: Icon::Undo, face: ButtonFace::IconOnly, kind: ButtonKind::Quiet, onpress: {let (desk, job) = (desk.clone(), job.clone()); Callback::from(move |()| desk.strike_last(&job))} }) }
        }}, children: html! { <>
            { part!(Button { label: label, kind: ButtonKind::Main, icon: Icon::Check, readiness: readiness, onpress: log }) }
        </> } }) }
    };
    let open = |what: Over| {
        let over = over.clone();
        Callback::from(move |()| over.set(what.clone()))
    };
    let close = open(Over::Nothing);
    let sheet = match (*over).clone() {
        Over::Nothing => html! {},
        Over::Fixing(n) => html! {
            { part!(fixing::FixingSheet { fixing: now.fixings.get(n).cloned().unwrap_or_default(), chips: chips.clone(), onclose: close.clone(), onchange: { let (now, set) = (now.clone(), set.clone()); Callback::from(move |f: Option<draft::DraftFixing>| {
                    let mut next = now.clone();
                    match f {
                        Some(f) => if let Some(at) = next.fixings.get_mut(n) { *at = f },
                        None => { if n < next.fixings.len() { next.fixings.remove(n); } }
                    }
                    set.emit(next);
                }) } }) }
        },
        Over::NewFixing => html! {
            { part!(fixing::SizeSheet { inch: desk.read(&job, |book| super::sizes::inch(book.job())).unwrap_or_default(), onclose: close.clone(), onpick: { let (now, set) = (now.clone(), set.clone()); Callback::from(move |spec: FastenerSpec| {
                    let mut next = now.clone();
                    next.add_size(&spec, 2);
                    set.emit(next);
                }) } }) }
        },
        Over::Connection(n) => html! {
            { part!(connection::ConnectionSheet { part: now.name.clone(), parts: chips.parts_off.clone(), connection: n.and_then(|n| now.connections.get(n).cloned()), onclose: close.clone(), ondone: { let (now, set) = (now.clone(), set.clone()); Callback::from(move |c: Option<draft::DraftConnection>| {
                    let mut next = now.clone();
                    match (n, c) {
                        (Some(n), Some(c)) => if let Some(at) = next.connections.get_mut(n) { *at = c },
                        (None, Some(c)) => next.connections.push(c),
                        (Some(n), None) => { if n < next.connections.len() { next.connections.remove(n); } }
                        (None, None) => {}
                    }
                    set.emit(next);
                }) } }) }
        },
        Over::Item(n) => html! {
            { part!(item::ItemSheet { item: n.and_then(|n| now.items.get(n).cloned()), learned: chips.items.clone(), onclose: close.clone(), ondone: { let (now, set) = (now.clone(), set.clone()); Callback::from(move |i: Option<draft::DraftItem>| {
                    let mut next = now.clone();
                    match (n, i) {
                        (Some(n), Some(i)) => if let Some(at) = next.items.get_mut(n) { *at = i },
                        (None, Some(i)) => next.items.push(i),
                        (Some(n), None) => { if n < next.items.len() { next.items.remove(n); } }
                        (None, None) => {}
                    }
                    set.emit(next);
                }) } }) }
        },
        Over::More => html! {
            { part!(more::MoreSheet { job: job.clone(), draft: now.clone(), onclose: close.clone(), onchange: set.clone() }) }
        },
    };
    html! {
        <>
        { part!(Page { title: "Take off", under: format!("{n_off} off so far"), act: act, children: html! { <>
            { name_part(&now, &chips, &off, &set, *typing, &typing) }
            if !bare.is_empty() {
                { cautions::cards(&desk, &job, &bare) }
            } else if !now.name.trim().is_empty() {
                { fasteners(&now, &chips, &set, &over) }
                { bag(&now, &chips, &set, &tag) }
                { part!(Section { title: "Photo", children: html! { <>
                    { part!(TakePhoto { job: job.clone(), subject: now.name.clone(), draft: now.to_text(), onpicture: onpictures }) }
                    if !now.photos.is_empty() {
                        { part!(Button { label: "Leave the photos out", kind: ButtonKind::Quiet, icon: Icon::Close, onpress: { let (now, set, pictures) = (now.clone(), set.clone(), pictures.clone()); Callback::from(move |()| { pictures.borrow_mut().clear(); set.emit(Draft { photos: Vec::new(), ..now.clone() }); }) } }) }
                        { part!(Thumbs { children: html! { <>
                            { for now.photos.iter().map(|p| html! { { part!(key: p.hash.clone(); StoredThumb { hash: p.hash.clone(), alt: now.name.clone(), href: Route::TakeOff { job: job.clone() }.href() }) } }) }
                        </> } }) }
                    }
                </> } }) }
                { came_after(&now, &chips, &set) }
                { part!(Section { title: "What hung on it", children: html! { <>
                    <div class="pair">
                        { part!(Button { label: "Hose or plug", icon: Icon::Hose, onpress: open(Over::Connection(None)) }) }
                        { part!(Button { label: "Gasket, seal", icon: Icon::Gasket, onpress: open(Over::Item(None)) }) }
                    </div>
                    { hung(&now, &over) }
                    { cautions::cards(&desk, &job, &to_read) }
                </> } }) }
                { part!(Section { title: "Besides", children: html! { <>
                    { lies(&now, &chips, &set) }
                    { part!(Button { label: "More about it", icon: Icon::More, face: ButtonFace::Wide, kind: ButtonKind::Quiet, onpress: open(Over::More) }) }
                </> } }) }
            } else {
                { part!(Button { label: "Way in: the least to take off", icon: Icon::Find, face: ButtonFace::Wide, href: Route::WayIn { job: job.clone() }.href() }) }
                { part!(Section { title: "Without a part", children: html! { <>
                    { part!(Button { label: "Rag, cover, fluid, supply, finding", icon: Icon::More, face: ButtonFace::Wide, onpress: open(Over::More) }) }
                </> } }) }
            }
        </> } }) }
        { sheet }
        </>
    }
}

fn name_part(
    now: &Draft,
    chips: &Chips,
    off: &[(PartId, Option<String>)],
    set: &Callback<Draft>,
    typing: bool,
    type_it: &crate::kit::State<bool>,
) -> Html {
    let planned: IArray<ChipItem<usize>> = chips
        .planned
        .iter()
        .take(6)
        .enumerate()
        .filter(|(_, p)| now.name.is_empty() || now.planned.as_deref() == Some(&p.key))
        .map(|(n, p)| {
            ChipItem::new(n, p.name.clone(), now.planned.as_deref() == Some(&p.key))
                .with_icon(Icon::Procedure)
        })
        .collect();
    let names: IArray<ChipItem<String>> = chips
        .names
        .iter()
        .filter(|n| chips.planned.iter().take(6).all(|p| &p.name != *n))
        // Once chosen, the choice alone is left; a tap on it brings all back.
        .filter(|n| now.name.is_empty() || now.name == **n)
        .take(10)
        .map(|n| ChipItem::new(n.clone(), n.clone(), now.name == *n))
        .collect();
    let plan = {
        let (now, set, plans, off) = (
            now.clone(),
            set.clone(),
            chips.planned.clone(),
            off.to_vec(),
        );
        Callback::from(move |n: usize| {
            let mut next = now.clone();
            if let Some(planned) = plans.get(n) {
                next.plan(planned, &off);
            }
            set.emit(next);
        })
    };
    let pick = {
        let (now, set) = (now.clone(), set.clone());
        Callback::from(move |name: String| {
            let mut next = now.clone();
            next.name = if next.name == name {
                String::new()
            } else {
                name
            };
            next.planned = None;
            set.emit(next);
        })
    };
    let typed = {
        let (now, set) = (now.clone(), set.clone());
        Callback::from(move |text: AttrValue| {
            let mut next = now.clone();
            next.name = text.to_string();
            set.emit(next);
        })
    };
    let on_chip =
        chips.names.contains(&now.name) || chips.planned.iter().any(|p| p.name == now.name);
    html! {
        { part!(Section { title: "What comes off?", children: html! { <>
            if !chips.planned.is_empty() {
                { part!(ChipRow::<usize> { label: "From the procedure", items: planned, onpress: plan }) }
            }
            { part!(ChipRow::<String> { label: "Parts", items: names, onpress: pick, more: "Type it", onmore: {let t = type_it.clone(); Callback::from(move |()| t.set(true))} }) }
            if typing || (!now.name.is_empty() && !on_chip) {
                { part!(TextField { label: "Name of the part", value: now.name.clone(), oninput: typed }) }
            }
        </> } }) }
    }
}

fn fasteners(
    now: &Draft,
    chips: &Chips,
    set: &Callback<Draft>,
    over: &crate::kit::State<Over>,
) -> Html {
    let sizes: IArray<ChipItem<usize>> = chips
        .sizes
        .iter()
        .enumerate()
        .take(8)
        .map(|(n, c)| {
            let text = c.spec.to_string();
            ChipItem::new(
                n,
                c.label.clone(),
                now.fixings.iter().any(|f| f.spec == text),
            )
        })
        .collect();
    let pick = {
        let (now, set, sizes) = (now.clone(), set.clone(), chips.sizes.clone());
        Callback::from(move |n: usize| {
            let mut next = now.clone();
            if let Some(chip) = sizes.get(n) {
                next.add_size(&chip.spec, chip.count);
            }
            set.emit(next);
        })
    };
    html! {
        { part!(Section { title: "Fasteners", count: format!("{} in all", now.fixings.iter().map(|f| u32::from(f.count)).sum::<u32>()), children: html! { <>
            { for now.fixings.iter().enumerate().map(|(n, f)| {
                let count = {
                    let (now, set) = (now.clone(), set.clone());
                    Callback::from(move |count: u32| {
                        let mut next = now.clone();
                        if count == 0 {
                            next.fixings.remove(n);
                        } else if let Some(at) = next.fixings.get_mut(n) {
                            at.count = count as u16;
                        }
                        set.emit(next);
                    })
                };
                let over = over.clone();
                html! {
                    <div class="counted" key={n}>
                        { part!(Stepper { label: f.read_spec().label(), value: u32::from(f.count), under: fixing::under(f), onchange: count }) }
                        { part!(Button { label: "Details", about: f.read_spec().label(), kind: ButtonKind::Quiet, icon: Icon::Edit, onpress: Callback::from(move |()| over.set(Over::Fixing(n))) }) }
                    </div>
                }
            }) }
            { part!(ChipRow::<usize> { label: "Add a size", items: sizes, onpress: pick, more: "Another size", onmore: {let over = over.clone(); Callback::from(move |()| over.set(Over::NewFixing))} }) }
        </> } }) }
    }
}

fn bag(now: &Draft, chips: &Chips, set: &Callback<Draft>, tag: &str) -> Html {
    let mut items: Vec<ChipItem<DraftBag>> = vec![
        ChipItem::new(
            DraftBag::New,
            format!(
                "New {} {}",
                words::container_kind(now.container_kind()),
                spaced(tag)
            ),
            now.bag == DraftBag::New,
        )
        .with_icon(Icon::Bag),
    ];
    for (id, name) in chips.containers.iter().take(3) {
        let have = DraftBag::Have(id.to_string());
        items.push(ChipItem::new(have.clone(), name.clone(), now.bag == have));
    }
    items.push(ChipItem::new(
        DraftBag::Bench,
        "Not bagged",
        now.bag == DraftBag::Bench,
    ));
    let pick = {
        let (now, set) = (now.clone(), set.clone());
        Callback::from(move |bag: DraftBag| set.emit(Draft { bag, ..now.clone() }))
    };
    let kinds: IArray<ChipItem<usize>> = CONTAINERS
        .iter()
        .enumerate()
        .map(|(n, &kind)| {
            ChipItem::new(
                n,
                words::container_kind(kind),
                n == usize::from(now.container),
            )
        })
        .collect();
    let kind = {
        let (now, set) = (now.clone(), set.clone());
        Callback::from(move |chosen: usize| {
            set.emit(Draft {
                container: chosen as u8,
                ..now.clone()
            })
        })
    };
    html! {
        { part!(Section { title: "Where the fasteners go", children: html! { <>
            { part!(ChipRow::<DraftBag> { label: "The fasteners go into", items: items.into_iter().collect::<IArray<_>>(), onpress: pick }) }
            if now.bag == DraftBag::New && !now.fixings.is_empty() {
                <div class="write-tag">
                    { part!(TagShown { code: tag.to_owned(), size: TagSize::Large }) }
                    <span>{ format!("Write this on the {}.", words::container_kind(now.container_kind())) }</span>
                </div>
                { part!(ChipRow::<usize> { label: "It is a", items: kinds, onpress: kind }) }
            }
        </> } }) }
    }
}

fn spaced(tag: &str) -> String {
    tag.as_bytes()
        .chunks(2)
        .map(|c| String::from_utf8_lossy(c).into_owned())
        .collect::<Vec<_>>()
        .join(" ")
}

fn came_after(now: &Draft, chips: &Chips, set: &Callback<Draft>) -> Html {
    if chips.parts_off.is_empty() {
        return html! {};
    }
    let mut items: Vec<ChipItem<String>> = vec![ChipItem::new(
        String::new(),
        "Free to reach",
        now.after.is_empty(),
    )];
    for (id, name) in chips.parts_off.iter().take(6) {
        let id = id.to_string();
        let on = now.after.contains(&id);
        items.push(ChipItem::new(id, name.clone(), on));
    }
    let pick = {
        let (now, set) = (now.clone(), set.clone());
        Callback::from(move |id: String| {
            let mut next = now.clone();
            if id.is_empty() {
                next.after.clear();
            } else if let Some(at) = next.after.iter().position(|a| *a == id) {
                next.after.remove(at);
            } else {
                next.after.push(id);
            }
            set.emit(next);
        })
    };
    html! {
        { part!(Section { title: "What had to be off first?", children: html! { <>
            { part!(ChipRow::<String> { label: "It could be reached", items: items.into_iter().collect::<IArray<_>>(), onpress: pick }) }
        </> } }) }
    }
}

fn lies(now: &Draft, chips: &Chips, set: &Callback<Draft>) -> Html {
    let items: IArray<ChipItem<String>> = chips
        .lies
        .iter()
        .take(5)
        .map(|l| ChipItem::new(l.clone(), l.clone(), now.lies == *l))
        .collect();
    let pick = {
        let (now, set) = (now.clone(), set.clone());
        Callback::from(move |lies: String| {
            let mut next = now.clone();
            next.lies = if next.lies == lies {
                String::new()
            } else {
                lies
            };
            set.emit(next);
        })
    };
    html! { { part!(ChipRow::<String> { label: "It lies", items: items, onpress: pick }) } }
}

fn hung(now: &Draft, over: &crate::kit::State<Over>) -> Html {
    if now.connections.is_empty() && now.items.is_empty() {
        return html! {};
    }
    html! {
        { part!(Rows { label: "What hung on it", children: html! { <>
            { for now.connections.iter().enumerate().map(|(n, c)| {
                let over = over.clone();
                html! { { part!(ListRow { what: c.name.clone(), lead: Icon::Hose, lies: connection::ends_text(c), onpress: Callback::from(move |()| over.set(Over::Connection(Some(n)))) }) } }
            }) }
            { for now.items.iter().enumerate().map(|(n, i)| {
                let over = over.clone();
                html! { { part!(ListRow { what: format!("{} × {} {}", i.count, i.name, i.size), lead: Icon::Gasket, lies: "Used once: a new one is owed", onpress: Callback::from(move |()| over.set(Over::Item(Some(n)))) }) } }
            }) }
        </> } }) }
    }
}
