//! Random graphs: closures, orders, cycles and reductions against petgraph as
//! reference, and the plan kept up act by act against the plan made anew and
//! against what the edges say.

use std::collections::HashSet;

use countback_checks::random_graphs::{Seeded, acyclic};
use countback_core::access::{Edge, Planner, Precedence, Why};
use petgraph::algo::{is_cyclic_directed, toposort, tred};
use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::{Dfs, IntoNeighbors, Reversed};
use proptest::prelude::*;

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

#[test]
fn what_waits_for_hundreds_is_planned_last() {
    // As many as the small counts of a plan hold, and one more each time.
    for many in [254, 255, 256, 300, 511] {
        let edges: Vec<Edge> = (1..=many)
            .map(|first| Edge::new(first, 0, Why::Stated))
            .collect();
        let graph = Precedence::new(many as usize + 1, &edges).unwrap();
        let mut planner = Planner::new(graph, &[]);
        let plan = planner.plan();
        assert_eq!(plan.order.last(), Some(&0), "{many}");
        assert_eq!(plan.order.len(), many as usize + 1);
        assert!(planner.set_done(1));
        assert_eq!(planner.plan().order.last(), Some(&0), "{many}");
    }
}
