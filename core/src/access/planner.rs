//! The plan kept up to date: which nodes are done, what can go back now, what
//! blocks the rest, and what would be buried. One act costs what it touches;
//! the whole plan is one pass over the graph.

use super::graph::{Edge, GraphError, Node, Precedence, Why, gather};
use super::order::{Count, drain, ranks};
use super::rank_set::RankSet;

/// A precedence graph with its done marks.
#[derive(Clone, Debug)]
pub struct Planner {
    graph: Precedence,
    priority: Vec<u32>,
    rank: Vec<u32>,
    by_rank: Vec<Node>,
    done: Vec<bool>,
    /// Edges into each node whose earlier end is not done.
    waits: Vec<u32>,
    /// Edges from what is not done to what is done: none, and nothing is
    /// buried.
    skipped: usize,
    /// Ranks of the nodes that are not done and wait for nothing.
    ready: RankSet,
}

/// What is left to do, as one picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Plan {
    /// What can go back now, by priority.
    pub ready: Vec<Node>,
    /// Everything that is not done, in an allowed order by priority.
    pub order: Vec<Node>,
    /// Not done and part of, or held up by, a cycle: no order can serve it.
    pub stuck: Vec<Node>,
    /// Not done although something that must come after is done already.
    pub buried: Vec<Node>,
}

impl Planner {
    /// Nothing done yet. `priority` as in [`Precedence::order_by`].
    pub fn new(graph: Precedence, priority: &[u32]) -> Self {
        Self::with_done(graph, priority, &[])
    }

    /// As it stands when `done` are done; numbers outside the graph are left
    /// out.
    pub fn with_done(graph: Precedence, priority: &[u32], done: &[Node]) -> Self {
        let count = graph.node_count();
        let (rank, by_rank) = ranks(count, priority);
        let mut marks = vec![false; count];
        for &node in done {
            if let Some(mark) = marks.get_mut(node as usize) {
                *mark = true;
            }
        }
        let mut planner = Self {
            graph,
            priority: priority.to_vec(),
            rank,
            by_rank,
            done: marks,
            waits: Vec::new(),
            skipped: 0,
            ready: RankSet::new(count),
        };
        planner.count_anew();
        planner
    }

    fn count_anew(&mut self) {
        let count = self.graph.node_count();
        self.waits = vec![0; count];
        self.ready = RankSet::new(count);
        self.skipped = 0;
        for node in 0..count as Node {
            let open = self
                .graph
                .before
                .of(node)
                .iter()
                .filter(|&&b| !self.done[b as usize]);
            let open = open.count();
            self.waits[node as usize] = open as u32;
            if self.done[node as usize] {
                self.skipped += open;
            } else if open == 0 {
                self.ready.insert(self.rank[node as usize]);
            }
        }
    }

    pub fn graph(&self) -> &Precedence {
        &self.graph
    }

    pub fn is_done(&self, node: Node) -> bool {
        self.done.get(node as usize).copied().unwrap_or(false)
    }

    /// Marks `node` done; says whether that changed anything. Not refused
    /// when something before it is still owed: what was done was done, and
    /// `buried` tells.
    pub fn set_done(&mut self, node: Node) -> bool {
        if node as usize >= self.done.len() || self.done[node as usize] {
            return false;
        }
        self.done[node as usize] = true;
        self.skipped += self.waits[node as usize] as usize;
        self.ready.remove(self.rank[node as usize]);
        for &next in self.graph.after.of(node) {
            let wait = &mut self.waits[next as usize];
            *wait -= 1;
            if self.done[next as usize] {
                self.skipped -= 1;
            } else if *wait == 0 {
                self.ready.insert(self.rank[next as usize]);
            }
        }
        true
    }

    /// Takes a done mark back; says whether that changed anything.
    pub fn set_undone(&mut self, node: Node) -> bool {
        if !self.is_done(node) {
            return false;
        }
        self.done[node as usize] = false;
        self.skipped -= self.waits[node as usize] as usize;
        if self.waits[node as usize] == 0 {
            self.ready.insert(self.rank[node as usize]);
        }
        for &next in self.graph.after.of(node) {
            let wait = &mut self.waits[next as usize];
            *wait += 1;
            if self.done[next as usize] {
                self.skipped += 1;
            } else if *wait == 1 {
                self.ready.remove(self.rank[next as usize]);
            }
        }
        true
    }

