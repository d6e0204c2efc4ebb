//! The job laid onto dense numbers: parts, connections, openings, fixings and
//! things inside, then what its procedure plans and is not off yet; and what
//! has to be off to get at each, as [`Ways`].
use super::Node;
use super::ways::Ways;
use crate::job::{Fixing, Job, PartState};
use crate::journal::*;
use crate::procedure::PlannedPart;

/// A thing that can be got at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Goal {
    /// On the job: a part, a connection, an opening, a fixing, a thing inside.
    Thing(Target),
    /// A part of the procedure that is still on, by its place in it.
    Planned(u32),
}

/// The numbers of a job's things.
pub struct Laid<'a> {
    job: &'a Job,
    /// Where each kind begins, and the end.
    starts: [usize; 6],
    /// Places in the procedure of what is still on.
    planned: Vec<u32>,
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
        let planned = (0..)
            .zip(planned_parts(job))
            .filter(|(_, p)| taken(job, &p.key).is_none())
            .map(|(n, _)| n)
            .collect();
        Self {
            job,
            starts,
            planned,
        }
    }

    pub fn count(&self) -> usize {
        self.starts[5] + self.planned.len()
    }

    pub fn node(&self, goal: Goal) -> Option<Node> {
        let [parts, connections, openings, fixings, insides, end] = self.starts;
        let job = self.job;
        let at = match goal {
            Goal::Planned(n) => Some(end + self.planned.binary_search(&n).ok()?),
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
            return self.planned.get(at - end).map(|&n| Goal::Planned(n));
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
        things.chain(self.planned.iter().map(|_| false)).collect()
    }

    /// What stands directly for a thing that had to be off first.
    fn first(&self, first: Target) -> Option<Node> {
        match first {
            Target::Opening(id) => {
                let by = self.job.openings.get(id)?.shut_by?;
                self.node(Goal::Thing(Target::Part(by)))
            }
            other => self.node(Goal::Thing(other)),
        }
    }

    fn firsts(&self, needs: &[Need]) -> Vec<Node> {
        needs.iter().filter_map(|n| self.first(n.first)).collect()
    }

    /// The sets of things of which any one has to be off to get at `goal`.
    pub fn sets(&self, goal: Goal) -> Vec<Vec<Node>> {
        let job = self.job;
        let part = |id: PartId| self.node(Goal::Thing(Target::Part(id)));
        match goal {
            Goal::Planned(n) => {
                let keys = planned_parts(job).get(n as usize).map(|p| &p.after);
                let first = keys.into_iter().flatten().filter_map(|key| {
                    if let Some(id) = taken(job, key) {
                        return part(id);
                    }
                    let at = planned_parts(job).iter().position(|p| p.key == *key)?;
                    self.node(Goal::Planned(u32::try_from(at).ok()?))
                });
                vec![first.collect()]
            }
            Goal::Thing(Target::Part(id)) => {
                // The way it was taken off is one; any noted since are others.
                let Some(it) = job.parts.get(id) else {
                    return vec![Vec::new()];
                };
                let ways = it.ways.iter().map(|way| self.firsts(way));
                [self.firsts(&it.after)].into_iter().chain(ways).collect()
            }
            Goal::Thing(Target::Fixing(id)) => match job.fixings.get(id) {
                Some(fixing) => self.sets_of_fixing(fixing),
                None => vec![Vec::new()],
            },
            Goal::Thing(Target::Connection(id) | Target::End(EndId { connection: id, .. })) => {
                let Some(it) = job.connections.get(id) else {
                    return vec![Vec::new()];
                };
                let mut first = self.firsts(&it.after);
                let lies = it.route.iter().filter(|r| r.kind != RouteKind::ClippedTo);
                first.extend(lies.filter_map(|r| r.part).filter_map(part));
                vec![first]
            }
            Goal::Thing(Target::Opening(id)) => {
                let by = job.openings.get(id).and_then(|o| o.shut_by);
                vec![by.and_then(part).into_iter().collect()]
            }
            Goal::Thing(Target::Inside(id)) => {
                let put = job.insides.get(id).map(|i| &i.put);
                let by = put.and_then(|p| p.hidden_by);
                let opening = put.and_then(|p| p.opening);
                let shut = opening.and_then(|o| job.openings.get(o)?.shut_by);
                vec![by.into_iter().chain(shut).filter_map(part).collect()]
            }
            Goal::Thing(_) => vec![Vec::new()],
        }
    }

    /// A fixing is got at as its parts are, save past what was still on when it
    /// was undone.
    fn sets_of_fixing(&self, fixing: &Fixing) -> Vec<Vec<Node>> {
        let own = self.firsts(&fixing.after);
        let over = |need: &&Need| match need.first {
            Target::Part(first) => {
                let first = self.job.parts.get(first);
                first.is_none_or(|f| f.opened < fixing.opened)
            }
            _ => true,
        };
        let mut sets = vec![own];
        for part in fixing.parts.iter().filter_map(|&p| self.job.parts.get(p)) {
            let mut more = Vec::new();
            for needs in [&part.after].into_iter().chain(&part.ways) {
                let first = needs.iter().filter(over);
                let first: Vec<Node> = first.filter_map(|n| self.first(n.first)).collect();
                for set in &sets {
                    more.push(set.iter().chain(&first).copied().collect());
                }
            }
            sets = more;
        }
        sets
    }

    /// What has to be off to get at everything; where `only` names a goal and
    /// one of its sets, by that set alone.
    pub fn ways(&self, only: Option<(Goal, usize)>) -> Ways {
        let mut ways = Ways::new(self.count());
        for (node, goal) in (0..).zip(self.goals()) {
            let mut sets = self.sets(goal);
            if let Some((_, one)) = only.filter(|&(of, _)| of == goal) {
                sets = sets.into_iter().skip(one).take(1).collect();
            }
            match sets.as_slice() {
                [set] => {
                    for &first in set {
                        let _ = ways.must(node, first);
                    }
                }
                sets => {
                    for set in sets {
                        let _ = ways.alternative(node, set);
                    }
                }
            }
        }
        ways
    }
}

/// What the procedure expects to come off.
pub fn planned_parts(job: &Job) -> &[PlannedPart] {
    job.procedure.as_ref().map_or(&[], |p| &p.parts)
}

/// The part that was taken off for a part of the procedure.
pub fn taken(job: &Job, key: &str) -> Option<PartId> {
    let mut parts = job.parts.iter();
    parts
        .find(|(_, p)| p.planned.as_deref() == Some(key))
        .map(|(id, _)| id)
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
