//! The cost of a miss: what would have to come off again to settle something
//! that was forgotten, by the cheapest way in, and what putting one more
//! thing on would make of it.

use super::graph::Node;
use super::ways::{Measure, Ways, WaysError, Weight};

/// What taking one thing off and putting it back again takes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Again {
    /// 1 for a part, 0 for what is none: a hose end, a plug, a cover.
    pub parts: u32,
    pub fasteners: u32,
    /// Both ways, in minutes.
    pub minutes: u32,
}

/// What it takes to settle one thing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Miss {
    pub owed: Node,
    /// What comes off again, in an order that works.
    pub off_again: Vec<Node>,
    pub parts: u64,
    pub fasteners: u64,
    pub minutes: u64,
    /// Whether this is proven to be the cheapest way.
    pub exact: bool,
}

/// Debts by what they would cost.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Ranked {
    /// The dearest first: by minutes, then parts, then fasteners.
    pub dearest_first: Vec<Miss>,
    /// What no told way leads to.
    pub no_way: Vec<(Node, WaysError)>,
}

/// What putting `placing` on would make of something owed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dearer {
    pub now: Miss,
    pub then: Miss,
}

/// The job as the cost of a miss sees it.
#[derive(Clone, Copy, Debug)]
pub struct Misses<'a> {
    /// How things are got at, in the direction of taking off.
    pub ways: &'a Ways,
    /// What is in place; what is not given is not.
    pub in_place: &'a [bool],
    /// What is not given takes nothing.
    pub again: &'a [Again],
}

impl Misses<'_> {
    /// What it takes to settle `owed` as things stand: the way of least
    /// minutes, of equals the one with the fewest parts and fasteners.
    pub fn cost(&self, owed: Node) -> Result<Miss, WaysError> {
        self.cost_with(owed, &self.off(None), &self.weights())
    }

    /// What it would take once `placing` is on as well.
    pub fn cost_after(&self, owed: Node, placing: Node) -> Result<Miss, WaysError> {
        self.cost_with(owed, &self.off(Some(placing)), &self.weights())
    }

    /// All of `owed`, dearest first.
    pub fn rank(&self, owed: &[Node]) -> Ranked {
        let mut ranked = Ranked::default();
        let (off, weights) = (self.off(None), self.weights());
        for &node in owed {
            match self.cost_with(node, &off, &weights) {
                Ok(miss) => ranked.dearest_first.push(miss),
                Err(error) => ranked.no_way.push((node, error)),
            }
        }
        ranked
            .dearest_first
            .sort_by(|a, b| value(b).cmp(&value(a)).then(a.owed.cmp(&b.owed)));
        ranked
    }

    /// What of `owed` would become dearer to settle by putting `placing` on:
    /// what to say before it goes on. The dearest first. What no told way
    /// leads to is left out; `rank` names it.
    pub fn made_dearer(&self, placing: Node, owed: &[Node]) -> Vec<Dearer> {
        let leads = self.needing(placing);
        let (off, weights) = (self.off(None), self.weights());
        let off_then = self.off(Some(placing));
        let mut dearer = Vec::new();
        for &node in owed {
            if node == placing || !leads.get(node as usize).copied().unwrap_or(false) {
                continue;
            }
            if let (Ok(now), Ok(then)) = (
                self.cost_with(node, &off, &weights),
                self.cost_with(node, &off_then, &weights),
            ) && value(&then) > value(&now)
            {
                dearer.push(Dearer { now, then });
            }
        }
        dearer.sort_by(|a, b| {
            value(&b.then)
                .cmp(&value(&a.then))
                .then(a.now.owed.cmp(&b.now.owed))
        });
        dearer
    }

    /// Which things some way leads to through `node`.
    fn needing(&self, node: Node) -> Vec<bool> {
        let count = self.ways.node_count();
        let mut askers: Vec<Vec<Node>> = vec![Vec::new(); count];
        for asker in 0..count as Node {
            for need in self.ways.ways_to(asker).into_iter().flatten() {
                askers[need as usize].push(asker);
            }
        }
        let mut leads = vec![false; count];
        let mut open = vec![node];
        while let Some(need) = open.pop() {
            for &asker in askers.get(need as usize).into_iter().flatten() {
                if !std::mem::replace(&mut leads[asker as usize], true) {
                    open.push(asker);
                }
            }
        }
        leads
    }

    fn again(&self, node: Node) -> Again {
        self.again.get(node as usize).copied().unwrap_or_default()
    }

    fn cost_with(&self, owed: Node, off: &[bool], weights: &[Weight]) -> Result<Miss, WaysError> {
        let way = self.ways.least_work(owed, off, weights, Measure::Minutes)?;
        let sum = |of: fn(Again) -> u32| {
            way.take_off
                .iter()
                .map(|&x| u64::from(of(self.again(x))))
                .sum()
        };
        Ok(Miss {
            owed,
            parts: sum(|a| a.parts),
            fasteners: sum(|a| a.fasteners),
            minutes: sum(|a| a.minutes),
            exact: way.exact,
            off_again: way.take_off,
        })
    }

    /// What is off once `placing`, if any, is on as well.
    fn off(&self, placing: Option<Node>) -> Vec<bool> {
        let on = |x: Node| self.in_place.get(x as usize).copied().unwrap_or(false);
        (0..self.ways.node_count() as Node)
            .map(|x| !on(x) && placing != Some(x))
            .collect()
    }

    fn weights(&self) -> Vec<Weight> {
        let weight = |again: Again| Weight {
            acts: again.parts.saturating_add(again.fasteners),
            minutes: again.minutes,
        };
        (0..self.ways.node_count() as Node)
            .map(|x| weight(self.again(x)))
            .collect()
    }
}

fn value(miss: &Miss) -> (u64, u64, u64) {
    (miss.minutes, miss.parts, miss.fasteners)
}
