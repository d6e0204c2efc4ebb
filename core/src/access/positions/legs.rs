//! The stands of one act, and the cheapest way through the stands of many.

use super::{ChangeCost, Stand};

/// More stands of one act than this are not told apart.
const MOST: usize = 6;

/// The stands from which one act is done: of none of them, from any.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Legs(Vec<Stand>);

impl Legs {
    pub fn one(stand: Stand) -> Self {
        Self::of([stand])
    }

    /// What another of them covers is left out.
    pub fn of(stands: impl IntoIterator<Item = Stand>) -> Self {
        let mut legs: Vec<Stand> = Vec::new();
        for stand in stands {
            if stand == Stand::default() || legs.iter().any(|&leg| stand.within(leg)) {
                continue;
            }
            legs.retain(|leg| !leg.within(stand));
            if legs.len() < MOST {
                legs.push(stand);
            }
        }
        Self(legs)
    }

    /// Some position is asked for.
    pub fn has_position(&self) -> bool {
        self.0.iter().any(|leg| leg.position.is_some())
    }

    pub(super) fn stands(&self) -> &[Stand] {
        &self.0
    }

    /// The one stand that it takes, if it takes no more.
    pub(super) fn only(&self) -> Option<Stand> {
        match self.0[..] {
            [] => Some(Stand::default()),
            [stand] => Some(stand),
            _ => None,
        }
    }

    /// It can be done at `at` without a change.
    pub(super) fn free_at(&self, at: Stand) -> bool {
        self.0.iter().all(|leg| leg.within(at))
    }

    /// Where the person can be after it, and the least that it takes to end
    /// there.
    pub(super) fn exits(&self, from: Stand, change: ChangeCost) -> Vec<Exit> {
        let mut exits = Vec::new();
        self.pass(&[Exit::start(from)], change, &mut exits);
        exits
    }

    /// From the ends of what was done before to the ends of this.
    fn pass(&self, from: &[Exit], change: ChangeCost, to: &mut Vec<Exit>) {
        let begun = from.iter().enumerate().map(|(n, exit)| Exit {
            entry: None,
            before: n,
            ..*exit
        });
        if let Some(stand) = self.only() {
            begun.for_each(|exit| keep(to, exit.through(stand, change)));
            return;
        }
        // By the legs done, as bits; each may end at several stands.
        let all = (1_usize << self.0.len()) - 1;
        let mut done: Vec<Vec<Exit>> = vec![Vec::new(); all + 1];
        begun.for_each(|exit| keep(&mut done[0], exit));
        for bits in 0..all {
            for at in std::mem::take(&mut done[bits]) {
                for (n, &leg) in self.0.iter().enumerate() {
                    if bits & 1 << n == 0 {
                        keep(&mut done[bits | 1 << n], at.through(leg, change));
                    }
                }
            }
        }
        to.append(&mut done[all]);
    }
}

/// A place to end at, and the least that it took to get there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Exit {
    pub(super) at: Stand,
    pub(super) cost: u64,
    pub(super) positions: usize,
    pub(super) tools: usize,
    /// The stand of the first leg of the last act.
    entry: Option<Stand>,
    /// Which of the ends before that act it came from.
    before: usize,
}

impl Exit {
    fn start(at: Stand) -> Self {
        Self {
            at,
            cost: 0,
            positions: 0,
            tools: 0,
            entry: None,
            before: 0,
        }
    }

    fn through(self, leg: Stand, change: ChangeCost) -> Self {
        let (position, tool) = self.at.changes(leg);
        let at = self.at.moved(leg);
        Self {
            at,
            cost: self.cost + change.of((position, tool)),
            positions: self.positions + usize::from(position),
            tools: self.tools + usize::from(tool),
            entry: self.entry.or(Some(at)),
            before: self.before,
        }
    }
}

/// Keeps the cheaper of two that end at one stand.
fn keep(exits: &mut Vec<Exit>, exit: Exit) {
    match exits.iter_mut().find(|it| it.at == exit.at) {
        Some(it) if exit.cost < it.cost => *it = exit,
        Some(_) => {}
        None => exits.push(exit),
    }
}

/// The end of the cheapest way through acts in this order.
pub(super) fn walk<'a>(
    acts: impl Iterator<Item = &'a Legs>,
    change: ChangeCost,
    from: Stand,
) -> Exit {
    let (mut ends, mut next) = (vec![Exit::start(from)], Vec::new());
    for legs in acts {
        legs.pass(&ends, change, &mut next);
        std::mem::swap(&mut ends, &mut next);
        next.clear();
    }
    let best = ends.into_iter().min_by_key(|exit| exit.cost);
    best.unwrap_or(Exit::start(from))
}

/// The stand at which each act is begun on that way.
pub(super) fn entries<'a>(
    acts: impl Iterator<Item = &'a Legs>,
    change: ChangeCost,
    from: Stand,
) -> Vec<Stand> {
    let mut steps: Vec<Vec<Exit>> = vec![vec![Exit::start(from)]];
    for legs in acts {
        let mut ends = Vec::new();
        legs.pass(steps.last().map_or(&[], Vec::as_slice), change, &mut ends);
        steps.push(ends);
    }
    let last = steps.last().into_iter().flatten().enumerate();
    let mut n = last.min_by_key(|(_, exit)| exit.cost).map_or(0, |it| it.0);
    let mut entries = Vec::with_capacity(steps.len());
    for step in steps.iter().skip(1).rev() {
        if let Some(exit) = step.get(n) {
            entries.push(exit.entry.unwrap_or(exit.at));
            n = exit.before;
        }
    }
    entries.reverse();
    entries
}
