//! A sketch in words, strokes between semicolons, each a word and its numbers
//! in steps of a sheet of 640 by 480:
//!
//! | stroke | draws |
//! |---|---|
//! | `plate x y w h r` | a body with round corners |
//! | `disc x y r` | a round body |
//! | `ring x y r` | a circle |
//! | `bore x y r` | a round hole with its centre lines |
//! | `poly x y …` | a body of any outline |
//! | `cut x y …` | a hole of any outline |
//! | `line x y x y` | an edge |
//! | `axis x y x y` | a broken line: how things come apart |
//! | `teeth x y r n` | a gear |
//! | `vanes x y r n` | an impeller |
//! | `fin x y w h n` | n strokes side by side: ribs, coils, cloth |
//! | `h` and a number, `x y` | a fastener of that fixing of the part |
//! | `end x y dx dy` | a hose or pipe end that points along dx, dy (in tenths) |
//! | `plug x y` | a plug |
//! | `spot x y` | nothing but a ring round what is to be seen |
use super::canvas::*;

/// Where on a drawing a thing is, in thousandths of its width and height.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spot {
    pub x: u16,
    pub y: u16,
    /// The fixing, by its position on the part; none for an end.
    pub fixing: Option<usize>,
}

fn strokes(sketch: &str) -> impl Iterator<Item = (&str, Vec<i32>)> {
    sketch.split(';').filter_map(|stroke| {
        let mut words = stroke.split_whitespace();
        let name = words.next()?;
        let numbers = words.map(|w| w.parse().unwrap_or_else(|_| panic!("{stroke}")));
        Some((name, numbers.collect()))
    })
}

fn fixing(name: &str) -> Option<usize> {
    name.strip_prefix('h')?.parse().ok()
}

/// The fasteners, ends and spots of a sketch, in the order in which they are drawn.
pub fn spots(sketch: &str) -> Vec<Spot> {
    let (width, height) = super::SHEET;
    strokes(sketch)
        .filter(|(name, _)| fixing(name).is_some() || matches!(*name, "end" | "plug" | "spot"))
        .map(|(name, n)| Spot {
            x: (n[0] * 1_000 / width) as u16,
            y: (n[1] * 1_000 / height) as u16,
            fixing: fixing(name),
        })
        .collect()
}

/// Sixty-four points of a circle of radius 1,000: one turn without the sines of
/// a machine, which differ in their last digit.
fn around(part: i32, of: i32) -> (i32, i32) {
    const QUARTER: [i32; 17] = [
        0, 98, 195, 290, 383, 471, 556, 634, 707, 773, 831, 882, 924, 957, 981, 995, 1_000,
    ];
    let step = (part * 64 / of).rem_euclid(64) as usize;
    let at = |n: usize| match n / 16 {
        0 => QUARTER[n],
        1 => QUARTER[32 - n],
        2 => -QUARTER[n - 32],
        _ => -QUARTER[64 - n],
    };
    (at((step + 16) % 64), at(step))
}

fn on_circle(x: i32, y: i32, r: i32, part: i32, of: i32) -> (i32, i32) {
    let (cos, sin) = around(part, of);
    (x + r * cos / 1_000, y + r * sin / 1_000)
}

const EDGE: i32 = 3 * FINE;
const FAINT: i32 = 2 * FINE;

/// Draws a sketch.
pub fn draw(sketch: &str) -> Canvas {
    let mut canvas = Canvas::new(super::SIZE.0, super::SIZE.1);
    for (name, numbers) in strokes(sketch) {
        let fine = |n: &i32| n * FINE * super::SIZE.0 as i32 / super::SHEET.0;
        let n: Vec<i32> = numbers.iter().map(fine).collect();
        stroke(&mut canvas, name, &n, &numbers);
    }
    canvas
}

