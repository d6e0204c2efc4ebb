//! The way back: every act still open, whether it can be done now, what blocks
//! it or what it waits for, and an order for all of them.
use rustc_hash::FxHashSet;

use super::sequence::sequence;
use super::settled::{final_held, own, settled};
use super::under::{Cover, Under, noted, recorded};
use crate::job::{Buy, EndState, Fixing, Job, Part, PartState, Place, PlaceState};
use crate::journal::*;

/// What an act on the way back waits for that no hand can hurry.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Wait {
    Delivery(Want),
    Decision(FindingId),
    /// Cleaning, mending or renewing that was decided.
    Work(FindingId),
    /// What it goes over has not cured.
    Cure(TreatmentId),
    /// A place of its own is broken, and is repaired while it is off.
    Repair(FixingId),
    /// Nobody knows where it is.
    Lost(PartId),
    /// It was covered by this part, which is on and has to come off again.
    Behind(PartId),
    /// It is on over this, which is not done: all that is done to it now would
    /// have to be undone.
    Over(Target),
    /// What the end sits on is left off by decision, and nobody has said what
    /// becomes of the end.
    Seat(PartId),
    /// The final torque alone is left, and that comes under weight or heat.
    Hold(FixingId),
}

/// How an act stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stand {
    Now,
    Blocked(Vec<Target>),
    Waiting(Vec<Wait>),
}

/// One act on the way back: placing and fastening a part, or joining an end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Act {
    pub what: Target,
    pub stand: Stand,
    /// The part is placed and only its fixings, ends or checks are open.
    pub begun: bool,
}

/// The way back as it stands.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Back {
    /// Open acts in an order that access allows, the last off first.
    pub acts: Vec<Act>,
    /// Acts that must each come before the other: the record contradicts itself.
    pub circle: Vec<Target>,
    /// What goes before what in that order though either could be first: a part
    /// that can be got at in several ways, before the one that was reckoned
    /// with closes.
    pub by_choice: Vec<(Target, Target)>,
    /// Parts that wait for what they go over to cure.
    pub cures: Vec<(Target, TreatmentId)>,
}

impl Back {
    pub fn now(&self) -> impl Iterator<Item = &Act> {
        self.acts.iter().filter(|a| a.stand == Stand::Now)
    }
    pub fn stand_of(&self, what: Target) -> Option<&Stand> {
        self.acts.iter().find(|a| a.what == what).map(|a| &a.stand)
    }
}

/// What holds an act back.
#[derive(Default)]
pub(super) struct Held {
    pub blocked: Vec<Target>,
    waits: Vec<Wait>,
}

impl Held {
    fn stand(&mut self) -> Stand {
        if !self.blocked.is_empty() {
            Stand::Blocked(self.blocked.clone())
        } else if !self.waits.is_empty() {
            Stand::Waiting(std::mem::take(&mut self.waits))
        } else {
            Stand::Now
        }
    }
}

/// Works out the way back from the job as it stands.
pub fn back(job: &Job) -> Back {
    back_over(job, &Under::of(job))
}

/// As [`back`], with what has not cured by `now` (ms since 1970) and is to be
/// covered only when it has.
pub fn back_at(job: &Job, now: i64) -> Back {
    back_over(job, &Under::at(job, now))
}

/// As [`back`], where what lies under the parts is known already.
pub fn back_over(job: &Job, under: &Under) -> Back {
    let (acts, blockers) = gather(job, under);
    let by_choice = &under.otherwise.order;
    let mut back = sequence(job, acts, &blockers, by_choice);
    back.cures = under.all_cures();
    if back.circle.is_empty() && dead_end(&back.acts) {
        back.circle = back.acts.iter().map(|a| a.what).collect();
    }
    back
}

