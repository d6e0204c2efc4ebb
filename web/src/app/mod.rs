//! The root of the app: the desk, the routes and the frame around each screen.
use crate::part;
mod at_work;
mod boot;
mod copies;
mod deeds;
mod desk;
pub mod faults;
mod prefs;
mod undo;
mod unsaved;

pub use copies::{Leaving, Saving};
pub use desk::{Along, Desk, Notice, NoticeKind, Pen, Stage, Standing, Told};
pub use prefs::{Hand, MyWrench, Prefs, Theme};
pub use undo::{undo_button, undo_mark};
pub use unsaved::Unsaved;

use countback_core::view::WaysOn;
use gloo::timers::callback::Timeout;
use std::cell::{Cell, RefCell};
use std::rc::Rc;
use web_sys::Element;
use yew::functional::Hook;
use yew::prelude::*;

use crate::kit::{
    Banner, BannerKind, Button, ButtonFace, ButtonKind, ErrorState, LiveRegion, Loading, NavBar,
    Shell, Toast, local, use_local,
};
use crate::ports::store::Fault;
use crate::ports::width;
use crate::ports::worker::WorkerFault;
use crate::router::{self, Route};
use crate::screens;

thread_local! {
    static DESK: RefCell<Option<Desk>> = const { RefCell::new(None) };
}

/// The desk as it is now, for any screen.
pub fn the_desk() -> Desk {
    DESK.with(|desk| desk.borrow_mut().get_or_insert_with(Desk::at_start).clone())
}

/// Reads what is stored, and then puts the app into `place`: it is drawn once,
/// with the job at hand on it. Where reading takes long, it is drawn before.
pub fn begin(place: Element) {
    let waiting = Rc::new(Cell::new(Some(place)));
    let draw = move || {
        if let Some(place) = waiting.take() {
            yew::Renderer::<App>::with_root(place).render();
        }
    };
    Timeout::new(SLOW_MS, draw.clone()).forget();
    boot::start(&the_desk(), draw);
}

/// After so long, in ms, the screen says that the jobs are being read.
const SLOW_MS: u32 = 2_000;

/// The app. It is drawn anew, and with it whatever it shows, when the desk
/// has changed.
#[component]
pub fn App() -> Html {
    let redraw = use_force_update();
    let drawn = the_desk().revision_now();
    use_effect_with((), move |()| {
        let desk = the_desk();
        desk.inner.redraw.replace(Callback::from(move |revision| {
            let now = the_desk().at_revision(revision);
            DESK.with(|desk| desk.replace(Some(now)));
            redraw.force_update();
        }));
        // Whatever changed while it was being drawn for the first time.
        if desk.revision_now() != drawn {
            desk.changed();
        }
    });
    frame()
}

fn frame() -> Html {
    local("frame", |ctx| Hook::run(use_frame(), ctx))
}

/// What stands around every screen: the bar, the notices, the news.
#[hook]
fn use_frame() -> Html {
    let desk = the_desk();
    let remember = {
        let desk = desk.clone();
        // Not before the start has read where the person was.
        let ready = desk.stage() == Stage::Ready;
        use_callback(ready, move |route: Route, ready: &bool| {
            if *ready {
                desk.remember_route(&route)
            }
        })
    };
    let route = router::use_route(&remember);
    let job = route.job().cloned();
    {
        let desk = desk.clone();
        let ready = desk.stage() == Stage::Ready;
        use_effect_with((job.clone(), ready), move |(job, ready)| {
            if let (Some(job), true) = (job.clone(), *ready) {
                desk.is_in(&job);
                wasm_bindgen_futures::spawn_local(async move { desk.take_pen(&job).await });
            }
        });
    }
    {
        let (desk, job) = (desk.clone(), job.clone());
        use_effect_with(route.clone(), move |_| desk.came_to(job.as_ref()));
    }
    let wide = use_local(width::wide);
    {
        let wide = wide.clone();
        use_effect_with((), move |()| {
            let watch = width::watch(move || wide.set(width::wide()));
            move || drop(watch)
        });
    }
    let page = match desk.stage() {
        Stage::Loading => html! { { part!(Loading { what: "your jobs" }) } },
        Stage::Failed(fault) => html! {
            { part!(ErrorState { title: "Your jobs cannot be read", text: faults::store(&fault), onretry: Callback::from(|()| reload()) }) }
        },
        Stage::Ready if *wide => screens::beside(&route),
        Stage::Ready => screens::show(&route),
    };
    let job = job.filter(|job| desk.read(job, |_| ()).is_some());
    let undo = job
        .as_ref()
        .filter(|_| !route.has_an_undo_of_its_own())
        .and_then(|job| undo_button(job, "Undo the last entry", ButtonKind::Plain));
    let nav = job.map(|job| {
        html! { { part!(NavBar { job, current: route.tab() }) } }
    });
    html! {
        { part!(Shell { nav: nav, undo: undo, children: html! { <>
            { news() }
            { page }
            { notices() }
            { undo::asked() }
        </> } }) }
    }
}

