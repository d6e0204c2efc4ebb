//! The kinds of fastener that are told apart when counting.

use std::fmt;
use std::str::FromStr;

/// What sort of thing holds the joint.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum FastenerKind {
    #[default]
    Bolt,
    Nut,
    Stud,
    Screw,
    Clip,
    Clamp,
    Circlip,
    Pin,
    SplitPin,
    Washer,
    Spacer,
    Shim,
    Rivet,
    Plug,
    Other,
}

impl FastenerKind {
    pub const ALL: [Self; 15] = [
        Self::Bolt,
        Self::Nut,
        Self::Stud,
        Self::Screw,
        Self::Clip,
        Self::Clamp,
        Self::Circlip,
        Self::Pin,
        Self::SplitPin,
        Self::Washer,
        Self::Spacer,
        Self::Shim,
        Self::Rivet,
        Self::Plug,
        Self::Other,
    ];

    /// The word for one of them, also the stored form.
    pub fn word(self) -> &'static str {
        match self {
            Self::Bolt => "bolt",
            Self::Nut => "nut",
            Self::Stud => "stud",
            Self::Screw => "screw",
            Self::Clip => "clip",
            Self::Clamp => "clamp",
            Self::Circlip => "circlip",
            Self::Pin => "pin",
            Self::SplitPin => "split pin",
            Self::Washer => "washer",
            Self::Spacer => "spacer",
            Self::Shim => "shim",
            Self::Rivet => "rivet",
            Self::Plug => "plug",
            Self::Other => "fastener",
        }
    }

    /// The word for several of them.
    pub fn words(self) -> &'static str {
        match self {
            Self::Bolt => "bolts",
            Self::Nut => "nuts",
            Self::Stud => "studs",
            Self::Screw => "screws",
            Self::Clip => "clips",
            Self::Clamp => "clamps",
            Self::Circlip => "circlips",
            Self::Pin => "pins",
            Self::SplitPin => "split pins",
            Self::Washer => "washers",
            Self::Spacer => "spacers",
            Self::Shim => "shims",
            Self::Rivet => "rivets",
            Self::Plug => "plugs",
            Self::Other => "fasteners",
        }
    }

    /// How many of a kind an entry begins with: circlips, clamps and pins sit
    /// one by one, bolts and the like hold in pairs or more (common practice, no
    /// source).
    pub fn first_count(self) -> u16 {
        match self {
            Self::Clamp | Self::Circlip | Self::Pin | Self::SplitPin | Self::Plug => 1,
            _ => 2,
        }
    }

    /// Whether it has a thread of its own.
    pub fn is_threaded(self) -> bool {
        matches!(
            self,
            Self::Bolt | Self::Nut | Self::Stud | Self::Screw | Self::Plug
        )
    }

    /// Whether a figure can be asked of it: threads, a clamp's screw, and what
    /// nobody has named yet.
    pub fn is_tightened(self) -> bool {
        self.is_threaded() || matches!(self, Self::Clamp | Self::Other)
    }

    /// Whether a thing of one kind may have been written down as the other: a
    /// bolt and a screw are one thing in two hands, and `Other` says nothing.
    pub fn could_be(self, other: Self) -> bool {
        let bolt_like = |it| matches!(it, Self::Bolt | Self::Screw);
        self == other
            || self == Self::Other
            || other == Self::Other
            || (bolt_like(self) && bolt_like(other))
    }
}

impl fmt::Display for FastenerKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

/// The text names no kind of fastener.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotAKind;

impl FromStr for FastenerKind {
    type Err = NotAKind;

    /// Reads the word for one or for several, in any case.
    fn from_str(text: &str) -> Result<Self, NotAKind> {
        let text = text.trim();
        Self::ALL
            .into_iter()
            .find(|it| {
                text.eq_ignore_ascii_case(it.word()) || text.eq_ignore_ascii_case(it.words())
            })
            .ok_or(NotAKind)
    }
}
