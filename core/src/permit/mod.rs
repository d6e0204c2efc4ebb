//! What the machine may be let do as it stands: be turned by hand, cranked,
//! filled, started; and what each still needs. After running: which checks
//! have fallen due, by heat cycles, distance, hours or days.

mod due;
mod fill;
mod needs;

pub use due::{DueCheck, Left, Reached, due_checks, is_due};
pub use fill::{fill_needs, holds_none, joint_of, not_asked};
pub(crate) use needs::stops_turning;
pub use needs::{Ask, Permit, permit};
