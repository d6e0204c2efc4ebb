//! Opens an archive from elsewhere: everything is verified in memory; the caller then commits it in
//! one transaction, or refuses it whole.

use std::collections::{BTreeMap, BTreeSet};

use countback_core::jobfile::{self, ABOUT_ENTRY, JOURNAL_ENTRY, JobFileError, Limit};
use countback_core::journal::{Act, Journal};

use super::{ArchiveFault, KINDS, lazy::Lazy};
use crate::ports::{
    bytes::Bytes,
    hash,
    photo::{self, MAX_PIXELS},
    store::{PhotoRow, ThumbRow},
};

/// What an archive holds, all of it verified.
#[derive(Clone, Debug, PartialEq)]
pub struct OpenedJob {
    pub journal: Journal,
    pub photos: Vec<PhotoRow>,
    pub thumbs: Vec<ThumbRow>,
    /// Photos that were taken and are not in the file.
    pub missing: usize,
}

/// Opens a job's archive whole or not at all.
///
/// # Errors
/// The first thing that is not as it must be.
pub async fn open_job(archive: &Bytes) -> Result<OpenedJob, ArchiveFault> {
    if archive.len() as u64 > super::MAX_BYTES {
        return Err(refused("TooLarge", ""));
    }
    open_entries(Lazy::load().await?.unpack(archive)?).await
}

/// The same for entries that lie open.
///
/// # Errors
/// The first thing that is not as it must be.
pub async fn open_entries(mut entries: Vec<(String, Bytes)>) -> Result<OpenedJob, ArchiveFault> {
    let about = take(&mut entries, ABOUT_ENTRY, Limit::About)?;
    let acts = take(&mut entries, JOURNAL_ENTRY, Limit::Journal)?;
    let (mut photos, mut thumbs) = (BTreeMap::new(), BTreeMap::new());
    for (name, bytes) in entries {
        let (folder, of, mime) = picture_name(&name).ok_or_else(|| refused("BadName", &name))?;
        check_picture(&name, mime, &bytes)?;
        let hash = hash::sha256_of(&bytes).await;
        let hash = hash.ok_or_else(|| ArchiveFault::NotLoaded {
            name: "crypto.subtle".into(),
        })?;
        if hash != of {
            return Err(ArchiveFault::Damaged { entry: name });
        }
        let pictures = if folder == "photos" {
            &mut photos
        } else {
            &mut thumbs
        };
        if pictures.insert(hash, (mime, bytes)).is_some() {
            return Err(refused("Duplicate", &name));
        }
    }
    let mut present = BTreeSet::new();
    for hash in photos.keys().chain(thumbs.keys()) {
        present.insert(String::clone(hash));
    }
    let opened = jobfile::open(&acts, &about, &present).map_err(ArchiveFault::Job)?;
    let mut job = OpenedJob {
        photos: Vec::with_capacity(photos.len()),
        thumbs: Vec::with_capacity(thumbs.len()),
        missing: 0,
        journal: opened.journal,
    };
    // Pictures that no act speaks of are left where they are.
    for event in job.journal.iter() {
        let Act::PhotoTaken(taken) = &event.act else {
            continue;
        };
        if let Some((mime, bytes)) = photos.remove(&taken.hash) {
            job.photos.push(PhotoRow {
                hash: taken.hash.clone(),
                mime: mime.into(),
                bytes,
            });
        } else if job.photos.iter().all(|photo| photo.hash != taken.hash) {
            job.missing += 1;
        }
        // Two photos may look the same when small.
        let has_one = job.thumbs.iter().any(|thumb| thumb.photo == taken.hash);
        if let (Some((mime, bytes)), false) = (thumbs.get(&taken.thumb), has_one) {
            job.thumbs.push(ThumbRow {
                photo: taken.hash.clone(),
                hash: taken.thumb.clone(),
                mime: (*mime).into(),
                bytes: bytes.clone(),
            });
        }
    }
    Ok(job)
}

/// Takes a text entry out, unless it is larger than any job's: it will be copied.
fn take(
    entries: &mut Vec<(String, Bytes)>,
    wanted: &str,
    limit: Limit,
) -> Result<Vec<u8>, ArchiveFault> {
    let at = entries.iter().position(|(name, _)| name == wanted);
    let (_, bytes) = entries.swap_remove(at.ok_or(ArchiveFault::Job(JobFileError::NotAJob))?);
    let found = bytes.len();
    if found > limit.most() {
        return Err(ArchiveFault::Job(JobFileError::TooLarge { limit, found }));
    }
    Ok(bytes.to_vec())
}

/// Folder, hash and type of a picture's entry name.
fn picture_name(name: &str) -> Option<(&str, &str, &'static str)> {
    let (folder, file) = name.split_once('/')?;
    let (hash, kind) = file.split_once('.')?;
    let (_, mime) = KINDS.iter().find(|(known, _)| *known == kind)?;
    let good = ["photos", "thumbs"].contains(&folder) && jobfile::is_hash(hash);
    good.then_some((folder, hash, *mime))
}

/// A picture must be what its name says, by its own bytes, and of a size that can be decoded.
fn check_picture(name: &str, mime: &str, bytes: &Bytes) -> Result<(), ArchiveFault> {
    let damaged = || ArchiveFault::Damaged { entry: name.into() };
    let sniffed = photo::sniff(bytes).map_err(|_| damaged())?;
    if sniffed.format.mime() != mime {
        return Err(refused("NotThatKind", name));
    }
    if u64::from(sniffed.width) * u64::from(sniffed.height) > MAX_PIXELS {
        return Err(refused("TooManyPixels", name));
    }
    // A copy made by this app has nothing of the camera's in it; one that has would bring a
    // position in.
    if mime == "image/jpeg" && !photo::is_stripped(bytes) {
        return Err(refused("NotStripped", name));
    }
    Ok(())
}

fn refused(rule: &str, entry: &str) -> ArchiveFault {
    ArchiveFault::Refused {
        rule: rule.into(),
        entry: entry.into(),
    }
}
