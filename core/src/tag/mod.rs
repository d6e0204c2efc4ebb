//! Codes written on tags: what stands on a bag, a box, or both ends of a hose.
//! Owns the digits, their check and the choice of the next free code. What a
//! code lies on, and in which job, is the ledger's.

mod allocate;
pub mod check;
mod code;

pub use allocate::{AllTagsUsed, DeviceBlocks, allocate};
pub use code::{TagCode, TagError};
