//! The interruption guard: whether work on a thing was broken off, where to go
//! on, and the last things done to it, to be touched again one by one. People
//! come back believing that they are further on than they are; to go back some
//! steps after an interruption is common practice. Answers are `Touched` acts,
//! and going on without them is an act too, `WentOn`: the asking ends with one of
//! these or with work on the thing itself, never with work on another.

mod hand;
mod resume;

pub use resume::{Break, BrokenOff, PATIENCE_MS, Resume, Step, Touch, resume};
