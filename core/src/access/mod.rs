//! Access: what must be off before what, and what follows from it.
//!
//! Two layers. `settled` and `back` read the job: what can go back now, what
//! blocks the rest, what the next part would bury; `from_job` lays the job's
//! things onto dense numbers, and `cost`, `pace`, `handy`, `reach` and
//! `drawing` ask the others with them. The others work on plain dense node
//! numbers and know nothing of parts, fixings or journals.
//!
//! Two directions meet here. `Precedence` and all that plans with it speak of
//! putting back: `before` goes back first. `Ways` speaks of taking off: what
//! has to be off to get at a thing, with alternatives.

mod back;
mod cost;
pub mod cycle;
mod drawing;
mod from_job;
pub mod graph;
mod handy;
pub mod miss;
pub mod order;
mod otherwise;
mod pace;
pub mod picture;
pub mod planner;
pub mod positions;
mod rank_set;
mod reach;
pub mod reduction;
mod sequence;
mod sets;
mod settled;
mod under;
pub mod waiting;
pub mod ways;

pub use back::{Act, Back, Stand, Wait, back, back_at, back_over, circle, hides};
pub use cost::{Cost, Costs};
pub use cycle::Cycle;
pub use drawing::drawing;
pub use from_job::{Goal, Laid, part_of, planned_connection, planned_parts};
pub use graph::{Edge, GraphError, Node, Precedence, Why};
pub use handy::{Handy, HeldUp, Run, handy};
pub use pace::{AtWork, Pace};
pub use planner::{Plan, Planner};
pub use reach::{Asking, Reach};
pub use settled::{lacking, lacks_look, settled};
pub use under::{Under, buried_by, buried_under};
