//! The handy order: against the known optima of stapler18, against a plain
//! dynamic programme over what is done, and never worse than the plain order.

mod ordering_cases;

use std::collections::HashMap;

use countback_checks::random_graphs::{Seeded, acyclic};
use countback_core::access::positions::{
    ChangeCost, EXACT_UP_TO, Legs, Stand, count_changes, count_legs, propose, propose_legs,
};
use countback_core::access::{Edge, Precedence, Why};

const BOTH: ChangeCost = ChangeCost {
    position: 1,
    tool: 1,
};
const POSITION: ChangeCost = ChangeCost {
    position: 1,
    tool: 0,
};
const TOOL: ChangeCost = ChangeCost {
    position: 0,
    tool: 1,
};

/// stapler18 (seen; optima by exact dynamic programming, two programs agree):
/// 4 changes of tool, 5 of direction, 11 of both.
#[test]
fn stapler18_meets_its_known_optima() {
    let case = ordering_cases::case("stapler18");
    assert_eq!(case.seen, "seen");
    let graph = case.graph();
    let (tool, direction) = (case.per_node("tool"), case.per_node("direction"));
    let stands: Vec<Stand> = tool
        .iter()
        .zip(&direction)
        .map(|(&tool, &direction)| Stand::new((direction + 10) as u8, tool as u8))
        .collect();
    let plain = graph.order().unwrap();
    for (cost, answer, example) in [
        (TOOL, "min_tool_changes", "min_tool_changes_example"),
        (
            POSITION,
            "min_direction_changes",
            "min_direction_changes_example",
        ),
        (
            BOTH,
            "min_tool_plus_direction_changes",
            "min_tool_plus_direction_changes_example",
        ),
    ] {
        let best = case.answer(answer).as_u64().unwrap() as usize;
        let counted = |(positions, tools): (usize, usize)| {
            positions * cost.position as usize + tools * cost.tool as usize
        };
        // The file's own example first: the two ways of counting agree.
        let shown = case.numbers(case.answer(example));
        assert_eq!(graph.first_broken(&shown), None);
        assert_eq!(
            counted(count_changes(&shown, &stands, Stand::default())),
            best,
            "{example}"
        );

        let found = propose(&graph, &plain, &stands, cost, Stand::default());
        assert_eq!(
            counted((found.position_changes, found.tool_changes)),
            best,
            "{answer}"
        );
        assert!(found.exact);
        assert_allowed(&graph, &plain, &found.order);
    }
}

fn assert_allowed(graph: &Precedence, acts: &[u32], order: &[u32]) {
    assert_eq!(graph.first_broken(order), None);
    let (mut a, mut b) = (acts.to_vec(), order.to_vec());
    a.sort_unstable();
    b.sort_unstable();
    assert_eq!(a, b);
}

/// Nine acts, four of them from below: under it once, where access allows.
#[test]
fn nine_acts_four_from_below_go_under_it_once() {
    const ABOVE: u8 = 0;
    const BELOW: u8 = 1;
    // Acts 1, 3, 5 and 7 are reached from below; a chain over the top ones,
    // and two of those below need the first top one done.
    let edges = [(0, 2), (2, 4), (4, 6), (6, 8), (0, 1), (0, 5)];
    let edges: Vec<Edge> = edges
        .iter()
        .map(|&(b, a)| Edge::new(b, a, Why::BlocksReach))
        .collect();
    let graph = Precedence::new(9, &edges).unwrap();
    let stands: Vec<Stand> = (0..9)
        .map(|act| Stand {
            position: Some(if act % 2 == 1 { BELOW } else { ABOVE }),
            tool: None,
        })
        .collect();
    let plain: Vec<u32> = (0..9).collect();
    let at_first = count_changes(&plain, &stands, Stand::default());
    assert_eq!(at_first.0, 8, "the plain order goes under it four times");
    let found = propose(
        &graph,
        &plain,
        &stands,
        BOTH,
        Stand {
            position: Some(ABOVE),
            tool: None,
        },
    );
    assert_allowed(&graph, &plain, &found.order);
    assert_eq!(times_below(&found.order, &stands, BELOW), 1);

    // Where access does not allow it, it says what is needed and no more.
    let mut tied = edges;
    tied.push(Edge::new(4, 7, Why::BlocksReach));
    tied.push(Edge::new(5, 4, Why::BlocksReach));
    let graph = Precedence::new(9, &tied).unwrap();
    let found = propose(
        &graph,
        &plain,
        &stands,
        BOTH,
        Stand {
            position: Some(ABOVE),
            tool: None,
        },
    );
    assert_allowed(&graph, &plain, &found.order);
    assert_eq!(times_below(&found.order, &stands, BELOW), 2);
}

fn times_below(order: &[u32], stands: &[Stand], below: u8) -> usize {
    let at: Vec<bool> = order
        .iter()
        .map(|&x| stands[x as usize].position == Some(below))
        .collect();
    at.iter()
        .enumerate()
        .filter(|&(i, &b)| b && (i == 0 || !at[i - 1]))
        .count()
}

