//! What an archive says of itself.

use serde::{Deserialize, Serialize};

pub const FORMAT: &str = "countback-job";
pub const VERSION: u32 = 1;

/// `about.json`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct About {
    pub format: String,
    pub version: u32,
    /// The job's key.
    pub job: String,
    pub acts: u32,
    pub photos: u32,
    pub thumbs: u32,
    /// SHA-256 of `job.jsonl`.
    pub job_sha256: String,
    /// Hashes of photos that could not be read when this was written. They are missing here as they
    /// were there.
    #[serde(default)]
    pub unreadable: Vec<String>,
}
