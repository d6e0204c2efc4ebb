//! The order of going back: every case of ordering_cases.json (its citation
//! and whether it was seen stand in the file and are printed when a case
//! fails), random graphs against petgraph as reference, and the plan kept up
//! act by act against the plan made anew.

mod ordering_cases;

use std::collections::{HashMap, HashSet};

use countback_checks::random_graphs::{Seeded, acyclic};
use countback_core::access::ways::{Measure, Ways};
use countback_core::access::{Edge, GraphError, Planner, Precedence, Why};
use ordering_cases::{Case, all, case};
use petgraph::algo::{is_cyclic_directed, toposort, tred};
use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::{Dfs, IntoNeighbors, Reversed};
use proptest::prelude::*;

/// Walks over everything that can be done after one another, asking the
/// planner at each step what can go back now. Gives the number of orders and
/// of sets of done nodes.
fn count_orders(case: &Case) -> (u64, usize) {
    fn below(planner: &mut Planner, done: u64, known: &mut HashMap<u64, u64>) -> u64 {
        if let Some(&orders) = known.get(&done) {
            return orders;
        }
        let ready = planner.ready();
        let mut orders = 0;
        for &node in &ready {
            assert!(planner.set_done(node));
            orders += below(planner, done | 1 << node, known);
            assert!(planner.set_undone(node));
            assert_eq!(planner.ready(), ready);
        }
        if done.count_ones() as usize == planner.graph().node_count() {
            orders = 1;
        }
        known.insert(done, orders);
        orders
    }
    let mut known = HashMap::new();
    let orders = below(&mut Planner::new(case.graph(), &[]), 0, &mut known);
    (orders, known.len())
}

#[test]
fn every_case_has_its_number_of_orders_and_its_smallest_order() {
    let cases = all();
    assert_eq!(cases.len(), 11);
    for case in &cases {
        let source = format!("{} ({}, {})", case.id, case.citation, case.seen);
        let (orders, sets) = count_orders(case);
        assert_eq!(
            orders,
            case.told["linear_extensions"].as_u64().unwrap(),
            "{source}"
        );
        assert_eq!(
            sets as u64,
            case.told["down_sets"].as_u64().unwrap(),
            "{source}"
        );
        let smallest = case.numbers(&case.told["lexicographic_smallest_order"]);
        assert_eq!(
            case.graph().order_by(&case.name_ranks()).unwrap(),
            smallest,
            "{source}"
        );
        assert_eq!(case.graph().first_broken(&smallest), None);
    }
}

/// stapler18 (seen): what must come off first, as precedence and as ways in.
#[test]
fn stapler18_what_must_come_off_first() {
    let case = case("stapler18");
    let graph = case.graph();
    let ways = Ways::from_precedence(&graph.reversed());
    for part in ["1", "6", "9", "12"] {
        let node = case.names.iter().position(|n| n == part).unwrap() as u32;
        let first = case.sorted(case.answer(&format!("must_come_off_before_{part}")));
        assert_eq!(graph.all_before(node), first);
        let way = ways.least_work(node, &[], &[], Measure::Acts).unwrap();
        assert!(way.exact && graph.first_broken(&way.take_off).is_none());
        let mut off = way.take_off;
        off.sort_unstable();
        assert_eq!(off, first);
    }
}

