//! The interruption guard: whether work on a thing was broken off, where to go
//! on, and the last things done to it, to be touched again one by one. People
//! come back believing that they are further on than they are; to go back some
//! steps after an interruption is common practice. Answers are `Touched` acts.

mod hand;
mod resume;

pub use resume::{Break, PATIENCE_MS, Resume, Step, Touch, resume};
