//! The rows of the drawing: the boxes, and where a line passes through a row
//! a stand-in that keeps its place. Lines from one box share their stand-ins
//! until they part, or lines to one box from where they meet, whichever makes
//! fewer of them.

use rustc_hash::{FxHashMap, FxHashSet};

use super::super::graph::{Node, Precedence};

/// A box (below the number of nodes) or a stand-in.
pub(super) type Item = usize;

#[derive(Clone, Debug)]
pub(super) struct Rows {
    nodes: usize,
    row: Vec<usize>,
    /// The items of each row from left to right.
    pub(super) rows: Vec<Vec<Item>>,
    /// Neighbours in the row above, and below.
    pub(super) above: Vec<Vec<Item>>,
    pub(super) below: Vec<Vec<Item>>,
    /// By the end that lines share, and the row.
    stand_in: FxHashMap<(Node, usize), Item>,
    shared_below: bool,
}

impl Rows {
    /// `level` is the longest way to each node.
    pub(super) fn new(graph: &Precedence, level: &[u32], most_per_row: usize) -> Self {
        let nodes = graph.node_count();
        let row = assign(graph, level, most_per_row);
        let depth = row.iter().max().map_or(0, |&r| r + 1);
        let mut rows: Vec<Vec<Item>> = vec![Vec::new(); depth];
        for (node, &at) in row.iter().enumerate() {
            rows[at].push(node);
        }
        let mut lines: Vec<(Node, Node)> = graph.edges().map(|e| (e.before, e.after)).collect();
        // The same pair told twice is one line.
        lines.dedup();
        let mut made = Self {
            nodes,
            shared_below: sharing_below_is_less(&row, &lines),
            row,
            rows,
            above: vec![Vec::new(); nodes],
            below: vec![Vec::new(); nodes],
            stand_in: FxHashMap::default(),
        };
        for (from, to) in lines {
            made.line(from, to);
        }
        made
    }

    fn line(&mut self, from: Node, to: Node) {
        let mut at = from as Item;
        for row in self.row[from as usize] + 1..self.row[to as usize] {
            let key = (if self.shared_below { to } else { from }, row);
            let item = match self.stand_in.get(&key) {
                Some(&item) => item,
                None => {
                    let item = self.row.len();
                    self.row.push(row);
                    self.above.push(Vec::new());
                    self.below.push(Vec::new());
                    self.rows[row].push(item);
                    self.stand_in.insert(key, item);
                    item
                }
            };
            self.link(at, item);
            at = item;
        }
        self.link(at, to as Item);
    }

    fn link(&mut self, upper: Item, lower: Item) {
        if !self.below[upper].contains(&lower) {
            self.below[upper].push(lower);
            self.above[lower].push(upper);
        }
    }

    pub(super) fn count(&self) -> usize {
        self.rows.len()
    }

    pub(super) fn items(&self) -> usize {
        self.row.len()
    }

    pub(super) fn row_of(&self, item: Item) -> usize {
        self.row[item]
    }

    pub(super) fn is_box(&self, item: Item) -> bool {
        item < self.nodes
    }

    /// The stand-ins that a line passes on its way down.
    pub(super) fn between(&self, from: Node, to: Node) -> impl Iterator<Item = Item> + '_ {
        (self.row[from as usize] + 1..self.row[to as usize]).filter_map(move |row| {
            let end = if self.shared_below { to } else { from };
            self.stand_in.get(&(end, row)).copied()
        })
    }
}

fn sharing_below_is_less(row: &[usize], lines: &[(Node, Node)]) -> bool {
    let (mut by_upper, mut by_lower) = (FxHashSet::default(), FxHashSet::default());
    for &(from, to) in lines {
        for passed in row[from as usize] + 1..row[to as usize] {
            by_upper.insert((from, passed));
            by_lower.insert((to, passed));
        }
    }
    by_lower.len() < by_upper.len()
}

/// The row of each node, filled from the last upwards: one place for the node
/// with the longest way to it, so that the drawing gets no taller than it
/// must, the others for those with the least before them, so that few lines
/// are under way at a time.
fn assign(graph: &Precedence, level: &[u32], most_per_row: usize) -> Vec<usize> {
    let nodes = graph.node_count();
    let mut by_level: Vec<Node> = (0..nodes as Node).collect();
    by_level.sort_by_key(|&x| level[x as usize]);
    let mut size = vec![1u32; nodes];
    for &node in &by_level {
        let all = graph
            .before
            .of(node)
            .iter()
            .fold(1u32, |sum, &b| sum.saturating_add(size[b as usize]));
        size[node as usize] = all;
    }
    let mut waits: Vec<usize> = (0..nodes as Node)
        .map(|x| graph.after.of(x).len())
        .collect();
    // Ready nodes, the longest waiting first.
    let mut ready: Vec<Node> = (0..nodes as Node)
        .filter(|&x| waits[x as usize] == 0)
        .collect();
    let mut from_below = vec![0usize; nodes];
    let mut filled = 0;
    while !ready.is_empty() {
        let mut row = Vec::new();
        while row.len() < most_per_row && !ready.is_empty() {
            let places = 0..ready.len();
            let pick = if row.is_empty() {
                places.min_by_key(|&i| std::cmp::Reverse(level[ready[i] as usize]))
            } else {
                places.min_by_key(|&i| size[ready[i] as usize])
            };
            row.push(ready.remove(pick.unwrap_or(0)));
        }
        for node in row {
            from_below[node as usize] = filled;
            for &before in graph.before.of(node) {
                waits[before as usize] -= 1;
                if waits[before as usize] == 0 {
                    ready.push(before);
                }
            }
        }
        filled += 1;
    }
    from_below.iter().map(|&r| filled - 1 - r).collect()
}
