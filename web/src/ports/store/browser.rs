//! The store on IndexedDB: connection, reopening, and the contract's reads. Writing a batch is in
//! `commit`.

use std::{
    cell::{Cell, RefCell},
    rc::{Rc, Weak},
};

use wasm_bindgen::{JsCast, closure::Closure};
use web_sys::IdbDatabase;

use super::{
    Store,
    batch::{Ack, Batch, DraftRow, JobHead, JobRows, PhotoRow, ThumbRow},
    checked::{checked_photo, checked_thumb, may_write},
    commit,
    fault::Fault,
    idb::{self, Open, Tx, fault_of},
    opening::{self, Opening},
    tables::*,
};
use crate::ports::{
    Pending, js,
    marker::{Mark, Marks, Shelf},
};

/// What the store tells the app without being asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StoreEvent {
    /// Another tab brings a newer build: this one has let go and must be reloaded.
    ReloadWanted,
    /// The connection is gone and did not come back: keep what is in memory, offer it as a file.
    ConnectionLost,
}

/// A store that was opened, and how it was found.
pub struct Opened {
    pub store: BrowserStore,
    pub opening: Opening,
    /// The write-and-read-back test: when it failed, nothing will be kept and the person must know.
    pub writable: Result<(), Fault>,
}

/// The store. Clones share the connection.
#[derive(Clone)]
pub struct BrowserStore(Rc<Inner>);

struct Inner {
    name: String,
    marks: Marks,
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

impl BrowserStore {
    /// Opens the database `name` and compares it with the marks on `shelf`. Errors: no database
    /// here, or blocked by another tab; a database of a newer build opens read-only, which
    /// `writable` tells.
    pub async fn open(
        name: &str,
        shelf: Rc<dyn Shelf>,
        tell: impl Fn(StoreEvent) + 'static,
    ) -> Result<Opened, Fault> {
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
        let store = BrowserStore(Rc::new(Inner {
            name: name.into(),
            marks: Marks::new(shelf, name),
            tell: Box::new(tell),
            db: RefCell::default(),
            mode: Cell::new(mode),
            events: RefCell::default(),
        }));
        store.connect(db);
        let heads = store.heads().await?;
        let opening = opening::compare(&store.0.marks, &heads);
        let writable = store.write_and_read_back().await;
        Ok(Opened {
            store,
            opening,
            writable,
        })
    }

    /// Takes the connection over and listens to what happens to it.
    fn connect(&self, db: IdbDatabase) {
        let of: Weak<Inner> = Rc::downgrade(&self.0);
        let version_change = Closure::<dyn Fn()>::new(move || {
            if let Some(inner) = of.upgrade() {
                inner.mode.set(Mode::Closed);
                inner.let_go();
                (inner.tell)(StoreEvent::ReloadWanted);
            }
        });
        let of = Rc::downgrade(&self.0);
        let close = Closure::<dyn Fn()>::new(move || {
            if let Some(inner) = of.upgrade() {
                inner.let_go();
                (inner.tell)(StoreEvent::ConnectionLost);
            }
        });
        db.set_onversionchange(Some(version_change.as_ref().unchecked_ref()));
        db.set_onclose(Some(close.as_ref().unchecked_ref()));
        self.0.let_go();
        self.0.db.replace(Some(db));
        // The old closures may be running right now (a reopening begun inside one): they are kept.
        self.0.events.borrow_mut().extend([version_change, close]);
    }

    async fn write_and_read_back(&self) -> Result<(), Fault> {
        let text = js_sys::Date::now().to_string();
        self.put_setting("write-test", &text).await?;
        if self.setting("write-test").await? == Some(text) {
            Ok(())
        } else {
            Err(Fault::ReadOnly)
        }
    }

    /// A cheap read to see whether the connection still lives; reopens it once if not. Call when the
    /// page becomes visible: a phone may have dropped the connection meanwhile.
    pub async fn probe(&self) -> Result<(), Fault> {
        self.setting("write-test").await.map(drop)
    }

