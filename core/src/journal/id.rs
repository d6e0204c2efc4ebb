//! Ids that are unique without asking anyone: a logical clock and a device.
use std::fmt;
use std::str::FromStr;

/// The phone an act was made on: 64 random bits drawn once per browser store.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct DeviceId(pub u64);

/// The phones that the examples of the app were made on. What is in them is of
/// nobody's own work.
pub const EXAMPLES: [DeviceId; 2] = [DeviceId(0xb0a7), DeviceId(0x7111)];

/// Names an act. Ordered by logical clock, then device, so that every phone
/// that holds the same acts folds them in the same order.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct EventId {
    /// Logical clock: greater than that of every act its maker had seen.
    pub clock: u32,
    pub device: DeviceId,
}

/// Names a thing that an act brought into the job: the act and a number in it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Ref {
    pub clock: u32,
    /// Position of the thing within its act; 0 for the only one.
    pub sub: u16,
    pub device: DeviceId,
}

/// Text that is not an id.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotAnId(pub String);

impl EventId {
    pub const fn new(clock: u32, device: DeviceId) -> Self {
        Self { clock, device }
    }
    /// The `sub`-th thing that this act brings in.
    pub const fn thing(self, sub: u16) -> Ref {
        Ref {
            clock: self.clock,
            sub,
            device: self.device,
        }
    }
}

impl Ref {
    /// The act that brought this thing in.
    pub const fn event(self) -> EventId {
        EventId {
            clock: self.clock,
            device: self.device,
        }
    }
}

impl fmt::Display for EventId {
    /// Fixed width, so that text order is id order.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:08x}-{:016x}", self.clock, self.device.0)
    }
}

impl FromStr for EventId {
    type Err = NotAnId;
    fn from_str(text: &str) -> Result<Self, NotAnId> {
        let bad = || NotAnId(text.to_owned());
        let (clock, device) = text.split_once('-').ok_or_else(bad)?;
        Ok(Self {
            clock: u32::from_str_radix(clock, 16).map_err(|_| bad())?,
            device: DeviceId(u64::from_str_radix(device, 16).map_err(|_| bad())?),
        })
    }
}

impl fmt::Display for Ref {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}-{:x}", self.event(), self.sub)
    }
}

impl FromStr for Ref {
    type Err = NotAnId;
    fn from_str(text: &str) -> Result<Self, NotAnId> {
        let bad = || NotAnId(text.to_owned());
        let (event, sub) = text.rsplit_once('-').ok_or_else(bad)?;
        let event: EventId = event.parse()?;
        Ok(event.thing(u16::from_str_radix(sub, 16).map_err(|_| bad())?))
    }
}

/// A typed id over [`Ref`].
pub trait Id: Copy + Eq + Ord + std::hash::Hash + fmt::Debug {
    fn from_ref(r: Ref) -> Self;
    fn as_ref(self) -> Ref;
}

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident),* $(,)?) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub Ref);
        impl Id for $name {
            fn from_ref(r: Ref) -> Self { Self(r) }
            fn as_ref(self) -> Ref { self.0 }
        }
        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result { self.0.fmt(f) }
        }
        impl FromStr for $name {
            type Err = NotAnId;
            fn from_str(text: &str) -> Result<Self, NotAnId> { text.parse().map(Self) }
        }
    )*};
}

ids! {
    PartId, FixingId, ConnectionId,
    /// A one-use item.
    ItemId,
    ContainerId, OpeningId,
    /// A rag, tool, locking pin, cover or support that was put in.
    InsideId,
    FluidId, TreatmentId, SupplyId,
    /// A make-safe step.
    StepId,
    FindingId, BuyId,
    /// A fastener of unknown origin.
    StrayId,
    /// A check that falls due after running.
    AfterRunId,
    /// A line of like things in the ledger.
    LineId,
    PhotoId, MarkId, NoteId,
}

/// One of the two ends of a connection.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    A,
    B,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct EndId {
    pub connection: ConnectionId,
    pub side: Side,
}

impl EndId {
    /// The other end of its connection.
    pub fn other(self) -> Self {
        let side = match self.side {
            Side::A => Side::B,
            Side::B => Side::A,
        };
        Self { side, ..self }
    }
}

/// Anything in a job that can be owed, shown or pointed at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Target {
    Job,
    Part(PartId),
    Fixing(FixingId),
    Connection(ConnectionId),
    End(EndId),
    Item(ItemId),
    Container(ContainerId),
    Opening(OpeningId),
    Inside(InsideId),
    Fluid(FluidId),
    Treatment(TreatmentId),
    Supply(SupplyId),
    Step(StepId),
    Finding(FindingId),
    Buy(BuyId),
    Stray(StrayId),
    AfterRun(AfterRunId),
    Line(LineId),
}

impl fmt::Display for EndId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let side = match self.side {
            Side::A => 'a',
            Side::B => 'b',
        };
        write!(f, "{}{side}", self.connection)
    }
}

impl fmt::Display for Target {
    /// A short text that tells targets apart, for keys of lists. Not stored.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (kind, id): (&str, &dyn fmt::Display) = match self {
            Self::Job => return f.write_str("job"),
            Self::Part(id) => ("part", id),
            Self::Fixing(id) => ("fixing", id),
            Self::Connection(id) => ("connection", id),
            Self::End(id) => ("end", id),
            Self::Item(id) => ("item", id),
            Self::Container(id) => ("container", id),
            Self::Opening(id) => ("opening", id),
            Self::Inside(id) => ("inside", id),
            Self::Fluid(id) => ("fluid", id),
            Self::Treatment(id) => ("treatment", id),
            Self::Supply(id) => ("supply", id),
            Self::Step(id) => ("step", id),
            Self::Finding(id) => ("finding", id),
            Self::Buy(id) => ("buy", id),
            Self::Stray(id) => ("stray", id),
            Self::AfterRun(id) => ("after-run", id),
            Self::Line(id) => ("line", id),
        };
        write!(f, "{kind}-{id}")
    }
}

impl Target {
    /// The act that brought the thing in; none for the job itself.
    pub fn event(self) -> Option<EventId> {
        let thing = match self {
            Self::Job => return None,
            Self::Part(id) => id.0,
            Self::Fixing(id) => id.0,
            Self::Connection(id) => id.0,
            Self::End(id) => id.connection.0,
            Self::Item(id) => id.0,
            Self::Container(id) => id.0,
            Self::Opening(id) => id.0,
            Self::Inside(id) => id.0,
            Self::Fluid(id) => id.0,
            Self::Treatment(id) => id.0,
            Self::Supply(id) => id.0,
            Self::Step(id) => id.0,
            Self::Finding(id) => id.0,
            Self::Buy(id) => id.0,
            Self::Stray(id) => id.0,
            Self::AfterRun(id) => id.0,
            Self::Line(id) => id.0,
        };
        Some(thing.event())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_survive_text_and_keep_their_order() {
        let small = EventId::new(9, DeviceId(u64::MAX));
        let large = EventId::new(10, DeviceId(0));
        assert!(small < large);
        assert!(small.to_string() < large.to_string());
        assert_eq!(small.to_string().parse(), Ok(small));
        let thing = PartId(large.thing(300));
        assert_eq!(thing.to_string().parse(), Ok(thing));
        assert!("12".parse::<EventId>().is_err());
    }
}
