//! The precedence graph itself: nodes by number, edges from what goes back
//! first to what goes back after it, each with its reason, kept both ways
//! round in flat arrays. Orders, cycles and planning live beside it.

use std::ops::Range;

/// A thing that takes part in the order, by its dense number from 0.
pub type Node = u32;

/// Why one thing must go back before another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[repr(u8)]
pub enum Why {
    /// The later one bars hand or tool from the earlier one.
    BlocksReach,
    /// The later one is fastened to the earlier one.
    Attached,
    /// Both are held by one fixing.
    SharesFixing,
    /// The later one is carried or held up by the earlier one.
    Supports,
    /// A hose, pipe or cable runs behind or through the later one.
    Routed,
    /// Said by the person or the procedure, with no other reason given.
    Stated,
}

/// One constraint: `before` must be back before `after`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Edge {
    pub before: Node,
    pub after: Node,
    pub why: Why,
}

impl Edge {
    pub fn new(before: Node, after: Node, why: Why) -> Self {
        Self { before, after, why }
    }
}

/// Why a graph could not be built.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GraphError {
    /// An edge names a node that is not among the `count` nodes.
    NodeOutOfRange { node: Node, count: usize },
    /// More nodes or edges than 32-bit numbers can tell apart.
    TooLarge { nodes: usize, edges: usize },
}

/// Half of the adjacency: for each node a slice of neighbours with reasons.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Side {
    /// One more entry than nodes; the neighbours of x are at start[x]..start[x+1].
    start: Vec<u32>,
    nodes: Vec<Node>,
    whys: Vec<Why>,
}

impl Side {
    /// Counting sort of `edges` (from, to, why) by `from`; the order within
    /// one node is the order of the input.
    fn sorted(count: usize, edges: impl Iterator<Item = (Node, Node, Why)> + Clone) -> Self {
        let mut start = vec![0u32; count + 1];
        for (from, _, _) in edges.clone() {
            start[from as usize + 1] += 1;
        }
        for i in 0..count {
            start[i + 1] += start[i];
        }
        let total = start[count] as usize;
        let mut fill = start.clone();
        let mut nodes = vec![0; total];
        let mut whys = vec![Why::Stated; total];
        for (from, to, why) in edges {
            let at = &mut fill[from as usize];
            nodes[*at as usize] = to;
            whys[*at as usize] = why;
            *at += 1;
        }
        Self { start, nodes, whys }
    }

    /// Puts the reasons of one pair in order, the neighbours being so already.
    fn sort_reasons(&mut self) {
        for x in 1..self.start.len() {
            for i in self.start[x - 1] as usize + 1..self.start[x] as usize {
                let mut at = i;
                while at > self.start[x - 1] as usize
                    && self.nodes[at - 1] == self.nodes[at]
                    && self.whys[at - 1] > self.whys[at]
                {
                    self.whys.swap(at - 1, at);
                    at -= 1;
                }
            }
        }
    }

    /// With `more`, which is sorted, in its places: one pass without jumps.
    fn merged(&self, more: &[(Node, Node, Why)]) -> Self {
        let total = self.nodes.len() + more.len();
        let mut merged = Self {
            start: Vec::with_capacity(self.start.len()),
            nodes: Vec::with_capacity(total),
            whys: Vec::with_capacity(total),
        };
        merged.start.push(0);
        let mut rest = more;
        for x in 1..self.start.len() {
            let (mut at, to) = (self.start[x - 1] as usize, self.start[x] as usize);
            while let [(from, node, why), later @ ..] = rest
                && *from as usize == x - 1
            {
                let before = (at..to)
                    .take_while(|&i| (self.nodes[i], self.whys[i]) <= (*node, *why))
                    .count();
                merged.copy(self, at..at + before);
                at += before;
                merged.nodes.push(*node);
                merged.whys.push(*why);
                rest = later;
            }
            merged.copy(self, at..to);
            merged.start.push(merged.nodes.len() as u32);
        }
        merged
    }

