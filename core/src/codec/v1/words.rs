//! The plain words that closed lists of values are stored as. A word once
//! given out is never changed and never given to another value.
use crate::audit::Rule;
use crate::journal::*;

/// A closed list of values, each with its word.
pub trait Worded: Sized {
    fn word(self) -> &'static str;
    fn read(word: &str) -> Option<Self>;
}

/// Words both ways. A value without a word does not compile.
macro_rules! words {
    ($kind:ident { $($value:ident = $word:literal),* $(,)? }) => {
        impl $crate::codec::v1::words::Worded for $kind {
            fn word(self) -> &'static str {
                match self { $($kind::$value => $word),* }
            }
            fn read(word: &str) -> Option<Self> {
                match word { $($word => Some($kind::$value),)* _ => None }
            }
        }
    };
}
pub(super) use words;

words! { MeterKind { Kilometres = "km", Miles = "mi", Hours = "h" } }
words! { LengthUnit { Millimetre = "mm", Inch = "in" } }
words! { SafeKind {
    BatteryOff = "battery-off",
    Supported = "supported",
    Cooled = "cooled",
    PressureReleased = "pressure-released",
    Other = "other",
} }
words! { Hold { Neighbours = "neighbours", Loaded = "loaded", Hot = "hot" } }
words! { SupplyKind {
    Battery = "battery",
    Fuel = "fuel",
    Air = "air",
    Water = "water",
    Hydraulic = "hydraulic",
    Other = "other",
} }
words! { Why {
    BlocksReach = "blocks-reach",
    Hides = "hides",
    Attached = "attached",
    SharesFixing = "shares-fixing",
    Supports = "supports",
    RoutedThrough = "routed-through",
} }
words! { Hazard {
    Raised = "raised",
    Fuel = "fuel",
    HotCoolant = "hot-coolant",
    Battery = "battery",
    Airbag = "airbag",
    Spring = "spring",
    BrakesSteering = "brakes-steering",
    Refrigerant = "refrigerant",
    HighVoltage = "high-voltage",
    Hydraulic = "hydraulic",
    HotExhaust = "hot-exhaust",
    Belts = "belts",
    Boat = "boat",
    Chemical = "chemical",
    Dust = "dust",
    Lifting = "lifting",
} }
words! { WayIn {
    Above = "above",
    Below = "below",
    Front = "front",
    Behind = "behind",
    Side = "side",
    Inside = "inside",
    WheelOff = "wheel-off",
} }
words! { Reuse { Reuse = "reuse", Renew = "renew", Inspect = "inspect" } }
words! { ConnectionKind {
    Hose = "hose",
    Pipe = "pipe",
    Plug = "plug",
    Cable = "cable",
    Linkage = "linkage",
} }
words! { Joint {
    PushOn = "push-on",
    Clamped = "clamped",
    Clicked = "clicked",
    Threaded = "threaded",
    UnionBolt = "union-bolt",
} }
words! { RouteKind { Through = "through", Behind = "behind", ClippedTo = "clipped-to" } }
words! { ItemKind {
    Gasket = "gasket",
    CrushWasher = "crush-washer",
    ORing = "o-ring",
    Seal = "seal",
    SplitPin = "split-pin",
    StretchBolt = "stretch-bolt",
    LockNut = "lock-nut",
    Clip = "clip",
    Other = "other",
} }
words! { ContainerKind {
    Bag = "bag",
    Tray = "tray",
    Box = "box",
    Shelf = "shelf",
    Card = "card",
} }
words! { InsideKind {
    Rag = "rag",
    Tool = "tool",
    LockingPin = "locking-pin",
    Support = "support",
    Cover = "cover",
} }
words! { TreatmentKind {
    Lubricant = "lubricant",
    Sealant = "sealant",
    ThreadLocker = "thread-locker",
} }
words! { Decision {
    Refit = "refit",
    Clean = "clean",
    Repair = "repair",
    Renew = "renew",
    LeaveOff = "leave-off",
} }
words! { AfterRunKind {
    LeakCheck = "leak-check",
    LevelCheck = "level-check",
    Retighten = "retighten",
    Other = "other",
} }
words! { Rule {
    TakeOut = "take-out",
    MakeSafe = "make-safe",
    RepairPlace = "repair-place",
    WrongThing = "wrong-thing",
    WouldBottom = "would-bottom",
    HoldsTooLittle = "holds-too-little",
    HoleOld = "hole-old",
    OldOrNew = "old-or-new",
    LookAt = "look-at",
    WrongExtra = "wrong-extra",
    WrongEnd = "wrong-end",
    NotNew = "not-new",
    OldItemIn = "old-item-in",
    OtherPart = "other-part",
    FinalTooEarly = "final-too-early",
    PlacePart = "place-part",
    StartFasteners = "start-fasteners",
    FitExtra = "fit-extra",
    Rejoin = "rejoin",
    Renew = "renew",
    Apply = "apply",
    Tighten = "tighten",
    LastRound = "last-round",
    Secure = "secure",
    Doubtful = "doubtful",
    NotSure = "not-sure",
    ClosedLate = "closed-late",
    Curing = "curing",
    Fill = "fill",
    Bleed = "bleed",
    LessIn = "less-in",
    Restore = "restore",
    Decide = "decide",
    DoWork = "do-work",
    IndependentCheck = "independent-check",
    Missing = "missing",
    Stray = "stray",
    LeftOver = "left-over",
    Unbalanced = "unbalanced",
    Misfit = "misfit",
    SaidTwice = "said-twice",
    Circle = "circle",
    Buried = "buried",
    AfterRun = "after-run",
} }
