//! Other ways to a part that is not back and fast: where one was noted that is
//! open, what closes the recorded way buries nothing yet; and what closes the
//! last one does, though it was not in the way when the part came off.
//!
//! Putting back is looked at the other way about. From everything on, things
//! come off again as soon as what covers them is off, by any one way, until
//! all that is off now is off. A thing may go back exactly when that still
//! comes out with every way over it closed. Nothing is lost by taking off what
//! can be, so one pass decides.
use rustc_hash::FxHashMap;

mod demand;
mod pass;
mod steps;

use super::back::Act;
use super::under::{Under, same_thing};
use crate::job::Job;
use crate::journal::*;
pub(super) use demand::open_by_noted;
use demand::{demand, open_ways};
use pass::{Bound, Pass};
use steps::Steps;

/// What follows from other ways that were noted; empty in most jobs.
#[derive(Default)]
pub struct Otherwise {
    /// Of each part that can still be got at by a noted way or the recorded
    /// one: all its ways that are open, the recorded one first.
    ways: FxHashMap<PartId, Vec<Way>>,
    /// Parts to which a thing closes the last way.
    held: FxHashMap<Target, Vec<PartId>>,
    /// What goes back before what by the ways that an order was found with.
    pub(super) order: Vec<(Target, Target)>,
}

/// Things that have to be off together.
type Way = Vec<Target>;

impl Otherwise {
    /// Every part with noted ways that is not settled, and holds nothing yet.
    pub(super) fn of(job: &Job) -> Self {
        let mut it = Self::default();
        for &id in &job.ways_noted {
            if !demand(job, id).is_empty() {
                let ways = open_ways(job, id);
                // None open: it is buried already, and stands as recorded.
                if !ways.is_empty() {
                    it.ways.insert(id, ways);
                }
            }
        }
        it
    }

    pub(super) fn is_empty(&self) -> bool {
        self.ways.is_empty()
    }

    /// The part can be got at although this closes.
    pub(super) fn frees(&self, part: PartId, closes: Target) -> bool {
        self.ways.contains_key(&part) && !self.holders(closes).any(|p| p == part)
    }

    /// Parts that have to be done before this closes the last way to them.
    pub(super) fn holders(&self, closes: Target) -> impl Iterator<Item = PartId> + '_ {
        let held = ends_of(closes).filter_map(|what| self.held.get(&what));
        held.flatten().copied()
    }

    /// Parts to which this closes a way, each with what is off on one that
    /// stays open.
    pub fn still_open(&self, closes: Target) -> Vec<(PartId, Vec<Target>)> {
        let mut out = Vec::new();
        for (&part, ways) in &self.ways {
            let over = |way: &&Way| way.iter().any(|&x| same_thing(x, closes));
            if self.frees(part, closes)
                && ways.iter().any(|way| over(&way))
                && let Some(way) = ways.iter().find(|way| !over(way))
            {
                out.push((part, way.clone()));
            }
        }
        out.sort_unstable();
        out
    }

    /// Finds out what is held, from the open acts and what holds them up
    /// besides the ways. Says whether that came out: where it did not, some
    /// parts stand as they were recorded, and it is to be asked again.
    pub(super) fn hold(
        job: &Job,
        under: &mut Under,
        acts: &[Act],
        blockers: &[Vec<Target>],
    ) -> bool {
        let steps = Steps::of(job, acts);
        let mut pass = steps.pass(job, under, acts, blockers);
        let it = &mut under.otherwise;
        let mut nodes: Vec<(PartId, usize)> = Vec::new();
        let mut bound_of: FxHashMap<PartId, Bound> = FxHashMap::default();
        for (&part, ways) in &it.ways {
            for (node, bound) in steps.bounds(job, part, ways) {
                nodes.push((part, node));
                bound_of.entry(part).or_insert_with(|| bound.clone());
                if let Some(all) = pass.bound.get_mut(node) {
                    all.push(bound);
                }
            }
        }
        it.found(&pass, acts, nodes, &bound_of)
    }

    fn found(
        &mut self,
        pass: &Pass,
        acts: &[Act],
        mut nodes: Vec<(PartId, usize)>,
        bound_of: &FxHashMap<PartId, Bound>,
    ) -> bool {
        nodes.sort_unstable();
        let (off, chosen) = pass.take_off(None);
        let stuck = |off: &[bool], part: PartId| {
            let mut of = nodes.iter().filter(|(p, _)| *p == part);
            of.any(|&(_, node)| off.get(node) != Some(&true))
        };
        let n = self.ways.len();
        self.ways.retain(|&part, _| !stuck(&off, part));
        if self.ways.len() < n {
            return false;
        }
        let in_ways = self.ways.values().flatten().flatten();
        let mut closing: Vec<Target> = in_ways.flat_map(|&x| ends_of(x)).collect();
        closing.sort_unstable();
        closing.dedup();
        for closes in closing {
            let (off, _) = pass.take_off(Some(closes));
            for (&part, ways) in &self.ways {
                let over = |way: &Way| way.iter().any(|&x| same_thing(x, closes));
                let lost = |bound: &Bound| bound.open(&off, Some(closes), ways.len()).is_none();
                if ways.iter().any(over) && bound_of.get(&part).is_some_and(lost) {
                    self.held.entry(closes).or_default().push(part);
                }
            }
        }
        for held in self.held.values_mut() {
            held.sort_unstable();
        }
        let what = |node: usize| acts.get(node).map(|a| a.what);
        let pairs = chosen.into_iter();
        self.order = pairs
            .filter_map(|(before, after)| what(before).zip(what(after)))
            .collect();
        true
    }
}

/// What is done at a time: a connection is joined end by end, and a way that
/// one end bars is open though the other is on.
fn ends_of(what: Target) -> impl Iterator<Item = Target> {
    let each = match what {
        Target::Connection(connection) => {
            let end = |side| Target::End(EndId { connection, side });
            [Some(end(Side::A)), Some(end(Side::B))]
        }
        other => [Some(other), None],
    };
    each.into_iter().flatten()
}
