//! Chromium and its driver, for every test that needs a real browser.

use super::apt;
use anyhow::{Result, bail};
use std::path::{Path, PathBuf};

/// What keeps a headless Chromium from talking to anyone but the test server.
pub const FLAGS: [&str; 8] = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
];

/// With fonts, since a page without any cannot be looked at.
const PACKAGES: [&str; 4] = [
    "chromium",
    "chromium-driver",
    "fonts-dejavu-core",
    "fonts-liberation",
];

/// Chromium without windows: the end-to-end tests take a third less time by it,
/// and do without where it is not to be had.
const SHELL: &str = "chromium-headless-shell";

/// The two programs of a browser test.
pub struct Browser {
    pub chromium: PathBuf,
    pub driver: PathBuf,
}

/// Finds the browser, installing it if it is not there.
pub fn ensure() -> Result<Browser> {
    let browser = Browser {
        chromium: PathBuf::from("/usr/bin/chromium"),
        driver: PathBuf::from("/usr/bin/chromedriver"),
    };
    let there = |path: &Path| path.exists();
    if !there(&browser.chromium) || !there(&browser.driver) {
        let all: Vec<&str> = PACKAGES.into_iter().chain([SHELL]).collect();
        if apt::ensure(&all, "browser tests").is_err() {
            apt::ensure(&PACKAGES, "browser tests")?;
        }
    }
    if !there(&browser.chromium) || !there(&browser.driver) {
        bail!(
            "no /usr/bin/chromium or /usr/bin/chromedriver; get them with: apt-get install chromium chromium-driver"
        );
    }
    Ok(browser)
}
