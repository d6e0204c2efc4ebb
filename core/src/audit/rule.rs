//! The rules that a line of the audit can come under, in order of danger.
use crate::journal::{EventId, OwedKey, Target};

/// Why something is on the audit. Ordered: what can hurt or break first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rule {
    /// A rag, tool, pin, cover or support is still inside.
    TakeOut,
    MakeSafe,
    RepairPlace,
    /// A fastener of another size or length is in the place.
    WrongThing,
    /// The bolt in it reaches the end of its hole.
    WouldBottom,
    /// Final on less thread than the metal of its hole wants.
    HoldsTooLittle,
    /// The hole was measured before something in its stack came new.
    HoleOld,
    /// Stretched fasteners, and nobody has said whether new ones go in.
    OldOrNew,
    /// To be looked at before they go back, and nobody has said what was seen.
    LookAt,
    WrongExtra,
    /// An end is on another's seat.
    WrongEnd,
    /// Old where new is wanted.
    NotNew,
    OldItemIn,
    OtherPart,
    /// Final although a part it clamps is off.
    FinalTooEarly,
    PlacePart,
    StartFasteners,
    FitExtra,
    Rejoin,
    Renew,
    Apply,
    Tighten,
    /// All is final; the last round that was asked for is to come.
    LastRound,
    Secure,
    Doubtful,
    NotSure,
    ClosedLate,
    Curing,
    Fill,
    Bleed,
    /// Less went in than came out.
    LessIn,
    Restore,
    Decide,
    DoWork,
    IndependentCheck,
    /// Things that are nowhere.
    Missing,
    Stray,
    /// Loose fasteners that no open place wants.
    LeftOver,
    /// An account that does not close.
    Unbalanced,
    /// An act that did not fit.
    Misfit,
    /// Two phones said the same.
    SaidTwice,
    /// Each must come before the other.
    Circle,
    /// Owed, and behind a part that is back.
    Buried,
    AfterRun,
}

/// What to do next about a line: the groups of the audit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Next {
    TakeOut,
    MakeSafe,
    PutRight,
    PutBack,
    Fasten,
    Join,
    Renew,
    Fill,
    Decide,
    Check,
    Count,
    LookInto,
    AfterRunning,
}

impl Next {
    pub const ALL: [Self; 13] = [
        Self::TakeOut,
        Self::MakeSafe,
        Self::PutRight,
        Self::PutBack,
        Self::Fasten,
        Self::Join,
        Self::Renew,
        Self::Fill,
        Self::Decide,
        Self::Check,
        Self::Count,
        Self::LookInto,
        Self::AfterRunning,
    ];
}

impl Rule {
    pub const ALL: [Self; 44] = [
        Self::TakeOut,
        Self::MakeSafe,
        Self::RepairPlace,
        Self::WrongThing,
        Self::WouldBottom,
        Self::HoldsTooLittle,
        Self::HoleOld,
        Self::OldOrNew,
        Self::LookAt,
        Self::WrongExtra,
        Self::WrongEnd,
        Self::NotNew,
        Self::OldItemIn,
        Self::OtherPart,
        Self::FinalTooEarly,
        Self::PlacePart,
        Self::StartFasteners,
        Self::FitExtra,
        Self::Rejoin,
        Self::Renew,
        Self::Apply,
        Self::Tighten,
        Self::LastRound,
        Self::Secure,
        Self::Doubtful,
        Self::NotSure,
        Self::ClosedLate,
        Self::Curing,
        Self::Fill,
        Self::Bleed,
        Self::LessIn,
        Self::Restore,
        Self::Decide,
        Self::DoWork,
        Self::IndependentCheck,
        Self::Missing,
        Self::Stray,
        Self::LeftOver,
        Self::Unbalanced,
        Self::Misfit,
        Self::SaidTwice,
        Self::Circle,
        Self::Buried,
        Self::AfterRun,
    ];

    /// The group it is shown in.
    pub fn next(self) -> Next {
        match self {
            Self::TakeOut => Next::TakeOut,
            Self::MakeSafe => Next::MakeSafe,
            Self::RepairPlace
            | Self::WrongThing
            | Self::WouldBottom
            | Self::HoldsTooLittle
            | Self::WrongExtra
            | Self::WrongEnd
            | Self::OtherPart
            | Self::FinalTooEarly
            | Self::Buried => Next::PutRight,
            Self::PlacePart => Next::PutBack,
            Self::StartFasteners | Self::FitExtra | Self::Tighten | Self::LastRound => Next::Fasten,
            Self::Rejoin | Self::Secure => Next::Join,
            Self::Renew | Self::NotNew | Self::OldItemIn | Self::Apply => Next::Renew,
            Self::Curing | Self::Fill | Self::Bleed | Self::LessIn | Self::Restore => Next::Fill,
            Self::Decide | Self::DoWork | Self::OldOrNew | Self::LookAt => Next::Decide,
            Self::HoleOld
            | Self::IndependentCheck
            | Self::Doubtful
            | Self::NotSure
            | Self::ClosedLate => Next::Check,
            Self::Missing | Self::Stray | Self::LeftOver => Next::Count,
            Self::Unbalanced | Self::Misfit | Self::SaidTwice | Self::Circle => Next::LookInto,
            Self::AfterRun => Next::AfterRunning,
        }
    }

    /// A thing still inside is never signed away: it has to come out.
    pub fn can_be_excepted(self) -> bool {
        self != Self::TakeOut
    }
}

/// One line of the audit.
#[derive(Clone, Debug, PartialEq)]
pub struct Owed {
    pub rule: Rule,
    /// What it is about.
    pub on: Target,
    /// The act that opened it.
    pub opened: EventId,
    /// How many.
    pub n: u32,
    /// Places of a fixing, by index.
    pub places: Vec<u16>,
    /// Other things that belong to it: the part behind which it is buried, the
    /// line of a thing in the wrong place.
    pub with: Vec<Target>,
}

impl Owed {
    /// Names it across audits, for exceptions.
    pub fn key(&self) -> OwedKey {
        OwedKey {
            rule: self.rule,
            on: self.on,
            opened: self.opened,
        }
    }
}
