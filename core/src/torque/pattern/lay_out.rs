//! Positions where there is no photo: the person says how fasteners lie, and
//! they are drawn so. Numbered as bolts of a flange are: clockwise from the top,
//! or from the left (common practice, no source).

use super::{Layout, Point};
use std::f64::consts::TAU;

/// Whether so many fasteners can lie so.
pub fn fits(layout: Layout, n: usize) -> bool {
    match layout {
        Layout::Few => n <= 2,
        Layout::Circle | Layout::Line => n >= 3,
        Layout::TwoRows => n >= 6,
        Layout::RectangleRing => n >= 8,
        Layout::Irregular => false,
    }
}

/// Positions of `n` fasteners in a square of one by one. `along` is how many lie
/// on each long side of a rectangle, corners counted; others have no use for it.
/// Empty when so many cannot lie so.
///
/// ```
/// use countback_core::torque::pattern::{Layout, lay_out, recognise};
/// let circle = lay_out(Layout::Circle, 8, 0);
/// assert_eq!(recognise(&circle).unwrap().layout, Layout::Circle);
/// ```
pub fn lay_out(layout: Layout, n: usize, along: usize) -> Vec<Point> {
    if !fits(layout, n) {
        return Vec::new();
    }
    match layout {
        Layout::Circle => (0..n)
            .map(|it| {
                let angle = TAU * it as f64 / n as f64;
                Point {
                    x: 0.5 + 0.4 * angle.sin(),
                    y: 0.5 - 0.4 * angle.cos(),
                }
            })
            .collect(),
        Layout::Few | Layout::Line => row(n, 0.5).collect(),
        Layout::TwoRows => row(n.div_ceil(2), 0.3).chain(row(n / 2, 0.7)).collect(),
        Layout::RectangleRing => ring(n, along),
        Layout::Irregular => Vec::new(),
    }
}

/// `n` in even steps from the left to the right.
fn row(n: usize, y: f64) -> impl Iterator<Item = Point> {
    let step = 0.8 / n.saturating_sub(1).max(1) as f64;
    (0..n).map(move |it| Point {
        x: 0.1 + step * it as f64,
        y,
    })
}

/// Clockwise from the corner at the top left.
fn ring(n: usize, along: usize) -> Vec<Point> {
    let along = along.clamp(3, (n - 2) / 2);
    let rest = n - 2 * along;
    let side = |between: usize, x: f64, down: bool| {
        (1..=between).map(move |it| {
            let part = 0.4 * it as f64 / (between + 1) as f64;
            Point {
                x,
                y: if down { 0.3 + part } else { 0.7 - part },
            }
        })
    };
    let bottom: Vec<Point> = row(along, 0.7).collect();
    row(along, 0.3)
        .chain(side(rest.div_ceil(2), 0.9, true))
        .chain(bottom.into_iter().rev())
        .chain(side(rest / 2, 0.1, false))
        .collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::{LayoutError, order, recognise};
    use super::*;

    #[test]
    fn what_is_laid_out_is_recognised() {
        for n in 3..=32_usize {
            for layout in [
                Layout::Circle,
                Layout::Line,
                Layout::TwoRows,
                Layout::RectangleRing,
            ] {
                let along = n.div_ceil(3).max(3);
                let points = lay_out(layout, n, along);
                assert_eq!(points.len(), if fits(layout, n) { n } else { 0 });
                if points.is_empty() {
                    continue;
                }
                let found = recognise(&points).unwrap();
                assert_eq!(found.layout, layout, "{n} as {layout:?}");
                let mut order = order(&points, layout.usual_scheme()).unwrap();
                order.sort_unstable();
                assert_eq!(order, (0..n).collect::<Vec<_>>());
            }
        }
        assert_eq!(recognise(&[]), Err(LayoutError::None));
    }
}
