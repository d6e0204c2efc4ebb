//! The page around the app: index.html, boot.js and the manifest with their
//! blanks filled in.

use super::hash;
use super::tree::Tree;
use crate::policy;
use anyhow::{Result, bail};
use serde_json::{Map, Value, json};

/// One loadable part, by the names of its files.
pub struct Loadable {
    pub name: &'static str,
    pub js: String,
    pub wasm: String,
    /// The second file of its WASM, if there is one.
    pub later: Option<String>,
}

/// What the page must know about its build.
pub struct Config<'a> {
    pub parts: &'a [Loadable],
    /// The worker's file.
    pub worker: &'a str,
}

/// The identity of a build: changes when any file of it does.
pub fn build_id(tree: &Tree, templates: &[&str]) -> String {
    let mut text: String = tree
        .hashes()
        .iter()
        .map(|(path, hash)| format!("{hash}  {path}\n"))
        .collect();
    text.extend(
        templates
            .iter()
            .map(|template| hash::sha256_hex(template.as_bytes())),
    );
    hash::name_hash(text.as_bytes())
}

/// boot.js, which starts the app.
pub fn boot(template: &str, build: &str, config: &Config) -> Result<String> {
    let parts: Map<String, Value> = config
        .parts
        .iter()
        .map(|part| {
            let mut files =
                json!({"js": format!("./{}", part.js), "wasm": format!("./{}", part.wasm)});
            if let Some(later) = &part.later {
                files["later"] = json!(format!("./{later}"));
            }
            (part.name.to_owned(), files)
        })
        .collect();
    let worker = format!("./{}", config.worker);
    let config = json!({"build": build, "parts": parts, "worker": worker});
    fill(template, "__CONFIG__", &config.to_string())
}

/// index.html, from the names of the files that it loads. `style` is empty
/// for a page without one.
pub fn index(template: &str, boot: &str, app: &Loadable, style: &str) -> Result<String> {
    let page = fill(template, "__CSP__", &policy::for_meta())?;
    let page = fill(&page, "__BOOT__", boot)?;
    let page = fill(&page, "__APP_JS__", &app.js)?;
    let page = fill(&page, "__APP_WASM__", &app.wasm)?;
    if page.contains("__STYLE__") {
        return fill(&page, "__STYLE__", style);
    }
    Ok(page)
}

/// The site's own files that a page names in `href` and `src`.
pub fn own_links(page: &str) -> Vec<&str> {
    page.split(['"', '\''])
        .filter_map(|text| text.strip_prefix("./"))
        .filter(|text| !text.is_empty())
        .collect()
}

fn fill(template: &str, blank: &str, value: &str) -> Result<String> {
    if !template.contains(blank) {
        bail!("a template lacks its blank {blank}");
    }
    Ok(template.replace(blank, value))
}
