//! The drawing: no box on another, no line through a box, everything within
//! its bounds, the same every time, and readable on a narrow phone.

mod ordering_cases;

use countback_checks::random_graphs::{Seeded, acyclic};
use countback_core::access::picture::{Picture, Placed, Style, draw};
use countback_core::access::{Edge, Precedence, Why};

fn overlap(a: &Placed, b: &Placed) -> bool {
    a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h
}

/// Whether the piece of line from `p` to `q` enters the inside of the box.
fn enters(p: (i32, i32), q: (i32, i32), b: &Placed) -> bool {
    // Clip the piece to the box (Liang and Barsky) and see what is left.
    let (px, py) = (f64::from(p.0), f64::from(p.1));
    let (dx, dy) = (f64::from(q.0) - px, f64::from(q.1) - py);
    let (mut from, mut to) = (0.0f64, 1.0f64);
    let sides = [
        (-dx, px - f64::from(b.x)),
        (dx, f64::from(b.x + b.w) - px),
        (-dy, py - f64::from(b.y)),
        (dy, f64::from(b.y + b.h) - py),
    ];
    for (speed, room) in sides {
        if speed == 0.0 {
            if room <= 0.0 {
                return false;
            }
        } else if speed < 0.0 {
            from = from.max(room / speed);
        } else {
            to = to.min(room / speed);
        }
    }
    to - from > 1e-9
}

fn assert_sound(graph: &Precedence, picture: &Picture, style: &Style) {
    let n = graph.node_count();
    assert_eq!(picture.boxes.len(), n);
    for (node, b) in picture.boxes.iter().enumerate() {
        assert_eq!(b.node as usize, node);
        assert_eq!((b.w, b.h), (style.box_w, style.box_h));
        assert!(b.x >= 0 && b.y >= 0 && b.x + b.w <= picture.width && b.y + b.h <= picture.height);
        for other in &picture.boxes[..node] {
            assert!(!overlap(b, other), "{b:?} on {other:?}");
        }
    }
    for line in &picture.lines {
        let (from, to) = (
            &picture.boxes[line.before as usize],
            &picture.boxes[line.after as usize],
        );
        let (first, last) = (line.points[0], line.points[line.points.len() - 1]);
        if line.against {
            assert_eq!(first, (from.x + from.w / 2, from.y));
            assert_eq!(last, (to.x + to.w / 2, to.y + to.h));
        } else {
            assert!(from.layer < to.layer && from.y < to.y);
            assert_eq!(first, (from.x + from.w / 2, from.y + from.h));
            assert_eq!(last, (to.x + to.w / 2, to.y));
        }
        for piece in line.points.windows(2) {
            for &(x, y) in piece {
                assert!((0..=picture.width).contains(&x) && (0..=picture.height).contains(&y));
            }
            for b in &picture.boxes {
                assert!(!enters(piece[0], piece[1], b), "{line:?} through {b:?}");
            }
        }
    }
}

/// The drawn lines that cross, told by geometry alone.
fn crossings(picture: &Picture) -> usize {
    let turn = |a: (i32, i32), b: (i32, i32), c: (i32, i32)| {
        let (ax, ay) = (i64::from(b.0 - a.0), i64::from(b.1 - a.1));
        let (bx, by) = (i64::from(c.0 - a.0), i64::from(c.1 - a.1));
        (ax * by - ay * bx).signum()
    };
    let mut count = 0;
    for (at, one) in picture.lines.iter().enumerate() {
        for other in &picture.lines[..at] {
            for p in one.points.windows(2) {
                for q in other.points.windows(2) {
                    let apart = turn(p[0], p[1], q[0]) * turn(p[0], p[1], q[1]) < 0
                        && turn(q[0], q[1], p[0]) * turn(q[0], q[1], p[1]) < 0;
                    count += usize::from(apart);
                }
            }
        }
    }
    count
}

