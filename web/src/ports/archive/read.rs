//! Opens an archive from elsewhere: everything is verified in memory; the caller then commits it in
//! one transaction, or refuses it whole.

use std::collections::BTreeSet;

use super::{About, ArchiveFault, FORMAT, KINDS, VERSION, lazy::Lazy};
use crate::ports::{
    bytes::Bytes,
    hash,
    photo::{self, MAX_PIXELS},
    store::{PhotoRow, ThumbRow},
};

/// The most acts that one archive may bring.
const MAX_ACTS: usize = 1_000_000;

/// What an archive holds, all of it verified against its hashes. Lines are not judged here.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OpenedJob {
    pub about: About,
    /// The acts' lines, in the order written.
    pub lines: Vec<String>,
    pub photos: Vec<PhotoRow>,
    pub thumbs: Vec<ThumbRow>,
}

/// Opens a job's archive whole or not at all.
///
/// # Errors
/// The first thing that is not as it must be.
pub async fn open_job(archive: &Bytes) -> Result<OpenedJob, ArchiveFault> {
    if archive.len() as u64 > super::MAX_BYTES {
        return Err(refused("TooLarge", ""));
    }
    let mut entries = Lazy::load().await?.unpack(archive)?;
    let about = about(&take(&mut entries, "about.json")?)?;
    let lines = lines(&take(&mut entries, "job.jsonl")?, &about)?;
    let (mut photos, mut thumbs) = (Vec::new(), Vec::new());
    for (name, bytes) in entries {
        let (folder, of, mime) = picture_name(&name).ok_or_else(|| refused("BadName", &name))?;
        check_picture(&name, mime, &bytes)?;
        let hash = hash::sha256_of(&bytes).await;
        let hash = hash.ok_or_else(|| ArchiveFault::NotLoaded {
            name: "crypto.subtle".into(),
        })?;
        match folder {
            "photos" if hash == of => photos.push(PhotoRow {
                hash,
                mime: mime.into(),
                bytes,
            }),
            "photos" => return Err(ArchiveFault::Damaged { entry: name }),
            _ => thumbs.push(ThumbRow {
                photo: of.into(),
                hash,
                mime: mime.into(),
                bytes,
            }),
        }
    }
    check_counts(&about, &photos, &thumbs)?;
    Ok(OpenedJob {
        about,
        lines,
        photos,
        thumbs,
    })
}

fn take(entries: &mut Vec<(String, Bytes)>, wanted: &str) -> Result<Bytes, ArchiveFault> {
    let at = entries
        .iter()
        .position(|(name, _)| name == wanted)
        .ok_or(ArchiveFault::NotAJob)?;
    Ok(entries.swap_remove(at).1)
}

fn about(bytes: &Bytes) -> Result<About, ArchiveFault> {
    // The version is looked at first: a newer about may have another shape.
    let value: serde_json::Value =
        serde_json::from_slice(&bytes.to_vec()).map_err(|_| ArchiveFault::NotAJob)?;
    if value.get("format").and_then(|format| format.as_str()) != Some(FORMAT) {
        return Err(ArchiveFault::NotAJob);
    }
    match value.get("version").and_then(serde_json::Value::as_u64) {
        Some(version) if version > u64::from(VERSION) => {
            let version = u32::try_from(version).unwrap_or(u32::MAX);
            Err(ArchiveFault::NewerVersion { version })
        }
        Some(1) => serde_json::from_value(value).map_err(|_| ArchiveFault::Damaged {
            entry: "about.json".into(),
        }),
        _ => Err(ArchiveFault::NotAJob),
    }
}

fn lines(bytes: &Bytes, about: &About) -> Result<Vec<String>, ArchiveFault> {
    let damaged = || ArchiveFault::Damaged {
        entry: "job.jsonl".into(),
    };
    let bytes = bytes.to_vec();
    if hash::sha256_hex(&bytes) != about.job_sha256 {
        return Err(damaged());
    }
    let text = String::from_utf8(bytes).map_err(|_| damaged())?;
    let lines: Vec<String> = text.lines().take(MAX_ACTS + 1).map(str::to_owned).collect();
    if lines.len() > MAX_ACTS {
        return Err(refused("TooManyActs", "job.jsonl"));
    }
    if lines.len() != about.acts as usize || lines.iter().any(|line| line.trim().is_empty()) {
        return Err(damaged());
    }
    Ok(lines)
}

/// Folder, hash and type of a picture's entry name.
fn picture_name(name: &str) -> Option<(&str, &str, &'static str)> {
    let (folder, file) = name.split_once('/')?;
    let (hash, kind) = file.split_once('.')?;
    let (_, mime) = KINDS.iter().find(|(known, _)| *known == kind)?;
    let hex = |c: char| c.is_ascii_digit() || ('a'..='f').contains(&c);
    let good = ["photos", "thumbs"].contains(&folder) && hash.len() == 64 && hash.chars().all(hex);
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

fn check_counts(
    about: &About,
    photos: &[PhotoRow],
    thumbs: &[ThumbRow],
) -> Result<(), ArchiveFault> {
    if photos.len() != about.photos as usize || thumbs.len() != about.thumbs as usize {
        return Err(ArchiveFault::Incomplete {
            entry: "about.json".into(),
        });
    }
    let known: BTreeSet<&str> = photos.iter().map(|photo| photo.hash.as_str()).collect();
    if known.len() != photos.len() {
        return Err(refused("Duplicate", ""));
    }
    match thumbs
        .iter()
        .find(|thumb| !known.contains(thumb.photo.as_str()))
    {
        Some(stray) => Err(ArchiveFault::Incomplete {
            entry: format!("photos/{}", stray.photo),
        }),
        None => Ok(()),
    }
}

fn refused(rule: &str, entry: &str) -> ArchiveFault {
    ArchiveFault::Refused {
        rule: rule.into(),
        entry: entry.into(),
    }
}