/// The last act, with its undo; refusals and faults.
fn notices() -> Html {
    let desk = the_desk();
    let Some(notice) = desk.notice() else {
        return html! { { part!(LiveRegion { message: "" }) } };
    };
    let end = {
        let (desk, serial) = (desk.clone(), notice.serial);
        Callback::from(move |()| desk.end_notice(serial))
    };
    let undo = notice.undo.clone().map(|(job, event)| {
        let desk = desk.clone();
        Callback::from(move |()| desk.tell(&job, countback_core::job::Command::Strike { event }))
    });
    let text = AttrValue::from(notice.text.clone());
    let shown = match (notice.text.is_empty(), notice.kind) {
        (true, _) => html! {},
        (false, NoticeKind::Saved) => html! {
            { part!(Toast { message: text.clone(), serial: notice.serial, onundo: undo, onend: end }) }
        },
        (false, kind) => html! {
            <div class="toast toast--stays" role={(kind == NoticeKind::Refused).then_some("alert")} key={notice.serial}>
                { part!(Banner { title: text.clone(), kind: match kind { NoticeKind::Refused => BannerKind::Caution, _ => BannerKind::Danger }, children: html! { <>
                    if let Some(ways) = &notice.ways { { ways_on(&desk, ways, &end) } }
                    { part!(Button { label: "Read", kind: ButtonKind::Quiet, onpress: end }) }
                </> } }) }
            </div>
        },
    };
    html! {
        <>
            { part!(LiveRegion { message: text, serial: notice.serial }) }
            { shown }
        </>
    }
}

/// What can be done about a refusal.
#[inline(never)]
fn ways_on(desk: &Desk, (job, ways): &(String, WaysOn), end: &Callback<()>) -> Html {
    let go = ways.go.clone().map(|(label, part)| {
        let route = Route::PutBackPart {
            job: job.clone().into(),
            part: part.to_string().into(),
        };
        let end = end.clone();
        let press = Callback::from(move |()| {
            end.emit(());
            router::go(&route);
        });
        part!(Button {
            label: label,
            face: ButtonFace::Wide,
            onpress: press
        })
    });
    let (anyway, command) = ways.anyway.clone();
    let tell = {
        let (desk, job) = (desk.clone(), job.clone());
        Callback::from(move |()| desk.tell(&job, command.clone()))
    };
    html! { <>
        { go.unwrap_or_default() }
        { part!(Button { label: anyway, face: ButtonFace::Wide, onpress: tell }) }
    </> }
}

/// News about the app: lost entries, no storage, another tab, an update.
fn news() -> Html {
    let desk = the_desk();
    let standing = desk.standing();
    let job = router::current().job().cloned();
    let elsewhere = job.as_ref().is_some_and(|job| desk.reads_only(job));
    let lost = match &standing.opening {
        Some(crate::ports::store::Opening::Lost { jobs }) => Some(jobs.clone()),
        _ => None,
    };
    html! {
        <div class="news">
            if let Some(jobs) = lost {
                { part!(Banner { kind: BannerKind::Danger, title: "Entries are missing on this phone", text: {format!("{} that were saved here are not there any more. Open your saved copy of the job; nothing was deleted by the app.",
                        countback_core::words::plural(jobs.iter().map(|j| j.missing.max(1)).sum(), "entry"))}, children: html! { <>
                    { part!(Button { label: "Open a saved copy", href: "#/" }) }
                    { part!(Button { label: "I have read it", kind: ButtonKind::Quiet, onpress: { let desk = desk.clone(); Callback::from(move |()| desk.accept_loss()) } }) }
                </> } }) }
            }
            if !standing.unread.is_empty() {
                { part!(Banner { kind: BannerKind::Danger, title: countback_core::words::unread(standing.unread.len() as u32), text: "An entry of it is damaged. Open your saved copy: it is put right with all that can still be read here. Nothing was deleted.", children: html! { <>
                    { part!(Button { label: "Open a saved copy", href: "#/" }) }
                </> } }) }
            }
            if let Some(fault) = &standing.unkept {
                { part!(Banner { kind: BannerKind::Danger, title: if matches!(fault, Fault::NewerVersion) { "Nothing new is saved here" } else { "Nothing is kept here" }, text: faults::store(fault) }) }
            }
            if standing.connection_lost {
                { part!(Banner { kind: BannerKind::Danger, title: "The storage was taken away", text: "What is on the screen is still in memory. Save a copy to a file, then reload." }) }
            }
            if elsewhere {
                { part!(Banner { kind: BannerKind::Info, title: "Open in another tab", text: "This tab only reads until the other is closed." }) }
            }
            if standing.reload_wanted {
                { part!(Banner { kind: BannerKind::Info, title: "A new version has taken over", children: html! { <>
                    { part!(Button { label: "Reload", onpress: Callback::from(|()| reload()) }) }
                </> } }) }
            } else if standing.update_waiting {
                { part!(Banner { kind: BannerKind::Info, title: "A new version is ready", text: "It is whole and waits. Nothing changes until you take it.", children: html! { <>
                    { part!(Button { label: "Take the new version", onpress: Callback::from(|()| take_update()) }) }
                </> } }) }
            }
        </div>
    }
}

/// Hands over to the version that waits; says so when it does not come.
fn take_update() {
    wasm_bindgen_futures::spawn_local(async {
        let desk = the_desk();
        desk.say(NoticeKind::Saved, "The new version is being put in place.");
        // The page is loaded anew before this ends, as a rule.
        let said = match crate::ports::worker::accept_update().await {
            Err(WorkerFault::NothingWaiting) => {
                "No new version waits any more. Load the page anew."
            }
            _ => {
                "The old version has not given way yet. Close the app everywhere and open it again: the new one is then in place."
            }
        };
        desk.say(NoticeKind::Refused, said);
    });
}

/// Loads the page anew.
pub fn reload() {
    if let Some(window) = web_sys::window() {
        let _ = window.location().reload();
    }
}
