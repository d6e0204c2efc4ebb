//! The cautions that stand before an act, and whether they were read.
use super::PassCaution;
use crate::caution;
use crate::job::{Command, Job};
use crate::journal::Hazard;

/// What is to be read before any of these commands: what they touch, that this
/// job has not shown yet. `read` holds the titles of what was read on this
/// phone.
pub fn cautions<'a>(
    job: &Job,
    commands: impl IntoIterator<Item = &'a Command>,
    read: &str,
) -> Vec<PassCaution> {
    let unread = |it: &Hazard| {
        let title = caution::caution(*it).title;
        read.lines().all(|read| read != title)
    };
    // What was read here needs no looking up what the job has shown.
    let all = commands
        .into_iter()
        .filter(|it| caution::touched(it, job).iter().any(unread));
    let mut hazards: Vec<Hazard> = all.flat_map(|it| caution::before(it, job)).collect();
    hazards.retain(unread);
    hazards.sort_unstable();
    hazards.dedup();
    hazards.into_iter().map(said).collect()
}

/// A caution as it is read.
pub(super) fn said(hazard: Hazard) -> PassCaution {
    let it = caution::caution(hazard);
    let lines = [it.text, it.law];
    PassCaution {
        title: it.title,
        lines: lines.into_iter().filter(|l| !l.is_empty()).collect(),
        grave: true,
    }
}
