//! What is this bolt? Measurements by chips and steppers; the threads and the
//! places it may be from follow each tap. It is logged as found, or said to be
//! of a place; never given to one by itself.
use crate::part;
mod kept;
mod measure;
mod place;

use countback_core::fastener::identify::Measured;
use countback_core::job::{Command, Job};
use countback_core::journal::*;
use countback_core::view::{self, StrayRow, WhatBolt};
use countback_core::words::plural;
use yew::prelude::*;

use super::{OfJob, lost};
use crate::app::{Desk, the_desk};
use crate::kit::{
    Button, ButtonFace, ButtonKind, Chip, Empty, Icon, ListRow, MainAct, Page, Rows, Section,
    Standing, State, StateTag, use_local,
};
use crate::router::Route;

#[hook]
pub fn use_what_bolt(props: &OfJob) -> Html {
    let desk = the_desk();
    let job = props.job.clone();
    let kept = use_local(|| {
        let text = desk.typed(&kept::key(&job)).unwrap_or_default();
        kept::Entry::from_text(&text)
    });
    let found = use_local(|| kept.found);
    let place = use_local(|| kept.place.clone());
    // The places are shown rather than the measurements.
    let look = use_local(|| false);
    // The stray that is being measured, when it is logged already.
    let stray = use_local(|| {
        kept.stray
            .as_ref()
            .and_then(|id| id.parse::<StrayId>().ok())
    });
    let entry = kept::Entry {
        found: *found,
        place: (*place).clone(),
        stray: stray.map(|id| id.to_string()),
    };
    {
        let desk = desk.clone();
        use_effect_with((job.clone(), entry), move |(job, entry)| {
            desk.keep_typed(&kept::key(job), &entry.to_text());
        });
    }
    let system = super::sizes::use_system(&desk, &job);
    let keys = desk.jobs_with(&job, Job::may_share_with);
    if keys.is_empty() {
        return lost();
    }
    let answer = ask_all(&desk, &job, &keys, |jobs| view::what_bolt(&found, jobs));
    let logged = desk
        .read(&job, |book| view::strays(book.job()))
        .unwrap_or_default();
    let chosen = (*stray).filter(|id| logged.iter().any(|s| s.id == *id));
    let set = {
        let found = found.clone();
        Callback::from(move |m: Measured| found.set(m))
    };
    let take = {
        let (found, stray, place) = (found.clone(), stray.clone(), place.clone());
        Callback::from(move |row: Option<StrayRow>| {
            let known = row.as_ref().map(|r| view::measured_again(&r.spec));
            found.set(known.unwrap_or_default());
            place.set(row.as_ref().map(|r| r.place.clone()).unwrap_or_default());
            stray.set(row.map(|r| r.id));
        })
    };
    let told = place::Told {
        keys: keys.clone(),
        spec: answer.spec.clone(),
        place: (*place).clone(),
        stray: chosen,
        matching: answer.matching.clone(),
        after: take.reform(|()| None),
    };
    let act = if chosen.is_some() {
        let none = match told.since(&desk, 0) {
            Some(_) => "None of these: keep what was measured",
            None => "None of these: it stays as found",
        };
        html! { { part!(MainAct { children: html! { <>
            { part!(Button { label: none, face: ButtonFace::Wide, icon: Icon::Help, onpress: told.keep(&desk) }) }
            { part!(Button { label: "Not of any job here", kind: ButtonKind::Quiet, onpress: told.settle(&desk) }) }
        </> } }) } }
    } else {
        html! { { part!(MainAct { children: html! { <>
            { part!(Button { label: "Log it as found, origin unknown", kind: ButtonKind::Main, icon: Icon::Check, onpress: told.log(&desk) }) }
        </> } }) } }
    };
    html! {
        { part!(Page { title: "What is this bolt?", back: Route::Audit { job: job.clone() }, act: act, children: html! { <>
            { so_far(&answer, &look) }
            if *look {
                { places(&desk, &job, &answer, &told) }
            } else {
                { waiting(&logged, chosen, &take) }
                { measure::readings(&desk, &job, &found, answer.ask_taper, system, &set) }
                { measure::turned_up(&place) }
            }
        </> } }) }
    }
}

