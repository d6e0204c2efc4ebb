//! Version 1 of the stored form: records, words and the conversions both ways.
mod ids;
mod plan;
mod read;
mod record;
mod torque;
mod values;
mod words;
mod write;

pub(crate) use plan::{plan_from_text, plan_to_text};
pub use read::{decode, knows};
pub use write::encode;

/// The version that this module reads and writes.
pub const VERSION: u32 = 1;
