//! Reusable procedures: what a job of this kind is expected to meet. A
//! procedure suggests; it opens no debt but its make-safe steps and its checks
//! after running, and attaching another never takes away a place once opened.
mod file;
mod from_job;
mod known;

pub use file::{ProcedureFault, procedure_from_json, procedure_to_json};
pub use from_job::procedure_from_job;
pub use known::known_parts;

use crate::fastener::FastenerSpec;
use crate::journal::*;

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Procedure {
    pub title: String,
    pub machine: String,
    pub aim: String,
    pub safe: Vec<SafeStep>,
    pub parts: Vec<PlannedPart>,
    pub fluids: Vec<PlannedFluid>,
    pub after_run: Vec<PlannedRun>,
}

/// A part that is expected to come off.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlannedPart {
    /// Names it within the procedure.
    pub key: String,
    pub name: String,
    pub lies: String,
    /// Keys of what must be off first.
    pub after: Vec<String>,
    /// Other ways to it, each the keys of what is off instead.
    pub ways: Vec<Vec<String>>,
    pub hazards: Vec<Hazard>,
    pub note: String,
    pub fixings: Vec<PlannedFixing>,
    pub connections: Vec<PlannedConnection>,
    pub items: Vec<PlannedItem>,
    /// Names of ports that it lays open.
    pub openings: Vec<String>,
    pub treatments: Vec<PlannedTreatment>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct PlannedFixing {
    pub spec: FastenerSpec,
    pub count: u16,
    pub place: String,
    /// Numbers of its holes; empty or one a place.
    pub numbers: Vec<u16>,
    /// Washers and the like that come with each.
    pub extras: Vec<Extra>,
    pub reuse: Reuse,
    pub detail: FixingDetail,
    /// In which order its places are gone through.
    pub round: Option<PlannedRound>,
    /// Once more all round at the end.
    pub last_round: bool,
    /// Keys of other parts that it also holds.
    pub also: Vec<String>,
}

/// An order of tightening without its photo, which is of one machine.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PlannedRound {
    /// Where each place lies, in thousandths from the left and from the top.
    pub points: Vec<(u16, u16)>,
    /// Every place by its index, once each.
    pub order: Vec<u16>,
    /// The maker's own order.
    pub maker: bool,
}

/// A hose or the like, as it comes off with the part that it is planned with:
/// `a` is its end there.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedConnection {
    pub kind: ConnectionKind,
    pub name: String,
    pub a: String,
    pub b: String,
    pub joint: Joint,
    pub clamp: String,
    /// Neither end sits on the part.
    pub away: bool,
    /// That end stays on, and the other one is parted.
    pub stays: bool,
    pub far: PlannedEnd,
    /// How it runs: behind what, by its key or in words.
    pub route: Option<PlannedRoute>,
    /// Keys of what must be off first; with none it is got at as its part is.
    pub after: Vec<String>,
    /// Other ways to it, each the keys of what is off instead.
    pub ways: Vec<Vec<String>>,
}

/// The other end of a connection.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlannedEnd {
    pub off: bool,
    /// The key of the part that it sits on; empty for the machine itself.
    pub on: String,
    /// Where it is another than at the near end.
    pub joint: Option<Joint>,
    pub clamp: String,
}

#[derive(Clone, Debug, PartialEq)]
pub struct PlannedRoute {
    pub kind: RouteKind,
    /// The key of a part; empty where words alone say it.
    pub by: String,
    pub text: String,
}

/// What is put on when the part goes back.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedTreatment {
    /// Of the job, until the part is there.
    pub treatment: Treatment,
    /// The fixing of the part whose threads it goes on, by its place there; none
    /// for the part itself.
    pub fixing: Option<u16>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct PlannedItem {
    pub kind: ItemKind,
    pub name: String,
    pub size: String,
    pub count: u16,
}

#[derive(Clone, Debug, PartialEq)]
pub struct PlannedFluid {
    pub name: String,
    pub amount: String,
    pub bleed: bool,
}

#[derive(Clone, Debug, PartialEq)]
pub struct PlannedRun {
    pub kind: AfterRunKind,
    pub text: String,
    pub due: Due,
}