/// vhdl14 (seen; the unorderable case is stated on the page).
#[test]
fn vhdl14_closure_first_level_and_the_unorderable_case() {
    let case = case("vhdl14");
    let graph = case.graph();
    let system = case.number(&"des_system_lib".into());
    assert_eq!(
        graph.all_before(system),
        case.sorted(case.answer("items_needed_before_des_system_lib"))
    );
    let mut first = graph.layers().unwrap()[0].clone();
    first.sort_unstable();
    assert_eq!(first, case.sorted(case.answer("first_level")));

    assert_eq!(case.answer("self_dependencies_are_ignored"), true);
    let mut with_self = case.edges.clone();
    with_self.extend((0..case.names.len() as u32).map(|x| Edge::new(x, x, Why::Stated)));
    assert_eq!(
        Precedence::new(case.names.len(), &with_self).unwrap(),
        graph
    );

    let round = case.sorted(case.answer("adding_dw04_before_dw01_makes_it_unorderable"));
    let (dw04, dw01) = (case.number(&"dw04".into()), case.number(&"dw01".into()));
    // Asked before it is added, the way back names the same round.
    let mut told = graph.path(dw01, dw04).unwrap();
    told.sort_unstable();
    assert_eq!(told, round);
    let mut planner = Planner::new(graph, &[]);
    planner
        .add_edges(&[Edge::new(dw04, dw01, Why::Stated)])
        .unwrap();
    let cycle = planner.graph().order().unwrap_err();
    assert_eq!(cycle.nodes, round);
    assert_eq!(planner.graph().levels().unwrap_err(), cycle);
    let plan = planner.plan();
    assert!(plan.stuck.contains(&dw01) && plan.stuck.contains(&dw04));
    assert_eq!(plan.order.len() + plan.stuck.len(), case.names.len());
}

/// The documented examples of networkx (seen in its docstrings).
#[test]
fn documented_graph_examples() {
    let all_orders = case("nx_all");
    let mut orders: Vec<Vec<u32>> = Vec::new();
    fn every(planner: &mut Planner, order: &mut Vec<u32>, orders: &mut Vec<Vec<u32>>) {
        if order.len() == planner.graph().node_count() {
            orders.push(order.clone());
        }
        for node in planner.ready() {
            planner.set_done(node);
            order.push(node);
            every(planner, order, orders);
            order.pop();
            planner.set_undone(node);
        }
    }
    every(
        &mut Planner::new(all_orders.graph(), &[]),
        &mut Vec::new(),
        &mut orders,
    );
    let mut told: Vec<Vec<u32>> = all_orders
        .answer("all_orders")
        .as_array()
        .unwrap()
        .iter()
        .map(|order| all_orders.numbers(order))
        .collect();
    told.sort();
    orders.sort();
    assert_eq!(orders, told);

    let lex = case("nx_lex");
    assert_eq!(
        lex.graph().order().unwrap(),
        lex.numbers(lex.answer("lexicographic"))
    );
    let turned: Vec<u32> = (0..lex.names.len() as u32).rev().collect();
    let by_turned = lex.graph().order_by(&turned).unwrap();
    assert_eq!(
        by_turned,
        lex.numbers(lex.answer("reverse_key_lexicographic"))
    );

    let generations = case("nx_gen");
    let told: Vec<Vec<u32>> = generations
        .answer("generations")
        .as_array()
        .unwrap()
        .iter()
        .map(|layer| generations.sorted(layer))
        .collect();
    assert_eq!(generations.graph().layers().unwrap(), told);

    let turned = case("nx_rev");
    let order = turned.graph().reversed().order().unwrap();
    assert_eq!(order, turned.numbers(turned.answer("reversed_order")));

    let kin = case("nx_anc");
    let two = kin.number(&2.into());
    assert_eq!(
        kin.graph().all_before(two),
        kin.sorted(kin.answer("ancestors_of_2"))
    );
    assert_eq!(
        kin.graph().all_after(two),
        kin.sorted(kin.answer("descendants_of_2"))
    );

    let reduce = case("nx_reduce");
    let kept: Vec<Vec<u32>> = reduce
        .graph()
        .reduction()
        .unwrap()
        .iter()
        .map(|e| vec![e.before, e.after])
        .collect();
    let told = reduce.answer("transitive_reduction").as_array().unwrap();
    let told: Vec<Vec<u32>> = told.iter().map(|pair| reduce.numbers(pair)).collect();
    assert_eq!(kept, told);
}

