//! Faults of storage, files and camera, said plainly: what happened, what is
//! safe, what to do.
use countback_core::codec::CodecError;
use countback_core::jobfile::{Damage, JobFileError};
use countback_core::procedure::ProcedureFault;

use crate::ports::archive::ArchiveFault;
use crate::ports::files::FileFault;
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

/// Why a picture is not shown. Nothing was to be saved, so nothing is said of
/// saving.
pub fn not_shown(fault: &Fault) -> String {
    match fault {
        Fault::Corrupt { what } => damaged(what),
        _ => "The browser did not give the photo out just now. Reload the page.".to_owned(),
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

pub const NO_EXAMPLES: &str = "The examples could not be fetched. They need a network until the app is ready to work without.";

const NEWER: &str = "Nothing was taken: this file was written by a newer version of the app. Take the new version, then open it again.";
const TOO_LARGE: &str = "Nothing was taken: this file is larger than any job.";

/// Why a copy was not built or not opened.
pub fn archive(fault: &ArchiveFault) -> String {
    let damaged = |what: String| {
        format!(
            "Nothing was taken: the file is damaged ({what}). Use another copy, or send it again."
        )
    };
    match fault {
        ArchiveFault::NotLoaded { .. } => "The part of the app that reads and writes files could not be loaded. Reload with a network, then try again.".to_owned(),
        ArchiveFault::Job(JobFileError::NotAJob) => "Nothing was taken: this is not the file of a job.".to_owned(),
        ArchiveFault::Job(JobFileError::NewerVersion { .. }) => NEWER.to_owned(),
        ArchiveFault::Job(JobFileError::ChecksumWrong { .. }) => "Nothing was taken: the entries are not those that were saved, their checksum is wrong. Use another copy, or send it again.".to_owned(),
        ArchiveFault::Job(JobFileError::TooLarge { .. }) => TOO_LARGE.to_owned(),
        ArchiveFault::Job(JobFileError::Damaged(damage)) => damaged(match damage {
            Damage::Line { line, .. } | Damage::SameId { line } => format!("line {line}"),
            Damage::OtherJob { line } => format!("another job in line {line}"),
            Damage::Length { .. } | Damage::Acts { .. } => "entries are missing or too many".to_owned(),
            Damage::NotOpened => "its first entry is missing".to_owned(),
            Damage::About { .. } | Damage::NotText => "it cannot be read".to_owned(),
        }),
        ArchiveFault::Damaged { entry } if entry.contains('/') => damaged("a picture in it".to_owned()),
        ArchiveFault::Damaged { .. } => damaged("its entries".to_owned()),
        ArchiveFault::Refused { rule, .. } if rule.ends_with("TooLarge") || rule.starts_with("TooMany") => TOO_LARGE.to_owned(),
        ArchiveFault::Refused { rule, .. } if rule == "NotStripped" => "Nothing was taken: a picture in it still carries what a camera wrote, such as the place. Save the copy anew with the app.".to_owned(),
        ArchiveFault::Refused { entry, .. } => format!("Nothing was taken: the file holds what no job's file holds ({entry})."),
    }
}

pub fn file(fault: &FileFault) -> String {
    match fault {
        FileFault::NeedsTap => "The browser wants a fresh tap. Tap again.",
        FileFault::Refused { .. } => {
            "The browser refused the file. The phone may be out of room; free some, then try again."
        }
        FileFault::TooLarge { .. } => TOO_LARGE,
        FileFault::Unreadable => "The file could not be read. It may have been moved.",
    }
    .to_owned()
}

/// Why a procedure's file was not taken.
pub fn procedure(fault: &ProcedureFault) -> String {
    match fault {
        ProcedureFault::Unreadable(CodecError::Newer { .. }) => NEWER.to_owned(),
        ProcedureFault::TooLong { .. } => TOO_LARGE.to_owned(),
        ProcedureFault::Unreadable(CodecError::Damaged { .. }) => {
            "Nothing was taken: this is not the file of a procedure, or it is damaged.".to_owned()
        }
        ProcedureFault::SameKey(key) => {
            format!("Nothing was taken: two parts of the procedure go by one name, {key}.")
        }
        ProcedureFault::NoSuchKey(key) | ProcedureFault::Circle(key) => {
            format!("Nothing was taken: the order of the procedure does not work out at {key}.")
        }
    }
}
