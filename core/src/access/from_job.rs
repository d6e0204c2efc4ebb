//! The job laid onto dense numbers: parts, connections, openings, fixings and
//! things inside, then what its procedure plans and is not off yet.
use rustc_hash::{FxHashMap, FxHashSet};

use super::Node;
use crate::job::{Job, PartState};
use crate::journal::*;
use crate::procedure::{PlannedConnection, PlannedPart, known_parts};

/// A thing that can be got at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Goal {
    /// On the job: a part, a connection, an opening, a fixing, a thing inside.
    Thing(Target),
    /// A part of the procedure that is still on, by its place in it.
    Planned(u32),
    /// A connection of such a part, by its place there.
    PlannedConnection(u32, u32),
}

/// The numbers of a job's things.
pub struct Laid<'a> {
    pub(super) job: &'a Job,
    /// Where each kind begins, and the end.
    starts: [usize; 6],
    /// Places in the procedure of what is still on.
    planned: Vec<u32>,
    /// Their connections.
    lines: Vec<(u32, u32)>,
    /// What a key of the procedure stands for: the part that was taken off for
    /// it, else its place.
    pub(super) keys: FxHashMap<&'a str, Goal>,
    /// What the procedure says of each key.
    pub(super) plans: FxHashMap<&'a str, &'a PlannedPart>,
}

impl<'a> Laid<'a> {
    pub fn of(job: &'a Job) -> Self {
        let mut at = 0;
        let sizes = [
            job.parts.len(),
            job.connections.len(),
            job.openings.len(),
            job.fixings.len(),
            job.insides.len(),
        ];
        let mut starts = [0; 6];
        for (start, size) in starts.iter_mut().skip(1).zip(sizes) {
            at += size;
            *start = at;
        }
        let mut laid = Self {
            job,
            starts,
            planned: Vec::new(),
            lines: Vec::new(),
            keys: FxHashMap::default(),
            plans: FxHashMap::default(),
        };
        laid.plan();
        laid
    }

    /// What of the procedure is still on.
    fn plan(&mut self) {
        let job = self.job;
        let plan = planned_parts(job);
        if plan.is_empty() {
            return;
        }
        // Of two that were taken off for one, the first stands for it.
        for (id, key) in known_parts(job).into_iter().rev() {
            if let Some(key) = key {
                self.keys.insert(key, Goal::Thing(Target::Part(id)));
            }
        }
        let known = job.connections.rows().map(|c| (c.kind, c.name.as_str()));
        let known: FxHashSet<(ConnectionKind, &str)> = known.collect();
        for (n, part) in (0..).zip(plan) {
            self.plans.insert(&part.key, part);
            if matches!(self.keys.get(part.key.as_str()), Some(Goal::Thing(_))) {
                continue;
            }
            self.keys.insert(&part.key, Goal::Planned(n));
            self.planned.push(n);
            let on = (0..).zip(&part.connections);
            let on = on.filter(|(_, it)| !known.contains(&(it.kind, it.name.as_str())));
            self.lines.extend(on.map(|(at, _)| (n, at)));
        }
    }

    pub fn count(&self) -> usize {
        self.starts[5] + self.planned.len() + self.lines.len()
    }

    pub fn node(&self, goal: Goal) -> Option<Node> {
        let [parts, connections, openings, fixings, insides, end] = self.starts;
        let job = self.job;
        let at = match goal {
            Goal::Planned(n) => Some(end + self.planned.binary_search(&n).ok()?),
            Goal::PlannedConnection(of, n) => {
                let at = self.lines.binary_search(&(of, n)).ok()?;
                Some(end + self.planned.len() + at)
            }
            Goal::Thing(Target::Part(id)) => job.parts.slot(id).map(|s| parts + s),
            Goal::Thing(Target::Connection(id)) => {
                job.connections.slot(id).map(|s| connections + s)
            }
            Goal::Thing(Target::End(id)) => {
                job.connections.slot(id.connection).map(|s| connections + s)
            }
            Goal::Thing(Target::Opening(id)) => job.openings.slot(id).map(|s| openings + s),
            Goal::Thing(Target::Fixing(id)) => job.fixings.slot(id).map(|s| fixings + s),
            Goal::Thing(Target::Inside(id)) => job.insides.slot(id).map(|s| insides + s),
            Goal::Thing(_) => None,
        };
        at.map(|at| at as Node)
    }

