//! Take off: a part with its fasteners, its bag, its photo and what hung on
//! it, logged in a few taps. The entry is kept at every change.
use crate::part;
mod alone;
pub(super) mod connection;
pub(super) mod draft;
#[cfg(test)]
mod draft_checks;
mod draft_joints;
mod draft_text;
mod fixing;
mod half;
mod item;
mod more;
mod more_part;
#[cfg(test)]
mod plan_checks;
mod sections;
pub mod treat;

use crate::kit::use_local;
use countback_core::caution;
use countback_core::fastener::FastenerSpec;
use countback_core::job::{Command, PartState};
use countback_core::journal::PartId;
use countback_core::procedure::known_parts;
use countback_core::view;
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

pub use self::draft::DraftTreatment;
use self::draft::{Draft, DraftBag, DraftPhoto};
use self::sections::{bag, came_after, fasteners, hung, lies, loosen, name_part};
use super::shots::{Pictures, StoredThumb, TakePhoto};
use super::{OfJob, cautions, lost};
use crate::app::{Along, Desk, Told, the_desk, undo_button};
use crate::kit::{Button, ButtonFace, ButtonKind, Icon, MainAct, Page, Readiness, Section, Thumbs};
use crate::ports::photo::Picture;
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

/// The next free tag codes over all jobs, the first for a new bag, the second
/// for the next hose; none that a hose of the entry has.
fn next_tags(desk: &Desk, job: &str, now: &Draft) -> [String; 2] {
    let kept: Vec<&str> = now.connections.iter().map(|c| c.tag.as_str()).collect();
    let device = desk.ctx().device;
    let free = desk.read_all(job, |book, others| {
        let all = others.iter().map(|(_, it)| *it).chain([book.job()]);
        view::free_tags(all, &kept, device, 2)
    });
    let mut free = free.unwrap_or_default().into_iter();
    [(); 2].map(|()| free.next().unwrap_or_default())
}

/// Puts a thing of the entry in the place of what it was.
fn put<T>(all: &mut [T], n: usize, changed: T) {
    if let Some(at) = all.get_mut(n) {
        *at = changed;
    }
}