/// dressing9 (memory).
#[test]
fn dressing9_published_order_and_closure() {
    let case = case("dressing9");
    assert_eq!(case.seen, "memory");
    let graph = case.graph();
    assert_eq!(
        graph.first_broken(&case.numbers(case.answer("one_published_order"))),
        None
    );
    let jacket = case.number(&"jacket".into());
    assert_eq!(
        graph.all_before(jacket),
        case.sorted(case.answer("must_come_before_jacket"))
    );
}

/// Fewest stations of a given time, filling stations in an order that the
/// planner allows: over every set of done tasks, the fewest stations and then
/// the least time used in the last.
fn fewest_stations(case: &Case, times: &[u64], cycle: u64) -> u64 {
    fn best(
        planner: &mut Planner,
        done: u64,
        times: &[u64],
        cycle: u64,
        known: &mut HashMap<u64, (u64, u64)>,
    ) -> (u64, u64) {
        if done == 0 {
            return (1, 0);
        }
        if let Some(&value) = known.get(&done) {
            return value;
        }
        let mut least = (u64::MAX, u64::MAX);
        // The task done last is one of those that hold nothing done up.
        for last in (0..times.len() as u32).filter(|&x| done >> x & 1 == 1) {
            if planner
                .graph()
                .after(last)
                .any(|(next, _)| planner.is_done(next))
            {
                continue;
            }
            planner.set_undone(last);
            let (stations, used) = best(planner, done & !(1 << last), times, cycle, known);
            planner.set_done(last);
            let time = times[last as usize];
            let then = if used + time <= cycle {
                (stations, used + time)
            } else {
                (stations + 1, time)
            };
            least = least.min(then);
        }
        known.insert(done, least);
        least
    }
    let every: Vec<u32> = (0..times.len() as u32).collect();
    let mut planner = Planner::with_done(case.graph(), &[], &every);
    best(
        &mut planner,
        (1 << times.len()) - 1,
        times,
        cycle,
        &mut HashMap::new(),
    )
    .0
}

fn durations(case: &Case) -> Vec<u64> {
    case.names
        .iter()
        .map(|n| case.told["duration"][n].as_u64().unwrap())
        .collect()
}

/// salbp6 (seen) and line11 (times seen, precedence memory): the balance of a
/// line is no matter of ours, but it can only come out right if the
/// precedence does.
#[test]
fn line_balances_come_out_over_the_precedence() {
    let six = case("salbp6");
    let stations = six.answer("min_stations_C10").as_u64().unwrap();
    assert_eq!(fewest_stations(&six, &durations(&six), 10), stations);

    let eleven = case("line11");
    let times = durations(&eleven);
    let cycle = eleven.answer("min_cycle_time_4_stations").as_u64().unwrap();
    assert_eq!(
        eleven.answer("published_optimum_recalled").as_u64(),
        Some(cycle)
    );
    assert!(fewest_stations(&eleven, &times, cycle) <= 4);
    assert_eq!(
        times.iter().max(),
        Some(&cycle),
        "one task alone takes that long"
    );
}

fn reference(count: usize, edges: &[Edge]) -> DiGraph<(), ()> {
    let mut graph = DiGraph::new();
    for _ in 0..count {
        graph.add_node(());
    }
    for edge in edges {
        graph.add_edge(
            NodeIndex::new(edge.before as usize),
            NodeIndex::new(edge.after as usize),
            (),
        );
    }
    graph
}

