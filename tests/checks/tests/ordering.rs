//! The order of going back: every case of ordering_cases.json (its citation
//! and whether it was seen stand in the file and are printed when a case
//! fails).

mod ordering_cases;

use std::collections::HashMap;

use countback_core::access::ways::{Measure, Ways};
use countback_core::access::{Edge, GraphError, Planner, Precedence, Why};
use ordering_cases::{Case, all, case};

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
