//! Find: parts, fixings, tags, photos and notes, by words, sizes or tag code.
use crate::kit::use_local;
use crate::part;
use countback_core::find::{Found, Hit, How, Index, JobKey, TagAnswer, TagOn};
use countback_core::journal::Target;
use countback_core::view;
use countback_core::words;
use yew::prelude::*;

use super::{OfJob, lost};
use crate::app::{Desk, the_desk};
use crate::kit::{
    Banner, BannerKind, Button, ButtonFace, ButtonKind, Empty, Icon, ListLength, ListRow, Page,
    Rows, Section, TagCode, TagSize, TextField, TextKind,
};
use crate::router::Route;

const MOST: usize = 60;

/// A hit as it is read.
#[derive(Clone, PartialEq)]
struct Shown {
    href: Option<String>,
    what: String,
    where_: String,
    icon: Icon,
}

#[hook]
pub fn use_find_screen(props: &OfJob) -> Html {
    let desk = the_desk();
    let asked = use_local(String::new);
    let job = props.job.clone();
    if desk.read(&job, |_| ()).is_none() {
        return lost();
    }
    // This job first, then the others: the number is the place in this list.
    let keys = desk.jobs_with(&job, |_, other| !other.is_example());
    let found: Option<Found> = {
        let desk = desk.clone();
        let index = use_memo((desk.clone(), keys.clone()), move |(desk, keys)| {
            build(desk, keys)
        });
        (!asked.trim().is_empty()).then(|| index.find(&asked, MOST))
    };
    let typed = {
        let asked = asked.clone();
        Callback::from(move |t: AttrValue| asked.set(t.to_string()))
    };
    let body = match found {
        None => nothing_asked(&desk, &job),
        Some(found) if found.hits.is_empty() && found.tag.is_none() => html! {
            { part!(Empty { icon: Icon::Find, title: "Nothing found.", text: "Try another word for it, a head size such as 10 mm, or the six digits of a tag." }) }
        },
        Some(found) => html! {
            <>
                { found.tag.as_ref().map(|t| tag_answer(&desk, &keys, t)).unwrap_or_default() }
                if !found.hits.is_empty() {
                    { part!(Rows { label: "Found", length: if found.hits.len() > 40 { ListLength::Long } else { ListLength::Short }, children: html! { <>
                        { for found.hits.iter().filter_map(|h| shown(&desk, &keys, h)).map(|s| html! {
                            { part!(ListRow { what: s.what, lies: s.where_, lead: s.icon, href: s.href.map(AttrValue::from) }) }
                        }) }
                    </> } }) }
                }
            </>
        },
    };
    html! {
        { part!(Page { title: "Find", children: html! { <>
            { part!(TextField { label: "Words, a size, or a tag code", kind: TextKind::Search, value: (*asked).clone(), oninput: typed, hint: "manifold, 10 mm bolt, 471227" }) }
            { part!(Button { label: "What is this bolt?", icon: Icon::Bolt, face: ButtonFace::Wide, href: Route::WhatBolt { job: job.clone() }.href() }) }
            { body }
        </> } }) }
    }
}

fn build(desk: &Desk, keys: &[String]) -> Index {
    let Some(first) = keys.first() else {
        return Index::of([]);
    };
    desk.read_all(first, |book, others| {
        let all = keys.iter().enumerate().filter_map(|(n, key)| {
            let key_number = JobKey(n as u32);
            if key == first {
                return Some((key_number, book.job()));
            }
            others
                .iter()
                .find(|(k, _)| *k == key)
                .map(|(_, job)| (key_number, *job))
        });
        Index::of(all)
    })
    .unwrap_or_else(|| Index::of([]))
}

fn key_of(keys: &[String], job: JobKey) -> Option<&String> {
    keys.get(job.0 as usize)
}

fn shown(desk: &Desk, keys: &[String], hit: &Hit) -> Option<Shown> {
    let key = key_of(keys, hit.job)?;
    desk.read(key, |book| {
        let job = book.job();
        let part = view::part_of(job, hit.what);
        let href = match (hit.photo, part) {
            (Some(photo), _) => Some(
                Route::Photo {
                    job: key.clone().into(),
                    photo: photo.to_string().into(),
                }
                .href(),
            ),
            (None, Some(part)) => Some(
                Route::PutBackPart {
                    job: key.clone().into(),
                    part: part.to_string().into(),
                }
                .href(),
            ),
            (None, None) => Some(at_job(key, hit.what).href()),
        };
        let note = hit
            .note
            .and_then(|n| job.notes.get(n))
            .map(|n| n.text.clone());
        let icon = match (hit.photo, hit.note, hit.what) {
            (Some(_), ..) => Icon::Photo,
            (_, Some(_), _) => Icon::Note,
            (.., Target::Fixing(_)) => Icon::Bolt,
            (.., Target::Container(_)) => Icon::Bag,
            (.., Target::Connection(_) | Target::End(_)) => Icon::Hose,
            (.., Target::Item(_)) => Icon::Gasket,
            _ => Icon::Part,
        };
        let other = if Some(key) == keys.first() {
            String::new()
        } else {
            format!("in {}: ", words::name(job, Target::Job))
        };
        let what = note.unwrap_or_else(|| words::name(job, hit.what));
        // What stands in the title needs no telling.
        let why: Vec<String> = hit
            .why
            .iter()
            .filter(|w| w.how != How::Exact && !what.contains(&w.found))
            .map(|w| format!("{} for {}", w.found, w.asked))
            .collect();
        let lies = match hit.what {
            Target::Part(id) => job
                .parts
                .get(id)
                .map(|p| p.lies.clone())
                .unwrap_or_default(),
            _ => String::new(),
        };
        Shown {
            href,
            what,
            where_: format!(
                "{other}{lies}{}",
                if why.is_empty() {
                    String::new()
                } else {
                    format!(" ({})", why.join(", "))
                }
            ),
            icon,
        }
    })
}

