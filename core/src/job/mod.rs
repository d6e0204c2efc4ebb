//! The job as it stands: folded from the acts, never stored itself.
mod apply;
mod check;
mod closed;
mod command;
mod decide;
mod fold;
mod refusal;
mod table;
mod things;
mod want;

pub(crate) use closed::lies_under;
pub use command::{
    Command, ConnectionDraft, ContainerPick, Ctx, FixingDraft, ItemDraft, PhotoDraft, TakeOff,
    Thing, TreatmentDraft, UsedOnce,
};
pub use fold::Book;
pub use refusal::{Kind, Refusal};
pub use table::Table;
pub use things::*;
pub use want::ToBuy;

use rustc_hash::FxHashMap;

use crate::journal::*;
use crate::ledger::Line;
use crate::procedure::Procedure;

/// Everything that is known of one job. Equal acts make equal jobs.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Job {
    /// None before the opening act.
    pub head: Option<JobHead>,
    pub opened: EventId,
    pub procedure: Option<Procedure>,
    pub steps: Table<StepId, Step>,
    pub parts: Table<PartId, Part>,
    pub fixings: Table<FixingId, Fixing>,
    pub connections: Table<ConnectionId, Connection>,
    pub items: Table<ItemId, Item>,
    pub containers: Table<ContainerId, Container>,
    pub openings: Table<OpeningId, Opening>,
    pub insides: Table<InsideId, Inside>,
    pub fluids: Table<FluidId, Fluid>,
    pub treatments: Table<TreatmentId, Treated>,
    pub supplies: Table<SupplyId, Supply>,
    pub findings: Table<FindingId, FindingOf>,
    pub buys: Table<BuyId, Buy>,
    pub strays: Table<StrayId, Stray>,
    pub after_runs: Table<AfterRunId, AfterRun>,
    pub readings: Vec<Reading>,
    pub runs: Vec<Run>,
    pub lines: Table<LineId, Line>,
    pub photos: Table<PhotoId, Photo>,
    pub marks: Table<MarkId, Mark>,
    pub notes: Table<NoteId, Note>,
    /// Whose words stand in `Place::who`.
    pub names: Vec<String>,
    pub exceptions: Vec<Excepted>,
    pub signed: Option<SignOff>,
    /// Acts that did not fit when folded, as after a merge.
    pub misfits: Vec<Misfit>,
    /// Acts that say again what another phone had said.
    pub said_twice: Vec<Misfit>,
    /// When the first part was touched, to tell whether it was safe by then.
    pub first_off: Option<EventId>,
    /// Fixings and ends that wait on a thing being off, by that thing.
    pub(crate) holders: FxHashMap<Target, Vec<Target>>,
    /// Some thing was said, after it was off, to have come off after another
    /// that came in later still.
    pub(crate) remembered_late: bool,
    /// Parts to which other ways were noted than the one they came off by.
    pub(crate) ways_noted: Vec<PartId>,
    /// Parts that were put over a thing before it was done, by that thing. Some
    /// may be off again since: what counts is what each has buried.
    pub(crate) put_over: FxHashMap<Target, Vec<PartId>>,
}

impl Job {
    /// Whether it is one of the app's examples: what is in them is of nobody's
    /// own work, and is not looked through from another job.
    pub fn is_example(&self) -> bool {
        EXAMPLES.contains(&self.opened.device)
    }
    /// Whether what turned up in this job may be of another. Nothing of an
    /// example is of one's own work, nor the other way round.
    pub fn may_share_with(&self, other: &Self) -> bool {
        !self.is_example() && !other.is_example()
    }
    /// What lengths are measured and shown in.
    pub fn length_unit(&self) -> LengthUnit {
        self.head
            .as_ref()
            .map_or(LengthUnit::Millimetre, |h| h.units.length)
    }
    pub fn end(&self, id: EndId) -> Option<&EndOf> {
        self.connections.get(id.connection).map(|c| c.end(id.side))
    }
    pub(crate) fn end_mut(&mut self, id: EndId) -> Option<&mut EndOf> {
        self.connections
            .get_mut(id.connection)
            .map(|c| match id.side {
                Side::A => &mut c.a,
                Side::B => &mut c.b,
            })
    }
    /// All connection ends, in order of logging.
    pub fn ends(&self) -> impl Iterator<Item = (EndId, &Connection, &EndOf)> {
        self.connections.iter().flat_map(|(connection, c)| {
            [
                (
                    EndId {
                        connection,
                        side: Side::A,
                    },
                    c,
                    &c.a,
                ),
                (
                    EndId {
                        connection,
                        side: Side::B,
                    },
                    c,
                    &c.b,
                ),
            ]
        })
    }
    pub fn name_of(&self, who: Who) -> &str {
        self.names.get(usize::from(who)).map_or("", String::as_str)
    }
    pub fn container_by_tag(&self, tag: &str) -> Option<ContainerId> {
        self.containers
            .iter()
            .find(|(_, c)| c.tag == tag)
            .map(|(id, _)| id)
    }
    /// What had to have `first` off before it.
    pub fn gave_way_to(&self, first: Target) -> &[Target] {
        self.holders.get(&first).map_or(&[], Vec::as_slice)
    }
    /// Whether something was written down that came off later than what it had
    /// to make way for, or another way in, which may ask for anything.
    pub(crate) fn against_order(&self) -> bool {
        self.remembered_late || !self.ways_noted.is_empty()
    }
    /// The highest reading of a kind of meter, with that at the opening.
    pub fn meter_of(&self, kind: MeterKind) -> Option<Meter> {
        let opening = self.head.as_ref().and_then(|it| it.meter);
        let later = self.readings.iter().map(|it| it.meter);
        let of = opening
            .into_iter()
            .chain(later)
            .filter(|it| it.kind == kind);
        of.max_by_key(|it| it.tenths)
    }
    pub fn is_signed(&self) -> bool {
        self.signed.is_some()
    }
}
