//! Whole orders of a precedence graph: one deterministic order by a given
//! priority, and layers by the longest way from the start.

use super::cycle::Cycle;
use super::graph::{Node, Precedence};
use super::rank_set::RankSet;

/// Turns priorities (smaller first, equal ones by number) into a dense rank:
/// the rank of each node, and the node of each rank. Priorities that are not
/// given count as 0.
pub(super) fn ranks(count: usize, priority: &[u32]) -> (Vec<u32>, Vec<Node>) {
    let mut by_rank: Vec<Node> = (0..count as Node).collect();
    by_rank.sort_by_key(|&x| priority.get(x as usize).copied().unwrap_or(0));
    let mut rank = vec![0; count];
    for (at, &node) in by_rank.iter().enumerate() {
        rank[node as usize] = at as u32;
    }
    (rank, by_rank)
}

impl Precedence {
    /// How many edges lead into each node.
    pub(super) fn counts_before(&self) -> Vec<u32> {
        (0..self.node_count() as Node)
            .map(|x| self.before.of(x).len() as u32)
            .collect()
    }

    /// The allowed order that always takes the smallest number it may take.
    pub fn order(&self) -> Result<Vec<Node>, Cycle> {
        let mut waits = self.counts_before();
        let mut ready = RankSet::new(waits.len());
        for (node, &wait) in waits.iter().enumerate() {
            if wait == 0 {
                ready.insert(node as u32);
            }
        }
        let mut order = Vec::with_capacity(waits.len());
        while let Some(node) = ready.pop_first() {
            order.push(node);
            for &next in self.after.of(node) {
                let wait = &mut waits[next as usize];
                *wait -= 1;
                if *wait == 0 {
                    ready.insert(next);
                }
            }
        }
        self.whole(order)
    }

    /// The allowed order that always takes the smallest `priority` it may
    /// take, equal ones by number. Priorities not given count as 0.
    pub fn order_by(&self, priority: &[u32]) -> Result<Vec<Node>, Cycle> {
        let (rank, by_rank) = ranks(self.node_count(), priority);
        let mut waits = self.counts_before();
        let mut ready = RankSet::new(waits.len());
        for (node, &wait) in waits.iter().enumerate() {
            if wait == 0 {
                ready.insert(rank[node]);
            }
        }
        let order = drain(self, &mut waits, &mut ready, &rank, &by_rank, |_| true);
        self.whole(order)
    }

    /// For each node the length in edges of the longest way to it: 0 for what
    /// nothing precedes.
    pub fn levels(&self) -> Result<Vec<u32>, Cycle> {
        let order = self.order()?;
        let mut level = vec![0u32; self.node_count()];
        for node in order {
            let next_level = level[node as usize] + 1;
            for &next in self.after.of(node) {
                let held = &mut level[next as usize];
                *held = (*held).max(next_level);
            }
        }
        Ok(level)
    }

    /// The nodes by level, each layer rising.
    pub fn layers(&self) -> Result<Vec<Vec<Node>>, Cycle> {
        let levels = self.levels()?;
        let depth = levels.iter().max().map_or(0, |&l| l as usize + 1);
        let mut layers = vec![Vec::new(); depth];
        for (node, &level) in levels.iter().enumerate() {
            layers[level as usize].push(node as Node);
        }
        Ok(layers)
    }

    fn whole(&self, order: Vec<Node>) -> Result<Vec<Node>, Cycle> {
        if order.len() == self.node_count() {
            return Ok(order);
        }
        // Nodes are missing exactly when a cycle holds them back.
        match self.cycle() {
            Some(cycle) => Err(cycle),
            None => Ok(order),
        }
    }
}

/// How many things something waits for. Where all are small, small numbers keep
/// those of a large job in the nearest cache.
pub(super) trait Count: Copy + PartialEq + Default {
    fn less_one(self) -> Self;
}

impl Count for u8 {
    #[inline]
    fn less_one(self) -> Self {
        self.saturating_sub(1)
    }
}

impl Count for u32 {
    #[inline]
    fn less_one(self) -> Self {
        self.saturating_sub(1)
    }
}

/// Takes nodes by rank until none is ready; nodes that `counts` refuses are
/// never released.
pub(super) fn drain<C: Count>(
    graph: &Precedence,
    waits: &mut [C],
    ready: &mut RankSet,
    rank: &[u32],
    by_rank: &[Node],
    counts: impl Fn(Node) -> bool,
) -> Vec<Node> {
    let mut order = Vec::with_capacity(waits.len());
    while let Some(first) = ready.pop_first() {
        let node = by_rank[first as usize];
        order.push(node);
        for &next in graph.after.of(node) {
            let wait = &mut waits[next as usize];
            *wait = wait.less_one();
            if *wait == C::default() && counts(next) {
                ready.insert(rank[next as usize]);
            }
        }
    }
    order
}