/// Every act still open, and what must come before each; the last off first.
pub(super) fn gather(job: &Job, under: &Under) -> (Vec<Act>, Vec<Vec<Target>>) {
    // Things that were put on over what was owed: rare, so looked for once.
    let covered = job
        .parts
        .iter()
        .any(|(id, p)| p.state == PartState::Placed && !under.open(job, id).is_empty());
    let bought: FxHashSet<PartId> = job
        .buys
        .rows()
        .filter_map(|b| stands_for_part(job, b))
        .collect();
    let mut acts = Vec::new();
    let mut blockers: Vec<Vec<Target>> = Vec::new();
    // Last off is first back, unless access says otherwise.
    for (id, part) in job.parts.iter().rev() {
        let what = Target::Part(id);
        if settled(job, what) {
            continue;
        }
        let begun = part.state == PartState::Placed;
        let mut held = if begun {
            unfinished(job, under, id, part)
        } else {
            hold_back(job, under, covered, id, part)
        };
        if !begun && bought.contains(&id) {
            held.waits.extend(bought_for(job, id));
        }
        acts.push(Act {
            what,
            stand: held.stand(),
            begun,
        });
        // What is on already takes its turn at once.
        blockers.push(if begun { Vec::new() } else { held.blocked });
    }
    // What sits on the machine itself, such as a drain plug, or stayed on it
    // where its part is left off.
    for (id, fixing) in job.fixings.iter().rev() {
        let what = Target::Fixing(id);
        let left_off = |p: &PartId| {
            job.parts
                .get(*p)
                .is_some_and(|p| p.state == PartState::LeftOff)
        };
        if !fixing.parts.iter().all(left_off) || settled(job, what) {
            continue;
        }
        let mut held = Held::default();
        let _ = fixing_held(job, under, id, &mut held);
        acts.push(Act {
            what,
            stand: held.stand(),
            begun: fixing.places.iter().any(|p| p.state > PlaceState::Doubtful),
        });
        blockers.push(held.blocked);
    }
    for (end, _, it) in job.ends() {
        let what = Target::End(end);
        if settled(job, what) {
            continue;
        }
        let mut held = end_held(job, under, end);
        acts.push(Act {
            what,
            stand: held.stand(),
            begun: it.state > EndState::Parted,
        });
        blockers.push(held.blocked);
    }
    (acts, blockers)
}

/// As [`Back::circle`], without working out the order. Bonds that were found out
/// point to what came off earlier, so only what was written down against that
/// order can close a circle; a record in which nothing was has none.
pub fn circle(job: &Job, under: &Under) -> Vec<Target> {
    if job.against_order() {
        back_over(job, under).circle
    } else {
        Vec::new()
    }
}

/// Nothing can be done, nothing will come by itself, and nothing is only to be
/// taken out first: the acts that are left hold each other up.
fn dead_end(acts: &[Act]) -> bool {
    !acts.is_empty()
        && acts.iter().all(|act| match &act.stand {
            Stand::Blocked(by) => by.iter().all(|what| {
                matches!(
                    what,
                    Target::Part(_) | Target::Fixing(_) | Target::Connection(_) | Target::End(_)
                )
            }),
            Stand::Now | Stand::Waiting(_) => false,
        })
}

/// What must come before a part, and what it waits for itself.
fn hold_back(job: &Job, under: &Under, covered: bool, id: PartId, part: &Part) -> Held {
    let mut held = Held {
        blocked: if covered {
            under.deep(job, id)
        } else {
            under.open(job, id)
        },
        waits: under.cures(id).map(Wait::Cure).collect(),
    };
    let behind = under.behind(Target::Part(id));
    held.waits.extend(behind.map(Wait::Behind));
    // New items and sealant go on as the part goes back; the rest waits.
    for what in own(part).filter(|&what| !settled(job, what)) {
        held.waits.extend(wait_of(job, what));
    }
    // A stump is drilled out while its part is still off.
    for &fixing in &part.fixings {
        let broken = |f: &Fixing| f.count_where(|p| p.state == PlaceState::Broken) > 0;
        if job.fixings.get(fixing).is_some_and(broken) {
            held.waits.push(Wait::Repair(fixing));
        }
    }
    let line = job.lines.get(LineId(id.0));
    if line.is_some_and(|it| it.count(Account::Missing) > 0) {
        held.waits.push(Wait::Lost(id));
    }
    // Nor is it put there when nothing can hold it.
    let fixings = part.fixings.iter().map(|&f| wait_for(job, f));
    if let Some(fixings) = fixings.collect::<Option<Vec<Wait>>>()
        && !fixings.is_empty()
    {
        held.waits.extend(fixings);
        held.waits.sort_unstable();
        held.waits.dedup();
    }
    held
}

