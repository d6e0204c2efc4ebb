//! A cdylib crate made into what a page loads: compiled, bound to JavaScript,
//! shrunk, and searched for folders of this machine.

use super::hash;
use super::leaks;
use super::split;
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
const SHRINK: [&str; 6] = [
    "--inlining-optimizing",
    "--one-caller-inline-max-function-size",
    "60",
    "-O1",
    "--reorder-functions-by-name",
    "--strip-debug",
];

/// The files that come out.
const SMALL: &str = "small.wasm";
const LATER: &str = "later.wasm";

/// A crate that becomes one WASM file with its glue.
#[derive(Clone, Copy)]
pub struct Part {
    /// What the page calls it, and how its files are named.
    pub name: &'static str,
    /// Its folder in the workspace; a part whose folder is not there is
    /// passed over.
    pub folder: &'static str,
    pub package: &'static str,
    /// The list of what may come in a second file, where there is one.
    pub later: Option<&'static str>,
}

/// What the page loads for one part.
pub struct Built {
    /// The ES module, with `NAME_bg.wasm` as its only default address.
    pub glue: String,
    pub wasm: Vec<u8>,
    /// The second file, which the first screen does without.
    pub later: Option<Vec<u8>>,
    /// Modules that crates brought along; paths below `snippets/`.
    pub snippets: PathBuf,
}

/// Builds one part with the `web` profile.
pub fn build(place: &Place, toolchain: &Toolchain, part: &Part) -> Result<Built> {
    let start = Instant::now();
    // Not for work on a screen: that is to be built fast.
    let later = part.later.filter(|_| !place.quick);
    let later = later
        .map(|path| fs::read_to_string(place.root.join(path)).with_context(|| path.to_owned()))
        .transpose()?;
    let mut compile = toolchain.cargo(place, "rustc");
    compile
        .args(["--quiet", "--lib", "--profile", place.wasm_profile()])
        .args(["--package", part.package]);
    if later.is_some() {
        compile.args(["--", "-Clink-arg=--emit-relocs"]);
    }
    run(&mut compile).with_context(|| format!("compiling {} to WASM", part.package))?;
    let compiled = compiled(place, part.package);
    let bytes = fs::read(&compiled)
        .with_context(|| format!("{} is no cdylib: no {}", part.package, compiled.display()))?;

    let home = place
        .wasm_target()
        .join("bound")
        .join(place.wasm_profile())
        .join(part.package);
    let stamp = home.join("stamp");
    let mut wanted = format!("{} {}", hash::sha256_hex(&bytes), SHRINK.join(" "));
    if let Some(later) = &later {
        let code = split::CODE.concat() + later;
        wanted += &format!(" {}", hash::sha256_hex(code.as_bytes()));
    }
    if !fs::read_to_string(&stamp).is_ok_and(|have| have == wanted) {
        let _ = fs::remove_dir_all(&home);
        fs::create_dir_all(&home)?;
        match &later {
            Some(later) => bind_and_split(place, &bytes, &home, part.name, later)?,
            None => {
                let bound = bind(&compiled, &home, part.name)?;
                shrink(place, &bound, &home.join(SMALL))?;
            }
        }
        fs::write(&stamp, &wanted)?;
    }

    let wasm = fs::read(home.join(SMALL))?;
    let glue = fs::read_to_string(home.join(format!("{}.js", part.name)))?;
    let (glue, later) = match later {
        Some(_) => (split::glue(&glue)?, Some(fs::read(home.join(LATER))?)),
        None => (glue, None),
    };
    leaks::check(place, part.package, &wasm)?;
    leaks::check(place, part.package, later.as_deref().unwrap_or_default())?;
    leaks::check(place, part.package, glue.as_bytes())?;
    println!(
        "[dist] {}: {} bytes of WASM, {} more for later, {} of glue, in {}",
        part.package,
        wasm.len(),
        later.as_ref().map_or(0, Vec::len),
        glue.len(),
        seconds(start.elapsed())
    );
    Ok(Built {
        glue,
        wasm,
        later,
        snippets: home.join("snippets"),
    })
}

/// Where the compiler leaves a package's WASM.
pub fn compiled(place: &Place, package: &str) -> PathBuf {
    place
        .wasm_target()
        .join(TARGET)
        .join(place.wasm_profile())
        .join(format!("{}.wasm", package.replace('-', "_")))
}

/// What wasm-bindgen makes of a compiled file, with the linker's own names.
fn bind(compiled: &Path, home: &Path, name: &str) -> Result<PathBuf> {
    let compiled = compiled.display().to_string();
    let out = home.display().to_string();
    wasm_bindgen_cli::wasm_bindgen::run_cli_with_args([
        "wasm-bindgen",
        "--target=web",
        "--no-typescript",
        "--no-demangle",
        "--remove-producers-section",
        "--out-dir",
        &out,
        "--out-name",
        name,
        &compiled,
    ])
    .context("wasm-bindgen")?;
    Ok(home.join(format!("{name}_bg.wasm")))
}

/// Two files in place of one, and a list of what went where and why.
fn bind_and_split(
    place: &Place,
    linked: &[u8],
    home: &Path,
    name: &str,
    later: &str,
) -> Result<()> {
    let plan = split::plan(linked, later).context("planning the second file")?;
    let plain = home.join("plain.wasm");
    fs::write(&plain, split::without_relocations(linked)?)?;
    let bound = bind(&plain, home, name)?;
    let carved = split::carve(&fs::read(&bound)?, &plan).context("carving the second file")?;
    for (bytes, unshrunk, to) in [
        (carved.first, "first.wasm", SMALL),
        (carved.second, "second.wasm", LATER),
    ] {
        let unshrunk = home.join(unshrunk);
        fs::write(&unshrunk, bytes)?;
        shrink(place, &unshrunk, &home.join(to))?;
    }
    let mut list = plan.report;
    for (at, name) in &carved.stand_ins {
        list.push_str(&format!("stand-in {at} {name}\n"));
    }
    fs::write(place.target.join("split.txt"), list)?;
    println!(
        "[dist] the first file stands in for {} functions and lends {}; see target/split.txt",
        carved.stand_ins.len(),
        carved.shared
    );
    Ok(())
}

fn shrink(place: &Place, from: &Path, to: &Path) -> Result<()> {
    if place.quick {
        fs::rename(from, to)?;
        return Ok(());
    }
    // Never --all-features: that writes imports which browsers refuse. The
    // file's own list of features already says what may be used.
    run(Command::new("node")
        .arg(npm::wasm_opt(place)?)
        .arg(from)
        .args(SHRINK)
        .arg("-o")
        .arg(to))
    .context("wasm-opt")?;
    if fs::read(to)?.get(..4) != Some(b"\0asm".as_slice()) {
        bail!("wasm-opt wrote something that is not WASM");
    }
    Ok(())
}
