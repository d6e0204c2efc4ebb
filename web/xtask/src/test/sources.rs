//! The repository's own text files, as git knows them.

use crate::place::Place;
use crate::run::output;
use anyhow::Result;
use std::fs;
use std::process::Command;

/// A text file by its path from the root.
pub struct Source {
    pub path: String,
    pub text: String,
}

/// Tracked files, and new ones that are not ignored. Those that are no UTF-8
/// text are left out.
pub fn all(place: &Place) -> Result<Vec<Source>> {
    let list = output(
        Command::new("git")
            .args(["ls-files", "--cached", "--others", "--exclude-standard"])
            .current_dir(&place.root),
    )?;
    Ok(list
        .lines()
        .filter_map(|path| {
            let text = fs::read_to_string(place.root.join(path)).ok()?;
            Some(Source {
                path: path.to_owned(),
                text,
            })
        })
        .collect())
}
