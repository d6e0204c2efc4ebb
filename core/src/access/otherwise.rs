//! Other ways to a part that is not back and fast: where one was noted that is
//! open, what closes the recorded way buries nothing yet; and what closes the
//! last one does, though it was not in the way when the part came off.
//!
//! Putting back is looked at the other way about. From everything on, things
//! come off again as soon as what covers them is off, by any one way, until
//! all that is off now is off. A thing may go back exactly when that still
//! comes out with every way over it closed. Nothing is lost by taking off what
//! can be, so one pass decides.
use rustc_hash::{FxHashMap, FxHashSet};

use super::back::{Act, Held, fixing_held};
use super::sequence::{index_of, places_of};
use super::settled::{own, settled};
use super::under::{Cover, Under, came_first, joints_open, same_thing};
use crate::job::{EndState, Job, PartState, PlaceState};
use crate::journal::*;

/// What follows from other ways that were noted; empty in most jobs.
#[derive(Default)]
pub struct Otherwise {
    /// Of each part that can still be got at by a noted way or the recorded
    /// one: all its ways that are open, the recorded one first.
    ways: FxHashMap<PartId, Vec<Way>>,
    /// Parts to which a thing closes the last way.
    held: FxHashMap<Target, Vec<PartId>>,
    /// What goes back before what by the ways that an order was found with.
    pub(super) order: Vec<(Target, Target)>,
}

/// Things that have to be off together.
type Way = Vec<Target>;

impl Otherwise {
    /// Every part with noted ways that is not settled, and holds nothing yet.
    pub(super) fn of(job: &Job) -> Self {
        let mut it = Self::default();
        for &id in &job.ways_noted {
            if !demand(job, id).is_empty() {
                let ways = open_ways(job, id);
                // None open: it is buried already, and stands as recorded.
                if !ways.is_empty() {
                    it.ways.insert(id, ways);
                }
            }
        }
        it
    }

    pub(super) fn is_empty(&self) -> bool {
        self.ways.is_empty()
    }

    /// The part can be got at although this closes.
    pub(super) fn frees(&self, part: PartId, closes: Target) -> bool {
        self.ways.contains_key(&part) && !self.holders(closes).any(|p| p == part)
    }