    /// Puts one more in its place: moves what comes after it.
    fn put(&mut self, from: Node, to: Node, why: Why) {
        let span = self.span(from);
        let before = span
            .clone()
            .take_while(|&i| (self.nodes[i], self.whys[i]) <= (to, why))
            .count();
        self.nodes.insert(span.start + before, to);
        self.whys.insert(span.start + before, why);
        for start in &mut self.start[from as usize + 1..] {
            *start += 1;
        }
    }

    fn copy(&mut self, other: &Self, span: Range<usize>) {
        self.nodes.extend_from_slice(&other.nodes[span.clone()]);
        self.whys.extend_from_slice(&other.whys[span]);
    }

    fn span(&self, node: Node) -> Range<usize> {
        match (
            self.start.get(node as usize),
            self.start.get(node as usize + 1),
        ) {
            (Some(&from), Some(&to)) => from as usize..to as usize,
            _ => 0..0,
        }
    }

    #[inline]
    pub(super) fn of(&self, node: Node) -> &[Node] {
        &self.nodes[self.span(node)]
    }

    fn with_why(&self, node: Node) -> impl Iterator<Item = (Node, Why)> + '_ {
        self.span(node).map(|i| (self.nodes[i], self.whys[i]))
    }

    fn all(&self) -> impl Iterator<Item = (Node, Node, Why)> + Clone + '_ {
        (0..self.start.len().saturating_sub(1) as Node).flat_map(move |from| {
            self.span(from)
                .map(move |i| (from, self.nodes[i], self.whys[i]))
        })
    }
}

/// The graph. Fixed once built; adding edges gives a new one, in one pass.
///
/// ```
/// use countback_core::access::{Edge, Precedence, Why};
/// let graph = Precedence::new(3, &[
///     Edge::new(0, 1, Why::BlocksReach),
///     Edge::new(1, 2, Why::Attached),
/// ])?;
/// assert_eq!(graph.all_before(2), [0, 1]);
/// assert_eq!(graph.all_after(0), [1, 2]);
/// # Ok::<(), countback_core::access::GraphError>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Precedence {
    count: usize,
    pub(super) after: Side,
    pub(super) before: Side,
}

impl Precedence {
    /// Builds the graph of `count` nodes. A node said to come before itself
    /// is left out: it says nothing about the order. The same pair may come
    /// with several reasons.
    pub fn new(count: usize, edges: &[Edge]) -> Result<Self, GraphError> {
        check(count, edges.len(), edges)?;
        let told = edges.iter().filter(|e| e.before != e.after);
        // Sorting one side from the other leaves both with rising neighbours,
        // so that the order in which edges were told makes no difference.
        let loose = Side::sorted(count, told.map(|e| (e.after, e.before, e.why)));
        let mut after = Side::sorted(count, loose.all().map(|(a, b, why)| (b, a, why)));
        after.sort_reasons();
        let before = Side::sorted(count, after.all().map(|(b, a, why)| (a, b, why)));
        Ok(Self {
            count,
            after,
            before,
        })
    }

    /// The same graph with `more` constraints, in one pass over it.
    pub fn with_edges(&self, more: &[Edge]) -> Result<Self, GraphError> {
        check(self.count, self.edge_count() + more.len(), more)?;
        let told = more.iter().filter(|e| e.before != e.after);
        let mut after: Vec<_> = told.map(|e| (e.before, e.after, e.why)).collect();
        let mut before: Vec<_> = after.iter().map(|&(b, a, why)| (a, b, why)).collect();
        after.sort_unstable();
        before.sort_unstable();
        Ok(Self {
            count: self.count,
            after: self.after.merged(&after),
            before: self.before.merged(&before),
        })
    }

