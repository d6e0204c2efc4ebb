//! The page's side of the service worker: registers it, says when everything
//! is kept for use with no network, says when a new version waits, and hands
//! over to that version when the person accepts it. It never updates by
//! itself, and no data of the user goes through here.

use super::{js, marks};
use js_sys::{Array, Object, Promise, Reflect};
use std::cell::Cell;
use std::rc::Rc;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::{
    MessageChannel, MessageEvent, RegistrationOptions, ServiceWorker, ServiceWorkerContainer,
    ServiceWorkerRegistration, ServiceWorkerState, ServiceWorkerUpdateViaCache,
};

/// What the worker has to tell.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum WorkerNews {
    /// The active worker has read every file of the app again and each is
    /// what the build made: from now on no network is needed.
    ReadyOffline,
    /// Files that could not be kept; the app works only with a network.
    Incomplete { missing: Vec<String> },
    /// A new version is whole and waits for [`accept_update`].
    UpdateWaiting,
    /// Another tab accepted an update: this page is of the old version and
    /// must be loaded again before it needs another file.
    Replaced,
    /// There will be no offline use, and why.
    Fault(WorkerFault),
}

/// Why there is no worker.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum WorkerFault {
    /// The browser has none here: private mode, or a page without HTTPS.
    Unsupported,
    /// This build was put up without a worker.
    NotInBuild,
    /// The browser refused; the name is the error's, such as
    /// `SecurityError`.
    Refused { name: String },
    /// No new version waits.
    NothingWaiting,
    /// The old version is still in office; the new one comes when the app is
    /// opened after it was closed everywhere.
    NotGivenWay,
}

/// Registers the worker and calls `tell` with every piece of news for as
/// long as the page lives.
pub fn watch(tell: impl Fn(WorkerNews) + 'static) {
    let tell: Tell = Rc::new(tell);
    spawn_local(async move {
        if let Err(fault) = follow(&tell).await {
            tell(WorkerNews::Fault(fault));
        }
    });
}

/// Hands over to the version that waits and loads the page again, once. Save
/// drafts before calling this.
///
/// # Errors
/// [`WorkerFault::NothingWaiting`], [`WorkerFault::NotGivenWay`], or why there
/// is no worker at all. Where all goes well it ends with the page.
pub async fn accept_update() -> Result<(), WorkerFault> {
    let container = container()?;
    let registration: ServiceWorkerRegistration =
        JsFuture::from(container.ready().map_err(refused)?)
            .await
            .map_err(refused)?
            .unchecked_into();
    at_rest().await;
    let waiting = registration.waiting().ok_or(WorkerFault::NothingWaiting)?;
    HANDING_OVER.with(|flag| flag.set(true));
    let reloaded = Rc::new(Cell::new(false));
    let reload = move || {
        if !reloaded.replace(true)
            && let Some(window) = web_sys::window()
        {
            let _ = window.location().reload();
        }
    };
    // A page that was loaded past the worker gets no change of controller,
    // so the new worker's own state counts too.
    listen(&container, "controllerchange", reload.clone());
    let worker = waiting.clone();
    listen(&waiting, "statechange", move || {
        if worker.state() == ServiceWorkerState::Activated {
            reload();
        }
    });
    waiting
        .post_message(&message("skip", None))
        .map_err(refused)?;
    js::sleep(REST_MS).await;
    Err(WorkerFault::NotGivenWay)
}

type Tell = Rc<dyn Fn(WorkerNews)>;

thread_local! {
    /// Set once this page itself has accepted an update.
    static HANDING_OVER: Cell<bool> = const { Cell::new(false) };
    /// Set while the old worker reads its files again.
    static VERIFYING: Cell<bool> = const { Cell::new(false) };
}

/// How long the old worker is given to come to rest, in ms.
const REST_MS: i32 = 10_000;

/// Waits until the old worker rests. A worker that is told to give way in the
/// middle of its work was seen to stay in office for minutes.
async fn at_rest() {
    let mut waited = 0;
    while VERIFYING.get() && waited < REST_MS {
        const STEP_MS: i32 = 50;
        js::sleep(STEP_MS).await;
        waited += STEP_MS;
    }
}

