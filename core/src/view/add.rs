//! What is put down of a part after it was logged: a fastener, a hose, a port
//! that was forgotten, what it came after; and the seats that an end may be on.
use std::collections::BTreeSet;

use super::chips::{SizeChip, chips};
use super::choices::Choice;
use crate::fastener::{FastenerSpec, common_items};
use crate::job::{Book, EndOf, EndState, FixingDraft, Job, Part};
use crate::journal::*;
use crate::tag::{DeviceBlocks, TagCode, allocate};
use crate::words;

/// What is offered where something is added to a part.
#[derive(Clone, Debug, PartialEq)]
pub struct AddPage {
    pub sizes: Vec<SizeChip>,
    /// Containers in use, the last first.
    pub containers: Vec<(ContainerId, String)>,
    /// The code of a new bag; empty when all are used.
    pub tag: String,
    /// What it may have come after: what came off before it stands first.
    pub after: Vec<Choice>,
    /// Other parts that are off, and all others, those first: where a hose's end
    /// sits, by what it runs.
    pub parts_off: Vec<Choice>,
    pub parts: Vec<Choice>,
    /// The fixings that a new part may bring other fasteners for.
    pub fixings: Vec<(FixingId, String)>,
    pub inch: bool,
}

pub fn add_page(book: &Book, others: &[&Job], part: PartId, device: DeviceId) -> Option<AddPage> {
    let job = book.job();
    let it = job.parts.get(part)?;
    let own: Vec<&Job> = others
        .iter()
        .copied()
        .filter(|it| !it.is_example())
        .collect();
    let chips = chips(book, &own);
    let id = |choice: &Choice| choice.id.parse::<PartId>().ok();
    let free = |id: PartId| id != part && it.after.iter().all(|n| n.first != Target::Part(id));
    let mut after: Vec<Choice> = chips.parts;
    after.retain(|choice| id(choice).is_some_and(free));
    after.sort_by_key(|choice| id(choice) > Some(part));
    let hoses = super::choices::apart(job).into_iter().filter(|choice| {
        let first = super::choices::needed(&choice.id);
        first.is_some_and(|first| it.after.iter().all(|n| n.first != first))
    });
    after.extend(hoses);
    let parts = super::choices::others(job, &[part]);
    let off = |it: &&Choice| {
        id(it)
            .and_then(|id| job.parts.get(id))
            .is_some_and(Part::off)
    };
    Some(AddPage {
        parts_off: parts.iter().filter(off).cloned().collect(),
        parts,
        sizes: chips.sizes,
        containers: chips
            .containers
            .into_iter()
            .filter_map(|it| Some((it.id.parse().ok()?, it.name)))
            .collect(),
        tag: free_tags(others.iter().copied().chain([job]), &[], device, 1)
            .pop()
            .unwrap_or_default(),
        after,
        fixings: it
            .fixings
            .iter()
            .map(|&id| (id, words::fixing_short(job, id)))
            .collect(),
        inch: job.length_unit() == LengthUnit::Inch,
    })
}

/// The next tag codes that stand on nothing in any of these jobs, nor on what
/// is `kept` in an entry that is not logged yet. Fewer when all are used.
pub fn free_tags<'a>(
    jobs: impl Iterator<Item = &'a Job>,
    kept: &[&str],
    device: DeviceId,
    n: usize,
) -> Vec<String> {
    let mut used = BTreeSet::new();
    for job in jobs {
        let bags = job.containers.rows().map(|c| c.tag.as_str());
        let pairs = job.connections.rows().filter_map(|c| c.tag.as_deref());
        used.extend(bags.chain(pairs).filter_map(|t| t.parse::<TagCode>().ok()));
    }
    used.extend(kept.iter().filter_map(|t| t.parse::<TagCode>().ok()));
    let blocks = DeviceBlocks::from_seed(device.0);
    let mut tags = Vec::new();
    while tags.len() < n
        && let Ok(code) = allocate(&used, blocks)
    {
        used.insert(code);
        tags.push(code.digits());
    }
    tags
}

/// A fastener that was forgotten, to be renewed where that is the habit.
pub fn forgotten(spec: FastenerSpec, count: u16, slackened: u16) -> FixingDraft {
    let renew = common_items::reuse_of(&spec).0 == common_items::Reuse::Renew;
    FixingDraft {
        slackened,
        reuse: match renew {
            true => Reuse::Renew,
            false => Reuse::Reuse,
        },
        ..FixingDraft::new(spec, count)
    }
}

/// What is tapped once an end is made fast: "Clip tight", "Clicked".
pub fn secure(book: &Book, end: EndId) -> &'static str {
    let joint = book.job().end(end).map(|it| it.end.joint);
    words::secure(joint.unwrap_or(Joint::PushOn))
}

/// Seats other than its own on which an end may have been put: of the same
/// kind, touched, and with no end of their own on them.
pub fn other_seats(book: &Book, end: EndId) -> Vec<(EndId, String)> {
    let job = book.job();
    let Some(it) = job.connections.get(end.connection) else {
        return Vec::new();
    };
    let bare = |end: &EndOf| match end.state {
        EndState::Undisturbed => false,
        EndState::Parted | EndState::LeftOff => true,
        _ => end.elsewhere.is_some(),
    };
    job.ends()
        .filter(|(id, of, seat)| *id != end && of.kind == it.kind && bare(seat))
        .map(|(id, ..)| (id, words::name(job, Target::End(id))))
        .collect()
}
