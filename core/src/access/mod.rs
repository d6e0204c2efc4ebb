//! What must be off before what, and so what can go back, what blocks the
//! rest, and what the next part would bury.
mod back;
mod settled;

pub use back::{Act, Back, Stand, Wait, back};
pub use settled::{Under, buried_by, must_precede, settled};
