//! Units of torque against units.csv: factors from the definitions of NIST
//! SP 811 as exact fractions (`seen`, agreed with pint 0.25.3), and published
//! roundings. Rows of pressure, volume, mass and warmth are not ours.
#![allow(clippy::unwrap_used)]

mod common;

use common::{close, table};
use countback_core::fastener::InchSize;
use countback_core::torque::{Torque, TorqueUnit};

fn unit(sign: &str) -> Option<TorqueUnit> {
    TorqueUnit::ALL
        .into_iter()
        .find(|it| it.sign().replace('·', "*") == sign)
}

fn reduced(a: u128, b: u128) -> (u128, u128) {
    fn gcd(a: u128, b: u128) -> u128 {
        if b == 0 { a } else { gcd(b, a % b) }
    }
    let both = gcd(a, b);
    (a / both, b / both)
}

#[test]
fn factors_are_the_exact_fractions() {
    let mut rows = 0;
    for row in table("units") {
        let (Some(from), Some(to)) = (unit(row.get("from_unit")), unit(row.get("to_unit"))) else {
            continue;
        };
        rows += 1;
        let (up, down) = from.ratio_to(to);
        if row.get("kind") == "factor" {
            let (wanted_up, wanted_down) = row.get("fraction").split_once('/').unwrap();
            let wanted = reduced(wanted_up.parse().unwrap(), wanted_down.parse().unwrap());
            assert_eq!(reduced(up, down), wanted, "line {}", row.line);
            assert!(
                close(up as f64 / down as f64, row.number("factor"), 1e-13),
                "line {}",
                row.line
            );
        } else {
            // A published rounding agrees to its last figure.
            let input: u32 = row.get("input").parse().unwrap();
            let value = f64::from(input) * up as f64 / down as f64;
            let decimals = row
                .get("expected")
                .split_once('.')
                .map_or(0, |it| it.1.len());
            let last_figure = 10_f64.powi(-(decimals as i32));
            assert!(
                (value - row.number("expected")).abs() <= last_figure,
                "line {}",
                row.line
            );
        }
    }
    assert_eq!(rows, 12);
}

/// Rows whose units are not entered, by what they stand for in ours: an ounce is
/// a sixteenth of a pound, a centimetre a hundredth of a metre; an inch and a
/// foot are lengths that sizes are held in; a pound-force on an arm of an inch
/// is the unit of torque.
#[test]
fn factors_of_neighbouring_units_agree() {
    let fraction = |row: &common::Row| {
        let (up, down) = row.get("fraction").split_once('/').unwrap();
        (up.parse::<u128>().unwrap(), down.parse::<u128>().unwrap())
    };
    let mut used = Vec::new();
    for row in table("units") {
        let (from, to) = (row.get("from_unit"), row.get("to_unit"));
        let ours = match (from, to) {
            ("ozf*in", "N*m") => {
                let (up, down) = TorqueUnit::PoundForceInch.newton_metres();
                (u128::from(up), u128::from(down) * 16)
            }
            ("N*cm", "N*m") => (1, 100),
            // In micrometres, a thousand to the millimetre.
            ("in", "mm") => (u128::from(InchSize::Sixtyfourths(64).to_um()), 1_000),
            ("ft", "mm") => (u128::from(InchSize::Sixtyfourths(12 * 64).to_um()), 1_000),
            // The torque of a pound-force on an inch, by the inch.
            ("lbf", "N") => {
                let (up, down) = TorqueUnit::PoundForceInch.newton_metres();
                (u128::from(up) * 10_000, u128::from(down) * 254)
            }
            _ => continue,
        };
        let (up, down) = fraction(&row);
        assert_eq!(
            reduced(ours.0, ours.1),
            reduced(up, down),
            "line {}",
            row.line
        );
        used.push(from.to_owned());
    }
    used.sort();
    assert_eq!(used, ["N*cm", "ft", "in", "lbf", "ozf*in"]);
}

#[test]
fn every_pair_of_units_turns_about_exactly() {
    for a in TorqueUnit::ALL {
        for b in TorqueUnit::ALL {
            let (up, down) = a.ratio_to(b);
            let (back_up, back_down) = b.ratio_to(a);
            assert_eq!(reduced(up, down), reduced(back_down, back_up));
            // The largest amount that can be entered converts or says that it is
            // too big; it never overflows.
            let most = Torque::from_thousandths(u32::MAX, a);
            if let Some(there) = most.in_unit(b) {
                assert!(close(there.newton_metres(), most.newton_metres(), 1e-4));
            }
        }
    }
}
