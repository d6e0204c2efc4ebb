//! Tells the layouts apart. Each has a misfit: 0 is perfect, 1 the most that is
//! still taken for it. Marks are set by thumb on a photo taken at an angle, so
//! the bounds are wide.

use super::geometry::{Points, Rectangle, at};
use super::layout::{Layout, Recognised, Scheme};
use std::f64::consts::TAU;

/// Two layouts this near to one another in misfit are both offered.
const NEAR: f64 = 0.25;

pub(super) fn recognise(points: &Points) -> Recognised {
    if points.len() <= 2 {
        return recognised(Layout::Few, false, &[]);
    }
    let mut fits: Vec<(Layout, f64)> = [
        (Layout::Line, line(points)),
        (Layout::Circle, circle(points)),
        (Layout::TwoRows, two_rows(points)),
        (Layout::RectangleRing, rectangle_ring(points)),
    ]
    .into_iter()
    .filter(|it| it.1 <= 1.0)
    .collect();
    fits.sort_by(|a, b| a.1.total_cmp(&b.1));
    let Some(&(layout, misfit)) = fits.first() else {
        return recognised(
            Layout::Irregular,
            true,
            &[Scheme::CentreOutwards, Scheme::Cross],
        );
    };
    let rivals: Vec<Scheme> = fits
        .iter()
        .skip(1)
        .filter(|it| it.1 - misfit < NEAR)
        .map(|it| it.0.usual_scheme())
        .filter(|it| *it != layout.usual_scheme())
        .collect();
    recognised(layout, !rivals.is_empty(), &rivals)
}

fn recognised(layout: Layout, unclear: bool, others: &[Scheme]) -> Recognised {
    let mut schemes = vec![layout.usual_scheme()];
    for scheme in others.iter().copied().chain([Scheme::AsMarked]) {
        if !schemes.contains(&scheme) {
            schemes.push(scheme);
        }
    }
    Recognised {
        layout,
        unclear,
        schemes,
    }
}

/// Marks within a twelfth of the length of a straight line.
pub(super) fn line(points: &Points) -> f64 {
    points.slimness() / 0.12
}

/// All about as far from the middle, in even steps, once the view from the side
/// is straightened.
fn circle(points: &Points) -> f64 {
    if line(points) <= 1.0 {
        return f64::INFINITY;
    }
    let rounded = points.rounded();
    let n = rounded.len() as f64;
    let radii: Vec<f64> = rounded.iter().map(|it| it.0.hypot(it.1)).collect();
    let mean = radii.iter().sum::<f64>() / n;
    let off_radius = radii
        .iter()
        .map(|it| (it / mean - 1.0).abs())
        .fold(0.0, f64::max);
    let mut angles: Vec<f64> = rounded.iter().map(|it| it.1.atan2(it.0)).collect();
    angles.sort_by(f64::total_cmp);
    let step = TAU / n;
    let off_step = (0..angles.len())
        .map(|it| (at(&angles, (it + 1) % angles.len()) - at(&angles, it)).rem_euclid(TAU))
        .map(|gap| (gap / step - 1.0).abs())
        .fold(0.0, f64::max);
    (off_radius / 0.15).max(off_step / 0.45)
}

/// Two straight rows side by side of about as many each.
fn two_rows(points: &Points) -> f64 {
    rows(points).map_or(f64::INFINITY, |it| it.misfit)
}

/// Two rows that were found, good or not.
pub(super) struct Rows {
    pub misfit: f64,
    /// How far along its row each mark is.
    pub along: Vec<f64>,
}

/// The better of the two ways in which marks may lie in rows: six bolts in two
/// rows of three may stand closer in the row than the rows are apart. `None`
/// when there can be no rows.
pub(super) fn rows(points: &Points) -> Option<Rows> {
    if points.len() < 6 || line(points) <= 1.0 {
        return None;
    }
    let rectangle = points.rectangle();
    [rectangle.flipped(), rectangle]
        .into_iter()
        .map(|it| Rows {
            misfit: rows_misfit(&it),
            along: it.marks.iter().map(|mark| mark.0).collect(),
        })
        .filter(|it| it.misfit.is_finite())
        .min_by(|a, b| a.misfit.total_cmp(&b.misfit))
}

/// How far marks are from two rows along the first side.
fn rows_misfit(rectangle: &Rectangle) -> f64 {
    let gap = rectangle.size.1;
    let across = rectangle.marks.iter().map(|it| it.1);
    let (near, far): (Vec<f64>, Vec<f64>) = across.partition(|it| *it < gap / 2.0);
    let fewer = near.len().min(far.len());
    // One more in one row is a staggered pattern; two more is something else.
    if fewer < 3 || near.len().abs_diff(far.len()) > 1 {
        return f64::INFINITY;
    }
    let off_near = near.iter().copied().fold(0.0, f64::max);
    let off_far = far.iter().map(|it| gap - it).fold(0.0, f64::max);
    off_near.max(off_far) / (0.3 * gap)
}

/// All along the edge of a rectangle, with a mark near every corner.
fn rectangle_ring(points: &Points) -> f64 {
    if points.len() < 6 || line(points) <= 1.0 {
        return f64::INFINITY;
    }
    let Rectangle {
        marks,
        size: (wide, high),
        ..
    } = points.rectangle();
    // Something between the corners on either pair of sides, else it is rows.
    let inner = |v: f64, size: f64| (0.2 * size..=0.8 * size).contains(&v);
    if !marks.iter().any(|it| inner(it.1, high)) || !marks.iter().any(|it| inner(it.0, wide)) {
        return f64::INFINITY;
    }
    let shorter = wide.min(high);
    let edge = |it: &(f64, f64)| it.0.min(wide - it.0).min(it.1).min(high - it.1);
    let off = marks.iter().map(edge).fold(0.0, f64::max) / shorter;
    let nearest = |corner: &(f64, f64)| {
        marks
            .iter()
            .map(|it| (it.0 - corner.0).hypot(it.1 - corner.1))
            .fold(f64::INFINITY, f64::min)
    };
    let corners = [(0.0, 0.0), (wide, 0.0), (0.0, high), (wide, high)];
    let corner_off = corners.iter().map(nearest).fold(0.0, f64::max) / shorter;
    (off / 0.2).max(corner_off / 0.3)
}