/// The delivery without which nothing of a fixing can be done.
fn wait_for(job: &Job, id: FixingId) -> Option<Wait> {
    let fixing = job.fixings.get(id)?;
    let unfinished =
        |p: &Place| (p.state.filled() && !p.state.finished()) || p.state == PlaceState::Broken;
    let (short, want) = job.cannot_fill(id, fixing);
    let stuck =
        short > 0 && short == job.open_places(fixing) && fixing.count_where(unfinished) == 0;
    let to_buy = |&&i: &&ItemId| job.items.get(i).is_some_and(|i| i.to_buy() > 0);
    match fixing.items.iter().find(to_buy) {
        Some(&item) => Some(Wait::Delivery(Want::Item(item))),
        None => stuck.then_some(Wait::Delivery(want)),
    }
}

/// All that is left of a fixing to put in is not to hand. Nothing of it is
/// tightened until the last is in, so it waits, however many are.
fn rest_short(job: &Job, id: FixingId, fixing: &Fixing) -> Option<Wait> {
    let (short, want) = job.cannot_fill(id, fixing);
    let broken = fixing.count_where(|p| p.state == PlaceState::Broken) > 0;
    let rest = short > 0 && short == job.open_places(fixing) && !broken;
    rest.then_some(Wait::Delivery(want))
}

/// What a thing on a part waits for that no hand can hurry.
fn wait_of(job: &Job, what: Target) -> Option<Wait> {
    match what {
        Target::Item(item) => {
            let to_buy = job.items.get(item).is_some_and(|i| i.to_buy() > 0);
            to_buy.then_some(Wait::Delivery(Want::Item(item)))
        }
        Target::Finding(finding) => {
            let undecided = job
                .findings
                .get(finding)
                .is_some_and(|f| f.decision.is_none());
            Some(if undecided {
                Wait::Decision(finding)
            } else {
                Wait::Work(finding)
            })
        }
        _ => None,
    }
}

/// What a part that is on was put over before it was done, and still is not.
pub fn hides<'a>(job: &'a Job, id: PartId, part: &'a Part) -> impl Iterator<Item = Target> + 'a {
    let on = part.state == PartState::Placed;
    let buried = part.buried.iter().copied().filter(move |_| on);
    buried.filter(move |&what| {
        // What lies on the part itself is done on its own page.
        let own = own(part).any(|it| it == what);
        let done = match what {
            Target::Finding(_) | Target::Item(_) | Target::Treatment(_) => own,
            Target::Part(inner) => job.parts.get(inner).is_none_or(|it| !it.off()),
            _ => false,
        };
        !done && what != Target::Part(id) && !settled(job, what)
    })
}

fn bought_for(job: &Job, part: PartId) -> impl Iterator<Item = Wait> + '_ {
    job.buys
        .iter()
        .filter(move |(_, b)| stands_for_part(job, b) == Some(part))
        .map(|(buy, _)| Wait::Delivery(Want::Line(buy)))
}

/// The part in place of which something is bought that has not come. What is
/// bought for it besides, such as a clip or paste, does not hold it.
fn stands_for_part(job: &Job, it: &Buy) -> Option<PartId> {
    let Target::Part(id) = it.on else {
        return None;
    };
    let same = |part: &Part| part.name.trim().eq_ignore_ascii_case(it.what.trim());
    let held = it.arrived < it.n && job.parts.get(id).is_some_and(same);
    held.then_some(id)
}

