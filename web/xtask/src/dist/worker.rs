//! The service worker in one file: the build's list of files, then the three
//! sources under web/sw. One file, because a worker that imports others may
//! be kept without them.

use super::tree::Tree;
use crate::place::Place;
use anyhow::{Context, Result};
use serde_json::json;
use std::fs;

/// In the order they need each other.
const SOURCES: [&str; 3] = ["cached.js", "strategies.js", "events.js"];

/// The sources, without the list of files.
pub fn source(place: &Place) -> Result<String> {
    let mut all = String::new();
    for name in SOURCES {
        let path = place.root.join("web/sw").join(name);
        all.push_str(&fs::read_to_string(&path).with_context(|| path.display().to_string())?);
        all.push('\n');
    }
    Ok(all)
}

/// The whole worker for a finished tree. The page itself goes by `./`, since
/// some hosts answer `index.html` with a redirect.
pub fn script(source: &str, build: &str, tree: &Tree) -> String {
    let files: Vec<_> = tree
        .hashes()
        .into_iter()
        .map(|(path, sha256)| {
            let address = if path == "index.html" { "" } else { path };
            json!({"path": format!("./{address}"), "sha256": sha256})
        })
        .collect();
    format!(
        "\"use strict\";\nconst BUILD = {};\nconst FILES = {};\n{source}",
        json!(build),
        json!(files)
    )
}
