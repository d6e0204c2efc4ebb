//! Computes the contrast of every pair of text and ground from the tokens, in both themes, and holds the two copies of
//! the dark theme equal. The formula is WCAG 2.2's relative luminance and contrast ratio (memory of the standard; its
//! known ends are checked below: black on white is 21, a colour on itself is 1).
#![allow(clippy::expect_used, clippy::panic)]

use std::collections::BTreeMap;

const TOKENS: &str = include_str!("../../assets/styles/tokens.css");

/// Text must reach this on its ground.
const TEXT: f64 = 7.0;
/// Edges and drawings that carry meaning must reach this (WCAG 2.2, non-text contrast; memory).
const EDGE: f64 = 3.0;

/// Text token, ground token.
const TEXT_PAIRS: &[(&str, &str)] = &[
    ("ink", "paper"),
    ("ink", "leaf"),
    ("ink", "sunk"),
    ("ink", "accent-tint"),
    ("ink", "owed-tint"),
    ("ink", "settled-tint"),
    ("ink", "danger-tint"),
    ("ink-soft", "paper"),
    ("ink-soft", "leaf"),
    ("ink-soft", "sunk"),
    ("ink-soft", "accent-tint"),
    ("ink-soft", "owed-tint"),
    ("ink-soft", "danger-tint"),
    ("paper", "ink"),
    ("accent", "paper"),
    ("accent", "leaf"),
    ("accent", "accent-tint"),
    ("on-accent", "accent"),
    ("on-accent", "accent-press"),
    ("owed", "paper"),
    ("owed", "leaf"),
    ("owed", "accent-tint"),
    ("owed", "owed-tint"),
    ("settled", "paper"),
    ("settled", "leaf"),
    ("settled", "accent-tint"),
    ("settled", "settled-tint"),
    ("danger", "paper"),
    ("danger", "leaf"),
    ("danger", "accent-tint"),
    ("danger", "danger-tint"),
    ("on-danger", "danger-fill"),
    ("blocked", "paper"),
    ("blocked", "leaf"),
    ("blocked", "blocked-tint"),
    ("blocked", "accent-tint"),
    ("tag-ink", "tag-paper"),
    ("mark-ink", "mark"),
    ("mark-ink", "photo-ground"),
    ("leaf", "accent"),
    ("leaf", "owed"),
    ("leaf", "settled"),
    ("leaf", "danger"),
];

/// Edge token, ground token.
const EDGE_PAIRS: &[(&str, &str)] = &[
    ("edge", "paper"),
    ("edge", "leaf"),
    ("owed-edge", "leaf"),
    ("owed-edge", "paper"),
    ("settled-edge", "leaf"),
    ("blocked-edge", "leaf"),
    ("blocked-edge", "blocked-tint"),
    ("focus", "focus-gap"),
    ("focus", "paper"),
    ("focus", "accent-tint"),
    ("focus-gap", "accent"),
    ("tag-edge", "tag-paper"),
    ("mark-ring", "mark"),
];

type Theme = BTreeMap<String, String>;

/// The colours declared in the block that `selector` opens.
fn declared(selector: &str) -> Theme {
    let (_, rest) = TOKENS
        .split_once(&format!("{selector} {{"))
        .unwrap_or_else(|| panic!("no {selector}"));
    let (block, _) = rest.split_once('}').expect("the block ends");
    let mut theme = Theme::new();
    for line in block.split(';') {
        if let Some((name, value)) = line
            .rsplit_once("--")
            .and_then(|(_, it)| it.split_once(':'))
            && value.trim().starts_with('#')
        {
            theme.insert(name.trim().to_owned(), value.trim().to_owned());
        }
    }
    assert!(!theme.is_empty(), "{selector} declares colours");
    theme
}

fn light() -> Theme {
    declared(":root")
}

fn dark() -> Theme {
    let mut theme = light();
    theme.extend(declared(":root[data-theme=\"dark\"]"));
    theme
}

fn luminance(colour: &str) -> f64 {
    let hex = colour.strip_prefix('#').expect("a hex colour");
    assert_eq!(hex.len(), 6, "{colour} must be opaque to be measured");
    let channel = |at: usize| {
        let value =
            f64::from(u8::from_str_radix(&hex[at..at + 2], 16).expect("two hex digits")) / 255.0;
        if value <= 0.04045 {
            value / 12.92
        } else {
            ((value + 0.055) / 1.055).powf(2.4)
        }
    };
    0.2126 * channel(0) + 0.7152 * channel(2) + 0.0722 * channel(4)
}

fn contrast(one: &str, other: &str) -> f64 {
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

fn fails(theme: &Theme, pairs: &[(&str, &str)], limit: f64) -> Vec<String> {
    pairs
        .iter()
        .filter_map(|(text, ground)| {
            let ratio = contrast(&theme[*text], &theme[*ground]);
            (ratio < limit)
                .then(|| format!("--{text} on --{ground} is {ratio:.2}:1, needs {limit}:1"))
        })
        .collect()
}

#[test]
fn the_formula_meets_its_known_ends() {
    assert!((contrast("#000000", "#ffffff") - 21.0).abs() < 1e-9);
    assert!((contrast("#123456", "#123456") - 1.0).abs() < 1e-9);
}

#[test]
fn all_text_reaches_seven_to_one_in_the_light() {
    assert_eq!(fails(&light(), TEXT_PAIRS, TEXT), Vec::<String>::new());
}

#[test]
fn all_text_reaches_seven_to_one_in_the_dark() {
    assert_eq!(fails(&dark(), TEXT_PAIRS, TEXT), Vec::<String>::new());
}

#[test]
fn edges_that_carry_meaning_can_be_seen_in_both_themes() {
    assert_eq!(fails(&light(), EDGE_PAIRS, EDGE), Vec::<String>::new());
    assert_eq!(fails(&dark(), EDGE_PAIRS, EDGE), Vec::<String>::new());
}

#[test]
fn the_dark_theme_is_the_same_asked_for_and_by_the_system() {
    assert_eq!(
        declared(":root[data-theme=\"dark\"]"),
        declared(":root:not([data-theme=\"light\"])")
    );
}
