//! The exact search: best first over what is done and where the person
//! stands. Whatever can be done without a change is done at once, which is
//! never a loss: an act taken out of a later place saves changes or none.

use rustc_hash::FxHashMap;

use super::super::graph::{Node, Precedence};
use super::legs::{Exit, Legs, walk};
use super::{ChangeCost, Listed, Stand};

/// Acts that one search can hold.
pub(super) const MOST: usize = 64;

/// The acts by their place in the plain order.
pub(super) struct Table {
    pub(super) legs: Vec<Legs>,
    pub(super) before: Vec<Vec<usize>>,
    pub(super) after: Vec<Vec<usize>>,
    pub(super) change: ChangeCost,
}

impl Table {
    /// `plain` must be an order that the graph allows.
    pub(super) fn new(
        graph: &Precedence,
        plain: &[Node],
        legs: &[Legs],
        change: ChangeCost,
    ) -> Self {
        let mut listed = Listed::new(graph);
        for (at, &node) in plain.iter().enumerate() {
            listed.place[node as usize] = Some(at as u32);
        }
        let before = plain
            .iter()
            .enumerate()
            .map(|(at, &node)| {
                let before = listed.before(node).into_iter().map(|x| x as usize);
                // Later ones are on a cycle with this: the plain order stands.
                before.filter(|&x| x < at).collect()
            })
            .collect();
        let legs = plain
            .iter()
            .map(|&x| legs.get(x as usize).cloned().unwrap_or_default());
        Self::linked(legs.collect(), before, change)
    }

    fn linked(legs: Vec<Legs>, before: Vec<Vec<usize>>, change: ChangeCost) -> Self {
        let mut after = vec![Vec::new(); before.len()];
        for (act, list) in before.iter().enumerate() {
            for &first in list {
                after[first].push(act);
            }
        }
        Self {
            legs,
            before,
            after,
            change,
        }
    }

    pub(super) fn len(&self) -> usize {
        self.legs.len()
    }

    /// A stretch of an allowed order by itself, numbered from 0.
    pub(super) fn part(&self, acts: &[usize]) -> Self {
        let place: FxHashMap<usize, usize> =
            acts.iter().enumerate().map(|(i, &x)| (x, i)).collect();
        let before = acts
            .iter()
            .map(|&act| {
                self.before[act]
                    .iter()
                    .filter_map(|x| place.get(x).copied())
                    .collect()
            })
            .collect();
        let legs = acts.iter().map(|&act| self.legs[act].clone()).collect();
        Self::linked(legs, before, self.change)
    }

    pub(super) fn cost(&self, order: &[usize], from: Stand) -> u64 {
        self.walk(order, from).cost
    }

    pub(super) fn walk(&self, order: &[usize], from: Stand) -> Exit {
        walk(order.iter().map(|&act| &self.legs[act]), self.change, from)
    }

    /// Where to go from `now` for the sake of one of these acts. One that takes
    /// several stands is done on the way.
    pub(super) fn moves(&self, ready: impl Iterator<Item = usize>, now: Stand) -> Vec<Move> {
        let mut moves = Vec::new();
        for act in ready {
            let legs = &self.legs[act];
            let mut go = |at: Stand, cost: u64, doing: Option<usize>| {
                moves.push(Move { at, doing, cost });
            };
            match legs.only() {
                Some(stand) => go(now.moved(stand), self.change.of(now.changes(stand)), None),
                None => {
                    for exit in legs.exits(now, self.change) {
                        go(exit.at, exit.cost, Some(act));
                    }
                }
            }
        }
        moves.sort_unstable();
        moves.dedup();
        moves
    }
}

/// A change, and where it ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Move {
    pub(super) at: Stand,
    /// The act of several stands that is done by going.
    pub(super) doing: Option<usize>,
    pub(super) cost: u64,
}

/// What is done, as bits, and where the person stands.
type State = (u64, Stand);

struct Seen {
    state: State,
    cost: u64,
    /// The one before, and the act of several stands done from there.
    parent: Option<usize>,
    doing: Option<usize>,
}

struct Search<'a> {
    table: &'a Table,
    before: Vec<u64>,
    all: u64,
    next: Option<Stand>,
    /// The acts, as bits, that want each position, each tool, and each pair.
    by_position: Vec<(u8, u64)>,
    by_tool: Vec<(u8, u64)>,
    by_pair: Vec<(Stand, u64)>,
}

/// Groups acts by what they want; those that want nothing are in no group.
fn groups<K: Copy + Eq>(legs: &[Legs], want: impl Fn(Stand) -> Option<K>) -> Vec<(K, u64)> {
    let mut groups: Vec<(K, u64)> = Vec::new();
    for (act, legs) in legs.iter().enumerate() {
        for key in legs.stands().iter().filter_map(|&stand| want(stand)) {
            match groups.iter_mut().find(|group| group.0 == key) {
                Some(group) => group.1 |= 1 << act,
                None => groups.push((key, 1 << act)),
            }
        }
    }
    groups
}

fn full(stand: Stand) -> Option<Stand> {
    stand.position.and(stand.tool).map(|_| stand)
}

