//! Every check, in the order that finds the cheap faults first. Stops at the
//! first failure and closes with one line of counts.

pub mod browser;
pub mod budget;
mod host;
mod module_docs;
mod sources;
mod text_rules;

use crate::dist;
use crate::place::Place;
use crate::run::seconds;
use anyhow::{Context, Result, bail};
use std::process::ExitCode;
use std::time::Instant;

struct Step {
    name: &'static str,
    what: &'static str,
    act: fn(&Place) -> Result<()>,
}

const STEPS: [Step; 11] = [
    step("format", "rustfmt", host::format),
    step("docs", "every module says what it owns", module_docs::check),
    step(
        "text",
        "nothing of one machine, no marks of unfinished work",
        text_rules::check,
    ),
    step("clippy", "clippy, warnings as errors", host::clippy),
    step("core", "unit, property and external checks", host::tests),
    step("web", "wasm-bindgen tests in Chromium", browser::wasm_tests),
    step("dist", "the site as it ships", |place| {
        dist::app(place).map(|_| ())
    }),
    step("load", "the shipped WASM in Chromium", browser::load),
    step(
        "budget",
        "first load and WASM within their sizes",
        budget::check,
    ),
    step(
        "e2e",
        "the built app in Chromium, end to end",
        browser::end_to_end,
    ),
    step(
        "clean",
        "the checks left no tracked file changed",
        host::unchanged,
    ),
];

const fn step(name: &'static str, what: &'static str, act: fn(&Place) -> Result<()>) -> Step {
    Step { name, what, act }
}

/// `test`, `test --only STEP[,STEP]`, `test --list`.
pub fn run(place: &Place, mut args: impl Iterator<Item = String>) -> Result<ExitCode> {
    let mut only: Option<Vec<String>> = None;
    while let Some(arg) = args.next() {
        match arg.as_str() {
            "--only" => {
                let names = args.next().context("--only needs a step")?;
                only = Some(names.split(',').map(str::to_owned).collect());
            }
            "--list" => {
                for step in &STEPS {
                    println!("{:8} {}", step.name, step.what);
                }
                return Ok(ExitCode::SUCCESS);
            }
            other => bail!("test takes --only STEP or --list, not `{other}`"),
        }
    }
    if let Some(unknown) = only
        .iter()
        .flatten()
        .find(|name| !STEPS.iter().any(|step| step.name == name.as_str()))
    {
        bail!("no step `{unknown}`; see cargo xtask test --list");
    }
    let chosen = |step: &&Step| {
        only.as_ref()
            .is_none_or(|names| names.iter().any(|name| name == step.name))
    };
    host::remember_tree(place)?;
    let start = Instant::now();
    let mut passed = 0;
    for step in STEPS.iter().filter(chosen) {
        println!("== {}: {}", step.name, step.what);
        let begun = Instant::now();
        let outcome = (step.act)(place);
        let took = seconds(begun.elapsed());
        if let Err(fault) = outcome {
            println!("== {} FAILED after {took}: {fault:#}", step.name);
            println!("{passed} passed, 1 failed");
            return Ok(ExitCode::FAILURE);
        }
        println!("== {} passed in {took}", step.name);
        passed += 1;
    }
    println!("all in {}", seconds(start.elapsed()));
    println!("{passed} passed, 0 failed");
    Ok(ExitCode::SUCCESS)
}
