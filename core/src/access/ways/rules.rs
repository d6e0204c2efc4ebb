//! The question boiled down: only what can be part of a way to the target,
//! under local numbers, as rules "all of these off, then that one can come
//! off". Ways that need themselves are gone, as are those that ask for all
//! another way asks for and more.

use rustc_hash::FxHashMap;

use super::{Node, Ways, WaysError};

/// Local number of a thing.
pub(super) type Local = u32;

#[derive(Debug)]
pub(super) struct Rules {
    /// Local to outer numbers.
    names: Vec<Node>,
    /// How many count toward what is always answered exactly.
    pub(super) counted: usize,
    /// What each costs; the target nothing.
    pub(super) cost: Vec<u64>,
    pub(super) goal: Local,
    /// Rule r frees head[r] once all of needs(r) are off.
    pub(super) head: Vec<Local>,
    ways_start: Vec<u32>,
    needs_start: Vec<u32>,
    needs: Vec<Local>,
    /// The rules that ask for each thing.
    askers_start: Vec<u32>,
    askers: Vec<u32>,
    /// Rules that ask for nothing.
    pub(super) open: Vec<u32>,
}

/// What a way cannot do without.
#[derive(Debug)]
pub(super) struct Forced {
    pub(super) used: Vec<bool>,
    /// Whether some of it can be got at in more than one way, or in none.
    pub(super) choice: bool,
}

impl Rules {
    pub(super) fn toward(
        ways: &Ways,
        target: Node,
        off: &[bool],
        cost: impl Fn(Node) -> u64,
    ) -> Result<Self, WaysError> {
        let is_off = |x: Node| x != target && off.get(x as usize).copied().unwrap_or(false);
        let mut told: FxHashMap<Node, Vec<Vec<Node>>> = FxHashMap::default();
        let mut open = vec![target];
        while let Some(node) = open.pop() {
            if told.contains_key(&node) {
                continue;
            }
            let mut sets = ways.ways_to(node);
            for set in &mut sets {
                set.retain(|&x| !is_off(x));
                set.sort_unstable();
                set.dedup();
            }
            for set in &sets {
                open.extend(set.iter().filter(|x| !told.contains_key(x)));
            }
            told.insert(node, sets);
        }
        let order = derivable(&told);
        let rank: FxHashMap<Node, usize> = order.iter().enumerate().map(|(i, &x)| (x, i)).collect();
        if !rank.contains_key(&target) {
            return Err(WaysError::NeedsItself {
                round: round(&told, &rank, target),
            });
        }
        for (&node, sets) in &mut told {
            // The target's own way never runs through the target.
            sets.retain(|set| {
                !set.contains(&node)
                    && !set.contains(&target)
                    && set.iter().all(|x| rank.contains_key(x))
            });
            drop_wider(sets);
        }
        let small = |x: Node| ways.small.get(x as usize) == Some(&true);
        let mut rules = Self::numbered(&told, target, cost);
        rules.counted = rules.names.iter().filter(|&&x| !small(x)).count();
        Ok(rules)
    }

    /// Gives local numbers to what the target can still need.
    fn numbered(
        told: &FxHashMap<Node, Vec<Vec<Node>>>,
        target: Node,
        cost: impl Fn(Node) -> u64,
    ) -> Self {
        let mut names = vec![target];
        let mut local: FxHashMap<Node, Local> = FxHashMap::from_iter([(target, 0)]);
        let (mut head, mut needs, mut needs_start) = (Vec::new(), Vec::new(), vec![0u32]);
        let mut ways_start = vec![0u32];
        let mut at = 0;
        while at < names.len() {
            for set in told.get(&names[at]).into_iter().flatten() {
                for &x in set {
                    let next = names.len() as Local;
                    let number = *local.entry(x).or_insert_with(|| {
                        names.push(x);
                        next
                    });
                    needs.push(number);
                }
                head.push(at as Local);
                needs_start.push(needs.len() as u32);
            }
            at += 1;
            ways_start.push(head.len() as u32);
        }
        let mut cost: Vec<u64> = names.iter().map(|&x| cost(x)).collect();
        cost[0] = 0;
        let mut askers_of = vec![Vec::new(); names.len()];
        let mut open = Vec::new();
        for rule in 0..head.len() {
            let span = needs_start[rule] as usize..needs_start[rule + 1] as usize;
            if span.is_empty() {
                open.push(rule as u32);
            }
            for &x in &needs[span] {
                askers_of[x as usize].push(rule as u32);
            }
        }
        let mut askers_start = vec![0u32];
        for list in &askers_of {
            askers_start.push(askers_start[askers_start.len() - 1] + list.len() as u32);
        }
        let askers = askers_of.concat();
        Self {
            counted: names.len(),
            names,
            cost,
            goal: 0,
            head,
            ways_start,
            needs_start,
            needs,
            askers_start,
            askers,
            open,
        }
    }

    pub(super) fn things(&self) -> usize {
        self.names.len()
    }

