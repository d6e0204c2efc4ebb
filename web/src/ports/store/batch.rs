//! The plain rows that go in and come out.

use crate::ports::bytes::Bytes;

/// One act of a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ActRow {
    /// The event's id as text that sorts in event order.
    pub key: String,
    /// Where it stands in this store's order of writing: 1, 2, 3 … within the job. Merged events of
    /// another device get the next numbers here although their keys may sort earlier.
    pub seq: u32,
    /// One line of JSON.
    pub line: String,
}

/// A photo, kept under the SHA-256 of its bytes and never overwritten.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PhotoRow {
    /// SHA-256 of `bytes`, 64 hex digits.
    pub hash: String,
    pub mime: String,
    pub bytes: Bytes,
}

/// The small picture of a photo.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ThumbRow {
    /// The hash of the photo that it shows, which is its key.
    pub photo: String,
    /// SHA-256 of its own bytes.
    pub hash: String,
    pub mime: String,
    pub bytes: Bytes,
}

/// Something half typed. Keys of a job's drafts start with `job/`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DraftRow {
    pub key: String,
    pub text: String,
}

/// Everything that one act writes: all of it or nothing.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Batch {
    pub job: String,
    pub rows: Vec<ActRow>,
    pub photos: Vec<PhotoRow>,
    pub thumbs: Vec<ThumbRow>,
    /// The draft that this act made into an event.
    pub drop_draft: Option<String>,
    pub put_draft: Option<DraftRow>,
    /// A setting, key and value, that goes in with it.
    pub put_setting: Option<(&'static str, String)>,
    /// All acts of the job that are there make way for these, in the same
    /// transaction: they could not be read.
    pub instead: bool,
}

impl Batch {
    /// The first row whose sequence number does not follow the one before.
    pub(super) fn first_gap(&self) -> Option<usize> {
        let pairs = self.rows.iter().zip(self.rows.iter().skip(1));
        let gap = pairs
            .into_iter()
            .position(|(one, next)| one.seq.checked_add(1) != Some(next.seq));
        gap.map(|at| at + 1)
    }
}

/// The store's word that a batch is on disk.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ack {
    pub last_seq: u32,
    /// The chain hash over the job so far; empty in a job without acts.
    pub head: String,
    /// The batch had been written before (a repeated attempt); nothing was doubled.
    pub replayed: bool,
    /// The mark beside the database was kept as well. When false, a later loss cannot be told from
    /// a first run.
    pub marked: bool,
    /// Photos that could not be read back as they were written: keep them, say so, offer again.
    pub unreadable: Vec<String>,
}

/// A job as the list shows it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JobHead {
    pub job: String,
    /// Number of acts, equal to the last sequence number.
    pub count: u32,
    pub head: String,
    /// The line written first and the line written last.
    pub first_line: String,
    pub last_line: String,
}

/// A job's acts in key order.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct JobRows {
    pub rows: Vec<ActRow>,
    /// How many acts the job's head counts that are not there: 0 in a sound store.
    pub missing: u32,
}
