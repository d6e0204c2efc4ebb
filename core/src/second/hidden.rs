//! What a part would hide before anybody else has looked at it. Finished is not
//! enough here: a duplicate check after the closing is a check of a signature.

use rustc_hash::FxHashSet;

use super::critical::{Critical, suggest_end, suggest_fixing};
use crate::access::Under;
use crate::audit::Rule;
use crate::job::{EndState, Job, PlaceState};
use crate::journal::*;

/// A joint that no second person has looked at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unchecked {
    /// A fixing or an end.
    pub what: Target,
    /// Places of a fixing that are final and not checked, by index.
    pub places: Vec<u16>,
    /// Marked as safety-critical: then the check is owed. Otherwise its name
    /// only suggests it.
    pub marked: bool,
    pub critical: Option<Critical>,
}

/// What placing `part` would put out of sight unchecked, those marked first.
/// Checks that were let go by name and reason are not asked for again.
pub fn hides_unchecked(job: &Job, part: PartId) -> Vec<Unchecked> {
    let of = |what: Target| match what {
        Target::Fixing(id) => fixing(job, id),
        Target::End(id) => end(job, id),
        _ => None,
    };
    let mut found: Vec<Unchecked> = joints_under(job, part).into_iter().filter_map(of).collect();
    found.sort_by_key(|it| !it.marked);
    found
}

/// Fixings and ends that placing `part` would put out of sight, each once.
pub fn joints_under(job: &Job, part: PartId) -> Vec<Target> {
    let under = Under::of(job);
    let mut seen = FxHashSet::default();
    let mut found = Vec::new();
    let mut next = vec![part];
    while let Some(outer) = next.pop() {
        for what in under.all(job, outer) {
            if what == Target::Part(part) || !seen.insert(what) {
                continue;
            }
            match what {
                Target::Part(inner) => {
                    next.push(inner);
                    if let Some(it) = job.parts.get(inner) {
                        found.extend(it.fixings.iter().map(|&id| Target::Fixing(id)));
                        found.extend(it.ends.iter().map(|&id| Target::End(id)));
                    }
                }
                Target::Fixing(_) | Target::End(_) => found.push(what),
                Target::Connection(connection) => {
                    let end = |side| Target::End(EndId { connection, side });
                    found.extend([Side::A, Side::B].map(end));
                }
                _ => {}
            }
        }
    }
    let mut once = FxHashSet::default();
    // What also holds the part itself is still to be done, not hidden.
    let own = job.parts.get(part).map_or(&[][..], |it| &it.fixings[..]);
    found.retain(|&it| {
        let is_own = matches!(it, Target::Fixing(id) if own.contains(&id));
        !is_own && once.insert(it)
    });
    found
}

fn waived(job: &Job, what: Target) -> bool {
    job.exceptions
        .iter()
        .any(|it| it.owed.rule == Rule::IndependentCheck && it.owed.on == what)
}

fn fixing(job: &Job, id: FixingId) -> Option<Unchecked> {
    let it = job.fixings.get(id)?;
    let what = Target::Fixing(id);
    let critical = suggest_fixing(job, id);
    let marked = it.detail.safety;
    if !(marked || critical.is_some()) || waived(job, what) {
        return None;
    }
    let places: Vec<u16> = (0_u16..)
        .zip(&it.places)
        .filter(|(_, p)| p.state == PlaceState::Final)
        .map(|(n, _)| n)
        .collect();
    (!places.is_empty()).then_some(Unchecked {
        what,
        places,
        marked,
        critical,
    })
}

fn end(job: &Job, id: EndId) -> Option<Unchecked> {
    let what = Target::End(id);
    let critical = suggest_end(job, id);
    let it = job.end(id)?;
    let asks = it.safety || critical.is_some();
    (it.state == EndState::Secured && asks && !waived(job, what)).then_some(Unchecked {
        what,
        places: Vec::new(),
        marked: it.safety,
        critical,
    })
}
