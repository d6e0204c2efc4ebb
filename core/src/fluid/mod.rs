//! Fluids apart from any job: a volume as a person wrote it down, and which
//! fluid the name of a hose speaks of.
mod family;
mod volume;

pub use family::{Families, families};
pub use volume::{Volume, VolumeUnit, differs, read, stepped};
