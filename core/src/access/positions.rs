//! The handy order: of all orders that the constraints allow, one with few
//! changes of position (above, below, inside, wheel off) and of tool. Exact
//! up to [`EXACT_UP_TO`] open acts; above that never worse than the plain
//! order that was given. It is a proposal: any allowed order stays open to
//! the person.

mod exact;
mod legs;

use super::graph::{Edge, Node, Precedence, Why};
use exact::{Move, Table, search};
pub use legs::Legs;

/// Up to this many acts the proposal is always the best there is.
pub const EXACT_UP_TO: usize = 20;
/// States that the exact search may look at when there are more acts.
const TRY: usize = 2_000;
/// Acts put in their best order together when improving a long order.
const WINDOW: usize = 14;
const WINDOW_TRY: usize = 500;

/// Where the person is and what is in the hand. `None` in an act: any will
/// do, nothing changes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Stand {
    pub position: Option<u8>,
    pub tool: Option<u8>,
}

impl Stand {
    pub fn new(position: u8, tool: u8) -> Self {
        Self {
            position: Some(position),
            tool: Some(tool),
        }
    }

    /// Whoever stands at `other` stands here too.
    fn within(self, other: Self) -> bool {
        other.moved(self) == other
    }

    /// The stand after an act that wants `act`.
    fn moved(self, act: Stand) -> Self {
        Self {
            position: act.position.or(self.position),
            tool: act.tool.or(self.tool),
        }
    }

    /// Which of position and tool change on the way to `act`; taking up the
    /// first of each is no change.
    fn changes(self, act: Stand) -> (bool, bool) {
        let differ = |a: Option<u8>, b: Option<u8>| matches!((a, b), (Some(a), Some(b)) if a != b);
        (
            differ(self.position, act.position),
            differ(self.tool, act.tool),
        )
    }
}

/// What a change is worth avoiding, in any one unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ChangeCost {
    pub position: u32,
    pub tool: u32,
}

impl ChangeCost {
    fn of(self, (position, tool): (bool, bool)) -> u64 {
        u64::from(self.position) * u64::from(position) + u64::from(self.tool) * u64::from(tool)
    }
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Proposal {
    pub order: Vec<Node>,
    pub position_changes: usize,
    pub tool_changes: usize,
    /// Whether no allowed order costs less.
    pub exact: bool,
}

/// Counts the changes of an order: of position, of tool. `stands` not given
/// are any.
pub fn count_changes(order: &[Node], stands: &[Stand], from: Stand) -> (usize, usize) {
    let legs: Vec<Legs> = stands.iter().map(|&stand| Legs::one(stand)).collect();
    // Nothing to choose, so that no change is worth more than another.
    let cost = ChangeCost {
        position: 1,
        tool: 1,
    };
    count_legs(order, &legs, cost, from)
}

/// As [`count_changes`], of acts that are done from several stands each: the
/// cheapest way through them.
pub fn count_legs(order: &[Node], legs: &[Legs], cost: ChangeCost, from: Stand) -> (usize, usize) {
    let none = Legs::default();
    let acts = order.iter().map(|&x| legs.get(x as usize).unwrap_or(&none));
    let walk = legs::walk(acts, cost, from);
    (walk.positions, walk.tools)
}

/// The stand at which each act of an order is begun, on that way.
pub fn entries(order: &[Node], legs: &[Legs], cost: ChangeCost, from: Stand) -> Vec<Stand> {
    let none = Legs::default();
    let acts = order.iter().map(|&x| legs.get(x as usize).unwrap_or(&none));
    legs::entries(acts, cost, from)
}

/// Proposes an order of the acts in `plain`, which comes in the plain order
/// (the reverse of taking off). Constraints through nodes not in `plain` hold
/// all the same. If the plain order itself breaks constraints, or names a node
/// twice or one that is not there, it is first put right with as little change
/// as may be; acts on a cycle keep their plain order at the end.
pub fn propose(
    graph: &Precedence,
    plain: &[Node],
    stands: &[Stand],
    cost: ChangeCost,
    from: Stand,
) -> Proposal {
    let legs: Vec<Legs> = stands.iter().map(|&stand| Legs::one(stand)).collect();
    propose_legs(graph, plain, &legs, cost, from)
}

/// As [`propose`], of acts that are done from several stands each. Each is
/// finished before the next is begun, its own stands in whatever order.
pub fn propose_legs(
    graph: &Precedence,
    plain: &[Node],
    legs: &[Legs],
    cost: ChangeCost,
    from: Stand,
) -> Proposal {
    let plain = put_right(graph, plain);
    let table = Table::new(graph, &plain, legs, cost);
    let limit = if table.len() <= EXACT_UP_TO {
        usize::MAX
    } else {
        TRY
    };
    let found = if table.len() <= exact::MOST {
        search(&table, from, None, limit)
    } else {
        None
    };
    let (order, exact) = match found {
        Some(order) => (order, true),
        None => (heuristic(&table, from), false),
    };
    let order: Vec<Node> = order.into_iter().map(|act| plain[act]).collect();
    let (position_changes, tool_changes) = count_legs(&order, legs, cost, from);
    Proposal {
        order,
        position_changes,
        tool_changes,
        exact,
    }
}

/// The acts in an order that the graph allows, by their place in `plain`.
fn put_right(graph: &Precedence, plain: &[Node]) -> Vec<Node> {
    let mut listed = Listed::new(graph);
    let mut acts = Vec::new();
    for &node in plain {
        if let Some(slot @ None) = listed.place.get_mut(node as usize) {
            *slot = Some(acts.len() as u32);
            acts.push(node);
        }
    }
    let mut edges = Vec::new();
    for (after, &node) in acts.iter().enumerate() {
        for before in listed.before(node) {
            edges.push(Edge::new(before, after as Node, Why::Stated));
        }
    }
    // In order already, as it nearly always is.
    if edges.iter().all(|edge| edge.before < edge.after) {
        return acts;
    }
    let Ok(inner) = Precedence::new(acts.len(), &edges) else {
        return acts;
    };
    let plan = super::Planner::new(inner, &[]).plan();
    plan.order
        .into_iter()
        .chain(plan.stuck)
        .map(|at| acts[at as usize])
        .collect()
}

/// A list of acts on a graph of more.
struct Listed<'a> {
    graph: &'a Precedence,
    /// Where each stands in the list.
    place: Vec<Option<u32>>,
    /// The question in which each was last seen.
    seen: Vec<u32>,
    asked: u32,
}

