//! The order of tightening against tightening_patterns.csv (ASME PCC-1 cross
//! pattern, star, stages; source and `seen`/`memory` stand in each row), and the
//! recognition of layouts on marks set by hand on a photo taken at an angle.
#![allow(clippy::unwrap_used, clippy::panic)]

mod common;

use common::{Draw, table};
use countback_core::torque::pattern::{
    Layout, LayoutError, Point, Scheme, cross_order, order, recognise,
};
use countback_core::torque::stages::{Stage, StagePlan, StageTarget, usual_percents};
use countback_core::torque::{Torque, check_order, loosening};
use std::collections::BTreeSet;
use std::f64::consts::TAU;

/// "1-3-2-4" as positions from 0; `None` when it is told in words.
fn numbers(text: &str) -> Option<Vec<usize>> {
    let text = text.split(' ').next()?;
    text.split('-')
        .map(|it| it.parse::<usize>().ok()?.checked_sub(1))
        .collect()
}

#[test]
fn published_rows_are_met() {
    let rows = table("tightening_patterns");
    assert_eq!(rows.len(), 23);
    let (mut used, mut in_part) = (0, 0);
    for row in rows {
        let value = row.get("value");
        match (row.get("kind"), numbers(value)) {
            ("position order", Some(wanted)) => {
                assert_eq!(cross_order(wanted.len()), wanted, "line {}", row.line);
            }
            ("order labels read clockwise from bolt 1", Some(labels)) => {
                let mut wanted = vec![0; labels.len()];
                for (position, label) in labels.iter().enumerate() {
                    wanted[*label] = position;
                }
                assert_eq!(cross_order(labels.len()), wanted, "line {}", row.line);
            }
            ("position order", None) => an_x_on_four(value),
            ("stages %", _) if row.get("bolts") != "any" => {
                let bolts = if row.get("bolts").starts_with("4") {
                    4..=8
                } else {
                    12..=64
                };
                let percents = value.split(" then").next().unwrap();
                let wanted: Vec<u16> = percents.split(',').map(|it| it.parse().unwrap()).collect();
                for n in bolts {
                    assert_eq!(usual_percents(n), wanted, "{n} bolts");
                }
            }
            ("rule", _) if value.starts_with("loosen in the reverse") => {
                let tighten = cross_order(12);
                let loosen = loosening(&tighten);
                assert!(tighten.iter().eq(loosen.iter().rev()));
            }
            ("rule", _) if value.starts_with("48 bolts") => groups_of_four(48),
            ("rule", _) if value.starts_with("opposite pairs") => opposite_follows_opposite(),
            ("rule", _) if value.starts_with("start at the centre bolts") => {
                rows_begin_in_the_middle(&mut Draw(3));
            }
            // Other counts of stages are choices that a person may put in.
            ("stages %", _) => stages_can_be_worked_to(value),
            // Not used: where to start, as no mark tells of a pin or of what is
            // stiff; the person taps the maker's order. Used: what a ring does.
            ("rule", _) if value.starts_with("locating pins") => {
                assert!(value.ends_with("round patterns: cross or star"), "{value}");
                a_ring_is_gone_through_crosswise();
                in_part += 1;
                continue;
            }
            other => panic!("line {}: {other:?}", row.line),
        }
        used += 1;
    }
    assert_eq!((used, in_part), (22, 1));
}

/// The percentages in a published line are stages that can be worked to, with a
/// round at the end; "snug" and "firm" are words of the hand and no stage.
fn stages_can_be_worked_to(value: &str) {
    let stages: Vec<Stage> = value
        .split([',', ' '])
        .filter_map(|it| it.parse().ok())
        // "re-torque after 24 h" comes after them.
        .take_while({
            let mut last = 0;
            move |&it: &u16| std::mem::replace(&mut last, it) < it
        })
        .map(Stage::Percent)
        .collect();
    assert!(stages.len() >= 3, "{value}");
    let full: Torque = "100 N·m".parse().unwrap();
    let plan = StagePlan::new(Some(full), &stages, true).unwrap();
    assert_eq!(plan.passes(), stages.len() + 1, "{value}");
    assert_eq!(plan.torques().last(), Some(&full), "{value}");
    assert_eq!(
        plan.target(stages.len()),
        Some(StageTarget::Torque(full)),
        "the round is at the full figure"
    );
}

