//! Tag codes against ISO/IEC 7064: tests/reference/check_chars.csv (python-stdnum
//! 2.2, `seen`), and the promise that one wrong digit or one swap of neighbours
//! is always caught, proven over every code.
#![allow(clippy::unwrap_used)]

mod common;

use common::table;
use countback_core::tag::{TagCode, TagError, check};

/// MOD 11,10, written here from ISO/IEC 7064 only to show why it is not used.
fn mod_11_10_check(payload: &str) -> u32 {
    let mut product = 10;
    for digit in payload.chars() {
        let sum = (product + digit.to_digit(10).unwrap()) % 10;
        product = if sum == 0 { 10 } else { sum } * 2 % 11;
    }
    (11 - product) % 10
}

fn mod_11_10_valid(full: &str) -> bool {
    let (payload, last) = full.split_at(full.len() - 1);
    mod_11_10_check(payload).to_string() == last
}

#[test]
fn mod_97_10_agrees_with_the_published_rows() {
    let mut rows = 0;
    for row in table("check_chars") {
        if row.get("algorithm") != "MOD 97-10" {
            continue;
        }
        rows += 1;
        let full = row.get("full");
        assert_eq!(
            check::is_valid(full),
            row.get("valid") == "yes",
            "line {}",
            row.line
        );
        if row.get("valid") == "yes" {
            let pair = check::check_pair(row.get("payload")).unwrap();
            assert_eq!(format!("{pair:02}"), row.get("check"), "line {}", row.line);
        }
    }
    assert_eq!(rows, 10);
}

#[test]
fn mod_11_10_lets_swaps_through_as_published() {
    let (mut rows, mut undetected) = (0, 0);
    for row in table("check_chars") {
        if row.get("algorithm") != "MOD 11,10" || row.get("full").is_empty() {
            continue;
        }
        rows += 1;
        assert!(mod_11_10_valid(row.get("full")), "line {}", row.line);
        if row.get("note").starts_with("UNDETECTED") {
            undetected += 1;
            // The swap of its neighbours is just as valid: the fault is real.
            let original = row.get("note").rsplit(' ').next().unwrap();
            assert!(mod_11_10_valid(original));
            // With two digits of MOD 97-10 the same swap is caught.
            let swapped = &row.get("full")[..3];
            let meant = check::check_pair(&original[..3]).unwrap();
            assert!(!check::is_valid(&format!("{swapped}{meant:02}")));
        }
    }
    assert_eq!((rows, undetected), (8, 1));
    // Over our own four digits the fault shows as well.
    let missed = (0..10_000)
        .map(|n| format!("{n:04}"))
        .map(|it| format!("{it}{}", mod_11_10_check(&it)))
        .flat_map(|full| (0..4).filter_map(move |at| swap(&full, at)))
        .filter(|swapped| mod_11_10_valid(swapped))
        .count();
    assert!(missed > 0);
}

/// `full` with the digits at `at` and `at + 1` swapped; `None` when alike.
fn swap(full: &str, at: usize) -> Option<String> {
    let mut digits = full.as_bytes().to_vec();
    digits.swap(at, at + 1);
    let swapped = String::from_utf8(digits).unwrap();
    (swapped != full).then_some(swapped)
}

#[test]
fn one_wrong_digit_is_always_caught() {
    let mut tried = 0_u32;
    for payload in 0..TagCode::PAYLOADS {
        let digits = TagCode::from_payload(payload).unwrap().digits();
        for at in 0..digits.len() {
            for wrong in '0'..='9' {
                if digits[at..].starts_with(wrong) {
                    continue;
                }
                let mut typed = digits.clone();
                typed.replace_range(at..=at, &wrong.to_string());
                tried += 1;
                let refused = Err(TagError::WrongCheck {
                    typed: typed.parse().unwrap(),
                });
                assert_eq!(typed.parse::<TagCode>(), refused);
            }
        }
    }
    assert_eq!(tried, 10_000 * 6 * 9);
}

#[test]
fn two_swapped_neighbours_are_always_caught() {
    let mut tried = 0_u32;
    for payload in 0..TagCode::PAYLOADS {
        let digits = TagCode::from_payload(payload).unwrap().digits();
        for typed in (0..5).filter_map(|at| swap(&digits, at)) {
            tried += 1;
            let refused = Err(TagError::WrongCheck {
                typed: typed.parse().unwrap(),
            });
            assert_eq!(typed.parse::<TagCode>(), refused);
        }
    }
    assert!(tried > 40_000, "{tried}");
}