    /// Adds constraints; a few go into their places, many build the graph anew.
    /// On an error nothing is changed. A cycle is not refused here; ask
    /// [`Precedence::path`] first to refuse it by name.
    pub fn add_edges(&mut self, more: &[Edge]) -> Result<(), GraphError> {
        self.graph.add_edges(more)?;
        for edge in more.iter().filter(|e| e.before != e.after) {
            if self.done[edge.before as usize] {
                continue;
            }
            self.waits[edge.after as usize] += 1;
            if self.done[edge.after as usize] {
                self.skipped += 1;
            } else {
                self.ready.remove(self.rank[edge.after as usize]);
            }
        }
        Ok(())
    }

    /// Makes room for `more` nodes that nothing constrains yet.
    pub fn add_nodes(&mut self, more: usize, priority: &[u32]) -> Result<(), GraphError> {
        let edges: Vec<Edge> = self.graph.edges().collect();
        let count = self.graph.node_count() + more;
        let graph = Precedence::new(count, &edges)?;
        self.priority.resize(self.graph.node_count(), 0);
        self.priority.extend_from_slice(priority);
        self.priority.resize(count, 0);
        self.graph = graph;
        (self.rank, self.by_rank) = ranks(count, &self.priority);
        self.done.resize(count, false);
        self.count_anew();
        Ok(())
    }

    /// What can go back now, by priority: not done, and nothing directly
    /// before it is owed.
    pub fn ready(&self) -> Vec<Node> {
        self.ready
            .iter()
            .map(|rank| self.by_rank[rank as usize])
            .collect()
    }

    pub fn is_ready(&self, node: Node) -> bool {
        self.rank
            .get(node as usize)
            .is_some_and(|&rank| self.ready.contains(rank))
    }

    /// What directly holds `node` back, with every reason told.
    pub fn blocked_by(&self, node: Node) -> Vec<(Node, Why)> {
        let mut by: Vec<_> = self
            .graph
            .before(node)
            .filter(|&(b, _)| !self.is_done(b))
            .collect();
        by.sort_unstable();
        by.dedup();
        by
    }

    /// What would be buried by doing `node` now: everything not done that
    /// must come before it, near or far, rising.
    pub fn would_bury(&self, node: Node) -> Vec<Node> {
        let mut owed = self.graph.all_before(node);
        owed.retain(|&x| x != node && !self.is_done(x));
        owed
    }

    /// What is buried already: not done, while something that must come
    /// after it is.
    pub fn buried(&self) -> Vec<Node> {
        if self.skipped == 0 {
            return Vec::new();
        }
        let done: Vec<Node> = (0..self.done.len() as Node)
            .filter(|&x| self.is_done(x))
            .collect();
        let mut owed = gather(&self.graph.before, self.graph.node_count(), &done, |_| true);
        owed.retain(|&x| !self.is_done(x));
        owed
    }

    /// The whole plan: one pass over the graph.
    pub fn plan(&self) -> Plan {
        let small: Vec<u8> = self.waits.iter().map(|&n| n.min(255) as u8).collect();
        let order = if small.contains(&255) {
            self.drained(self.waits.clone())
        } else {
            self.drained(small)
        };
        let open = self.done.iter().filter(|&&done| !done).count();
        let stuck = if order.len() == open {
            Vec::new()
        } else {
            self.left_by(&order)
        };
        Plan {
            ready: self.ready(),
            order,
            stuck,
            buried: self.buried(),
        }
    }

    fn drained<C: Count>(&self, mut waits: Vec<C>) -> Vec<Node> {
        drain(
            &self.graph,
            &mut waits,
            &mut self.ready.clone(),
            &self.rank,
            &self.by_rank,
            |x| !self.done[x as usize],
        )
    }

    /// What is not done and not in `order`.
    fn left_by(&self, order: &[Node]) -> Vec<Node> {
        let mut left: Vec<bool> = self.done.iter().map(|&done| !done).collect();
        for &node in order {
            left[node as usize] = false;
        }
        (0..left.len() as Node)
            .filter(|&x| left[x as usize])
            .collect()
    }
}
