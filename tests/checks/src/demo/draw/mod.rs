//! Line drawings of our own making: a sketch in a few words becomes a small
//! picture, always the same to the byte.
mod canvas;
mod picture;
mod sketch;

pub use picture::{Picture, draw};
pub use sketch::{Spot, spots};

/// Width and height of a drawing, in pixels.
pub const SIZE: (usize, usize) = (512, 384);

/// Width and height of the sheet that sketches are laid out on.
pub const SHEET: (i32, i32) = (640, 480);

/// The drawing is this many times as wide as its thumbnail.
pub const THUMB: usize = 4;
