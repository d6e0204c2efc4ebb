//! The start: storage opened and compared with what it should hold, the job at
//! hand read first, the others after it, the worker watched.
use futures_channel::oneshot;
use gloo::timers::callback::Timeout;
use js_sys::Promise;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::{JsFuture, spawn_local};

use super::desk::{Desk, Stage};
use super::prefs;
use crate::ports::lock::{JobLock, JobNews, LockFault};
use crate::ports::store::{BrowserStore, DATABASE, First, JobHead, Opening, StoreEvent};
use crate::ports::{device, panic, persist, photo, second, worker};
use crate::router::{self, Route};
use countback_core::journal::DeviceId;

/// Starts the desk and calls `draw` when there is something to show; call once.
pub fn start(desk: &Desk, draw: impl FnOnce() + 'static) {
    panic::install(panic::StopNotice {
        title: "Stopped, to keep your record safe".to_owned(),
        body: "The app met a fault of its own. Nothing more is written. Everything that was shown as saved is on this phone.".to_owned(),
        reload: "Reload and go on".to_owned(),
    });
    desk.prefs().show();
    let desk = desk.clone();
    spawn_local(async move {
        let read = read(&desk).await;
        // Either way: the jobs, or why there are none.
        draw();
        desk.changed();
        if let Some((store, heads)) = read {
            // Yew draws at the end of this turn, and may let the browser show it
            // before the screen's effects have run: it can be used by then.
            let _ = JsFuture::from(Promise::resolve(&JsValue::UNDEFINED)).await;
            can_be_used();
            // The screen is shown before anything else is begun.
            a_turn().await;
            desk.ask_early(&router::current());
            go_on(desk, store, heads).await;
        }
    });
}

/// Reads the job at hand. `None` when nothing can be read; the stage says why.
async fn read(desk: &Desk) -> Option<(BrowserStore, Vec<JobHead>)> {
    let teller = desk.clone();
    let tell = move |event: StoreEvent| {
        {
            let mut standing = teller.inner.standing.borrow_mut();
            match event {
                StoreEvent::ReloadWanted => standing.reload_wanted = true,
                StoreEvent::ConnectionLost => standing.connection_lost = true,
            }
        }
        teller.changed();
    };
    // Where the person was, unless an address says otherwise.
    let at_hand = router::current();
    let kept = Route::parse(&desk.prefs().route);
    let goes_back = at_hand == Route::Jobs && kept != Route::Jobs && !came_here_on_purpose();
    let wanted = if goes_back { &kept } else { &at_hand };
    let first = first_on(wanted);
    let pen = first.job.map(ask_for_pen);
    let opened = match BrowserStore::open(DATABASE, desk.shelf(), first, tell).await {
        Ok(opened) => opened,
        Err(fault) => {
            desk.inner.stage.replace(Stage::Failed(fault));
            return None;
        }
    };
    opened.store.probe_when_visible();
    let store = opened.store.clone();
    desk.inner.store.replace(Some(opened.store));
    desk.inner.standing.borrow_mut().opening = Some(opened.opening.clone());
    let mut settings = opened.settings.into_iter();
    let number = settings.next().flatten();
    let with_act = settings.next().flatten();
    match device::device_id(&store, number).await {
        Ok(id) => desk.inner.device.set(DeviceId(id)),
        Err(fault) => desk.not_kept(fault),
    }
    // The phone died, and what stands beside the database is from before.
    let later = desk.prefs().later_of(with_act.as_deref());
    let died_at = later.map(|prefs| {
        let route = Route::parse(&prefs.route);
        desk.set_prefs(|now| *now = prefs);
        route
    });
    let kept = died_at.as_ref().unwrap_or(&kept);
    let goes_back = at_hand == Route::Jobs && *kept != Route::Jobs && !came_here_on_purpose();
    if goes_back && !matches!(opened.opening, Opening::FirstRun) {
        router::replace(kept);
    }
    let heads = opened.heads;
    if let (Some(job), Some(pen)) = (first.job, pen)
        && heads.iter().any(|h| h.job == job)
    {
        if let Err(fault) = desk.fold_rows(job, &opened.rows) {
            desk.unread(job, &fault);
        }
        if let Ok(answer) = pen.await {
            desk.hold_pen(job, answer);
        }
    }
    if let Some(job) = router::current().job()
        && first.job != Some(&**job)
        && heads.iter().any(|h| h.job == **job)
    {
        if let Err(fault) = desk.load(job).await {
            desk.unread(job, &fault);
        }
        desk.take_pen(job).await;
    }
    if router::current().job().is_none() {
        // A list of some of the jobs would look like a loss.
        load_others(desk, &heads).await;
    }
    desk.inner.stage.replace(Stage::Ready);
    say_what_happened(desk);
    Some((store, heads))
}