/// Adds what holds an open fixing back; says whether it can be got on with.
pub(super) fn fixing_held(job: &Job, under: &Under, id: FixingId, held: &mut Held) -> bool {
    let Some(fixing) = job.fixings.get(id) else {
        return false;
    };
    let what = Target::Fixing(id);
    let cover = Cover {
        what,
        off: fixing.opened,
    };
    let mut first: Vec<Target> = fixing
        .parts
        .iter()
        .filter(|&&p| job.parts.get(p).is_some_and(Part::off))
        .map(|&p| Target::Part(p))
        .collect();
    let of_its_own = |what: &Target| matches!(what, Target::Part(p) if fixing.parts.contains(p));
    for &other in job.gave_way_to(what).iter().filter(|&w| !of_its_own(w)) {
        recorded(job, &under.otherwise, other, cover, &mut first);
    }
    noted(job, &under.otherwise, cover, &mut first);
    if !first.is_empty() {
        held.blocked.extend(first);
    } else if let Some(by) = under.behind(what) {
        held.waits.push(Wait::Behind(by));
    } else if let Some(wait) = wait_for(job, id).or_else(|| rest_short(job, id, fixing)) {
        held.waits.push(wait);
    } else if final_held(job, fixing) {
        held.waits.push(Wait::Hold(id));
    } else {
        return true;
    }
    false
}

/// What a part that is on still lacks. It can be got on with as long as one
/// thing on it can be done; only when none can does it wait.
fn unfinished(job: &Job, under: &Under, id: PartId, part: &Part) -> Held {
    let mut held = Held::default();
    if let Some(what) = hides(job, id, part).next() {
        held.waits.push(Wait::Over(what));
        return held;
    }
    for &id in &part.fixings {
        if !settled(job, Target::Fixing(id)) && fixing_held(job, under, id, &mut held) {
            return Held::default();
        }
    }
    for what in own(part).filter(|&what| !settled(job, what)) {
        match wait_of(job, what) {
            Some(wait) => held.waits.push(wait),
            None => return Held::default(),
        }
    }
    if !held.waits.is_empty() {
        // What comes by itself is waited for first.
        held.blocked.clear();
        return held;
    }
    // Its ends are acts of their own.
    for &end in &part.ends {
        if !settled(job, Target::End(end)) {
            held.blocked.push(Target::End(end));
        }
    }
    held
}

/// What must come before an end is joined, and what it waits for.
fn end_held(job: &Job, under: &Under, end: EndId) -> Held {
    let mut held = Held::default();
    let Some(connection) = job.connections.get(end.connection) else {
        return held;
    };
    let it = connection.end(end.side);
    let what = Target::End(end);
    let cover = Cover {
        what,
        off: it.first.unwrap_or(connection.opened),
    };
    for &first in job
        .gave_way_to(what)
        .iter()
        .chain(job.gave_way_to(Target::Connection(end.connection)))
    {
        recorded(job, &under.otherwise, first, cover, &mut held.blocked);
    }
    noted(job, &under.otherwise, cover, &mut held.blocked);
    held.waits.extend(under.behind(what).map(Wait::Behind));
    if let Some(part) = it.end.on
        && job.parts.get(part).is_some_and(Part::off)
        && !connection
            .after
            .iter()
            .any(|n| n.first == Target::Part(part))
    {
        held.blocked.push(Target::Part(part));
    }
    // A hose that may be renewed is not joined before that is decided.
    let found = under.found_on(end).into_iter();
    held.waits
        .extend(found.filter_map(|id| wait_of(job, Target::Finding(id))));
    let left_off = |p: &Part| p.state == PartState::LeftOff;
    if let Some(part) = it.end.on
        && job.parts.get(part).is_some_and(left_off)
    {
        held.waits.push(Wait::Seat(part));
    }
    held.waits.extend(
        it.items
            .iter()
            .filter(|&&i| job.items.get(i).is_some_and(|i| i.to_buy() > 0))
            .map(|&i| Wait::Delivery(Want::Item(i))),
    );
    held
}
