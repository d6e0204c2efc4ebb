//! What each act opens and what settles it, read off the job as it stands.
//! Settling is never recorded apart: a debt is gone when the state that made
//! it is gone, so no debt can be lost and none can linger.
//!
//! | act | opens | settled by |
//! |---|---|---|
//! | part off, swung aside | place | part placed, or left off with a reason |
//! | fasteners undone, slackened | start, tighten | started, tightened to final |
//! | hole measured, tightened on too little thread | would bottom, holds too little | out, or another bolt or hole |
//! | part, gasket or washer new after its hole was measured | hole old | measured again |
//! | fasteners tightened by angle, or stretch bolts | old or new | new ones chosen, or the old kept with a reason |
//! | fasteners to be looked at undone | look at | said to be good, new ones chosen, or the old kept with a reason |
//! | last round asked for, all final | last round | gone round, none turned |
//! | washer, spacer or stud out | fit | fitted with its fixing |
//! | end parted | rejoin, secure | pushed on, clicked or tight |
//! | one-use item removed | renew | new one fitted |
//! | rag, tool, pin, cover put in | take out | taken out |
//! | fluid drained | fill, bleed | filled, bled |
//! | less put in than came out | less in | the level seen to be right |
//! | lubricant or sealant prescribed | apply, let cure | applied, its time over |
//! | supply isolated | restore | restored |
//! | make-safe step listed | confirm | confirmed |
//! | finding noted | decide, then the work | decided, work done |
//! | safety-critical fixing or end | independent check | checked by another name |
//! | thing missing, stray found | find, identify | found, identified, excepted |
//! | check after running owed | that check | done |
//! | touched after a break and not sure | doubtful, not sure | done anew, or touched and sure |
mod care;
mod joints;
mod parts;

use crate::audit::{Owed, Rule};
use crate::job::Job;
use crate::journal::*;

/// Everything owed, in the order in which it came up within each kind.
pub fn owed(job: &Job, now: i64) -> Vec<Owed> {
    let mut owed = Vec::new();
    care::inside(job, &mut owed);
    care::steps(job, &mut owed);
    parts::parts(job, &mut owed);
    joints::fixings(job, &mut owed);
    joints::ends(job, &mut owed);
    joints::items(job, &mut owed);
    care::fluids(job, &mut owed);
    care::treatments(job, now, &mut owed);
    care::supplies(job, &mut owed);
    care::findings(job, &mut owed);
    care::strays(job, &mut owed);
    care::after_runs(job, &mut owed);
    owed
}

/// What a thing by itself owes before it is behind something: a fixing, an end,
/// a one-use item, a treatment that is to be put on, a finding. Nothing of any
/// other, and nothing that time alone settles.
pub fn of(job: &Job, what: Target) -> Vec<Owed> {
    let mut owed = Vec::new();
    match what {
        Target::Fixing(id) => {
            if let Some(it) = job.fixings.get(id) {
                joints::fixing(job, id, it, &mut owed);
                joints::strange(job, id, it, &mut owed);
            }
        }
        Target::End(id) => {
            if let Some(it) = job.end(id) {
                joints::end(id, it, &mut owed);
            }
        }
        Target::Item(id) => {
            if let Some(it) = job.items.get(id) {
                joints::item(id, it, &mut owed);
            }
        }
        Target::Treatment(id) => {
            if let Some(it) = job.treatments.get(id) {
                care::treatment(job, id, it, &mut owed);
            }
        }
        Target::Finding(id) => {
            if let Some(it) = job.findings.get(id) {
                care::finding(id, it, &mut owed);
            }
        }
        _ => {}
    }
    owed
}

fn push(owed: &mut Vec<Owed>, rule: Rule, on: Target, opened: EventId, n: u32) {
    owed.push(Owed {
        rule,
        on,
        opened,
        n,
        places: Vec::new(),
        with: Vec::new(),
    });
}
