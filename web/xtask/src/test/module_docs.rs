//! Every Rust file begins by saying what it owns.

use super::sources;
use crate::place::Place;
use anyhow::{Result, bail};

pub fn check(place: &Place) -> Result<()> {
    let silent: Vec<String> = sources::all(place)?
        .into_iter()
        .filter(|source| source.path.ends_with(".rs") && !says_what_it_owns(&source.text))
        .map(|source| source.path)
        .collect();
    if !silent.is_empty() {
        bail!("files that do not begin with `//!`: {}", silent.join(", "));
    }
    Ok(())
}

fn says_what_it_owns(text: &str) -> bool {
    text.strip_prefix("//!")
        .and_then(|rest| rest.lines().next())
        .is_some_and(|line| !line.trim().is_empty())
}

#[cfg(test)]
mod tests {
    use super::says_what_it_owns;

    #[test]
    fn only_a_first_line_with_words_counts() {
        assert!(says_what_it_owns("//! Owns the bags.\nfn a() {}"));
        for silent in ["", "//!\n//! later", "use std::fs;\n//! late", "// Owns"] {
            assert!(!says_what_it_owns(silent), "{silent}");
        }
    }
}
