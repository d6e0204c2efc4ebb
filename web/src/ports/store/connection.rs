//! The connection to the database: who else wants it, whether it still lives, opening it once more.

use std::{
    cell::{Cell, RefCell},
    rc::{Rc, Weak},
};

use wasm_bindgen::{JsCast, closure::Closure};
use web_sys::IdbDatabase;

use super::{
    checked::may_write,
    fault::Fault,
    idb::{self, Open},
    tables::{VERSION, lay_out},
};

/// What the store tells the app without being asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StoreEvent {
    /// Another tab brings a newer build: this one has let go and must be reloaded.
    ReloadWanted,
    /// The connection is gone and did not come back: keep what is in memory, offer it as a file.
    ConnectionLost,
}

/// A connection. Clones share it.
#[derive(Clone)]
pub(super) struct Connection(Rc<Inner>);

struct Inner {
    name: String,
    tell: Box<dyn Fn(StoreEvent)>,
    db: RefCell<Option<IdbDatabase>>,
    mode: Cell<Mode>,
    events: RefCell<Vec<Closure<dyn Fn()>>>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Mode {
    Write,
    /// The database is of a newer build.
    ReadNewer,
    /// Closed for another build.
    Closed,
}

impl Connection {
    /// Opens the database, read-only when it is of a newer build.
    pub(super) async fn open(
        name: &str,
        tell: impl Fn(StoreEvent) + 'static,
    ) -> Result<Connection, Fault> {
        let (db, mode) = match idb::open(
            name,
            Open::Create {
                version: VERSION,
                lay_out,
            },
        )
        .await
        {
            Ok(db) => (db, Mode::Write),
            Err(Fault::NewerVersion) => (idb::open(name, Open::AsItIs).await?, Mode::ReadNewer),
            Err(fault) => return Err(fault),
        };
        Ok(Self::over(name, db, mode, Box::new(tell)))
    }

    /// Over a database that is open, and of this build's version.
    pub(super) fn opened(
        name: &str,
        db: IdbDatabase,
        tell: impl Fn(StoreEvent) + 'static,
    ) -> Connection {
        Self::over(name, db, Mode::Write, Box::new(tell))
    }

    fn over(name: &str, db: IdbDatabase, mode: Mode, tell: Box<dyn Fn(StoreEvent)>) -> Connection {
        let connection = Connection(Rc::new(Inner {
            name: name.into(),
            tell,
            db: RefCell::default(),
            mode: Cell::new(mode),
            events: RefCell::default(),
        }));
        connection.hold(db);
        connection
    }

    pub(super) fn is_newer(&self) -> bool {
        self.0.mode.get() == Mode::ReadNewer
    }

    /// Takes the database over and listens to what happens to it.
    fn hold(&self, db: IdbDatabase) {
        let on = |event: StoreEvent, mode: Option<Mode>| {
            let of: Weak<Inner> = Rc::downgrade(&self.0);
            Closure::<dyn Fn()>::new(move || {
                let Some(inner) = of.upgrade() else { return };
                inner.mode.set(mode.unwrap_or(inner.mode.get()));
                inner.let_go();
                (inner.tell)(event);
            })
        };
        let version_change = on(StoreEvent::ReloadWanted, Some(Mode::Closed));
        let close = on(StoreEvent::ConnectionLost, None);
        db.set_onversionchange(Some(version_change.as_ref().unchecked_ref()));
        db.set_onclose(Some(close.as_ref().unchecked_ref()));
        self.0.let_go();
        self.0.db.replace(Some(db));
        // The old closures may be running right now (a reopening begun inside one): they are kept.
        self.0.events.borrow_mut().extend([version_change, close]);
    }

    /// Runs `look` whenever the page becomes visible again, as long as the connection is held.
    pub(super) fn when_visible<F: Future<Output = ()> + 'static>(
        &self,
        look: impl Fn(Connection) -> F + 'static,
    ) {
        let Some(document) = crate::ports::js::window().and_then(|window| window.document()) else {
            return;
        };
        let (of, page) = (Rc::downgrade(&self.0), document.clone());
        let back = Closure::<dyn Fn()>::new(move || {
            if let Some(inner) = of.upgrade().filter(|_| !page.hidden()) {
                wasm_bindgen_futures::spawn_local(look(Connection(inner)));
            }
        });
        let listener = back.as_ref().unchecked_ref();
        let _ = document.add_event_listener_with_callback("visibilitychange", listener);
        self.0.events.borrow_mut().push(back);
    }

    /// Runs `work` on the database. If the connection is lost, opens it once more and runs `work`
    /// once more; `work` must therefore be harmless to repeat.
    pub(super) async fn run<T>(
        &self,
        work: impl AsyncFn(&IdbDatabase) -> Result<T, Fault>,
    ) -> Result<T, Fault> {
        let held = self.0.db.borrow().clone();
        let first = match held {
            Some(db) => work(&db).await,
            None => Err(Fault::Gone),
        };
        match first {
            Err(_) if self.0.mode.get() == Mode::Closed => Err(Fault::Closed),
            Err(fault) if fault.of_connection() => {
                let again = match self.open_again().await {
                    Ok(db) => work(&db).await,
                    Err(fault) => Err(fault),
                };
                if again.is_err() && self.0.mode.get() != Mode::Closed {
                    (self.0.tell)(StoreEvent::ConnectionLost);
                }
                again
            }
            done => done,
        }
    }

    /// Runs a write: refused after a bug, and in a database of a newer build.
    pub(super) async fn write<T>(
        &self,
        work: impl AsyncFn(&IdbDatabase) -> Result<T, Fault>,
    ) -> Result<T, Fault> {
        may_write()?;
        match self.0.mode.get() {
            Mode::ReadNewer => Err(Fault::NewerVersion),
            Mode::Closed => Err(Fault::Closed),
            Mode::Write => self.run(work).await,
        }
    }

    /// Only what is there already: a database that is gone is not made anew under the page.
    async fn open_again(&self) -> Result<IdbDatabase, Fault> {
        self.0.let_go();
        let how = match self.0.mode.get() {
            Mode::ReadNewer => Open::AsItIs,
            _ => Open::Again { version: VERSION },
        };
        let db = idb::open(&self.0.name, how).await?;
        self.hold(db.clone());
        Ok(db)
    }
}

impl Inner {
    fn let_go(&self) {
        if let Some(db) = self.db.borrow_mut().take() {
            db.set_onversionchange(None);
            db.set_onclose(None);
            db.close();
        }
    }
}

impl Drop for Inner {
    fn drop(&mut self) {
        self.let_go();
    }
}
