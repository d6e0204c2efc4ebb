//! A whole job as one file, and back: acts, photos and thumbnails, checked to the last byte.
//! What a job's file is, `countback_core::jobfile` says; this module owns the pictures' bytes and the
//! names they go by. The ZIP work is done by the part of the app that is loaded when first needed.
//!
//! | entry                    | what                                                               |
//! |--------------------------|--------------------------------------------------------------------|
//! | `about.json`             | the page about it, by the core                                     |
//! | `job.jsonl`              | the acts, by the core                                              |
//! | `photos/<hash>.<kind>`   | a photo; the name is the SHA-256 of its bytes; kind jpg, png, webp |
//! | `thumbs/<hash>.<kind>`   | a thumbnail, likewise                                              |
//!
//! A hash in a file finds damage, not malice.

mod lazy;
mod read;
mod write;

pub use read::{OpenedJob, open_entries, open_job};
pub use write::{PackedJob, pack_job};

use countback_core::jobfile::JobFileError;

/// The archive's type and the ending of its name.
pub const MIME: &str = "application/zip";
pub const ENDING: &str = ".zip";
/// The largest archive that is opened, in bytes.
pub const MAX_BYTES: u64 = 1 << 30;

/// Why a job was not packed or not opened. Of an archive that is not whole, nothing is taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ArchiveFault {
    /// Something that the work needs could not be loaded, by the name of the error.
    NotLoaded { name: String },
    /// What the core finds wrong with the acts or the page about them.
    Job(JobFileError),
    /// Something that the archive may not hold or that goes beyond a limit, by the name of the rule.
    Refused { rule: String, entry: String },
    /// An entry's bytes are not what they should be.
    Damaged { entry: String },
}

/// The entry kinds for pictures, with the type that belongs to each.
const KINDS: [(&str, &str); 3] = [
    ("jpg", "image/jpeg"),
    ("png", "image/png"),
    ("webp", "image/webp"),
];
