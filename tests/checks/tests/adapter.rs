//! The adapter on the wrench against wrench_adapter.csv; source and
//! `seen`/`memory` stand in each row.
#![allow(clippy::unwrap_used)]

mod common;

use common::table;
use countback_core::torque::adapter::{AdapterError, AdapterHint, Reach};
use countback_core::torque::{Torque, TorqueUnit};
use proptest::prelude::*;

#[test]
fn worked_examples_are_met() {
    let rows = table("wrench_adapter");
    assert_eq!(rows.len(), 11);
    for row in rows {
        let reach = Reach::Offset {
            wrench: row.number("wrench_length_L"),
            adapter: row.number("extension_E"),
            angle_degrees: row.number("angle_deg"),
        };
        if row.get("target_torque") == "set = spec" {
            // What a wrench set to the specified torque does too much, in percent.
            let over = (reach.factor().unwrap() - 1.0) * 100.0;
            let exact: f64 = row
                .get("exact_setting")
                .trim_end_matches(" %")
                .parse()
                .unwrap();
            assert!((over - exact).abs() < 0.001, "line {}: {over}", row.line);
            let published = row.get("published_setting");
            let published: f64 = published
                .split_whitespace()
                .find_map(|it| it.parse().ok())
                .unwrap();
            assert!(
                (over - published).abs() <= 0.051,
                "line {}: {over}",
                row.line
            );
            continue;
        }
        let unit = match row.get("torque_unit") {
            "any" => TorqueUnit::NewtonMetre,
            sign => sign.parse().unwrap(),
        };
        let target = Torque::from_value(row.number("target_torque"), unit).unwrap();
        let setting = reach.setting(target).unwrap();
        assert!(
            (setting.value() - row.number("exact_setting")).abs() < 0.001,
            "line {}",
            row.line
        );
        if let Some(published) = row.maybe("published_setting") {
            // The pages round to their last figure.
            assert!(
                (setting.value() - published).abs() < 0.5,
                "line {}",
                row.line
            );
        }
        let back = reach.applied(setting).unwrap();
        assert!(
            back.thousandths().abs_diff(target.thousandths()) <= 2,
            "line {}",
            row.line
        );
    }
}

#[test]
fn a_straight_socket_bar_needs_nothing() {
    let torque: Torque = "80 N·m".parse().unwrap();
    assert_eq!(Reach::InLineWithDrive.setting(torque), Ok(torque));
    let across = Reach::Offset {
        wrench: 40.0,
        adapter: 5.0,
        angle_degrees: 90.0,
    };
    assert_eq!(across.setting(torque), Ok(torque));
    assert_eq!(across.hint(), Some(AdapterHint::NothingToCorrect));
    let none = Reach::Offset {
        wrench: 40.0,
        adapter: 0.0,
        angle_degrees: 0.0,
    };
    assert_eq!(none.hint(), Some(AdapterHint::NothingToCorrect));
    let long = Reach::Offset {
        wrench: 40.0,
        adapter: 30.0,
        angle_degrees: 0.0,
    };
    assert_eq!(long.hint(), Some(AdapterHint::LongAdapter));
}

#[test]
fn impossible_levers_are_refused() {
    let torque: Torque = "80 N·m".parse().unwrap();
    let set = |wrench, adapter, angle_degrees| {
        Reach::Offset {
            wrench,
            adapter,
            angle_degrees,
        }
        .setting(torque)
    };
    assert_eq!(set(0.0, 5.0, 0.0), Err(AdapterError::BadLength));
    assert_eq!(set(f64::NAN, 5.0, 0.0), Err(AdapterError::BadLength));
    assert_eq!(set(40.0, -5.0, 0.0), Err(AdapterError::BadLength));
    assert_eq!(set(40.0, 40.0, 180.0), Err(AdapterError::BeyondTheGrip));
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// What was set comes back as what was wanted, and an adapter that makes the
    /// lever longer always means setting less.
    #[test]
    fn setting_and_check_agree(
        wrench in 5.0..200.0_f64, part in 0.0..0.9_f64, angle in 0.0..180.0_f64, thousandths in 1_000..500_000_u32,
    ) {
        let reach = Reach::Offset { wrench, adapter: wrench * part, angle_degrees: angle };
        let wanted = Torque::from_thousandths(thousandths, TorqueUnit::NewtonMetre);
        let setting = reach.setting(wanted).unwrap();
        let back = reach.applied(setting).unwrap();
        // Half a thousandth in the setting grows by the factor.
        prop_assert!(back.thousandths().abs_diff(thousandths) <= 2);
        if angle < 89.9 {
            prop_assert!(setting.thousandths() <= thousandths);
        } else if angle > 90.1 {
            prop_assert!(setting.thousandths() >= thousandths);
        }
    }
}

/// In kgf·m a tenth is an eighth of what is asked for: small figures are set and
/// checked by hundredths.
#[test]
fn small_figures_in_large_units_are_set_by_hundredths() {
    let reach = Reach::Offset {
        wrench: 400.0,
        adapter: 50.0,
        angle_degrees: 0.0,
    };
    for figure in ["0.4 kgf·m", "0.8 kgf·m", "5 kgf·m"] {
        let wanted: Torque = figure.parse().unwrap();
        let set = reach.on_scale(wanted).unwrap();
        let gets = reach.applied(set).unwrap();
        let off = gets.value() / wanted.value() - 1.0;
        assert!(off.abs() <= 0.0125, "{figure}: set {set}, gets {gets}");
    }
}
