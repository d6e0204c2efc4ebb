//! The steps of going back by number, and what each has to wait for.
use rustc_hash::FxHashMap;

use super::super::back::{Act, Held, fixing_held};
use super::super::sequence::{index_of, places_of};
use super::super::settled::settled;
use super::super::under::{Cover, Under, joints_open};
use super::Way;
use super::demand::{needs_way_end, needs_way_fixing};
use super::pass::{Bound, Pass};
use crate::job::Job;
use crate::journal::*;

/// Open acts by number, and after them the fixings still open.
pub(super) struct Steps {
    acts: FxHashMap<Target, usize>,
    fixings: FxHashMap<FixingId, usize>,
}

impl Steps {
    pub(super) fn of(job: &Job, acts: &[Act]) -> Self {
        let index = index_of(acts);
        let open = job.fixings.iter().filter(|(id, it)| {
            let its_own = index.contains_key(&Target::Fixing(*id));
            !its_own
                && it
                    .parts
                    .iter()
                    .any(|&p| index.contains_key(&Target::Part(p)))
        });
        let open = open.map(|(id, _)| id);
        let open = open.filter(|&id| !settled(job, Target::Fixing(id)));
        Self {
            fixings: open.zip(acts.len()..).collect(),
            acts: index,
        }
    }

    /// The steps in which a thing is done.
    fn nodes(&self, job: &Job, what: Target) -> impl Iterator<Item = usize> + use<> {
        let fixing = match what {
            Target::Fixing(id) => self.fixings.get(&id).copied(),
            _ => None,
        };
        let acts = match fixing {
            Some(_) => [None, None],
            None => places_of(job, &self.acts, what),
        };
        fixing.into_iter().chain(acts.into_iter().flatten())
    }

    pub(super) fn pass(
        &self,
        job: &Job,
        under: &Under,
        acts: &[Act],
        blockers: &[Vec<Target>],
    ) -> Pass {
        let n = acts.len() + self.fixings.len();
        let mut pass = Pass {
            first: vec![Vec::new(); n],
            bound: vec![Vec::new(); n],
        };
        for ((first, by), act) in pass.first.iter_mut().zip(blockers).zip(acts) {
            for &what in by {
                first.extend(self.nodes(job, what));
                // What has to be back has to be fast as well, by then.
                if let Target::Part(id) = what
                    && let Some(part) = job.parts.get(id)
                {
                    let mut joints = Vec::new();
                    joints_open(job, part, Cover::of(job, act.what), &mut joints);
                    let nodes = joints.iter().flat_map(|&what| self.nodes(job, what));
                    first.extend(nodes);
                }
            }
        }
        for (&id, &node) in &self.fixings {
            let mut held = Held::default();
            let _ = fixing_held(job, under, id, &mut held);
            if let Some(first) = pass.first.get_mut(node) {
                let parts = job.fixings.get(id).into_iter().flat_map(|f| &f.parts);
                let parts = parts.map(|&p| Target::Part(p));
                for what in held.blocked.into_iter().chain(parts) {
                    first.extend(self.nodes(job, what));
                }
            }
        }
        pass
    }

    /// The steps that a part needs a way for, each with what has to be off.
    pub(super) fn bounds(&self, job: &Job, part: PartId, ways: &[Way]) -> Vec<(usize, Bound)> {
        let Some(it) = job.parts.get(part) else {
            return Vec::new();
        };
        let mut out = Vec::new();
        let mut add = |what: Target, but: &[PartId]| {
            for node in self.nodes(job, what) {
                let ways = ways.iter().map(|way| {
                    let over = |x: &Target| match x {
                        Target::Part(p) => !but.contains(p),
                        _ => *x != what,
                    };
                    let way: Way = way.iter().copied().filter(over).collect();
                    let nodes = way.iter().flat_map(|&x| self.nodes(job, x)).collect();
                    (way, nodes)
                });
                out.push((node, Bound(ways.collect())));
            }
        };
        add(Target::Part(part), &[]);
        for &end in it.ends.iter().filter(|&&e| needs_way_end(job, part, e)) {
            add(Target::End(end), &[]);
        }
        for &id in it
            .fixings
            .iter()
            .filter(|&&f| needs_way_fixing(job, part, f))
        {
            let with = job.fixings.get(id).map(|f| f.parts.as_slice());
            // What it clamps has to be there.
            add(Target::Fixing(id), with.unwrap_or_default());
        }
        out
    }
}
