//! The cost of a miss: what would come off again, by the cheapest way, and
//! what one more part on top makes of it.

use countback_checks::random_graphs::{Seeded, acyclic};
use countback_core::access::miss::{Again, Misses};
use countback_core::access::ways::{Ways, WaysError};
use countback_core::access::{Edge, Precedence, Why};
use proptest::prelude::*;

const fn again(parts: u32, fasteners: u32, minutes: u32) -> Again {
    Again {
        parts,
        fasteners,
        minutes,
    }
}

/// A sensor plug behind three parts, the last of them about to go on.
#[test]
fn a_plug_behind_three_parts_is_named_with_its_price() {
    let (plug, bracket, pump, guard) = (0, 1, 2, 3);
    let edges = [(plug, bracket), (bracket, pump), (pump, guard)]
        .map(|(b, a)| Edge::new(b, a, Why::BlocksReach));
    let graph = Precedence::new(4, &edges).unwrap();
    let ways = Ways::from_precedence(&graph);
    let again = [
        again(0, 0, 1),
        again(1, 2, 5),
        again(1, 4, 12),
        again(1, 3, 8),
    ];
    let in_place = [false, true, true, false];
    let misses = Misses {
        ways: &ways,
        in_place: &in_place,
        again: &again,
    };

    let now = misses.cost(plug).unwrap();
    assert_eq!(now.off_again, [pump, bracket]);
    assert_eq!((now.parts, now.fasteners, now.minutes), (2, 6, 17));
    let dearer = misses.made_dearer(guard, &[plug]);
    assert_eq!(dearer.len(), 1);
    assert_eq!(dearer[0].now, now);
    let then = &dearer[0].then;
    assert_eq!(then.off_again, [guard, pump, bracket]);
    assert_eq!((then.parts, then.fasteners, then.minutes), (3, 9, 25));
    // Nothing hangs on putting the plug itself right.
    assert!(misses.made_dearer(plug, &[plug]).is_empty());
}

/// With two ways in, the cheaper one is the price, and covering one of them
/// costs nothing as long as the other is open.
#[test]
fn the_cheaper_way_in_is_the_price() {
    let (nut, inlet, wheel, liner) = (0, 1, 2, 3);
    let mut ways = Ways::new(4);
    ways.alternative(nut, &[inlet]).unwrap();
    ways.alternative(nut, &[wheel, liner]).unwrap();
    let again = [
        again(0, 1, 2),
        again(1, 6, 40),
        again(1, 5, 10),
        again(1, 7, 15),
    ];

    let all = [false, true, true, true];
    let misses = Misses {
        ways: &ways,
        in_place: &all,
        again: &again,
    };
    let cost = misses.cost(nut).unwrap();
    assert_eq!((cost.parts, cost.fasteners, cost.minutes), (2, 12, 25));
    assert!(cost.exact);

    let liner_off = [false, false, true, false];
    let misses = Misses {
        ways: &ways,
        in_place: &liner_off,
        again: &again,
    };
    assert!(misses.cost(nut).unwrap().off_again.is_empty());
    assert!(
        misses.made_dearer(liner, &[nut]).is_empty(),
        "the inlet way is still open"
    );
    let inlet_on = [false, true, true, false];
    let misses = Misses {
        ways: &ways,
        in_place: &inlet_on,
        again: &again,
    };
    let dearer = misses.made_dearer(liner, &[nut]);
    assert_eq!((dearer[0].now.minutes, dearer[0].then.minutes), (10, 25));
}

#[test]
fn the_dearest_miss_comes_first_and_what_has_no_way_is_named() {
    let mut ways = Ways::new(6);
    ways.must(0, 1).unwrap();
    ways.must(2, 3).unwrap();
    ways.must(4, 5).unwrap();
    ways.must(5, 4).unwrap();
    let again = [
        Again::default(),
        again(1, 2, 5),
        Again::default(),
        again(1, 2, 30),
    ];
    let in_place = [false, true, false, true, false, true];
    let ranked = Misses {
        ways: &ways,
        in_place: &in_place,
        again: &again,
    }
    .rank(&[0, 2, 4]);
    let order: Vec<u32> = ranked.dearest_first.iter().map(|m| m.owed).collect();
    assert_eq!(order, [2, 0]);
    assert_eq!(
        ranked.no_way,
        [(4, WaysError::NeedsItself { round: vec![4, 5] })]
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// Without alternatives there is nothing to choose: what comes off again
    /// is what is in place and can be reached upwards from the thing owed
    /// without passing a thing that is not in place.
    #[test]
    fn without_alternatives_it_is_what_lies_on_top(seed in any::<u64>()) {
        let mut seeded = Seeded::new(seed);
        let count = 2 + seeded.below(60);
        let links = seeded.below(3 * count);
        let edges = acyclic(&mut seeded, count, links);
        let graph = Precedence::new(count, &edges).unwrap();
        let ways = Ways::from_precedence(&graph);
        let in_place: Vec<bool> = (0..count).map(|_| seeded.chance(70)).collect();
        let again: Vec<Again> = (0..count)
            .map(|_| again(seeded.below(2) as u32, seeded.below(9) as u32, seeded.below(40) as u32))
            .collect();
        let owed = seeded.below(count) as u32;
        let mut on_top = vec![false; count];
        loop {
            let mut grown = false;
            for e in &edges {
                let through = e.before == owed || on_top[e.before as usize];
                let after = e.after as usize;
                if through && in_place[after] && !on_top[after] {
                    on_top[after] = true;
                    grown = true;
                }
            }
            if !grown { break; }
        }
        let wanted: Vec<u32> = (0..count as u32).filter(|&x| on_top[x as usize]).collect();
        let miss = Misses { ways: &ways, in_place: &in_place, again: &again }.cost(owed).unwrap();
        let mut off = miss.off_again.clone();
        off.sort_unstable();
        prop_assert_eq!(&off, &wanted);
        prop_assert!(miss.exact);
        prop_assert_eq!(graph.reversed().first_broken(&miss.off_again), None);
        let minutes: u64 = wanted.iter().map(|&x| u64::from(again[x as usize].minutes)).sum();
        prop_assert_eq!(miss.minutes, minutes);
    }
}
