//! Times in the page, from the scripts under tests/browser/bench. Each prints
//! rows; one that fails does not take the others with it.

use super::row::{self, Row};
use crate::place::Place;
use crate::run::{output, run};
use crate::setup::wasm::cargo;
use crate::test::browser;
use anyhow::{Result, bail};
use std::fs;
use std::process::Command;

/// As many acts as a save is timed in.
const ACTS: &str = "10000";

pub fn rows(place: &Place, rows: &mut Vec<Row>) -> Result<()> {
    browser::node(place)?;
    run(Command::new(cargo())
        .current_dir(&place.root)
        .args(["run", "--quiet", "--release", "--locked"])
        .args([
            "--package",
            "countback-checks",
            "--bin",
            "make_big_job",
            "--",
        ])
        .arg(place.target.join("bench-jobs"))
        .arg(ACTS))?;
    let mut names: Vec<String> = fs::read_dir(place.root.join("tests/browser/bench"))?
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter(|name| name.ends_with(".bench.mjs"))
        .collect();
    names.sort();
    let mut failed = Vec::new();
    for name in names {
        let taken = output(browser::script(place)?.arg(format!("tests/browser/bench/{name}")))
            .and_then(|text| row::from_output(&text));
        match taken {
            Ok(new) => rows.extend(new),
            Err(fault) => failed.push(format!("{name}: {fault:#}")),
        }
    }
    if !failed.is_empty() {
        bail!("{}", failed.join("; "));
    }
    Ok(())
}
