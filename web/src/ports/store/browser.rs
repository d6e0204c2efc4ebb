//! The store on IndexedDB: what is read, and what follows a write. The writing transactions are in
//! `commit`, the connection in `connection`.

use std::{cell::RefCell, collections::BTreeMap, rc::Rc};

use wasm_bindgen::JsValue;

use super::{
    Store,
    batch::{Ack, Batch, DraftRow, JobHead, JobRows, PhotoRow, ThumbRow},
    checked::{check_pictures, checked_photo, checked_thumb},
    commit,
    connection::{Connection, StoreEvent},
    early::{self, Found},
    fault::Fault,
    idb::{Tx, fault_of},
    opening::{self, Opening},
    tables::*,
};
use crate::ports::{
    Pending,
    marker::{Mark, Marks, Shelf},
};

const WRITE_TEST: &str = "write-test";

/// What a start wants to read first, in the one transaction in which the store is looked over.
#[derive(Clone, Copy, Debug, Default)]
pub struct First<'a> {
    pub job: Option<&'a str>,
    pub settings: &'a [&'a str],
}

/// A store that was opened, and how it was found.
pub struct Opened {
    pub store: BrowserStore,
    pub opening: Opening,
    /// All jobs, by key.
    pub heads: Vec<JobHead>,
    /// The acts of the job that was wanted first.
    pub rows: JobRows,
    /// The settings that were wanted, as they were named.
    pub settings: Vec<Option<String>>,
}

/// The store. Clones share the connection.
#[derive(Clone)]
pub struct BrowserStore {
    connection: Connection,
    marks: Marks,
    /// Heads as last seen. They may be out of date; a commit compares them with what is there.
    known: Rc<RefCell<BTreeMap<String, JobHead>>>,
}

impl BrowserStore {
    /// Opens the database `name` and compares it with the marks on `shelf`. Errors: no database
    /// here, or blocked by another tab; a database of a newer build opens read-only, which
    /// `write_and_read_back` tells.
    pub async fn open(
        name: &str,
        shelf: Rc<dyn Shelf>,
        first: First<'_>,
        tell: impl Fn(StoreEvent) + 'static,
    ) -> Result<Opened, Fault> {
        let (connection, found) = match early::take(name, first).await {
            Some((db, found)) => (Connection::opened(name, db, tell), Some(found)),
            None => (Connection::open(name, tell).await?, None),
        };
        let store = BrowserStore {
            connection,
            marks: Marks::new(shelf, name),
            known: Rc::default(),
        };
        let (heads, rows, settings) = match found {
            Some(found) => found,
            None => store.look_over(first).await?,
        };
        store.know(&heads);
        let head = heads.iter().find(|head| Some(&*head.job) == first.job);
        let count = head.map_or(0, |head| head.count);
        let rows = JobRows {
            missing: count.saturating_sub(rows.len() as u32),
            rows,
        };
        Ok(Opened {
            opening: opening::compare(&store.marks, &heads),
            store,
            heads,
            rows,
            settings,
        })
    }

    async fn look_over(&self, first: First<'_>) -> Result<Found, Fault> {
        let named = |error: JsValue| fault_of(&error);
        self.connection
            .run(async |db| {
                let tx = Tx::begin(db, &[HEADS, ACTS, SETTINGS], false)?;
                let heads = tx.store(HEADS)?.get_all().map_err(named)?;
                let acts = first
                    .job
                    .map(|job| {
                        let acts = tx.store(ACTS)?;
                        acts.get_all_with_key(&acts_of(job)?).map_err(named)
                    })
                    .transpose()?;
                let ask = |key: &&str| tx.store(SETTINGS)?.get(&(*key).into()).map_err(named);
                let asked: Vec<_> = first.settings.iter().map(ask).collect::<Result<_, _>>()?;
                tx.end().await?;
                let rows = acts.map(|acts| results(&acts, act_from_js)).transpose()?;
                let settings = asked.iter().map(|it| result(it)?.as_string());
                Ok((
                    results(&heads, head_from_js)?,
                    rows.unwrap_or_default(),
                    settings.collect(),
                ))
            })
            .await
    }

