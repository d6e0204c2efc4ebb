//! The cost of a miss, on the job's own things: what would have to come off
//! again to get at one of them, in parts, fasteners and minutes.
use super::Node;
use super::from_job::{Goal, Laid, part_of, planned_parts};
use super::miss::{Again, Miss, Misses};
use super::pace::{AtWork, Pace};
use super::ways::Ways;
use crate::audit::{Owed, Rule};
use crate::job::{Book, PartState};
use crate::journal::*;

/// What it takes to get at a thing again; the minutes are for off and back.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Cost {
    pub parts: u32,
    pub fasteners: u32,
    pub minutes: u32,
}

impl Cost {
    /// Nothing has to come off again.
    pub fn none(self) -> bool {
        self == Self::default()
    }
    /// The dearer is the greater.
    pub fn rank(self) -> (u32, u32, u32) {
        (self.minutes, self.parts, self.fasteners)
    }
}

/// The things of a job as the ways to them, with what each costs to take off.
pub struct Costs<'a> {
    book: &'a Book,
    laid: Laid<'a>,
    ways: Ways,
    in_place: Vec<bool>,
    again: Vec<Again>,
    /// The minutes go by the person's own log.
    pub learned: bool,
}

impl<'a> Costs<'a> {
    /// Reads the job once for any number of questions.
    pub fn of(book: &'a Book, work: &AtWork) -> Self {
        let job = book.job();
        let laid = Laid::of(job);
        let pace = Pace::of(book, work);
        let mut again = vec![Again::default(); laid.count()];
        for ((slot, part), again) in job.parts.rows().enumerate().zip(&mut again) {
            let fixings = part.fixings.iter().filter_map(|&f| job.fixings.get(f));
            *again = Again {
                parts: 1,
                fasteners: fixings.map(|f| f.places.len() as u32).sum(),
                minutes: pace.both(slot),
            };
        }
        for (goal, again) in laid.goals().into_iter().zip(&mut again) {
            // A hose or a plug is no part, and takes a minute each way as the
            // way in has it.
            if let Goal::Thing(Target::Connection(_)) | Goal::PlannedConnection(..) = goal {
                again.minutes = 2;
            }
            // What the procedure expects and is still on: nobody has timed it.
            let Goal::Planned(n) = goal else { continue };
            let fixings = planned_parts(job).get(n as usize).map(|p| &p.fixings);
            let fixings = fixings.into_iter().flatten();
            let fasteners = fixings.map(|f| u32::from(f.count)).sum();
            *again = Again {
                parts: 1,
                fasteners,
                minutes: pace.guess(fasteners).saturating_mul(2),
            };
        }
        Self {
            ways: laid.ways(None),
            in_place: laid.off().iter().map(|off| !off).collect(),
            again,
            learned: pace.learned(),
            book,
            laid,
        }
    }

    /// What has to come off to reach what lies behind `part`, once it is on.
    fn behind(&self, part: PartId) -> Cost {
        let Some(node) = self.node(Target::Part(part)) else {
            return Cost::default();
        };
        // The part itself comes off as well as what lies over it.
        self.reach(node).plus(self.again.get(node as usize))
    }

    /// What would have to come off again to settle what is owed on a thing,
    /// once `part` is on over it: the part itself at the least.
    pub fn once_on(&self, on: Target, part: PartId) -> Cost {
        let least = self.behind(part);
        let Some(placing) = self.node(Target::Part(part)) else {
            return least;
        };
        let (node, again) = match self.got_at(on) {
            GotAt::Itself(node) => (node, None),
            GotAt::Under(node) => (node, self.again.get(node as usize)),
            GotAt::Nowhere => return least,
        };
        let then = self.misses().cost_after(node, placing);
        let then = then.map_or(least, |miss| Cost::of(&miss).plus(again));
        if then.none() { least } else { then }
    }

    /// What has to come off again before a line of the audit can be settled, as
    /// things stand.
    pub fn of_owed(&self, owed: &Owed) -> Cost {
        let now = match self.got_at(owed.on) {
            GotAt::Itself(node) => self.reach(node),
            GotAt::Under(node) => self.reach(node).plus(self.again.get(node as usize)),
            GotAt::Nowhere => Cost::default(),
        };
        match (owed.rule, owed.with.first()) {
            // More than what buried it may lie over it.
            (Rule::Buried, Some(&Target::Part(over))) => {
                let least = self.behind(over);
                if now.rank() > least.rank() {
                    now
                } else {
                    least
                }
            }
            _ => now,
        }
    }

    /// By what a thing is got at.
    fn got_at(&self, what: Target) -> GotAt {
        let job = self.book.job();
        // A washer of a fixing or an end is got at as those are.
        let mut on = what;
        while let Target::Item(id) = on {
            match job.items.get(id) {
                Some(item) => on = item.on,
                None => return GotAt::Nowhere,
            }
        }
        if let Target::Treatment(id) = on
            && let Some(it) = job.treatments.get(id)
        {
            on = it.treatment.on;
        }
        // What goes under a part that is on takes that part off again.
        if on != what
            && let Target::Part(part) = on
            && job
                .parts
                .get(part)
                .is_some_and(|p| p.state == PartState::Placed)
            && let Some(node) = self.node(on)
        {
            return GotAt::Under(node);
        }
        if self.node(on).is_none()
            && let Some(part) = part_of(job, on)
        {
            on = Target::Part(part);
        }
        self.node(on).map_or(GotAt::Nowhere, GotAt::Itself)
    }

    fn node(&self, what: Target) -> Option<Node> {
        self.laid.node(Goal::Thing(what))
    }

    /// What is in the way of a thing, itself not counted.
    fn reach(&self, node: Node) -> Cost {
        let on = |n: &Node| self.in_place.get(*n as usize) == Some(&true);
        // Open by one way at least: nothing to work out.
        if self.ways.is_open(node, |n| !on(&n)) {
            return Cost::default();
        }
        let miss = self.misses().cost(node);
        miss.map(|m| Cost::of(&m)).unwrap_or_default()
    }

    fn misses(&self) -> Misses<'_> {
        Misses {
            ways: &self.ways,
            in_place: &self.in_place,
            again: &self.again,
        }
    }
}

/// By what a thing is got at.
enum GotAt {
    Itself(Node),
    /// By taking this off.
    Under(Node),
    /// It is of no thing of the job.
    Nowhere,
}

impl Cost {
    fn of(miss: &Miss) -> Self {
        let fit = |n: u64| u32::try_from(n).unwrap_or(u32::MAX);
        Self {
            parts: fit(miss.parts),
            fasteners: fit(miss.fasteners),
            minutes: fit(miss.minutes),
        }
    }
    fn plus(self, again: Option<&Again>) -> Self {
        let again = again.copied().unwrap_or_default();
        Self {
            parts: self.parts.saturating_add(again.parts),
            fasteners: self.fasteners.saturating_add(again.fasteners),
            minutes: self.minutes.saturating_add(again.minutes),
        }
    }
}
