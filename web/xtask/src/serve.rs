//! `serve`, which a person uses, and `static`, which tests drive by lines on
//! its standard input.

use crate::dist;
use crate::place::Place;
use crate::server::Server;
use anyhow::{Context, Result, bail};
use serde_json::json;
use std::io::{BufRead, Write};
use std::path::{Path, PathBuf};
use std::thread;

/// Builds the release app and serves it until the person stops it.
pub fn serve(place: &Place, mut args: impl Iterator<Item = String>) -> Result<()> {
    let mut port = 8080;
    while let Some(arg) = args.next() {
        match arg.as_str() {
            "--port" => port = args.next().context("--port needs a number")?.parse()?,
            other => bail!("serve takes --port N, not `{other}`"),
        }
    }
    let folder = dist::app(place)?;
    let server = Server::start(&folder, port)?;
    println!(
        "Countback is at http://{} (Ctrl-C stops it)",
        server.address()
    );
    loop {
        thread::park();
    }
}

/// Serves a folder for a test: prints the port, then obeys one command a
/// line and answers each with one line. Ends when its input does, so it
/// never outlives the test that started it.
///
/// `hits` answers JSON; `reset`, `clear`, `fault ...`, `dir FOLDER`, `stop`
/// and `start` answer `ok`, or `error: ...`.
pub fn static_folder(mut args: impl Iterator<Item = String>) -> Result<()> {
    let mut port = 0;
    let mut folder = None;
    while let Some(arg) = args.next() {
        let mut value = || args.next().with_context(|| format!("{arg} needs a value"));
        match arg.as_str() {
            "--port" => port = value()?.parse()?,
            "--dir" => folder = Some(PathBuf::from(value()?)),
            other => bail!("static takes --port N and --dir FOLDER, not `{other}`"),
        }
    }
    let mut folder = folder.context("static needs --dir FOLDER")?;
    let mut server = Some(Server::start(&folder, port)?);
    let port = server
        .as_ref()
        .map_or(port, |server| server.address().port());
    say(&port.to_string())?;
    for line in std::io::stdin().lock().lines() {
        let line = line?;
        let answer = obey(line.trim(), &mut server, &mut folder, port)
            .unwrap_or_else(|fault| format!("error: {fault:#}"));
        say(&answer)?;
    }
    Ok(())
}

fn obey(
    line: &str,
    server: &mut Option<Server>,
    folder: &mut PathBuf,
    port: u16,
) -> Result<String> {
    let (word, rest) = line.split_once(' ').unwrap_or((line, ""));
    match (word, &server) {
        ("stop", _) => *server = None,
        ("start", None) => *server = Some(Server::start(folder, port)?),
        ("start", Some(_)) => {}
        ("hits", Some(server)) => {
            let hits: Vec<_> = server
                .hits()
                .iter()
                .map(|hit| json!({"path": hit.path, "status": hit.status}))
                .collect();
            return Ok(json!(hits).to_string());
        }
        ("reset", Some(server)) => server.reset_hits(),
        ("clear", Some(server)) => server.clear_faults(),
        ("fault", Some(server)) => server.add_fault(rest.parse()?),
        ("dir", _) => {
            Path::new(rest).clone_into(folder);
            if let Some(server) = server {
                server.set_folder(folder);
            }
        }
        (_, None) => bail!("the server is stopped"),
        _ => bail!("no such command: {line}"),
    }
    Ok("ok".to_owned())
}

fn say(line: &str) -> Result<()> {
    let mut out = std::io::stdout().lock();
    writeln!(out, "{line}")?;
    out.flush()?;
    Ok(())
}
