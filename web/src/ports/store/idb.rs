//! A thin binding of IndexedDB: opening, and a transaction that ends in one answer.
//! No request is awaited by itself: requests are issued together, the transaction's own end is
//! awaited, results are read after it. That keeps transactions alive by the standard's rules and not
//! by an executor's habits, and makes `complete` the only word that counts.

use std::{cell::RefCell, rc::Rc};

use futures_channel::oneshot::{self, Receiver, Sender};
use js_sys::Array;
use wasm_bindgen::{JsCast, JsValue, closure::Closure, prelude::wasm_bindgen};
use web_sys::{IdbDatabase, IdbFactory, IdbObjectStore, IdbOpenDbRequest, IdbTransaction};

use super::fault::Fault;
use crate::ports::js;

/// Milliseconds after which a transaction or an opening counts as not answered. Long: a slow phone
/// writing many photos is not a fault.
const PATIENCE_MS: i32 = 20_000;

#[wasm_bindgen]
extern "C" {
    /// The call with options, which the standard bindings hide behind an unstable flag.
    #[wasm_bindgen(extends = IdbDatabase)]
    type StrictDatabase;
    #[wasm_bindgen(method, catch, js_name = transaction)]
    fn transaction_with(
        this: &StrictDatabase,
        stores: &Array,
        mode: &str,
        options: &JsValue,
    ) -> Result<IdbTransaction, JsValue>;
}

/// Sends once, whichever event comes first.
struct Once<T>(Rc<RefCell<Option<Sender<T>>>>);

impl<T> Clone for Once<T> {
    fn clone(&self) -> Self {
        Once(self.0.clone())
    }
}

impl<T> Once<T> {
    fn new() -> (Self, Receiver<T>) {
        let (send, receive) = oneshot::channel();
        (Once(Rc::new(RefCell::new(Some(send)))), receive)
    }

    fn send(&self, value: T) {
        if let Some(send) = self.0.borrow_mut().take() {
            // Nobody waiting any more is fine: the answer came too late.
            let _ = send.send(value);
        }
    }
}

pub(super) fn fault_of(error: &JsValue) -> Fault {
    Fault::from_name(&js::error_name(error))
}

pub(super) fn factory() -> Result<IdbFactory, Fault> {
    let window = js::window().ok_or(Fault::Unavailable)?;
    window.indexed_db().ok().flatten().ok_or(Fault::Unavailable)
}

/// How to open.
#[derive(Clone, Copy)]
pub(super) enum Open {
    /// At this version, laying out the stores where there are none.
    Create {
        version: u32,
        lay_out: fn(&IdbDatabase) -> Result<(), JsValue>,
    },
    /// Only what is there already at this version; a database that would be new is [`Fault::Gone`].
    Again { version: u32 },
    /// Whatever version is there, to read.
    AsItIs,
}

/// Opens the database. While another tab blocks, the answer is [`Fault::Blocked`].
pub(super) async fn open(name: &str, how: Open) -> Result<IdbDatabase, Fault> {
    let factory = factory()?;
    let request = match how {
        Open::Create { version, .. } | Open::Again { version } => {
            factory.open_with_u32(name, version)
        }
        Open::AsItIs => factory.open(name),
    }
    .map_err(|error| fault_of(&error))?;
    let (once, receive) = Once::new();

    let (answer, of) = (once.clone(), request.clone());
    let success = Closure::<dyn Fn()>::new(move || {
        answer.send(database(&of).ok_or(Fault::Gone));
    });
    let (answer, of) = (once.clone(), request.clone());
    let error = Closure::<dyn Fn()>::new(move || {
        answer.send(Err(fault_of(&js::get(&of, "error").unwrap_or_default())));
    });
    let answer = once.clone();
    let blocked = Closure::<dyn Fn()>::new(move || answer.send(Err(Fault::Blocked)));
    let of = request.clone();
    let upgrade = Closure::<dyn Fn()>::new(move || {
        let laid_out = match (how, database(&of)) {
            (Open::Create { lay_out, .. }, Some(db)) => {
                lay_out(&db).map_err(|error| fault_of(&error))
            }
            _ => Err(Fault::Gone),
        };
        if let Err(fault) = laid_out {
            once.send(Err(fault));
            if let Some(tx) = of.transaction() {
                let _ = tx.abort();
            }
        }
    });
    request.set_onsuccess(Some(success.as_ref().unchecked_ref()));
    request.set_onerror(Some(error.as_ref().unchecked_ref()));
    request.set_onblocked(Some(blocked.as_ref().unchecked_ref()));
    request.set_onupgradeneeded(Some(upgrade.as_ref().unchecked_ref()));

    let opened = js::within(PATIENCE_MS, receive).await;
    request.set_onblocked(None);
    request.set_onupgradeneeded(None);
    request.set_onerror(None);
    request.set_onsuccess(None);
    match opened {
        Some(Ok(Ok(db))) => Ok(db),
        Some(Ok(Err(fault))) if fault != Fault::Blocked => Err(fault),
        Some(Err(_)) => Err(Fault::Gone),
        Some(Ok(Err(_))) | None => {
            close_when_it_comes(&request);
            Err(Fault::Blocked)
        }
    }
}

