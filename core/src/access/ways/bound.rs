//! Bounds for the search. From below: cuts, sets of things of which every way
//! must take one; paying each cut its cheapest member and lowering the prices
//! by as much gives a floor that sharing cannot undercut (the landmark-cut
//! bound of delete-free planning, Helmert and Domshlak 2009; from memory).
//! From above: the way that is cheapest when nothing is shared, trimmed.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::rules::{Local, Rules};

/// More than any way costs.
pub(super) const NEVER: u64 = u64::MAX;
const NOBODY: u32 = u32::MAX;

/// How the needs of a rule add up.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Adding {
    /// The dearest need: a floor.
    Dearest,
    /// All needs, shared ones again each time: a ceiling.
    All,
}

/// Working room, kept between calls.
#[derive(Debug)]
pub(super) struct Room {
    value: Vec<u64>,
    settled: Vec<bool>,
    /// The rule by which each thing is got at most cheaply.
    by: Vec<u32>,
    left: Vec<u32>,
    /// The need of each rule that was got at last, which is its dearest.
    last_need: Vec<u32>,
    heap: BinaryHeap<Reverse<(u64, Local)>>,
    /// Looks at a rule so far.
    pub(super) effort: u64,
}

impl Room {
    pub(super) fn new(rules: &Rules) -> Self {
        Self {
            value: vec![NEVER; rules.things()],
            settled: vec![false; rules.things()],
            by: vec![NOBODY; rules.things()],
            left: vec![0; rules.count()],
            last_need: vec![NOBODY; rules.count()],
            heap: BinaryHeap::new(),
            effort: 0,
        }
    }

    /// Values of all things at the given price of each rule, cheapest first;
    /// gives the goal's.
    pub(super) fn values(&mut self, rules: &Rules, price: &[u64], adding: Adding) -> u64 {
        self.effort += (rules.count() + rules.things()) as u64;
        self.value.fill(NEVER);
        self.settled.fill(false);
        self.by.fill(NOBODY);
        self.last_need.fill(NOBODY);
        self.heap.clear();
        for rule in 0..rules.count() as u32 {
            self.left[rule as usize] = rules.needs(rule).len() as u32;
        }
        for &rule in &rules.open {
            self.offer(rules, price, rule, 0);
        }
        while let Some(Reverse((value, thing))) = self.heap.pop() {
            if self.settled[thing as usize] {
                continue;
            }
            self.settled[thing as usize] = true;
            for &rule in rules.askers(thing) {
                self.left[rule as usize] -= 1;
                if self.left[rule as usize] > 0 {
                    continue;
                }
                self.last_need[rule as usize] = thing;
                let base = match adding {
                    Adding::Dearest => value,
                    Adding::All => rules
                        .needs(rule)
                        .iter()
                        .fold(0u64, |sum, &x| sum.saturating_add(self.value[x as usize])),
                };
                self.offer(rules, price, rule, base);
            }
        }
        self.value[rules.goal as usize]
    }

    fn offer(&mut self, rules: &Rules, price: &[u64], rule: u32, base: u64) {
        let price = price[rule as usize];
        let head = rules.head[rule as usize] as usize;
        if price == NEVER || self.settled[head] {
            return;
        }
        let value = base.saturating_add(price).min(NEVER - 1);
        if value < self.value[head] {
            self.value[head] = value;
            self.by[head] = rule;
            self.heap.push(Reverse((value, head as Local)));
        }
    }

    /// The floor at the given prices, which are lowered by what was paid; the
    /// things of each cut go to `cuts`. `NEVER` when there is no way.
    pub(super) fn floor(
        &mut self,
        rules: &Rules,
        price: &mut [u64],
        cuts: &mut Vec<Vec<Local>>,
    ) -> u64 {
        cuts.clear();
        let mut floor = 0u64;
        loop {
            let value = self.values(rules, price, Adding::Dearest);
            if value == NEVER {
                return NEVER;
            }
            if value == 0 {
                return floor;
            }
            let cut = self.cut(rules, price);
            let Some(least) = cut.iter().map(|&r| price[r as usize]).min() else {
                return floor;
            };
            floor += least;
            let mut things: Vec<Local> = Vec::with_capacity(cut.len());
            for rule in cut {
                price[rule as usize] -= least;
                things.push(rules.head[rule as usize]);
            }
            things.sort_unstable();
            things.dedup();
            cuts.push(things);
        }
    }

