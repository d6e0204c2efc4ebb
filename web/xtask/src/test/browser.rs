//! The checks that need Chromium.

use crate::place::Place;
use crate::run::{output, run};
use crate::setup::wasm::Toolchain;
use crate::setup::{browser, npm};
use anyhow::{Context, Result, bail};
use serde_json::json;
use std::env;
use std::fs;
use std::process::Command;
use std::sync::Mutex;
use std::thread;

/// Tests of the web crate's own that need a browser. After two of them the page
/// is of no use, so they have one each.
const IN_BROWSER: [&str; 3] = ["together", "crash", "stop_after_bug"];

/// So many browsers at a time: two cores, and a browser waits much.
const AT_A_TIME: usize = 3;

/// The web crate's own tests, each binary in a browser session of its own.
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
    let built = output(
        toolchain
            .cargo(place, "test")
            .args(["--package", "countback-web", "--no-run", "--quiet"])
            .args(IN_BROWSER.iter().flat_map(|name| ["--test", name]))
            .args(["--message-format", "json-render-diagnostics"])
            // Symbols are four fifths of a test's WASM, and most of the time it takes to get ready.
            .env("CARGO_PROFILE_DEV_DEBUG", "false"),
    )?;
    let binaries: Vec<String> = built.lines().filter_map(test_binary).collect();
    if binaries.is_empty() {
        bail!("cargo built no tests of countback-web");
    }
    let waiting = Mutex::new(binaries.into_iter());
    let next = || waiting.lock().ok()?.next();
    let work = || {
        let mut failed = Vec::new();
        while let Some(binary) = next() {
            let ran = Command::new(&me)
                .args(["test-runner", &binary])
                .current_dir(place.root.join("web"))
                .env("CHROMEDRIVER", &browser.driver)
                .env("WASM_BINDGEN_TEST_WEBDRIVER_JSON", &capabilities)
                .env("WASM_BINDGEN_TEST_TIMEOUT", "120")
                .output();
            let name = binary.rsplit('/').next().unwrap_or_default();
            let (passed, said) = match &ran {
                Ok(out) => (
                    out.status.success(),
                    [out.stdout.as_slice(), out.stderr.as_slice()].concat(),
                ),
                Err(fault) => (false, fault.to_string().into_bytes()),
            };
            println!("-- {name}\n{}", String::from_utf8_lossy(&said).trim_end());
            if !passed {
                failed.push(name.to_owned());
            }
        }
        failed
    };
    let failed: Vec<String> = thread::scope(|scope| {
        let workers: Vec<_> = (0..AT_A_TIME).map(|_| scope.spawn(work)).collect();
        workers
            .into_iter()
            .flat_map(|worker| {
                worker
                    .join()
                    .unwrap_or_else(|_| vec!["a worker of this step".to_owned()])
            })
            .collect()
    });
    if !failed.is_empty() {
        bail!("failed: {}", failed.join(", "));
    }
    Ok(())
}

/// The test binary that a line of cargo's messages tells of.
fn test_binary(line: &str) -> Option<String> {
    let message: serde_json::Value = serde_json::from_str(line).ok()?;
    (message["profile"]["test"] == true)
        .then(|| message["executable"].as_str().map(str::to_owned))
        .flatten()
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

/// Every `*.test.mjs` under tests/browser, some files at a time, and then the
/// measuring one alone. What is timed is in the benches, which run alone.
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
    let (alone, together): (Vec<_>, Vec<_>) = files
        .into_iter()
        .partition(|name| name.ends_with("/measure.test.mjs"));
    for (files, at_a_time) in [(together, AT_A_TIME), (alone, 1)] {
        if !files.is_empty() {
            run(script(place)?
                .args(["--test", "--test-reporter=spec"])
                .arg(format!("--test-concurrency={at_a_time}"))
                .args(files))?;
        }
    }
    Ok(())
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
