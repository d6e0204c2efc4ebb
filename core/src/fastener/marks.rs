//! What the marks on a head or nut say of its strength.
//!
//! ISO 898-1 and ISO 898-2 figures, ISO 3506 letters, SAE J429 radial lines, and
//! the single figure of the old JIS marks. Makers' letters beside them are
//! passed over. No mark says nothing: most unmarked bolts are soft, but a
//! flange bolt with a head too small to mark may not be.

use super::class::PropertyClass;
use super::kind::FastenerKind;

/// What is seen on a head.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Mark {
    /// Figures and letters, as read.
    Text(String),
    /// Raised lines from the middle outwards, counted.
    RadialLines(u8),
}

/// A class that a mark may stand for, and the standard that says so.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MarkReading {
    pub class: PropertyClass,
    pub standard: &'static str,
    /// The standard gives this mark to this class and no other.
    pub certain: bool,
}

/// The classes that a mark on such a thing may stand for, the likeliest first;
/// empty when it says nothing of strength. One figure is a nut's class on a nut
/// and an old JIS mark on a bolt.
pub fn read_mark(mark: &Mark, kind: FastenerKind) -> Vec<MarkReading> {
    match mark {
        // SAE J429 is of bolts; nuts bear other lines.
        Mark::RadialLines(_) if kind == FastenerKind::Nut => Vec::new(),
        Mark::RadialLines(lines) => {
            let (class, certain) = match lines {
                0 => (PropertyClass::Sae2, false),
                3 => (PropertyClass::Sae5, true),
                6 => (PropertyClass::Sae8, true),
                _ => return Vec::new(),
            };
            vec![MarkReading {
                class,
                standard: "SAE J429",
                certain,
            }]
        }
        Mark::Text(text) => read_text(text, kind),
    }
}

fn read_text(text: &str, kind: FastenerKind) -> Vec<MarkReading> {
    let tidy = text.to_uppercase().replace(',', ".");
    let words: Vec<&str> = tidy
        .split(|it: char| it.is_whitespace() || it == '/')
        .collect();
    let mut found: Vec<MarkReading> = words
        .iter()
        .filter_map(|word| word.parse::<PropertyClass>().ok())
        .map(|class| {
            let standard = match class {
                PropertyClass::Stainless { .. } => "ISO 3506",
                PropertyClass::C6_9 => "DIN 267",
                _ => "ISO 898-1",
            };
            MarkReading {
                class,
                standard,
                certain: true,
            }
        })
        .collect();
    if !found.is_empty() {
        return found;
    }
    for word in words {
        if kind.could_be(FastenerKind::Nut)
            && let Some(class) = nut_figure(word)
        {
            found.push(MarkReading {
                class: PropertyClass::Nut(class),
                standard: "ISO 898-2",
                certain: kind == FastenerKind::Nut,
            });
        }
        if kind == FastenerKind::Nut {
            continue;
        }
        // ISO 898-1 lets small heads go without the point; the old JIS bolts
        // bear one figure (from memory).
        let (class, standard) = match word {
            "46" => (PropertyClass::C4_6, "ISO 898-1"),
            "48" => (PropertyClass::C4_8, "ISO 898-1"),
            "56" => (PropertyClass::C5_6, "ISO 898-1"),
            "58" => (PropertyClass::C5_8, "ISO 898-1"),
            "68" => (PropertyClass::C6_8, "ISO 898-1"),
            "88" => (PropertyClass::C8_8, "ISO 898-1"),
            "98" => (PropertyClass::C9_8, "ISO 898-1"),
            "109" => (PropertyClass::C10_9, "ISO 898-1"),
            "129" => (PropertyClass::C12_9, "ISO 898-1"),
            "4" | "4T" => (PropertyClass::C4_8, OLD_JIS),
            "7" | "7T" => (PropertyClass::C6_8, OLD_JIS),
            "8" | "8T" => (PropertyClass::C8_8, OLD_JIS),
            "9" | "9T" => (PropertyClass::C9_8, OLD_JIS),
            "10" | "10T" | "11" | "11T" => (PropertyClass::C10_9, OLD_JIS),
            _ => continue,
        };
        found.push(MarkReading {
            class,
            standard,
            certain: standard != OLD_JIS,
        });
    }
    found
}

const OLD_JIS: &str = "JIS, old mark";

/// The figure of a nut, as ISO 898-2 has it, between strokes or not.
fn nut_figure(word: &str) -> Option<u8> {
    let class = word.trim_matches('|').parse().ok()?;
    [5, 6, 8, 9, 10, 12].contains(&class).then_some(class)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn on(kind: FastenerKind, mark: Mark) -> Vec<String> {
        read_mark(&mark, kind)
            .iter()
            .map(|it| it.class.to_string())
            .collect()
    }

    #[test]
    fn marks_are_read_past_the_makers_letters() {
        let classes = |mark| on(FastenerKind::Bolt, mark);
        for (text, class) in [
            ("8.8", "8.8"),
            ("ABC 10.9", "10.9"),
            ("12,9 XYZ", "12.9"),
            ("A2-70", "A2-70"),
            ("109", "10.9"),
            ("7", "6.8"),
        ] {
            assert_eq!(classes(Mark::Text(text.into())), [class], "{text}");
        }
        assert_eq!(classes(Mark::RadialLines(3)), ["SAE 5"]);
        assert_eq!(classes(Mark::RadialLines(6)), ["SAE 8"]);
        assert!(!read_mark(&Mark::RadialLines(0), FastenerKind::Bolt)[0].certain);
        assert!(classes(Mark::RadialLines(4)).is_empty());
        assert!(classes(Mark::Text("XYZ".into())).is_empty());
    }

    #[test]
    fn one_figure_is_a_nuts_class_on_a_nut_and_never_on_a_bolt() {
        let eight = || Mark::Text("8".into());
        assert_eq!(on(FastenerKind::Nut, eight()), ["nut 8"]);
        assert_eq!(on(FastenerKind::Nut, Mark::Text("|10|".into())), ["nut 10"]);
        assert_eq!(on(FastenerKind::Bolt, eight()), ["8.8"]);
        assert!(!read_mark(&eight(), FastenerKind::Bolt)[0].certain);
        assert_eq!(on(FastenerKind::Stud, Mark::Text("12".into())), [""; 0]);
        // Where nobody has said what it is, both stand.
        assert_eq!(on(FastenerKind::Other, eight()), ["nut 8", "8.8"]);
        assert_eq!(on(FastenerKind::Nut, Mark::RadialLines(3)), [""; 0]);
    }
}
