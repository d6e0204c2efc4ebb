//! The exact search: best first over what is done and where the person
//! stands. Whatever can be done without a change is done at once, which is
//! never a loss: an act taken out of a later place saves changes or none.

use rustc_hash::FxHashMap;

use super::super::graph::{Node, Precedence};
use super::{ChangeCost, Stand, listed_before};

/// Acts that one search can hold.
pub(super) const MOST: usize = 64;

/// The acts by their place in the plain order.
pub(super) struct Table {
    pub(super) stands: Vec<Stand>,
    pub(super) before: Vec<Vec<usize>>,
    pub(super) after: Vec<Vec<usize>>,
    pub(super) change: ChangeCost,
}

impl Table {
    /// `plain` must be an order that the graph allows.
    pub(super) fn new(
        graph: &Precedence,
        plain: &[Node],
        stands: &[Stand],
        change: ChangeCost,
    ) -> Self {
        let mut place = vec![None; graph.node_count()];
        for (at, &node) in plain.iter().enumerate() {
            place[node as usize] = Some(at as u32);
        }
        let before = plain
            .iter()
            .enumerate()
            .map(|(at, &node)| {
                let listed = listed_before(graph, &place, node)
                    .into_iter()
                    .map(|x| x as usize);
                // Later ones are on a cycle with this: the plain order stands.
                listed.filter(|&x| x < at).collect()
            })
            .collect();
        let stands = plain
            .iter()
            .map(|&x| stands.get(x as usize).copied().unwrap_or_default());
        Self::linked(stands.collect(), before, change)
    }

    fn linked(stands: Vec<Stand>, before: Vec<Vec<usize>>, change: ChangeCost) -> Self {
        let mut after = vec![Vec::new(); before.len()];
        for (act, list) in before.iter().enumerate() {
            for &first in list {
                after[first].push(act);
            }
        }
        Self {
            stands,
            before,
            after,
            change,
        }
    }

    pub(super) fn len(&self) -> usize {
        self.stands.len()
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
        let stands = acts.iter().map(|&act| self.stands[act]).collect();
        Self::linked(stands, before, self.change)
    }

    pub(super) fn cost(&self, order: &[usize], from: Stand) -> u64 {
        let mut now = from;
        let mut cost = 0;
        for &act in order {
            cost += self.change.of(now.changes(self.stands[act]));
            now = now.moved(self.stands[act]);
        }
        cost
    }
}

/// What is done, as bits, and where the person stands.
type State = (u64, Stand);

struct Seen {
    state: State,
    cost: u64,
    /// The one before, and the stand moved to from it.
    parent: Option<usize>,
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
fn groups<K: Copy + Eq>(stands: &[Stand], want: impl Fn(Stand) -> Option<K>) -> Vec<(K, u64)> {
    let mut groups: Vec<(K, u64)> = Vec::new();
    for (act, &stand) in stands.iter().enumerate() {
        let Some(key) = want(stand) else {
            continue;
        };
        match groups.iter_mut().find(|group| group.0 == key) {
            Some(group) => group.1 |= 1 << act,
            None => groups.push((key, 1 << act)),
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
        by_position: groups(&table.stands, |stand| stand.position),
        by_tool: groups(&table.stands, |stand| stand.tool),
        by_pair: groups(&table.stands, full),
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
            let mut moves: Vec<Stand> = self
                .ready(state.0)
                .map(|act| state.1.moved(self.table.stands[act]))
                .collect();
            moves.sort_unstable();
            moves.dedup();
            for to in moves {
                let cost = cost + self.table.change.of(state.1.changes(to));
                let state = (self.settle(state.0, to, &mut Vec::new()), to);
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
                .find(|&act| at.moved(self.table.stands[act]) == at);
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
            moves.push(seen[at].state.1);
            at = parent;
        }
        let mut order = Vec::new();
        let mut done = self.settle(0, from, &mut order);
        for &to in moves.iter().rev() {
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
