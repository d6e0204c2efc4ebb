//! What a job is made of, as folded from its acts.
use crate::fastener::FastenerSpec;
use crate::fluid;
use crate::journal::*;
use crate::torque::hole::{HoleVerdict, check_length};

/// A name in [`super::Job::names`].
pub type Who = u16;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PartState {
    Off,
    Aside,
    Placed,
    /// Off by decision.
    LeftOff,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    pub name: String,
    pub lies: String,
    pub note: String,
    pub state: PartState,
    /// The act that brought it into its state.
    pub since: EventId,
    pub opened: EventId,
    pub after: Vec<Need>,
    /// Other ways to reach it, each a set of things to take off.
    pub ways: Vec<Vec<Need>>,
    pub carried_by: Option<PartId>,
    pub hazards: Vec<Hazard>,
    pub planned: Option<String>,
    /// Fixings that hold it, in order of undoing.
    pub fixings: Vec<FixingId>,
    pub ends: Vec<EndId>,
    pub items: Vec<ItemId>,
    pub treatments: Vec<TreatmentId>,
    pub findings: Vec<FindingId>,
    pub replaced: Option<Replacement>,
    pub left_off_why: String,
    pub buried: Vec<Target>,
    pub sure: bool,
    /// Placed, and something that holds it was at least snug: a one-use item
    /// under it is spent when it comes off again.
    pub clamped: bool,
}