fn random(seed: u64) -> (usize, Vec<Edge>) {
    let mut seeded = Seeded::new(seed);
    let count = 2 + seeded.below(40);
    let links = seeded.below(4 * count);
    let mut edges = acyclic(&mut seeded, count, links);
    if seeded.chance(30) {
        // Some of these close a cycle.
        for _ in 0..3 {
            let (a, b) = (seeded.below(count) as u32, seeded.below(count) as u32);
            edges.push(Edge::new(a, b, Why::Stated));
        }
        edges.retain(|e| e.before != e.after);
    }
    (count, edges)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn closures_orders_and_cycles_agree_with_petgraph(seed in any::<u64>()) {
        let (count, edges) = random(seed);
        let graph = Precedence::new(count, &edges).unwrap();
        let other = reference(count, &edges);
        for node in 0..count as u32 {
            let start = NodeIndex::new(node as usize);
            let mut dfs = Dfs::new(&other, start);
            let mut after = HashSet::new();
            while let Some(x) = dfs.next(&other) { after.insert(x.index() as u32); }
            let mut own: HashSet<u32> = graph.all_after(node).into_iter().collect();
            own.insert(node);
            prop_assert_eq!(&own, &after);
            let mut dfs = Dfs::new(Reversed(&other), start);
            let mut before = HashSet::new();
            while let Some(x) = dfs.next(Reversed(&other)) { before.insert(x.index() as u32); }
            let mut own: HashSet<u32> = graph.all_before(node).into_iter().collect();
            own.insert(node);
            prop_assert_eq!(&own, &before);
        }
        match graph.order() {
            Ok(order) => {
                prop_assert!(!is_cyclic_directed(&other));
                prop_assert_eq!(graph.first_broken(&order), None);
                prop_assert_eq!(order.len(), count);
                let theirs: Vec<u32> =
                    toposort(&other, None).unwrap().iter().map(|x| x.index() as u32).collect();
                prop_assert_eq!(graph.first_broken(&theirs), None);
                // Their reduction wants nodes in a topological order.
                let sorted: Vec<NodeIndex> = theirs.iter().map(|&x| NodeIndex::new(x as usize)).collect();
                let (list, place) = tred::dag_to_toposorted_adjacency_list::<_, u32>(&other, &sorted);
                let (reduced, _) = tred::dag_transitive_reduction_closure(&list);
                let own: HashSet<(u32, u32)> = graph
                    .reduction().unwrap().iter()
                    .map(|e| (place[e.before as usize], place[e.after as usize]))
                    .collect();
                let their: HashSet<(u32, u32)> = (0..count as u32)
                    .flat_map(|x| reduced.neighbors(x).map(move |y| (x, y)).collect::<Vec<_>>())
                    .collect();
                prop_assert_eq!(own, their);
            }
            Err(cycle) => {
                prop_assert!(is_cyclic_directed(&other));
                let told: HashSet<(u32, u32)> = edges.iter().map(|e| (e.before, e.after)).collect();
                for (at, &node) in cycle.nodes.iter().enumerate() {
                    let next = cycle.nodes[(at + 1) % cycle.nodes.len()];
                    prop_assert!(told.contains(&(node, next)));
                }
                let apart: HashSet<_> = cycle.nodes.iter().collect();
                prop_assert_eq!(apart.len(), cycle.nodes.len());
            }
        }
    }

    #[test]
    fn the_order_edges_are_told_in_makes_no_difference(seed in any::<u64>()) {
        let (count, mut edges) = random(seed);
        let graph = Precedence::new(count, &edges).unwrap();
        Seeded::new(seed ^ 1).shuffle(&mut edges);
        let again = Precedence::new(count, &edges).unwrap();
        prop_assert_eq!(&graph, &again);
        prop_assert_eq!(graph.cycle(), again.cycle());
    }

    #[test]
    fn the_plan_after_each_act_is_the_plan_made_anew(seed in any::<u64>()) {
        let (count, mut edges) = random(seed);
        let mut seeded = Seeded::new(seed ^ 2);
        let priority: Vec<u32> = (0..count).map(|_| seeded.below(5) as u32).collect();
        let mut planner = Planner::new(Precedence::new(count, &edges).unwrap(), &priority);
        let mut done: HashSet<u32> = HashSet::new();
        for _ in 0..40 {
            let node = seeded.below(count) as u32;
            match seeded.below(8) {
                0 => {
                    let edge = Edge::new(node, seeded.below(count) as u32, Why::Routed);
                    edges.push(edge);
                    planner.add_edges(&[edge]).unwrap();
                }
                1 | 2 => prop_assert_eq!(planner.set_undone(node), done.remove(&node)),
                _ => prop_assert_eq!(planner.set_done(node), done.insert(node)),
            }
            let list: Vec<u32> = done.iter().copied().collect();
            let anew =
                Planner::with_done(Precedence::new(count, &edges).unwrap(), &priority, &list);
            prop_assert_eq!(planner.graph(), anew.graph());
            prop_assert_eq!(planner.plan(), anew.plan());
            assert_plan(&planner, &edges, &done)?;
        }
    }
}

