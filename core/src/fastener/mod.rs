//! Knowledge of fasteners: what a bolt, nut or clip is called, its thread, its
//! head and its class. Counting them, and where each one belongs, is the
//! ledger's; here is only what can be known of one from looking at it.

pub mod class;
pub mod head;
pub mod kind;
pub mod size;
pub mod spec;
pub mod thread;

pub use class::{PropertyClass, StainlessGrade};
pub use head::{Drive, DriveSize, HeadSize};
pub use kind::FastenerKind;
pub use size::InchSize;
pub use spec::{FastenerSpec, SpecError};
pub use thread::{PipeForm, Thread};
