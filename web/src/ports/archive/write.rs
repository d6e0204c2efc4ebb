//! Packs a job. A picture that cannot be read does not keep the rest from being saved, and the acts
//! come from memory: they can be saved even when the store is gone.

use std::collections::BTreeSet;

use countback_core::jobfile::{ABOUT_ENTRY, About, JOURNAL_ENTRY, pack_list};
use countback_core::journal::{Act, Journal};

use super::{ArchiveFault, KINDS, MIME, lazy::Lazy};
use crate::ports::{
    bytes::Bytes,
    files::{FileFault, ReadyFile},
    store::{Fault, Store},
};

/// A packed job: parts that follow each other, so that a large one never lies in one piece.
pub struct PackedJob {
    pub about: About,
    /// Hashes of the pictures and thumbnails that could not be read.
    pub not_here: Vec<String>,
    pub parts: Vec<Bytes>,
}

impl PackedJob {
    /// The file to hand over.
    ///
    /// # Errors
    /// When the browser has no room for it.
    pub fn file(&self, name: &str) -> Result<ReadyFile, FileFault> {
        ReadyFile::new(name, MIME, &self.parts)
    }
}

/// Packs a job with the pictures it speaks of, as far as the store has them.
///
/// # Errors
/// When the packing part cannot be loaded or does not do its work.
pub async fn pack_job(
    store: Option<&dyn Store>,
    journal: &Journal,
) -> Result<PackedJob, ArchiveFault> {
    let packer = Lazy::load().await?.packer()?;
    let mut parts = Vec::new();
    let (mut names, mut at_hand) = (BTreeSet::new(), BTreeSet::new());
    let mut add = |folder: &str, hash: String, mime: &str, bytes: &Bytes| {
        let name = format!("{folder}/{hash}.{}", kind(mime));
        at_hand.insert(hash);
        if names.insert(name.clone()) {
            parts.push(packer.add(&name, bytes)?);
        }
        Ok(())
    };
    let mut store = store;
    for event in journal.iter() {
        let (Act::PhotoTaken(taken), Some(from)) = (&event.act, store) else {
            continue;
        };
        match from.photo(&taken.hash).await {
            Ok(Some(photo)) => add("photos", photo.hash, &photo.mime, &photo.bytes)?,
            Ok(None) | Err(Fault::Corrupt { .. }) => {}
            // It is gone, and would be waited for at every picture.
            Err(_) => {
                store = None;
                continue;
            }
        }
        if let Ok(Some(thumb)) = from.thumb(&taken.hash).await {
            add("thumbs", thumb.hash, &thumb.mime, &thumb.bytes)?;
        }
    }
    let packed = pack_list(journal, &at_hand);
    parts.push(packer.add(JOURNAL_ENTRY, &packed.job_jsonl.into_bytes().into())?);
    parts.push(packer.add(ABOUT_ENTRY, &packed.about_json.into_bytes().into())?);
    parts.push(packer.finish()?);
    Ok(PackedJob {
        about: packed.about,
        not_here: packed.not_here,
        parts,
    })
}

fn kind(mime: &str) -> &'static str {
    KINDS
        .iter()
        .find(|(_, known)| *known == mime)
        .map_or("jpg", |(kind, _)| kind)
}