/// The least cost by trying every act next, remembering what is done and the
/// stand: no rule of the search is used.
fn by_dynamic_programme(
    before: &[u32],
    stands: &[Stand],
    cost: ChangeCost,
    done: u32,
    now: Stand,
    known: &mut HashMap<(u32, Stand), u64>,
) -> u64 {
    if done.count_ones() as usize == stands.len() {
        return 0;
    }
    if let Some(&value) = known.get(&(done, now)) {
        return value;
    }
    let mut best = u64::MAX;
    for act in 0..stands.len() {
        if done >> act & 1 == 1 || before[act] & !done != 0 {
            continue;
        }
        let want = stands[act];
        let mut own = 0;
        let mut then = now;
        if let Some(position) = want.position {
            own +=
                u64::from(now.position.is_some_and(|p| p != position)) * u64::from(cost.position);
            then.position = Some(position);
        }
        if let Some(tool) = want.tool {
            own += u64::from(now.tool.is_some_and(|t| t != tool)) * u64::from(cost.tool);
            then.tool = Some(tool);
        }
        let rest = by_dynamic_programme(before, stands, cost, done | 1 << act, then, known);
        best = best.min(own + rest);
    }
    known.insert((done, now), best);
    best
}

fn random_stands(seeded: &mut Seeded, count: usize, positions: usize, tools: usize) -> Vec<Stand> {
    let any = |seeded: &mut Seeded, kinds: usize| {
        if seeded.chance(15) {
            None
        } else {
            Some(seeded.below(kinds) as u8)
        }
    };
    (0..count)
        .map(|_| Stand {
            position: any(seeded, positions),
            tool: any(seeded, tools),
        })
        .collect()
}

#[test]
fn exact_wherever_a_plain_dynamic_programme_can_tell() {
    let mut seeded = Seeded::new(19);
    for round in 0..400 {
        let count = 1 + seeded.below(11);
        let links = seeded.below(2 * count);
        let edges = acyclic(&mut seeded, count, links);
        let graph = Precedence::new(count, &edges).unwrap();
        let stands = random_stands(&mut seeded, count, 4, 5);
        let cost = ChangeCost {
            position: seeded.below(4) as u32,
            tool: seeded.below(4) as u32,
        };
        let from = if seeded.chance(50) {
            Stand::default()
        } else {
            Stand::new(1, 2)
        };
        let plain = graph.order().unwrap();
        let found = propose(&graph, &plain, &stands, cost, from);
        assert_allowed(&graph, &plain, &found.order);
        assert!(found.exact);
        let mut before = vec![0u32; count];
        for edge in &edges {
            before[edge.after as usize] |= 1 << edge.before;
        }
        let best = by_dynamic_programme(&before, &stands, cost, 0, from, &mut HashMap::new());
        let own = found.position_changes as u64 * u64::from(cost.position)
            + found.tool_changes as u64 * u64::from(cost.tool);
        assert_eq!(own, best, "round {round}");
        assert_eq!(
            count_changes(&found.order, &stands, from),
            (found.position_changes, found.tool_changes)
        );
    }
}

/// The least cost by trying every act next and its stands in every order.
fn by_trying(
    before: &[u32],
    legs: &[Vec<Stand>],
    cost: ChangeCost,
    (done, left, now): (u32, Vec<Stand>, Stand),
    known: &mut HashMap<(u32, Vec<Stand>, Stand), u64>,
) -> u64 {
    let state = (done, left.clone(), now);
    if let Some(&value) = known.get(&state) {
        return value;
    }
    let mut best = u64::MAX;
    if left.is_empty() {
        if done.count_ones() as usize == legs.len() {
            return 0;
        }
        for act in 0..legs.len() {
            if done >> act & 1 == 0 && before[act] & !done == 0 {
                let next = (done | 1 << act, legs[act].clone(), now);
                best = best.min(by_trying(before, legs, cost, next, known));
            }
        }
    }
    for n in 0..left.len() {
        let mut rest = left.clone();
        let want = rest.remove(n);
        let differ = |a: Option<u8>, b: Option<u8>| a.is_some() && b.is_some() && a != b;
        let own = u64::from(differ(now.position, want.position)) * u64::from(cost.position)
            + u64::from(differ(now.tool, want.tool)) * u64::from(cost.tool);
        let then = Stand {
            position: want.position.or(now.position),
            tool: want.tool.or(now.tool),
        };
        best = best.min(own + by_trying(before, legs, cost, (done, rest, then), known));
    }
    known.insert(state, best);
    best
}