fn database(request: &IdbOpenDbRequest) -> Option<IdbDatabase> {
    request.result().ok()?.dyn_into().ok()
}

/// An opening that nobody waits for any more must not hold the database.
fn close_when_it_comes(request: &IdbOpenDbRequest) {
    let of = request.clone();
    let close = Closure::once_into_js(move || {
        if let Some(db) = database(&of) {
            db.close();
        }
    });
    request.set_onsuccess(Some(close.unchecked_ref()));
}

/// A transaction. Dropped before its end, it is aborted.
pub(super) struct Tx {
    tx: IdbTransaction,
    end: Receiver<Result<(), Fault>>,
    reason: Rc<RefCell<Option<Fault>>>,
    _events: [Closure<dyn Fn()>; 2],
}

impl Tx {
    /// Opens a transaction; a writing one is strict: `complete` comes after the disk has it.
    pub(super) fn begin(db: &IdbDatabase, stores: &[&str], write: bool) -> Result<Tx, Fault> {
        let names: Array = stores.iter().map(|name| JsValue::from_str(name)).collect();
        let mode = if write { "readwrite" } else { "readonly" };
        let options = js::object([("durability", "strict".into())]);
        let tx = db
            .unchecked_ref::<StrictDatabase>()
            .transaction_with(&names, mode, &options)
            .map_err(|error| fault_of(&error))?;
        let reason: Rc<RefCell<Option<Fault>>> = Rc::default();
        let (once, end) = Once::new();
        let answer = once.clone();
        let complete = Closure::<dyn Fn()>::new(move || answer.send(Ok(())));
        let (of, why) = (tx.clone(), reason.clone());
        let abort = Closure::<dyn Fn()>::new(move || {
            // Our own reason first; then the browser's, by name. None at all: torn down with the
            // connection.
            let own = why.borrow_mut().take();
            let given = || js::get(&of, "error").map_or(Fault::Gone, |error| fault_of(&error));
            once.send(Err(own.unwrap_or_else(given)));
        });
        tx.set_oncomplete(Some(complete.as_ref().unchecked_ref()));
        tx.set_onabort(Some(abort.as_ref().unchecked_ref()));
        Ok(Tx {
            tx,
            end,
            reason,
            _events: [complete, abort],
        })
    }

    /// A handle for use inside request events.
    pub(super) fn hand(&self) -> Hand {
        Hand {
            tx: self.tx.clone(),
            reason: self.reason.clone(),
        }
    }

    pub(super) fn store(&self, name: &str) -> Result<IdbObjectStore, Fault> {
        self.tx.object_store(name).map_err(|error| fault_of(&error))
    }

    /// Waits for the end: `Ok` only on `complete`.
    pub(super) async fn end(mut self) -> Result<(), Fault> {
        match js::within(PATIENCE_MS, &mut self.end).await {
            Some(Ok(end)) => end,
            Some(Err(_)) => Err(Fault::Gone),
            None => Err(Fault::NoAnswer),
        }
    }
}

impl Drop for Tx {
    fn drop(&mut self) {
        self.tx.set_oncomplete(None);
        self.tx.set_onabort(None);
        // Refused with InvalidStateError when it has ended, which is just as well.
        let _ = self.tx.abort();
    }
}

/// A transaction as seen from inside its own events.
#[derive(Clone)]
pub(super) struct Hand {
    tx: IdbTransaction,
    reason: Rc<RefCell<Option<Fault>>>,
}

impl Hand {
    pub(super) fn store(&self, name: &str) -> Result<IdbObjectStore, Fault> {
        self.tx.object_store(name).map_err(|error| fault_of(&error))
    }

    /// Aborts, so that nothing of the transaction stays, and gives `fault` as its end.
    pub(super) fn refuse(&self, fault: Fault) {
        self.reason.borrow_mut().get_or_insert(fault);
        let _ = self.tx.abort();
    }
}
