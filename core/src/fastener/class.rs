//! Strength classes as marked on heads: ISO 898-1, SAE J429, ISO 3506, and the
//! old DIN 267 class still met on older vehicles. What each bears is in
//! `torque::strength`.

use std::fmt;
use std::str::FromStr;

/// The strength class of a bolt, screw, stud or nut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum PropertyClass {
    C4_6,
    C4_8,
    C5_6,
    C5_8,
    C6_8,
    /// DIN 267 before ISO 898-1; no longer made, still met.
    C6_9,
    C8_8,
    C9_8,
    C10_9,
    C12_9,
    Sae1,
    Sae2,
    Sae5,
    Sae8,
    /// ISO 3506 steel A1 to A5 with a tenth of its tensile strength in MPa.
    Stainless {
        grade: StainlessGrade,
        tenth_mpa: u8,
    },
    /// ISO 898-2 nut class: a hundredth of the proof stress in MPa.
    Nut(u8),
}

/// Austenitic steel group of ISO 3506.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum StainlessGrade {
    A1,
    A2,
    A3,
    A4,
    A5,
}

impl PropertyClass {
    /// Every class of the standards that is met on vehicles and machines.
    pub const ALL: [Self; 25] = {
        const fn steel(grade: StainlessGrade, tenth_mpa: u8) -> PropertyClass {
            PropertyClass::Stainless { grade, tenth_mpa }
        }
        use StainlessGrade::{A1, A2, A4};
        [
            Self::C4_6,
            Self::C4_8,
            Self::C5_6,
            Self::C5_8,
            Self::C6_8,
            Self::C6_9,
            Self::C8_8,
            Self::C9_8,
            Self::C10_9,
            Self::C12_9,
            Self::Sae1,
            Self::Sae2,
            Self::Sae5,
            Self::Sae8,
            steel(A1, 50),
            steel(A2, 50),
            steel(A2, 70),
            steel(A2, 80),
            steel(A4, 50),
            steel(A4, 70),
            steel(A4, 80),
            Self::Nut(5),
            Self::Nut(8),
            Self::Nut(10),
            Self::Nut(12),
        ]
    };
}

impl fmt::Display for PropertyClass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = match *self {
            Self::C4_6 => "4.6",
            Self::C4_8 => "4.8",
            Self::C5_6 => "5.6",
            Self::C5_8 => "5.8",
            Self::C6_8 => "6.8",
            Self::C6_9 => "6.9",
            Self::C8_8 => "8.8",
            Self::C9_8 => "9.8",
            Self::C10_9 => "10.9",
            Self::C12_9 => "12.9",
            Self::Sae1 => "SAE 1",
            Self::Sae2 => "SAE 2",
            Self::Sae5 => "SAE 5",
            Self::Sae8 => "SAE 8",
            Self::Stainless { grade, tenth_mpa } => return write!(f, "{grade:?}-{tenth_mpa}"),
            Self::Nut(class) => return write!(f, "nut {class}"),
        };
        f.write_str(text)
    }
}

/// The text names no strength class.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotAClass(pub String);

impl FromStr for PropertyClass {
    type Err = NotAClass;

    fn from_str(text: &str) -> Result<Self, NotAClass> {
        let tidy = text.trim().to_ascii_uppercase();
        let not = || NotAClass(text.to_string());
        if let Some(class) = tidy.strip_prefix("NUT") {
            return class.trim().parse().map(Self::Nut).map_err(|_| not());
        }
        if let Some((grade, strength)) = tidy.split_once('-') {
            let grade = match grade.trim() {
                "A1" => StainlessGrade::A1,
                "A2" => StainlessGrade::A2,
                "A3" => StainlessGrade::A3,
                "A4" => StainlessGrade::A4,
                "A5" => StainlessGrade::A5,
                _ => return Err(not()),
            };
            let tenth_mpa = strength.trim().parse().map_err(|_| not())?;
            return Ok(Self::Stainless { grade, tenth_mpa });
        }
        Self::ALL
            .into_iter()
            .find(|it| it.to_string() == tidy)
            .ok_or_else(not)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_class_prints_and_parses_back() {
        for class in PropertyClass::ALL {
            assert_eq!(class.to_string().parse(), Ok(class));
        }
        assert_eq!("7.7".parse::<PropertyClass>(), Err(NotAClass("7.7".into())));
        assert_eq!(
            "A9-70".parse::<PropertyClass>(),
            Err(NotAClass("A9-70".into()))
        );
    }
}
