//! A site in memory: path -> bytes. It is written whole beside the old one
//! and then takes its place, so that a server never sees half a site.

use super::hash;
use anyhow::{Context, Result};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// Every file of a site, by its path from the site's root, with `/`.
#[derive(Default)]
pub struct Tree(pub BTreeMap<String, Vec<u8>>);

impl Tree {
    /// Adds a file under a name that never changes.
    pub fn add(&mut self, path: impl Into<String>, bytes: Vec<u8>) {
        self.0.insert(path.into(), bytes);
    }

    /// Adds a file named after its content, `stem-<hash>suffix`, and returns
    /// the name.
    pub fn add_hashed(&mut self, stem: &str, suffix: &str, bytes: Vec<u8>) -> String {
        let name = format!("{stem}-{}{suffix}", hash::name_hash(&bytes));
        self.add(name.clone(), bytes);
        name
    }

    /// Adds every file under `from` as `prefix/...`, but no dot files and no
    /// notes to developers. A folder that is not there adds nothing.
    pub fn add_folder(&mut self, from: &Path, prefix: &str) -> Result<()> {
        if !from.is_dir() {
            return Ok(());
        }
        for entry in fs::read_dir(from).with_context(|| format!("reading {}", from.display()))? {
            let path = entry?.path();
            let name = path
                .file_name()
                .unwrap_or_default()
                .to_string_lossy()
                .into_owned();
            if name.starts_with('.') || name.ends_with(".md") {
                continue;
            }
            let inside = format!("{prefix}/{name}");
            if path.is_dir() {
                self.add_folder(&path, &inside)?;
            } else {
                self.add(inside, fs::read(&path)?);
            }
        }
        Ok(())
    }

    /// The paths with the hash of each file, in order of path.
    pub fn hashes(&self) -> Vec<(&str, String)> {
        self.0
            .iter()
            .map(|(path, bytes)| (path.as_str(), hash::sha256_hex(bytes)))
            .collect()
    }

    /// Replaces the folder `to` with this tree.
    pub fn write(&self, to: &Path) -> Result<()> {
        let new = to.with_extension("new");
        let _ = fs::remove_dir_all(&new);
        for (path, bytes) in &self.0 {
            let file = new.join(path);
            fs::create_dir_all(file.parent().unwrap_or(&new))?;
            fs::write(&file, bytes).with_context(|| format!("writing {}", file.display()))?;
        }
        let _ = fs::remove_dir_all(to);
        fs::rename(&new, to).with_context(|| format!("putting {} in place", to.display()))
    }
}
