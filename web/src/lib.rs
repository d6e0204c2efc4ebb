//! The Yew app: screens over the folded job. Views hold no rules.

pub mod ports;
