//! The screens. Each prints what the core's views say and turns taps into
//! commands; none of them knows a rule.
use crate::part;
mod again;
mod audit;
mod cautions;
mod copies;
mod counting;
mod due;
mod find;
mod fixing;
mod fluid;
mod handover;
mod job;
mod jobs;
mod late;
mod log;
mod machine;
mod new_job;
mod part;
mod photo;
mod pick;
mod picture;
mod put_back;
mod put_right;
mod second;
mod settings;
mod shots;
mod sign_off;
mod sizes;
mod take_off;
mod tighten;
mod to_buy;
mod way_in;
mod what_bolt;
mod why;

use std::cell::Cell;
use yew::functional::{Hook, HookContext};
use yew::prelude::*;

use crate::kit::{Banner, BannerKind, Button, Empty, Icon, Split, keyed, local};
use crate::router::Route;

/// The screen of a route. Those that a start shows are here, the others in
/// [`in_second_file`].
pub fn show(route: &Route) -> Html {
    match route {
        Route::Jobs => jobs::jobs(),
        Route::Job { job } | Route::Bag { job, .. } => {
            of_job("job", job.clone(), |it, _| job::job_screen(it))
        }
        _ => in_second_file(route),
    }
}

/// The screens that a start does without: `web/later.txt` names this function,
/// so that all that only it needs comes in the WASM's second file.
#[inline(never)]
fn in_second_file(route: &Route) -> Html {
    match route.clone() {
        Route::NewJob => local("new job", |ctx| Hook::run(new_job::use_new_job(), ctx)),
        Route::Settings => settings::settings(),
        Route::About => settings::about(),
        Route::ToBuy { job } => of_job("to buy", job, |it, _| to_buy::to_buy(it)),
        Route::WhatBolt { job } => of_job("what bolt", job, |it, ctx| {
            Hook::run(what_bolt::use_what_bolt(it), ctx)
        }),
        Route::Log { job } => of_job("log", job, |it, ctx| Hook::run(log::use_log(it), ctx)),
        Route::TakeOff { job } => of_job("take off", job, |it, ctx| {
            Hook::run(take_off::use_take_off_screen(it), ctx)
        }),
        Route::PutBack { job } => of_job("put back", job, |it, _| put_back::put_back(it)),
        Route::Part { job, part } | Route::PutBackPart { job, part } => {
            let key = part.to_string();
            part!(key: key; part::PartScreen { job, part })
        }
        Route::Tighten { job, fixing } => {
            let key = fixing.to_string();
            part!(key: key; tighten::TightenScreen { job, fixing })
        }
        Route::Handover { job } => of_job("handover", job, |it, _| handover::handover(it)),
        Route::SignOff { job } => of_job("sign off", job, |it, ctx| {
            Hook::run(sign_off::use_sign_off(it), ctx)
        }),
        Route::Audit { job } => of_job("audit", job, |it, ctx| {
            Hook::run(audit::use_audit_screen(it), ctx)
        }),
        Route::Find { job } => of_job("find", job, |it, ctx| {
            Hook::run(find::use_find_screen(it), ctx)
        }),
        Route::Photo { job, photo } => {
            let key = photo.to_string();
            part!(key: key; photo::PhotoScreen { job, photo })
        }
        #[cfg(feature = "gallery")]
        Route::Gallery => html! { <crate::kit::gallery::Gallery /> },
        Route::Fixing { job, fixing } => {
            let key = fixing.to_string();
            part!(key: key; fixing::FixingScreen { job, fixing })
        }
        Route::Picture { job } => of_job("picture", job, |it, ctx| {
            Hook::run(picture::use_picture_screen(it), ctx)
        }),
        Route::WayIn { job } => of_job("way in", job, |it, ctx| {
            Hook::run(way_in::use_way_in_screen(it), ctx)
        }),
        Route::Jobs | Route::Job { .. } | Route::Bag { .. } | Route::Lost => lost(),
    }
}

thread_local! {
    /// Whether the list that a part was chosen from is the audit.
    static OF_AUDIT: Cell<bool> = const { Cell::new(false) };
}

/// The screen of a route on a wide window: where it is the detail of a list,
/// the list stands beside it.
pub fn beside(route: &Route) -> Html {
    let (job, detail) = match route {
        Route::PutBack { job } => (job, None),
        Route::Audit { job } => (job, None),
        Route::PutBackPart { job, .. } => (job, Some(show(route))),
        _ => return show(route),
    };
    // A part that was chosen in the audit stands beside the audit.
    match route {
        Route::Audit { .. } => OF_AUDIT.set(true),
        Route::PutBack { .. } => OF_AUDIT.set(false),
        _ => {}
    }
    let (list, hint) = match OF_AUDIT.get() {
        true => (
            Route::Audit { job: job.clone() },
            "Choose a line to see its part here.",
        ),
        false => (
            Route::PutBack { job: job.clone() },
            "Choose a part to see it here.",
        ),
    };
    html! { { part!(Split { list: show(&list), detail: detail, hint: hint }) } }
}

/// A screen that needs to know nothing but its job.
fn of_job(kind: &'static str, job: AttrValue, draw: fn(&OfJob, &mut HookContext) -> Html) -> Html {
    let key = job.to_string();
    let props = OfJob { job };
    keyed(key, local(kind, move |ctx| draw(&props, ctx)))
}

/// Props of every screen of a job.
#[derive(Properties, PartialEq)]
pub struct OfJob {
    pub job: AttrValue,
}

/// A doubt about a figure in a line, and behind a word what it rests on.
fn doubted(said: &str) -> Html {
    let (doubt, why) = countback_core::words::doubt_and_why(said);
    part!(Banner {
        kind: BannerKind::Caution,
        title: doubt.to_owned(),
        why: why.map(|it| AttrValue::from(it.to_owned()))
    })
}

/// An address that leads nowhere, or a job that is not on this phone.
pub fn lost() -> Html {
    let here = crate::router::current();
    let unread = &crate::app::the_desk().standing().unread;
    if here
        .job()
        .is_some_and(|job| unread.iter().any(|it| it == job.as_str()))
    {
        // What to do stands above it.
        return part!(Empty {
            icon: Icon::Warning,
            title: "This job cannot be read.",
            text: "It is on this phone, and an entry of it is damaged."
        });
    }
    html! {
        { part!(Empty { icon: Icon::Find, title: "Nothing is here", text: "This job or page is not on this phone. If it is on another, save a copy there and open it here.", children: html! { <>
            { part!(Button { label: "All jobs", href: "#/" }) }
        </> } }) }
    }
}