async fn follow(tell: &Tell) -> Result<(), WorkerFault> {
    let container = container()?;
    let build = Build::read().ok_or(WorkerFault::NotInBuild)?;
    watch_replacement(&container, tell);

    let options = RegistrationOptions::new();
    options.set_update_via_cache(ServiceWorkerUpdateViaCache::None);
    let promise = container.register_with_options(&build.worker, &options);
    let registered = JsFuture::from(promise).await.map_err(refused)?;
    if !registered.is_object() {
        // Where workers are switched off, some browsers answer nothing.
        return Err(WorkerFault::Unsupported);
    }
    let registration: ServiceWorkerRegistration = registered.unchecked_into();
    watch_updates(&registration, tell);

    JsFuture::from(container.ready().map_err(refused)?)
        .await
        .map_err(refused)?;
    let Some(active) = registration.active() else {
        return Ok(());
    };
    VERIFYING.set(true);
    let verified = verify(&active).await;
    VERIFYING.set(false);
    marks::mark("worker:verified");
    let missing = verified.map_err(refused)?;
    if !missing.is_empty() {
        tell(WorkerNews::Incomplete { missing });
        return Ok(());
    }
    if container.controller().is_none() {
        // First visit: be served from the cache from now on. The worker
        // grants it only to a page of its own build.
        active
            .post_message(&message("claim", Some(&build.id)))
            .map_err(refused)?;
    }
    tell(WorkerNews::ReadyOffline);
    Ok(())
}

fn watch_updates(registration: &ServiceWorkerRegistration, tell: &Tell) {
    if registration.waiting().is_some() && registration.active().is_some() {
        tell(WorkerNews::UpdateWaiting);
    }
    let watched = registration.clone();
    let tell = Rc::clone(tell);
    listen(registration, "updatefound", move || {
        let Some(installing) = watched.installing() else {
            return;
        };
        let (registration, worker) = (watched.clone(), installing.clone());
        let tell = Rc::clone(&tell);
        listen(&installing, "statechange", move || {
            let is_update = registration.active().is_some();
            if is_update && worker.state() == ServiceWorkerState::Installed {
                tell(WorkerNews::UpdateWaiting);
            }
        });
    });
}

fn watch_replacement(container: &ServiceWorkerContainer, tell: &Tell) {
    let was_controlled = Cell::new(container.controller().is_some());
    let tell = Rc::clone(tell);
    listen(container, "controllerchange", move || {
        // The first controller of a first visit replaces nothing.
        let replaced = was_controlled.replace(true);
        if replaced && !HANDING_OVER.with(Cell::get) {
            tell(WorkerNews::Replaced);
        }
    });
}

/// Has the worker read every file again; the addresses it lacks.
async fn verify(worker: &ServiceWorker) -> Result<Vec<String>, JsValue> {
    let channel = MessageChannel::new()?;
    let answer = Promise::new(&mut |resolve, _reject| {
        let heard = Closure::once_into_js(move |event: MessageEvent| {
            let _ = resolve.call1(&JsValue::UNDEFINED, &event.data());
        });
        channel.port1().set_onmessage(Some(heard.unchecked_ref()));
    });
    let ports = Array::of1(&channel.port2());
    worker.post_message_with_transferable(&message("verify", None), &ports)?;
    let report = JsFuture::from(answer).await?;
    let missing = Reflect::get(&report, &"missing".into())?;
    Ok(Array::from(&missing)
        .iter()
        .filter_map(|address| address.as_string())
        .collect())
}

/// What the page knows of its own build; boot.js puts it there.
struct Build {
    id: String,
    worker: String,
}

impl Build {
    fn read() -> Option<Self> {
        let config = Reflect::get(&js_sys::global(), &"countback".into()).ok()?;
        let text = |key: &str| Reflect::get(&config, &key.into()).ok()?.as_string();
        Some(Self {
            id: text("build")?,
            worker: text("worker")?,
        })
    }
}

fn container() -> Result<ServiceWorkerContainer, WorkerFault> {
    let navigator = web_sys::window()
        .ok_or(WorkerFault::Unsupported)?
        .navigator();
    // Where there is none the property is missing, whatever its type says.
    match Reflect::get(&navigator, &"serviceWorker".into()) {
        Ok(container) if container.is_object() => Ok(container.unchecked_into()),
        _ => Err(WorkerFault::Unsupported),
    }
}

fn message(kind: &str, build: Option<&str>) -> JsValue {
    let message = Object::new();
    let _ = Reflect::set(&message, &"kind".into(), &kind.into());
    if let Some(build) = build {
        let _ = Reflect::set(&message, &"build".into(), &build.into());
    }
    message.into()
}

/// Listens for as long as the page lives.
fn listen(target: &web_sys::EventTarget, event: &str, act: impl FnMut() + 'static) {
    let act = Closure::<dyn FnMut()>::new(act);
    let _ = target.add_event_listener_with_callback(event, act.as_ref().unchecked_ref());
    act.forget();
}

fn refused(error: JsValue) -> WorkerFault {
    let name = Reflect::get(&error, &"name".into())
        .ok()
        .and_then(|name| name.as_string())
        .unwrap_or_else(|| "Error".to_owned());
    WorkerFault::Refused { name }
}
