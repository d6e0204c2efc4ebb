//! Tightening: units, what a bolt can bear, whether a figure can be right, the
//! stages and the order of a pass, the tool and the hole.
//!
//! Nothing here is a specification. Every figure computed here is there to
//! doubt an entered one; the maker's figure wins.

pub mod adapter;
mod amount;
mod head_face;
pub mod hole;
mod order;
mod pass;
pub mod pattern;
pub mod plausibility;
pub mod preload;
pub mod running;
pub mod stages;
pub mod strength;
mod unit;
pub mod wrench;

pub use amount::{Torque, TorqueError};
pub use order::{OrderError, check_order, loosening};
pub use pass::{DoubtRemedy, Operation, Pass, PassNext};
pub use unit::TorqueUnit;