    /// The rules that lead into the zone from which the goal is free, from
    /// what can be reached without entering it; each rule stands for its
    /// dearest need.
    fn cut(&mut self, rules: &Rules, price: &[u64]) -> Vec<u32> {
        // Left at 0 by `values`: all that the rule needs can be got at.
        let usable = |rule: u32| price[rule as usize] != NEVER && self.left[rule as usize] == 0;
        let mut zone = vec![false; rules.things()];
        let mut open = vec![rules.goal];
        zone[rules.goal as usize] = true;
        while let Some(thing) = open.pop() {
            for rule in rules.freeing(thing) {
                let need = self.last_need[rule as usize];
                if price[rule as usize] == 0
                    && usable(rule)
                    && need != NOBODY
                    && !zone[need as usize]
                {
                    zone[need as usize] = true;
                    open.push(need);
                }
            }
        }
        let mut cut = Vec::new();
        let mut reached = vec![false; rules.things()];
        let mut follow: Vec<u32> = rules.open.iter().copied().filter(|&r| usable(r)).collect();
        while let Some(rule) = follow.pop() {
            let head = rules.head[rule as usize];
            if zone[head as usize] {
                cut.push(rule);
            } else if !reached[head as usize] {
                reached[head as usize] = true;
                let led = |&rule: &u32| self.last_need[rule as usize] == head && usable(rule);
                follow.extend(rules.askers(head).iter().copied().filter(led));
            }
        }
        self.effort += rules.count() as u64;
        cut
    }

    /// The things on the way that the last values chose, if there is one.
    fn chosen(&self, rules: &Rules) -> Option<Vec<bool>> {
        if self.value[rules.goal as usize] == NEVER {
            return None;
        }
        let mut used = vec![false; rules.things()];
        used[rules.goal as usize] = true;
        let mut open = vec![rules.goal];
        while let Some(thing) = open.pop() {
            let rule = self.by[thing as usize];
            if rule == NOBODY {
                return None;
            }
            for &need in rules.needs(rule) {
                if !used[need as usize] {
                    used[need as usize] = true;
                    open.push(need);
                }
            }
        }
        Some(used)
    }

    /// A way at the given prices, each thing paid once, with nothing on it
    /// that it could do without; `None` if it is not near enough to `best` to
    /// be worth that look.
    pub(super) fn quick(
        &mut self,
        rules: &Rules,
        price: &[u64],
        adding: Adding,
        best: u64,
    ) -> Option<(u64, Vec<bool>)> {
        self.values(rules, price, adding);
        let mut used = self.chosen(rules)?;
        let sum = |used: &[bool]| -> u64 {
            (0..rules.things())
                .filter(|&x| used[x])
                .map(|x| rules.cost[x])
                .sum()
        };
        if sum(&used) > best.saturating_add(best / 16) {
            return None;
        }
        let mut dear: Vec<Local> = (0..rules.things() as Local)
            .filter(|&x| used[x as usize] && rules.cost[x as usize] > 0)
            .collect();
        dear.sort_by_key(|&x| (Reverse(rules.cost[x as usize]), x));
        for thing in dear {
            if !used[thing as usize] {
                continue;
            }
            used[thing as usize] = false;
            match self.reach_within(rules, &used) {
                Some(less) => used = less,
                None => used[thing as usize] = true,
            }
        }
        Some((sum(&used), used))
    }

    /// Whether the goal can be got at by the things of `used` alone, and then
    /// those it takes.
    fn reach_within(&mut self, rules: &Rules, used: &[bool]) -> Option<Vec<bool>> {
        let price: Vec<u64> = (0..rules.count())
            .map(|r| {
                if used[rules.head[r] as usize] {
                    0
                } else {
                    NEVER
                }
            })
            .collect();
        self.values(rules, &price, Adding::Dearest);
        self.chosen(rules)
    }
}