impl Part {
    /// Off the machine or swung aside, and meant to go back.
    pub fn off(&self) -> bool {
        matches!(self.state, PartState::Off | PartState::Aside)
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct Replacement {
    pub by: EventId,
    pub note: String,
    pub as_ordered: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PlaceState {
    /// Empty before the work began; not owed.
    FoundEmpty,
    /// Empty by decision.
    LeftEmpty,
    /// A stump is in it; repair first.
    Broken,
    Open,
    Slackened,
    Doubtful,
    Started,
    Snug,
    Stage(u8),
    Final,
    Checked,
}

impl PlaceState {
    /// Needs nothing more but, perhaps, a second person.
    pub fn finished(self) -> bool {
        matches!(
            self,
            Self::FoundEmpty | Self::LeftEmpty | Self::Final | Self::Checked
        )
    }
    /// A fastener is in it, however loose.
    pub fn filled(self) -> bool {
        matches!(
            self,
            Self::Slackened
                | Self::Doubtful
                | Self::Started
                | Self::Snug
                | Self::Stage(_)
                | Self::Final
                | Self::Checked
        )
    }
}

/// One hole, stud or seat of a fixing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    pub state: PlaceState,
    /// The line of the fastener in it.
    pub holds: Option<LineId>,
    /// Who brought it to its state.
    pub who: Who,
    /// When, by the phone's clock, in ms.
    pub at: i64,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Fixing {
    pub parts: Vec<PartId>,
    pub spec: FastenerSpec,
    pub place: String,
    pub numbers: Vec<u16>,
    /// What its places were called when an order was set after one of them was
    /// touched: that stays, or the record would name others by it. Empty else.
    pub called: Vec<u16>,
    pub places: Vec<Place>,
    pub reuse: Reuse,
    pub detail: FixingDetail,
    /// The line its places want: the old fasteners, or the new ones.
    pub wants: LineId,
    /// The line that came out.
    pub old: LineId,
    pub extras: Vec<(LineId, Extra)>,
    /// Lines of washers, shims and the like of other fixings, some of which sit
    /// here.
    pub strange: Vec<LineId>,
    pub opened: EventId,
    pub since: EventId,
    pub treatments: Vec<TreatmentId>,
    /// One-use items that go with its fasteners, as union washers do.
    pub items: Vec<ItemId>,
    pub after: Vec<Need>,
    pub ordered: u32,
    pub arrived: u32,
    pub last_value: Option<Figure>,
    pub sure: bool,
    /// The container that its fasteners came out of last.
    pub bag: Option<ContainerId>,
    /// Its hole, and the act that measured it.
    pub hole: Option<(Hole, EventId)>,
    /// What came new into the stack under its heads, and by which act.
    pub stack_new: Option<(Target, EventId)>,
    /// By whom and why the old ones go back where new ones were due.
    pub kept: Option<Excepted>,
    /// They were to be looked at before they go back, and were found good.
    pub looked_at: bool,
    /// How many of those that came out broke: they are scrap for good.
    pub broken: u32,
    /// In which order its places are gone through, once that was set.
    pub round: Option<Round>,
    /// With which others it is gone through, once that was said.
    pub ring: Option<Box<Ring>>,
    /// What final tightening waits for, and whether that was said to be so.
    pub holds: Vec<(Hold, bool)>,
    /// What is on the wrench for it.
    pub adapter: Option<Adapter>,
    /// Whether a last round is asked for, once that was said.
    pub last_round: Option<bool>,
    /// The last round since a place was last touched.
    pub gone_round: Option<GoneRound>,
}

/// All places of a fixing gone round once more.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct GoneRound {
    /// One turned further.
    pub turned: bool,
    pub who: Who,
}

impl Fixing {
    /// The number drawn for a place, or its position in the round counted from
    /// 1: a place that has no number of its own is called by its turn, until it
    /// is touched.
    pub fn number(&self, place: u16) -> u16 {
        self.own_number(place)
            .unwrap_or_else(|| self.turn(place).saturating_add(1))
    }
    /// The number of a place that no order changes, if it has one.
    pub fn own_number(&self, place: u16) -> Option<u16> {
        let at = usize::from(place);
        self.numbers
            .get(at)
            .or_else(|| self.called.get(at))
            .copied()
    }
    /// The number that a place keeps in another order: its own, or what it was
    /// called by as it was touched.
    pub fn kept_number(&self, place: u16) -> Option<u16> {
        let touched = self.since != self.opened;
        let called = || touched.then(|| self.number(place));
        self.own_number(place).or_else(called)
    }
    /// When a place has its turn in a round, from 0.
    pub fn turn(&self, place: u16) -> u16 {
        let order = self.round.as_ref().map(|r| r.order.as_slice());
        order
            .and_then(|it| it.iter().position(|&p| p == place))
            .map_or(place, |it| it as u16)
    }
    /// Places in such a state, by index.
    pub fn where_state(&self, f: impl Fn(PlaceState) -> bool) -> Vec<u16> {
        (0_u16..)
            .zip(&self.places)
            .filter(|(_, p)| f(p.state))
            .map(|(n, _)| n)
            .collect()
    }
    pub fn count_where(&self, f: impl Fn(&Place) -> bool) -> usize {
        self.places.iter().filter(|p| f(p)).count()
    }
    pub fn finished(&self) -> bool {
        self.places.iter().all(|p| p.state.finished())
    }
    /// Places that want a fastener, in it or not.
    pub fn wanted(&self) -> usize {
        use PlaceState::{FoundEmpty, LeftEmpty};
        self.count_where(|p| !matches!(p.state, FoundEmpty | LeftEmpty))
    }
    /// The torque of the last stage; none where there is none, or an angle ends
    /// it: after an angle no torque is true any more.
    pub fn last_torque(&self) -> Option<Figure> {
        let last = self.detail.stages.last().copied();
        last.filter(|f| matches!(f, Figure::Torque { .. }))
    }
    /// Whether a last round can be made over it: four places or more, which
    /// draw on one another, and a torque to repeat (common practice; ASME PCC-1
    /// lists the round for flanges, from memory).
    pub fn can_go_round(&self) -> bool {
        self.wanted() >= 4 && self.last_torque().is_some()
    }
    /// All is final, and the last round that was asked for is still to come.
    pub fn round_owed(&self) -> bool {
        self.last_round == Some(true)
            && self.can_go_round()
            && self.finished()
            && self.gone_round.is_none_or(|it| it.turned)
    }
    /// Kinds that are in or not, with nothing to tighten.
    pub fn seats_only(&self) -> bool {
        seats_only(self.spec.kind)
    }
    /// Since when it is known how much thread its fasteners hold: the hole as
    /// measured, or the fasteners it wants since.
    pub fn thread_since(&self) -> Option<EventId> {
        let (_, measured) = self.hole?;
        Some(measured.max(self.wants.0.event()))
    }
    /// What came new into its stack after the hole was measured, and by which
    /// act: the sum is no longer sure.
    pub fn hole_old(&self) -> Option<(Target, EventId)> {
        let (_, measured) = self.hole?;
        self.stack_new.filter(|&(_, since)| since > measured)
    }
    /// Its fasteners are stretched when they are drawn down: by name, or as they
    /// are turned on by an angle. A nut is not; the stud under it is.
    pub fn stretched(&self) -> bool {
        use crate::fastener::FastenerKind::{Bolt, Screw, Stud};
        use crate::fastener::common_items::stretches;
        matches!(self.spec.kind, Bolt | Screw | Stud)
            && (self.detail.by_angle() || stretches(&self.spec))
    }
    /// They are stretched, and nobody has said whether new ones go in.
    pub fn old_or_new_open(&self) -> bool {
        self.stretched()
            && self.reuse == Reuse::Reuse
            && self.wants == self.old
            && self.kept.is_none()
            && self.wanted() > 0
    }
    /// They were to be looked at before they go back, and nobody has said what
    /// was seen: that they are good, that new ones go in, or that they are kept
    /// all the same.
    pub fn look_owed(&self) -> bool {
        self.reuse == Reuse::Inspect
            && self.wants == self.old
            && !self.looked_at
            && self.kept.is_none()
            && self.wanted() > 0
    }
    /// How a fastener stands against the hole; none where the hole or the
    /// length is not known, or the length is not one under a head.
    pub fn against_hole(&self, spec: &FastenerSpec) -> Option<HoleVerdict> {
        use crate::fastener::FastenerKind::{Bolt, Other, Screw};
        let (hole, _) = self.hole?;
        let length_um = spec.length_um?;
        matches!(spec.kind, Bolt | Screw | Other)
            .then(|| check_length(length_um, spec.thread, hole.stack()))
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum EndState {
    Undisturbed,
    Parted,
    Doubtful,
    /// Pushed on or started, not yet clicked or tight.
    Pushed,
    Secured,
    Checked,
    LeftOff,
}

impl EndState {
    pub fn finished(self) -> bool {
        matches!(
            self,
            Self::Undisturbed | Self::Secured | Self::Checked | Self::LeftOff
        )
    }
    /// It was parted and is on again, however loosely.
    pub fn joined(self) -> bool {
        matches!(
            self,
            Self::Doubtful | Self::Pushed | Self::Secured | Self::Checked
        )
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct EndOf {
    pub end: End,
    pub state: EndState,
    /// Where it was pushed on, when that is not its own seat.
    pub elsewhere: Option<EndId>,
    /// The act that parted it for the first time: what was off by then is not
    /// in the way of joining it.
    pub first: Option<EventId>,
    pub since: EventId,
    pub items: Vec<ItemId>,
    pub who: Who,
    pub sure: bool,
    /// Lives hang on it: a second person looks at it.
    pub safety: bool,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Connection {
    pub kind: ConnectionKind,
    pub name: String,
    pub a: EndOf,
    pub b: EndOf,
    pub route: Vec<Route>,
    pub after: Vec<Need>,
    /// Other ways to reach it, as of a part; told before it is got at, and of
    /// no weight on the way back.
    pub ways: Vec<Vec<Need>>,
    pub tag: Option<String>,
    pub opened: EventId,
}

impl Connection {
    pub fn end(&self, side: Side) -> &EndOf {
        match side {
            Side::A => &self.a,
            Side::B => &self.b,
        }
    }
    pub fn finished(&self) -> bool {
        self.a.state.finished() && self.b.state.finished()
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    pub kind: ItemKind,
    pub name: String,
    pub size: String,
    pub count: u16,
    pub on: Target,
    pub line: LineId,
    pub opened: EventId,
    /// New ones fitted.
    pub renewed: u16,
    /// Old ones fitted again: a temporary that stays owed.
    pub old_in: u16,
    pub ordered: u32,
    pub arrived: u32,
    /// Lying ready: loose in the ledger.
    pub ready: u32,
    pub left_off: bool,
    pub sure: bool,
}

impl Item {
    pub fn finished(&self) -> bool {
        self.left_off || self.renewed >= self.count
    }
    /// New ones that must still be bought: not fitted, not lying ready.
    pub fn to_buy(&self) -> u32 {
        if self.left_off {
            return 0;
        }
        u32::from(self.count.saturating_sub(self.renewed)).saturating_sub(self.ready)
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct Container {
    pub tag: String,
    pub kind: ContainerKind,
    pub name: String,
    pub lies: String,
    pub opened: EventId,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Opening {
    pub name: String,
    pub on: Option<PartId>,
    /// The part that shuts it when placed.
    pub shut_by: Option<PartId>,
    /// Other ways to reach it, as of a connection.
    pub ways: Vec<Vec<Need>>,
    pub opened: EventId,
    pub inside: Vec<InsideId>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Inside {
    pub put: PutIn,
    pub line: LineId,
    pub opened: EventId,
    pub n_in: u32,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Fluid {
    pub name: String,
    pub drained: String,
    pub filled: Option<String>,
    pub bleed: bool,
    pub bled: bool,
    /// The level was looked at after filling, and is right.
    pub level_seen: bool,
    /// What was said of joints: whether they hold it in.
    pub joints: Vec<(Target, bool)>,
    pub opened: EventId,
}

impl Fluid {
    /// How much less went in than came out, in millilitres (below nought:
    /// more); none where it is the same, or one of them was not measured.
    pub fn less_in(&self) -> Option<i64> {
        let filled = fluid::read(self.filled.as_deref()?)?;
        fluid::differs(fluid::read(&self.drained)?, filled.ml)
    }

    /// Less went in than came out, and nobody has looked at the level since.
    pub fn short(&self) -> Option<i64> {
        self.less_in().filter(|&ml| ml > 0 && !self.level_seen)
    }

    /// What was said of a joint.
    pub fn said_of(&self, joint: Target) -> Option<bool> {
        let said = self.joints.iter().find(|(on, _)| *on == joint);
        said.map(|it| it.1)
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct Treated {
    pub treatment: Treatment,
    pub opened: EventId,
    /// When it was put on, in ms.
    pub applied: Option<i64>,
    /// When what it is on was closed up, in ms.
    pub closed: Option<i64>,
    /// The acts by which it was put on and closed up; at first that which asked
    /// for it.
    pub applied_by: EventId,
    pub closed_by: EventId,
    pub sure: bool,
}

impl Treated {
    /// When it will bear, in ms; none before it is put on.
    pub fn cured_at(&self) -> Option<i64> {
        self.applied
            .map(|at| at.saturating_add(i64::from(self.treatment.cure_min) * 60_000))
    }
    /// By when the joint has to be closed, in ms, as long as it is not.
    pub fn close_by(&self) -> Option<i64> {
        let open = i64::from(self.treatment.open_min?);
        let by = self.applied?.saturating_add(open * 60_000);
        self.closed.is_none().then_some(by)
    }
    pub fn curing(&self, now: i64) -> bool {
        self.treatment.cure_min > 0 && self.cured_at().is_some_and(|at| now < at)
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct Supply {
    pub name: String,
    pub kind: SupplyKind,
    pub restored: bool,
    pub opened: EventId,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    pub step: SafeStep,
    pub opened: EventId,
    pub confirmed: Option<EventId>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct FindingOf {
    pub on: Target,
    pub text: String,
    pub opened: EventId,
    pub decision: Option<(Decision, String)>,
    pub decided: Option<EventId>,
    pub done: bool,
}

impl FindingOf {
    /// The decision asks for work that is not done yet.
    pub fn work_owed(&self) -> bool {
        let asks = matches!(
            self.decision,
            Some((
                Decision::Clean | Decision::Repair | Decision::Renew | Decision::LeaveOff,
                _
            ))
        );
        asks && !self.done
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct Buy {
    pub what: String,
    pub n: u32,
    pub on: Target,
    pub ordered: u32,
    pub arrived: u32,
    pub opened: EventId,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Stray {
    pub spec: FastenerSpec,
    pub place: String,
    pub line: LineId,
    pub opened: EventId,
    pub settled: bool,
    pub reason: String,
}

#[derive(Clone, Debug, PartialEq)]
pub struct AfterRun {
    pub what: AfterRunKind,
    pub on: Target,
    pub text: String,
    pub due: Due,
    pub opened: EventId,
    pub done: bool,
}

/// Mileage or hours as read during the job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reading {
    pub meter: Meter,
    /// In ms since 1970.
    pub at: i64,
    pub event: EventId,
}

/// The machine was run, or a check after running says so.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Run {
    pub heat_cycles: u16,
    /// In ms since 1970.
    pub at: i64,
    pub event: EventId,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Photo {
    pub taken: PhotoTaken,
    pub at: i64,
    pub opened: EventId,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    pub photo: PhotoId,
    pub number: u16,
    /// Thousandths of the picture's width from the left.
    pub x: u16,
    /// Thousandths of its height from the top.
    pub y: u16,
    pub what: Target,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Note {
    pub on: Target,
    pub text: String,
    pub at: i64,
    pub opened: EventId,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Excepted {
    pub owed: OwedKey,
    /// How many of a line were owed when it was accepted: more than these are
    /// not covered. None where it is not a number that was accepted.
    pub up_to: Option<u32>,
    pub reason: String,
    pub by: String,
    pub at: i64,
    pub event: EventId,
}

#[derive(Clone, Debug, PartialEq)]
pub struct SignOff {
    pub by: String,
    pub at: i64,
    pub verdict: String,
    pub event: EventId,
}

/// An act that did not fit when it was folded, as after a merge.
#[derive(Clone, Debug, PartialEq)]
pub struct Misfit {
    pub event: EventId,
    pub why: super::Refusal,
}

/// Kinds that draw down what they hold: a shim or a washer only lies between.
pub fn draws_down(kind: crate::fastener::FastenerKind) -> bool {
    use crate::fastener::FastenerKind::*;
    !matches!(kind, Shim | Spacer | Washer)
}

/// Kinds of fastener that are in or not, with nothing to tighten.
pub fn seats_only(kind: crate::fastener::FastenerKind) -> bool {
    use crate::fastener::FastenerKind::*;
    matches!(
        kind,
        Clip | Circlip | Pin | SplitPin | Rivet | Shim | Spacer | Washer
    )
}
