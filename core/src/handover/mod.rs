//! The job on one page for whoever takes over: what must not be done with the
//! machine and why, what looks done but is not, where the parts stand in numbers
//! that add up, and the next act. Values only; the wording is made elsewhere.

mod looks;
mod page;
mod parts;

pub use looks::{Doubt, LooksDone};
pub use page::{Handover, Stop, handover};
pub use parts::{Parts, Waiting};
