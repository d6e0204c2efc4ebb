//! Random graphs and ways from a seed, the same on every machine, for the
//! checks and the benches of the order.

use countback_core::access::ways::{Ways, WaysError};
use countback_core::access::{Edge, Why};

/// A small generator (xorshift, 64 bits) that needs no crate and never
/// changes.
#[derive(Clone, Debug)]
pub struct Seeded(u64);

impl Seeded {
    pub fn new(seed: u64) -> Self {
        let mut seeded = Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1);
        for _ in 0..8 {
            seeded.next();
        }
        seeded
    }

    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0.wrapping_mul(0x2545_f491_4f6c_dd1d)
    }

    /// A number below `end`; 0 when `end` is 0.
    pub fn below(&mut self, end: usize) -> usize {
        if end == 0 {
            return 0;
        }
        (((self.next() >> 32) * end as u64) >> 32) as usize
    }

    pub fn chance(&mut self, percent: usize) -> bool {
        self.below(100) < percent
    }

    pub fn shuffle<T>(&mut self, items: &mut [T]) {
        for i in (1..items.len()).rev() {
            items.swap(i, self.below(i + 1));
        }
    }
}

const WHYS: [Why; 6] = [
    Why::BlocksReach,
    Why::Attached,
    Why::SharesFixing,
    Why::Supports,
    Why::Routed,
    Why::Stated,
];

/// `edges` constraints over `count` nodes without a cycle, along a hidden
/// random order, mostly between near neighbours as on a machine.
pub fn acyclic(seeded: &mut Seeded, count: usize, edges: usize) -> Vec<Edge> {
    if count < 2 {
        return Vec::new();
    }
    let mut hidden: Vec<u32> = (0..count as u32).collect();
    seeded.shuffle(&mut hidden);
    (0..edges)
        .map(|_| {
            let from = seeded.below(count - 1);
            let room = count - 1 - from;
            let near = if seeded.chance(80) {
                room.min(60)
            } else {
                room
            };
            let to = from + 1 + seeded.below(near);
            Edge::new(hidden[from], hidden[to], WHYS[seeded.below(WHYS.len())])
        })
        .collect()
}

/// Ways with alternatives over `count` things: some must-be-off-first, some
/// things with two or three ways of one to `widest` things, loops and all.
/// `spare` further things lie open, for the caller to use.
pub fn ways(
    seeded: &mut Seeded,
    count: usize,
    spare: usize,
    widest: usize,
) -> Result<Ways, WaysError> {
    let mut ways = Ways::new(count + spare);
    for node in 0..count as u32 {
        if seeded.chance(25) {
            ways.must(node, seeded.below(count) as u32)?;
        }
        if seeded.chance(60) {
            for _ in 0..2 + seeded.below(2) {
                let size = 1 + seeded.below(widest);
                let first: Vec<u32> = (0..size).map(|_| seeded.below(count) as u32).collect();
                ways.alternative(node, &first)?;
            }
        }
    }
    Ok(ways)
}

/// Things in layers, each but the last layer with `choices` ways of two of
/// the next; 0 asks for all of the first layer. Nothing lies open early, and
/// what is needed is shared at every depth.
pub fn layered_ways(
    seeded: &mut Seeded,
    layers: usize,
    width: usize,
    choices: usize,
) -> Result<Ways, WaysError> {
    let mut ways = Ways::new(1 + layers * width);
    for first in 0..width {
        ways.must(0, 1 + first as u32)?;
    }
    for layer in 0..layers.saturating_sub(1) {
        for place in 0..width {
            let node = (1 + layer * width + place) as u32;
            for _ in 0..choices {
                let mut next = || (1 + (layer + 1) * width + seeded.below(width)) as u32;
                let pair = [next(), next()];
                ways.alternative(node, &pair)?;
            }
        }
    }
    Ok(ways)
}

/// `asks` requirements of the target 0, each met by any one of `choices` of
/// `count` things: the covering question, hard in general.
pub fn covering_ways(
    seeded: &mut Seeded,
    asks: usize,
    count: usize,
    choices: usize,
) -> Result<Ways, WaysError> {
    let mut ways = Ways::new(1 + asks + count);
    for ask in 0..asks {
        let node = 1 + ask as u32;
        ways.must(0, node)?;
        for _ in 0..choices {
            ways.alternative(node, &[(1 + asks + seeded.below(count)) as u32])?;
        }
    }
    Ok(ways)
}
