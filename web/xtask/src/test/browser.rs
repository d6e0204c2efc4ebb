//! The checks that need Chromium.

use crate::place::Place;
use crate::run::run;
use crate::setup::wasm::Toolchain;
use crate::setup::{browser, npm};
use anyhow::{Context, Result, bail};
use serde_json::json;
use std::env;
use std::fs;
use std::process::Command;

/// The web crate's own tests, each binary in a fresh browser session.
pub fn wasm_tests(place: &Place) -> Result<()> {
    let browser = browser::ensure()?;
    let toolchain = Toolchain::ensure(place)?;
    let me = env::current_exe().context("finding this program")?;
    fs::create_dir_all(&place.target)?;
    let capabilities = place.target.join("webdriver.json");
    let options = json!({"goog:chromeOptions": {
        "args": browser::FLAGS,
        "binary": browser.chromium,
    }});
    fs::write(&capabilities, options.to_string())?;
    run(toolchain
        .cargo(place, "test")
        .args(["--package", "countback-web", "--lib", "--tests"])
        .env(
            "CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUNNER",
            format!("{} test-runner", me.display()),
        )
        .env("CHROMEDRIVER", browser.driver)
        .env("WASM_BINDGEN_TEST_WEBDRIVER_JSON", capabilities)
        .env("WASM_BINDGEN_TEST_TIMEOUT", "120"))
}

/// Runs one test binary, as cargo asks of its runner.
pub fn test_runner(args: impl Iterator<Item = String>) -> Result<()> {
    let args = std::iter::once("wasm-bindgen-test-runner".to_owned()).chain(args);
    wasm_bindgen_cli::wasm_bindgen_test_runner::run_cli_with_args(args)
}

/// Loads what ships: every WASM file compiles, the app starts, nothing
/// complains and nothing is asked for that is not there.
pub fn load(place: &Place) -> Result<()> {
    node(place)?;
    run(script(place)?.arg("tests/browser/load.mjs"))
}

/// Every `*.test.mjs` under tests/browser, one file at a time: two browsers
/// on two cores would disturb each other's clocks.
pub fn end_to_end(place: &Place) -> Result<()> {
    node(place)?;
    let mut files: Vec<_> = fs::read_dir(place.root.join("tests/browser"))?
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter(|name| name.ends_with(".test.mjs"))
        .map(|name| format!("tests/browser/{name}"))
        .collect();
    files.sort();
    if files.is_empty() {
        bail!("no end-to-end tests under tests/browser");
    }
    run(script(place)?
        .args(["--test", "--test-concurrency=1", "--test-reporter=spec"])
        .args(files))
}

/// Fetches what the scripts import.
pub fn node(place: &Place) -> Result<()> {
    browser::ensure()?;
    npm::browser_tests(place)
}

/// Node in the root, knowing this program for the server it starts.
pub fn script(place: &Place) -> Result<Command> {
    let mut command = Command::new("node");
    command
        .current_dir(&place.root)
        .env("COUNTBACK_XTASK", env::current_exe()?);
    Ok(command)
}