    fn know(&self, heads: &[JobHead]) {
        let named = heads.iter().map(|head| (head.job.clone(), head.clone()));
        self.known.replace(named.collect());
    }

    /// Writes a word and reads it back: when that fails, nothing will be kept and the person must
    /// know.
    pub async fn write_and_read_back(&self) -> Result<(), Fault> {
        let text = (js_sys::Date::now() as u64).to_string();
        self.put_setting(WRITE_TEST, &text).await?;
        if self.setting(WRITE_TEST).await? == Some(text) {
            Ok(())
        } else {
            Err(Fault::ReadOnly)
        }
    }

    /// A cheap read to see whether the connection still lives; opens it once more if not.
    pub async fn probe(&self) -> Result<(), Fault> {
        self.setting(WRITE_TEST).await.map(drop)
    }

    /// Probes whenever the page becomes visible again (a phone may have dropped the connection
    /// meanwhile) and tells of one that is lost.
    pub fn probe_when_visible(&self) {
        let (marks, known) = (self.marks.clone(), self.known.clone());
        self.connection.when_visible(move |connection| {
            let (marks, known) = (marks.clone(), known.clone());
            async move {
                drop(
                    BrowserStore {
                        connection,
                        marks,
                        known,
                    }
                    .probe()
                    .await,
                )
            }
        });
    }

    /// True when the database belongs to a newer build: reading and exporting only.
    pub fn is_newer(&self) -> bool {
        self.connection.is_newer()
    }

    async fn heads(&self) -> Result<Vec<JobHead>, Fault> {
        let heads = self
            .connection
            .run(async |db| {
                let tx = Tx::begin(db, &[HEADS], false)?;
                let all = tx
                    .store(HEADS)?
                    .get_all()
                    .map_err(|error| fault_of(&error))?;
                tx.end().await?;
                results(&all, head_from_js)
            })
            .await?;
        self.know(&heads);
        Ok(heads)
    }

    /// The value under a text key, read by `read` after the transaction's end.
    async fn one<T>(
        &self,
        table: &'static str,
        key: &str,
        read: impl Fn(&JsValue) -> Result<T, Fault>,
    ) -> Result<Option<T>, Fault> {
        self.connection
            .run(async |db| {
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
        check_pictures(&batch).await?;
        // Taken out, so that a write that fails leaves nothing to go by.
        let known = self.known.borrow_mut().remove(&batch.job);
        let done = self
            .connection
            .write(async |db| commit::commit(db, &batch, known.as_ref()).await)
            .await?;
        if let Some(head) = &done.head {
            self.known
                .borrow_mut()
                .insert(head.job.clone(), head.clone());
        }
        let marked = done
            .head
            .as_ref()
            .is_none_or(|head| self.marks.set(&head.job, &opening::mark_of(head)));
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
        self.known.borrow_mut().remove(job);
        let mark = self.marks.get(job);
        if let Some(mark) = &mark {
            self.marks.set(
                job,
                &Mark {
                    deleting: true,
                    ..mark.clone()
                },
            );
        }
        let done = self
            .connection
            .write(async |db| commit::delete(db, job, photos).await)
            .await;
        match (&done, mark) {
            (Ok(()), _) => self.marks.remove(job),
            (Err(Fault::NoAnswer), _) | (Err(_), None) => {}
            (Err(_), Some(mark)) => drop(self.marks.set(job, &mark)),
        }
        done
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
        Box::pin(self.connection.run(async |db| {
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
        Box::pin(self.connection.run(async |db| {
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
        Box::pin(self.connection.write(async |db| {
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
        Box::pin(
            self.connection
                .write(async |db| commit::setting_or(db, key, value).await),
        )
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
                Some(head) => drop(self.marks.set(job, &opening::mark_of(&head))),
                None => self.marks.remove(job),
            }
            Ok(())
        })
    }
}
