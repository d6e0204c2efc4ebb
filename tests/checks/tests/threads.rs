//! Threads against ISO 261/262, ISO 898-1 and ASME B1.1 as published:
//! metric_threads.csv, inch_threads.csv and major_diameter_6g.csv. Source and
//! `seen`/`memory` stand in each row; rows without a published area are checked
//! against the formula column only.
#![allow(clippy::unwrap_used)]

mod common;

use common::{close, table};
use countback_core::fastener::thread_table::{Series, series, standard_threads};
use countback_core::fastener::{InchSize, Thread};

#[test]
fn metric_threads_have_the_published_sizes() {
    let rows = table("metric_threads");
    assert_eq!(rows.len(), 31);
    for row in rows {
        let thread: Thread = row.get("designation").parse().unwrap();
        assert!(standard_threads().any(|it| it.thread == thread), "{thread}");
        assert_eq!(
            thread.diameter_mm().unwrap(),
            row.number("d_mm"),
            "{thread}"
        );
        assert_eq!(
            thread.pitch_mm().unwrap(),
            row.number("pitch_mm"),
            "{thread}"
        );
        let coarse = series(thread) == Series::MetricCoarse;
        assert_eq!(coarse, row.get("series") == "coarse", "{thread}");
        let d2 = thread.pitch_diameter_mm().unwrap();
        assert!(
            (d2 - row.number("d2_basic_mm")).abs() < 0.001,
            "{thread} d2 {d2}"
        );
        let d3 = thread.root_diameter_mm().unwrap();
        assert!(
            (d3 - row.number("d3_root_mm")).abs() < 0.001,
            "{thread} d3 {d3}"
        );
        let area = thread.stress_area_mm2().unwrap();
        // The formula column is rounded to three decimals.
        assert!(
            (area - row.number("As_formula_mm2")).abs() <= 0.000_51,
            "{thread} As {area}"
        );
        if let Some(published) = row.maybe("As_published_mm2") {
            assert!(
                close(area, published, 0.4),
                "{thread} As {area}, published {published}"
            );
        }
        let drill = thread.tap_drill_mm().unwrap();
        assert!(
            (drill - row.number("tap_drill_d_minus_P_mm")).abs() < 1e-9,
            "{thread}"
        );
        if let Some(published) = row.maybe("tap_drill_mm") {
            // Drills are stocked in tenths: 10.2 or 10.3 for 10.25.
            assert!((drill - published).abs() <= 0.051, "{thread} drill {drill}");
        }
    }
}

#[test]
fn inch_threads_have_the_published_sizes() {
    let rows = table("inch_threads");
    assert_eq!(rows.len(), 17);
    for row in rows {
        let size: InchSize = row.get("size_in").parse().unwrap();
        let thread = Thread::Unified {
            size,
            tpi: row.get("tpi").parse().unwrap(),
        };
        let wanted = match row.get("series") {
            "UNC" => Series::UnifiedCoarse,
            "UNF" => Series::UnifiedFine,
            other => unreachable!("{other}"),
        };
        assert_eq!(series(thread), wanted, "{thread}");
        assert!(
            (size.to_inches() - row.number("major_d_in")).abs() < 1e-9,
            "{thread}"
        );
        assert!(
            (thread.pitch_mm().unwrap() - row.number("pitch_mm")).abs() < 1e-6,
            "{thread}"
        );
        let area = thread.stress_area_mm2().unwrap();
        let square_inches = area / (25.4 * 25.4);
        assert!(
            close(square_inches, row.number("As_formula_in2"), 0.05),
            "{thread}"
        );
        assert!(
            close(square_inches, row.number("As_published_in2"), 0.4),
            "{thread}"
        );
        assert!(close(area, row.number("As_published_mm2"), 0.4), "{thread}");
        // The published drill is in stock at nominal less pitch, or above it by no
        // more than a quarter of the pitch.
        let drill = thread.tap_drill_mm().unwrap();
        let published = drill_mm(row.get("tap_drill"));
        assert!(
            published > drill - 0.04 && published < drill + 0.26 * thread.pitch_mm().unwrap(),
            "{thread}: {drill}, published {published}"
        );
    }
}

/// A drill by its number, letter or fraction: ASME B94.11M, from memory.
fn drill_mm(name: &str) -> f64 {
    let inches = match name {
        "#25" => 0.1495,
        "#21" => 0.159,
        "#7" => 0.201,
        "#3" => 0.213,
        "F" => 0.257,
        "I" => 0.272,
        "Q" => 0.332,
        "U" => 0.368,
        fraction => {
            let size: InchSize = fraction.parse().unwrap();
            size.to_inches()
        }
    };
    inches * 25.4
}

#[test]
fn a_calliper_reads_within_the_published_6g_limits() {
    let rows = table("major_diameter_6g");
    assert_eq!(rows.len(), 7);
    for row in rows {
        let thread: Thread = row.get("thread_coarse").parse().unwrap();
        let limits = thread.outside_limits().unwrap();
        for (column, um) in [("max_mm", limits.max_um), ("min_mm", limits.min_um)] {
            assert!(
                (um / 1e3 - row.number(column)).abs() < 0.0011,
                "{thread} {column} {um}"
            );
        }
    }
}
