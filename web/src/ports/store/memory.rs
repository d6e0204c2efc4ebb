//! The store in memory, for tests: the same contract, and failures on demand.

use std::{cell::RefCell, collections::BTreeMap, rc::Rc};

use super::{
    Store,
    batch::{Ack, ActRow, Batch, DraftRow, JobHead, JobRows, PhotoRow, ThumbRow},
    checked::{check_pictures, checked_photo, checked_thumb, may_write},
    fault::Fault,
    opening::{self, Opening},
    plan::{self, Plan},
};
use crate::ports::{
    Pending,
    marker::{Mark, Marks, MemoryShelf, Shelf},
};

/// What survives a restart: everything that was committed.
#[derive(Clone, Debug, Default)]
pub struct Disk {
    pub acts: BTreeMap<(String, String), ActRow>,
    pub heads: BTreeMap<String, JobHead>,
    pub photos: BTreeMap<String, PhotoRow>,
    pub thumbs: BTreeMap<String, ThumbRow>,
    pub drafts: BTreeMap<String, String>,
    pub settings: BTreeMap<String, String>,
}

/// A failure that will happen at the `at`th operation from the start (the first is 1).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Trip {
    pub at: u64,
    pub how: TripHow,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TripHow {
    /// Nothing is done and the fault is reported.
    Before(Fault),
    /// It is done, but the fault is reported: the write whose answer was lost.
    After(Fault),
    /// It is never answered.
    Hang,
}

/// The store. Its disk and shelf are shared handles: open them again to play a restart.
pub struct MemoryStore {
    disk: Rc<RefCell<Disk>>,
    marks: Marks,
    operations: RefCell<u64>,
    trip: RefCell<Option<Trip>>,
}

impl MemoryStore {
    /// Opens `disk` as a browser opens its database.
    pub fn open(disk: Rc<RefCell<Disk>>, shelf: Rc<dyn Shelf>) -> (Self, Opening) {
        let marks = Marks::new(shelf, super::DATABASE);
        let heads: Vec<JobHead> = disk.borrow().heads.values().cloned().collect();
        let opening = opening::compare(&marks, &heads);
        let store = MemoryStore {
            disk,
            marks,
            operations: RefCell::new(0),
            trip: RefCell::new(None),
        };
        (store, opening)
    }

    /// An empty store with a shelf of its own.
    pub fn new() -> Self {
        Self::open(Rc::default(), Rc::new(MemoryShelf::default())).0
    }

    pub fn trip(&self, trip: Trip) {
        *self.trip.borrow_mut() = Some(trip);
    }

    /// How many operations there have been.
    pub fn operations(&self) -> u64 {
        *self.operations.borrow()
    }

    async fn run<T>(&self, work: impl FnOnce(&mut Disk) -> Result<T, Fault>) -> Result<T, Fault> {
        *self.operations.borrow_mut() += 1;
        let now = self.operations();
        let how = self
            .trip
            .borrow()
            .as_ref()
            .filter(|trip| trip.at == now)
            .map(|t| t.how.clone());
        match how {
            None => work(&mut self.disk.borrow_mut()),
            Some(TripHow::Before(fault)) => Err(fault),
            Some(TripHow::After(fault)) => {
                work(&mut self.disk.borrow_mut())?;
                Err(fault)
            }
            Some(TripHow::Hang) => std::future::pending().await,
        }
    }

    async fn commit_batch(&self, batch: Batch) -> Result<Ack, Fault> {
        may_write()?;
        check_pictures(&batch).await?;
        let (head, replayed) = self.run(|disk| write(disk, &batch)).await?;
        let marked = head
            .as_ref()
            .is_none_or(|head| self.marks.set(&head.job, &opening::mark_of(head)));
        let mut unreadable = Vec::new();
        for photo in &batch.photos {
            let stored = self.disk.borrow().photos.get(&photo.hash).cloned();
            if checked_photo(stored).await.ok().flatten().is_none() {
                unreadable.push(photo.hash.clone());
            }
        }
        let (last_seq, head) = head.map(|head| (head.count, head.head)).unwrap_or_default();
        Ok(Ack {
            last_seq,
            head,
            replayed,
            marked,
            unreadable,
        })
    }
}

impl Default for MemoryStore {
    fn default() -> Self {
        Self::new()
    }
}

