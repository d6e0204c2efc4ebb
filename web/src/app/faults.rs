//! Faults of storage, files and camera, said plainly: what happened, what is
//! safe, what to do.
use crate::ports::photo::PhotoFault;
use crate::ports::store::{Damaged, Fault};

pub fn store(fault: &Fault) -> String {
    match fault {
        Fault::StorageFull => "Not saved: the phone has no room left for it. Save a copy of the job to a file, free some room, then try again. Without the photo it may still fit.".to_owned(),
        Fault::Gone => "Not saved: the browser took the storage away. Save a copy of the job to a file now, then reload.".to_owned(),
        Fault::NewerVersion => "This was written by a newer version of the app. It can be read and copied, not changed. Accept the update first.".to_owned(),
        Fault::Blocked => "Another tab of the app is in the way. Close it, then reload.".to_owned(),
        Fault::Refused { name } => format!("Not saved: the browser refused ({name}). Try again; if it stays so, save a copy and reload."),
        Fault::Closed => "Not saved: a new version has taken over. Reload the page.".to_owned(),
        Fault::Corrupt { what } => damaged(what),
        Fault::ReadOnly => "Not saved: the job is open for writing in another tab, or this browser keeps nothing. Close the other tab.".to_owned(),
        Fault::OutOfOrder { .. } => "Not saved: another tab wrote to this job. It has been read again; look, then repeat the act.".to_owned(),
        Fault::KeyTaken => "Not saved: an entry of that number is there already. Reload the page.".to_owned(),
        Fault::NoAnswer => "The browser did not answer. Reload the page and see whether the act is there.".to_owned(),
        Fault::StoppedAfterBug => "Not saved: the app met a fault of its own and has stopped writing. Reload; everything saved is there.".to_owned(),
        Fault::Unavailable => "Not saved: this browser offers no storage here.".to_owned(),
        Fault::BadBatch { .. } => "Not saved: the entries did not follow each other. Reload the page.".to_owned(),
    }
}

fn damaged(what: &Damaged) -> String {
    match what {
        Damaged::Photo { .. } => {
            "A photo is damaged and cannot be shown. The entries are safe.".to_owned()
        }
        Damaged::Thumb { .. } => {
            "A small picture is damaged. The photo itself may be whole.".to_owned()
        }
        Damaged::Job { .. } => {
            "Entries of this job are missing or damaged. Open your saved copy.".to_owned()
        }
        Damaged::Row { key, .. } => format!("Entry {key} cannot be read. Open your saved copy."),
    }
}

pub fn photos_unreadable(n: usize) -> String {
    format!("{n} of the photos could not be read back as written. Take them again.")
}

pub fn photo(fault: &PhotoFault) -> String {
    match fault {
        PhotoFault::Empty => "The camera gave an empty file. Take the photo again.".to_owned(),
        PhotoFault::Cut => "The photo is cut off. Take it again.".to_owned(),
        PhotoFault::Foreign { .. } => "This kind of picture cannot be read here; JPEG, PNG and WebP can. The original is where it was.".to_owned(),
        PhotoFault::TooManyBytes { .. } | PhotoFault::TooManyPixels { .. } => "The picture is too large to be worked on here. Take it at a smaller size.".to_owned(),
        PhotoFault::NotDecoded { .. } | PhotoFault::Unreadable => "The picture could not be read. Take it again.".to_owned(),
        PhotoFault::CameOutBlank => "The phone ran short of memory and the picture came out blank. Close other apps and take it again.".to_owned(),
        PhotoFault::NotStripped => "The picture still carried what the camera wrote into it, so it was not kept. Take it again.".to_owned(),
        PhotoFault::Unsupported { what } => format!("This browser lacks {what}, which photos need."),
    }
}