/// Holds a plan against what the edges say, node by node.
fn assert_plan(
    planner: &Planner,
    edges: &[Edge],
    done: &HashSet<u32>,
) -> Result<(), TestCaseError> {
    let plan = planner.plan();
    let count = planner.graph().node_count() as u32;
    for node in 0..count {
        let mut by: Vec<(u32, Why)> = edges
            .iter()
            .filter(|e| e.after == node && e.before != node && !done.contains(&e.before))
            .map(|e| (e.before, e.why))
            .collect();
        by.sort_unstable();
        by.dedup();
        prop_assert_eq!(planner.blocked_by(node), by.clone());
        let ready = !done.contains(&node) && by.is_empty();
        prop_assert_eq!(plan.ready.contains(&node), ready);
        prop_assert_eq!(planner.is_ready(node), ready);
        let mut owed = planner.graph().all_before(node);
        owed.retain(|x| !done.contains(x) && *x != node);
        prop_assert_eq!(planner.would_bury(node), owed);
        let later_done = planner
            .graph()
            .all_after(node)
            .iter()
            .any(|x| done.contains(x));
        prop_assert_eq!(
            plan.buried.contains(&node),
            !done.contains(&node) && later_done
        );
    }
    prop_assert_eq!(
        plan.order.len() + plan.stuck.len() + done.len(),
        count as usize
    );
    prop_assert_eq!(planner.graph().first_broken(&plan.order), None);
    // Whoever follows the order finds each act ready when its turn comes.
    let mut walker = planner.clone();
    for &node in &plan.order {
        prop_assert!(walker.is_ready(node));
        walker.set_done(node);
    }
    Ok(())
}

/// A plug behind an alternator: it can be reached only while that is off.
#[test]
fn a_plug_behind_a_part_comes_first_and_would_be_buried() {
    let (plug, alternator, belt) = (0, 1, 2);
    let edges = [
        Edge::new(plug, alternator, Why::BlocksReach),
        Edge::new(alternator, belt, Why::Attached),
    ];
    let mut planner = Planner::new(Precedence::new(3, &edges).unwrap(), &[]);
    assert_eq!(planner.ready(), [plug]);
    assert_eq!(planner.blocked_by(alternator), [(plug, Why::BlocksReach)]);
    assert_eq!(planner.would_bury(alternator), [plug]);
    assert_eq!(planner.would_bury(belt), [plug, alternator]);
    planner.set_done(alternator);
    assert_eq!(planner.buried(), [plug]);
    planner.set_done(plug);
    assert_eq!(planner.ready(), [belt]);
    assert!(planner.would_bury(belt).is_empty());
}

#[test]
fn nodes_outside_the_graph_are_refused_by_number() {
    let wrong = Precedence::new(2, &[Edge::new(0, 2, Why::Stated)]);
    assert_eq!(wrong, Err(GraphError::NodeOutOfRange { node: 2, count: 2 }));
    let mut planner = Planner::new(Precedence::new(2, &[]).unwrap(), &[]);
    assert!(!planner.set_done(7) && !planner.set_undone(7) && !planner.is_ready(7));
    assert!(planner.would_bury(7).is_empty());
    let kept = planner.plan();
    assert!(planner.add_edges(&[Edge::new(5, 0, Why::Stated)]).is_err());
    assert_eq!(planner.plan(), kept);
    planner.add_nodes(1, &[]).unwrap();
    assert_eq!(planner.ready(), [0, 1, 2]);
}
