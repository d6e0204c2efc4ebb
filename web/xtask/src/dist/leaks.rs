//! No folder of the build machine may be in what is shipped: panic messages
//! would tell every visitor where and by whom it was built.

use crate::place::Place;
use crate::setup::wasm::cargo_home;
use anyhow::{Result, bail};
use std::env;
use std::path::PathBuf;

/// Fails if `bytes` names the workspace, the home folder or cargo's folder.
pub fn check(place: &Place, what: &str, bytes: &[u8]) -> Result<()> {
    let mut folders = vec![place.root.clone(), cargo_home()];
    folders.extend(env::current_dir());
    folders.extend(env::var_os("HOME").map(PathBuf::from));
    folders.extend(env::var_os("RUSTUP_HOME").map(PathBuf::from));
    for folder in folders {
        let needle = format!("{}/", folder.display());
        if needle.len() > 2 && find(bytes, needle.as_bytes()) {
            bail!("{what} carries the folder {needle} of this machine");
        }
    }
    Ok(())
}

fn find(bytes: &[u8], needle: &[u8]) -> bool {
    bytes.windows(needle.len()).any(|window| window == needle)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_folder_of_the_machine_is_found_and_other_text_is_not() {
        let place = Place::here().unwrap();
        let leaky = format!("panicked at {}/web/src/lib.rs", place.root.display());
        assert!(check(&place, "x", leaky.as_bytes()).is_err());
        assert!(check(&place, "x", b"panicked at src/web/src/lib.rs").is_ok());
    }
}
