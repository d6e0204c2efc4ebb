//! What a start finds: a first run, the jobs as they were left, or a loss.

use super::batch::JobHead;
use crate::ports::marker::{Mark, Marks};

/// The three ways a store can open.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Opening {
    /// No job here and no mark of one.
    FirstRun,
    /// Every mark is met.
    Known { jobs: usize },
    /// Something acknowledged is not there. Never greet this as a first run: offer the backup.
    Lost { jobs: Vec<LostJob> },
}

/// A job of which something is gone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LostJob {
    pub job: String,
    /// Acts acknowledged earlier, and acts there now.
    pub had: u32,
    pub have: u32,
    /// How many of the last entries are missing. 0 means that as many are there but not the same.
    pub missing: u32,
}

/// Compares what is there with the marks; brings marks up to date where the store is ahead (a write
/// whose acknowledgement the page did not live to see).
pub(super) fn compare(marks: &Marks, heads: &[JobHead]) -> Opening {
    let mut lost = Vec::new();
    let all = marks.all();
    for (job, mark) in &all {
        let head = heads.iter().find(|head| head.job == *job);
        let have = head.map_or(0, |head| head.count);
        if mark.deleting && head.is_none() {
            marks.remove(job);
        } else if have < mark.last_seq || head.is_some_and(|head| differs(mark, head)) {
            let missing = mark.last_seq.saturating_sub(have);
            lost.push(LostJob {
                job: job.clone(),
                had: mark.last_seq,
                have,
                missing,
            });
        }
    }
    for head in heads {
        let is_lost = lost.iter().any(|gone| gone.job == head.job);
        if !is_lost && all.get(&head.job) != Some(&mark_of(head)) {
            marks.set(&head.job, &mark_of(head));
        }
    }
    if !lost.is_empty() {
        Opening::Lost { jobs: lost }
    } else if heads.is_empty() {
        Opening::FirstRun
    } else {
        Opening::Known { jobs: heads.len() }
    }
}

pub(super) fn mark_of(head: &JobHead) -> Mark {
    Mark {
        last_seq: head.count,
        head: head.head.clone(),
        deleting: false,
    }
}

fn differs(mark: &Mark, head: &JobHead) -> bool {
    mark.last_seq == head.count && mark.head != head.head
}
