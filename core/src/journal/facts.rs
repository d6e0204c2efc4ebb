//! The facts that acts carry: plain values in trade words.
use super::id::*;
use super::meant::{MeantFor, Tolerance};
use crate::fastener::FastenerSpec;
use crate::torque::TorqueUnit;
use crate::torque::hole::{HoleMetal, Stack};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MeterKind {
    Kilometres,
    Miles,
    Hours,
}

/// Mileage or running hours when the job was opened, in tenths of the unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Meter {
    pub kind: MeterKind,
    pub tenths: u32,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LengthUnit {
    Millimetre,
    Inch,
}

/// Units that figures are shown in; what was entered keeps its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Units {
    pub torque: TorqueUnit,
    pub length: LengthUnit,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JobHead {
    pub title: String,
    pub machine: String,
    /// What the strip-down is for.
    pub aim: String,
    pub meter: Option<Meter>,
    pub units: Units,
}

/// A kind of make-safe step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SafeKind {
    BatteryOff,
    Supported,
    Cooled,
    PressureReleased,
    Other,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SafeStep {
    pub kind: SafeKind,
    pub text: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SupplyKind {
    Battery,
    Fuel,
    Air,
    Water,
    Hydraulic,
    Other,
}

/// Why one thing had to come off before another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Why {
    BlocksReach,
    Hides,
    Attached,
    SharesFixing,
    Supports,
    RoutedThrough,
}

/// One thing that had to be off or parted first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Need {
    pub first: Target,
    pub why: Why,
}

/// What kind of thing is touched, for the usual caution.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Hazard {
    Raised,
    Fuel,
    HotCoolant,
    Battery,
    Airbag,
    Spring,
    BrakesSteering,
    Refrigerant,
    HighVoltage,
    Hydraulic,
    HotExhaust,
    Belts,
    Boat,
    Chemical,
    Dust,
    Lifting,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum WayIn {
    Above,
    Below,
    Front,
    Behind,
    Side,
    Inside,
    WheelOff,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PartOff {
    pub name: String,
    /// Where it lies while it is off.
    pub lies: String,
    /// Swung aside, still hanging on something, rather than off.
    pub aside: bool,
    pub after: Vec<Need>,
    /// The part it was carried along with, as one lump.
    pub carried_by: Option<PartId>,
    pub hazards: Vec<Hazard>,
    pub note: String,
    /// The procedure's key for it, if it came from one.
    pub planned: Option<String>,
}

/// Where a fastener goes once it is out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reuse {
    Reuse,
    Renew,
    Inspect,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Account {
    /// In its place on the machine, or in another's.
    Fixing(FixingId),
    /// Fitted as the one-use item it is.
    Item(ItemId),
    Part(PartId),
    /// Still inside the machine.
    Inside(InsideId),
    Container(ContainerId),
    Bench,
    Scrapped,
    Missing,
    Spare,
    LeftOff,
}

/// A washer, spacer, shim or stud that goes with each fastener of a fixing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Extra {
    pub spec: FastenerSpec,
    /// How many to a place.
    pub per_place: u8,
}

/// A figure as it was entered, in thousandths of its unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Figure {
    Torque {
        milli: u32,
        unit: TorqueUnit,
    },
    /// Degrees of turn.
    Angle {
        degrees: u16,
    },
}

/// What is known about tightening a fixing: its stages in order. Empty when
/// the maker's figure is not known; it is never guessed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FixingDetail {
    pub stages: Vec<Figure>,
    /// How far the last stage may be off, and what threads it is for.
    pub tolerance: Option<Tolerance>,
    pub meant_for: Option<MeantFor>,
    /// What its self-locking nuts run with, as read off.
    pub running: Option<Figure>,
    /// Where the figure is from, in the person's words.
    pub source: String,
    pub tool: String,
    pub way: Option<WayIn>,
    pub spanner_only: bool,
    /// Shown again at put back.
    pub watch: String,
    pub safety: bool,
}

/// What the fasteners of a fixing go through and into, as measured, in
/// micrometres.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Hole {
    /// Parts and gasket under the head.
    pub parts_um: u32,
    /// Washers under the head, all together.
    pub washers_um: u32,
    /// From the face of the hole to where its thread ends; 0 for one that goes
    /// right through, in which nothing bottoms.
    pub depth_um: u32,
    pub metal: Option<HoleMetal>,
}