/// The best order, or `None` when more than `limit` states would have to be
/// looked at. `next`, if given, is what follows and is counted.
pub(super) fn search(
    table: &Table,
    from: Stand,
    next: Option<Stand>,
    limit: usize,
) -> Option<Vec<usize>> {
    let bits = |list: &Vec<usize>| list.iter().fold(0u64, |bits, &x| bits | 1 << x);
    let all = if table.len() == 64 {
        u64::MAX
    } else {
        (1 << table.len()) - 1
    };
    let search = Search {
        table,
        before: table.before.iter().map(bits).collect(),
        all,
        next,
        by_position: groups(&table.legs, |stand| stand.position),
        by_tool: groups(&table.legs, |stand| stand.tool),
        by_pair: groups(&table.legs, full),
    };
    search.run(from, limit)
}

impl Search<'_> {
    fn run(&self, from: Stand, limit: usize) -> Option<Vec<usize>> {
        let first = (self.settle(0, from, &mut Vec::new()), from);
        let mut seen = vec![Seen {
            state: first,
            cost: 0,
            parent: None,
            doing: None,
        }];
        let mut best: FxHashMap<State, u64> = FxHashMap::from_iter([(first, 0)]);
        // States by the least they can come to; of equals the newest, which
        // is furthest on.
        let mut open: std::collections::BTreeMap<u64, Vec<usize>> =
            std::collections::BTreeMap::new();
        open.entry(self.floor(first)).or_default().push(0);
        let mut looked = 0;
        while let Some(mut entry) = open.first_entry() {
            let Some(at) = entry.get_mut().pop() else {
                entry.remove();
                continue;
            };
            let (state, cost) = (seen[at].state, seen[at].cost);
            if state.0 == self.all {
                return Some(self.replay(&seen, at, from));
            }
            if best.get(&state).is_some_and(|&known| known < cost) {
                continue;
            }
            looked += 1;
            if looked > limit {
                return None;
            }
            for to in self.table.moves(self.ready(state.0), state.1) {
                let cost = cost + to.cost;
                let done = to.doing.map_or(state.0, |act| state.0 | 1 << act);
                let state = (self.settle(done, to.at, &mut Vec::new()), to.at);
                let known = best.entry(state).or_insert(u64::MAX);
                if cost < *known {
                    *known = cost;
                    open.entry(cost + self.floor(state))
                        .or_default()
                        .push(seen.len());
                    seen.push(Seen {
                        state,
                        cost,
                        parent: Some(at),
                        doing: to.doing,
                    });
                }
            }
        }
        None
    }

    fn ready(&self, done: u64) -> impl Iterator<Item = usize> + '_ {
        let mut open = self.all & !done;
        std::iter::from_fn(move || {
            while open != 0 {
                let act = open.trailing_zeros() as usize;
                open &= open - 1;
                if self.before[act] & !done == 0 {
                    return Some(act);
                }
            }
            None
        })
    }

    /// Does everything that can be done at `at`, noting it in `order`.
    fn settle(&self, mut done: u64, at: Stand, order: &mut Vec<usize>) -> u64 {
        loop {
            let free = self
                .ready(done)
                .find(|&act| self.table.legs[act].free_at(at));
            let Some(act) = free else {
                return done;
            };
            done |= 1 << act;
            order.push(act);
        }
    }

    /// The least that the rest can still cost: each position and each tool
    /// not yet in hand is taken up at least once, and each pair of them not
    /// yet stood at needs a change of one or the other.
    fn floor(&self, (done, now): State) -> u64 {
        let open = self.all & !done;
        let next = self.next.unwrap_or_default();
        let positions = fresh(&self.by_position, open, next.position, now.position);
        let tools = fresh(&self.by_tool, open, next.tool, now.tool);
        let pairs = fresh(&self.by_pair, open, full(next), Some(now));
        let unset = u64::from(now.position.is_none()) + u64::from(now.tool.is_none());
        let pairs = pairs.saturating_sub(unset);
        let change = self.table.change;
        let either = u64::from(change.position.min(change.tool));
        u64::from(change.position) * positions
            + u64::from(change.tool) * tools
            + pairs.saturating_sub(positions + tools) * either
    }

    fn replay(&self, seen: &[Seen], end: usize, from: Stand) -> Vec<usize> {
        let mut moves = Vec::new();
        let mut at = end;
        while let Some(parent) = seen[at].parent {
            moves.push((seen[at].state.1, seen[at].doing));
            at = parent;
        }
        let mut order = Vec::new();
        let mut done = self.settle(0, from, &mut order);
        for &(to, doing) in moves.iter().rev() {
            if let Some(act) = doing {
                done |= 1 << act;
                order.push(act);
            }
            done = self.settle(done, to, &mut order);
        }
        order
    }
}

/// How many kinds the open acts and what follows still want that are not in
/// hand; taking up the first of all is no change.
fn fresh<K: Copy + Eq>(groups: &[(K, u64)], open: u64, next: Option<K>, held: Option<K>) -> u64 {
    let wanted = groups
        .iter()
        .filter(|&&(key, acts)| acts & open != 0 && Some(key) != held);
    let mut count = wanted.count() as u64;
    let told = |key: K| groups.iter().any(|&(k, acts)| k == key && acts & open != 0);
    if let Some(key) = next
        && Some(key) != held
        && !told(key)
    {
        count += 1;
    }
    count.saturating_sub(u64::from(held.is_none()))
}
