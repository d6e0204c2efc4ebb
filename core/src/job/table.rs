//! Things of one kind in the order they came in, found by their id.
use std::marker::PhantomData;

use rustc_hash::FxHashMap;

use crate::journal::{Id, Ref};

/// Append-only: nothing that was ever in a job is taken out of it.
#[derive(Clone, Debug)]
pub struct Table<I, T> {
    rows: Vec<T>,
    ids: Vec<Ref>,
    index: FxHashMap<Ref, u32>,
    kind: PhantomData<I>,
}

impl<I, T> Default for Table<I, T> {
    fn default() -> Self {
        Self {
            rows: Vec::new(),
            ids: Vec::new(),
            index: FxHashMap::default(),
            kind: PhantomData,
        }
    }
}

/// The index says nothing that ids and rows do not.
impl<I, T: PartialEq> PartialEq for Table<I, T> {
    fn eq(&self, other: &Self) -> bool {
        self.ids == other.ids && self.rows == other.rows
    }
}

impl<I: Id, T> Table<I, T> {
    /// Adds a row; one whose id is known already is left as it is.
    pub(crate) fn add(&mut self, id: I, row: T) {
        let next = self.rows.len() as u32;
        let slot = *self.index.entry(id.as_ref()).or_insert(next);
        if slot == next {
            self.rows.push(row);
            self.ids.push(id.as_ref());
        }
    }
    /// Makes room for `n` more rows.
    pub(crate) fn reserve(&mut self, n: usize) {
        self.rows.reserve(n);
        self.ids.reserve(n);
        self.index.reserve(n);
    }
    pub fn get(&self, id: I) -> Option<&T> {
        self.index
            .get(&id.as_ref())
            .and_then(|&slot| self.rows.get(slot as usize))
    }
    pub(crate) fn get_mut(&mut self, id: I) -> Option<&mut T> {
        match self.index.get(&id.as_ref()) {
            Some(&slot) => self.rows.get_mut(slot as usize),
            None => None,
        }
    }
    pub fn has(&self, id: I) -> bool {
        self.index.contains_key(&id.as_ref())
    }
    /// Position in order of coming in, dense from 0.
    pub fn slot(&self, id: I) -> Option<usize> {
        self.index.get(&id.as_ref()).map(|&slot| slot as usize)
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
