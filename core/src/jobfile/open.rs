//! From the entries of a file back to a journal: whole, or not at all. The file
//! is hostile until it has been looked through.
use std::collections::BTreeSet;

use super::about::{About, AboutFault};
use super::limits::{LAST_CLOCK, LAST_TIME, Limit};
use super::pack::pictures;
use super::{is_hash, sha256_hex};
use crate::codec::{CodecError, decode};
use crate::journal::{Act, Event, Journal};

/// A job out of a file.
#[derive(Clone, Debug, PartialEq)]
pub struct Opened {
    pub journal: Journal,
    pub about: About,
    /// Pictures and thumbnails that were packed and are not there now: hashes.
    pub missing_photos: Vec<String>,
    /// Those that were not at hand when it was packed.
    pub never_packed: Vec<String>,
}

/// Why a file is not taken. Nothing of it is, then.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum JobFileError {
    /// Something else, or a file of something else.
    NotAJob,
    /// Written by a newer version of the program: nothing is wrong with it.
    NewerVersion {
        version: u32,
    },
    /// Not the acts that were packed.
    ChecksumWrong {
        packed: String,
        found: String,
    },
    Damaged(Damage),
    /// Larger than any job.
    TooLarge {
        limit: Limit,
        found: usize,
    },
}

/// What is not whole. Lines count from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Damage {
    /// A field of `about.json`.
    About {
        what: &'static str,
    },
    /// Bytes of `job.jsonl`, as said by `about.json` and as found.
    Length {
        said: usize,
        found: usize,
    },
    /// Acts, likewise.
    Acts {
        said: usize,
        found: usize,
    },
    /// It is not text.
    NotText,
    Line {
        line: usize,
        what: &'static str,
    },
    /// An act under an id that an earlier line has.
    SameId {
        line: usize,
    },
    /// No act that opens the job, or another before it.
    NotOpened,
    /// An act that opens another job.
    OtherJob {
        line: usize,
    },
}

/// Opens the entries of a file. `present` are the hashes of the pictures and
/// thumbnails in it; that their bytes fit their hash is for the caller to see
/// to, with [`sha256_hex`].
///
/// # Errors
/// [`JobFileError`] tells apart what is no job, what is newer, what was changed
/// and what is damaged.
pub fn open(
    job_jsonl: &[u8],
    about_json: &[u8],
    present: &BTreeSet<String>,
) -> Result<Opened, JobFileError> {
    within(Limit::About, about_json.len())?;
    within(Limit::Journal, job_jsonl.len())?;
    let about = std::str::from_utf8(about_json).map_err(|_| JobFileError::NotAJob)?;
    let about = About::from_json(about).map_err(|fault| match fault {
        AboutFault::NotAJob => JobFileError::NotAJob,
        AboutFault::Newer { version } => JobFileError::NewerVersion { version },
        AboutFault::Damaged { what } => JobFileError::Damaged(Damage::About { what }),
    })?;
    within(Limit::Photos, about.photos.len().max(about.thumbs.len()))?;
    if about.bytes != job_jsonl.len() {
        return damaged(Damage::Length {
            said: about.bytes,
            found: job_jsonl.len(),
        });
    }
    let found = sha256_hex(job_jsonl);
    if found != about.sha256 {
        return Err(JobFileError::ChecksumWrong {
            packed: about.sha256,
            found,
        });
    }
    let Ok(text) = std::str::from_utf8(job_jsonl) else {
        return damaged(Damage::NotText);
    };
    let journal = journal(text)?;
    if journal.len() != about.acts {
        return damaged(Damage::Acts {
            said: about.acts,
            found: journal.len(),
        });
    }
    let (photos, thumbs) = pictures(&journal);
    within(Limit::Photos, photos.len())?;
    let packed: BTreeSet<&String> = about.photos.iter().chain(&about.thumbs).collect();
    let gone = photos
        .union(&thumbs)
        .filter(|hash| !present.contains(*hash));
    let (missing_photos, never_packed) = gone.cloned().partition(|hash| packed.contains(hash));
    Ok(Opened {
        journal,
        about,
        missing_photos,
        never_packed,
    })
}

fn within(limit: Limit, found: usize) -> Result<(), JobFileError> {
    if found > limit.most() {
        return Err(JobFileError::TooLarge { limit, found });
    }
    Ok(())
}

fn damaged<T>(damage: Damage) -> Result<T, JobFileError> {
    Err(JobFileError::Damaged(damage))
}

/// Reads all acts and sees that they are of one job.
fn journal(text: &str) -> Result<Journal, JobFileError> {
    let mut journal = Journal::default();
    let mut opened = None;
    for (n, line) in text.lines().enumerate() {
        within(Limit::Acts, n + 1)?;
        within(Limit::Act, line.len())?;
        let line_no = n + 1;
        let event = decode(line).map_err(|fault| match fault {
            CodecError::Newer { version } => JobFileError::NewerVersion { version },
            CodecError::Damaged { what } => JobFileError::Damaged(Damage::Line {
                line: line_no,
                what,
            }),
        })?;
        if let Some(what) = unsound(&event) {
            return damaged(Damage::Line {
                line: line_no,
                what,
            });
        }
        if matches!(event.act, Act::JobOpened(_)) && opened.replace(event.id).is_some() {
            return damaged(Damage::OtherJob { line: line_no });
        }
        if !journal.add(event) {
            return damaged(Damage::SameId { line: line_no });
        }
    }
    if opened.is_none() || journal.iter().next().map(|e| e.id) != opened {
        return damaged(Damage::NotOpened);
    }
    Ok(journal)
}

/// The field of an act that no phone would have written.
fn unsound(event: &Event) -> Option<&'static str> {
    if event.id.clock > LAST_CLOCK {
        return Some("id");
    }
    if event.with > event.id {
        return Some("with");
    }
    if !(0..=LAST_TIME).contains(&event.at) {
        return Some("at");
    }
    match &event.act {
        Act::PhotoTaken(it) if !is_hash(&it.hash) => Some("hash"),
        Act::PhotoTaken(it) if !it.thumb.is_empty() && !is_hash(&it.thumb) => Some("thumb"),
        _ => None,
    }
}
