//! The one developer command: serve, test, bench, dist. This file only reads
//! the command line; each chore lives in the module of its name.

mod bench;
mod dist;
mod place;
mod policy;
mod run;
mod serve;
mod server;
mod setup;
mod test;

use anyhow::{Result, bail};
use place::Place;
use std::process::ExitCode;

const USAGE: &str = "\
usage: cargo xtask COMMAND

  serve [--port N]     build the release app and serve it on 127.0.0.1:8080
  test [--only STEP]   every check (--list names the steps)
  bench [--only PART]  the figures, into target/bench.json
  dist [--hello]       build the static site into target/dist
                       (--hello: the bare page, into target/hello-dist;
                       --quick: fast and large, into target/quick-dist)
  static --dir FOLDER [--port N]
                       serve a folder for a test, which drives it by lines
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
                None | Some("--quick") => dist::app(&place)?,
                Some("--hello") => dist::hello(&place)?,
                Some(other) => bail!("dist takes --hello or nothing, not `{other}`"),
            };
            Ok(ExitCode::SUCCESS)
        }
        Some("serve") => serve::serve(&place, args).map(|()| ExitCode::SUCCESS),
        Some("bench") => bench::run(&place, args),
        Some("test") => test::run(&place, args),
        Some("test-runner") => test::browser::test_runner(args).map(|()| ExitCode::SUCCESS),
        Some("static") => serve::static_folder(args).map(|()| ExitCode::SUCCESS),
        Some("help" | "--help" | "-h") | None => {
            println!("{USAGE}");
            Ok(ExitCode::SUCCESS)
        }
        Some(other) => bail!("no command `{other}`\n{USAGE}"),
    }
}
