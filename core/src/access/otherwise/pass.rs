//! Everything taken off again by number: what comes off as soon as what covers
//! it is off, by any one way.
use super::super::under::same_thing;
use super::Way;
use crate::journal::*;

/// One of these ways has to be off before a thing can come off.
#[derive(Clone)]
pub(super) struct Bound(pub(super) Vec<(Way, Vec<usize>)>);

/// Open acts by number, and what comes off before what.
pub(super) struct Pass {
    /// What goes back before each.
    pub(super) first: Vec<Vec<usize>>,
    pub(super) bound: Vec<Vec<Bound>>,
}

impl Pass {
    /// Takes off all that comes off with the ways over `closed` shut; says what
    /// did, and which had to be off for what, by the ways that were taken.
    pub(super) fn take_off(&self, closed: Option<Target>) -> (Vec<bool>, Vec<(usize, usize)>) {
        let n = self.first.len();
        let mut off = vec![false; n];
        let mut chosen = Vec::new();
        let mut over = vec![0_u32; n];
        for &before in self.first.iter().flatten() {
            if let Some(count) = over.get_mut(before) {
                *count += 1;
            }
        }
        let mut ready: Vec<usize> = (0..n).filter(|&at| over.get(at) == Some(&0)).collect();
        let mut waits: Vec<usize> = Vec::new();
        loop {
            while let Some(at) = ready.pop() {
                // The recorded way is kept to as long as it can be.
                match self.opened(at, &off, closed, true) {
                    Some(ways) => self.take(at, ways, &mut off, &mut over, &mut ready, &mut chosen),
                    None => waits.push(at),
                }
            }
            let open = |recorded: bool| {
                let mut all = waits.iter().enumerate();
                all.find_map(|(n, &at)| {
                    self.opened(at, &off, closed, recorded)
                        .map(|ways| (n, at, ways))
                })
            };
            let Some((n, at, ways)) = open(true).or_else(|| open(false)) else {
                return (off, chosen);
            };
            waits.swap_remove(n);
            self.take(at, ways, &mut off, &mut over, &mut ready, &mut chosen);
        }
    }

    fn take(
        &self,
        at: usize,
        ways: Vec<&[usize]>,
        off: &mut [bool],
        over: &mut [u32],
        ready: &mut Vec<usize>,
        chosen: &mut Vec<(usize, usize)>,
    ) {
        if let Some(it) = off.get_mut(at) {
            *it = true;
        }
        chosen.extend(ways.into_iter().flatten().map(|&x| (at, x)));
        for &before in self.first.get(at).into_iter().flatten() {
            if let Some(count) = over.get_mut(before) {
                *count -= 1;
                if *count == 0 {
                    ready.push(before);
                }
            }
        }
    }

    /// A way that is off for each thing that asks for one; none where one is
    /// lacking.
    fn opened(
        &self,
        at: usize,
        off: &[bool],
        closed: Option<Target>,
        recorded: bool,
    ) -> Option<Vec<&[usize]>> {
        let bounds = self.bound.get(at).into_iter().flatten();
        let n = if recorded { 1 } else { usize::MAX };
        bounds.map(|bound| bound.open(off, closed, n)).collect()
    }
}

impl Bound {
    /// What is off on one of the first `n` ways, where one is off as a whole.
    pub(super) fn open(&self, off: &[bool], closed: Option<Target>, n: usize) -> Option<&[usize]> {
        let shut = |way: &Way| closed.is_some_and(|c| way.iter().any(|&x| same_thing(x, c)));
        let mut ways = self.0.iter().take(n);
        let open = ways
            .find(|(way, nodes)| !shut(way) && nodes.iter().all(|&x| off.get(x) == Some(&true)));
        open.map(|(_, nodes)| nodes.as_slice())
    }
}
