//! What a person asks for, in the imperative.
use crate::fastener::FastenerSpec;
use crate::journal::*;
use crate::procedure::Procedure;

/// What a command cannot know of itself.
#[derive(Clone, Debug, PartialEq)]
pub struct Ctx {
    /// Milliseconds since 1970-01-01 UTC.
    pub now: i64,
    pub device: DeviceId,
    /// Who is at work.
    pub by: String,
}

/// Where loose fasteners go.
#[derive(Clone, Debug, PartialEq)]
pub enum ContainerPick {
    Bench,
    Have(ContainerId),
    New {
        tag: String,
        kind: ContainerKind,
        name: String,
        lies: String,
    },
}

#[derive(Clone, Debug, PartialEq)]
pub struct FixingDraft {
    pub spec: FastenerSpec,
    pub place: String,
    pub numbers: Vec<u16>,
    /// Places touched in all.
    pub count: u16,
    pub slackened: u16,
    pub found_empty: u16,
    /// How many of those that were to come out broke, with their stump in the
    /// hole.
    pub broke: u16,
    pub extras: Vec<Extra>,
    pub reuse: Reuse,
    pub detail: FixingDetail,
    /// Other parts that it also holds.
    pub also: Vec<PartId>,
    /// How many of those taken out go into a second container.
    pub apart: Option<(ContainerId, u16)>,
    /// Union bolts: each brings two one-use washers
    /// (common practice, no source).
    pub union: bool,
    /// What goes with each of them and is used once.
    pub used: Option<Box<UsedOnce>>,
}

/// Something that goes with each fastener of a fixing and is used once: a crush
/// washer under a drain plug, the split pin of a castle nut.
#[derive(Clone, Debug, PartialEq)]
pub struct UsedOnce {
    pub kind: ItemKind,
    pub name: String,
    pub size: String,
    /// How many to a place.
    pub per_place: u8,
}

impl FixingDraft {
    pub fn new(spec: FastenerSpec, count: u16) -> Self {
        Self {
            spec,
            place: String::new(),
            numbers: Vec::new(),
            count,
            slackened: 0,
            found_empty: 0,
            broke: 0,
            extras: Vec::new(),
            reuse: Reuse::Reuse,
            detail: FixingDetail::default(),
            also: Vec::new(),
            apart: None,
            union: false,
            used: None,
        }
    }
}

/// An end of a connection that is logged with a part.
#[derive(Clone, Debug, PartialEq)]
pub struct ConnectionDraft {
    pub logged: ConnectionLogged,
    /// Ends that sit on the part being logged.
    pub a_here: bool,
    pub b_here: bool,
}

/// What is put on when the part goes back: of the job, where it goes on the part
/// being logged or on a fixing of it.
#[derive(Clone, Debug, PartialEq)]
pub struct TreatmentDraft {
    pub treatment: Treatment,
    /// The fixing of this entry that it goes on, by its place there.
    pub fixing: Option<usize>,
}

