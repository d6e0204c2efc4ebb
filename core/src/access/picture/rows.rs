//! The rows of the drawing: the boxes, and where a line passes through a row
//! a stand-in that keeps its place. Lines from one box share their stand-ins
//! until they part.

use rustc_hash::FxHashMap;

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
    stand_in: FxHashMap<(Node, usize), Item>,
}

impl Rows {
    pub(super) fn new(graph: &Precedence, layer: &[u32], most_per_row: usize) -> Self {
        let nodes = graph.node_count();
        let mut rows: Vec<Vec<Item>> = Vec::new();
        let mut row = vec![0; nodes];
        // How far along its layer each box stands, from 0 to 1: boxes with
        // neighbours above in common come together before rows are cut.
        let mut along = vec![0.5f64; nodes];
        let depth = layer.iter().max().map_or(0, |&l| l as usize + 1);
        let mut layers: Vec<Vec<Item>> = vec![Vec::new(); depth];
        for (node, &at) in layer.iter().enumerate() {
            layers[at as usize].push(node);
        }
        for mut members in layers {
            let wish = |node: Item| {
                let (mut sum, mut count) = (0.0, 0.0);
                for (before, _) in graph.before(node as Node) {
                    sum += along[before as usize];
                    count += 1.0;
                }
                if count == 0.0 { 0.5 } else { sum / count }
            };
            members.sort_by(|&a, &b| wish(a).total_cmp(&wish(b)).then(a.cmp(&b)));
            for (at, &node) in members.iter().enumerate() {
                along[node] = (at as f64 + 0.5) / members.len() as f64;
            }
            let cuts = members.len().div_ceil(most_per_row).max(1);
            // Rows of one layer come out even, not full and then a rest.
            let size = members.len().div_ceil(cuts).max(1);
            for part in members.chunks(size) {
                for &node in part {
                    row[node] = rows.len();
                }
                rows.push(part.to_vec());
            }
        }
        let mut made = Self {
            nodes,
            row,
            rows,
            above: vec![Vec::new(); nodes],
            below: vec![Vec::new(); nodes],
            stand_in: FxHashMap::default(),
        };
        for node in 0..nodes as Node {
            let mut last = None;
            for (after, _) in graph.after(node) {
                // The same pair told twice is one line.
                if last.replace(after) != Some(after) {
                    made.link(node, after);
                }
            }
        }
        made
    }

    fn link(&mut self, from: Node, to: Node) {
        let mut at = from as Item;
        for row in self.row[from as usize] + 1..self.row[to as usize] {
            let next = match self.stand_in.get(&(from, row)) {
                Some(&item) => item,
                None => {
                    let item = self.row.len();
                    self.row.push(row);
                    self.above.push(vec![at]);
                    self.below.push(Vec::new());
                    self.below[at].push(item);
                    self.rows[row].push(item);
                    self.stand_in.insert((from, row), item);
                    item
                }
            };
            at = next;
        }
        self.below[at].push(to as Item);
        self.above[to as usize].push(at);
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
        (self.row[from as usize] + 1..self.row[to as usize])
            .filter_map(move |row| self.stand_in.get(&(from, row)).copied())
    }
}
