//! Debian packages. Nothing is installed that is there already.

use super::say;
use crate::run::{output, run};
use anyhow::{Context, Result, bail};
use std::process::{Command, Stdio};

/// Installs `packages` unless all of them are there. `why` ends the sentence
/// "installing ... for".
pub fn ensure(packages: &[&str], why: &str) -> Result<()> {
    let missing: Vec<&str> = packages
        .iter()
        .copied()
        .filter(|package| !is_installed(package))
        .collect();
    if missing.is_empty() {
        return Ok(());
    }
    let list = missing.join(" ");
    let way = || format!("{list} missing for {why}; get it with: apt-get install {list}");
    say(&format!("apt-get install {list}, for {why}"));
    // Who may not install learns at once what is missing and how to get it.
    let mut update = apt(&["update", "-q"]).with_context(way)?;
    if install(&missing).is_err() {
        say("package lists may be old: apt-get update");
        run(update.stdout(Stdio::null())).with_context(way)?;
        install(&missing).with_context(way)?;
    }
    Ok(())
}

fn is_installed(package: &str) -> bool {
    Command::new("dpkg-query")
        .args(["-W", "-f=${db:Status-Status}", package])
        .stderr(Stdio::null())
        .output()
        .is_ok_and(|out| out.status.success() && out.stdout == b"installed")
}

fn install(packages: &[&str]) -> Result<()> {
    let mut command = apt(&["install", "-y", "-q", "--no-install-recommends"])?;
    run(command.args(packages).stdout(Stdio::null()))
}

fn apt(args: &[&str]) -> Result<Command> {
    let user = output(Command::new("id").arg("-u"))?;
    let mut command = if user == "0" {
        Command::new("apt-get")
    } else if Command::new("sudo")
        .args(["-n", "true"])
        .stderr(Stdio::null())
        .status()
        .is_ok_and(|status| status.success())
    {
        let mut sudo = Command::new("sudo");
        sudo.args(["-n", "apt-get"]);
        sudo
    } else {
        bail!("apt-get needs root and sudo does not answer");
    };
    command.env("DEBIAN_FRONTEND", "noninteractive").args(args);
    Ok(command)
}
