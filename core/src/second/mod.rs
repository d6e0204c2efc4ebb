//! The second person, before it is hidden: what asks for another pair of eyes,
//! what the next part would hide unchecked, what was ticked in a way that asks
//! for a second touch, and who let a check go and why.

mod critical;
mod hidden;
mod pace;
mod waive;

pub use critical::{
    Critical, critical_end, critical_fixing, critical_in, suggest_end, suggest_fixing,
};
pub use hidden::{Unchecked, hides_unchecked, joints_under};
pub use pace::{Again, Pace, Slip, touch_again};
pub use waive::{Waiver, mark_stays, waivers};
