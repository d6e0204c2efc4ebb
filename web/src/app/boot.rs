//! The start: storage opened and compared with what it should hold, the job at
//! hand read first, the others after it, the worker watched.
use futures_channel::oneshot;
use wasm_bindgen_futures::spawn_local;

use super::desk::{Desk, Stage};
use crate::ports::lock::{JobLock, JobNews, LockFault};
use crate::ports::store::{BrowserStore, DATABASE, First, Opening, StoreEvent};
use crate::ports::{device, panic, persist, photo, second, worker};
use crate::router::{self, Route};
use countback_core::journal::DeviceId;

/// Starts the desk; call once.
pub fn start(desk: &Desk) {
    panic::install(panic::StopNotice {
        title: "Stopped, to keep your record safe".to_owned(),
        body: "The app met a fault of its own. Nothing more is written. Everything that was shown as saved is on this phone.".to_owned(),
        reload: "Reload and go on".to_owned(),
    });
    desk.prefs().show();
    let desk = desk.clone();
    spawn_local(async move { open(desk).await });
}

async fn open(desk: Desk) {
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
    let first = First {
        job: wanted.job().map(|job| &**job),
        setting: Some(device::SETTING),
    };
    let pen = first.job.map(ask_for_pen);
    let opened = match BrowserStore::open(DATABASE, desk.shelf(), first, tell).await {
        Ok(opened) => opened,
        Err(fault) => {
            desk.inner.stage.replace(Stage::Failed(fault));
            return desk.changed();
        }
    };
    opened.store.probe_when_visible();
    let store = opened.store.clone();
    desk.inner.store.replace(Some(opened.store));
    desk.inner.standing.borrow_mut().opening = Some(opened.opening.clone());
    match device::device_id(&store, opened.setting).await {
        Ok(id) => desk.inner.device.set(DeviceId(id)),
        Err(fault) => desk.not_kept(fault),
    }
    if goes_back && !matches!(opened.opening, Opening::FirstRun) {
        router::replace(&kept);
    }
    let heads = opened.heads;
    if let (Some(job), Some(pen)) = (first.job, pen)
        && heads.iter().any(|h| h.job == job)
    {
        if let Err(fault) = desk.fold_rows(job, &opened.rows) {
            desk.not_kept(fault);
        }
        if let Ok(answer) = pen.await {
            desk.hold_pen(job, answer);
        }
    }
    desk.inner.stage.replace(Stage::Ready);
    say_what_happened(&desk);
    desk.changed();
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
    for head in heads {
        let loaded = desk.inner.jobs.borrow().contains_key(&head.job);
        if !loaded && let Err(fault) = desk.load(&head.job).await {
            desk.note(super::NoticeKind::Fault, super::faults::store(&fault), None);
        }
    }
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
            desk.away(since);
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
