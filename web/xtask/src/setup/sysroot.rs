//! The standard library for WASM built from Debian's rust-web-src, in a
//! sysroot of our own under target/, for machines where rustup cannot fetch
//! one. Nothing under the system's folders changes.

use super::wasm::{TARGET, Toolchain, cargo, cargo_home};
use super::{apt, say};
use crate::dist::hash;
use crate::place::Place;
use crate::run::{output, run, seconds};
use anyhow::{Context, Result, bail};
use std::fs;
use std::os::unix::fs::symlink;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Instant;

const RUSTC: &str = "/usr/bin/rustc";

/// The private toolchain if an earlier set-up made it for this compiler.
pub fn existing(place: &Place, host: &Path) -> Option<Toolchain> {
    let stamp = stamp_for(&home(place)).ok()?;
    stamp
        .exists()
        .then(|| toolchain(place, host))
        .and_then(Result::ok)
}

/// Makes the private toolchain, or finds it made.
pub fn ensure(place: &Place, host: &Path) -> Result<Toolchain> {
    apt::ensure(&["rustc-web", "rust-web-src"], "compiling to WASM")?;
    let home = home(place);
    let stamp = stamp_for(&home)?;
    if !stamp.exists() {
        build(place, &home)?;
        fs::write(stamp, "")?;
    }
    toolchain(place, host)
}

fn home(place: &Place) -> PathBuf {
    place.target.join("wasm-sysroot")
}

fn toolchain(place: &Place, host: &Path) -> Result<Toolchain> {
    let triple = host_triple()?;
    let linker = host.join("lib/rustlib").join(triple).join("bin/rust-lld");
    if !linker.exists() {
        bail!("rust-lld is missing; get a Rust toolchain from rustup.rs, it comes with one");
    }
    Ok(Toolchain::Private {
        rustc: PathBuf::from(RUSTC),
        sysroot: home(place),
        linker,
    })
}

fn stamp_for(home: &Path) -> Result<PathBuf> {
    let version = output(Command::new(RUSTC).arg("-vV"))?;
    Ok(home.join(format!(".{}", &hash::sha256_hex(version.as_bytes())[..16])))
}

fn host_triple() -> Result<String> {
    let version = output(Command::new(RUSTC).arg("-vV"))?;
    version
        .lines()
        .find_map(|line| line.strip_prefix("host: "))
        .map(str::to_owned)
        .context("rustc -vV names no host")
}

/// Builds std, panic_abort and test (without the last, `cargo test` stops at
/// E0463) and copies the libraries into a sysroot.
fn build(place: &Place, home: &Path) -> Result<()> {
    say("building the standard library for WASM, once (about half a minute)");
    let start = Instant::now();
    let hostlib = PathBuf::from(output(Command::new(RUSTC).args(["--print", "sysroot"]))?)
        .join("lib/rustlib");
    let work = place.target.join("wasm-sysroot-build");
    let _ = fs::remove_dir_all(&work);
    fs::create_dir_all(work.join("src"))?;
    fs::write(work.join("src/lib.rs"), "#![no_std]\n")?;
    fs::write(
        work.join("Cargo.toml"),
        "[workspace]\n[package]\nname = \"mkstd\"\nversion = \"0.0.0\"\nedition = \"2021\"\n\
         [profile.release]\nopt-level = 3\ncodegen-units = 1\npanic = \"abort\"\n",
    )?;
    // Cargo passes embed-bitcode=no by default, and the app is linked with
    // fat LTO, which needs the bitcode.
    let flags = [
        "-Cembed-bitcode=yes".to_owned(),
        format!("--remap-path-prefix={}=cargo", cargo_home().display()),
        format!(
            "--remap-path-prefix={}=rust",
            hostlib.join("src/rust").display()
        ),
    ]
    .join("\u{1f}");
    run(Command::new(cargo())
        .args(["build", "-q", "--release", "--target", TARGET])
        .arg("-Zbuild-std=std,panic_abort,test")
        .current_dir(&work)
        .env("RUSTC_BOOTSTRAP", "1")
        .env("RUSTC", RUSTC)
        .env("CARGO_ENCODED_RUSTFLAGS", flags)
        .env("CARGO_TARGET_DIR", work.join("t")))
    .context("building the standard library for WASM")?;

    let _ = fs::remove_dir_all(home);
    let lib = home.join("lib/rustlib").join(TARGET).join("lib");
    fs::create_dir_all(&lib)?;
    for entry in fs::read_dir(work.join("t").join(TARGET).join("release/deps"))? {
        let path = entry?.path();
        let name = path
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        if name.ends_with(".rlib") && !name.starts_with("libmkstd") {
            fs::copy(&path, lib.join(name))?;
        }
    }
    // Macros and build scripts still need the host's own library.
    for name in [host_triple()?, "src".into(), "etc".into()] {
        if hostlib.join(&name).exists() {
            symlink(hostlib.join(&name), home.join("lib/rustlib").join(&name))?;
        }
    }
    fs::remove_dir_all(&work)?;
    say(&format!(
        "standard library for WASM built in {}",
        seconds(start.elapsed())
    ));
    Ok(())
}
