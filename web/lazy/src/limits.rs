//! How much an archive may hold. A file from elsewhere is hostile until it is read.

use crate::fault::ArchiveFault;

/// All sizes in bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    pub archive: u64,
    pub entries: usize,
    pub entry: u64,
    /// All entries together, as really read.
    pub total: u64,
    pub name: usize,
}

impl Default for Limits {
    fn default() -> Self {
        Limits {
            archive: 1 << 30,
            entries: 20_000,
            entry: 64 << 20,
            total: 1 << 30,
            name: 96,
        }
    }
}

/// Names that entries of ours can have: small letters, digits, `.`, `-` and at most one `/` between
/// two parts, none of them empty or beginning with a dot. Never used as a path all the same.
pub(crate) fn check_name(name: &str, limits: &Limits) -> Result<(), ArchiveFault> {
    let parts: Vec<&str> = name.split('/').collect();
    let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '.' || c == '-';
    let good = |part: &&str| !part.is_empty() && !part.starts_with('.') && part.chars().all(plain);
    if name.len() <= limits.name && parts.len() <= 2 && parts.iter().all(good) {
        return Ok(());
    }
    // Only a short, harmless piece of a bad name goes on.
    Err(ArchiveFault::BadName {
        entry: name.escape_default().take(limits.name).collect(),
    })
}
