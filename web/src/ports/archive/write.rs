//! Packs a job. A photo that cannot be read does not keep the rest from being saved.

use super::{About, ArchiveFault, FORMAT, KINDS, MIME, VERSION, lazy::Lazy};
use crate::ports::{
    bytes::Bytes,
    files::{FileFault, ReadyFile},
    hash,
    store::{Fault, Store},
};

/// A packed job: parts that follow each other, so that a large one never lies in one piece.
pub struct PackedJob {
    pub about: About,
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

/// Packs the job with the photos named. Whatever photos could not be read are listed in `about`.
///
/// # Errors
/// When the acts cannot be read or acts are missing from the store, or the packing part cannot be
/// loaded.
pub async fn pack_job(
    store: &dyn Store,
    job: &str,
    photos: &[String],
) -> Result<PackedJob, ArchiveFault> {
    let lazy = Lazy::load().await?;
    let rows = store.rows(job).await.map_err(ArchiveFault::Store)?.rows;
    let mut lines = String::new();
    for row in &rows {
        lines.push_str(&row.line);
        lines.push('\n');
    }
    let mut about = About {
        format: FORMAT.into(),
        version: VERSION,
        job: job.into(),
        acts: rows.len() as u32,
        photos: 0,
        thumbs: 0,
        job_sha256: hash::sha256_hex(lines.as_bytes()),
        unreadable: Vec::new(),
    };
    let packer = lazy.packer()?;
    let mut parts = vec![packer.add("job.jsonl", &lines.into_bytes().into())?];
    for hash in photos {
        match store.photo(hash).await {
            Ok(Some(photo)) => {
                let name = format!("photos/{hash}.{}", kind(&photo.mime));
                parts.push(packer.add(&name, &photo.bytes)?);
                about.photos += 1;
            }
            Ok(None) | Err(Fault::Corrupt { .. }) => {
                about.unreadable.push(hash.clone());
                continue;
            }
            Err(fault) => return Err(ArchiveFault::Store(fault)),
        }
        // A thumbnail can be made again: a damaged one is simply left out.
        if let Ok(Some(thumb)) = store.thumb(hash).await {
            parts.push(packer.add(
                &format!("thumbs/{hash}.{}", kind(&thumb.mime)),
                &thumb.bytes,
            )?);
            about.thumbs += 1;
        }
    }
    let text = serde_json::to_vec_pretty(&about).map_err(|_| ArchiveFault::NotAJob)?;
    parts.push(packer.add("about.json", &text.into())?);
    parts.push(packer.finish()?);
    Ok(PackedJob { about, parts })
}

fn kind(mime: &str) -> &'static str {
    KINDS
        .iter()
        .find(|(_, known)| *known == mime)
        .map_or("jpg", |(kind, _)| kind)
}
