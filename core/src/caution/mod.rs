//! What kind of thing is touched and the usual caution for it, to be shown
//! before the act. Owns the wording and the guess from a thing's name; the
//! maker's instructions, local rules and licensed practice come before all of
//! it. There is no figure here that is not in a named source, and no waiting
//! time for airbags at all: makers differ from seconds to twenty minutes.

mod before;
mod guess;
mod text;
mod trade_words;

pub(crate) use guess::{Phrases, Said};

pub use before::{acknowledged, before, touched};
pub use guess::for_part_name;
pub use text::{Caution, DEFERS, caution};