impl<'a> Listed<'a> {
    fn new(graph: &'a Precedence) -> Self {
        Self {
            graph,
            place: vec![None; graph.node_count()],
            seen: vec![0; graph.node_count()],
            asked: 0,
        }
    }

    /// The listed acts that must precede `node` with nothing listed in
    /// between, by their place in the list.
    fn before(&mut self, node: Node) -> Vec<u32> {
        self.asked += 1;
        let mut open = vec![node];
        let mut listed = Vec::new();
        while let Some(at) = open.pop() {
            for &before in self.graph.before.of(at) {
                let seen = std::mem::replace(&mut self.seen[before as usize], self.asked);
                if seen == self.asked {
                    continue;
                }
                match self.place[before as usize] {
                    Some(place) => listed.push(place),
                    None => open.push(before),
                }
            }
        }
        listed
    }
}

/// The better of the plain order and a greedy one, then improved a stretch at
/// a time; no step makes it worse.
fn heuristic(table: &Table, from: Stand) -> Vec<usize> {
    let plain: Vec<usize> = (0..table.len()).collect();
    let greedy = greedy(table, from);
    let mut best = if table.cost(&greedy, from) < table.cost(&plain, from) {
        greedy
    } else {
        plain
    };
    for _ in 0..3 {
        let was = table.cost(&best, from);
        improve(table, from, &mut best);
        if table.cost(&best, from) == was {
            break;
        }
    }
    best
}

/// Always goes where the most can be done for the cost of going there.
fn greedy(table: &Table, from: Stand) -> Vec<usize> {
    let mut order = Vec::with_capacity(table.len());
    let mut waits: Vec<usize> = (0..table.len())
        .map(|act| table.before[act].len())
        .collect();
    let mut ready: Vec<usize> = (0..table.len()).filter(|&act| waits[act] == 0).collect();
    let mut now = from;
    while !ready.is_empty() {
        let moves = table.moves(ready.iter().copied(), now);
        let worth = |to: &&Move| {
            let mut trial = (waits.clone(), ready.clone());
            let run = run_at(table, to, &mut trial.0, &mut trial.1);
            let first = run.first().copied().unwrap_or(usize::MAX);
            // More done for less; scaled so that whole numbers compare.
            (
                run.len() as u64 * 10_000 / (1 + to.cost),
                std::cmp::Reverse(first),
            )
        };
        let Some(to) = moves.iter().max_by_key(worth) else {
            break;
        };
        order.extend(run_at(table, to, &mut waits, &mut ready));
        now = to.at;
    }
    order
}

/// Does what the move is for, and then all that can be done where it ends, in
/// plain order.
fn run_at(table: &Table, to: &Move, waits: &mut [usize], ready: &mut Vec<usize>) -> Vec<usize> {
    let mut run = Vec::new();
    let mut next = to.doing;
    loop {
        let free = |&&act: &&usize| table.legs[act].free_at(to.at);
        let Some(act) = next
            .take()
            .or_else(|| ready.iter().filter(free).min().copied())
        else {
            return run;
        };
        ready.retain(|&other| other != act);
        run.push(act);
        for &next in &table.after[act] {
            waits[next] -= 1;
            if waits[next] == 0 {
                ready.push(next);
            }
        }
    }
}

/// Puts each stretch of the order, half overlapping, into its best order,
/// with what follows it in view.
fn improve(table: &Table, from: Stand, order: &mut [usize]) {
    let mut start = 0;
    let mut now = from;
    while start < order.len() {
        let end = (start + WINDOW).min(order.len());
        let part = table.part(&order[start..end]);
        // The next wish for each of position and tool, as far as the next act.
        let next = order.get(end).and_then(|&act| table.legs[act].only());
        if let Some(better) = search(&part, now, next, WINDOW_TRY) {
            let was: Vec<usize> = order[start..end].to_vec();
            let trial: Vec<usize> = better.iter().map(|&at| was[at]).collect();
            let before = table.cost(order, from);
            order[start..end].copy_from_slice(&trial);
            if table.cost(order, from) > before {
                order[start..end].copy_from_slice(&was);
            }
        }
        let step = (WINDOW / 2).min(order.len() - start);
        now = table.walk(&order[start..start + step], now).at;
        start += step;
    }
}
