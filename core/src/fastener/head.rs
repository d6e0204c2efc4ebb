//! What a tool takes hold of: the drive and its size. Which sizes go with
//! which threads is in the head table.

use super::size::{InchSize, mm_text, parse_mm};
use std::fmt;
use std::str::FromStr;

/// The form a tool takes hold of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Drive {
    /// Six flats outside.
    #[default]
    Hex,
    /// Six flats outside over a washer-like flange.
    HexFlange,
    /// Four flats outside.
    Square,
    /// Twelve points outside.
    TwelvePoint,
    /// Six flats inside, taken by a hexagon key.
    SocketHex,
    /// Six lobes inside, ISO 10664, sizes T.
    Hexalobular,
    /// Six lobes outside, sizes E.
    ExternalHexalobular,
    /// Twelve-toothed recess (three squares).
    TripleSquare,
    /// Cross recess type H, ISO 4757.
    Cross,
    /// Cross recess type Z, ISO 4757.
    CrossZ,
    /// One slot.
    Slotted,
    /// Turned by hand: wing, knurled.
    Hand,
}

impl Drive {
    pub const ALL: [Self; 12] = [
        Self::Hex,
        Self::HexFlange,
        Self::Square,
        Self::TwelvePoint,
        Self::SocketHex,
        Self::Hexalobular,
        Self::ExternalHexalobular,
        Self::TripleSquare,
        Self::Cross,
        Self::CrossZ,
        Self::Slotted,
        Self::Hand,
    ];

    /// The word, also the stored form.
    pub fn word(self) -> &'static str {
        match self {
            Self::Hex => "hex",
            Self::HexFlange => "hex flange",
            Self::Square => "square",
            Self::TwelvePoint => "twelve-point",
            Self::SocketHex => "socket hex",
            Self::Hexalobular => "hexalobular",
            Self::ExternalHexalobular => "external hexalobular",
            Self::TripleSquare => "triple-square",
            Self::Cross => "cross",
            Self::CrossZ => "cross Z",
            Self::Slotted => "slotted",
            Self::Hand => "hand",
        }
    }

    /// What is put before a size that is a number: T30, E10, H2, Z2.
    pub fn number_prefix(self) -> &'static str {
        match self {
            Self::Hexalobular => "T",
            Self::ExternalHexalobular => "E",
            Self::Cross => "H",
            Self::CrossZ => "Z",
            _ => "No. ",
        }
    }

    /// Whether one tool fits both, so that one may have been written for the
    /// other: a flange is easily left out.
    pub fn could_be(self, other: Self) -> bool {
        let hex = |it| matches!(it, Self::Hex | Self::HexFlange);
        let cross = |it| matches!(it, Self::Cross | Self::CrossZ);
        self == other || (hex(self) && hex(other)) || (cross(self) && cross(other))
    }
}

/// The size of a drive.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum DriveSize {
    /// Across flats (or key size) in micrometres.
    Um(u32),
    /// Across flats (or key size) in inches.
    Inch(InchSize),
    /// A drive number: 30 of T30.
    Number(u8),
}

impl DriveSize {
    /// The size in micrometres; `None` for a drive number.
    pub fn to_um(self) -> Option<u32> {
        match self {
            Self::Um(um) => Some(um),
            Self::Inch(size) => Some(size.to_um()),
            Self::Number(_) => None,
        }
    }
}

/// A drive with its size, where known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct HeadSize {
    pub drive: Drive,
    pub size: Option<DriveSize>,
}

impl HeadSize {
    /// A drive with a size in whole millimetres.
    pub const fn mm(drive: Drive, mm: u32) -> Self {
        Self {
            drive,
            size: Some(DriveSize::Um(mm * 1_000)),
        }
    }

    /// A drive with a number: T30 is `numbered(Drive::Hexalobular, 30)`.
    pub const fn numbered(drive: Drive, number: u8) -> Self {
        Self {
            drive,
            size: Some(DriveSize::Number(number)),
        }
    }

    /// Whether both may be the same head; an unknown size says nothing.
    pub fn could_be(self, other: Self) -> bool {
        self.drive.could_be(other.drive)
            && match (self.size, other.size) {
                (Some(a), Some(b)) => a == b,
                _ => true,
            }
    }

    /// The way it is said at the bench: "10 mm head", "10 mm flange head",
    /// "T30 head", "5 mm hex key".
    pub fn label(self) -> String {
        let size = match self.size {
            Some(size) => size_text(self.drive, size),
            None => String::new(),
        };
        let tail = match self.drive {
            Drive::Hex => "head",
            Drive::HexFlange => "flange head",
            Drive::Square => "square head",
            Drive::TwelvePoint => "twelve-point head",
            Drive::SocketHex => "hex key",
            Drive::Hexalobular => "hexalobular",
            Drive::ExternalHexalobular => "external hexalobular",
            Drive::TripleSquare => "triple-square",
            Drive::Cross | Drive::CrossZ => "cross head",
            Drive::Slotted => "slotted head",
            Drive::Hand => "hand-turned head",
        };
        format!("{size} {tail}").trim_start().to_string()
    }
}

fn size_text(drive: Drive, size: DriveSize) -> String {
    match size {
        DriveSize::Um(um) => format!("{} mm", mm_text(um)),
        DriveSize::Inch(size) => format!("{size} in"),
        DriveSize::Number(number) => format!("{}{number}", drive.number_prefix()),
    }
}

impl fmt::Display for HeadSize {
    /// The stored form: drive, then size: "hex 10 mm", "hexalobular T30".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.drive.word())?;
        match self.size {
            Some(size) => write!(f, " {}", size_text(self.drive, size)),
            None => Ok(()),
        }
    }
}

/// Why a text is not a head size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum HeadError {
    /// It starts with no known drive.
    NotADrive(String),
    /// What follows the drive is no size.
    NotASize(String),
}

impl FromStr for HeadSize {
    type Err = HeadError;

    fn from_str(text: &str) -> Result<Self, HeadError> {
        let text = text.trim();
        // The longest match, so that "hex flange" is not taken for "hex".
        let (drive, rest) = Drive::ALL
            .into_iter()
            .filter_map(|drive| {
                let rest = text.strip_prefix(drive.word())?;
                (rest.is_empty() || rest.starts_with(' ')).then_some((drive, rest.trim()))
            })
            .max_by_key(|(drive, _)| drive.word().len())
            .ok_or_else(|| HeadError::NotADrive(text.to_string()))?;
        if rest.is_empty() {
            return Ok(Self { drive, size: None });
        }
        let size = if let Some(mm) = rest.strip_suffix("mm") {
            parse_mm(mm).map(DriveSize::Um)
        } else if let Some(inch) = rest.strip_suffix("in") {
            inch.parse().ok().map(DriveSize::Inch)
        } else {
            rest.strip_prefix(drive.number_prefix().trim_end())
                .and_then(|it| it.trim().parse().ok())
                .map(DriveSize::Number)
        };
        match size {
            Some(size) => Ok(Self {
                drive,
                size: Some(size),
            }),
            None => Err(HeadError::NotASize(rest.to_string())),
        }
    }
}
