//! Version 1 of the stored form: its words and the conversions both ways.
mod ids;
mod plan;
mod read;
mod torque;
mod values;
mod words;
mod write;

pub(crate) use ids::reference;
pub(crate) use plan::{plan_from_text, plan_to_text};
pub use read::decode;
pub use write::encode;

use super::CodecError;
use super::json::Map;

/// The version that this module reads and writes.
pub const VERSION: u32 = 1;

/// Takes the version off a record and says whether it can be read.
fn version(r: &mut Map) -> Result<u32, CodecError> {
    match r.count("v")? {
        0 => Err(CodecError::damaged("v")),
        VERSION => Ok(VERSION),
        version => Err(CodecError::Newer { version }),
    }
}