/// What a start on this screen reads first.
pub(super) fn first_on(route: &Route) -> First<'_> {
    First {
        job: route.job().map(|job| &**job),
        settings: &[device::SETTING, prefs::WITH_ACT],
    }
}

/// What can wait until the first screen stands: whether anything is kept, the
/// other jobs, the worker.
async fn go_on(desk: Desk, store: BrowserStore, heads: Vec<JobHead>) {
    if let Err(fault) = store.write_and_read_back().await {
        desk.not_kept(fault);
        desk.changed();
    }
    let rest = desk.clone();
    spawn_local(async move {
        second::arrived().await;
        rest.inner.standing.borrow_mut().whole = true;
        rest.changed();
    });
    load_others(&desk, &heads).await;
    let kept = persist::ask().await;
    desk.inner.standing.borrow_mut().kept = Some(kept);
    let hearer = desk.clone();
    let news = JobNews::open(move |job| {
        let desk = hearer.clone();
        spawn_local(async move {
            // A job this tab cannot read stays as it was.
            let _ = desk.load(&job).await;
        });
    });
    desk.inner.news.replace(news);
    desk.changed();
    watch_worker(&desk);
    watch_sight(&desk);
}

/// Says on the page that the first screen stands: boot.js then fetches what is
/// left of the app, and tests begin.
fn can_be_used() {
    if let Some(body) = web_sys::window()
        .and_then(|w| w.document())
        .and_then(|d| d.body())
    {
        let _ = body.set_attribute("data-ready", "true");
    }
}

/// Lets the browser do what it has to before going on.
async fn a_turn() {
    let (tell, told) = oneshot::channel();
    let wake = move || {
        let _ = tell.send(());
    };
    Timeout::new(0, wake).forget();
    let _ = told.await;
}

/// Asks for the right to write to a job, while its acts are being read.
fn ask_for_pen(job: &str) -> oneshot::Receiver<Result<Option<JobLock>, LockFault>> {
    let (tell, told) = oneshot::channel();
    let job = job.to_owned();
    spawn_local(async move {
        // Not heard when there is no such job; the lock is then let go.
        let _ = tell.send(JobLock::take(&job).await);
    });
    told
}

/// Loads the jobs that are not loaded yet.
async fn load_others(desk: &Desk, heads: &[JobHead]) {
    for head in heads {
        let loaded = desk.inner.jobs.borrow().contains_key(&head.job)
            || desk.inner.standing.borrow().unread.contains(&head.job);
        if !loaded && let Err(fault) = desk.load(&head.job).await {
            desk.unread(&head.job, &fault);
        }
    }
}

/// What an earlier life of the page left: a crash, a photo that never came.
fn say_what_happened(desk: &Desk) {
    let shelf = desk.shelf();
    if let Some(shot) = photo::not_arrived(&*shelf) {
        photo::forget_shot(&*shelf);
        let text = format!(
            "The photo of {} did not arrive: the phone closed the app while the camera was open. The entry is still here. Take the photo again.",
            if shot.subject.is_empty() {
                "the part"
            } else {
                &shot.subject
            }
        );
        desk.note(super::NoticeKind::Fault, text, None);
    } else if panic::last_crash().is_some() {
        panic::forget();
        let text = "The app stopped itself last time, to keep your record safe. Everything shown as saved is here.";
        desk.note(super::NoticeKind::Fault, text.to_owned(), None);
    }
}

/// Hears when the app goes out of sight, for the interruption guard.
fn watch_sight(desk: &Desk) {
    let desk = desk.clone();
    crate::ports::sight::watch(move |hidden| {
        if hidden {
            let now = desk.now();
            desk.inner.hidden_at.set(Some(now));
        } else if let Some(since) = desk.inner.hidden_at.take() {
            desk.away(since, desk.now());
        }
    });
}

/// Whether the address was typed or followed, rather than the app being opened.
fn came_here_on_purpose() -> bool {
    !router::current_hash().is_empty() && router::current_hash() != "/"
}

fn watch_worker(desk: &Desk) {
    let desk = desk.clone();
    worker::watch(move |news| {
        {
            let mut standing = desk.inner.standing.borrow_mut();
            match news {
                worker::WorkerNews::ReadyOffline => standing.offline = true,
                worker::WorkerNews::Incomplete { .. } => standing.offline = false,
                worker::WorkerNews::UpdateWaiting => standing.update_waiting = true,
                worker::WorkerNews::Replaced => standing.reload_wanted = true,
                worker::WorkerNews::Fault(_) => {}
            }
        }
        desk.changed();
    });
}
