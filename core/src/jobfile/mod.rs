//! What the file of a job holds, and whether one can be trusted: the acts, a
//! page about them, and the names of the pictures. Owns no container: whoever
//! has bytes and names in hand asks here.
//!
//! Entries of a file: `job.jsonl`, `about.json`, `photos/<hash>.<kind>` and
//! `thumbs/<hash>.<kind>`. `codec/FORMAT.md` is the normative page.
mod about;
mod limits;
mod open;
mod pack;

pub use about::{About, FORMAT, VERSION};
pub use limits::Limit;
pub use open::{Damage, JobFileError, Opened, open};
pub use pack::{Packed, pack_list};

use sha2::{Digest, Sha256};

/// Names of the two text entries.
pub const JOURNAL_ENTRY: &str = "job.jsonl";
pub const ABOUT_ENTRY: &str = "about.json";

/// SHA-256 (FIPS 180-4) in lower-case hex, as hashes are written everywhere.
///
/// ```
/// let hash = countback_core::jobfile::sha256_hex(b"abc");
/// assert_eq!(hash, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
/// ```
pub fn sha256_hex(bytes: &[u8]) -> String {
    use std::fmt::Write;
    Sha256::digest(bytes)
        .iter()
        .fold(String::with_capacity(64), |mut hex, byte| {
            // A string takes whatever is written to it.
            let _ = write!(hex, "{byte:02x}");
            hex
        })
}

/// A hash becomes part of an entry's name: nothing else may pass for one.
pub fn is_hash(text: &str) -> bool {
    text.len() == 64 && text.bytes().all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f'))
}
