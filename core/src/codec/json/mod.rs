//! JSON as the stored form uses it: a writer that leaves out what is empty, and
//! a reader whose fields are taken one by one, so that what is left over shows.
//!
//! Records by serde's derive were measured first. In a WASM of the fold, the
//! audit and this codec (opt-level z, fat LTO, no wasm-opt) the code took 404 KB
//! with one derived record for all acts and 270 KB with these two.
mod map;
mod parse;
mod pretty;
mod writer;

pub use map::Map;
pub use pretty::pretty;
pub use writer::Writer;