/// Reads all open jobs, the one at hand first.
fn ask_all<R>(desk: &Desk, job: &str, keys: &[String], ask: impl Fn(&[&Job]) -> R) -> R {
    let answer = desk.read_all(job, |book, others| {
        let mut jobs: Vec<&Job> = vec![book.job()];
        let rest = keys.iter().skip(1);
        jobs.extend(rest.filter_map(|k| others.iter().find(|(o, _)| o == k).map(|(_, j)| *j)));
        ask(&jobs)
    });
    answer.unwrap_or_else(|| ask(&[]))
}

/// Where it stands: stays in sight while one measures.
fn so_far(answer: &WhatBolt, look: &State<bool>) -> Html {
    let state = match (answer.head.is_empty(), answer.sure) {
        (true, _) => Standing::Waiting,
        (_, true) => Standing::Settled,
        _ => Standing::Owed,
    };
    let turn = |label: String, to: bool| {
        let set = look.clone();
        part!(Chip {
            label: label,
            pressed: **look == to,
            onpress: Callback::from(move |()| set.set(to))
        })
    };
    html! {
        <section class="so-far" aria-live="polite">
            if answer.head.is_empty() {
                <p class="sum-line">{ answer.spec.label() }</p>
            } else {
                { part!(StateTag { state: state, word: answer.head.clone() }) }
            }
            if !answer.sure && answer.threads.len() > 1 {
                <p class="soft">{ format!("Or {}", answer.threads.iter().skip(1).map(|t| format!("{} ({})", t.label, t.share)).collect::<Vec<_>>().join(", ")) }</p>
            }
            <p class="strong">{ answer.next.clone() }</p>
            <div class="chips__row">
                { turn("Measure".to_owned(), false) }
                { turn(plural(answer.n_places, "place"), true) }
            </div>
        </section>
    }
}

fn places(desk: &Desk, job: &AttrValue, answer: &WhatBolt, told: &place::Told) -> Html {
    let rows = answer.places.iter().map(|p| {
        let (state, owed) = match p.short {
            0 => (Standing::Off, "none missing there".to_owned()),
            n => (Standing::Owed, format!("{n} missing there")),
        };
        let other = (!p.other_job.is_empty()).then(|| AttrValue::from(format!("in {}", p.other_job)));
        part!(ListRow { what: p.text.clone(), lead: Icon::Bolt, lies: other, state: state, owed: owed, children: html! { <>
            { part!(Button { label: "It is from here", about: p.text.clone(), icon: Icon::Check, onpress: told.belongs(desk, p) }) }
        </> } })
    });
    html! {
        { part!(Section { title: "It may be from", count: answer.n_places.to_string(), children: html! { <>
            if answer.places.is_empty() {
                { part!(Empty { icon: Icon::Find, title: "No place in any open job yet.", text: "Measure more, or log it as found: it stays owed until its place is known." }) }
            } else {
                <p class="soft">{ "Those that miss one come first. Nothing is given to a place by itself." }</p>
                if answer.n_places as usize > answer.places.len() {
                    <p class="soft">{ format!("The first {} of them stand here: measure more, and there are fewer.", answer.places.len()) }</p>
                }
                { part!(Rows { label: "It may be from", children: html! { <>{ for rows }</> } }) }
            }
            { part!(Button { label: "Find by tag or words", kind: ButtonKind::Quiet, icon: Icon::Find, href: Route::Find { job: job.clone() }.href() }) }
        </> } }) }
    }
}

/// Strays that are logged and not settled.
fn waiting(rows: &[StrayRow], chosen: Option<StrayId>, take: &Callback<Option<StrayRow>>) -> Html {
    if rows.is_empty() {
        return html! {};
    }
    html! {
        { part!(Section { title: "Found earlier, still unknown", count: rows.len().to_string(), children: html! { <>
            { part!(Rows { label: "Found earlier, still unknown", children: html! { <>
                { for rows.iter().map(|row| {
                    let this = chosen == Some(row.id);
                    let picked = row.clone();
                    let press = take.reform(move |()| Some(picked.clone()));
                    part!(ListRow { what: row.text.clone(), lead: Icon::Bolt, state: Standing::Owed, owed: if this { "being measured" } else { "where does it belong?" }, children: html! { <>
                        if !this { { part!(Button { label: "Identify it", about: row.text.clone(), icon: Icon::Ruler, onpress: press }) } }
                    </> } })
                }) }
            </> } }) }
        </> } }) }
    }
}

/// An act of the record.
fn record(act: Act) -> Command {
    Command::Record(act)
}
