//! What the maker's figure is meant with: how far off it may be, and for what
//! threads.
use super::facts::{Figure, FixingDetail};
use crate::torque::plausibility::Surface;

/// How far a last stage may be off, either way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tolerance {
    Percent(u8),
    /// A torque, or degrees after an angle.
    By(Figure),
}

/// The threads that a figure is given for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MeantFor {
    Dry,
    Oiled,
}

impl FixingDetail {
    /// What is on the threads: what was prescribed for them, else what the
    /// figure is meant for.
    pub fn surface(&self, put_on: Surface) -> Surface {
        match (put_on, self.meant_for) {
            (Surface::Unknown, Some(MeantFor::Dry)) => Surface::Dry,
            (Surface::Unknown, Some(MeantFor::Oiled)) => Surface::Lubricated,
            (put_on, _) => put_on,
        }
    }

    /// A figure for dry threads, which are oiled: it over-tightens.
    pub fn dry_but_oiled(&self, put_on: Surface) -> bool {
        self.meant_for == Some(MeantFor::Dry) && put_on == Surface::Lubricated
    }

    /// Drawn down by turning on so far: past the figure that any torque tells.
    pub fn by_angle(&self) -> bool {
        self.stages
            .iter()
            .any(|f| matches!(f, Figure::Angle { .. }))
    }
}
