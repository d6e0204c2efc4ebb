//! From a journal to the text entries of its file.
use std::collections::BTreeSet;

use super::about::About;
use super::sha256_hex;
use crate::codec::encode;
use crate::journal::{Act, Journal};

/// What goes into a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Packed {
    pub about: About,
    /// `about.json`.
    pub about_json: String,
    /// `job.jsonl`.
    pub job_jsonl: String,
    /// Pictures and thumbnails of the journal that are not at hand: hashes.
    pub not_here: Vec<String>,
}

/// Lists what goes into the file of a job. `at_hand` are the hashes of the
/// pictures and thumbnails whose bytes can be had; those among them that the
/// journal speaks of are in [`About::photos`] and [`About::thumbs`].
pub fn pack_list(journal: &Journal, at_hand: &BTreeSet<String>) -> Packed {
    let mut job_jsonl = String::with_capacity(journal.len() * 256);
    for event in journal.iter() {
        job_jsonl.push_str(&encode(event));
        job_jsonl.push('\n');
    }
    let (photos, thumbs) = pictures(journal);
    let here = |hash: &&String| at_hand.contains(*hash);
    let not_here = photos.union(&thumbs).filter(|h| !here(h)).cloned();
    let about = About {
        title: title(journal),
        acts: journal.len(),
        bytes: job_jsonl.len(),
        sha256: sha256_hex(job_jsonl.as_bytes()),
        photos: photos.iter().filter(here).cloned().collect(),
        thumbs: thumbs.iter().filter(here).cloned().collect(),
    };
    Packed {
        about_json: about.to_json(),
        about,
        not_here: not_here.collect(),
        job_jsonl,
    }
}

/// Hashes of all pictures and all thumbnails that a journal speaks of. Struck
/// ones are among them: a strike may be struck.
pub(super) fn pictures(journal: &Journal) -> (BTreeSet<String>, BTreeSet<String>) {
    let mut pictures = (BTreeSet::new(), BTreeSet::new());
    for event in journal.iter() {
        if let Act::PhotoTaken(taken) = &event.act {
            pictures.0.insert(taken.hash.clone());
            if !taken.thumb.is_empty() {
                pictures.1.insert(taken.thumb.clone());
            }
        }
    }
    pictures
}

fn title(journal: &Journal) -> String {
    let struck = journal.struck();
    let mut titles = journal.iter().filter_map(|event| match &event.act {
        Act::JobOpened(head) | Act::JobDescribed(head) if !struck.contains(&event.with) => {
            Some(head.title.as_str())
        }
        _ => None,
    });
    titles.next_back().unwrap_or_default().to_owned()
}
