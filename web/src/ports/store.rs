//! The store: one transaction per act, or nothing. Rows are plain; what a line means is the core's.
//! Two stores keep the same contract: [`MemoryStore`] for tests and [`BrowserStore`] on IndexedDB.

mod batch;
mod browser;
pub mod chain;
mod checked;
mod commit;
mod connection;
pub mod early;
mod fault;
mod idb;
mod memory;
mod opening;
mod plan;
mod tables;

pub use batch::{Ack, ActRow, Batch, DraftRow, JobHead, JobRows, PhotoRow, ThumbRow};
pub use browser::{BrowserStore, First, Opened};
pub use connection::StoreEvent;
pub use fault::{Damaged, Fault};
pub use memory::{Disk, MemoryStore, Trip, TripHow};
pub use opening::{LostJob, Opening};

use super::Pending;

/// The name of the app's database and of everything it keeps beside it.
pub const DATABASE: &str = "countback";

/// What every store promises: `Ok` from a write means it was committed with strict durability;
/// any `Err` means the state is as before, except [`Fault::NoAnswer`], where it is either as before
/// or as after (then the same batch may be committed again: a batch already there is not doubled).
pub trait Store {
    /// Writes the whole batch or nothing. The rows' `seq` must follow the job's last one, starting
    /// at 1 in a new job; otherwise somebody else wrote meanwhile and the answer is
    /// [`Fault::OutOfOrder`].
    fn commit(&self, batch: Batch) -> Pending<'_, Result<Ack, Fault>>;

    /// All jobs, by key.
    fn jobs(&self) -> Pending<'_, Result<Vec<JobHead>, Fault>>;

    /// A job's acts in the order of their keys.
    fn rows<'a>(&'a self, job: &'a str) -> Pending<'a, Result<JobRows, Fault>>;

    /// The photo, its bytes checked against its hash. `None` when there is no such photo.
    fn photo<'a>(&'a self, hash: &'a str) -> Pending<'a, Result<Option<PhotoRow>, Fault>>;

    /// The thumbnail of the photo with this hash, checked against its own.
    fn thumb<'a>(&'a self, photo: &'a str) -> Pending<'a, Result<Option<ThumbRow>, Fault>>;

    /// All drafts whose key starts with `prefix`, by key.
    fn drafts<'a>(&'a self, prefix: &'a str) -> Pending<'a, Result<Vec<DraftRow>, Fault>>;

    fn setting<'a>(&'a self, key: &'a str) -> Pending<'a, Result<Option<String>, Fault>>;

    fn put_setting<'a>(&'a self, key: &'a str, value: &'a str) -> Pending<'a, Result<(), Fault>>;

    /// The setting, put there first if it is not there, in one transaction.
    fn setting_or<'a>(&'a self, key: &'a str, value: &'a str)
    -> Pending<'a, Result<String, Fault>>;

    /// Deletes a job's acts, its drafts (keys starting with `job/`) and those photos and thumbnails
    /// that the caller knows no other job uses.
    fn delete_job<'a>(
        &'a self,
        job: &'a str,
        photos: &'a [String],
    ) -> Pending<'a, Result<(), Fault>>;

    /// The person has read that part of a job was lost: from now on what is there counts.
    fn accept_loss<'a>(&'a self, job: &'a str) -> Pending<'a, Result<(), Fault>>;
}

/// Reads a whole job and recomputes its chain hash: the slow, sure check, for an export or an audit
/// of the store itself.
pub async fn verify_job(store: &dyn Store, job: &str) -> Result<(), Fault> {
    let heads = store.jobs().await?;
    let rows = store.rows(job).await?;
    let Some(head) = heads.into_iter().find(|head| head.job == job) else {
        return if rows.rows.is_empty() {
            Ok(())
        } else {
            Err(job_damaged(job))
        };
    };
    if rows.missing > 0 || chain::of_rows(&rows.rows) != head.head {
        return Err(job_damaged(job));
    }
    Ok(())
}

fn job_damaged(job: &str) -> Fault {
    Fault::Corrupt {
        what: Damaged::Job {
            job: job.to_owned(),
        },
    }
}