impl From<Treatment> for TreatmentDraft {
    fn from(treatment: Treatment) -> Self {
        Self {
            treatment,
            fixing: None,
        }
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct ItemDraft {
    pub kind: ItemKind,
    pub name: String,
    pub size: String,
    pub count: u16,
}

/// A photo whose bytes the port keeps in the same transaction.
#[derive(Clone, Debug, PartialEq)]
pub struct PhotoDraft {
    pub hash: String,
    pub thumb: String,
    pub width: u32,
    pub height: u32,
    pub caption: String,
    /// Marks: x and y in thousandths, and the fixing of this draft they show.
    pub marks: Vec<(u16, u16, Option<usize>)>,
}

/// A part with all that comes off with it, logged in one act.
#[derive(Clone, Debug, PartialEq)]
pub struct TakeOff {
    pub part: PartOff,
    pub fixings: Vec<FixingDraft>,
    pub container: ContainerPick,
    pub connections: Vec<ConnectionDraft>,
    pub items: Vec<ItemDraft>,
    pub photos: Vec<PhotoDraft>,
    pub treatments: Vec<TreatmentDraft>,
    /// Ports laid open, which this part shuts again.
    pub openings: Vec<String>,
    /// Names of parts that came off on it, with nothing of their own undone.
    pub carried: Vec<String>,
    /// What was seen on it.
    pub findings: Vec<String>,
}

/// Fasteners of which places are meant.
#[derive(Clone, Debug, PartialEq)]
pub enum Thing {
    /// The next n that can take the act.
    Next(u16),
    /// All that can take it.
    All,
    Places(Vec<u16>),
}

/// A command. Where it says no more than its act, it is [`Command::Record`].
#[derive(Clone, Debug, PartialEq)]
pub enum Command {
    Open {
        head: JobHead,
        procedure: Option<Procedure>,
    },
    Record(Act),
    TakeOff(Box<TakeOff>),
    AddFixing {
        parts: Vec<PartId>,
        draft: FixingDraft,
        container: ContainerPick,
    },
    /// Loose fasteners go from where they lie into another bag, or onto the
    /// bench; how many of each line.
    Bag {
        from: Account,
        lines: Vec<(LineId, u32)>,
        to: ContainerPick,
    },
    PartEnd {
        end: EndId,
    },
    TakeOffAgain {
        part: PartId,
        aside: bool,
    },
    /// `anyway` owns up to what it buries.
    PlacePart {
        part: PartId,
        anyway: bool,
    },
    Start {
        fixing: FixingId,
        which: Thing,
        line: Option<LineId>,
        anyway: bool,
    },
    Tighten {
        fixing: FixingId,
        which: Thing,
        to: Tight,
        value: Option<Figure>,
    },
    /// Final although the bolt holds too little thread; the reason stands as
    /// an exception.
    TightenAnyway {
        fixing: FixingId,
        which: Thing,
        to: Tight,
        value: Option<Figure>,
        reason: String,
    },
    /// Once more all round, when all is final; `turned` where one still did.
    GoRound {
        fixing: FixingId,
        turned: bool,
    },
    /// Everything of a fixing that is loose goes in, and all is made final.
    FitExtras {
        fixing: FixingId,
    },
    /// One washer, shim or the like of another fixing; `anyway` owns up to the
    /// swap where it is not like one of this fixing's own.
    FitOther {
        fixing: FixingId,
        line: LineId,
        anyway: bool,
    },
    FitItem {
        item: ItemId,
        n: u32,
        old: bool,
    },
    /// A one-use item fitted or a treatment put on, though what it lies under is
    /// closed up: it was there before, or gets there from outside. The reason
    /// stands in the record.
    SayLate {
        act: Act,
        reason: String,
    },
    /// What was covered can be reached all the same; the reason stands in the
    /// record.
    Reached {
        what: Target,
        reason: String,
    },
    Rejoin {
        end: EndId,
        seat: EndId,
        anyway: bool,
    },
    Check {
        what: Target,
    },
    /// `anyway` is the reason for filling although something stands against
    /// it; empty for none.
    Fill {
        fluid: FluidId,
        amount: String,
        anyway: String,
        /// What is to be looked at once it has run.
        checks: Vec<AfterRunKind>,
    },
    /// The machine ran. `anyway` is the reason for running it although something
    /// stands against it; empty for none.
    Run {
        heat_cycles: u16,
        anyway: String,
    },
    /// A check after running is done. `early` is the reason for doing it before
    /// it is due; empty for none.
    CheckDone {
        after_run: AfterRunId,
        reading: String,
        early: String,
    },
    /// What is really in an account; the difference goes to or from missing.
    Recount {
        line: LineId,
        account: Account,
        found: u32,
        reason: String,
    },
    LeaveOff {
        what: Target,
        reason: String,
    },
    /// These places of a fixing stay empty by decision; the rest of it does not.
    LeaveEmpty {
        fixing: FixingId,
        places: Vec<u16>,
        reason: String,
    },
    Replace {
        part: PartId,
        note: String,
        as_ordered: bool,
        fasteners: Vec<(FixingId, FastenerSpec)>,
    },
    Strike {
        event: EventId,
    },
    StrikeLast,
    Except {
        owed: OwedKey,
        reason: String,
    },
    SignOff,
    Reopen {
        reason: String,
    },
}
