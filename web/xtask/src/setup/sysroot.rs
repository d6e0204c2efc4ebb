//! The standard library for WASM built from its source, in a sysroot of our
//! own under target/. Two kinds: a plain one from Debian's rust-web-src, for
//! machines where rustup cannot fetch one, and a small one for what ships.
//! Nothing under the system's folders changes.

use super::wasm::{Source, TARGET, Toolchain, cargo, cargo_home};
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

/// What a library is built for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// To be as the one that rustup ships, tests included.
    Plain,
    /// To be small: built for size.
    Small,
}

impl Kind {
    fn folder(self) -> &'static str {
        match self {
            Self::Plain => "wasm-sysroot",
            Self::Small => "wasm-sysroot-small",
        }
    }

    fn opt_level(self) -> &'static str {
        match self {
            Self::Plain => "3",
            Self::Small => "\"s\"",
        }
    }

    fn cargo_flags(self) -> &'static [&'static str] {
        match self {
            // Without the last, `cargo test` stops at E0463.
            Self::Plain => &["-Zbuild-std=std,panic_abort,test"],
            Self::Small => &[
                "-Zbuild-std=std,panic_abort",
                "-Zbuild-std-features=optimize_for_size",
            ],
        }
    }
}

/// Debian's compiler with the source of its library.
pub fn debian() -> Result<Source> {
    apt::ensure(&["rustc-web", "rust-web-src"], "compiling to WASM")?;
    debian_as_it_is()
}

/// The same where it was installed earlier.
pub fn debian_as_it_is() -> Result<Source> {
    let hostlib = PathBuf::from(output(Command::new(RUSTC).args(["--print", "sysroot"]))?)
        .join("lib/rustlib");
    if !hostlib.join("src/rust").exists() {
        bail!("rust-web-src is not installed");
    }
    Ok(Source {
        rustc: PathBuf::from(RUSTC),
        hostlib,
    })
}

/// The toolchain if an earlier set-up made it for this compiler.
pub fn existing(place: &Place, host: &Path, source: &Source, kind: Kind) -> Option<Toolchain> {
    let stamp = stamp_for(place, source, kind).ok()?;
    stamp
        .exists()
        .then(|| toolchain(place, host, source, kind))
        .and_then(Result::ok)
}

/// Makes the toolchain, or finds it made.
pub fn ensure(place: &Place, host: &Path, source: &Source, kind: Kind) -> Result<Toolchain> {
    let home = home(place, kind);
    let stamp = stamp_for(place, source, kind)?;
    if !stamp.exists() {
        build(place, &home, source, kind)?;
        fs::write(stamp, "")?;
    }
    toolchain(place, host, source, kind)
}

fn home(place: &Place, kind: Kind) -> PathBuf {
    place.target.join(kind.folder())
}

fn toolchain(place: &Place, host: &Path, source: &Source, kind: Kind) -> Result<Toolchain> {
    let triple = host_triple(source)?;
    let linker = host.join("lib/rustlib").join(triple).join("bin/rust-lld");
    if !linker.exists() {
        bail!("rust-lld is missing; get a Rust toolchain from rustup.rs, it comes with one");
    }
    Ok(Toolchain::Private {
        rustc: source.rustc.clone(),
        sysroot: home(place, kind),
        linker,
    })
}

/// Names the compiler and how the library is built: either changed, the
/// library is made anew.
fn stamp_for(place: &Place, source: &Source, kind: Kind) -> Result<PathBuf> {
    let version = output(Command::new(&source.rustc).arg("-vV"))?;
    let how = kind.cargo_flags().join(" ");
    let text = format!("{version}\n{} {how}", kind.opt_level());
    let name = hash::sha256_hex(text.as_bytes());
    Ok(home(place, kind).join(format!(".{}", &name[..16])))
}

fn host_triple(source: &Source) -> Result<String> {
    let version = output(Command::new(&source.rustc).arg("-vV"))?;
    version
        .lines()
        .find_map(|line| line.strip_prefix("host: "))
        .map(str::to_owned)
        .context("rustc -vV names no host")
}

/// Builds the library and copies it into a sysroot.
fn build(place: &Place, home: &Path, source: &Source, kind: Kind) -> Result<()> {
    say("building the standard library for WASM, once (about half a minute)");
    let start = Instant::now();
    let hostlib = &source.hostlib;
    let work = place.target.join("wasm-sysroot-build");
    let _ = fs::remove_dir_all(&work);
    fs::create_dir_all(work.join("src"))?;
    fs::write(work.join("src/lib.rs"), "#![no_std]\n")?;
    fs::write(
        work.join("Cargo.toml"),
        format!(
            "[workspace]\n[package]\nname = \"mkstd\"\nversion = \"0.0.0\"\nedition = \"2021\"\n\
             [profile.release]\nopt-level = {}\ncodegen-units = 1\npanic = \"abort\"\n",
            kind.opt_level()
        ),
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
    ];
    run(Command::new(cargo())
        .args(["build", "-q", "--release", "--target", TARGET])
        .args(kind.cargo_flags())
        .current_dir(&work)
        .env("RUSTC_BOOTSTRAP", "1")
        .env("RUSTC", &source.rustc)
        .env("CARGO_ENCODED_RUSTFLAGS", flags.join("\u{1f}"))
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
    for name in [host_triple(source)?, "src".into(), "etc".into()] {
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
