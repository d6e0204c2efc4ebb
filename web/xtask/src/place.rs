//! Where things lie: the workspace and what is kept under target/.

use anyhow::{Context, Result};
use std::path::{Path, PathBuf};

/// The folders every chore starts from.
#[derive(Clone, Debug)]
pub struct Place {
    /// The workspace root.
    pub root: PathBuf,
    /// Everything made by a build or a set-up; safe to delete.
    pub target: PathBuf,
    /// For work on a screen: builds fast and large, into its own site. Never
    /// what is tested, measured or shipped.
    pub quick: bool,
}

impl Place {
    /// The workspace this command is run in: cargo says so. A target folder that
    /// was copied holds a command that was built from another.
    pub fn here() -> Result<Self> {
        let home = std::env::var_os("CARGO_MANIFEST_DIR");
        let home = home.unwrap_or_else(|| env!("CARGO_MANIFEST_DIR").into());
        let root = Path::new(&home)
            .join("../..")
            .canonicalize()
            .context("the folder this command was built from is gone; build it again")?;
        let target = root.join("target");
        let quick = std::env::args().any(|arg| arg == "--quick");
        Ok(Self {
            root,
            target,
            quick,
        })
    }

    /// The static site.
    pub fn dist(&self) -> PathBuf {
        self.target
            .join(if self.quick { "quick-dist" } else { "dist" })
    }

    /// The bare Yew page that start times are compared with.
    pub fn hello_dist(&self) -> PathBuf {
        self.target.join("hello-dist")
    }

    /// The profile that WASM is built with.
    pub fn wasm_profile(&self) -> &'static str {
        if self.quick { "web-quick" } else { "web" }
    }

    /// Cargo's target folder for WASM builds. A second compiler may build
    /// them, so they never share a folder with host builds.
    pub fn wasm_target(&self) -> PathBuf {
        self.target.join("wasm")
    }

    /// Tools and packages that set-up fetched.
    pub fn tools(&self) -> PathBuf {
        self.target.join("tools")
    }
}