#[test]
fn acts_of_several_stands_are_counted_with_all_of_them() {
    let mut seeded = Seeded::new(23);
    let mut several = 0;
    for round in 0..300 {
        let count = 1 + seeded.below(7);
        let links = seeded.below(2 * count);
        let edges = acyclic(&mut seeded, count, links);
        let graph = Precedence::new(count, &edges).unwrap();
        let legs: Vec<Vec<Stand>> = (0..count)
            .map(|_| {
                let n = 1 + seeded.below(3);
                random_stands(&mut seeded, n, 3, 3)
            })
            .collect();
        let cost = ChangeCost {
            position: seeded.below(4) as u32,
            tool: seeded.below(4) as u32,
        };
        let from = Stand::new(1, 2);
        let plain = graph.order().unwrap();
        let told: Vec<Legs> = legs.iter().map(|l| Legs::of(l.iter().copied())).collect();
        let found = propose_legs(&graph, &plain, &told, cost, from);
        assert_allowed(&graph, &plain, &found.order);
        assert!(found.exact);
        let mut before = vec![0u32; count];
        for edge in &edges {
            before[edge.after as usize] |= 1 << edge.before;
        }
        let start = (0, Vec::new(), from);
        let best = by_trying(&before, &legs, cost, start, &mut HashMap::new());
        let worth = |(p, t): (usize, usize)| {
            p as u64 * u64::from(cost.position) + t as u64 * u64::from(cost.tool)
        };
        let own = (found.position_changes, found.tool_changes);
        assert_eq!(worth(own), best, "round {round}");
        assert_eq!(count_legs(&found.order, &told, cost, from), own);
        // By the first of each alone it would look like less.
        let first: Vec<Stand> = legs.iter().map(|l| l[0]).collect();
        several += usize::from(worth(count_changes(&found.order, &first, from)) < best);
    }
    assert!(several > 150, "{several}");
}

#[test]
fn twenty_open_acts_are_always_answered_exactly() {
    let mut worst = std::time::Duration::ZERO;
    for seed in 0..40 {
        let mut seeded = Seeded::new(seed);
        // From no constraint at all to many.
        let links = [0, 8, 20, 40][seed as usize % 4];
        let edges = acyclic(&mut seeded, EXACT_UP_TO, links);
        let graph = Precedence::new(EXACT_UP_TO, &edges).unwrap();
        // Every fifth has fixings of two kinds.
        let stand = |seeded: &mut Seeded| Stand::new(seeded.below(4) as u8, seeded.below(6) as u8);
        let legs: Vec<Legs> = (0..EXACT_UP_TO)
            .map(|act| {
                let one = stand(&mut seeded);
                let more = (act % 5 == 0).then(|| stand(&mut seeded));
                Legs::of([one].into_iter().chain(more))
            })
            .collect();
        let plain = graph.order().unwrap();
        let cost = ChangeCost {
            position: 3,
            tool: 1,
        };
        let start = std::time::Instant::now();
        let found = propose_legs(&graph, &plain, &legs, cost, Stand::default());
        worst = worst.max(start.elapsed());
        assert!(found.exact);
        assert_allowed(&graph, &plain, &found.order);
    }
    println!("slowest of 40 with 20 open acts: {worst:?}");
}

#[test]
fn above_that_never_worse_than_the_plain_order() {
    let (mut better, mut sum_plain, mut sum_found) = (0, 0, 0);
    for seed in 0..60 {
        let mut seeded = Seeded::new(seed + 500);
        let count = 21 + seeded.below(if seed % 10 == 0 { 400 } else { 80 });
        let edges = acyclic(&mut seeded, count, count * 2);
        let graph = Precedence::new(count, &edges).unwrap();
        let stands = random_stands(&mut seeded, count, 4, 6);
        // The plain order as a person left it: any allowed one.
        let priority: Vec<u32> = (0..count).map(|_| seeded.below(1000) as u32).collect();
        let plain = graph.order_by(&priority).unwrap();
        let cost = ChangeCost {
            position: 2,
            tool: 1,
        };
        let found = propose(&graph, &plain, &stands, cost, Stand::default());
        assert_allowed(&graph, &plain, &found.order);
        let total = |(p, t): (usize, usize)| 2 * p + t;
        let own = total((found.position_changes, found.tool_changes));
        let given = total(count_changes(&plain, &stands, Stand::default()));
        assert!(own <= given);
        better += usize::from(own < given);
        sum_plain += given;
        sum_found += own;
    }
    println!("better in {better} of 60; cost {sum_found} against {sum_plain} of the plain orders");
    assert!(better > 50);
}

#[test]
fn a_plain_order_that_breaks_constraints_is_put_right() {
    // 2 must come before 0 through 3, which is not asked for.
    let edges = [(2, 3), (3, 0)].map(|(b, a)| Edge::new(b, a, Why::Attached));
    let graph = Precedence::new(4, &edges).unwrap();
    let found = propose(&graph, &[0, 1, 2, 2, 9], &[], BOTH, Stand::default());
    assert_eq!(found.order, [1, 2, 0]);
    assert_eq!((found.position_changes, found.tool_changes), (0, 0));
}
