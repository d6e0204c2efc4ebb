//! What has to be off to get at each thing of a job, as recorded, as noted
//! since and as its procedure knows, as [`Ways`].
use super::Node;
use super::from_job::{Goal, Laid, planned_connection, planned_parts};
use super::ways::Ways;
use crate::job::{Fixing, Part};
use crate::journal::*;
use crate::procedure::PlannedPart;

impl<'a> Laid<'a> {
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

    fn noted(&self, recorded: Vec<Node>, ways: &[Vec<Need>]) -> Vec<Vec<Node>> {
        let ways = ways.iter().map(|way| self.firsts(way));
        [recorded].into_iter().chain(ways).collect()
    }

    /// What the keys of the procedure stand for.
    fn keyed(&self, keys: &[String]) -> Vec<Node> {
        let goals = keys.iter().filter_map(|key| self.keys.get(key.as_str()));
        goals.filter_map(|&goal| self.node(goal)).collect()
    }

    fn planned_sets(&self, after: &[String], ways: &[Vec<String>]) -> Vec<Vec<Node>> {
        let ways = ways.iter().map(|way| self.keyed(way));
        [self.keyed(after)].into_iter().chain(ways).collect()
    }

    /// What the procedure expected of a part that was taken off for it.
    fn plan_of(&self, part: &Part) -> Option<&'a PlannedPart> {
        self.plans.get(part.planned.as_deref()?).copied()
    }

    /// The sets of things of which any one has to be off to get at `goal`.
    pub fn sets(&self, goal: Goal) -> Vec<Vec<Node>> {
        let job = self.job;
        let part = |id: PartId| self.node(Goal::Thing(Target::Part(id)));
        match goal {
            Goal::Planned(n) => match planned_parts(job).get(n as usize) {
                Some(it) => self.planned_sets(&it.after, &it.ways),
                None => vec![Vec::new()],
            },
            Goal::PlannedConnection(of, n) => match planned_connection(job, of, n) {
                // Where nothing is said of it, it is got at as its part is.
                Some(it) if it.after.is_empty() => {
                    let mut sets = self.sets(Goal::Planned(of));
                    sets.extend(it.ways.iter().map(|way| self.keyed(way)));
                    sets
                }
                Some(it) => self.planned_sets(&it.after, &it.ways),
                None => vec![Vec::new()],
            },
            Goal::Thing(Target::Part(id)) => {
                // The way it was taken off is one; any noted since are others,
                // and so are those that its procedure knows.
                let Some(it) = job.parts.get(id) else {
                    return vec![Vec::new()];
                };
                let mut sets = self.noted(self.firsts(&it.after), &it.ways);
                for way in self.plan_of(it).into_iter().flat_map(|p| &p.ways) {
                    let way = self.keyed(way);
                    if !sets.contains(&way) {
                        sets.push(way);
                    }
                }
                sets
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
                self.noted(first, &it.ways)
            }
            Goal::Thing(Target::Opening(id)) => {
                let Some(it) = job.openings.get(id) else {
                    return vec![Vec::new()];
                };
                let by = it.shut_by.and_then(part);
                self.noted(by.into_iter().collect(), &it.ways)
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
            if !matches!(goal, Goal::Thing(Target::Part(_)) | Goal::Planned(_)) {
                ways.small(node);
            }
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
