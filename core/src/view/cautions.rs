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
    let all = commands.into_iter();
    let mut hazards: Vec<Hazard> = all.flat_map(|it| caution::before(it, job)).collect();
    hazards.sort_unstable();
    hazards.dedup();
    let mut left: Vec<PassCaution> = hazards.into_iter().map(said).collect();
    left.retain(|it| read.lines().all(|title| title != it.title));
    left
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
