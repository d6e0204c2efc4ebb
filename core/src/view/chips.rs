//! What is offered to be tapped instead of typed: learned from this job, from
//! earlier ones and from the procedure, the likeliest first.
use rustc_hash::{FxHashMap, FxHashSet};

use super::Choice;
use super::choices;
use crate::fastener::FastenerSpec;
use crate::job::{Book, Job, Part, PartState};
use crate::journal::*;
use crate::procedure::{PlannedPart, known_parts};
use crate::torque::TorqueUnit;
use crate::words;

#[derive(Clone, Debug, PartialEq)]
pub struct SizeChip {
    pub spec: FastenerSpec,
    pub label: String,
    /// The count that went with it last.
    pub count: u16,
}

/// What is offered where something comes off.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Chips {
    /// Planned by the procedure and still on.
    pub planned: Vec<PlannedPart>,
    pub names: Vec<String>,
    pub sizes: Vec<SizeChip>,
    pub lies: Vec<String>,
    pub places: Vec<String>,
    pub tools: Vec<String>,
    /// Parts off now, the last first.
    pub parts_off: Vec<Choice>,
    /// These, and hoses and plugs that are off: what had to be off first.
    pub first_off: Vec<Choice>,
    /// Every part of the job: those that are off, then the others.
    pub parts: Vec<Choice>,
    /// Containers in use, the last first.
    pub containers: Vec<Choice>,
    pub items: Vec<(ItemKind, String, String)>,
    /// What the job's figures are shown in.
    pub torque: TorqueUnit,
}

/// Tags used by this person, over all their jobs.
pub type NextTag = String;

/// Sizes that turn up on most machines, offered when nothing is learned yet
/// (common practice, no source).
const FIRST_SIZES: [&str; 8] = [
    "bolt | thread=M6 x 1 | length=20 | head=hex 10 mm",
    "bolt | thread=M6 x 1 | length=25 | head=hex 10 mm",
    "bolt | thread=M8 x 1.25 | length=25 | head=hex 13 mm",
    "bolt | thread=M8 x 1.25 | length=30 | head=hex 13 mm",
    "bolt | thread=M10 x 1.5 | length=40 | head=hex 16 mm",
    "nut | thread=M6 x 1 | head=hex 10 mm",
    "nut | thread=M8 x 1.25 | head=hex 13 mm",
    "clip",
];

/// The same where the job's lengths are in inches (common practice, no source).
const FIRST_SIZES_INCH: [&str; 8] = [
    "bolt | thread=1/4-20 | length=19.05 | head=hex 7/16 in",
    "bolt | thread=1/4-20 | length=25.4 | head=hex 7/16 in",
    "bolt | thread=5/16-18 | length=25.4 | head=hex 1/2 in",
    "bolt | thread=5/16-18 | length=31.75 | head=hex 1/2 in",
    "bolt | thread=3/8-16 | length=38.1 | head=hex 9/16 in",
    "nut | thread=1/4-20 | head=hex 7/16 in",
    "nut | thread=5/16-18 | head=hex 1/2 in",
    "clip",
];

const FIRST_NAMES: [&str; 8] = [
    "cover",
    "bracket",
    "hose",
    "undertray",
    "belt",
    "pump",
    "alternator",
    "housing",
];

const FIRST_LIES: [&str; 4] = ["shelf", "bench", "floor, left", "box"];

