//! What waits: each wait holds back exactly what it must, what can be done
//! now never has to be undone, and the outstanding ones are listed by what
//! they hold up.

use std::collections::BTreeSet;

use countback_checks::random_graphs::{Seeded, acyclic};
use countback_core::access::waiting::{Gate, Waiting};
use countback_core::access::{Edge, Planner, Precedence, Why};
use proptest::prelude::*;

fn chain(edges: &[(u32, u32)], count: usize) -> Precedence {
    let edges: Vec<Edge> = edges
        .iter()
        .map(|&(b, a)| Edge::new(b, a, Why::BlocksReach))
        .collect();
    Precedence::new(count, &edges).unwrap()
}

/// Sealant at 10:05 on day 0, fluid after 24 hours: the fill is held until
/// 10:05 on day 1, other work is offered, and it is known at reopening
/// however long the app was closed.
#[test]
fn a_cure_holds_until_its_time_and_no_longer() {
    const MINUTE: i64 = 60_000;
    let applied = (10 * 60 + 5) * MINUTE;
    let until_ms = applied + 24 * 60 * MINUTE;
    let (fill, start, bracket) = (0, 1, 2);
    let planner = Planner::new(chain(&[(fill, start)], 3), &[]);
    let mut waiting = Waiting::new();
    waiting.hold(fill, Gate::Cure { id: 7, until_ms });

    let at_16 = waiting.outlook(&planner, &[20, 5, 10], 16 * 60 * MINUTE);
    assert_eq!(at_16.now, [bracket]);
    assert_eq!(at_16.next_cure_ms, Some(until_ms));
    assert_eq!(at_16.waiting[0].node, fill);
    assert!(at_16.waiting[0].else_ready);
    assert_eq!(at_16.holds[0].nodes, [fill, start]);
    assert_eq!(at_16.holds[0].minutes, 25);

    assert_eq!(waiting.outlook(&planner, &[], until_ms - 1).now, [bracket]);
    for later in [until_ms, until_ms + 40 * 24 * 60 * MINUTE] {
        let over = waiting.outlook(&planner, &[], later);
        assert_eq!(over.now, [fill, bracket]);
        assert!(over.waiting.is_empty() && over.holds.is_empty());
        assert_eq!(over.next_cure_ms, None);
    }
}

/// Two washers that have not come hold the joint and what comes after it;
/// the rest stays ready. A delivery that holds up more is named first.
#[test]
fn deliveries_are_listed_by_what_they_hold_up() {
    let (joint, tank, start, cover, seat) = (0, 1, 2, 3, 4);
    let planner = Planner::new(
        chain(&[(joint, tank), (tank, start), (cover, start)], 5),
        &[],
    );
    let mut waiting = Waiting::new();
    let (washers, gasket, choice) = (Gate::Delivery(1), Gate::Delivery(2), Gate::Decision(1));
    waiting.hold(joint, washers);
    waiting.hold(cover, gasket);
    waiting.hold(cover, choice);
    let outlook = waiting.outlook(&planner, &[10, 30, 5, 15, 60], 0);
    assert_eq!(outlook.now, [seat]);
    let order: Vec<Gate> = outlook.holds.iter().map(|held| held.gate).collect();
    assert_eq!(order, [washers, gasket, choice]);
    assert_eq!(outlook.holds[0].nodes, [joint, tank, start]);
    assert_eq!(outlook.holds[0].minutes, 45);
    assert_eq!(outlook.holds[0].by_it_alone, [joint, tank]);
    assert_eq!(outlook.holds[0].minutes_alone, 40);
    // The cover waits for two things: neither alone would free it.
    assert_eq!(outlook.holds[1].minutes, 20);
    assert!(outlook.holds[1].by_it_alone.is_empty());
    assert_eq!(outlook.waiting[1].gates, [gasket, choice]);
}

