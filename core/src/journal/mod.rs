//! The journal: immutable acts in one agreed order, and the merge of two.
mod act;
mod facts;
mod id;
mod meant;
mod typed;

pub use act::{Act, Event};
pub use facts::*;
pub use id::*;
pub use meant::{MeantFor, Tolerance};
pub use typed::{Typed, TypedError, read_amount, read_stages, read_typed};

use std::collections::{BTreeMap, BTreeSet};

/// The acts of one job, ordered by id. The only stored truth.
#[derive(Clone, Debug, Default)]
pub struct Journal {
    events: BTreeMap<EventId, Event>,
    tally: Tally,
}

/// How much of what was ever added, so that folding can make room for it at
/// once. Says nothing that the acts do not.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Tally {
    pub parts: usize,
    pub fixings: usize,
    pub connections: usize,
    pub items: usize,
    pub needs: usize,
    /// False only when no act strikes.
    pub strikes: bool,
}

impl Tally {
    fn add(&mut self, act: &Act) {
        match act {
            Act::PartOff(it) => {
                self.parts += 1;
                self.needs += it.after.len();
            }
            Act::FixingUndone(_) => self.fixings += 1,
            Act::ConnectionLogged(_) => self.connections += 1,
            Act::ItemRemoved(_) => self.items += 1,
            Act::Struck { .. } => self.strikes = true,
            _ => {}
        }
    }
}

impl PartialEq for Journal {
    fn eq(&self, other: &Self) -> bool {
        self.events == other.events
    }
}

/// What a merge did.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Merged {
    /// Acts that were new here.
    pub added: usize,
    /// Ids under which the two journals hold different acts. One is kept by a
    /// rule that both sides follow; seen only where a file was tampered with.
    pub clashes: Vec<EventId>,
}

impl Journal {
    pub fn new(events: impl IntoIterator<Item = Event>) -> Self {
        let mut journal = Self::default();
        for event in events {
            journal.add(event);
        }
        journal
    }

    /// Adds an act; says false when its id was there already.
    pub fn add(&mut self, event: Event) -> bool {
        self.tally.add(&event.act);
        match self.events.get(&event.id) {
            None => {
                self.events.insert(event.id, event);
                true
            }
            Some(have) => {
                if rank(&event) < rank(have) {
                    self.events.insert(event.id, event);
                }
                false
            }
        }
    }

    /// Set union by id: commutative, associative and idempotent.
    pub fn merge(&mut self, other: &Journal) -> Merged {
        let mut merged = Merged::default();
        for event in other.events.values() {
            match self.events.get(&event.id) {
                Some(have) if have == event => {}
                Some(_) => {
                    merged.clashes.push(event.id);
                    self.add(event.clone());
                }
                None => {
                    merged.added += 1;
                    self.add(event.clone());
                }
            }
        }
        merged
    }

    pub(crate) fn tally(&self) -> Tally {
        self.tally
    }
    pub fn get(&self, id: EventId) -> Option<&Event> {
        self.events.get(&id)
    }
    pub fn iter(&self) -> impl DoubleEndedIterator<Item = &Event> {
        self.events.values()
    }
    pub fn len(&self) -> usize {
        self.events.len()
    }
    pub fn is_empty(&self) -> bool {
        self.events.is_empty()
    }
    pub fn last(&self) -> Option<&Event> {
        self.events.values().next_back()
    }

    /// The taps that do not count, by their first act. A strike may itself be
    /// struck; later strikes are looked at first, so that the outcome does not
    /// depend on arrival. The opening stands whatever a file from elsewhere
    /// says: without it nothing else would.
    pub fn struck(&self) -> BTreeSet<EventId> {
        let mut struck = BTreeSet::new();
        if !self.tally.strikes {
            return struck;
        }
        let opens = |id| {
            let event: Option<&Event> = self.events.get(&id);
            event.is_some_and(|e| matches!(e.act, Act::JobOpened(_)))
        };
        for event in self.events.values().rev() {
            if let Act::Struck { event: target } = event.act
                && !struck.contains(&event.with)
                && !opens(target)
            {
                struck.insert(target);
            }
        }
        struck
    }
}

/// A rule that any two phones apply alike when one id names two acts.
fn rank(event: &Event) -> String {
    crate::codec::encode(event)
}
