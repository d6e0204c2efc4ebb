//! The one developer command: serve, test, bench, dist. This file only reads
//! the command line; each chore lives in the module of its name.

mod dist;
mod place;
mod policy;
mod run;
mod setup;

use anyhow::{Result, bail};
use place::Place;
use std::process::ExitCode;

const USAGE: &str = "\
usage: cargo xtask COMMAND

  dist [--hello]       build the static site into target/dist
                       (--hello: the bare page, into target/hello-dist)
  help                 this text";

fn main() -> ExitCode {
    match dispatch() {
        Ok(code) => code,
        Err(fault) => {
            eprintln!("error: {fault:#}");
            ExitCode::FAILURE
        }
    }
}

fn dispatch() -> Result<ExitCode> {
    let place = Place::here()?;
    let mut args = std::env::args().skip(1);
    match args.next().as_deref() {
        Some("dist") => {
            match args.next().as_deref() {
                None => dist::app(&place)?,
                Some("--hello") => dist::hello(&place)?,
                Some(other) => bail!("dist takes --hello or nothing, not `{other}`"),
            };
            Ok(ExitCode::SUCCESS)
        }
        Some("help" | "--help" | "-h") | None => {
            println!("{USAGE}");
            Ok(ExitCode::SUCCESS)
        }
        Some(other) => bail!("no command `{other}`\n{USAGE}"),
    }
}
