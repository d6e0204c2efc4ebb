//! SHA-256 as lower-case hex: names of files, the precache list, stamps.

use sha2::{Digest, Sha256};
use std::fmt::Write;

/// All 64 hex digits.
pub fn sha256_hex(bytes: &[u8]) -> String {
    Sha256::digest(bytes)
        .iter()
        .fold(String::with_capacity(64), |mut hex, byte| {
            let _ = write!(hex, "{byte:02x}");
            hex
        })
}

/// The 16 digits that name a file after its content.
pub fn name_hash(bytes: &[u8]) -> String {
    sha256_hex(bytes)[..16].to_owned()
}