/// Marks in a ring offer the cross first, which is a star where they are odd: the
/// next is never a neighbour.
fn a_ring_is_gone_through_crosswise() {
    for n in 4..=24_usize {
        let points: Vec<Point> = circle(n).iter().map(|&(x, y)| Point { x, y }).collect();
        let found = recognise(&points).unwrap();
        assert_eq!(
            (found.layout, found.unclear),
            (Layout::Circle, false),
            "{n}"
        );
        assert_eq!(found.schemes[0], Scheme::Cross, "{n}");
        let order = order(&points, found.schemes[0]).unwrap();
        assert_eq!(check_order(&order, n), Ok(()), "{n}");
        for pair in order.windows(2) {
            let apart = pair[0].abs_diff(pair[1]);
            assert!(n == 4 || apart.min(n - apart) > 1, "{n}: {order:?}");
        }
    }
}

/// The first goes to its opposite, and the third to its own; the pages differ in
/// which pair comes first and both are in use.
fn an_x_on_four(value: &str) {
    let corner = |name: &str| match name {
        "upper-left" => 0,
        "upper-right" => 1,
        "lower-right" => 2,
        "lower-left" => 3,
        other => panic!("{other}"),
    };
    let names = value.split(" (").next().unwrap().split(", ");
    let published: Vec<usize> = names.map(corner).collect();
    let ours = cross_order(4);
    for order in [&published, &ours] {
        assert_eq!(order[0].abs_diff(order[1]), 2);
        assert_eq!(order[2].abs_diff(order[3]), 2);
    }
}

fn groups_of_four(n: usize) {
    for group in cross_order(n).chunks(4) {
        let places: BTreeSet<_> = group.iter().map(|it| it % (n / 4)).collect();
        assert_eq!((group.len(), places.len()), (4, 1), "{group:?}");
    }
}

#[test]
fn opposite_follows_opposite() {
    for n in 1..=96 {
        let order = cross_order(n);
        assert_eq!(check_order(&order, n), Ok(()), "{n}");
        assert_eq!(order[0], 0);
        if n % 2 == 0 {
            for pair in order.chunks(2) {
                assert_eq!(pair[0].abs_diff(pair[1]), n / 2, "{n}: {order:?}");
            }
        } else if n >= 5 {
            // A star: every step is at least a quarter of the way around.
            for pair in order.windows(2) {
                let apart = pair[0].abs_diff(pair[1]);
                assert!(apart.min(n - apart) * 4 >= n, "{n}: {order:?}");
            }
        }
    }
}

/// Marks of a layout as a thumb sets them on a photo taken at an angle: turned,
/// squeezed in one direction, and off by `jitter` of the distance between them.
fn photographed(draw: &mut Draw, marks: &[(f64, f64)], jitter: f64) -> Vec<Point> {
    let turn = draw.between(0.0, TAU);
    let squeeze = draw.between(0.6, 1.0);
    let squeeze_along = draw.between(0.0, TAU);
    let rotate =
        |(x, y): (f64, f64), by: f64| (x * by.cos() - y * by.sin(), x * by.sin() + y * by.cos());
    marks
        .iter()
        .map(|&mark| {
            let turned = rotate(mark, turn + squeeze_along);
            let (x, y) = rotate((turned.0, turned.1 * squeeze), -squeeze_along);
            Point {
                x: 500.0 + 100.0 * (x + draw.between(-jitter, jitter)),
                y: 300.0 + 100.0 * (y + draw.between(-jitter, jitter)),
            }
        })
        .collect()
}

/// A circle of `n` with a distance of about one between neighbours.
fn circle(n: usize) -> Vec<(f64, f64)> {
    let radius = n as f64 / TAU;
    (0..n)
        .map(|it| it as f64 / n as f64 * TAU)
        .map(|angle| (radius * angle.cos(), radius * angle.sin()))
        .collect()
}

fn grid_rows(columns: usize, apart: f64) -> Vec<(f64, f64)> {
    (0..columns)
        .flat_map(|it| [(it as f64, 0.0), (it as f64, apart)])
        .collect()
}

fn ring(wide: usize, high: usize) -> Vec<(f64, f64)> {
    (0..wide)
        .flat_map(|x| (0..high).map(move |y| (x, y)))
        .filter(|&(x, y)| x == 0 || y == 0 || x + 1 == wide || y + 1 == high)
        .map(|(x, y)| (x as f64, y as f64))
        .collect()
}

/// Share of photos on which the layout is recognised, with no doubt raised.
fn recognised(marks: &[(f64, f64)], wanted: Layout) -> f64 {
    let mut draw = Draw(77 + marks.len() as u64);
    let tries = 200;
    let hits = (0..tries)
        .filter(|_| {
            let points = photographed(&mut draw, marks, 0.06);
            let found = recognise(&points).unwrap();
            found.layout == wanted && !found.unclear
        })
        .count();
    hits as f64 / f64::from(tries)
}