pub fn chips(book: &Book, earlier: &[&Job]) -> Chips {
    let job = book.job();
    let mut names = Ranked::default();
    let mut lies = Ranked::default();
    let mut places = Ranked::default();
    let mut tools = Ranked::default();
    let mut sizes: FxHashMap<FastenerSpec, (u32, u16)> = FxHashMap::default();
    let mut items: Vec<(ItemKind, String, String)> = Vec::new();
    for (weight, job) in earlier.iter().map(|&j| (1, j)).chain([(4, job)]) {
        for part in job.parts.rows() {
            lies.add(&part.lies, weight);
            if weight == 1 {
                names.add(&part.name, weight);
            }
        }
        for fixing in job.fixings.rows() {
            let size = sizes.entry(fixing.spec.clone()).or_default();
            size.0 += weight;
            size.1 = fixing.places.len() as u16;
            places.add(&fixing.place, weight);
            tools.add(&fixing.detail.tool, weight);
        }
        for item in job.items.rows() {
            let row = (item.kind, item.name.clone(), item.size.clone());
            if !items.contains(&row) {
                items.push(row);
            }
        }
    }
    let planned: Vec<PlannedPart> = job.procedure.as_ref().map_or_else(Vec::new, |p| {
        let known = known_parts(job);
        let known: FxHashSet<&str> = known.into_iter().filter_map(|it| it.1).collect();
        let open = p.parts.iter();
        let open = open.filter(|it| !known.contains(it.key.as_str()));
        open.cloned().collect()
    });
    for name in FIRST_NAMES {
        names.add(name, 0);
    }
    for name in FIRST_LIES {
        lies.add(name, 0);
    }
    let here: Vec<&str> = job.parts.rows().map(|p| p.name.as_str()).collect();
    let mut names = names.list(12);
    names.retain(|n| !here.contains(&n.as_str()));
    let mut sizes: Vec<(FastenerSpec, (u32, u16))> = sizes.into_iter().collect();
    sizes.sort_by(|a, b| b.1.0.cmp(&a.1.0).then_with(|| a.0.cmp(&b.0)));
    let mut size_chips: Vec<SizeChip> = sizes
        .into_iter()
        .map(|(spec, (_, count))| SizeChip {
            label: chip_label(&spec),
            spec,
            count,
        })
        .collect();
    let inch = job
        .head
        .as_ref()
        .is_some_and(|h| h.units.length == LengthUnit::Inch);
    let first = if inch { FIRST_SIZES_INCH } else { FIRST_SIZES };
    for text in first {
        if let Ok(spec) = text.parse::<FastenerSpec>()
            && size_chips.iter().all(|c| c.spec != spec)
        {
            size_chips.push(SizeChip {
                label: chip_label(&spec),
                count: spec.kind.first_count(),
                spec,
            });
        }
    }
    size_chips.truncate(14);
    Chips {
        planned,
        names,
        sizes: size_chips,
        lies: lies.list(8),
        places: places.list(8),
        tools: tools.list(8),
        parts: [choices::parts(job, |it| !on(it)), choices::parts(job, on)].concat(),
        first_off: choices::parts(job, |it| !on(it))
            .into_iter()
            .chain(choices::apart(job))
            .collect(),
        parts_off: choices::parts(job, |it| !on(it)),
        containers: job
            .containers
            .iter()
            .rev()
            .map(|(id, _)| Choice {
                id: id.to_string(),
                name: words::name(job, Target::Container(id)),
            })
            .collect(),
        items,
        torque: super::tighten::unit_of(job),
    }
}

fn on(part: &Part) -> bool {
    part.state == PartState::Placed
}

/// As short as a thumb needs: "M6 x 20, 10 mm", "M6 nut, 10 mm", "clip".
fn chip_label(spec: &FastenerSpec) -> String {
    let label = spec.label().replace(" mm head", " mm");
    match spec.length_um.is_some() && spec.thread.is_some() {
        true => label.replacen(" bolt", "", 1),
        false => label,
    }
}

/// Words by how often they were used; ties keep their first order.
#[derive(Default)]
struct Ranked {
    order: Vec<String>,
    weight: FxHashMap<String, u32>,
}

impl Ranked {
    fn add(&mut self, word: &str, weight: u32) {
        if word.trim().is_empty() {
            return;
        }
        match self.weight.get_mut(word) {
            Some(have) => *have += weight,
            None => {
                self.order.push(word.to_owned());
                self.weight.insert(word.to_owned(), weight);
            }
        }
    }
    fn list(mut self, most: usize) -> Vec<String> {
        let weight = self.weight;
        self.order
            .sort_by_key(|w| std::cmp::Reverse(weight.get(w).copied().unwrap_or(0)));
        self.order.truncate(most);
        self.order
    }
}
