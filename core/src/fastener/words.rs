//! Sizes as people type them into a search: "10 mil bolt", "T30", "9/16 nut".

use super::head::{Drive, DriveSize, HeadSize};
use super::kind::FastenerKind;
use super::size::{InchSize, parse_mm};

/// A head size said in passing, and the kind of fastener where it was said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SaidHead {
    pub head: HeadSize,
    pub kind: Option<FastenerKind>,
}

/// The head size in `text`, if it names one. A bare number is none: it may be
/// a count.
///
/// ```
/// use countback_core::fastener::{Drive, HeadSize, words::head_in_words};
/// let said = head_in_words("10 mil bolt").unwrap();
/// assert_eq!(said.head, HeadSize::mm(Drive::Hex, 10));
/// ```
pub fn head_in_words(text: &str) -> Option<SaidHead> {
    let lower = text.to_lowercase();
    let words: Vec<&str> = lower
        .split(|it: char| it.is_whitespace() || it == ';')
        .filter(|it| !it.is_empty())
        .collect();
    let kind = words.iter().find_map(|it| it.parse::<FastenerKind>().ok());
    let said_drive = drive_in_words(&lower);
    let drive = said_drive.unwrap_or_default();
    for (n, word) in words.iter().enumerate() {
        let next = words.get(n + 1).copied().unwrap_or_default();
        if let Some(head) = numbered(word) {
            return Some(SaidHead { head, kind });
        }
        let unit = word
            .trim_start_matches(|it: char| it.is_ascii_digit() || matches!(it, '.' | ',' | '/'));
        let number = word.strip_suffix(unit).unwrap_or(word);
        let unit = if unit.is_empty() { next } else { unit };
        let size = match unit {
            "mm" | "mil" | "mill" | "mills" | "mils" | "millimetre" | "millimeter" => {
                parse_mm(number).map(DriveSize::Um)
            }
            "in" | "inch" | "\"" => number.parse::<InchSize>().ok().map(DriveSize::Inch),
            // A fraction is an inch size with or without its unit.
            _ if number.contains('/') => number.parse().ok().map(DriveSize::Inch),
            // A drive said beside it makes a bare number a size.
            _ if said_drive.is_some() || next == "head" => parse_mm(number).map(DriveSize::Um),
            _ => None,
        };
        if let Some(size) = size.filter(|it| it.to_um() > Some(0)) {
            return Some(SaidHead {
                head: HeadSize {
                    drive,
                    size: Some(size),
                },
                kind,
            });
        }
    }
    None
}

fn drive_in_words(lower: &str) -> Option<Drive> {
    const SAID: &[(&str, Drive)] = &[
        ("flange", Drive::HexFlange),
        ("allen", Drive::SocketHex),
        ("hex key", Drive::SocketHex),
        ("hexagon key", Drive::SocketHex),
        ("socket head", Drive::SocketHex),
        ("square", Drive::Square),
        ("spline", Drive::TripleSquare),
        ("triple", Drive::TripleSquare),
        ("hex", Drive::Hex),
    ];
    SAID.iter().find(|it| lower.contains(it.0)).map(|it| it.1)
}

/// "t30", "tx30", "e12", "ph2", "pz2".
fn numbered(word: &str) -> Option<HeadSize> {
    const PREFIXES: &[(&str, Drive)] = &[
        ("tx", Drive::Hexalobular),
        ("t", Drive::Hexalobular),
        ("e", Drive::ExternalHexalobular),
        ("ph", Drive::Cross),
        ("pz", Drive::CrossZ),
    ];
    PREFIXES.iter().find_map(|&(prefix, drive)| {
        let number = word.strip_prefix(prefix)?.parse().ok()?;
        Some(HeadSize::numbered(drive, number))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_found_in_passing() {
        let nine_sixteenths = Some(DriveSize::Inch(InchSize::Sixtyfourths(36)));
        for (text, head) in [
            ("10 mil bolt", HeadSize::mm(Drive::Hex, 10)),
            ("the 12mm head", HeadSize::mm(Drive::Hex, 12)),
            ("8 mm flange bolts", HeadSize::mm(Drive::HexFlange, 8)),
            ("5 allen", HeadSize::mm(Drive::SocketHex, 5)),
            ("T30", HeadSize::numbered(Drive::Hexalobular, 30)),
            (
                "E12 bolt",
                HeadSize::numbered(Drive::ExternalHexalobular, 12),
            ),
            ("PH2 screw", HeadSize::numbered(Drive::Cross, 2)),
            (
                "9/16 nut",
                HeadSize {
                    drive: Drive::Hex,
                    size: nine_sixteenths,
                },
            ),
            (
                "9/16\" bolt",
                HeadSize {
                    drive: Drive::Hex,
                    size: nine_sixteenths,
                },
            ),
        ] {
            assert_eq!(head_in_words(text).map(|it| it.head), Some(head), "{text}");
        }
        assert_eq!(
            head_in_words("10 mil bolt").and_then(|it| it.kind),
            Some(FastenerKind::Bolt)
        );
        for text in ["10 bolts", "mainfold", "", "0 mm", "bag 12"] {
            assert_eq!(head_in_words(text), None, "{text}");
        }
    }
}
