//! What a drawing of the job shows: its parts and what its procedure plans
//! beside them, from the outermost to what lies deepest, as they came off.
use super::from_job::{Goal, Laid, planned_parts};
use super::graph::{Edge, GraphError, Node, Precedence, Why};
use crate::job::Job;
use crate::journal::{self, PartId, Target};

/// The things drawn, by number, and what came off before what; only what
/// `keep` asks for.
///
/// # Errors
/// [`GraphError::TooLarge`] beyond what 32-bit numbers can tell apart.
pub fn drawing(
    job: &Job,
    keep: impl Fn(Goal) -> bool,
) -> Result<(Vec<Goal>, Precedence), GraphError> {
    let laid = Laid::of(job);
    let parts = job.parts.ids().map(|id| Goal::Thing(Target::Part(id)));
    let planned = (0..)
        .zip(planned_parts(job))
        .map(|(n, _)| Goal::Planned(n))
        .filter(|&goal| laid.node(goal).is_some());
    let goals: Vec<Goal> = parts.chain(planned).filter(|&goal| keep(goal)).collect();
    let at: rustc_hash::FxHashMap<Goal, Node> = goals.iter().copied().zip(0..).collect();
    let mut edges = Vec::new();
    for (after, &goal) in (0..).zip(&goals) {
        let mut add = |before: Option<&Node>, why: Why| {
            if let Some(&before) = before.filter(|&&b| b != after) {
                edges.push(Edge::new(before, after, why));
            }
        };
        match goal {
            Goal::Thing(Target::Part(id)) => {
                for need in job.parts.get(id).into_iter().flat_map(|p| &p.after) {
                    let first = part_behind(job, need.first).map(|p| Goal::Thing(Target::Part(p)));
                    add(first.and_then(|f| at.get(&f)), why(need.why));
                }
            }
            _ => {
                // By the way that stands first: the others may lead round in a
                // circle.
                for node in laid.sets(goal).into_iter().take(1).flatten() {
                    let first = laid.goal(node);
                    add(first.and_then(|f| at.get(&f)), Why::Stated);
                }
            }
        }
    }
    Ok((goals.clone(), Precedence::new(goals.len(), &edges)?))
}

/// The part that stands in the drawing for what had to be off first.
fn part_behind(job: &Job, first: Target) -> Option<PartId> {
    match first {
        Target::Opening(id) => job.openings.get(id)?.shut_by,
        other => super::part_of(job, other),
    }
}

fn why(why: journal::Why) -> Why {
    match why {
        journal::Why::BlocksReach | journal::Why::Hides => Why::BlocksReach,
        journal::Why::Attached => Why::Attached,
        journal::Why::SharesFixing => Why::SharesFixing,
        journal::Why::Supports => Why::Supports,
        journal::Why::RoutedThrough => Why::Routed,
    }
}