    /// Parts that have to be done before this closes the last way to them.
    pub(super) fn holders(&self, closes: Target) -> impl Iterator<Item = PartId> + '_ {
        let whole = match closes {
            Target::End(end) => Some(Target::Connection(end.connection)),
            _ => None,
        };
        let of = move |what| self.held.get(&what).into_iter().flatten().copied();
        of(closes).chain(whole.into_iter().flat_map(of))
    }

    /// Parts to which this closes a way, each with what is off on one that
    /// stays open.
    pub fn still_open(&self, closes: Target) -> Vec<(PartId, Vec<Target>)> {
        let mut out = Vec::new();
        for (&part, ways) in &self.ways {
            let over = |way: &&Way| way.iter().any(|&x| same_thing(x, closes));
            if self.frees(part, closes)
                && ways.iter().any(|way| over(&way))
                && let Some(way) = ways.iter().find(|way| !over(way))
            {
                out.push((part, way.clone()));
            }
        }
        out.sort_unstable();
        out
    }

    /// Finds out what is held, from the open acts and what holds them up
    /// besides the ways. Says whether that came out: where it did not, some
    /// parts stand as they were recorded, and it is to be asked again.
    pub(super) fn hold(
        job: &Job,
        under: &mut Under,
        acts: &[Act],
        blockers: &[Vec<Target>],
    ) -> bool {
        let steps = Steps::of(job, acts);
        let mut pass = steps.pass(job, under, acts, blockers);
        let it = &mut under.otherwise;
        let mut nodes: Vec<(PartId, usize)> = Vec::new();
        let mut bound_of: FxHashMap<PartId, Bound> = FxHashMap::default();
        for (&part, ways) in &it.ways {
            for (node, bound) in steps.bounds(job, part, ways) {
                nodes.push((part, node));
                bound_of.entry(part).or_insert_with(|| bound.clone());
                if let Some(all) = pass.bound.get_mut(node) {
                    all.push(bound);
                }
            }
        }
        it.found(&pass, acts, nodes, &bound_of)
    }

    fn found(
        &mut self,
        pass: &Pass,
        acts: &[Act],
        mut nodes: Vec<(PartId, usize)>,
        bound_of: &FxHashMap<PartId, Bound>,
    ) -> bool {
        nodes.sort_unstable();
        let (off, chosen) = pass.take_off(None);
        let stuck = |off: &[bool], part: PartId| {
            let mut of = nodes.iter().filter(|(p, _)| *p == part);
            of.any(|&(_, node)| off.get(node) != Some(&true))
        };
        let n = self.ways.len();
        self.ways.retain(|&part, _| !stuck(&off, part));
        if self.ways.len() < n {
            return false;
        }
        let mut closing: Vec<Target> = self.ways.values().flatten().flatten().copied().collect();
        closing.sort_unstable();
        closing.dedup();
        for closes in closing {
            let (off, _) = pass.take_off(Some(closes));
            for (&part, ways) in &self.ways {
                let over = |way: &Way| way.iter().any(|&x| same_thing(x, closes));
                let lost = |bound: &Bound| bound.open(&off, Some(closes), ways.len()).is_none();
                if ways.iter().any(over) && bound_of.get(&part).is_some_and(lost) {
                    self.held.entry(closes).or_default().push(part);
                }
            }
        }
        for held in self.held.values_mut() {
            held.sort_unstable();
        }
        let what = |node: usize| acts.get(node).map(|a| a.what);
        let pairs = chosen.into_iter();
        self.order = pairs
            .filter_map(|(before, after)| what(before).zip(what(after)))
            .collect();
        true
    }
}

/// One of these ways has to be off before a thing can come off.
#[derive(Clone)]
struct Bound(Vec<(Way, Vec<usize>)>);

/// Open acts by number, and what comes off before what.
struct Pass {
    /// What goes back before each.
    first: Vec<Vec<usize>>,
    bound: Vec<Vec<Bound>>,
}

impl Pass {
    /// Takes off all that comes off with the ways over `closed` shut; says what
    /// did, and which had to be off for what, by the ways that were taken.
    fn take_off(&self, closed: Option<Target>) -> (Vec<bool>, Vec<(usize, usize)>) {
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
    fn open(&self, off: &[bool], closed: Option<Target>, n: usize) -> Option<&[usize]> {
        let shut = |way: &Way| closed.is_some_and(|c| way.iter().any(|&x| same_thing(x, c)));
        let mut ways = self.0.iter().take(n);
        let open = ways
            .find(|(way, nodes)| !shut(way) && nodes.iter().all(|&x| off.get(x) == Some(&true)));
        open.map(|(_, nodes)| nodes.as_slice())
    }
}

/// Open acts by number, and after them the fixings still open.
struct Steps {
    acts: FxHashMap<Target, usize>,
    fixings: FxHashMap<FixingId, usize>,
}

impl Steps {
    fn of(job: &Job, acts: &[Act]) -> Self {
        let index = index_of(acts);
        let open = job.fixings.iter().filter(|(id, it)| {
            let its_own = index.contains_key(&Target::Fixing(*id));
            !its_own
                && it
                    .parts
                    .iter()
                    .any(|&p| index.contains_key(&Target::Part(p)))
        });
        let open = open.map(|(id, _)| id);
        let open = open.filter(|&id| !settled(job, Target::Fixing(id)));
        Self {
            fixings: open.zip(acts.len()..).collect(),
            acts: index,
        }
    }

    /// The steps in which a thing is done.
    fn nodes(&self, job: &Job, what: Target) -> impl Iterator<Item = usize> + use<> {
        let fixing = match what {
            Target::Fixing(id) => self.fixings.get(&id).copied(),
            _ => None,
        };
        let acts = match fixing {
            Some(_) => [None, None],
            None => places_of(job, &self.acts, what),
        };
        fixing.into_iter().chain(acts.into_iter().flatten())
    }