#[test]
fn layouts_are_recognised_on_photos() {
    let mut worst = (1.0, String::new());
    let mut check = |marks: &[(f64, f64)], wanted: Layout| {
        let share = recognised(marks, wanted);
        if share < worst.0 {
            worst = (share, format!("{wanted:?} of {}", marks.len()));
        }
        assert!(share >= 0.95, "{wanted:?} of {}: {share}", marks.len());
    };
    for n in [3, 4, 5, 6, 8, 10, 12, 16, 20] {
        check(&circle(n), Layout::Circle);
    }
    for n in 3..12 {
        let line: Vec<_> = (0..n).map(|it| (f64::from(it), 0.0)).collect();
        check(&line, Layout::Line);
    }
    for columns in 3..=7 {
        check(&grid_rows(columns, 1.5), Layout::TwoRows);
    }
    for (wide, high) in [(3, 3), (4, 3), (5, 3), (5, 4), (6, 4)] {
        check(&ring(wide, high), Layout::RectangleRing);
    }
    println!("worst: {worst:?}");
}

#[test]
fn a_circle_on_a_photo_is_gone_through_crosswise() {
    let mut draw = Draw(5);
    for n in [4, 6, 8, 12, 16] {
        let marks = circle(n);
        for _ in 0..50 {
            // Marked in any order: neighbours are found from where they lie.
            let points = photographed(&mut draw, &marks, 0.05);
            let order = order(&points, Scheme::Cross).unwrap();
            assert_eq!(check_order(&order, n), Ok(()));
            for pair in order.chunks(2) {
                assert_eq!(pair[0].abs_diff(pair[1]), n / 2, "{n}: {order:?}");
            }
            let top = points.iter().map(|it| it.y).fold(f64::INFINITY, f64::min);
            assert_eq!(points[order[0]].y, top, "begins at the top");
        }
    }
}

fn rows_begin_in_the_middle(draw: &mut Draw) {
    for columns in 3..=7 {
        let marks = grid_rows(columns, 1.5);
        let middle = (columns - 1) as f64 / 2.0;
        for _ in 0..50 {
            let points = photographed(draw, &marks, 0.04);
            let order = order(&points, Scheme::CentreOutwards).unwrap();
            assert_eq!(check_order(&order, marks.len()), Ok(()));
            let away: Vec<f64> = order
                .iter()
                .map(|&it| (marks[it].0 - middle).abs())
                .collect();
            assert!(away.is_sorted(), "{columns} columns: {away:?}");
        }
    }
}

#[test]
fn lines_and_rows_go_from_the_middle_outwards() {
    let mut draw = Draw(9);
    rows_begin_in_the_middle(&mut draw);
    for n in 2..12_usize {
        let marks: Vec<_> = (0..n).map(|it| (it as f64, 0.0)).collect();
        for _ in 0..50 {
            let points = photographed(&mut draw, &marks, 0.04);
            let order = order(&points, Scheme::CentreOutwards).unwrap();
            let middle = (n - 1) as f64 / 2.0;
            let away: Vec<f64> = order.iter().map(|&it| (it as f64 - middle).abs()).collect();
            assert!(away.is_sorted(), "{n}: {order:?}");
            assert_eq!(check_order(&order, n), Ok(()));
        }
    }
}

#[test]
fn what_is_unclear_says_so_and_offers_a_choice() {
    let points = |marks: &[(f64, f64)]| -> Vec<Point> {
        marks.iter().map(|&(x, y)| Point { x, y }).collect()
    };
    let scattered = points(&[
        (0.0, 0.0),
        (3.0, 0.4),
        (1.1, 1.0),
        (4.0, 3.5),
        (0.3, 2.9),
        (1.9, 1.6),
        (2.0, 4.4),
    ]);
    let found = recognise(&scattered).unwrap();
    assert_eq!((found.layout, found.unclear), (Layout::Irregular, true));
    assert_eq!(
        found.schemes,
        [Scheme::CentreOutwards, Scheme::Cross, Scheme::AsMarked]
    );
    for scheme in found.schemes {
        let order = order(&scattered, scheme).unwrap();
        assert_eq!(check_order(&order, scattered.len()), Ok(()));
    }
    // A clear layout still lets the person put in the maker's order.
    let clear = recognise(&points(&circle(8))).unwrap();
    assert!(!clear.unclear);
    assert_eq!(clear.schemes, [Scheme::Cross, Scheme::AsMarked]);

    assert_eq!(recognise(&[]), Err(LayoutError::None));
    let twice = points(&[(0.0, 0.0), (5.0, 0.0), (5.01, 0.0)]);
    assert_eq!(
        recognise(&twice),
        Err(LayoutError::SamePlace {
            first: 1,
            second: 2
        })
    );
    let bad = points(&[(0.0, 0.0), (f64::NAN, 0.0)]);
    assert_eq!(recognise(&bad), Err(LayoutError::BadMark { mark: 1 }));
}

