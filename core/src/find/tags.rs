//! Questions that are tag codes: which job and which container, connection or
//! line of tape a code is of; and a code with a slip in it, which is refused.

use super::JobKey;
use super::build::Index;
use crate::journal::Target;
use crate::tag::{TagCode, TagError};

/// Where a tag hangs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct TagOn {
    pub job: JobKey,
    /// A container, or a connection whose two ends both carry it.
    pub what: Target,
}

/// What is known of a code that was typed or scanned.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TagAnswer {
    /// A right code, and where it hangs: more than one place only where two
    /// phones gave out the same.
    Known { code: TagCode, on: Vec<TagOn> },
    /// A right code that hangs nowhere in these jobs.
    Unknown { code: TagCode },
    /// Refused: a digit is wrong or two are swapped. With it, the codes in use
    /// that are one such slip away; none is taken for granted.
    Wrong {
        typed: u32,
        near: Vec<(TagCode, Vec<TagOn>)>,
    },
    /// Too few digits for a code: those in use that begin so.
    Begun { near: Vec<(TagCode, Vec<TagOn>)> },
    /// Too many digits for a code.
    TooLong { digits: usize, wanted: usize },
}

/// Fewer digits than this are a number among words, not a code.
const LEAST_DIGITS: usize = 2;

impl Index {
    /// What is known of `text` as a tag code. Nothing when it holds more than
    /// digits and what stands between them.
    pub fn tag(&self, text: &str) -> Option<TagAnswer> {
        let list = |codes: Vec<TagCode>| {
            codes
                .into_iter()
                .map(|code| (code, self.tags.get(&code).cloned().unwrap_or_default()))
                .collect::<Vec<_>>()
        };
        match text.trim().parse::<TagCode>() {
            Ok(code) => Some(match self.tags.get(&code) {
                Some(on) => TagAnswer::Known {
                    code,
                    on: on.clone(),
                },
                None => TagAnswer::Unknown { code },
            }),
            Err(TagError::WrongCheck { typed }) => {
                let used = self.tags.keys().copied().collect();
                let near = list(TagCode::near_misses(typed, &used));
                Some(TagAnswer::Wrong { typed, near })
            }
            Err(TagError::WrongLength { digits, wanted }) if digits > wanted => {
                Some(TagAnswer::TooLong { digits, wanted })
            }
            Err(TagError::WrongLength { digits, .. }) if digits >= LEAST_DIGITS => {
                let begun: String = text.chars().filter(char::is_ascii_digit).collect();
                let codes: Vec<TagCode> = self
                    .tags
                    .keys()
                    .filter(|code| code.digits().starts_with(&begun))
                    .copied()
                    .collect();
                (!codes.is_empty()).then(|| TagAnswer::Begun { near: list(codes) })
            }
            Err(_) => None,
        }
    }
}
