//! A compiler for wasm32-unknown-unknown: rustup's own target where it can be
//! had in fifteen seconds, else Debian's compiler with a private standard
//! library (see `sysroot`). What ships is built with a private library in
//! either case, made to be small, wherever its source can be had.

use super::say;
use super::sysroot::{self, Kind};
use crate::place::Place;
use crate::run::{output, succeeds_within};
use anyhow::{Context, Result, bail};
use std::env;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Duration;

pub const TARGET: &str = "wasm32-unknown-unknown";

/// Set to `debian` to pass over rustup's target, as where it cannot be had.
const CHOICE: &str = "COUNTBACK_WASM";

/// How to call cargo for WASM builds.
#[derive(Debug)]
pub enum Toolchain {
    /// The host compiler has the target.
    Host,
    /// Debian's compiler, our own build of its library, rustup's linker.
    Private {
        rustc: PathBuf,
        sysroot: PathBuf,
        linker: PathBuf,
    },
}

/// A compiler and where the source of its standard library lies.
#[derive(Clone, Debug)]
pub struct Source {
    pub rustc: PathBuf,
    /// Holds `src/rust`, and the host's own library.
    pub hostlib: PathBuf,
}

impl Toolchain {
    /// Finds or makes a compiler for the target.
    pub fn ensure(place: &Place) -> Result<Self> {
        let host = host_sysroot()?;
        if env::var(CHOICE).is_ok_and(|choice| choice == "debian") {
            return sysroot::ensure(place, &host, &sysroot::debian()?, Kind::Plain);
        }
        let std = host.join("lib/rustlib").join(TARGET).join("lib");
        if std.is_dir() {
            return Ok(Self::Host);
        }
        if let Ok(debian) = sysroot::debian_as_it_is()
            && let Some(private) = sysroot::existing(place, &host, &debian, Kind::Plain)
        {
            return Ok(private);
        }
        say(&format!("rustup target add {TARGET} (15 s at most)"));
        let mut add = Command::new("rustup");
        add.args(["target", "add", TARGET]);
        if succeeds_within(&mut add, Duration::from_secs(15)) && std.is_dir() {
            return Ok(Self::Host);
        }
        say("rustup did not answer; taking Debian's compiler and its library's source");
        sysroot::ensure(place, &host, &sysroot::debian()?, Kind::Plain)
    }

    /// The toolchain for what ships. Where no source of the library can be
    /// had, the plain one: the app is then larger and otherwise the same.
    pub fn for_shipping(place: &Place) -> Result<Self> {
        let host = host_sysroot()?;
        let source = source(&host).or_else(|_| sysroot::debian());
        match source.and_then(|source| sysroot::ensure(place, &host, &source, Kind::Small)) {
            Ok(small) => Ok(small),
            Err(fault) => {
                say(&format!(
                    "no small standard library: {fault:#}; the app comes out larger"
                ));
                Self::ensure(place)
            }
        }
    }

    /// `cargo SUBCOMMAND` for the target, with the machine's folders kept out
    /// of panic messages and a target folder of its own.
    pub fn cargo(&self, place: &Place, subcommand: &str) -> Command {
        let mut command = Command::new(cargo());
        command
            .arg(subcommand)
            .args(["--locked", "--target", TARGET])
            .env("CARGO_TARGET_DIR", place.wasm_target())
            .env_remove("RUSTFLAGS")
            .current_dir(&place.root);
        let mut flags = remaps(place);
        if let Self::Private {
            rustc,
            sysroot,
            linker,
        } = self
        {
            flags.push(format!("--sysroot={}", sysroot.display()));
            command
                .env("RUSTC", rustc)
                .env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER", linker);
        }
        command.env("CARGO_ENCODED_RUSTFLAGS", flags.join("\u{1f}"));
        command
    }
}

/// The cargo that started us, past any wrapper.
pub fn cargo() -> PathBuf {
    env::var_os("CARGO").map_or_else(|| PathBuf::from("cargo"), PathBuf::from)
}

/// Where cargo keeps the sources of other crates.
pub fn cargo_home() -> PathBuf {
    env::var_os("CARGO_HOME").map_or_else(
        || Path::new(&env::var_os("HOME").unwrap_or_default()).join(".cargo"),
        PathBuf::from,
    )
}

/// The host's own compiler, with the library's source from rustup; Debian's
/// where that was asked for.
fn source(host: &Path) -> Result<Source> {
    if env::var(CHOICE).is_ok_and(|choice| choice == "debian") {
        bail!("Debian's compiler was asked for");
    }
    let hostlib = host.join("lib/rustlib");
    let src = hostlib.join("src/rust/library");
    if !src.exists() {
        say("rustup component add rust-src (15 s at most)");
        let mut add = Command::new("rustup");
        add.args(["component", "add", "rust-src"]);
        if !succeeds_within(&mut add, Duration::from_secs(15)) || !src.exists() {
            bail!("rustup did not answer");
        }
    }
    Ok(Source {
        rustc: host.join("bin/rustc"),
        hostlib,
    })
}

/// Short names for every folder that a panic message could name. The last
/// that fits counts, so the narrower ones come later.
fn remaps(place: &Place) -> Vec<String> {
    let mut folders = vec![(cargo_home(), "cargo"), (place.root.clone(), "src")];
    // Where rustup has fetched the library's source, panic messages name it by
    // its folder, and no longer by the compiler's commit.
    if let Ok(host) = host_sysroot() {
        folders.push((host.join("lib/rustlib/src/rust"), "rust"));
    }
    let registries = fs::read_dir(cargo_home().join("registry/src"));
    for registry in registries.into_iter().flatten().flatten() {
        folders.push((registry.path(), "crates"));
    }
    folders
        .iter()
        .map(|(folder, name)| format!("--remap-path-prefix={}={name}", folder.display()))
        .collect()
}

fn host_sysroot() -> Result<PathBuf> {
    output(
        Command::new("rustc")
            .env_remove("RUSTC")
            .args(["--print", "sysroot"]),
    )
    .map(PathBuf::from)
    .context("rustc does not run; get it from rustup.rs")
}
