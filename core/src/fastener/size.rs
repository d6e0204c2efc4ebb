//! Sizes as text: millimetres held as whole micrometres, and inches held as
//! sixty-fourths or screw numbers, so that both print and parse exactly.

use std::fmt;
use std::str::FromStr;

/// A length of `um` micrometres as millimetres, with no trailing zeros.
///
/// ```
/// assert_eq!(countback_core::fastener::size::mm_text(1_250), "1.25");
/// assert_eq!(countback_core::fastener::size::mm_text(20_000), "20");
/// ```
pub fn mm_text(um: u32) -> String {
    let (whole, rest) = (um / 1_000, um % 1_000);
    if rest == 0 {
        return whole.to_string();
    }
    let text = format!("{whole}.{rest:03}");
    text.trim_end_matches('0').to_string()
}

/// Millimetres as typed ("1.25", "1,25", "20") in whole micrometres. `None`
/// when it is not a plain decimal, has more than three decimals, or is too big.
pub fn parse_mm(text: &str) -> Option<u32> {
    let text = text.trim();
    let (whole, rest) = match text.split_once(['.', ',']) {
        Some((whole, rest)) => (whole, rest),
        None => (text, ""),
    };
    let digits = |it: &str| it.bytes().all(|b| b.is_ascii_digit());
    if !digits(whole) || !digits(rest) || rest.len() > 3 || (whole.is_empty() && rest.is_empty()) {
        return None;
    }
    let whole: u32 = if whole.is_empty() {
        0
    } else {
        whole.parse().ok()?
    };
    let rest: u32 = format!("{rest:0<3}").parse().ok()?;
    whole.checked_mul(1_000)?.checked_add(rest)
}

/// A size in the inch system.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum InchSize {
    /// A screw number, "#10". Diameter 0.060 in + 0.013 in times the number.
    Number(u8),
    /// Sixty-fourths of an inch: 24 is 3/8 in.
    Sixtyfourths(u16),
}

impl InchSize {
    /// The size in micrometres, rounded to the nearest.
    pub fn to_um(self) -> u32 {
        // 0.001 in is 25.4 µm; 1/64 in is 396.875 µm.
        match self {
            Self::Number(number) => ((60 + 13 * u32::from(number)) * 254 + 5) / 10,
            Self::Sixtyfourths(n) => ((u64::from(n) * 396_875 + 500) / 1_000) as u32,
        }
    }

    /// The size in inches.
    pub fn to_inches(self) -> f64 {
        match self {
            Self::Number(number) => 0.060 + 0.013 * f64::from(number),
            Self::Sixtyfourths(n) => f64::from(n) / 64.0,
        }
    }
}

impl fmt::Display for InchSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let n = match *self {
            Self::Number(number) => return write!(f, "#{number}"),
            Self::Sixtyfourths(n) => n,
        };
        let (whole, mut top, mut bottom) = (n / 64, n % 64, 64);
        while top != 0 && top % 2 == 0 {
            top /= 2;
            bottom /= 2;
        }
        match (whole, top) {
            (_, 0) => write!(f, "{whole}"),
            (0, _) => write!(f, "{top}/{bottom}"),
            _ => write!(f, "{whole} {top}/{bottom}"),
        }
    }
}

/// The text is not an inch size: neither a number such as "#10" nor a whole,
/// a fraction, or both, in steps of 1/64.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotAnInchSize;

impl FromStr for InchSize {
    type Err = NotAnInchSize;

    fn from_str(text: &str) -> Result<Self, NotAnInchSize> {
        let text = text.trim();
        if let Some(number) = text.strip_prefix(['#', '№']) {
            return number
                .trim()
                .parse()
                .map(Self::Number)
                .map_err(|_| NotAnInchSize);
        }
        let (whole, fraction) = match text.rsplit_once([' ', '-']) {
            Some((whole, fraction)) => (whole.trim(), fraction),
            None if text.contains('/') => ("0", text),
            None => (text, "0/1"),
        };
        let whole: u32 = whole.parse().map_err(|_| NotAnInchSize)?;
        let (top, bottom) = fraction.split_once('/').ok_or(NotAnInchSize)?;
        let top: u32 = top.trim().parse().map_err(|_| NotAnInchSize)?;
        let bottom: u32 = bottom.trim().parse().map_err(|_| NotAnInchSize)?;
        if bottom == 0 || 64 % bottom != 0 || top >= bottom.max(2) {
            return Err(NotAnInchSize);
        }
        let n = whole
            .checked_mul(64)
            .and_then(|it| it.checked_add(top * (64 / bottom)))
            .and_then(|it| u16::try_from(it).ok())
            .ok_or(NotAnInchSize)?;
        Ok(Self::Sixtyfourths(n))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_inch_size_prints_and_parses_back() {
        for n in 0..=u16::MAX {
            let size = InchSize::Sixtyfourths(n);
            assert_eq!(size.to_string().parse(), Ok(size));
        }
        for number in 0..=u8::MAX {
            let size = InchSize::Number(number);
            assert_eq!(size.to_string().parse(), Ok(size));
        }
    }

    #[test]
    fn inch_sizes_in_micrometres() {
        assert_eq!(InchSize::Sixtyfourths(24).to_um(), 9_525);
        // 65,535 x 0.396875 mm, the largest that can be typed.
        assert_eq!(InchSize::Sixtyfourths(u16::MAX).to_um(), 26_009_203);
        assert_eq!(InchSize::Number(10).to_um(), 4_826);
        assert_eq!("1 1/8".parse(), Ok(InchSize::Sixtyfourths(72)));
        assert_eq!("3/0".parse::<InchSize>(), Err(NotAnInchSize));
        assert_eq!("5/3".parse::<InchSize>(), Err(NotAnInchSize));
    }

    #[test]
    fn millimetres_print_and_parse_back() {
        for um in (0..2_000).chain([1_250_000, u32::MAX]) {
            assert_eq!(parse_mm(&mm_text(um)), Some(um));
        }
        assert_eq!(parse_mm("1,25"), Some(1_250));
        assert_eq!(parse_mm(".5"), Some(500));
        for bad in ["", ".", "1.2345", "x", "-1", "99999999"] {
            assert_eq!(parse_mm(bad), None, "{bad}");
        }
    }
}
