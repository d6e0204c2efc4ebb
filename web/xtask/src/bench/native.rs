//! The core's own times, from the measuring programs of the checks crate:
//! every binary there whose name begins with `bench` prints rows.

use super::row::{self, Row};
use crate::place::Place;
use crate::run::output;
use crate::setup::wasm::cargo;
use anyhow::{Context, Result, bail};
use std::fs;
use std::process::Command;

pub fn rows(place: &Place, rows: &mut Vec<Row>) -> Result<()> {
    let folder = place.root.join("tests/checks/src/bin");
    let mut names: Vec<String> = fs::read_dir(&folder)
        .into_iter()
        .flatten()
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter_map(|name| name.strip_suffix(".rs").map(str::to_owned))
        .filter(|name| name.starts_with("bench"))
        .collect();
    names.sort();
    if names.is_empty() {
        bail!("no bench*.rs under tests/checks/src/bin");
    }
    for name in names {
        let text = output(
            Command::new(cargo())
                .current_dir(&place.root)
                .args(["run", "--quiet", "--release", "--locked"])
                .args(["--package", "countback-checks", "--bin", &name]),
        )?;
        rows.extend(row::from_output(&text).with_context(|| name.clone())?);
    }
    Ok(())
}
