//! What may stand in no file: folders of one machine, hosts of package
//! registries, marks of unfinished work, and markup made from text.

use super::sources::{self, Source};
use crate::place::Place;
use anyhow::{Result, bail};

/// Written in two halves, so that this file keeps its own rule.
const NOWHERE: [(&str, &str); 12] = [
    ("/wo", "rk/"),
    ("/ro", "ot/"),
    ("/tm", "p/"),
    ("/ho", "me/"),
    ("registry.npm", "js"),
    ("files.python", "hosted"),
    ("deb.deb", "ian.org"),
    ("static.crates", ".io"),
    ("index.crates", ".io"),
    ("TO", "DO"),
    ("FIX", "ME"),
    ("XX", "X"),
];

/// The policy of the page lets no text become markup, so such a node would
/// fail in the browser.
const NOT_IN_WEB: (&str, &str) = ("from_html_", "unchecked");

pub fn check(place: &Place) -> Result<()> {
    let found: Vec<String> = sources::all(place)?.iter().flat_map(faults).collect();
    if !found.is_empty() {
        bail!(
            "{} lines must not stand there:\n{}",
            found.len(),
            found.join("\n")
        );
    }
    Ok(())
}

fn faults(source: &Source) -> Vec<String> {
    // Lock files hold checksums, in which any letters may meet.
    if source.path.ends_with("package-lock.json") {
        return Vec::new();
    }
    let mut banned: Vec<String> = NOWHERE.iter().map(|(a, b)| format!("{a}{b}")).collect();
    if source.path.starts_with("web/") {
        banned.push(format!("{}{}", NOT_IN_WEB.0, NOT_IN_WEB.1));
    }
    source
        .text
        .lines()
        .enumerate()
        .filter_map(|(number, line)| {
            let word = banned.iter().find(|word| line.contains(word.as_str()))?;
            Some(format!("{}:{}: {word}", source.path, number + 1))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_banned_word_is_found_and_plain_text_is_not() {
        let source = |text: String| Source {
            path: "web/src/a.rs".into(),
            text,
        };
        for (a, b) in NOWHERE.iter().chain([&NOT_IN_WEB]) {
            assert_eq!(
                faults(&source(format!("// fine\n// {a}{b}"))).len(),
                1,
                "{a}{b}"
            );
        }
        assert!(faults(&source("what is still to do".into())).is_empty());
    }
}
