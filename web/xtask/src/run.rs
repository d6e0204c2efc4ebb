//! Starting other programs, with errors that name the program.

use anyhow::{Context, Result, bail};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// Runs to the end with our own output; fails unless it exits with 0.
pub fn run(command: &mut Command) -> Result<()> {
    let name = name_of(command);
    let status = command
        .status()
        .with_context(|| format!("cannot start `{name}`"))?;
    if !status.success() {
        bail!("`{name}` failed ({status})");
    }
    Ok(())
}

/// Runs to the end and returns what it printed, trimmed.
pub fn output(command: &mut Command) -> Result<String> {
    let name = name_of(command);
    let out = command
        .stderr(Stdio::inherit())
        .output()
        .with_context(|| format!("cannot start `{name}`"))?;
    if !out.status.success() {
        bail!("`{name}` failed ({})", out.status);
    }
    Ok(String::from_utf8_lossy(&out.stdout).trim().to_owned())
}

/// Runs in silence for at most `limit`; true if it ended well in that time.
/// A program that is still running then is ended.
pub fn succeeds_within(command: &mut Command, limit: Duration) -> bool {
    let Ok(mut child) = command
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
    else {
        return false;
    };
    let start = Instant::now();
    loop {
        match child.try_wait() {
            Ok(Some(status)) => return status.success(),
            Ok(None) if start.elapsed() < limit => std::thread::sleep(Duration::from_millis(50)),
            Ok(None) | Err(_) => {
                let _ = child.kill();
                let _ = child.wait();
                return false;
            }
        }
    }
}

/// Seconds for people: `0.4 s`, `12.0 s`.
pub fn seconds(elapsed: Duration) -> String {
    format!("{:.1} s", elapsed.as_secs_f64())
}

fn name_of(command: &Command) -> String {
    let program = command.get_program().to_string_lossy();
    let short = program.rsplit('/').next().unwrap_or(&program).to_owned();
    command
        .get_args()
        .filter_map(|arg| arg.to_str())
        .take(3)
        .fold(short, |name, arg| format!("{name} {arg}"))
}
