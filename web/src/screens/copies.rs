//! Copies on the screens: saving one and what it lacks by now, opening one, the examples, and the
//! end of a job with the offer of a last copy.
use crate::part;
use countback_core::words::plural;
use yew::prelude::*;

use crate::app::{Desk, Leaving, Saving};
use crate::kit::{
    Banner, BannerKind, Button, ButtonFace, ButtonKind, Icon, ListRow, Readiness, Rows, Section,
    Sheet,
};
use crate::router::{self, Route};

/// A callback that does something with the desk.
fn with(desk: &Desk, act: impl Fn(&Desk) + 'static) -> Callback<()> {
    let desk = desk.clone();
    Callback::from(move |()| act(&desk))
}

/// The copy of a job: how it stands, building it, handing it over, and the person's word that it is
/// kept, which nothing else can tell.
pub fn save(desk: &Desk, job: &AttrValue) -> Html {
    let build = {
        let job = job.clone();
        with(desk, move |desk| desk.build_copy(&job))
    };
    let button = |readiness: Readiness| {
        part!(Button {
            label: "Save a copy",
            icon: Icon::SaveCopy,
            face: ButtonFace::Wide,
            readiness: readiness,
            onpress: build.clone()
        })
    };
    let hand_over = with(desk, Desk::hand_over);
    let (kept, dropped) = (
        with(desk, |desk| desk.end_copy(true)),
        with(desk, |desk| desk.end_copy(false)),
    );
    desk.saving(job, |saving| match saving {
        Saving::Idle => html! {
            <>
                <p class="soft">{ standing(desk, job) }</p>
                { button(Readiness::Ready) }
            </>
        },
        Saving::Building => html! {
            <>
                <p class="soft" role="status">{ "Packing the entries and the pictures." }</p>
                { button(Readiness::Busy) }
            </>
        },
        Saving::Built(copy) if !copy.handed => html! {
            { part!(Banner { kind: if copy.without > 0 { BannerKind::Caution } else { BannerKind::Info }, icon: Icon::SaveCopy, title: "The copy is ready", text: holds(copy.acts, copy.pictures, copy.without, copy.size), children: html! { <>
                { part!(Button { label: "Hand it over", kind: ButtonKind::Main, icon: Icon::Share, onpress: hand_over }) }
                { part!(Button { label: "Not now", kind: ButtonKind::Quiet, onpress: dropped }) }
            </> } }) }
        },
        Saving::Built(_) => html! {
            { part!(Banner { kind: BannerKind::Caution, title: "Is it where you will find it?", text: "The phone does not say whether the file was kept. Look, then say so.", children: html! { <>
                { part!(Button { label: "It is saved", kind: ButtonKind::Main, icon: Icon::Check, onpress: kept }) }
                { part!(Button { label: "Hand it over again", kind: ButtonKind::Quiet, icon: Icon::Share, onpress: hand_over }) }
            </> } }) }
        },
    })
}

/// How the last copy stands.
fn standing(desk: &Desk, job: &str) -> String {
    match desk.since_copy(job) {
        None => "No copy of this job is saved yet.".to_owned(),
        Some(0) => "Every entry is in the last copy.".to_owned(),
        Some(n) => format!("{} since the last copy.", plural(n as u32, "entry")),
    }
}

fn holds(acts: usize, pictures: usize, without: usize, size: usize) -> String {
    let size = match size / 1024 {
        kb @ ..1024 => format!("{} KB", kb + 1),
        kb => format!("{} MB", kb / 1024 + 1),
    };
    let mut said = format!(
        "{} and {}, {size}.",
        plural(acts as u32, "entry"),
        plural(pictures as u32, "picture")
    );
    if without > 0 {
        said.push_str(&format!(
            " {} could not be read and will be missing.",
            plural(without as u32, "picture")
        ));
    }
    said
}

/// What stands under a job's record: the copy, the procedure of a finished job, and deleting it.
pub fn under_record(desk: &Desk, job: &AttrValue, signed: bool) -> Html {
    let to_procedure = {
        let job = job.clone();
        with(desk, move |desk| desk.save_procedure(&job))
    };
    let leave = {
        let job = job.clone();
        with(desk, move |desk| desk.leave(&job, Leaving::Stay))
    };
    html! {
        <>
            { save(desk, job) }
            if signed {
                { part!(Button { label: "Make a procedure of this job", icon: Icon::Procedure, face: ButtonFace::Wide, onpress: to_procedure }) }
                <p class="soft">{ "A file with the parts, fasteners and order, without names, times, photos and notes. New jobs on this phone can start from it as it is." }</p>
            }
            { part!(Button { label: "Delete this job", kind: ButtonKind::Danger, icon: Icon::Close, face: ButtonFace::Wide, onpress: leave }) }
            if desk.leaving(job) {
                { sure(desk, job) }
            }
        </>
    }
}

/// What would be lost, asked once.
fn sure(desk: &Desk, job: &AttrValue) -> Html {
    let acts = desk
        .read(job, |book| book.journal().len())
        .unwrap_or_default();
    let goes = format!(
        "{} and {} go from this phone, and nothing brings them back but a copy.",
        plural(acts as u32, "entry"),
        plural(desk.pictures(job) as u32, "picture")
    );
    let answer = |answer: Leaving| {
        let job = job.clone();
        with(desk, move |desk| {
            desk.leave(&job, answer);
            router::close_sheet();
        })
    };
    html! {
        { part!(Sheet { title: "Delete this job?", onclose: with(desk, Desk::left), foot: html! { <>
            if desk.since_copy(job) != Some(0) {
                { part!(Button { label: "Save a copy first", icon: Icon::SaveCopy, face: ButtonFace::Wide, onpress: answer(Leaving::Copy) }) }
            }
            { part!(Button { label: "Delete it", kind: ButtonKind::Danger, face: ButtonFace::Wide, onpress: answer(Leaving::Delete) }) }
        </> }, children: html! { <>
            <p>{ goes }</p>
            <p class="strong">{ standing(desk, job) }</p>
        </> } }) }
    }
}

/// Opening a copy or a procedure from a file.
pub fn open(desk: &Desk) -> Html {
    let press = with(desk, |desk| {
        desk.open_file(Callback::from(|_| router::go(&Route::NewJob)));
    });
    let readiness = match desk.is_opening() {
        true => Readiness::Busy,
        false => Readiness::Ready,
    };
    part!(Button {
        label: "Open a saved copy",
        icon: Icon::OpenFile,
        face: ButtonFace::Wide,
        readiness: readiness,
        onpress: press
    })
}

/// The examples: a button, then the list of them once it is fetched.
pub fn examples(desk: &Desk, kind: ButtonKind) -> Html {
    let Some(demos) = desk.demos() else {
        return part!(Button {
            label: "Look at an example",
            icon: Icon::Eye,
            kind: kind,
            face: ButtonFace::Wide,
            onpress: with(desk, Desk::load_demos)
        });
    };
    html! {
        { part!(Section { title: "Examples", children: html! { <>
            { part!(Rows { label: "Examples", children: html! { <>
                { for demos.jobs.iter().map(|demo| {
                    let press = {
                        let demo = demo.clone();
                        with(desk, move |desk| desk.open_demo(&demo))
                    };
                    html! { { part!(ListRow { what: demo.title.clone(), lies: demo.words.clone(), lead: Icon::Job, onpress: press }) } }
                }) }
            </> } }) }
        </> } }) }
    }
}
