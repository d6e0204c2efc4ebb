//! Why a command is refused: values, not sentences; `words` says them.
use crate::audit::Owed;
use crate::fastener::FastenerSpec;
use crate::journal::*;
use crate::permit::Ask;

/// The kind of a thing, for words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    Part,
    Fixing,
    Connection,
    Item,
    Container,
    Opening,
    Inside,
    Fluid,
    Treatment,
    Supply,
    Step,
    Finding,
    Buy,
    Stray,
    AfterRun,
    Line,
    Photo,
    Event,
    Name,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Refusal {
    /// No such thing in this job.
    Unknown(Kind),
    /// The job was not opened, or is opened a second time.
    NotOpen,
    OpenAlready,
    /// Signed off: reopen it first.
    SignedOff,
    NameMissing(Kind),
    CountZero,
    CountTooLarge {
        most: u32,
    },
    CountsDoNotFit {
        touched: u32,
        accounted: u32,
    },
    /// More asked of a place than is there.
    NotThere {
        line: LineId,
        from: Account,
        wanted: u32,
        there: u32,
    },
    TagTaken {
        tag: String,
    },
    TagWrong {
        tag: String,
    },
    PartIsOff(PartId),
    PartIsBack(PartId),
    /// It would close on itself: a must come before b and b before a.
    Circle(Vec<Target>),
    /// What it holds is not in place yet.
    NothingToHold {
        fixing: FixingId,
        part: PartId,
    },
    /// Not all that this fixing clamps is in place; it stays temporary.
    StackIncomplete {
        fixing: FixingId,
        part: PartId,
    },
    /// Another thing stands in the place, or is offered for it.
    WrongThing {
        fixing: FixingId,
        place: u16,
        wanted: Box<FastenerSpec>,
        offered: Box<FastenerSpec>,
        short: Option<FixingId>,
    },
    /// A washer, shim or the like of another fixing that is not like one of its
    /// own; `wanted` where it has one of that kind.
    WrongExtra {
        fixing: FixingId,
        wanted: Option<Box<FastenerSpec>>,
        line: LineId,
    },
    /// A gasket or sealant cannot get where it belongs: what it lies under is
    /// closed up. With a reason it may have been there before.
    ShutOver {
        what: Target,
        under: Target,
    },
    /// It was covered by a part that is on: nobody gets at it, unless that
    /// comes off again or leaves a way.
    Covered {
        what: Target,
        by: PartId,
    },
    /// Final tightening waits for something that is not so yet.
    FinalHeld {
        fixing: FixingId,
        until: Hold,
    },
    /// It is still out.
    NotFilled {
        fluid: FluidId,
    },
    /// Nothing that could hold a fluid in.
    NoJoint {
        on: Target,
    },
    /// Too few places for a last round, or no torque to repeat.
    NoLastRound {
        fixing: FixingId,
    },
    /// The round does not hold each place once, or not a point for each.
    BadRound {
        fixing: FixingId,
    },
    PlaceUnknown {
        fixing: FixingId,
        place: u16,
    },
    PlaceIs {
        fixing: FixingId,
        place: u16,
        state: super::PlaceState,
    },
    /// Placing would put these out of reach.
    WouldBury {
        part: PartId,
        owed: Vec<Target>,
    },
    /// Fastened still: undo these first.
    StillFastened {
        part: PartId,
        fixings: Vec<FixingId>,
        ends: Vec<EndId>,
    },
    EndIs {
        end: EndId,
        state: super::EndState,
    },
    /// The wrong end for this seat.
    WrongEnd {
        end: EndId,
        seat: EndId,
    },
    /// Sealant has not cured: ms since 1970 when it will have.
    Curing {
        treatment: TreatmentId,
        until: i64,
    },
    /// The machine is not ready for it: what is missing, the most dangerous
    /// first. Filling may go on all the same with a reason.
    NotReady {
        ask: Ask,
        missing: Vec<Owed>,
    },
    /// A check after running that is not due yet; with a reason it is done early.
    NotDue {
        after_run: AfterRunId,
    },
    /// A meter read lower than it did before.
    MeterLower {
        before: Meter,
        read: Meter,
    },
    AlreadySo(Target),
    /// New ones are not to hand; an old one would be a temporary.
    NeedsNew {
        what: Target,
        short: u32,
    },
    RepairFirst {
        fixing: FixingId,
        place: u16,
    },
    SameName {
        name: String,
    },
    /// A second look is let go by name and reason, not by taking off its mark.
    MarkStays {
        on: Target,
    },
    /// A torque stands after an angle; the stage is counted from 1. Of what is
    /// only being logged, there is no fixing yet.
    TorqueAfterAngle {
        fixing: Option<FixingId>,
        stage: u8,
    },
    ReasonMissing,
    /// Things are still owed and no exception names them.
    StillOwed {
        n: u32,
    },
    NotOwed,
    /// Later acts build on the struck one.
    BuiltOn {
        event: EventId,
        by: Vec<EventId>,
    },
    CannotStrike {
        event: EventId,
    },
    StruckAlready {
        event: EventId,
    },
    StillInside {
        n: u32,
    },
    NotDecided(FindingId),
    NoPlaceFor {
        fixing: FixingId,
        wanted: u32,
        free: u32,
    },
    StageUnknown {
        fixing: FixingId,
        stage: u8,
    },
    /// The bolt holds less thread than the metal of its hole wants, or does not
    /// come through; with a reason it may be made final all the same.
    HoldsTooLittle {
        fixing: FixingId,
        length_um: u32,
        hole: Hole,
        verdict: crate::torque::hole::HoleVerdict,
    },
    /// The bolt would reach the end of its hole before its head clamps.
    WouldBottom {
        fixing: FixingId,
        length_um: u32,
        hole: Hole,
        /// What came new into its stack after the hole was measured.
        new: Option<Target>,
    },
}
