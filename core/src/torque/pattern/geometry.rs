//! Plane geometry on a handful of marks.

use super::Point;
use std::f64::consts::{FRAC_PI_2, TAU};

/// Marks moved to their centre, turned to their long axis.
#[derive(Clone, Debug)]
pub(super) struct Points {
    /// As marked, from the centre.
    centred: Vec<(f64, f64)>,
    /// Along the long and the short axis, from the centre.
    turned: Vec<(f64, f64)>,
    /// Spread (standard deviation) along the long and the short axis.
    spread: (f64, f64),
}

impl Points {
    pub fn new(points: &[Point]) -> Self {
        let n = points.len().max(1) as f64;
        let centre = (
            points.iter().map(|it| it.x).sum::<f64>() / n,
            points.iter().map(|it| it.y).sum::<f64>() / n,
        );
        let centred: Vec<_> = points
            .iter()
            .map(|it| (it.x - centre.0, it.y - centre.1))
            .collect();
        let sum = |term: fn(&(f64, f64)) -> f64| centred.iter().map(term).sum::<f64>() / n;
        let (xx, yy, xy) = (
            sum(|it| it.0 * it.0),
            sum(|it| it.1 * it.1),
            sum(|it| it.0 * it.1),
        );
        // Eigenvectors of the covariance in closed form.
        let angle = 0.5 * (2.0 * xy).atan2(xx - yy);
        let long = (angle.cos(), angle.sin());
        let turned: Vec<_> = centred
            .iter()
            .map(|it| (it.0 * long.0 + it.1 * long.1, it.1 * long.0 - it.0 * long.1))
            .collect();
        let deviation = |of: fn(&(f64, f64)) -> f64| {
            (turned.iter().map(|it| of(it).powi(2)).sum::<f64>() / n).sqrt()
        };
        let spread = (deviation(|it| it.0), deviation(|it| it.1));
        Self {
            centred,
            turned,
            spread,
        }
    }

    pub fn len(&self) -> usize {
        self.centred.len()
    }

    pub fn turned(&self) -> &[(f64, f64)] {
        &self.turned
    }

    /// Spread across over spread along: nought on a line, one on a circle.
    pub fn slimness(&self) -> f64 {
        if self.spread.0 > 0.0 {
            self.spread.1 / self.spread.0
        } else {
            0.0
        }
    }

    /// Stretched so that both spreads are one. A circle seen at an angle becomes
    /// a circle again.
    pub fn rounded(&self) -> Vec<(f64, f64)> {
        let (along, across) = (self.spread.0.max(1e-12), self.spread.1.max(1e-12));
        self.turned
            .iter()
            .map(|it| (it.0 / along, it.1 / across))
            .collect()
    }

    /// All marks clockwise as seen on the photo, from the topmost.
    pub fn clockwise(&self) -> Vec<usize> {
        // Angles are taken after rounding, so that a slim ellipse keeps its
        // steps, and turned back so that clockwise stays clockwise.
        let angles: Vec<f64> = self.rounded().iter().map(|it| it.1.atan2(it.0)).collect();
        let mut around: Vec<usize> = (0..self.len()).collect();
        around.sort_by(|&a, &b| at(&angles, a).total_cmp(&at(&angles, b)));
        let top = (0..around.len())
            .min_by(|&a, &b| {
                let key = |n: usize| {
                    around
                        .get(n)
                        .and_then(|&it| self.centred.get(it))
                        .copied()
                        .unwrap_or_default()
                };
                let (a, b) = (key(a), key(b));
                a.1.total_cmp(&b.1).then(a.0.total_cmp(&b.0))
            })
            .unwrap_or(0);
        around.rotate_left(top);
        around
    }

    /// The angle of a mark clockwise from the top, in radians from 0 to a turn.
    pub fn angle(&self, mark: usize) -> f64 {
        let (x, y) = self.centred.get(mark).copied().unwrap_or_default();
        (y.atan2(x) + FRAC_PI_2).rem_euclid(TAU)
    }

    /// The smallest rectangle around all marks, once rounded: rounding makes a
    /// rectangle seen at an angle square-cornered again.
    pub fn rectangle(&self) -> Rectangle {
        let rounded = self.rounded();
        let outline = outline(&rounded);
        let edges = outline.iter().zip(outline.iter().cycle().skip(1));
        let placed = |angle: f64| -> Vec<(f64, f64)> {
            let (cos, sin) = (angle.cos(), angle.sin());
            rounded
                .iter()
                .map(|it| (it.0 * cos + it.1 * sin, it.1 * cos - it.0 * sin))
                .collect()
        };
        let best = edges
            .map(|(a, b)| (b.1 - a.1).atan2(b.0 - a.0))
            .map(|angle| {
                let (low, high) = bounds(&placed(angle));
                (angle, low, (high.0 - low.0, high.1 - low.1))
            })
            .min_by(|a, b| (a.2.0 * a.2.1).total_cmp(&(b.2.0 * b.2.1)));
        let Some((angle, low, size)) = best else {
            return Rectangle {
                marks: self.turned.clone(),
                size: (0.0, 0.0),
                stretch: 1.0,
            };
        };
        let marks: Vec<_> = placed(angle)
            .into_iter()
            .map(|it| (it.0 - low.0, it.1 - low.1))
            .collect();
        // How long the sides are on the photo, before rounding.
        let real = |x: f64, y: f64| (x * self.spread.0).hypot(y * self.spread.1);
        let first = real(angle.cos(), angle.sin()) * size.0;
        let second = real(angle.sin(), angle.cos()) * size.1;
        if first >= second {
            Rectangle {
                marks,
                size,
                stretch: first / second.max(1e-12),
            }
        } else {
            let turned = Rectangle {
                marks,
                size,
                stretch: second / first.max(1e-12),
            };
            turned.flipped()
        }
    }
}

/// A rectangle around marks, its first side the longer on the photo.
#[derive(Clone, Debug)]
pub(super) struct Rectangle {
    /// Where each mark lies, from one corner.
    pub marks: Vec<(f64, f64)>,
    pub size: (f64, f64),
    /// The longer side over the shorter, as on the photo.
    pub stretch: f64,
}

impl Rectangle {
    /// With its sides exchanged.
    pub fn flipped(&self) -> Self {
        Self {
            marks: self.marks.iter().map(|it| (it.1, it.0)).collect(),
            size: (self.size.1, self.size.0),
            stretch: self.stretch,
        }
    }
}

/// The convex outline (monotone chain).
fn outline(marks: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut sorted = marks.to_vec();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let half = |points: &mut dyn Iterator<Item = &(f64, f64)>| {
        let mut chain: Vec<(f64, f64)> = Vec::new();
        for &point in points {
            while let [.., a, b] = chain[..] {
                let turn = (b.0 - a.0) * (point.1 - a.1) - (b.1 - a.1) * (point.0 - a.0);
                if turn > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push(point);
        }
        chain.pop();
        chain
    };
    let mut outline = half(&mut sorted.iter());
    outline.extend(half(&mut sorted.iter().rev()));
    outline
}

pub(super) fn at(values: &[f64], n: usize) -> f64 {
    values.get(n).copied().unwrap_or(0.0)
}

fn bounds(points: &[(f64, f64)]) -> ((f64, f64), (f64, f64)) {
    points.iter().fold(
        (
            (f64::INFINITY, f64::INFINITY),
            (f64::NEG_INFINITY, f64::NEG_INFINITY),
        ),
        |(low, high), it| {
            (
                (low.0.min(it.0), low.1.min(it.1)),
                (high.0.max(it.0), high.1.max(it.1)),
            )
        },
    )
}
