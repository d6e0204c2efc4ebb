//! The way in on the job's own things: the least that has to come off to get at
//! one of them, by acts or by minutes, and what each other way would take.
use super::from_job::{Goal, Laid, planned_connection, planned_parts};
use super::ways::{Measure, Ways, WaysError, Weight};
use super::{AtWork, Pace};
use crate::job::{Book, EndState, Job, PartState};
use crate::journal::*;
use std::collections::BTreeSet;

/// A way in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reach {
    /// What comes off, in an order that works.
    pub take_off: Vec<Goal>,
    pub acts: u64,
    pub minutes: u64,
    /// No way is less than this in the measure asked for.
    pub at_least: u64,
    pub exact: bool,
}

/// A job made ready for any number of questions.
pub struct Asking<'a> {
    laid: Laid<'a>,
    ways: Ways,
    off: Vec<bool>,
    weights: Vec<Weight>,
    /// Fixings that are counted once and not with each of their parts.
    apart: BTreeSet<FixingId>,
    pub pace: Pace,
}

impl<'a> Asking<'a> {
    pub fn of(book: &'a Book, work: &AtWork) -> Self {
        let job = book.job();
        let laid = Laid::of(job);
        let pace = Pace::of(book, work);
        let apart = apart(job);
        let weights = laid
            .goals()
            .iter()
            .map(|&g| weight(job, &pace, &apart, g))
            .collect();
        Self {
            apart,
            ways: laid.ways(None),
            off: laid.off(),
            weights,
            laid,
            pace,
        }
    }

    /// As it was before the first part came off: all on but what was left off
    /// by decision, with the pace that the job has told since.
    pub fn from_whole(book: &'a Book, work: &AtWork) -> Self {
        let job = book.job();
        let mut asking = Self::of(book, work);
        asking.off.fill(false);
        for (id, part) in job.parts.iter() {
            let node = asking.laid.node(Goal::Thing(Target::Part(id)));
            let off = node.and_then(|n| asking.off.get_mut(n as usize));
            if let Some(off) = off {
                *off = part.state == PartState::LeftOff;
            }
        }
        asking
    }

    pub fn is_off(&self, goal: Goal) -> bool {
        let node = self.laid.node(goal);
        node.and_then(|n| self.off.get(n as usize)) == Some(&true)
    }

    /// Minutes to take a thing off.
    pub fn minutes(&self, goal: Goal) -> u32 {
        let node = self.laid.node(goal);
        let weight = node.and_then(|n| self.weights.get(n as usize));
        weight.map_or(0, |w| w.minutes)
    }

    /// The least work to get at `goal`; none where it is not of this job.
    ///
    /// # Errors
    /// [`WaysError::NeedsItself`] where every way comes round to itself.
    pub fn least(&self, goal: Goal, by: Measure) -> Option<Result<Reach, WaysError>> {
        self.by_ways(&self.ways, goal, by)
    }

    /// Each way that was told, by itself.
    pub fn each(&self, goal: Goal, by: Measure) -> Vec<Reach> {
        let n = self.laid.sets(goal).len();
        if n < 2 {
            return Vec::new();
        }
        let of = |one: usize| {
            let ways = self.laid.ways(Some((goal, one)));
            self.by_ways(&ways, goal, by)?.ok()
        };
        (0..n).filter_map(of).collect()
    }

    /// With what is counted once as things to be off before each part that it
    /// holds, but for the part that is asked for: its own come after it is
    /// got at.
    fn with_apart(&self, ways: &Ways, goal: Goal) -> Ways {
        let mut ways = ways.clone();
        for &id in &self.apart {
            let parts = self.laid.job.fixings.get(id).map(|f| f.parts.as_slice());
            let parts = parts.unwrap_or_default().iter();
            let parts = parts.map(|&part| Goal::Thing(Target::Part(part)));
            let first = self.laid.node(Goal::Thing(Target::Fixing(id)));
            for part in parts.filter(|&part| part != goal) {
                if let Some((node, first)) = self.laid.node(part).zip(first) {
                    let _ = ways.must(node, first);
                }
            }
        }
        ways
    }

    fn by_ways(&self, ways: &Ways, goal: Goal, by: Measure) -> Option<Result<Reach, WaysError>> {
        let node = self.laid.node(goal)?;
        let least = |ways: &Ways| ways.least_work(node, &self.off, &self.weights, by);
        // Where the fixings that are counted once come round to themselves,
        // something is written down that cannot be: the parts alone tell.
        let way = least(&self.with_apart(ways, goal)).or_else(|_| least(ways));
        Some(way.map(|way| {
            Reach {
                take_off: way
                    .take_off
                    .iter()
                    .filter_map(|&n| self.laid.goal(n))
                    .collect(),
                acts: way.acts,
                minutes: way.minutes,
                at_least: way.at_least,
                exact: way.exact,
            }
        }))
    }
}

/// Fixings that hold several parts, or that had to be undone before something.
fn apart(job: &Job) -> BTreeSet<FixingId> {
    let of_parts = job.parts.rows().map(|it| (&it.after, &it.ways));
    let of_hoses = job.connections.rows().map(|it| (&it.after, &it.ways));
    let needs = of_parts.chain(of_hoses);
    let needs = needs.flat_map(|(after, ways)| after.iter().chain(ways.iter().flatten()));
    let named = needs.filter_map(|need| match need.first {
        Target::Fixing(id) => Some(id),
        _ => None,
    });
    let several = job.fixings.iter().filter(|(_, f)| f.parts.len() > 1);
    named.chain(several.map(|(id, _)| id)).collect()
}

/// What it takes to get a thing off. An act is a fastener undone, an end
/// parted, or a part lifted off.
fn weight(job: &Job, pace: &Pace, apart: &BTreeSet<FixingId>, goal: Goal) -> Weight {
    let places = |id: FixingId| job.fixings.get(id).map_or(0, |f| f.places.len() as u32);
    let (acts, minutes) = match goal {
        Goal::Thing(Target::Part(id)) => {
            let fixings = job.parts.get(id).into_iter().flat_map(|p| &p.fixings);
            let own = fixings.filter(|&f| !apart.contains(f));
            let minutes = job.parts.slot(id).map_or(0, |s| pace.off(s));
            (1 + own.map(|&f| places(f)).sum::<u32>(), minutes)
        }
        Goal::Planned(n) => {
            let planned = planned_parts(job).get(n as usize);
            let fixings = planned.into_iter().flat_map(|p| &p.fixings);
            let n = fixings.map(|f| u32::from(f.count)).sum();
            (1 + n, pace.guess(n))
        }
        Goal::Thing(Target::Connection(id)) => {
            let ends = job.connections.get(id).map_or(1, |c| {
                let ends = [&c.a, &c.b].into_iter();
                ends.filter(|e| e.state != EndState::Undisturbed).count() as u32
            });
            (ends.max(1), 1)
        }
        Goal::PlannedConnection(of, n) => {
            let ends = planned_connection(job, of, n)
                .map_or(1, |it| u32::from(!it.stays) + u32::from(it.far.off));
            (ends.max(1), 1)
        }
        // The minutes of what holds several are in those of its parts.
        Goal::Thing(Target::Fixing(id)) => {
            let several = job.fixings.get(id).is_some_and(|f| f.parts.len() > 1);
            let minutes = if several { 0 } else { pace.guess(places(id)) };
            (places(id), minutes)
        }
        Goal::Thing(_) => (0, 0),
    };
    Weight { acts, minutes }
}
