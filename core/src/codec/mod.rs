//! How acts are stored: one act, one line of JSON that a person can read. Owns
//! the versions of the stored form; the acts themselves know nothing of it.
//! `FORMAT.md` beside this file is the normative page.
pub mod json;
mod v1;

pub use v1::VERSION;
pub(crate) use v1::{plan_from_text, plan_to_text};

use crate::journal::Event;

/// Why a stored line cannot be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CodecError {
    /// Written by a newer version of the program than this one: a version or
    /// an act that this one does not know. Nothing is wrong with it.
    Newer { version: u32 },
    /// Not what was written: names the field, or "json" for the line as such.
    Damaged { what: &'static str },
}

impl CodecError {
    pub(crate) const fn damaged(what: &'static str) -> Self {
        Self::Damaged { what }
    }
}

/// One act as one line of text, without the line's end.
///
/// ```
/// use countback_core::codec::{decode, encode};
/// use countback_core::journal::{Act, DeviceId, Event, EventId, Target};
/// let id = EventId::new(7, DeviceId(1));
/// let act = Act::NoteAdded { on: Target::Job, text: "gasket face clean".to_owned() };
/// let event = Event { id, with: id, at: 1_760_000_000_000, by: "Ann".to_owned(), act };
/// let line = encode(&event);
/// assert_eq!(
///     line,
///     r#"{"v":1,"id":"00000007-0000000000000001","at":1760000000000,"by":"Ann","act":"note-added","on":"job","text":"gasket face clean"}"#
/// );
/// assert_eq!(decode(&line), Ok(event));
/// ```
pub fn encode(event: &Event) -> String {
    v1::encode(event)
}

/// Reads a line that [`encode`] of this or an earlier version has written.
///
/// # Errors
/// [`CodecError::Newer`] for a line of a later version, [`CodecError::Damaged`]
/// for one that is not whole.
pub fn decode(line: &str) -> Result<Event, CodecError> {
    v1::decode(line)
}
