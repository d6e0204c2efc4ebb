//! The checks that need only the host's own compiler.

use crate::place::Place;
use crate::run::{output, run};
use crate::setup::wasm::cargo;
use anyhow::{Result, bail};
use std::fs;
use std::path::PathBuf;
use std::process::Command;

pub fn format(place: &Place) -> Result<()> {
    run(command(place).args(["fmt", "--all", "--check"]))
}

pub fn clippy(place: &Place) -> Result<()> {
    run(command(place)
        .args([
            "clippy",
            "--quiet",
            "--locked",
            "--workspace",
            "--all-targets",
        ])
        .args(["--", "-D", "warnings"]))
}

/// Core, the checks against published sources, and this command's own.
pub fn tests(place: &Place) -> Result<()> {
    run(command(place)
        .args(["test", "--quiet", "--locked"])
        .args([
            "--package",
            "countback-core",
            "--package",
            "countback-checks",
        ])
        .args(["--package", "countback-web", "--package", "countback-lazy"])
        .args(["--package", "countback-xtask"]))
}

/// Notes how the work tree stands before the checks.
pub fn remember_tree(place: &Place) -> Result<()> {
    fs::create_dir_all(&place.target)?;
    fs::write(memo(place), tree_state(place)?)?;
    Ok(())
}

/// Fails if a check wrote to a tracked file or left a new one.
pub fn unchanged(place: &Place) -> Result<()> {
    let now = tree_state(place)?;
    if fs::read_to_string(memo(place))? != now {
        bail!("the checks changed files of the repository:\n{now}");
    }
    Ok(())
}

fn tree_state(place: &Place) -> Result<String> {
    let git = |args: &[&str]| output(Command::new("git").args(args).current_dir(&place.root));
    Ok(git(&["status", "--porcelain"])? + &git(&["diff", "--stat"])?)
}

fn memo(place: &Place) -> PathBuf {
    place.target.join("tree-before-test")
}

fn command(place: &Place) -> Command {
    let mut command = Command::new(cargo());
    command.current_dir(&place.root);
    command
}
