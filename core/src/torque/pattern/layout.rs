//! The layouts that are told apart, and the ways of going through them.

use super::Point;

/// How fasteners lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Layout {
    /// One or two: any order will do.
    Few,
    Circle,
    Line,
    TwoRows,
    /// Around the edge of a rectangle.
    RectangleRing,
    Irregular,
}

/// A way to go through them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Scheme {
    /// Opposite follows opposite, as ASME PCC-1 lists it.
    Cross,
    /// From the middle outwards, around and around.
    CentreOutwards,
    /// As the person marked them.
    AsMarked,
}

impl Layout {
    /// The scheme usual for the layout.
    pub fn usual_scheme(self) -> Scheme {
        match self {
            Self::Few => Scheme::AsMarked,
            Self::Circle => Scheme::Cross,
            Self::Line | Self::TwoRows | Self::RectangleRing | Self::Irregular => {
                Scheme::CentreOutwards
            }
        }
    }
}

/// What was recognised.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Recognised {
    pub layout: Layout,
    /// Not clear: the marks fit no layout well, or two about as well. The person
    /// is asked to choose.
    pub unclear: bool,
    /// The schemes on offer, the usual one first; `AsMarked` is always among
    /// them, as the maker's own order may be put in so.
    pub schemes: Vec<Scheme>,
}

/// Why marks are no positions.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LayoutError {
    /// No marks.
    None,
    /// A mark is not a number or endless.
    BadMark { mark: usize },
    /// Two marks lie on one another.
    SamePlace { first: usize, second: usize },
}

/// Marks closer than this part of the whole width are one mark set twice.
const SAME: f64 = 0.01;

pub(super) fn check(points: &[Point]) -> Result<(), LayoutError> {
    if points.is_empty() {
        return Err(LayoutError::None);
    }
    if let Some(mark) = points
        .iter()
        .position(|it| !it.x.is_finite() || !it.y.is_finite())
    {
        return Err(LayoutError::BadMark { mark });
    }
    let distance = |a: &Point, b: &Point| (a.x - b.x).hypot(a.y - b.y);
    let pairs = || {
        points.iter().enumerate().flat_map(|(n, a)| {
            points
                .iter()
                .enumerate()
                .skip(n + 1)
                .map(move |(m, b)| (n, m, distance(a, b)))
        })
    };
    let width = pairs().map(|it| it.2).fold(0.0, f64::max);
    match pairs().find(|it| it.2 <= width * SAME) {
        Some((first, second, _)) => Err(LayoutError::SamePlace { first, second }),
        None => Ok(()),
    }
}
