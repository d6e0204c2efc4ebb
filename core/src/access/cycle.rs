//! Cycles: an order that contradicts itself, named by the nodes on it, so
//! that a person can see which of the told constraints cannot all be true.

use std::collections::VecDeque;

use super::graph::{Node, Precedence};

/// Nodes that each must precede the next, and the last the first. Begins
/// with the smallest number on it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cycle {
    pub nodes: Vec<Node>,
}

impl Precedence {
    /// A cycle, if there is one: no cycle through the node it was found at is
    /// shorter. The same graph always names the same cycle.
    pub fn cycle(&self) -> Option<Cycle> {
        let mut waits = self.counts_before();
        let mut open: Vec<Node> = (0..waits.len() as Node)
            .filter(|&x| waits[x as usize] == 0)
            .collect();
        while let Some(node) = open.pop() {
            for &next in self.after.of(node) {
                waits[next as usize] -= 1;
                if waits[next as usize] == 0 {
                    open.push(next);
                }
            }
        }
        // Every node that still waits has one before it that waits too, so
        // walking back must come round.
        let mut node = (0..waits.len() as Node).find(|&x| waits[x as usize] > 0)?;
        let mut walked = vec![false; waits.len()];
        while !walked[node as usize] {
            walked[node as usize] = true;
            node = *self
                .before
                .of(node)
                .iter()
                .find(|&&b| waits[b as usize] > 0)?;
        }
        let mut nodes = self.path(node, node)?;
        nodes.pop();
        let least = (0..nodes.len()).min_by_key(|&i| nodes[i])?;
        nodes.rotate_left(least);
        Some(Cycle { nodes })
    }

    /// A shortest way of at least one edge from `from` to `to`, both named.
    /// Asked before an edge `to` -> `from` is added, it names the cycle that
    /// the new edge would close.
    pub fn path(&self, from: Node, to: Node) -> Option<Vec<Node>> {
        let count = self.node_count();
        if from as usize >= count || to as usize >= count {
            return None;
        }
        let mut came_from: Vec<Option<Node>> = vec![None; count];
        let mut open = VecDeque::from([from]);
        while let Some(node) = open.pop_front() {
            for &next in self.after.of(node) {
                if came_from[next as usize].is_some() {
                    continue;
                }
                came_from[next as usize] = Some(node);
                if next == to {
                    return Some(walk_back(&came_from, from, to));
                }
                open.push_back(next);
            }
        }
        None
    }
}

fn walk_back(came_from: &[Option<Node>], from: Node, to: Node) -> Vec<Node> {
    let mut way = vec![to];
    let mut node = to;
    while let Some(back) = came_from[node as usize] {
        way.push(back);
        if back == from {
            break;
        }
        node = back;
    }
    way.reverse();
    way
}