#[test]
fn any_marks_give_an_order_with_each_once() {
    let mut draw = Draw(21);
    for _ in 0..3_000 {
        let n = 1 + (draw.bits() % 24) as usize;
        let points: Vec<Point> = (0..n)
            .map(|_| Point {
                x: draw.between(0.0, 1.0),
                y: draw.between(0.0, 1.0),
            })
            .collect();
        let Ok(found) = recognise(&points) else {
            continue;
        };
        for scheme in found.schemes {
            assert_eq!(check_order(&order(&points, scheme).unwrap(), n), Ok(()));
        }
    }
}

/// Six marks that are pulled from a circle into two rows of three: at both ends
/// the layout is clear, and on the way there both orders are offered.
#[test]
fn between_two_layouts_both_are_offered() {
    let round: Vec<(f64, f64)> = (0..6)
        .map(|it| (TAU / 6.0 * (f64::from(it) + 0.5)).sin_cos())
        .map(|(y, x)| (x, y))
        .collect();
    // Of each three above and below, the middle one is drawn in.
    let rows: Vec<(f64, f64)> = round
        .iter()
        .map(|&(x, y)| (x.round(), y.signum()))
        .collect();
    let between = |part: f64| -> Vec<Point> {
        let at = |(a, b): (f64, f64)| a + (b - a) * part;
        let marks = round.iter().zip(&rows);
        marks
            .map(|(from, to)| Point {
                x: at((from.0, to.0)),
                y: at((from.1, to.1)),
            })
            .collect()
    };
    let found = |part| recognise(&between(part)).unwrap();
    assert!(!found(0.0).unclear && found(0.0).layout == Layout::Circle);
    let unclear: Vec<_> = (0..=100)
        .map(|it| found(f64::from(it) / 100.0))
        .filter(|it| it.unclear && it.layout != Layout::Irregular)
        .collect();
    assert!(!unclear.is_empty());
    for it in unclear {
        for scheme in [Scheme::Cross, Scheme::CentreOutwards, Scheme::AsMarked] {
            assert!(it.schemes.contains(&scheme), "{it:?}");
        }
        assert_eq!(it.schemes[0], it.layout.usual_scheme());
    }
}

/// From the middle outwards is a spiral: on a line it goes from side to side, in
/// rows around the middle, each turn clockwise on from where the last one ended.
#[test]
fn a_spiral_goes_around_in_rows_and_from_side_to_side_on_a_line() {
    for n in 3..12_usize {
        let middle = (n - 1) as f64 / 2.0;
        let marks: Vec<Point> = (0..n)
            .map(|it| Point {
                x: it as f64,
                y: 0.0,
            })
            .collect();
        let order = order(&marks, Scheme::CentreOutwards).unwrap();
        let sides: Vec<f64> = order.iter().map(|&it| it as f64 - middle).collect();
        for turn in sides[n % 2..].chunks(2) {
            assert_eq!(turn[0], -turn[1], "{n} in line: {order:?}");
        }
    }
    for columns in 3..=8_usize {
        let middle = (columns - 1) as f64 / 2.0;
        let marks: Vec<Point> = grid_rows(columns, 1.5)
            .into_iter()
            .map(|(x, y)| Point { x, y })
            .collect();
        let order = order(&marks, Scheme::CentreOutwards).unwrap();
        let angle = |it: usize| (marks[it].y - 0.75).atan2(marks[it].x - middle);
        // An odd number of columns begins with the two in the middle.
        let first = if columns % 2 == 1 { 2 } else { 4 };
        let mut turns = vec![&order[..first]];
        turns.extend(order[first..].chunks(4));
        let mut last: Option<usize> = None;
        for turn in turns {
            let away = |it: usize| (marks[it].x - middle).abs();
            assert!(
                turn.iter().all(|&it| away(it) == away(turn[0])),
                "{order:?}"
            );
            if let Some(from) = last {
                let on: Vec<f64> = turn
                    .iter()
                    .map(|&it| (angle(it) - angle(from)).rem_euclid(TAU))
                    .collect();
                assert!(on.is_sorted(), "{columns} columns: {order:?}: {on:?}");
            }
            last = turn.last().copied();
        }
    }
}
