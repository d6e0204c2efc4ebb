//! Knowledge of fasteners: what a bolt, nut or clip is called, its thread, its
//! head and its class. Counting them, and where each one belongs, is the
//! ledger's; here is only what can be known of one from looking at it.

pub mod class;
pub mod common_items;
pub mod geometry;
pub mod habit;
pub mod head;
#[rustfmt::skip]
mod head_rows;
pub mod head_table;
pub mod identify;
pub mod item_sizes;
pub mod kind;
pub mod marks;
pub mod size;
pub mod spec;
pub mod suggest;
pub mod thread;
pub mod thread_table;
pub mod words;

pub use class::{PropertyClass, StainlessGrade};
pub use habit::Habit;
pub use head::{Drive, DriveSize, HeadSize};
pub use kind::FastenerKind;
pub use size::InchSize;
pub use spec::{FastenerSpec, SpecError};
pub use thread::{PipeForm, Thread};
