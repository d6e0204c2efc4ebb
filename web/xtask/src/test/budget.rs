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

/// What is to be reached, in KB of 1,024 bytes; `bench` compares with it. It is
/// not reached: see "Size" in DEVELOPERS.md.
pub const FIRST_LOAD_LIMIT_KB: f64 = 400.0;
pub const WASM_LIMIT_KB: f64 = 300.0;

/// What has been reached: the check holds this much, so that the app cannot
/// grow unseen while it is above the limit. Only ever lowered.
const FIRST_LOAD_REACHED_KB: f64 = 560.0;
const WASM_REACHED_KB: f64 = 530.0;

/// What a first visit weighs, in KB of 1,024 bytes after gzip -9.
pub struct Weight {
    /// The page, every file that it names, and whatever else the load check
    /// saw a start ask for.
    pub first_load_kb: f64,
    /// The app's WASM alone.
    pub wasm_kb: f64,
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
    Ok(Weight {
        first_load_kb: first_load,
        wasm_kb: wasm,
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
        "first load {:.1} KB, at most {FIRST_LOAD_REACHED_KB}, wanted {FIRST_LOAD_LIMIT_KB}; \
         WASM {:.1} KB, at most {WASM_REACHED_KB}, wanted {WASM_LIMIT_KB} (gzip -9)",
        weight.first_load_kb, weight.wasm_kb
    );
    if weight.first_load_kb > FIRST_LOAD_REACHED_KB || weight.wasm_kb > WASM_REACHED_KB {
        bail!("the app has grown; make it smaller");
    }
    Ok(())
}

pub fn gzip_kb(bytes: &[u8]) -> Result<f64> {
    let mut encoder = GzEncoder::new(Vec::new(), Compression::best());
    encoder.write_all(bytes)?;
    Ok(encoder.finish()?.len() as f64 / 1024.0)
}
