//! Things of one kind in the order they came in, found by their id.
use std::cell::Cell;
use std::marker::PhantomData;

use crate::journal::{Id, Ref};

/// Append-only: nothing that was ever in a job is taken out of it.
///
/// Acts are folded in the order of their ids, so rows come in by rising id and
/// are found by where their clock ought to lie. An index beside them would be
/// larger than the ids and would cost a miss of the cache at each look.
#[derive(Clone, Debug)]
pub struct Table<I, T> {
    rows: Vec<T>,
    ids: Vec<Ref>,
    /// Of each id: what a look goes through, so it is kept close together.
    clocks: Vec<u32>,
    /// A row came in with a lower id than the one before it.
    mixed: bool,
    /// Where the last one was found: acts come several to a thing, and the next
    /// thing is mostly a neighbour.
    last: Cell<usize>,
    kind: PhantomData<I>,
}

impl<I, T> Default for Table<I, T> {
    fn default() -> Self {
        Self {
            rows: Vec::new(),
            ids: Vec::new(),
            clocks: Vec::new(),
            mixed: false,
            last: Cell::new(0),
            kind: PhantomData,
        }
    }
}

impl<I, T: PartialEq> PartialEq for Table<I, T> {
    fn eq(&self, other: &Self) -> bool {
        self.ids == other.ids && self.rows == other.rows
    }
}

impl<I: Id, T> Table<I, T> {
    /// Adds a row; one whose id is known already is left as it is.
    pub(crate) fn add(&mut self, id: I, row: T) {
        let id = id.as_ref();
        if self.ids.last().is_some_and(|&last| id <= last) {
            if self.find(id).is_some() {
                return;
            }
            self.mixed = true;
        }
        self.rows.push(row);
        self.ids.push(id);
        self.clocks.push(id.event().clock);
    }
    /// Makes room for `n` more rows.
    pub(crate) fn reserve(&mut self, n: usize) {
        self.rows.reserve(n);
        self.ids.reserve(n);
        self.clocks.reserve(n);
    }
    pub fn get(&self, id: I) -> Option<&T> {
        self.find(id.as_ref()).and_then(|slot| self.rows.get(slot))
    }
    pub(crate) fn get_mut(&mut self, id: I) -> Option<&mut T> {
        match self.find(id.as_ref()) {
            Some(slot) => self.rows.get_mut(slot),
            None => None,
        }
    }
    pub fn has(&self, id: I) -> bool {
        self.find(id.as_ref()).is_some()
    }
    /// Position in order of coming in, dense from 0.
    pub fn slot(&self, id: I) -> Option<usize> {
        self.find(id.as_ref())
    }
    /// Where `id` stands.
    fn find(&self, id: Ref) -> Option<usize> {
        let last = self.last.get();
        if self.ids.get(last) == Some(&id) {
            return Some(last);
        }
        let found = self.look_up(id)?;
        self.last.set(found);
        Some(found)
    }
    /// Clocks rise by about as much from row to row, so the guess is mostly
    /// near; from there the steps double until they enclose it.
    fn look_up(&self, id: Ref) -> Option<usize> {
        if self.mixed {
            return self.ids.iter().position(|&it| it == id);
        }
        let clock = id.event().clock;
        let (first, last) = (*self.clocks.first()?, *self.clocks.last()?);
        if clock < first || last < clock {
            return None;
        }
        let top = self.clocks.len() - 1;
        let span = u64::from(last - first).max(1);
        let guess = (u64::from(clock - first) * top as u64 / span) as usize;
        let (mut low, mut high, mut step) = (guess, guess, 1);
        // Down to the first of several with this clock.
        while low > 0 && self.clocks[low] >= clock {
            high = low;
            low = low.saturating_sub(step);
            step *= 2;
        }
        step = 1;
        while self.clocks[high] < clock {
            low = high;
            high = (high + step).min(top);
            step *= 2;
        }
        let from = low + self.clocks[low..=high].partition_point(|&it| it < clock);
        let same = self.clocks[from..].iter().take_while(|&&it| it == clock);
        let found = self.ids[from..from + same.count()]
            .binary_search(&id)
            .ok()?;
        Some(from + found)
    }
    pub fn iter(&self) -> impl DoubleEndedIterator<Item = (I, &T)> {
        self.ids
            .iter()
            .map(|&r| I::from_ref(r))
            .zip(self.rows.iter())
    }
    pub fn rows(&self) -> impl DoubleEndedIterator<Item = &T> {
        self.rows.iter()
    }
    pub fn ids(&self) -> impl DoubleEndedIterator<Item = I> + '_ {
        self.ids.iter().map(|&r| I::from_ref(r))
    }
    pub fn len(&self) -> usize {
        self.rows.len()
    }
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::journal::{DeviceId, EventId, PartId};

    fn id(clock: u32, device: u64, thing: u16) -> PartId {
        PartId(EventId::new(clock, DeviceId(device)).thing(thing))
    }

    /// Clocks with gaps, two phones at one clock, several things of one act.
    fn ids() -> Vec<PartId> {
        let mut clock = 1_700_000_000;
        let mut ids = Vec::new();
        for n in 0..400_u32 {
            clock += match n % 7 {
                0 => 90_000,
                1 => 3,
                _ => 1,
            };
            for device in [4, 9].into_iter().take(1 + (n as usize % 2)) {
                ids.extend((0..=(n % 3) as u16).map(|thing| id(clock, device, thing)));
            }
        }
        ids
    }

    #[test]
    fn every_row_is_found_and_no_other() {
        for count in [1, 2, 3, 17, ids().len()] {
            let mut table: Table<PartId, usize> = Table::default();
            for (n, &id) in ids().iter().take(count).enumerate() {
                table.add(id, n);
                table.add(id, usize::MAX);
            }
            assert_eq!(table.len(), count);
            for (n, &it) in ids().iter().enumerate() {
                assert_eq!(table.get(it), Some(&n).filter(|_| n < count));
                assert_eq!(table.slot(it), Some(n).filter(|_| n < count));
                let PartId(at) = it;
                assert!(!table.has(id(at.event().clock, 5, 0)));
                assert!(!table.has(id(at.event().clock, 9, 7)));
            }
        }
    }

    #[test]
    fn rows_out_of_order_are_found_too() {
        let mut table: Table<PartId, usize> = Table::default();
        for (n, &id) in ids().iter().rev().enumerate() {
            table.add(id, n);
            table.add(id, usize::MAX);
        }
        for (n, &id) in ids().iter().rev().enumerate() {
            assert_eq!(table.get(id), Some(&n));
        }
    }
}
