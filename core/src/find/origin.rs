//! Where a fastener that turned up may belong, over all the jobs that are open:
//! the places that are short of one first. It offers and never assigns; "none
//! of these" is always an answer, and until one is given the stray stays open.

use super::JobKey;
use crate::fastener::identify::{Identification, Measured, Place, identify};
use crate::job::{Fixing, Job};
use crate::journal::{Account, FixingId};

/// Ranks the fixings of all `jobs` as the origin of a found fastener, with the
/// threads it may have and what to measure next.
pub fn origin_of(found: &Measured, jobs: &[(JobKey, &Job)]) -> Identification<FixingId, JobKey> {
    let places: Vec<Place<'_, FixingId, JobKey>> = jobs
        .iter()
        .flat_map(|&(key, job)| {
            job.fixings.iter().map(move |(id, it)| Place {
                key: id,
                job: key,
                spec: &it.spec,
                short: short_of_old(job, it),
            })
        })
        .collect();
    identify(found, &places)
}

/// How many of what came out are not to be found. New ones that are still to be
/// bought are none of these: a bolt on the floor is an old one.
fn short_of_old(job: &Job, fixing: &Fixing) -> u32 {
    if fixing.wants == fixing.old {
        job.short_of(fixing)
    } else {
        job.lines
            .get(fixing.old)
            .map_or(0, |line| line.count(Account::Missing))
    }
}
