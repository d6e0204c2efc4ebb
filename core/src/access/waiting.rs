//! What waits, and for what: deliveries, decisions, curing and checks, each
//! holding back exactly the things it is set on and what must come after
//! them. Says what can be done now, and what each outstanding wait holds up.

use rustc_hash::FxHashMap;

use super::graph::{Node, gather};
use super::planner::Planner;

/// Something outstanding that a thing waits for; the numbers are the caller's.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Gate {
    Delivery(u32),
    Decision(u32),
    /// Over once the time has come, whether or not anybody was looking.
    /// Milliseconds on the same clock as `now_ms`.
    Cure {
        id: u32,
        until_ms: i64,
    },
    /// A look by another person.
    Check(u32),
}

impl Gate {
    /// Whether it still holds at `now_ms`. Only a cure ends by itself; the
    /// others are simply no longer told once they are settled.
    pub fn holds(self, now_ms: i64) -> bool {
        match self {
            Gate::Cure { until_ms, .. } => now_ms < until_ms,
            Gate::Delivery(_) | Gate::Decision(_) | Gate::Check(_) => true,
        }
    }
}

/// A thing that waits.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Waits {
    pub node: Node,
    pub gates: Vec<Gate>,
    /// Whether nothing but its gates holds it back.
    pub else_ready: bool,
}

/// A thing that could be reached, but would lie on something still owed and
/// would have to come off again.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WouldBury {
    pub node: Node,
    pub owed: Vec<Node>,
}

/// One outstanding gate and what it holds up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Held {
    pub gate: Gate,
    /// Everything not done that it is set on or that must come after that.
    pub nodes: Vec<Node>,
    pub minutes: u64,
    /// Of these, what nothing else outstanding holds up.
    pub by_it_alone: Vec<Node>,
    pub minutes_alone: u64,
}

/// What can be done now, what waits, and what the waits cost.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Outlook {
    /// By the planner's priority.
    pub now: Vec<Node>,
    pub waiting: Vec<Waits>,
    pub would_bury: Vec<WouldBury>,
    /// The gate that holds up most first: by minutes, then by count, then by
    /// what it alone holds up.
    pub holds: Vec<Held>,
    /// When the next cure ends.
    pub next_cure_ms: Option<i64>,
}

/// Which things wait for what.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Waiting {
    set: Vec<(Node, Gate)>,
}

impl Waiting {
    pub fn new() -> Self {
        Self::default()
    }

    /// Sets `gate` on `node`: it cannot be done while the gate holds.
    pub fn hold(&mut self, node: Node, gate: Gate) {
        self.set.push((node, gate));
    }

    /// Everything the waits mean at `now_ms`. `minutes` per node, those not
    /// given count as 0; gates on done nodes hold nothing.
    pub fn outlook(&self, planner: &Planner, minutes: &[u32], now_ms: i64) -> Outlook {
        let count = planner.graph().node_count();
        let mut on: Vec<(Node, Gate)> = self.set.clone();
        on.retain(|&(node, gate)| {
            (node as usize) < count && !planner.is_done(node) && gate.holds(now_ms)
        });
        on.sort_unstable();
        on.dedup();
        let mut waiting: Vec<Waits> = Vec::new();
        for &(node, gate) in &on {
            match waiting.last_mut() {
                Some(last) if last.node == node => last.gates.push(gate),
                _ => {
                    let else_ready = planner.is_ready(node);
                    waiting.push(Waits {
                        node,
                        gates: vec![gate],
                        else_ready,
                    });
                }
            }
        }
        let open: Vec<Node> = (0..count as Node)
            .filter(|&x| !planner.is_done(x))
            .collect();
        // Behind something open, although what is directly before it is done.
        let behind = gather(&planner.graph().after, count, &open, |_| true);
        let is_waiting = |node: Node| waiting.binary_search_by_key(&node, |w| w.node).is_ok();
        let mut now = Vec::new();
        let mut would_bury = Vec::new();
        for node in planner.ready() {
            if behind.binary_search(&node).is_ok() {
                would_bury.push(WouldBury {
                    node,
                    owed: planner.would_bury(node),
                });
            } else if !is_waiting(node) {
                now.push(node);
            }
        }
        for waits in &mut waiting {
            waits.else_ready &= behind.binary_search(&waits.node).is_err();
        }
        let cure_end = |&(_, gate): &(Node, Gate)| match gate {
            Gate::Cure { until_ms, .. } => Some(until_ms),
            _ => None,
        };
        Outlook {
            now,
            next_cure_ms: on.iter().filter_map(cure_end).min(),
            holds: held(planner, &on, minutes),
            waiting,
            would_bury,
        }
    }
}

fn held(planner: &Planner, on: &[(Node, Gate)], minutes: &[u32]) -> Vec<Held> {
    let count = planner.graph().node_count();
    let mut set_on: FxHashMap<Gate, Vec<Node>> = FxHashMap::default();
    for &(node, gate) in on {
        set_on.entry(gate).or_default().push(node);
    }
    let mut gates_on = vec![0u32; count];
    let mut holds: Vec<Held> = Vec::new();
    for (gate, set) in set_on {
        let mut nodes = gather(&planner.graph().after, count, &set, |_| true);
        nodes.extend_from_slice(&set);
        nodes.sort_unstable();
        nodes.dedup();
        nodes.retain(|&x| !planner.is_done(x));
        for &node in &nodes {
            gates_on[node as usize] += 1;
        }
        holds.push(Held {
            gate,
            nodes,
            minutes: 0,
            by_it_alone: Vec::new(),
            minutes_alone: 0,
        });
    }
    let sum = |nodes: &[Node]| {
        let of = |&x: &Node| u64::from(minutes.get(x as usize).copied().unwrap_or(0));
        nodes.iter().map(of).sum()
    };
    for held in &mut holds {
        let alone = held
            .nodes
            .iter()
            .copied()
            .filter(|&x| gates_on[x as usize] == 1);
        held.by_it_alone = alone.collect();
        held.minutes = sum(&held.nodes);
        held.minutes_alone = sum(&held.by_it_alone);
    }
    holds.sort_by(|a, b| {
        let value = |h: &Held| {
            (
                h.minutes,
                h.nodes.len(),
                h.minutes_alone,
                h.by_it_alone.len(),
            )
        };
        value(b).cmp(&value(a)).then(a.gate.cmp(&b.gate))
    });
    holds
}
