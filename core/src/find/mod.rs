//! The photo-note index: everything that was named, noted or photographed in
//! one or several jobs, found by words, sizes and tag codes. Owns tokens, trade
//! synonyms, misspellings and ranking; what a hit is called is the screen's.
//!
//! An index is built from jobs as they stand and thrown away: nothing in it is
//! stored, and after an act it is built anew.

mod build;
mod names;
mod origin;
mod query;
mod records;
mod size;
pub(crate) mod synonyms;
mod tags;
pub(crate) mod tokens;

pub use build::Index;
pub use origin::origin_of;
pub use tags::{TagAnswer, TagOn};

use crate::journal::{NoteId, PhotoId, Target};

/// A job among those searched: a number of the caller's choice. The id of the
/// opening act would not do, for two jobs begun on one phone share it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct JobKey(pub u32);

/// How a word that was asked for met one that is there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum How {
    Exact,
    /// The same thing in another's trade words: wrench for spanner.
    Synonym,
    /// The beginning of the word.
    Prefix,
    /// Misspelt in the question or in the record.
    Spelling,
    /// The head is of the size asked for.
    Head,
    /// No head was noted, but the thread is usually found with such a head.
    ThreadOfHead,
}

/// One thing that was asked for and what met it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Matched {
    /// As it stands in the question.
    pub asked: String,
    /// As it stands in the record.
    pub found: String,
    pub how: How,
}

/// A thing found.
#[derive(Clone, Debug, PartialEq)]
pub struct Hit {
    pub job: JobKey,
    /// What to open: for a photo or a note, the thing it is of.
    pub what: Target,
    /// The photo, where the words stand on one.
    pub photo: Option<PhotoId>,
    /// The note, where the words stand in one.
    pub note: Option<NoteId>,
    pub why: Vec<Matched>,
    /// Higher is better; comparable within one answer only.
    pub score: f32,
}

/// The answer to one question.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Found {
    /// The best first.
    pub hits: Vec<Hit>,
    /// What is known of a tag code, where the question is one.
    pub tag: Option<TagAnswer>,
}
