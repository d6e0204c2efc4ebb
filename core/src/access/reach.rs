//! The way in on the job's own things: the least that has to come off to get at
//! one of them, by acts or by minutes, and what each other way would take.
use super::from_job::{Goal, Laid, planned_parts};
use super::ways::{Measure, Ways, WaysError, Weight};
use super::{AtWork, Pace};
use crate::job::{Book, Job, PartState};
use crate::journal::*;

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
    pub pace: Pace,
}

impl<'a> Asking<'a> {
    pub fn of(book: &'a Book, work: &AtWork) -> Self {
        let job = book.job();
        let laid = Laid::of(job);
        let pace = Pace::of(book, work);
        let weights = laid
            .goals()
            .iter()
            .map(|&g| weight(job, &pace, g))
            .collect();
        Self {
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

    fn by_ways(&self, ways: &Ways, goal: Goal, by: Measure) -> Option<Result<Reach, WaysError>> {
        let node = self.laid.node(goal)?;
        let way = ways.least_work(node, &self.off, &self.weights, by);
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

/// What it takes to get a thing off.
fn weight(job: &Job, pace: &Pace, goal: Goal) -> Weight {
    let (acts, minutes) = match goal {
        Goal::Thing(Target::Part(id)) => (1, job.parts.slot(id).map_or(0, |s| pace.off(s))),
        Goal::Planned(n) => {
            let planned = planned_parts(job).get(n as usize);
            let fixings = planned.into_iter().flat_map(|p| &p.fixings);
            (1, pace.guess(fixings.map(|f| u32::from(f.count)).sum()))
        }
        Goal::Thing(Target::Connection(_)) | Goal::PlannedConnection(..) => (1, 1),
        Goal::Thing(Target::Fixing(id)) => {
            let n = job.fixings.get(id).map_or(0, |f| f.places.len() as u32);
            (1, pace.guess(n))
        }
        Goal::Thing(_) => (0, 0),
    };
    Weight { acts, minutes }
}