    /// Adds `more` constraints: a few in their places, many in one pass.
    pub fn add_edges(&mut self, more: &[Edge]) -> Result<(), GraphError> {
        const FEW: usize = 8;
        if more.len() > FEW {
            *self = self.with_edges(more)?;
            return Ok(());
        }
        check(self.count, self.edge_count() + more.len(), more)?;
        for edge in more.iter().filter(|e| e.before != e.after) {
            self.after.put(edge.before, edge.after, edge.why);
            self.before.put(edge.after, edge.before, edge.why);
        }
        Ok(())
    }

    pub fn node_count(&self) -> usize {
        self.count
    }

    pub fn edge_count(&self) -> usize {
        self.after.nodes.len()
    }

    /// All edges, by `before`, then by `after`.
    pub fn edges(&self) -> impl Iterator<Item = Edge> + '_ {
        self.after
            .all()
            .map(|(before, after, why)| Edge { before, after, why })
    }

    /// What must directly precede `node`, rising; a node told with several
    /// reasons comes once for each.
    pub fn before(&self, node: Node) -> impl Iterator<Item = (Node, Why)> + '_ {
        self.before.with_why(node)
    }

    /// What `node` directly precedes, rising.
    pub fn after(&self, node: Node) -> impl Iterator<Item = (Node, Why)> + '_ {
        self.after.with_why(node)
    }

    /// Everything that must precede `node`, directly or through others,
    /// rising. A node on a cycle is among those before itself.
    pub fn all_before(&self, node: Node) -> Vec<Node> {
        gather(&self.before, self.count, &[node], |_| true)
    }

    /// Everything that `node` holds up, directly or through others, rising.
    pub fn all_after(&self, node: Node) -> Vec<Node> {
        gather(&self.after, self.count, &[node], |_| true)
    }

    /// The same things with every edge turned round: the order of taking off.
    pub fn reversed(&self) -> Self {
        Self {
            count: self.count,
            after: self.before.clone(),
            before: self.after.clone(),
        }
    }

    /// The first edge that `order` breaks, if any; nodes it leaves out do not
    /// count.
    pub fn first_broken(&self, order: &[Node]) -> Option<Edge> {
        let mut place = vec![u32::MAX; self.count];
        for (at, &node) in order.iter().enumerate() {
            if let Some(slot) = place.get_mut(node as usize) {
                *slot = at as u32;
            }
        }
        let at = |node: Node| place[node as usize];
        self.edges().find(|e| {
            at(e.before) != u32::MAX && at(e.after) != u32::MAX && at(e.before) > at(e.after)
        })
    }
}

fn check(count: usize, total: usize, edges: &[Edge]) -> Result<(), GraphError> {
    if count >= u32::MAX as usize || total >= u32::MAX as usize {
        return Err(GraphError::TooLarge {
            nodes: count,
            edges: total,
        });
    }
    let outside = edges
        .iter()
        .flat_map(|e| [e.before, e.after])
        .find(|&x| x as usize >= count);
    match outside {
        Some(node) => Err(GraphError::NodeOutOfRange { node, count }),
        None => Ok(()),
    }
}

/// Everything reached from `from` along `side` by at least one edge, rising;
/// the walk goes on through a node only where `through` says so.
pub(super) fn gather(
    side: &Side,
    count: usize,
    from: &[Node],
    through: impl Fn(Node) -> bool,
) -> Vec<Node> {
    let mut seen = vec![false; count];
    let mut found = Vec::new();
    let mut open: Vec<Node> = from.to_vec();
    while let Some(node) = open.pop() {
        for &next in side.of(node) {
            if !seen[next as usize] {
                seen[next as usize] = true;
                found.push(next);
                if through(next) {
                    open.push(next);
                }
            }
        }
    }
    // Many are found sooner by looking at all in turn.
    if found.len() > count / 16 {
        return (0..count as Node).filter(|&x| seen[x as usize]).collect();
    }
    found.sort_unstable();
    found
}
