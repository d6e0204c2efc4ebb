//! Head, nut and key sizes against hex_sizes.csv (ISO, DIN, EN, JIS, ASME) and
//! hexalobular.csv (ISO 10664); source and `seen`/`memory` stand in each row.
#![allow(clippy::unwrap_used, clippy::panic)]

mod common;

use common::{Row, table};
use countback_core::fastener::head_table::{
    HEAD_STANDARDS, hexalobular_by_points, hexalobular_recess_mm,
};
use countback_core::fastener::suggest::threads_for_head;
use countback_core::fastener::words::head_in_words;
use countback_core::fastener::{Drive, DriveSize, FastenerKind, Habit, HeadSize, InchSize, Thread};

/// The name by which the table holds a standard of the published rows.
fn name(published: &str) -> &str {
    let name = published.split(" table").next().unwrap();
    name.split(':').next().unwrap()
}

fn kind(row: &Row) -> FastenerKind {
    let said = row.get("fastener");
    if said.contains("nut") {
        FastenerKind::Nut
    } else {
        FastenerKind::Bolt
    }
}

fn drive(row: &Row) -> Drive {
    let said = row.get("fastener");
    if said.contains("hex key") {
        Drive::SocketHex
    } else if said.contains("flange") {
        Drive::HexFlange
    } else if said.contains("square") {
        Drive::Square
    } else {
        Drive::Hex
    }
}

fn is_of(row: &Row, thread: Thread) -> bool {
    // The designation counts: a few pitch cells of the DIN 961 rows belong to
    // the row above.
    match (
        row.get("thread").parse::<Thread>(),
        row.get("thread").parse::<InchSize>(),
    ) {
        (Ok(wanted), _) => wanted == thread,
        (_, Ok(wanted)) => matches!(thread, Thread::Unified { size, .. } if size == wanted),
        _ => panic!("line {}: {}", row.line, row.get("thread")),
    }
}

fn published_size(row: &Row) -> DriveSize {
    match row.get("unit") {
        "mm" => DriveSize::Um((row.number("across_flats") * 1_000.0).round() as u32),
        "in" => DriveSize::Inch(row.get("across_flats").parse().unwrap()),
        other => panic!("unit {other}"),
    }
}

#[test]
fn every_published_head_is_in_the_table() {
    let rows = table("hex_sizes");
    assert_eq!(rows.len(), 242);
    for row in rows {
        let sizes: Vec<DriveSize> = HEAD_STANDARDS
            .iter()
            .filter(|it| it.name.contains(name(row.get("standard"))))
            .filter(|it| it.kind.could_be(kind(&row)) && it.drive == drive(&row))
            // ASME B18.2.2 has two tables of nuts.
            .filter(|it| {
                it.name.contains("machine screw") == row.get("fastener").contains("machine screw")
            })
            .flat_map(|it| it.entries())
            .filter(|&(thread, _)| is_of(&row, thread))
            .map(|it| it.1)
            .collect();
        assert!(
            !sizes.is_empty(),
            "line {}: {} {}",
            row.line,
            row.get("standard"),
            row.get("thread")
        );
        let published = published_size(&row);
        for size in sizes {
            assert_eq!(
                size,
                published,
                "line {}: {} {}",
                row.line,
                row.get("standard"),
                row.get("thread")
            );
        }
    }
}

#[test]
fn a_published_head_offers_its_thread_with_the_standard() {
    for row in table("hex_sizes") {
        let drive = drive(&row);
        let head = HeadSize {
            drive,
            size: Some(published_size(&row)),
        };
        let offers = threads_for_head(head, kind(&row), Habit::Mixed);
        assert!(
            offers.iter().any(|it| is_of(&row, it.thread)
                && it
                    .standards
                    .iter()
                    .any(|name_held| name_held.contains(name(row.get("standard"))))),
            "line {}: {head} does not offer {}",
            row.line,
            row.get("thread")
        );
        let total: f64 = offers.iter().map(|it| it.share).sum();
        assert!((total - 1.0).abs() < 1e-9);
    }
}

#[test]
fn hexalobular_sockets_have_the_published_recess() {
    let rows = table("hexalobular");
    assert_eq!(rows.len(), 12);
    for row in rows {
        let number: u8 = row.get("socket")[1..].parse().unwrap();
        let (points, flanks) = hexalobular_recess_mm(number).unwrap();
        assert_eq!(
            (points, flanks),
            (row.number("A_mm"), row.number("B_mm")),
            "T{number}"
        );
        for off in [-0.05, 0.0, 0.05] {
            assert_eq!(hexalobular_by_points(points + off), Some(number));
        }
    }
    assert_eq!(hexalobular_by_points(0.5), None);
}

/// Which thread a chip offers first: common practice, no source.
#[test]
fn usual_heads_offer_the_usual_thread_first() {
    for (words, first) in [
        ("10 mil bolt", "M6"),
        ("13 mm head", "M8"),
        ("12 mm head", "M8"),
        ("8 mm flange", "M6"),
        ("17 mm bolt", "M10"),
        ("16 mm bolt", "M10"),
        ("5 mm allen", "M6"),
        ("T30", "M6"),
        ("10 mm nut", "M6"),
    ] {
        let said = head_in_words(words).unwrap();
        let kind = said.kind.unwrap_or(FastenerKind::Bolt);
        let offers = threads_for_head(said.head, kind, Habit::Metric);
        assert_eq!(offers[0].thread.short_name(), first, "{words}");
        assert!(!offers[0].standards.is_empty());
    }
    let nine_sixteenths = head_in_words("9/16 bolt").unwrap();
    let offers = threads_for_head(nine_sixteenths.head, FastenerKind::Bolt, Habit::Inch);
    assert_eq!(offers[0].thread.to_string(), "3/8-16");
}