/// A check that was skipped lies under a cover already on: nothing more goes
/// on top of it.
#[test]
fn what_would_have_to_come_off_again_is_not_offered() {
    let (pipe, cover, shield) = (0, 1, 2);
    let mut planner = Planner::new(chain(&[(pipe, cover), (cover, shield)], 3), &[]);
    planner.set_done(cover);
    let mut waiting = Waiting::new();
    waiting.hold(pipe, Gate::Check(3));
    let outlook = waiting.outlook(&planner, &[], 0);
    assert!(outlook.now.is_empty());
    assert_eq!(outlook.would_bury[0].node, shield);
    assert_eq!(outlook.would_bury[0].owed, [pipe]);
    assert_eq!(outlook.holds[0].nodes, [pipe, shield]);

    planner.set_done(pipe);
    assert_eq!(waiting.outlook(&planner, &[], 0).now, [shield]);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// Held against the definition: a thing can be done now exactly when it
    /// is not done, nothing outstanding is set on it, and nothing that must
    /// come before it, near or far, is open.
    #[test]
    fn holds_back_exactly_what_it_must(seed in any::<u64>()) {
        let mut seeded = Seeded::new(seed);
        let count = 2 + seeded.below(30);
        let links = seeded.below(3 * count);
        let graph = Precedence::new(count, &acyclic(&mut seeded, count, links)).unwrap();
        let done: Vec<u32> = (0..count as u32).filter(|_| seeded.chance(40)).collect();
        let planner = Planner::with_done(graph, &[], &done);
        let minutes: Vec<u32> = (0..count).map(|_| seeded.below(50) as u32).collect();
        let mut waiting = Waiting::new();
        let mut set: Vec<(u32, Gate)> = Vec::new();
        for _ in 0..seeded.below(8) {
            let id = seeded.below(3) as u32;
            let gate = match seeded.below(4) {
                0 => Gate::Delivery(id),
                1 => Gate::Decision(id),
                2 => Gate::Cure { id, until_ms: seeded.below(100) as i64 },
                _ => Gate::Check(id),
            };
            set.push((seeded.below(count) as u32, gate));
        }
        for &(node, gate) in &set {
            waiting.hold(node, gate);
        }
        let now_ms = 50;
        let outlook = waiting.outlook(&planner, &minutes, now_ms);
        let open = |x: u32| !planner.is_done(x);
        let gated = |x: u32| set.iter().any(|&(node, gate)| node == x && gate.holds(now_ms));
        let wanted: Vec<u32> = (0..count as u32)
            .filter(|&x| open(x) && !gated(x))
            .filter(|&x| planner.graph().all_before(x).iter().all(|&b| !open(b)))
            .collect();
        prop_assert_eq!(&outlook.now, &wanted);
        for bury in &outlook.would_bury {
            prop_assert!(!bury.owed.is_empty() && !outlook.now.contains(&bury.node));
        }
        let gates: BTreeSet<Gate> = set
            .iter()
            .filter(|&&(node, gate)| open(node) && gate.holds(now_ms))
            .map(|&(_, gate)| gate)
            .collect();
        prop_assert_eq!(outlook.holds.len(), gates.len());
        for held in &outlook.holds {
            let on: Vec<u32> =
                set.iter().filter(|s| s.1 == held.gate && open(s.0)).map(|s| s.0).collect();
            let mut nodes: BTreeSet<u32> = on.iter().copied().collect();
            for &node in &on {
                nodes.extend(planner.graph().all_after(node).into_iter().filter(|&x| open(x)));
            }
            let nodes: Vec<u32> = nodes.into_iter().collect();
            prop_assert_eq!(&held.nodes, &nodes);
            let sum: u64 = nodes.iter().map(|&x| u64::from(minutes[x as usize])).sum();
            prop_assert_eq!(held.minutes, sum);
            // With this gate alone settled, those it alone holds could be
            // finished one after another without another wait.
            let mut without = Waiting::new();
            for &(node, gate) in set.iter().filter(|s| s.1 != held.gate) {
                without.hold(node, gate);
            }
            let still: BTreeSet<u32> = without
                .outlook(&planner, &minutes, now_ms)
                .holds
                .iter()
                .flat_map(|h| h.nodes.clone())
                .collect();
            let alone: Vec<u32> = nodes.iter().copied().filter(|x| !still.contains(x)).collect();
            prop_assert_eq!(&held.by_it_alone, &alone);
        }
        let minutes: Vec<u64> = outlook.holds.iter().map(|h| h.minutes).collect();
        prop_assert!(minutes.is_sorted_by(|a, b| a >= b));
    }
}
