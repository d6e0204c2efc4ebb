//! Packages from npm, always exactly those of a committed lock file.

use super::say;
use crate::dist::hash;
use crate::place::Place;
use crate::run::run;
use anyhow::{Context, Result};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// wasm-opt as a program for Node.
pub fn wasm_opt(place: &Place) -> Result<PathBuf> {
    let home = place.tools().join("wasm-opt");
    fs::create_dir_all(&home)?;
    let from = place.root.join("web/xtask");
    for name in ["package.json", "package-lock.json", ".npmrc"] {
        fs::copy(from.join(name), home.join(name)).with_context(|| format!("copying {name}"))?;
    }
    ensure(&home, "wasm-opt (npm binaryen), which shrinks the WASM")?;
    Ok(home.join("node_modules/binaryen/bin/wasm-opt"))
}

/// playwright-core and axe-core, beside the tests that import them.
pub fn browser_tests(place: &Place) -> Result<()> {
    ensure(
        &place.root.join("tests/browser"),
        "playwright-core and axe-core for the browser tests",
    )
}

/// Brings `home`'s node_modules to what its lock file says.
fn ensure(home: &Path, what: &str) -> Result<()> {
    let lock = fs::read(home.join("package-lock.json"))?;
    let stamp = home.join("node_modules/.countback-lock");
    let wanted = hash::sha256_hex(&lock);
    if fs::read_to_string(&stamp).is_ok_and(|have| have == wanted) {
        return Ok(());
    }
    say(&format!("npm ci: {what}"));
    run(Command::new("npm")
        .args(["ci", "--ignore-scripts", "--no-fund", "--no-audit"])
        .current_dir(home)
        .stdout(Stdio::null()))
    .with_context(|| {
        format!("{what}: missing; needs Node 20 with npm and a reachable npm registry")
    })?;
    fs::write(&stamp, wanted)?;
    Ok(())
}