    pub(super) fn count(&self) -> usize {
        self.head.len()
    }

    /// The rules by which a thing can come off: they are numbered in the
    /// order of what they free.
    #[inline]
    pub(super) fn freeing(&self, thing: Local) -> std::ops::Range<u32> {
        self.ways_start[thing as usize]..self.ways_start[thing as usize + 1]
    }

    #[inline]
    pub(super) fn needs(&self, rule: u32) -> &[Local] {
        let at = rule as usize;
        &self.needs[self.needs_start[at] as usize..self.needs_start[at + 1] as usize]
    }

    #[inline]
    pub(super) fn askers(&self, thing: Local) -> &[u32] {
        let at = thing as usize;
        &self.askers[self.askers_start[at] as usize..self.askers_start[at + 1] as usize]
    }

    /// What every way takes, as far as things with only one way to them tell.
    pub(super) fn forced(&self) -> Forced {
        let mut used = vec![false; self.things()];
        used[self.goal as usize] = true;
        let mut choice = false;
        let mut open = vec![self.goal];
        while let Some(thing) = open.pop() {
            let ways = self.freeing(thing);
            if ways.len() != 1 {
                choice = true;
                continue;
            }
            for &need in self.needs(ways.start) {
                if !used[need as usize] {
                    used[need as usize] = true;
                    open.push(need);
                }
            }
        }
        Forced { used, choice }
    }

    /// The things marked in `used`, by outer number, in an order in which
    /// each can come off: of those that can, always the smallest number.
    pub(super) fn workable(&self, used: &[bool]) -> Vec<Node> {
        let mut left: Vec<u32> = (0..self.count() as u32)
            .map(|r| self.needs(r).len() as u32)
            .collect();
        let mut free: std::collections::BTreeSet<(Node, Local)> = std::collections::BTreeSet::new();
        for &rule in &self.open {
            let head = self.head[rule as usize];
            if used[head as usize] {
                free.insert((self.names[head as usize], head));
            }
        }
        let mut taken = vec![false; self.things()];
        let mut order = Vec::new();
        while let Some((name, thing)) = free.pop_first() {
            taken[thing as usize] = true;
            order.push(name);
            for &rule in self.askers(thing) {
                left[rule as usize] -= 1;
                let head = self.head[rule as usize] as usize;
                if left[rule as usize] == 0 && used[head] && !taken[head] {
                    free.insert((self.names[head], head as Local));
                }
            }
        }
        order
    }
}

/// Everything that can be got at, in the order in which it could.
fn derivable(told: &FxHashMap<Node, Vec<Vec<Node>>>) -> Vec<Node> {
    let mut askers: FxHashMap<Node, Vec<(Node, usize)>> = FxHashMap::default();
    let mut left: FxHashMap<(Node, usize), usize> = FxHashMap::default();
    let mut reached: FxHashMap<Node, ()> = FxHashMap::default();
    let mut order = Vec::new();
    let mut nodes: Vec<Node> = told.keys().copied().collect();
    nodes.sort_unstable();
    for &node in &nodes {
        for (way, set) in told.get(&node).into_iter().flatten().enumerate() {
            left.insert((node, way), set.len());
            for &x in set {
                askers.entry(x).or_default().push((node, way));
            }
            if set.is_empty() && reached.insert(node, ()).is_none() {
                order.push(node);
            }
        }
    }
    let mut at = 0;
    while at < order.len() {
        for &(node, way) in askers.get(&order[at]).into_iter().flatten() {
            if let Some(count) = left.get_mut(&(node, way)) {
                *count -= 1;
                if *count == 0 && reached.insert(node, ()).is_none() {
                    order.push(node);
                }
            }
        }
        at += 1;
    }
    order
}

/// Keeps the ways that no other way is part of; of equal ones the first.
fn drop_wider(sets: &mut Vec<Vec<Node>>) {
    sets.sort_by(|a, b| a.len().cmp(&b.len()).then_with(|| a.cmp(b)));
    let mut kept: Vec<Vec<Node>> = Vec::new();
    for set in sets.drain(..) {
        let within = |less: &Vec<Node>| less.iter().all(|x| set.binary_search(x).is_ok());
        if !kept.iter().any(within) {
            kept.push(set);
        }
    }
    *sets = kept;
}

/// From a target that cannot be got at, always on to something it needs that
/// cannot be got at either, until that comes round.
fn round(
    told: &FxHashMap<Node, Vec<Vec<Node>>>,
    reached: &FxHashMap<Node, usize>,
    target: Node,
) -> Vec<Node> {
    let mut walked = vec![target];
    loop {
        let node = walked[walked.len() - 1];
        let needs = told.get(&node).into_iter().flatten().flatten();
        let Some(&next) = needs.filter(|x| !reached.contains_key(x)).min() else {
            return walked;
        };
        if let Some(from) = walked.iter().position(|&x| x == next) {
            return walked.split_off(from);
        }
        walked.push(next);
    }
}
