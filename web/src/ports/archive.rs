//! A whole job as one file, and back: acts, photos and thumbnails, checked to the last byte.
//! The ZIP work is done by the part of the app that is loaded when first needed; this module owns
//! what the entries are.
//!
//! Format `countback-job`, version 1. A ZIP file with stored entries:
//!
//! | entry                    | what                                                                |
//! |--------------------------|---------------------------------------------------------------------|
//! | `about.json`             | format, version, job, counts, SHA-256 of `job.jsonl`                |
//! | `job.jsonl`              | the acts, one line of JSON each, in key order, each ended by `\n`   |
//! | `photos/<hash>.<kind>`   | a photo; the name is the SHA-256 of its bytes; kind jpg, png, webp   |
//! | `thumbs/<hash>.<kind>`   | the thumbnail of the photo of that hash                             |
//!
//! A hash in a file finds damage, not malice: what the lines say is judged by whoever reads them.

mod about;
mod lazy;
mod read;
mod write;

pub use about::{About, FORMAT, VERSION};
pub use read::{OpenedJob, open_job};
pub use write::{PackedJob, pack_job};

use super::store::Fault;

/// The archive's type and the ending of its name.
pub const MIME: &str = "application/zip";
pub const ENDING: &str = ".zip";
/// The largest archive that is opened, in bytes.
pub const MAX_BYTES: u64 = 1 << 30;

/// Why a job was not packed or not opened. Of an archive that is not whole, nothing is taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ArchiveFault {
    /// The part that does the ZIP work could not be loaded, by the name of the error.
    NotLoaded { name: String },
    /// Not an archive of a job.
    NotAJob,
    /// Written by a newer build.
    NewerVersion { version: u32 },
    /// Something that the archive may not hold or that goes beyond a limit, by the name of the rule.
    Refused { rule: String, entry: String },
    /// An entry's bytes are not what they should be.
    Damaged { entry: String },
    /// Something that is announced is not there, or something is there that is not announced.
    Incomplete { entry: String },
    /// The store could not be read.
    Store(Fault),
}

/// The entry kinds for pictures, with the type that belongs to each.
const KINDS: [(&str, &str); 3] = [
    ("jpg", "image/jpeg"),
    ("png", "image/png"),
    ("webp", "image/webp"),
];