/// `n` is in quarter pixels, `plain` as it was written.
fn stroke(c: &mut Canvas, name: &str, n: &[i32], plain: &[i32]) {
    let points = || n.chunks_exact(2).map(|p| (p[0], p[1])).collect::<Vec<_>>();
    match name {
        "plate" => c.plate((n[0], n[1]), (n[2], n[3]), n[4], EDGE, BODY),
        "disc" => c.disc(n[0], n[1], n[2], EDGE, Some(BODY)),
        "ring" => c.disc(n[0], n[1], n[2], FAINT, None),
        "bore" => {
            c.disc(n[0], n[1], n[2], EDGE, Some(PAPER));
            let over = n[2] + 10 * FINE;
            axis(c, (n[0] - over, n[1]), (n[0] + over, n[1]));
            axis(c, (n[0], n[1] - over), (n[0], n[1] + over));
        }
        "poly" => c.outline(&points(), EDGE, BODY),
        "cut" => c.outline(&points(), EDGE, PAPER),
        "line" => c.line((n[0], n[1]), (n[2], n[3]), FAINT, INK),
        "axis" => axis(c, (n[0], n[1]), (n[2], n[3])),
        "teeth" => {
            for tooth in 0..plain[3] {
                let inner = on_circle(n[0], n[1], n[2], tooth, plain[3]);
                let outer = on_circle(n[0], n[1], n[2] + 14 * FINE, tooth, plain[3]);
                c.line(inner, outer, 9 * FINE, INK);
            }
            c.disc(n[0], n[1], n[2] + 2 * FINE, EDGE, Some(BODY));
        }
        "vanes" => {
            for vane in 0..plain[3] {
                let tip = on_circle(n[0], n[1], n[2], vane, plain[3]);
                c.line((n[0], n[1]), tip, 12 * FINE, INK);
                c.disc(tip.0, tip.1, 9 * FINE, EDGE, Some(BODY));
            }
            c.disc(n[0], n[1], n[2] / 3, EDGE, Some(BODY));
        }
        "fin" => {
            for fin in 0..plain[4] {
                let x = n[0] + n[2] * fin / (plain[4] - 1).max(1);
                c.line((x, n[1]), (x, n[1] + n[3]), FAINT, SHADE);
            }
        }
        "spot" => c.disc(n[0], n[1], 26 * FINE, EDGE, None),
        "end" => end(c, (n[0], n[1]), (plain[2], plain[3])),
        "plug" => {
            let (x, y) = (n[0], n[1]);
            let size = (36 * FINE, 26 * FINE);
            c.plate((x - 18 * FINE, y - 13 * FINE), size, 4 * FINE, EDGE, SHADE);
            c.line((x - 18 * FINE, y), (x + 18 * FINE, y), FAINT, INK);
        }
        name if fixing(name).is_some() => fastener(c, (n[0], n[1])),
        _ => panic!("no such stroke: {name}"),
    }
}

/// A fastener seen from above: a hexagon in its washer.
fn fastener(c: &mut Canvas, at: (i32, i32)) {
    // On a grid of whole bytes the same picture packs to the same bytes.
    let (x, y) = (at.0 / 16 * 16, at.1);
    c.disc(x, y, 13 * FINE, FAINT, Some(PAPER));
    let hexagon: Vec<_> = (0..6).map(|n| on_circle(x, y, 9 * FINE, n, 6)).collect();
    c.outline(&hexagon, FAINT, SHADE);
}

/// A spigot with its bead and a clamp.
fn end(c: &mut Canvas, (x, y): (i32, i32), (dx, dy): (i32, i32)) {
    let along = |n: i32| (x + dx * n * FINE / 10, y + dy * n * FINE / 10);
    c.line(along(0), along(50), 38 * FINE, INK);
    c.line(along(2), along(48), 32 * FINE, BODY);
    let side = |n: i32, off: i32| {
        let at = along(n);
        (at.0 - dy * off * FINE / 10, at.1 + dx * off * FINE / 10)
    };
    for (n, half, width) in [(22, 22, EDGE), (31, 22, EDGE), (50, 21, 7 * FINE)] {
        c.line(side(n, -half), side(n, half), width, INK);
    }
}

/// Long and short dashes in turn.
fn axis(c: &mut Canvas, a: (i32, i32), b: (i32, i32)) {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let length = dx.abs().max(dy.abs()).max(1);
    let at = |n: i32| {
        let n = n.min(length);
        (a.0 + dx * n / length, a.1 + dy * n / length)
    };
    let (mut from, mut long) = (0, true);
    while from < length {
        let dash = if long { 18 } else { 4 } * FINE;
        c.line(at(from), at(from + dash), FAINT, SHADE);
        from += dash + 7 * FINE;
        long = !long;
    }
}