impl Hole {
    /// The stack and hole that a bolt is checked against.
    pub fn stack(self) -> Stack {
        Stack {
            thickness_um: self.parts_um.saturating_add(self.washers_um),
            hole_depth_um: if self.depth_um == 0 {
                u32::MAX
            } else {
                self.depth_um
            },
            metal: self.metal,
        }
    }
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FixingUndone {
    /// The parts it holds; one fastener may clamp several.
    pub parts: Vec<PartId>,
    pub spec: FastenerSpec,
    /// "upper", "lower", "round the rim".
    pub place: String,
    /// Numbers of its places on a drawing; empty or one a place.
    pub numbers: Vec<u16>,
    /// Places touched in all: taken out, slackened and found empty.
    pub count: u16,
    /// Of these, only slackened.
    pub slackened: u16,
    /// Of these, found empty before the work began: not owed.
    pub found_empty: u16,
    pub extras: Vec<Extra>,
    pub reuse: Reuse,
    pub detail: FixingDetail,
    /// Where what was taken out went; sums to count - slackened - found_empty.
    pub to: Vec<(Account, u16)>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ConnectionKind {
    Hose,
    Pipe,
    Plug,
    Cable,
    Linkage,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Joint {
    PushOn,
    Clamped,
    Clicked,
    Threaded,
    /// Banjo: brings two one-use washers, one each face
    /// (common practice, no source).
    UnionBolt,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct End {
    /// The part it sits on, or the machine itself.
    pub on: Option<PartId>,
    pub label: String,
    pub joint: Joint,
    pub clamp: String,
    pub parted: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RouteKind {
    Through,
    Behind,
    ClippedTo,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Route {
    pub kind: RouteKind,
    pub part: Option<PartId>,
    pub text: String,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ConnectionLogged {
    pub kind: ConnectionKind,
    pub name: String,
    pub a: End,
    pub b: End,
    pub route: Vec<Route>,
    pub after: Vec<Need>,
    /// Code on both its tags.
    pub tag: Option<String>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ItemKind {
    Gasket,
    CrushWasher,
    ORing,
    Seal,
    SplitPin,
    StretchBolt,
    LockNut,
    Clip,
    Other,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ItemRemoved {
    pub kind: ItemKind,
    pub name: String,
    pub size: String,
    pub count: u16,
    /// A part, a fixing or an end.
    pub on: Target,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ContainerKind {
    Bag,
    Tray,
    Box,
    Shelf,
    Card,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum InsideKind {
    Rag,
    Tool,
    LockingPin,
    Support,
    /// Blanks a port until it is closed again.
    Cover,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PutIn {
    pub kind: InsideKind,
    pub name: String,
    pub n: u16,
    pub opening: Option<OpeningId>,
    /// In words, where it is.
    pub place: String,
    /// The part that hides it once placed.
    pub hidden_by: Option<PartId>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TreatmentKind {
    Lubricant,
    Sealant,
    ThreadLocker,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Treatment {
    pub kind: TreatmentKind,
    pub product: String,
    /// A part or a fixing.
    pub on: Target,
    /// Minutes after which it bears, as its label says; 0 when it need not cure.
    pub cure_min: u32,
    /// Minutes within which to assemble, if its label says so.
    pub open_min: Option<u32>,
    /// What may not be done before it has cured.
    pub holds_fill: bool,
    pub holds_start: bool,
    /// The next part goes over it only once it has cured.
    pub holds_cover: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Decision {
    Refit,
    Clean,
    Repair,
    Renew,
    LeaveOff,
}

/// What a line of the to-buy list is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Want {
    /// New ones of a one-use item.
    Item(ItemId),
    /// New fasteners of a fixing that takes new ones.
    Fixing(FixingId),
    /// Washers and the like of a fixing that are lost or scrap.
    Extra(LineId),
    /// A line the person wrote, or a part to renew.
    Line(BuyId),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Tight {
    Snug,
    /// Stage n of the fixing's stages, from 1; the last is final.
    Stage(u8),
    Final,
}

/// The order in which the places of a fixing are tightened; they are loosened
/// the other way about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Round {
    pub fixing: FixingId,
    /// The photo that the points lie on; none for a plain drawing.
    pub photo: Option<PhotoId>,
    /// Where each place lies, in thousandths from the left and from the top;
    /// empty when only the order is known.
    pub points: Vec<(u16, u16)>,
    /// Every place by its index, once each.
    pub order: Vec<u16>,
    /// The maker's own order, put in by hand.
    pub maker: bool,
}

impl Round {
    /// Whether it goes to each of `n` places once, with a point for each or
    /// none.
    pub fn goes_round(&self, n: usize) -> bool {
        let order: Vec<usize> = self.order.iter().map(|&p| usize::from(p)).collect();
        let on_it = |&(x, y): &(u16, u16)| x <= 1000 && y <= 1000;
        (self.points.is_empty() || self.points.len() == n)
            && self.points.iter().all(on_it)
            && crate::torque::check_order(&order, n).is_ok()
    }
}

/// Fixings of the same parts that are tightened alike, as bolts of several
/// lengths in one cover, and how they are gone through.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ring {
    pub lines: Vec<FixingId>,
    /// Each by itself.
    pub apart: bool,
    /// The maker's own order over all places, each by its line in `lines` and its
    /// index there, once each; empty for the usual one.
    pub order: Vec<(u16, u16)>,
}

impl Ring {
    /// Whether it goes to each place once, of lines with so many places.
    pub fn goes_round(&self, places: &[usize]) -> bool {
        let all = (0_u16..).zip(places);
        let mut all: Vec<(u16, u16)> = all
            .flat_map(|(line, &n)| (0..n as u16).map(move |place| (line, place)))
            .collect();
        let mut order = self.order.clone();
        all.sort_unstable();
        order.sort_unstable();
        order.is_empty() || order == all
    }
}

/// A crowfoot or the like on the torque wrench. Lengths in millimetres, the
/// angle in degrees between it and the handle's line away from the grip.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Adapter {
    pub wrench_mm: u32,
    pub adapter_mm: u32,
    pub angle: u32,
}

/// What final tightening waits for besides the parts that a fixing clamps.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Hold {
    /// All other fixings of the same parts have their fasteners in.
    Neighbours,
    /// It bears its weight, as it will in use.
    Loaded,
    /// It is at working heat.
    Hot,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum AfterRunKind {
    LeakCheck,
    LevelCheck,
    Retighten,
    Other,
}

/// When a check after running falls due: the first that is reached.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Due {
    pub heat_cycles: u16,
    pub km: u32,
    pub hours: u32,
    pub days: u32,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PhotoTaken {
    /// SHA-256 of the stored bytes, lower-case hex.
    pub hash: String,
    pub thumb: String,
    pub width: u32,
    pub height: u32,
    pub on: Vec<Target>,
    pub caption: String,
}

/// Names one thing owed: the rule, what it is about and the act that opened it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct OwedKey {
    pub rule: crate::audit::Rule,
    pub on: Target,
    pub opened: EventId,
}
