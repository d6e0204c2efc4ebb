//! Access: what must be off before what, and what follows from it.
//!
//! Two layers. `settled` and `back` read the job: what can go back now, what
//! blocks the rest, what the next part would bury. The others work on plain
//! dense node numbers and know nothing of parts, fixings or journals; the job
//! lays its own records onto these numbers and reads the answers back.
//!
//! Two directions meet here. `Precedence` and all that plans with it speak of
//! putting back: `before` goes back first. `Ways` speaks of taking off: what
//! has to be off to get at a thing, with alternatives.

mod back;
mod cost;
pub mod cycle;
pub mod graph;
pub mod miss;
pub mod order;
pub mod picture;
pub mod planner;
pub mod positions;
mod rank_set;
pub mod reduction;
mod sequence;
mod settled;
mod under;
pub mod waiting;
pub mod ways;

pub use back::{Act, Back, Stand, Wait, back, back_over};
pub use cost::{Cost, Costs};
pub use cycle::Cycle;
pub use graph::{Edge, GraphError, Node, Precedence, Why};
pub use planner::{Plan, Planner};
pub use settled::settled;
pub use under::{Under, buried_by};