/// Writes the batch into the disk whole or leaves it as it was. Answers the job's head.
fn write(disk: &mut Disk, batch: &Batch) -> Result<(Option<JobHead>, bool), Fault> {
    let key_of = |row: &ActRow| (batch.job.clone(), row.key.clone());
    let stored_last = batch
        .rows
        .last()
        .and_then(|row| disk.acts.get(&key_of(row)));
    let (stored_last, old) = match batch.instead {
        true => (None, None),
        false => (stored_last, disk.heads.get(&batch.job).cloned()),
    };
    let new = match plan::plan(old.as_ref(), stored_last, batch) {
        Plan::Refuse(fault) => return Err(fault),
        Plan::Replay => return Ok((old, true)),
        Plan::Write(new) => new,
    };
    if batch.instead {
        disk.acts.retain(|(job, _), _| *job != batch.job);
    }
    if batch
        .rows
        .iter()
        .any(|row| disk.acts.contains_key(&key_of(row)))
    {
        return Err(Fault::KeyTaken);
    }
    for row in &batch.rows {
        disk.acts.insert(key_of(row), row.clone());
    }
    for photo in &batch.photos {
        disk.photos
            .entry(photo.hash.clone())
            .or_insert_with(|| photo.clone());
    }
    for thumb in &batch.thumbs {
        disk.thumbs
            .entry(thumb.photo.clone())
            .or_insert_with(|| thumb.clone());
    }
    if let Some(key) = &batch.drop_draft {
        disk.drafts.remove(key);
    }
    if let Some(draft) = &batch.put_draft {
        disk.drafts.insert(draft.key.clone(), draft.text.clone());
    }
    if let Some((key, value)) = &batch.put_setting {
        disk.settings.insert((*key).to_owned(), value.clone());
    }
    if let Some(head) = &new {
        disk.heads.insert(batch.job.clone(), head.clone());
    }
    Ok((new.or(old), false))
}

impl Store for MemoryStore {
    fn commit(&self, batch: Batch) -> Pending<'_, Result<Ack, Fault>> {
        Box::pin(self.commit_batch(batch))
    }

    fn jobs(&self) -> Pending<'_, Result<Vec<JobHead>, Fault>> {
        Box::pin(self.run(|disk| Ok(disk.heads.values().cloned().collect())))
    }

    fn rows<'a>(&'a self, job: &'a str) -> Pending<'a, Result<JobRows, Fault>> {
        Box::pin(self.run(move |disk| {
            let of_job = disk.acts.iter().filter(|((owner, _), _)| owner == job);
            let rows: Vec<ActRow> = of_job.map(|(_, row)| row.clone()).collect();
            let count = disk.heads.get(job).map_or(0, |head| head.count);
            Ok(JobRows {
                missing: count.saturating_sub(rows.len() as u32),
                rows,
            })
        }))
    }

    fn photo<'a>(&'a self, hash: &'a str) -> Pending<'a, Result<Option<PhotoRow>, Fault>> {
        Box::pin(async move {
            checked_photo(self.run(|disk| Ok(disk.photos.get(hash).cloned())).await?).await
        })
    }

    fn thumb<'a>(&'a self, photo: &'a str) -> Pending<'a, Result<Option<ThumbRow>, Fault>> {
        Box::pin(async move {
            checked_thumb(self.run(|disk| Ok(disk.thumbs.get(photo).cloned())).await?).await
        })
    }

    fn drafts<'a>(&'a self, prefix: &'a str) -> Pending<'a, Result<Vec<DraftRow>, Fault>> {
        Box::pin(self.run(move |disk| {
            let wanted = disk
                .drafts
                .iter()
                .filter(|(key, _)| key.starts_with(prefix));
            let row = |(key, text): (&String, &String)| DraftRow {
                key: key.clone(),
                text: text.clone(),
            };
            Ok(wanted.map(row).collect())
        }))
    }

    fn setting<'a>(&'a self, key: &'a str) -> Pending<'a, Result<Option<String>, Fault>> {
        Box::pin(self.run(move |disk| Ok(disk.settings.get(key).cloned())))
    }

    fn put_setting<'a>(&'a self, key: &'a str, value: &'a str) -> Pending<'a, Result<(), Fault>> {
        Box::pin(async move {
            may_write()?;
            self.run(|disk| {
                disk.settings.insert(key.into(), value.into());
                Ok(())
            })
            .await
        })
    }

    fn setting_or<'a>(
        &'a self,
        key: &'a str,
        value: &'a str,
    ) -> Pending<'a, Result<String, Fault>> {
        Box::pin(async move {
            may_write()?;
            self.run(|disk| {
                Ok(disk
                    .settings
                    .entry(key.into())
                    .or_insert_with(|| value.into())
                    .clone())
            })
            .await
        })
    }

    fn delete_job<'a>(
        &'a self,
        job: &'a str,
        photos: &'a [String],
    ) -> Pending<'a, Result<(), Fault>> {
        Box::pin(async move {
            may_write()?;
            if let Some(mark) = self.marks.get(job) {
                self.marks.set(
                    job,
                    &Mark {
                        deleting: true,
                        ..mark
                    },
                );
            }
            self.run(|disk| {
                let drafts = format!("{job}/");
                disk.acts.retain(|(owner, _), _| owner != job);
                disk.heads.remove(job);
                disk.drafts.retain(|key, _| !key.starts_with(&drafts));
                disk.photos.retain(|hash, _| !photos.contains(hash));
                disk.thumbs.retain(|photo, _| !photos.contains(photo));
                Ok(())
            })
            .await?;
            self.marks.remove(job);
            Ok(())
        })
    }

    fn accept_loss<'a>(&'a self, job: &'a str) -> Pending<'a, Result<(), Fault>> {
        Box::pin(async move {
            match self.run(|disk| Ok(disk.heads.get(job).cloned())).await? {
                Some(head) => drop(self.marks.set(job, &opening::mark_of(&head))),
                None => self.marks.remove(job),
            }
            Ok(())
        })
    }
}
