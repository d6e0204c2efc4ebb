//! From positions marked on a photo to an order of tightening: the layout is
//! recognised, or said to be unclear with the choices there are.

mod cross;
mod geometry;
mod lay_out;
mod layout;
mod outwards;
mod recognise;

pub use cross::cross_order;
pub use lay_out::{fits, lay_out};
pub use layout::{Layout, LayoutError, Recognised, Scheme};

use geometry::Points;

/// A mark on a photo: to the right and down, in any one unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    pub x: f64,
    pub y: f64,
}

/// What the marks look like. They may be seen at an angle: a circle may come
/// out as an ellipse.
///
/// # Errors
/// [`LayoutError`] when the marks are no positions.
///
/// ```
/// use countback_core::torque::pattern::{Layout, Point, recognise};
/// let row: Vec<Point> = (0..5).map(|n| Point { x: n as f64, y: 0.02 }).collect();
/// assert_eq!(recognise(&row).unwrap().layout, Layout::Line);
/// ```
pub fn recognise(points: &[Point]) -> Result<Recognised, LayoutError> {
    layout::check(points)?;
    Ok(recognise::recognise(&Points::new(points)))
}

/// The order of tightening by a scheme: fasteners by their place in `points`.
/// Each occurs once.
///
/// # Errors
/// [`LayoutError`] when the marks are no positions.
pub fn order(points: &[Point], scheme: Scheme) -> Result<Vec<usize>, LayoutError> {
    layout::check(points)?;
    let points = Points::new(points);
    Ok(match scheme {
        Scheme::Cross => {
            let around = points.clockwise();
            cross_order(around.len())
                .into_iter()
                .filter_map(|it| around.get(it).copied())
                .collect()
        }
        Scheme::CentreOutwards => outwards::outwards(&points),
        Scheme::AsMarked => (0..points.len()).collect(),
    })
}
