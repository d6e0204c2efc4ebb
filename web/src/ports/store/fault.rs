//! Why the store did not do what was asked. Variants carry values; the wording lives in the app.

/// A failure of the store. Nothing was written, unless the variant says otherwise.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fault {
    /// No room. Text may still fit where a photo did not.
    StorageFull,
    /// The database was taken away under the page (site data cleared, connection lost for good).
    /// What is in memory should be offered as a file.
    Gone,
    /// The database was written by a newer build: it can be read and exported, never written.
    NewerVersion,
    /// Another tab holds an older version open and did not let go.
    Blocked,
    /// The browser refused, by the name of its error.
    Refused { name: String },
    /// This store was closed for another build that is taking over: the page must be reloaded.
    Closed,
    /// Something stored is not what was stored.
    Corrupt { what: Damaged },
    /// The browser lets the page read but not write.
    ReadOnly,
    /// Somebody else wrote to the job: the next sequence number is `expected`, the batch had `found`.
    OutOfOrder { expected: u32, found: u32 },
    /// An act's key is there already with another line: acts are never written over.
    KeyTaken,
    /// The browser did not answer in time. The write may or may not have happened.
    NoAnswer,
    /// A bug was met in this page: nothing is written until it is loaded again.
    StoppedAfterBug,
    /// There is no database here at all.
    Unavailable,
    /// The batch itself is wrong: its sequence numbers do not follow each other.
    BadBatch { at_row: usize },
}

/// What was found damaged.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Damaged {
    Photo {
        hash: String,
    },
    Thumb {
        photo: String,
    },
    /// The rows of a job do not give its chain hash, or some are missing.
    Job {
        job: String,
    },
    /// A row that cannot be read at all, by store and key.
    Row {
        store: &'static str,
        key: String,
    },
}

impl Fault {
    /// From the name of a browser's error; never from its text, which may be empty.
    pub(super) fn from_name(name: &str) -> Fault {
        match name {
            "QuotaExceededError" => Fault::StorageFull,
            "VersionError" => Fault::NewerVersion,
            // The connection is closing, or the transaction was torn down with it.
            "InvalidStateError" | "AbortError" | "UnknownError" => Fault::Gone,
            "ReadOnlyError" => Fault::ReadOnly,
            // Only acts are added under keys that must be free.
            "ConstraintError" => Fault::KeyTaken,
            name => Fault::Refused {
                name: name.to_owned(),
            },
        }
    }

    /// A fault of the connection: opening anew and trying again may help.
    pub(super) fn of_connection(&self) -> bool {
        matches!(self, Fault::Gone | Fault::NoAnswer)
    }
}
