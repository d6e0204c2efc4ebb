//! Why an archive was not written or not opened.

/// Nothing was taken from the archive when any of these is met.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ArchiveFault {
    /// Not a ZIP file, or its directory cannot be read.
    NotAnArchive,
    /// More entries than allowed.
    TooManyEntries,
    /// The whole archive, or all its entries together, are larger than allowed.
    TooLarge,
    /// One entry is larger than allowed.
    EntryTooLarge { entry: String },
    /// A name that is a path, too long, or has characters that no entry of ours has.
    BadName { entry: String },
    /// Two entries have one name.
    Duplicate,
    /// Two entries share bytes of the file.
    Overlap,
    /// Compressed, encrypted, a folder or a link: entries of ours are stored plainly.
    NotPlain { entry: String },
    /// The bytes are not those that were written, by their checksum or their number.
    Damaged { entry: String },
    /// The writer failed; the archive must be thrown away.
    NotWritten,
}

impl ArchiveFault {
    /// The variant's name and the entry it speaks of, as they cross to JavaScript.
    pub fn name_and_entry(&self) -> (&'static str, &str) {
        match self {
            ArchiveFault::NotAnArchive => ("NotAnArchive", ""),
            ArchiveFault::TooManyEntries => ("TooManyEntries", ""),
            ArchiveFault::TooLarge => ("TooLarge", ""),
            ArchiveFault::EntryTooLarge { entry } => ("EntryTooLarge", entry),
            ArchiveFault::BadName { entry } => ("BadName", entry),
            ArchiveFault::Duplicate => ("Duplicate", ""),
            ArchiveFault::Overlap => ("Overlap", ""),
            ArchiveFault::NotPlain { entry } => ("NotPlain", entry),
            ArchiveFault::Damaged { entry } => ("Damaged", entry),
            ArchiveFault::NotWritten => ("NotWritten", ""),
        }
    }
}
