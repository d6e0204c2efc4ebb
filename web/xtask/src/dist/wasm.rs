//! A cdylib crate made into what a page loads: compiled, bound to JavaScript,
//! shrunk, and searched for folders of this machine.

use super::hash;
use super::leaks;
use crate::place::Place;
use crate::run::{run, seconds};
use crate::setup::npm;
use crate::setup::wasm::{TARGET, Toolchain};
use anyhow::{Context, Result, bail};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Instant;

/// What wasm-opt does. -Oz makes the file shorter still, but what a phone
/// fetches longer: it breaks up the likeness between functions that gzip
/// lives on (558 KB against 604, on an app of 1.6 MB). In the order of their
/// names, functions that were made from one generic stand side by side, within
/// gzip's reach: 528 KB against 544. The names then go.
const SHRINK: [&str; 3] = ["-O1", "--reorder-functions-by-name", "--strip-debug"];

/// A crate that becomes one WASM file with its glue.
#[derive(Clone, Copy)]
pub struct Part {
    /// What the page calls it, and how its files are named.
    pub name: &'static str,
    /// Its folder in the workspace; a part whose folder is not there is
    /// passed over.
    pub folder: &'static str,
    pub package: &'static str,
}

/// What the page loads for one part.
pub struct Built {
    /// The ES module, with `NAME_bg.wasm` as its only default address.
    pub glue: String,
    pub wasm: Vec<u8>,
    /// Modules that crates brought along; paths below `snippets/`.
    pub snippets: PathBuf,
}

/// Builds one part with the `web` profile.
pub fn build(place: &Place, toolchain: &Toolchain, part: &Part) -> Result<Built> {
    let start = Instant::now();
    run(toolchain.cargo(place, "build").args([
        "--quiet",
        "--profile",
        place.wasm_profile(),
        "--package",
        part.package,
    ]))
    .with_context(|| format!("compiling {} to WASM", part.package))?;
    let compiled = place
        .wasm_target()
        .join(TARGET)
        .join(place.wasm_profile())
        .join(format!("{}.wasm", part.package.replace('-', "_")));
    let bytes = fs::read(&compiled)
        .with_context(|| format!("{} is no cdylib: no {}", part.package, compiled.display()))?;

    let home = place
        .wasm_target()
        .join("bound")
        .join(place.wasm_profile())
        .join(part.name);
    let stamp = home.join("stamp");
    let wanted = format!("{} {}", hash::sha256_hex(&bytes), SHRINK.join(" "));
    if !fs::read_to_string(&stamp).is_ok_and(|have| have == wanted) {
        bind_and_shrink(place, &compiled, &home, part.name)?;
        fs::write(&stamp, &wanted)?;
    }

    let wasm = fs::read(home.join("small.wasm"))?;
    let glue = fs::read_to_string(home.join(format!("{}.js", part.name)))?;
    leaks::check(place, part.package, &wasm)?;
    leaks::check(place, part.package, glue.as_bytes())?;
    println!(
        "[dist] {}: {} bytes of WASM, {} of glue, in {}",
        part.package,
        wasm.len(),
        glue.len(),
        seconds(start.elapsed())
    );
    Ok(Built {
        glue,
        wasm,
        snippets: home.join("snippets"),
    })
}

fn bind_and_shrink(place: &Place, compiled: &Path, home: &Path, name: &str) -> Result<()> {
    let _ = fs::remove_dir_all(home);
    fs::create_dir_all(home)?;
    let compiled = compiled.display().to_string();
    let out = home.display().to_string();
    wasm_bindgen_cli::wasm_bindgen::run_cli_with_args([
        "wasm-bindgen",
        "--target=web",
        "--no-typescript",
        "--remove-producers-section",
        "--out-dir",
        &out,
        "--out-name",
        name,
        &compiled,
    ])
    .context("wasm-bindgen")?;

    if place.quick {
        fs::rename(
            home.join(format!("{name}_bg.wasm")),
            home.join("small.wasm"),
        )?;
        return Ok(());
    }
    // Never --all-features: that writes imports which browsers refuse. The
    // file's own list of features already says what may be used.
    let small = home.join("small.wasm");
    run(Command::new("node")
        .arg(npm::wasm_opt(place)?)
        .arg(home.join(format!("{name}_bg.wasm")))
        .args(SHRINK)
        .arg("-o")
        .arg(&small))
    .context("wasm-opt")?;
    if fs::read(&small)?.get(..4) != Some(b"\0asm".as_slice()) {
        bail!("wasm-opt wrote something that is not WASM");
    }
    Ok(())
}
