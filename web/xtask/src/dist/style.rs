//! All stylesheets as one file. index.css, where there is one, gives the
//! order; what it does not name comes after, by name.

use anyhow::{Context, Result};
use std::fs;
use std::path::Path;

/// The joined text; nothing where the folder is missing.
pub fn joined(folder: &Path) -> Result<String> {
    if !folder.is_dir() {
        return Ok(String::new());
    }
    let mut names: Vec<String> = fs::read_dir(folder)?
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter(|name| name.ends_with(".css") && name != "index.css")
        .collect();
    names.sort_by_key(|name| (name != "tokens.css", name != "base.css", name.clone()));
    let index = fs::read_to_string(folder.join("index.css")).unwrap_or_default();
    let (named, mut all) = order(&index);
    for name in named
        .iter()
        .chain(names.iter().filter(|name| !named.contains(name)))
    {
        let text = fs::read_to_string(folder.join(name))
            .with_context(|| format!("assets/styles/{name}"))?;
        all.push_str(&text);
        all.push('\n');
    }
    Ok(all)
}

/// The files an index imports, and the rest of its text.
fn order(index: &str) -> (Vec<String>, String) {
    let mut named = Vec::new();
    let mut rest = String::new();
    for line in index.lines() {
        let import = line
            .trim()
            .strip_prefix("@import url(\"")
            .and_then(|tail| tail.strip_suffix("\");"));
        match import {
            Some(name) => named.push(name.to_owned()),
            None => {
                rest.push_str(line);
                rest.push('\n');
            }
        }
    }
    (named, rest)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn imports_give_the_order_and_the_layer_line_stays() {
        let (named, rest) =
            order("@layer a, b;\n@import url(\"b.css\");\n@import url(\"a.css\");\n");
        assert_eq!(named, ["b.css", "a.css"]);
        assert_eq!(rest, "@layer a, b;\n");
    }
}
