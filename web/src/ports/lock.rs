//! One writer per job over all tabs, and the news that a job was written.
//! The lock is held by the browser: it is freed when a tab closes or crashes.

use std::cell::RefCell;

use futures_channel::oneshot;
use js_sys::{Function, Promise};
use wasm_bindgen::{JsCast, JsValue, closure::Closure};
use web_sys::{BroadcastChannel, MessageEvent};

use super::js;

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LockFault {
    /// This browser has no locks. The store still refuses a second writer, but only at the write.
    Unavailable,
    /// By the name of the browser's error.
    Refused { name: String },
}

/// The right to write to one job, until dropped.
#[derive(Debug)]
pub struct JobLock {
    job: String,
    release: Function,
}

impl JobLock {
    /// Takes the lock if no other tab holds it; `None` when one does.
    pub async fn take(job: &str) -> Result<Option<JobLock>, LockFault> {
        request(job, &js::object([("ifAvailable", true.into())])).await
    }

    /// Waits until the tab that holds it lets go.
    pub async fn wait(job: &str) -> Result<JobLock, LockFault> {
        let given = request(job, &js::object([])).await?;
        given.ok_or_else(|| LockFault::Refused {
            name: "NoLock".into(),
        })
    }

    pub fn job(&self) -> &str {
        &self.job
    }
}

impl Drop for JobLock {
    fn drop(&mut self) {
        let _ = self.release.call0(&JsValue::UNDEFINED);
    }
}

async fn request(job: &str, options: &JsValue) -> Result<Option<JobLock>, LockFault> {
    let navigator = js::window().ok_or(LockFault::Unavailable)?.navigator();
    let locks = js::get(&navigator, "locks").ok_or(LockFault::Unavailable)?;
    let (tell, given) = oneshot::channel();
    // The browser holds the lock until the promise returned here is resolved.
    let hold = Closure::once_into_js(move |lock: JsValue| -> JsValue {
        if lock.is_null() || lock.is_undefined() {
            let _ = tell.send(None);
            return JsValue::UNDEFINED;
        }
        let mut release = None;
        let held = Promise::new(&mut |resolve, _| release = Some(resolve));
        match tell.send(release) {
            Ok(()) => held.into(),
            // Nobody waits for it any more: let go at once.
            Err(_) => JsValue::UNDEFINED,
        }
    });
    let name = format!("countback.job.{job}").into();
    let asked =
        js::call_now(&locks, "request", &[name, options.clone(), hold]).map_err(|error| {
            LockFault::Refused {
                name: js::error_name(&error),
            }
        })?;
    // The request's own promise lasts as long as the lock: only its refusal is of interest.
    let (refuse, refused) = oneshot::channel();
    let refuse = RefCell::new(Some(refuse));
    let on_refusal = Closure::<dyn FnMut(JsValue)>::new(move |error: JsValue| {
        if let Some(refuse) = refuse.borrow_mut().take() {
            let _ = refuse.send(js::error_name(&error));
        }
    });
    if let Some(promise) = asked.dyn_ref::<Promise>() {
        let _ = promise.catch(&on_refusal);
    }
    let job = job.to_owned();
    match first(given, refused).await {
        Ok(release) => Ok(release.map(|release| JobLock { job, release })),
        Err(name) => Err(LockFault::Refused { name }),
    }
    .inspect(|_| on_refusal.forget())
}

async fn first<T>(
    mut given: oneshot::Receiver<T>,
    mut refused: oneshot::Receiver<String>,
) -> Result<T, String> {
    use std::{future::Future, pin::Pin, task::Poll};
    std::future::poll_fn(move |ctx| {
        if let Poll::Ready(Ok(given)) = Pin::new(&mut given).poll(ctx) {
            return Poll::Ready(Ok(given));
        }
        match Pin::new(&mut refused).poll(ctx) {
            Poll::Ready(Ok(name)) => Poll::Ready(Err(name)),
            _ => Poll::Pending,
        }
    })
    .await
}

/// Tells other tabs which job was written, and hears it from them. Dropped, it stops listening.
pub struct JobNews {
    channel: BroadcastChannel,
    _hear: Closure<dyn Fn(MessageEvent)>,
}

impl JobNews {
    /// `heard` is called with the job's key when another tab has written to it.
    pub fn open(heard: impl Fn(String) + 'static) -> Option<JobNews> {
        let channel = BroadcastChannel::new("countback.jobs").ok()?;
        let hear = Closure::<dyn Fn(MessageEvent)>::new(move |event: MessageEvent| {
            if let Some(job) = event.data().as_string() {
                heard(job);
            }
        });
        channel.set_onmessage(Some(hear.as_ref().unchecked_ref()));
        Some(JobNews {
            channel,
            _hear: hear,
        })
    }

    pub fn tell(&self, job: &str) {
        // A tab that does not hear it is refused at its next write.
        let _ = self.channel.post_message(&job.into());
    }
}

impl Drop for JobNews {
    fn drop(&mut self) {
        self.channel.set_onmessage(None);
        self.channel.close();
    }
}