    fn pass(&self, job: &Job, under: &Under, acts: &[Act], blockers: &[Vec<Target>]) -> Pass {
        let n = acts.len() + self.fixings.len();
        let mut pass = Pass {
            first: vec![Vec::new(); n],
            bound: vec![Vec::new(); n],
        };
        for ((first, by), act) in pass.first.iter_mut().zip(blockers).zip(acts) {
            for &what in by {
                first.extend(self.nodes(job, what));
                // What has to be back has to be fast as well, by then.
                if let Target::Part(id) = what
                    && let Some(part) = job.parts.get(id)
                {
                    let mut joints = Vec::new();
                    joints_open(job, part, Cover::of(job, act.what), &mut joints);
                    let nodes = joints.iter().flat_map(|&what| self.nodes(job, what));
                    first.extend(nodes);
                }
            }
        }
        for (&id, &node) in &self.fixings {
            let mut held = Held::default();
            let _ = fixing_held(job, under, id, &mut held);
            if let Some(first) = pass.first.get_mut(node) {
                let parts = job.fixings.get(id).into_iter().flat_map(|f| &f.parts);
                let parts = parts.map(|&p| Target::Part(p));
                for what in held.blocked.into_iter().chain(parts) {
                    first.extend(self.nodes(job, what));
                }
            }
        }
        pass
    }

