//! The figures: what ships is weighed, the core is timed natively, the app is
//! timed in Chromium against what it is compared with. Prints a table and
//! writes target/bench.json. A figure over its limit is shown as such; only
//! one that could not be taken makes the command fail.

mod native;
mod page;
mod row;
mod size;

use crate::dist;
use crate::place::Place;
use anyhow::{Context, Result, bail};
use row::Row;
use std::fs;
use std::process::ExitCode;

/// Adds the rows it can take, even where it then fails for another.
type Take = fn(&Place, &mut Vec<Row>) -> Result<()>;

const PARTS: [(&str, Take); 3] = [
    ("size", size::rows),
    ("native", native::rows),
    ("page", page::rows),
];

/// `bench`, or `bench --only PART[,PART]` to look at one; then the rows of
/// the others are kept as the last run left them.
pub fn run(place: &Place, mut args: impl Iterator<Item = String>) -> Result<ExitCode> {
    let mut only: Option<Vec<String>> = None;
    while let Some(arg) = args.next() {
        match arg.as_str() {
            "--only" => {
                let names = args.next().context("--only needs a part")?;
                only = Some(names.split(',').map(str::to_owned).collect());
            }
            other => bail!("bench takes --only size|native|page, not `{other}`"),
        }
    }
    dist::app(place)?;
    dist::hello(place)?;
    let file = place.target.join("bench.json");
    let mut rows = match only {
        Some(_) => row::read(&file),
        None => Vec::new(),
    };
    let mut untaken = Vec::new();
    for (name, take) in PARTS {
        if only
            .as_ref()
            .is_some_and(|only| !only.iter().any(|part| part == name))
        {
            continue;
        }
        println!("[bench] {name}");
        let mut new = Vec::new();
        if let Err(fault) = take(place, &mut new) {
            untaken.push(format!("{name}: {fault:#}"));
        }
        rows.retain(|old| !new.iter().any(|row: &Row| row.name == old.name));
        rows.extend(new);
    }
    fs::write(&file, row::json(&rows))?;
    print!("{}", row::table(&rows));
    let over = rows.iter().filter(|row| !row.holds()).count();
    println!(
        "{} figures, {over} outside their limit; written to target/bench.json",
        rows.len()
    );
    for gap in &untaken {
        println!("not taken: {gap}");
    }
    Ok(if untaken.is_empty() {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    })
}