/// Changes what is in the entry already, as it is said.
fn live<T: 'static>(
    now: &Draft,
    set: &Callback<Draft>,
    n: Option<usize>,
    change: fn(&mut Draft, usize, T),
) -> Callback<T> {
    let (now, set) = (now.clone(), set.clone());
    Callback::from(move |changed: T| {
        if let Some(n) = n {
            let mut next = now.clone();
            change(&mut next, n, changed);
            set.emit(next);
        }
    })
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
        let earlier = others.iter().map(|(_, j)| *j);
        let earlier: Vec<_> = earlier.filter(|it| !it.is_example()).collect();
        let off: Vec<(PartId, Option<String>)> = known_parts(book.job())
            .into_iter()
            .map(|(id, key)| (id, key.map(str::to_owned)))
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
    let loosening = now
        .planned
        .as_ref()
        .and_then(|key| desk.read(&job, |book| view::loosen_planned(book.job(), key)));
    let loosening = loosening.unwrap_or_default();
    let [tag, next_tag] = next_tags(&desk, &job, &now);

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
    let logs = |draft: &Draft| Command::TakeOff(Box::new(draft.take_off(&tag)));
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
        let (now, tag) = (now.clone(), tag.clone());
        Callback::from(move |()| {
            busy.set(true);
            let mut off = Box::new(now.take_off(&tag));
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
            let (desk2, job2) = (desk.clone(), job.clone());
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
                    half::forget_all(&desk2, &job2);
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
            let place = Route::TakeOff { job: job.clone() }.href();
            let subject = now.name.clone();
            let Some(store) = desk.store() else {
                return desk.not_saved(&place, &subject, new, &Fault::Unavailable);
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
                    Err(fault) => desk.not_saved(&place, &subject, new, &fault),
                }
            });
        })
    };

    let leave_out = |hash: &str| {
        let (now, set, pictures, hash) =
            (now.clone(), set.clone(), pictures.clone(), hash.to_owned());
        Callback::from(move |()| {
            let mut next = now.clone();
            next.leave_photo_out(&hash);
            pictures
                .borrow_mut()
                .retain(|it: &Picture| next.has_photo(&it.photo.hash));
            set.emit(next);
        })
    };
    let readiness = match (
        *busy,
        now.name.trim().is_empty(),
        now.wrong_figure().or_else(|| now.unsaid()),
    ) {
        (true, ..) => Readiness::Busy,
        (_, true, _) => Readiness::Blocked("Say what comes off".into()),
        (.., Some(wrong)) => Readiness::Blocked(wrong.into()),
        _ => cautions::hold(&to_read),
    };
    let label = if now.aside {
        "Log it, swung aside"
    } else {
        "Log it, off"
    };
    let act = html! {
        { part!(MainAct { side: undo_button(&job, "Undo the last entry", ButtonKind::Quiet), children: html! { <>
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
            { part!(fixing::FixingSheet { fixing: now.fixings.get(n).cloned().unwrap_or_default(), chips: chips.clone(), inch: desk.read(&job, |book| super::sizes::inch(book.job())).unwrap_or_default(), onclose: close.clone(), onchange: { let (now, set) = (now.clone(), set.clone()); Callback::from(move |f: Option<draft::DraftFixing>| {
                    let mut next = now.clone();
                    match f {
                        Some(f) => if let Some(at) = next.fixings.get_mut(n) { *at = f },
                        None => next.take_out_fixing(n),
                    }
                    set.emit(next);
                }) } }) }
        },
        Over::NewFixing => html! {
            { part!(fixing::SizeSheet { inch: desk.read(&job, |book| super::sizes::inch(book.job())).unwrap_or_default(), onclose: close.clone(), onpick: { let (now, set) = (now.clone(), set.clone()); Callback::from(move |spec: FastenerSpec| {
                    let mut next = now.clone();
                    next.add_size(&spec, spec.kind.first_count());
                    set.emit(next);
                }) } }) }
        },
        Over::Connection(n) => html! {
            { part!(connection::ConnectionSheet { job: job.clone(), next_tag: next_tag.clone(), taken: now.connections.iter().map(|c| c.tag.clone()).collect::<Vec<_>>(), part: now.name.clone(), parts_off: chips.parts_off.clone(), parts: chips.parts.clone(), connection: n.and_then(|n| now.connections.get(n).cloned()), onchange: live(&now, &set, n, |d, n, c| put(&mut d.connections, n, c)), onclose: close.clone(), ondone: { let (now, set) = (now.clone(), set.clone()); Callback::from(move |c: Option<draft::DraftConnection>| {
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
            { part!(item::ItemSheet { job: job.clone(), part: now.name.clone(), item: n.and_then(|n| now.items.get(n).cloned()), learned: chips.items.clone(), onchange: live(&now, &set, n, |d, n, i| put(&mut d.items, n, i)), onclose: close.clone(), ondone: { let (now, set) = (now.clone(), set.clone()); Callback::from(move |i: Option<draft::DraftItem>| {
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
            { part!(more::MoreSheet { job: job.clone(), chips: chips.clone(), draft: now.clone(), onclose: close.clone(), onchange: set.clone() }) }
        },
    };
    html! {
        <>
        { part!(Page { title: "Take off", under: format!("{n_off} off so far"), act: act, children: html! { <>
            { super::again::touch_again(&desk, &job) }
            { name_part(&now, &chips, &off, &set, *typing, &typing) }
            if !bare.is_empty() {
                { cautions::cards(&desk, &job, &bare) }
            } else if !now.name.trim().is_empty() {
                { loosen(&loosening) }
                { fasteners(&now, &chips, &set, &over) }
                { bag(&now, &chips, &set, &tag) }
                { part!(Section { title: "Photo", children: html! { <>
                    { part!(TakePhoto { job: job.clone(), subject: now.name.clone(), draft: now.to_text(), onpicture: onpictures }) }
                    if !now.photos.is_empty() {
                        { part!(Thumbs { children: html! { <>
                            { for now.photos.iter().enumerate().map(|(n, p)| html! {
                                <div key={p.hash.clone()} class="thumbs__one">
                                    { part!(StoredThumb { hash: p.hash.clone(), alt: now.name.clone(), href: Route::TakeOff { job: job.clone() }.href() }) }
                                    { part!(Button { label: "Leave out", about: format!("photo {}", n + 1), kind: ButtonKind::Quiet, onpress: leave_out(&p.hash) }) }
                                </div>
                            }) }
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