    /// Probes whenever the page becomes visible again and tells of a connection that is lost.
    pub fn probe_when_visible(&self) {
        let Some(document) = js::window().and_then(|window| window.document()) else {
            return;
        };
        let of = Rc::downgrade(&self.0);
        let page = document.clone();
        let look = Closure::<dyn Fn()>::new(move || {
            let Some(inner) = of.upgrade().filter(|_| !page.hidden()) else {
                return;
            };
            wasm_bindgen_futures::spawn_local(async move {
                let _ = BrowserStore(inner).probe().await;
            });
        });
        let listener = look.as_ref().unchecked_ref();
        let _ = document.add_event_listener_with_callback("visibilitychange", listener);
        self.0.events.borrow_mut().push(look);
    }

    /// True when the database belongs to a newer build: reading and exporting only.
    pub fn is_newer(&self) -> bool {
        self.0.mode.get() == Mode::ReadNewer
    }

    /// Runs `work` on the connection. If that is lost, opens it once more and runs `work` once more;
    /// `work` must therefore be harmless to repeat.
    async fn run<T>(
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
                let db = self.reopen().await?;
                let again = work(&db).await;
                if again.as_ref().err().is_some_and(Fault::of_connection) {
                    (self.0.tell)(StoreEvent::ConnectionLost);
                }
                again
            }
            done => done,
        }
    }

    async fn reopen(&self) -> Result<IdbDatabase, Fault> {
        self.0.let_go();
        let how = match self.0.mode.get() {
            Mode::ReadNewer => Open::AsItIs,
            _ => Open::Again { version: VERSION },
        };
        match idb::open(&self.0.name, how).await {
            Ok(db) => {
                self.connect(db.clone());
                Ok(db)
            }
            Err(fault) => {
                (self.0.tell)(StoreEvent::ConnectionLost);
                Err(fault)
            }
        }
    }

    /// Runs a write: refused after a bug, and in a database of a newer build.
    async fn write<T>(
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

    async fn heads(&self) -> Result<Vec<JobHead>, Fault> {
        self.run(async |db| {
            let tx = Tx::begin(db, &[HEADS], false)?;
            let all = tx
                .store(HEADS)?
                .get_all()
                .map_err(|error| fault_of(&error))?;
            tx.end().await?;
            results(&all, head_from_js)
        })
        .await
    }

    /// The value under a text key, read by `read` after the transaction's end.
    async fn one<T>(
        &self,
        table: &'static str,
        key: &str,
        read: impl Fn(&wasm_bindgen::JsValue) -> Result<T, Fault>,
    ) -> Result<Option<T>, Fault> {
        self.run(async |db| {
            let tx = Tx::begin(db, &[table], false)?;
            let got = tx
                .store(table)?
                .get(&key.into())
                .map_err(|error| fault_of(&error))?;
            tx.end().await?;
            result(&got).map(|value| read(&value)).transpose()
        })
        .await
    }

    async fn commit_batch(&self, batch: Batch) -> Result<Ack, Fault> {
        for photo in &batch.photos {
            checked_photo(Some(photo.clone())).await?;
        }
        for thumb in &batch.thumbs {
            checked_thumb(Some(thumb.clone())).await?;
        }
        let done = self
            .write(async |db| commit::commit(db, &batch).await)
            .await?;
        let marked = done
            .head
            .as_ref()
            .is_none_or(|head| self.0.marks.set(&head.job, &opening::mark_of(head)));
        let mut unreadable = Vec::new();
        for photo in &batch.photos {
            if !matches!(self.photo(&photo.hash).await, Ok(Some(_))) {
                unreadable.push(photo.hash.clone());
            }
        }
        let (last_seq, head) = done
            .head
            .map(|head| (head.count, head.head))
            .unwrap_or_default();
        Ok(Ack {
            last_seq,
            head,
            replayed: done.replayed,
            marked,
            unreadable,
        })
    }

    async fn delete(&self, job: &str, photos: &[String]) -> Result<(), Fault> {
        let mark = self.0.marks.get(job);
        if let Some(mark) = &mark {
            self.0.marks.set(
                job,
                &Mark {
                    deleting: true,
                    ..mark.clone()
                },
            );
        }
        let done = self
            .write(async |db| commit::delete(db, job, photos).await)
            .await;
        match (&done, mark) {
            (Ok(()), _) => self.0.marks.remove(job),
            (Err(Fault::NoAnswer), _) | (Err(_), None) => {}
            (Err(_), Some(mark)) => drop(self.0.marks.set(job, &mark)),
        }
        done
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

impl Store for BrowserStore {
    fn commit(&self, batch: Batch) -> Pending<'_, Result<Ack, Fault>> {
        Box::pin(self.commit_batch(batch))
    }

    fn jobs(&self) -> Pending<'_, Result<Vec<JobHead>, Fault>> {
        Box::pin(self.heads())
    }

    fn rows<'a>(&'a self, job: &'a str) -> Pending<'a, Result<JobRows, Fault>> {
        Box::pin(self.run(async |db| {
            let tx = Tx::begin(db, &[ACTS, HEADS], false)?;
            let all = tx.store(ACTS)?.get_all_with_key(&acts_of(job)?);
            let all = all.map_err(|error| fault_of(&error))?;
            let head = tx
                .store(HEADS)?
                .get(&job.into())
                .map_err(|error| fault_of(&error))?;
            tx.end().await?;
            let rows = results(&all, act_from_js)?;
            let head = result(&head).map(|head| head_from_js(&head)).transpose()?;
            let count = head.map_or(0, |head| head.count);
            Ok(JobRows {
                missing: count.saturating_sub(rows.len() as u32),
                rows,
            })
        }))
    }

    fn photo<'a>(&'a self, hash: &'a str) -> Pending<'a, Result<Option<PhotoRow>, Fault>> {
        Box::pin(async move {
            checked_photo(
                self.one(PHOTOS, hash, |row| photo_from_js(row, hash))
                    .await?,
            )
            .await
        })
    }

    fn thumb<'a>(&'a self, photo: &'a str) -> Pending<'a, Result<Option<ThumbRow>, Fault>> {
        Box::pin(async move {
            checked_thumb(
                self.one(THUMBS, photo, |row| thumb_from_js(row, photo))
                    .await?,
            )
            .await
        })
    }

    fn drafts<'a>(&'a self, prefix: &'a str) -> Pending<'a, Result<Vec<DraftRow>, Fault>> {
        Box::pin(self.run(async |db| {
            let tx = Tx::begin(db, &[DRAFTS], false)?;
            let all = tx.store(DRAFTS)?.get_all_with_key(&starting_with(prefix)?);
            let all = all.map_err(|error| fault_of(&error))?;
            tx.end().await?;
            results(&all, draft_from_js)
        }))
    }

    fn setting<'a>(&'a self, key: &'a str) -> Pending<'a, Result<Option<String>, Fault>> {
        Box::pin(async move {
            let text = self
                .one(SETTINGS, key, |value| Ok(value.as_string()))
                .await?;
            Ok(text.flatten())
        })
    }

    fn put_setting<'a>(&'a self, key: &'a str, value: &'a str) -> Pending<'a, Result<(), Fault>> {
        Box::pin(self.write(async |db| {
            let tx = Tx::begin(db, &[SETTINGS], true)?;
            let put = tx.store(SETTINGS)?.put_with_key(&value.into(), &key.into());
            put.map_err(|error| fault_of(&error))?;
            tx.end().await
        }))
    }

    fn setting_or<'a>(
        &'a self,
        key: &'a str,
        value: &'a str,
    ) -> Pending<'a, Result<String, Fault>> {
        Box::pin(self.write(async |db| commit::setting_or(db, key, value).await))
    }

    fn delete_job<'a>(
        &'a self,
        job: &'a str,
        photos: &'a [String],
    ) -> Pending<'a, Result<(), Fault>> {
        Box::pin(self.delete(job, photos))
    }

    fn accept_loss<'a>(&'a self, job: &'a str) -> Pending<'a, Result<(), Fault>> {
        Box::pin(async move {
            let head = self.one(HEADS, job, head_from_js).await?;
            match head {
                Some(head) => drop(self.0.marks.set(job, &opening::mark_of(&head))),
                None => self.0.marks.remove(job),
            }
            Ok(())
        })
    }
}
