//! The Yew app: screens over the folded job. Views hold no rules.

pub mod kit;
pub mod router;
pub mod ports;