/// A job at what was found: at its bag, where it is one.
fn at_job(key: &str, what: Target) -> Route {
    let job = AttrValue::from(key.to_owned());
    match what {
        Target::Container(bag) => Route::Bag {
            job,
            bag: bag.to_string().into(),
        },
        _ => Route::Job { job },
    }
}

fn tag_answer(desk: &Desk, keys: &[String], answer: &TagAnswer) -> Html {
    let place = |on: &TagOn| {
        key_of(keys, on.job).and_then(|key| {
            desk.read(key, |book| {
                let job = book.job();
                (
                    key.clone(),
                    format!(
                        "{} in {}",
                        words::name(job, on.what),
                        words::name(job, Target::Job)
                    ),
                    view::part_of(job, on.what),
                    on.what,
                )
            })
        })
    };
    let list = |on: &[TagOn]| {
        html! {
            { part!(Rows { label: "Where the tag hangs", children: html! { <>
                { for on.iter().filter_map(place).map(|(key, text, part, what)| {
                    let route = match part {
                        Some(part) => Route::PutBackPart { job: key.clone().into(), part: part.to_string().into() },
                        None => at_job(&key, what),
                    };
                    html! { { part!(ListRow { what: text.clone(), lead: Icon::Bag, href: route.href() }) } }
                }) }
            </> } }) }
        }
    };
    match answer {
        TagAnswer::Known { code, on } => html! {
            { part!(Section { title: "Tag", children: html! { <>{ part!(TagCode { code: code.digits(), size: TagSize::Large }) }{ list(on) }</> } }) }
        },
        TagAnswer::Unknown { code } => html! {
            { part!(Banner { kind: BannerKind::Caution, title: format!("Tag {} is a right code, but of no job on this phone.", code.digits()) }) }
        },
        TagAnswer::Wrong { typed, near } => html! {
            <>
                { part!(Banner { kind: BannerKind::Danger, title: format!("{typed:06} is no tag code: a digit is wrong or two are swapped."), text: "Read it again." }) }
                if !near.is_empty() {
                    { part!(Section { title: "One slip away", children: html! { <>
                        { for near.iter().map(|(code, on)| html! { <div key={code.digits()}>{ part!(TagCode { code: code.digits() }) }{ list(on) }</div> }) }
                    </> } }) }
                }
            </>
        },
        TagAnswer::Begun { near } => html! {
            { part!(Section { title: "Tags that begin so", children: html! { <>
                { for near.iter().take(8).map(|(code, on)| html! { <div key={code.digits()}>{ part!(TagCode { code: code.digits() }) }{ list(on) }</div> }) }
            </> } }) }
        },
        TagAnswer::TooLong { digits, wanted } => html! {
            { part!(Banner { kind: BannerKind::Caution, title: format!("A tag code has {wanted} digits; {digits} were typed.") }) }
        },
    }
}

/// Before anything is asked: the bags, and where they lie.
fn nothing_asked(desk: &Desk, job: &AttrValue) -> Html {
    let rows = desk
        .read(job, |book| view::containers(book.job()))
        .unwrap_or_default();
    if rows.is_empty() {
        return html! {
            { part!(Empty { icon: Icon::Find, title: "Nothing bagged yet.", text: "Parts, fasteners, tags, photos and notes are found here, misspelt or in other trade words.", children: html! { <>
                { part!(Button { label: "Take off", icon: Icon::TakeOff, kind: ButtonKind::Plain, href: Route::TakeOff { job: job.clone() }.href() }) }
            </> } }) }
        };
    }
    html! {
        { part!(Section { title: "Bags and boxes", count: rows.len().to_string(), children: html! { <>
            { part!(Rows { label: "Bags and boxes", length: ListLength::Long, children: html! { <>
                { for rows.iter().map(|c| html! {
                    { part!(ListRow { what: c.said.clone(), tag: c.tag.clone(), lies: c.lies.clone(), lead: Icon::Bag, href: at_job(job, Target::Container(c.id)).href() }) }
                }) }
            </> } }) }
        </> } }) }
    }
}
