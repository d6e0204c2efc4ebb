//! What can happen in a job: every act, in the past tense. Acts are the only
//! stored truth; each carries all that folding it needs.
use super::facts::*;
use super::id::*;
use crate::procedure::Procedure;

/// One immutable entry of the journal.
#[derive(Clone, Debug, PartialEq)]
pub struct Event {
    pub id: EventId,
    /// The first act of the same tap: what was done together is struck together.
    pub with: EventId,
    /// Milliseconds since 1970-01-01 UTC, as the phone's clock had it.
    /// Order never depends on it.
    pub at: i64,
    /// Who did it, as they call themselves.
    pub by: String,
    pub act: Act,
}

/// An act. What each opens and settles is listed in `debts`.
#[derive(Clone, Debug, PartialEq)]
pub enum Act {
    // The job.
    JobOpened(JobHead),
    JobDescribed(JobHead),
    ProcedureAttached(Procedure),
    SafeStepListed(SafeStep),
    SafeStepConfirmed {
        step: StepId,
    },
    // Off.
    PartOff(Box<PartOff>),
    PartOffAgain {
        part: PartId,
        aside: bool,
    },
    PartDescribed {
        part: PartId,
        name: String,
        lies: String,
        note: String,
    },
    /// It is called otherwise: the name of a thing, the place of a fixing in
    /// words, the label of an end, the product of a treatment, the text of a
    /// finding.
    Named {
        what: Target,
        name: String,
    },
    /// The numbers drawn for the places of a fixing, in their order; none where
    /// they are counted by their turn.
    Numbered {
        fixing: FixingId,
        numbers: Vec<u16>,
    },
    CameAfter {
        what: Target,
        needs: Vec<Need>,
    },
    WayNoted {
        what: Target,
        needs: Vec<Need>,
    },
    // Boxed with the next large one: every event carries the room of the largest.
    FixingUndone(Box<FixingUndone>),
    FixingDescribed {
        fixing: FixingId,
        detail: FixingDetail,
    },
    /// Found later that it clamps this part too.
    AlsoHolds {
        fixing: FixingId,
        part: PartId,
    },
    /// Found later that washers, spacers, shims or studs go with its fasteners:
    /// so many for each place that wants some. At `under` places they are in; the
    /// rest lies at `to`.
    ExtraAdded {
        fixing: FixingId,
        extra: Extra,
        under: u16,
        to: Account,
    },
    FastenersUndone {
        fixing: FixingId,
        places: Vec<u16>,
        out: bool,
        to: Account,
    },
    FastenerBroke {
        fixing: FixingId,
        place: u16,
        stump_in: bool,
    },
    PlaceRepaired {
        fixing: FixingId,
        place: u16,
    },
    ConnectionLogged(Box<ConnectionLogged>),
    /// Found later by what it runs.
    Routed {
        connection: ConnectionId,
        route: Route,
    },
    EndParted {
        end: EndId,
    },
    ItemRemoved(ItemRemoved),
    ContainerNamed {
        tag: String,
        kind: ContainerKind,
        name: String,
        lies: String,
    },
    ContainerMoved {
        container: ContainerId,
        lies: String,
    },
    OpeningMade {
        name: String,
        on: Option<PartId>,
        shut_by: Option<PartId>,
    },
    PutIn(PutIn),
    TakenOut {
        inside: InsideId,
        n: u32,
    },
    FluidDrained {
        name: String,
        amount: String,
        bleed: bool,
    },
    FluidFilled {
        fluid: FluidId,
        amount: String,
    },
    FluidBled {
        fluid: FluidId,
    },
    /// Looked at after filling, and right, with what was added to get there.
    LevelSeen {
        fluid: FluidId,
        amount: String,
    },
    /// Whether a joint holds a fluid in: a part, a fixing, a connection, a
    /// one-use item, a treatment or a thing inside.
    JointHolds {
        fluid: FluidId,
        on: Target,
        holds: bool,
    },
    TreatmentPrescribed(Treatment),
    TreatmentApplied {
        treatment: TreatmentId,
    },
    SupplyIsolated {
        name: String,
        kind: SupplyKind,
    },
    SupplyRestored {
        supply: SupplyId,
    },
    // Inspect, decide, buy.
    FindingNoted {
        on: Target,
        text: String,
    },
    Decided {
        finding: FindingId,
        decision: Decision,
        reason: String,
    },
    WorkDone {
        finding: FindingId,
    },
    BuyListed {
        what: String,
        n: u32,
        on: Target,
    },
    Ordered {
        want: Want,
        n: u32,
    },
    Arrived {
        want: Want,
        n: u32,
    },
    PartReplaced {
        part: PartId,
        note: String,
        as_ordered: bool,
    },
    FixingRenewed {
        fixing: FixingId,
        spec: crate::fastener::FastenerSpec,
        reason: String,
    },
    /// The old ones go back where new ones were due, by decision.
    OldKept {
        fixing: FixingId,
        reason: String,
    },
    /// Its fasteners were to be looked at before they go back; they were, and
    /// are good.
    LookedAt {
        fixing: FixingId,
    },
    /// More is known of its fasteners: the thread, the length, the class. The
    /// kind stays what it was.
    FixingMeasured {
        fixing: FixingId,
        spec: crate::fastener::FastenerSpec,
    },
    HoleMeasured {
        fixing: FixingId,
        hole: Hole,
    },
    // The count.
    Moved {
        line: LineId,
        from: Account,
        to: Account,
        n: u32,
        reason: String,
    },
    StockAdded {
        line: LineId,
        to: Account,
        n: u32,
    },
    StrayFound {
        spec: crate::fastener::FastenerSpec,
        place: String,
    },
    /// It is known better than when it was logged, and not yet whose it is.
    StrayMeasured {
        stray: StrayId,
        spec: crate::fastener::FastenerSpec,
    },
    StrayIdentified {
        stray: StrayId,
        line: LineId,
    },
    StraySettled {
        stray: StrayId,
        reason: String,
    },
    LeftOff {
        what: Target,
        places: Vec<u16>,
        reason: String,
    },
    // Back.
    PartPlaced {
        part: PartId,
        buried: Vec<Target>,
    },
    Started {
        fixing: FixingId,
        places: Vec<u16>,
        line: LineId,
        from: Account,
    },
    Tightened {
        fixing: FixingId,
        places: Vec<u16>,
        to: Tight,
        value: Option<Figure>,
        /// What stood on the scale, where an adapter was on the wrench.
        set: Option<Figure>,
    },
    /// The adapter that is on the wrench for a fixing from now on, if any.
    AdapterSet {
        fixing: FixingId,
        adapter: Option<Adapter>,
    },
    /// Whether a fixing or an end is to be looked at by a second person.
    SecondLookSet {
        what: Target,
        owed: bool,
    },
    /// Whether all places are gone round once more at the end of the pass.
    LastRoundAsked {
        fixing: FixingId,
        asked: bool,
    },
    /// Gone round once more at the last figure, all places in a circle.
    WentRound {
        fixing: FixingId,
        /// One turned further: the round is not the last.
        turned: bool,
        value: Option<Figure>,
        set: Option<Figure>,
    },
    /// In which order the places of a fixing are gone through.
    RoundSet(Round),
    /// How fixings of the same parts are gone through together.
    RingSet(Ring),
    /// Final tightening of a fixing waits for this, or waits no longer.
    FinalHeld {
        fixing: FixingId,
        until: Hold,
        met: bool,
    },
    Doubted {
        what: Target,
        places: Vec<u16>,
    },
    ExtraFitted {
        fixing: FixingId,
        line: LineId,
        from: Account,
        n: u32,
    },
    ItemFitted {
        item: ItemId,
        n: u32,
        old: bool,
        /// Why an old one went in again.
        reason: String,
    },
    EndPushed {
        end: EndId,
        seat: EndId,
    },
    EndSecured {
        end: EndId,
    },
    Checked {
        what: Target,
        places: Vec<u16>,
    },
    AfterRunOwed {
        what: AfterRunKind,
        on: Target,
        text: String,
        due: Due,
    },
    AfterRunDone {
        after_run: AfterRunId,
        reading: String,
    },
    /// Gone back to after a break. Places of a fixing that the hand is not sure
    /// of become doubtful; without places, the thing as a whole is meant.
    Touched {
        what: Target,
        places: Vec<u16>,
        sure: bool,
    },
    /// Gone on after a break without touching again what was in the hand.
    WentOn {
        what: Target,
    },
    /// Mileage or running hours as read off later than at the opening.
    MeterRead(Meter),
    /// The machine was run; heat cycles are from cold to working heat and cold
    /// again, 0 for a short run.
    Ran {
        heat_cycles: u16,
    },
    // Notes and pictures.
    PhotoTaken(PhotoTaken),
    MarkSet {
        photo: PhotoId,
        number: u16,
        x: u16,
        y: u16,
        what: Target,
    },
    NoteAdded {
        on: Target,
        text: String,
    },
    // The book itself.
    /// Strikes every act of the tap whose first act this is.
    Struck {
        event: EventId,
    },
    Excepted {
        owed: OwedKey,
        reason: String,
    },
    SignedOff {
        verdict: String,
    },
    Reopened {
        reason: String,
    },
}