    pub fn goal(&self, node: Node) -> Option<Goal> {
        let at = node as usize;
        let [_, connections, openings, fixings, insides, end] = self.starts;
        let job = self.job;
        let thing = if at < connections {
            job.parts.ids().nth(at).map(Target::Part)
        } else if at < openings {
            let id = job.connections.ids().nth(at - connections);
            id.map(Target::Connection)
        } else if at < fixings {
            job.openings.ids().nth(at - openings).map(Target::Opening)
        } else if at < insides {
            job.fixings.ids().nth(at - fixings).map(Target::Fixing)
        } else if at < end {
            job.insides.ids().nth(at - insides).map(Target::Inside)
        } else {
            let at = at - end;
            return match self.planned.get(at) {
                Some(&n) => Some(Goal::Planned(n)),
                None => {
                    let line = self.lines.get(at - self.planned.len());
                    line.map(|&(of, n)| Goal::PlannedConnection(of, n))
                }
            };
        };
        thing.map(Goal::Thing)
    }

    /// All goals in order of their numbers.
    pub fn goals(&self) -> Vec<Goal> {
        let job = self.job;
        let parts = job.parts.ids().map(Target::Part);
        let connections = job.connections.ids().map(Target::Connection);
        let openings = job.openings.ids().map(Target::Opening);
        let fixings = job.fixings.ids().map(Target::Fixing);
        let insides = job.insides.ids().map(Target::Inside);
        let things = parts
            .chain(connections)
            .chain(openings)
            .chain(fixings)
            .chain(insides);
        things
            .map(Goal::Thing)
            .chain(self.planned.iter().map(|&n| Goal::Planned(n)))
            .chain(
                self.lines
                    .iter()
                    .map(|&(of, n)| Goal::PlannedConnection(of, n)),
            )
            .collect()
    }

    /// What is off or apart as things stand, by number.
    pub fn off(&self) -> Vec<bool> {
        let job = self.job;
        let parts = job.parts.rows().map(|p| p.state != PartState::Placed);
        let connections = job.connections.rows().map(|c| !c.finished());
        let openings = job.openings.rows().map(|_| false);
        let fixings = job.fixings.rows().map(|f| !f.finished());
        let insides = job.insides.rows().map(|_| false);
        let things = parts
            .chain(connections)
            .chain(openings)
            .chain(fixings)
            .chain(insides);
        let planned = self.planned.iter().map(|_| false);
        let lines = self.lines.iter().map(|_| false);
        things.chain(planned).chain(lines).collect()
    }
}

/// What the procedure expects to come off.
pub fn planned_parts(job: &Job) -> &[PlannedPart] {
    job.procedure.as_ref().map_or(&[], |p| &p.parts)
}

/// A connection that the procedure expects.
pub fn planned_connection(job: &Job, of: u32, n: u32) -> Option<&PlannedConnection> {
    let part = planned_parts(job).get(of as usize)?;
    part.connections.get(n as usize)
}

/// The part on which a thing is dealt with.
pub fn part_of(job: &Job, what: Target) -> Option<PartId> {
    match what {
        Target::Part(id) => Some(id),
        Target::Fixing(id) => job.fixings.get(id)?.parts.first().copied(),
        Target::End(id) => {
            let connection = job.connections.get(id.connection)?;
            connection
                .end(id.side)
                .end
                .on
                .or(connection.a.end.on)
                .or(connection.b.end.on)
        }
        Target::Connection(id) => {
            let connection = job.connections.get(id)?;
            connection.a.end.on.or(connection.b.end.on)
        }
        Target::Item(id) => part_of(job, job.items.get(id)?.on),
        Target::Treatment(id) => part_of(job, job.treatments.get(id)?.treatment.on),
        Target::Finding(id) => part_of(job, job.findings.get(id)?.on),
        Target::Line(id) => part_of(job, job.lines.get(id)?.of),
        _ => None,
    }
}