    /// The steps that a part needs a way for, each with what has to be off.
    fn bounds(&self, job: &Job, part: PartId, ways: &[Way]) -> Vec<(usize, Bound)> {
        let Some(it) = job.parts.get(part) else {
            return Vec::new();
        };
        let mut out = Vec::new();
        let mut add = |what: Target, but: &[PartId]| {
            for node in self.nodes(job, what) {
                let ways = ways.iter().map(|way| {
                    let over = way.iter().filter(|x| match x {
                        Target::Part(p) => !but.contains(p),
                        _ => **x != what,
                    });
                    let nodes = over.flat_map(|&x| self.nodes(job, x));
                    (way.clone(), nodes.collect())
                });
                out.push((node, Bound(ways.collect())));
            }
        };
        add(Target::Part(part), &[]);
        for &end in it.ends.iter().filter(|&&e| needs_way_end(job, part, e)) {
            add(Target::End(end), &[]);
        }
        for &id in it
            .fixings
            .iter()
            .filter(|&&f| needs_way_fixing(job, part, f))
        {
            let with = job.fixings.get(id).map(|f| f.parts.as_slice());
            // What it clamps has to be there.
            add(Target::Fixing(id), with.unwrap_or_default());
        }
        out
    }
}

/// What of a part has still to be reached: itself, or what is open on it and
/// was undone with something off that was in the way.
fn demand(job: &Job, part: PartId) -> Vec<Target> {
    let Some(it) = job.parts.get(part) else {
        return Vec::new();
    };
    match it.state {
        PartState::LeftOff => Vec::new(),
        PartState::Off | PartState::Aside => vec![Target::Part(part)],
        PartState::Placed => {
            let fixings = it.fixings.iter().copied();
            let fixings = fixings.filter(|&f| needs_way_fixing(job, part, f));
            let ends = it.ends.iter().copied();
            let ends = ends.filter(|&e| needs_way_end(job, part, e));
            let rest = own(it).filter(|&what| !settled(job, what));
            let fixings = fixings.map(Target::Fixing);
            fixings.chain(ends.map(Target::End)).chain(rest).collect()
        }
    }
}

fn needs_way_fixing(job: &Job, part: PartId, fixing: FixingId) -> bool {
    let opened = job.fixings.get(fixing).map(|f| f.opened);
    !settled(job, Target::Fixing(fixing)) && opened.is_some_and(|it| past_cover(job, part, it))
}

fn needs_way_end(job: &Job, part: PartId, end: EndId) -> bool {
    let first = job.end(end).and_then(|e| e.first);
    !settled(job, Target::End(end)) && first.is_some_and(|it| past_cover(job, part, it))
}

/// By this act, something was off that had been in the way of the part.
fn past_cover(job: &Job, part: PartId, opened: EventId) -> bool {
    let mut seen: FxHashSet<PartId> = FxHashSet::default();
    let mut next = vec![part];
    while let Some(id) = next.pop() {
        if !seen.insert(id) {
            continue;
        }
        for need in job.parts.get(id).into_iter().flat_map(|p| &p.after) {
            if Cover::of(job, need.first).off <= opened {
                return true;
            }
            if let Target::Part(first) = need.first
                && let Some(it) = job.parts.get(first)
                && it.state == PartState::LeftOff
            {
                next.push(first);
            }
        }
    }
    false
}

/// What of a part has to be done before a noted way to it closes.
pub(super) fn open_by_noted(job: &Job, part: PartId, cover: Cover, out: &mut Vec<Target>) {
    let owed = demand(job, part).into_iter();
    out.extend(owed.filter(|&what| match what {
        Target::Fixing(f) => {
            let parts = job.fixings.get(f).into_iter().flat_map(|f| &f.parts);
            let mut parts = parts.copied();
            !parts.any(|p| cover.what == Target::Part(p) || cover.before(job, p))
                && !came_first(job, cover.what, what)
        }
        Target::End(end) => !later_end(job, end, cover),
        _ => true,
    }));
}

/// The end is joined after the cover is on.
fn later_end(job: &Job, end: EndId, cover: Cover) -> bool {
    let on = job.end(end).and_then(|e| e.end.on);
    same_thing(cover.what, Target::Connection(end.connection))
        || on.is_some_and(|p| cover.before(job, p))
        || came_first(job, cover.what, Target::End(end))
}

/// All ways to a part that are open now, the recorded one first.
fn open_ways(job: &Job, part: PartId) -> Vec<Way> {
    let Some(it) = job.parts.get(part) else {
        return Vec::new();
    };
    let all = [&it.after].into_iter().chain(&it.ways);
    all.filter_map(|needs| open_way(job, part, needs)).collect()
}

/// What has to be off on a way; none where any of it is back. What is left off
/// lets through to what had to be off before it.
fn open_way(job: &Job, part: PartId, needs: &[Need]) -> Option<Way> {
    let mut way: Way = Vec::new();
    let mut seen: FxHashSet<Target> = FxHashSet::default();
    let mut next: Vec<Target> = needs.iter().map(|n| n.first).collect();
    while let Some(what) = next.pop() {
        if !seen.insert(what) {
            continue;
        }
        match what {
            Target::Part(id) if id == part => return None,
            Target::Part(id) => {
                let first = job.parts.get(id)?;
                match first.state {
                    PartState::LeftOff => next.extend(first.after.iter().map(|n| n.first)),
                    PartState::Placed => return None,
                    PartState::Off | PartState::Aside => way.push(what),
                }
            }
            Target::Connection(id) => {
                let it = job.connections.get(id)?;
                let ends = [it.a.state, it.b.state];
                let apart = |e: &EndState| matches!(e, EndState::Parted | EndState::LeftOff);
                if !ends.iter().any(apart)
                    || !ends.iter().all(|e| apart(e) || *e == EndState::Undisturbed)
                {
                    return None;
                }
                way.push(what);
            }
            Target::End(end) => {
                let state = job.end(end)?.state;
                if !matches!(state, EndState::Parted | EndState::LeftOff) {
                    return None;
                }
                way.push(what);
            }
            Target::Fixing(id) => {
                let places = &job.fixings.get(id)?.places;
                if places.iter().any(|p| p.state > PlaceState::Slackened) {
                    return None;
                }
                way.push(what);
            }
            // Nothing is put back that closes these.
            _ => {}
        }
    }
    way.sort_unstable();
    Some(way)
}
