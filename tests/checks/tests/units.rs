//! Units of torque against units.csv: factors from the definitions of NIST
//! SP 811 as exact fractions (`seen`, agreed with pint 0.25.3), and published
//! roundings. Rows of units that are not of torque are not ours.
#![allow(clippy::unwrap_used)]

mod common;

use common::{close, table};
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