#[test]
fn every_published_case_is_drawn_soundly() {
    for case in ordering_cases::all() {
        let graph = case.graph();
        let picture = draw(&graph, &Style::default());
        assert_sound(&graph, &picture, &Style::default());
        assert_eq!(
            picture.lines.len(),
            graph.reduction().unwrap().len(),
            "{}",
            case.id
        );
        assert_eq!(picture, draw(&case.graph(), &Style::default()));
    }
}

#[test]
fn random_graphs_are_drawn_soundly() {
    for seed in 0..120 {
        let mut seeded = Seeded::new(seed);
        let count = 1 + seeded.below(90);
        let links = seeded.below(3 * count);
        let graph = Precedence::new(count, &acyclic(&mut seeded, count, links)).unwrap();
        let style = Style {
            box_w: 2 + seeded.below(150) as i32,
            box_h: 2 + seeded.below(80) as i32,
            most_per_row: 1 + seeded.below(8),
            ..Style::default()
        };
        assert_sound(&graph, &draw(&graph, &style), &style);
    }
}

#[test]
fn a_cycle_is_drawn_against_the_run() {
    let edges = [(0, 1), (1, 2), (2, 0), (2, 3)].map(|(b, a)| Edge::new(b, a, Why::Routed));
    let graph = Precedence::new(4, &edges).unwrap();
    let picture = draw(&graph, &Style::default());
    assert_sound(&graph, &picture, &Style::default());
    let against: Vec<_> = picture.lines.iter().filter(|l| l.against).collect();
    assert_eq!(against.len(), 1);
    assert_eq!((against[0].before, against[0].after), (2, 0));
    assert_eq!(picture.lines.len(), 4);
}

#[test]
fn sixty_parts_are_readable_at_390() {
    let style = Style::default();
    // Boxes no smaller than a gloved finger wants, three across the screen.
    assert!(style.box_w >= 56 && style.box_h >= 56);
    assert!(3 * style.box_w + 2 * style.gap_x <= 390);
    let (mut crossed, mut widest) = (0, 0);
    for seed in 0..30 {
        let mut seeded = Seeded::new(seed + 60);
        let graph = Precedence::new(60, &acyclic(&mut seeded, 60, 80)).unwrap();
        let picture = draw(&graph, &style);
        assert_sound(&graph, &picture, &style);
        // No row asks for panning over boxes alone, and passing lines never
        // make the drawing wider than three screens.
        for row in 0..=picture.boxes.iter().map(|b| b.row).max().unwrap() {
            assert!(picture.boxes.iter().filter(|b| b.row == row).count() <= style.most_per_row);
        }
        widest = widest.max(picture.width);
        crossed += crossings(&picture);
    }
    println!(
        "60 parts, 80 constraints: widest {widest}, {} crossings on average",
        crossed / 30
    );
    assert!(widest <= 2 * 390);
}

#[test]
fn a_tree_is_drawn_without_a_crossing() {
    // Told in an order that would cross if kept.
    let edges: Vec<Edge> = (1..15u32)
        .map(|x| Edge::new((x - 1) / 2, 15 - 1 - (14 - x), Why::Attached))
        .collect();
    let graph = Precedence::new(15, &edges).unwrap();
    let style = Style {
        most_per_row: 8,
        ..Style::default()
    };
    let picture = draw(&graph, &style);
    assert_eq!(crossings(&picture), 0);

    let mut seeded = Seeded::new(4);
    let mut names: Vec<u32> = (0..15).collect();
    seeded.shuffle(&mut names);
    let mixed: Vec<Edge> = edges
        .iter()
        .map(|e| Edge::new(names[e.before as usize], names[e.after as usize], e.why))
        .collect();
    let graph = Precedence::new(15, &mixed).unwrap();
    assert_eq!(crossings(&draw(&graph, &style)), 0);
}

#[test]
fn nothing_is_drawn_as_nothing() {
    let graph = Precedence::new(0, &[]).unwrap();
    assert_eq!(draw(&graph, &Style::default()), Picture::default());
}
