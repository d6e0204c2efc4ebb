//! Holds the stylesheets to the house rules: literal colours, sizes and heights stand in tokens.css only, every token
//! used is declared, every file is listed and layered, and every class that the kit draws with has a rule.
#![allow(clippy::expect_used)]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

fn assets() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../assets/styles")
}

/// Every stylesheet: name and text without comments.
fn sheets() -> Vec<(String, String)> {
    let mut sheets: Vec<(String, String)> = fs::read_dir(assets())
        .expect("the folder of styles")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|it| it == "css"))
        .map(|path| {
            let name = path
                .file_name()
                .expect("a name")
                .to_string_lossy()
                .into_owned();
            (
                name,
                without_comments(&fs::read_to_string(&path).expect("readable")),
            )
        })
        .collect();
    sheets.sort();
    assert!(sheets.len() > 20, "the styles were found");
    sheets
}

fn without_comments(text: &str) -> String {
    let mut plain = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once("/*") {
        plain.push_str(before);
        rest = after.split_once("*/").expect("a comment ends").1;
    }
    plain + rest
}

/// The words of a line that are a number with a unit, a hex colour or a colour function.
fn literals(line: &str) -> Vec<String> {
    let words = line.split(|it: char| !(it.is_alphanumeric() || "#.-%_".contains(it)));
    words
        .filter(|word| {
            let hex = word
                .strip_prefix('#')
                .is_some_and(|it| it.len() >= 3 && it.chars().all(|c| c.is_ascii_hexdigit()));
            let unit =
                word.trim_start_matches(|it: char| it.is_ascii_digit() || it == '.' || it == '-');
            let sized = unit.len() < word.len()
                && ["px", "rem", "pt", "mm", "cm", "ms", "s"].contains(&unit);
            hex || sized
                || ["rgb", "rgba", "hsl", "hsla", "oklch", "lab", "color-mix"].contains(word)
        })
        .map(str::to_owned)
        .collect()
}

#[test]
fn literals_are_recognised() {
    for literal in [
        "color: #fff",
        "margin: 4px 0",
        "padding: .5rem",
        "transition: 160ms",
        "color: rgb(0 0 0)",
        "top: -3px",
    ] {
        assert_eq!(literals(literal).len(), 1, "{literal}");
    }
    for free in [
        "width: 100%",
        "font-size: 0.6em",
        "color: var(--ink)",
        "columns: 1fr",
        "z-index: var(--z-bar)",
    ] {
        assert!(literals(free).is_empty(), "{free}");
    }
}

#[test]
fn literal_colours_and_sizes_stand_in_tokens_only() {
    let mut found = Vec::new();
    for (name, text) in sheets().iter().filter(|it| it.0 != "tokens.css") {
        // A media query cannot use a custom property; its breakpoints are the exception.
        for line in text
            .lines()
            .filter(|line| !line.trim_start().starts_with("@media"))
        {
            found.extend(
                literals(line)
                    .into_iter()
                    .map(|it| format!("{name}: {it} in {}", line.trim())),
            );
            if let Some((_, level)) = line.split_once("z-index:") {
                let level = level.split(';').next().unwrap_or_default().trim();
                if !level.starts_with("var(") {
                    found.push(format!("{name}: z-index {level}"));
                }
            }
        }
    }
    assert_eq!(found, Vec::<String>::new());
}

#[test]
fn every_token_used_is_declared_and_every_one_declared_is_used() {
    // Set at run time: where a mark sits on its photograph.
    let at_run_time = ["x", "y"];
    let mut declared = BTreeSet::new();
    let mut used = BTreeSet::new();
    for (name, text) in sheets() {
        for part in text.split("var(--").skip(1) {
            used.insert(
                part.split([')', ','])
                    .next()
                    .unwrap_or_default()
                    .trim()
                    .to_owned(),
            );
        }
        if name == "tokens.css" {
            for statement in text.split([';', '{', '}']) {
                if let Some((token, _)) = statement
                    .trim()
                    .strip_prefix("--")
                    .and_then(|it| it.split_once(':'))
                {
                    declared.insert(token.to_owned());
                }
            }
        }
    }
    let unknown: Vec<_> = used
        .iter()
        .filter(|it| !declared.contains(*it) && !at_run_time.contains(&it.as_str()))
        .collect();
    assert!(unknown.is_empty(), "used but not declared: {unknown:?}");
    let idle: Vec<_> = declared.difference(&used).collect();
    assert!(idle.is_empty(), "declared but not used: {idle:?}");
}

#[test]
fn every_sheet_is_listed_once_and_keeps_to_its_layer() {
    let index = fs::read_to_string(assets().join("index.css")).expect("the list of styles");
    for (name, text) in sheets().iter().filter(|it| it.0 != "index.css") {
        assert_eq!(
            index.matches(&format!("url(\"{name}\")")).count(),
            1,
            "{name} in index.css"
        );
        let layer = match name.as_str() {
            "reset.css" => "reset",
            "tokens.css" => "tokens",
            "base.css" => "base",
            "utilities.css" => "utilities",
            _ => "parts",
        };
        assert!(
            text.trim_start().starts_with(&format!("@layer {layer} {{")),
            "{name} begins layer {layer}"
        );
        assert_eq!(
            text.matches('{').count(),
            text.matches('}').count(),
            "{name} has its braces in pairs"
        );
    }
    assert_eq!(
        index.matches("@import").count() + 1,
        sheets().len(),
        "index.css lists nothing that is not there"
    );
}

#[test]
fn no_type_is_smaller_than_the_body() {
    for (name, text) in sheets() {
        for (_, size) in text.lines().flat_map(|line| {
            line.match_indices("font-size:")
                .map(move |it| line.split_at(it.0 + 10))
        }) {
            let size = size.split(';').next().unwrap_or_default().trim();
            let allowed = [
                "100%",
                "var(--type-body)",
                "var(--type-title)",
                "var(--type-count)",
                "var(--type-figure)",
                "var(--type-next)",
            ];
            assert!(allowed.contains(&size), "{name}: font-size {size}");
        }
    }
}

#[test]
fn every_class_the_kit_draws_with_has_a_rule() {
    let css: String = sheets().into_iter().map(|it| it.1).collect();
    let mut missing = BTreeSet::new();
    let mut seen = 0;
    for source in kit_sources() {
        let attributes = source.split("class=\"").skip(1);
        let lists = source.split("class={classes!(\"").skip(1);
        for quoted in attributes
            .chain(lists)
            .filter_map(|it| it.split('"').next())
        {
            for class in quoted.split_whitespace() {
                seen += 1;
                let ruled = css.match_indices(&format!(".{class}")).any(|(at, found)| {
                    !css[at + found.len()..]
                        .starts_with(|it: char| it.is_alphanumeric() || it == '-' || it == '_')
                });
                if !ruled {
                    missing.insert(class.to_owned());
                }
            }
        }
    }
    assert!(seen > 50, "the kit was read");
    assert_eq!(missing, BTreeSet::new());
}

fn kit_sources() -> Vec<String> {
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join("src/kit")];
    let mut sources = Vec::new();
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).expect("the kit") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|it| it == "rs") {
                sources.push(fs::read_to_string(path).expect("readable"));
            }
        }
    }
    sources
}
