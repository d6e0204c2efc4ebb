//! How much a first visit must fetch before the app can be used, gzipped as
//! any host does it.

use crate::dist::shell;
use crate::place::Place;
use anyhow::{Context, Result, bail};
use flate2::Compression;
use flate2::write::GzEncoder;
use std::collections::BTreeSet;
use std::fs;
use std::io::Write;

/// At most so much, in KB of 1,024 bytes; `bench` compares with it too.
pub const FIRST_LOAD_LIMIT_KB: f64 = 400.0;
pub const WASM_LIMIT_KB: f64 = 300.0;

/// What a first visit weighs, in KB of 1,024 bytes after gzip -9.
pub struct Weight {
    /// The page, every file that it names, and whatever else the load check
    /// saw a start ask for: all that is needed to see and use the list of jobs,
    /// or a job that was left open on its Job screen.
    pub first_load_kb: f64,
    /// The WASM in it. The second file is not: it is asked for when the first
    /// screen stands.
    pub wasm_kb: f64,
    /// Every WASM file there is: the app's two, and the part for copies.
    pub all_wasm_kb: f64,
}

/// Weighs the built site.
pub fn weigh(place: &Place) -> Result<Weight> {
    let dist = place.dist();
    let page = fs::read_to_string(dist.join("index.html"))
        .context("there is no target/dist; run cargo xtask dist")?;
    let mut names: BTreeSet<String> = shell::own_links(&page)
        .into_iter()
        .map(str::to_owned)
        .collect();
    names.extend(seen_at_start(place));
    let mut first_load = gzip_kb(page.as_bytes())?;
    let mut wasm = 0.0;
    for name in names {
        let bytes =
            fs::read(dist.join(&name)).with_context(|| format!("index.html names {name}"))?;
        let kb = gzip_kb(&bytes)?;
        first_load += kb;
        if name.ends_with(".wasm") {
            wasm += kb;
        }
    }
    let mut all_wasm = 0.0;
    for entry in fs::read_dir(&dist)? {
        let path = entry?.path();
        if path.extension().is_some_and(|ending| ending == "wasm") {
            all_wasm += gzip_kb(&fs::read(path)?)?;
        }
    }
    Ok(Weight {
        first_load_kb: first_load,
        wasm_kb: wasm,
        all_wasm_kb: all_wasm,
    })
}

/// What the load check saw, as far as this build still has it.
fn seen_at_start(place: &Place) -> Vec<String> {
    let names: Vec<String> = fs::read(place.target.join("first-load.json"))
        .ok()
        .and_then(|bytes| serde_json::from_slice(&bytes).ok())
        .unwrap_or_default();
    names
        .into_iter()
        .filter(|name| !name.is_empty() && place.dist().join(name).is_file())
        .collect()
}

pub fn check(place: &Place) -> Result<()> {
    let weight = weigh(place)?;
    println!(
        "first load {:.1} KB, at most {FIRST_LOAD_LIMIT_KB}; its WASM {:.1} KB, at most \
         {WASM_LIMIT_KB}; all WASM, with what comes later, {:.1} KB (gzip -9)",
        weight.first_load_kb, weight.wasm_kb, weight.all_wasm_kb
    );
    if weight.first_load_kb > FIRST_LOAD_LIMIT_KB || weight.wasm_kb > WASM_LIMIT_KB {
        bail!("a start fetches too much; target/split.txt says what is in it and why");
    }
    Ok(())
}

pub fn gzip_kb(bytes: &[u8]) -> Result<f64> {
    let mut encoder = GzEncoder::new(Vec::new(), Compression::best());
    encoder.write_all(bytes)?;
    Ok(encoder.finish()?.len() as f64 / 1024.0)
}
