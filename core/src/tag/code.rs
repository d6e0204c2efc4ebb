//! One tag code: four digits and their two check digits, written "47 12 83".
//!
//! Six digits fit on a strip of tape with a marker pen and are read out in
//! three pairs. The two ends of a hose or plug carry the same code, so that
//! like goes to like by eye, with no phone at hand.

use super::check;
use std::collections::BTreeSet;
use std::fmt;
use std::str::FromStr;

/// Digits in a whole code, check digits included.
const DIGITS: usize = 6;

/// A valid code. Its check digits hold by construction.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct TagCode(u32);

/// Why a text is not a tag code.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TagError {
    /// No digits at all.
    Empty,
    /// A character that no tag carries.
    NotADigit { found: char },
    /// Digits only, but too few or too many.
    WrongLength { digits: usize, wanted: usize },
    /// Six digits that do not belong together: one is wrong, or two are
    /// swapped. Carries what was typed.
    WrongCheck { typed: u32 },
}

impl TagCode {
    /// How many payloads there are: 0000 to 9999.
    pub const PAYLOADS: u16 = 10_000;

    /// The code for a payload of four digits. `None` from 10,000 upwards.
    pub fn from_payload(payload: u16) -> Option<Self> {
        if payload >= Self::PAYLOADS {
            return None;
        }
        let pair = check::check_pair(&format!("{payload:04}"))?;
        Some(Self(u32::from(payload) * 100 + pair))
    }

    /// The four digits without the check digits.
    pub fn payload(self) -> u16 {
        // Six digits at most, so the quotient is below 10,000.
        (self.0 / 100) as u16
    }

    /// All six digits with nothing between them, the form that is stored and
    /// put into a QR code.
    pub fn digits(self) -> String {
        format!("{:06}", self.0)
    }

    /// The code this one turns into when the tag is read upside down, if that
    /// is another valid code.
    pub fn upside_down(self) -> Option<Self> {
        let turned: Option<String> = self
            .digits()
            .chars()
            .rev()
            .map(|digit| match digit {
                '0' | '1' | '8' => Some(digit),
                '6' => Some('9'),
                '9' => Some('6'),
                _ => None,
            })
            .collect();
        turned?.parse().ok().filter(|it| *it != self)
    }

    /// The codes out of `used` that `typed` is one wrong digit or one swap of
    /// neighbours away from: what the hand may have meant.
    pub fn near_misses(typed: u32, used: &BTreeSet<Self>) -> Vec<Self> {
        let typed = format!("{typed:06}").into_bytes();
        let near = |code: &&Self| {
            let digits = code.digits().into_bytes();
            let wrong: Vec<usize> = (0..DIGITS.min(typed.len()))
                .filter(|&i| digits.get(i) != typed.get(i))
                .collect();
            match wrong[..] {
                [_] => true,
                [a, b] => {
                    b == a + 1 && digits.get(a) == typed.get(b) && digits.get(b) == typed.get(a)
                }
                _ => false,
            }
        };
        used.iter().filter(near).copied().collect()
    }
}

impl fmt::Display for TagCode {
    /// In pairs, as it is written and read out: "47 12 83".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{:02} {:02} {:02}",
            self.0 / 10_000,
            self.0 / 100 % 100,
            self.0 % 100
        )
    }
}

impl FromStr for TagCode {
    type Err = TagError;

    /// Reads six digits with spaces, dashes, dots or nothing between them.
    ///
    /// ```
    /// use countback_core::tag::{TagCode, TagError};
    /// let code: TagCode = "47-12 27".parse().unwrap();
    /// assert_eq!(code.to_string(), "47 12 27");
    /// assert_eq!("47-12 72".parse::<TagCode>(), Err(TagError::WrongCheck { typed: 471272 }));
    /// ```
    fn from_str(text: &str) -> Result<Self, TagError> {
        let mut digits = 0;
        let mut number: u32 = 0;
        for found in text.chars() {
            if found.is_whitespace() || matches!(found, '-' | '.' | '/' | '\u{2010}'..='\u{2015}') {
                continue;
            }
            let digit = found.to_digit(10).ok_or(TagError::NotADigit { found })?;
            digits += 1;
            // Wraps only past the length that is refused below.
            number = number.wrapping_mul(10).wrapping_add(digit);
        }
        match digits {
            0 => Err(TagError::Empty),
            DIGITS if number % 97 == 1 => Ok(Self(number)),
            DIGITS => Err(TagError::WrongCheck { typed: number }),
            digits => Err(TagError::WrongLength {
                digits,
                wanted: DIGITS,
            }),
        }
    }
}

#[cfg(test)]
#[allow(clippy::expect_used)]
mod tests {
    use super::*;

    #[test]
    fn every_code_prints_and_parses_back() {
        for payload in 0..TagCode::PAYLOADS {
            let code = TagCode::from_payload(payload).expect("within range");
            assert_eq!(code.payload(), payload);
            assert_eq!(code.to_string().parse(), Ok(code));
            assert_eq!(code.digits().parse(), Ok(code));
        }
        assert_eq!(TagCode::from_payload(TagCode::PAYLOADS), None);
    }

    #[test]
    fn refusals_say_what_is_wrong() {
        assert_eq!(" - ".parse::<TagCode>(), Err(TagError::Empty));
        assert_eq!(
            "47 1z".parse::<TagCode>(),
            Err(TagError::NotADigit { found: 'z' })
        );
        assert_eq!(
            "47 12".parse::<TagCode>(),
            Err(TagError::WrongLength {
                digits: 4,
                wanted: 6
            })
        );
        assert_eq!(
            "9".repeat(40).parse::<TagCode>(),
            Err(TagError::WrongLength {
                digits: 40,
                wanted: 6
            })
        );
    }

    #[test]
    fn near_misses_find_the_one_meant() {
        let used: BTreeSet<_> = (4_000..4_050).filter_map(TagCode::from_payload).collect();
        let meant = *used.iter().nth(7).expect("fifty of them");
        let typed = meant.0 + 10;
        assert!(TagCode::near_misses(typed, &used).contains(&meant));
        assert!(TagCode::near_misses(999_999, &used).is_empty());
    }
}
