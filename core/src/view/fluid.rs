//! The page on which a fluid goes back in: what stands against it, what came
//! out of the machine and what is taken to hold none of it.
use super::At;
use super::advice::MissingRow;
use crate::audit::Owed;
use crate::fluid::{VolumeUnit, stepped};
use crate::job::{Book, Job, Refusal};
use crate::journal::*;
use crate::permit::{Ask, fill_needs, joint_of, not_asked};
use crate::words;

/// A fluid that may be drained next, as a chip.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DrainOffer {
    pub name: String,
    /// It has to be bled afterwards, as the procedure says.
    pub bleed: bool,
}

/// Fluids that are met most (common practice, no source).
const USUAL: [&str; 6] = [
    "coolant",
    "engine oil",
    "gear oil",
    "brake fluid",
    "hydraulic oil",
    "fuel",
];

/// What the procedure has drained and is not yet, then the usual ones.
pub fn drain_offers(job: &Job) -> Vec<DrainOffer> {
    let same = |a: &str, b: &str| a.trim().eq_ignore_ascii_case(b.trim());
    let planned = job.procedure.iter().flat_map(|it| &it.fluids);
    let planned = planned.map(|it| (it.name.as_str(), it.bleed));
    let mut offers: Vec<DrainOffer> = Vec::new();
    for (name, bleed) in planned.chain(USUAL.map(|name| (name, false))) {
        let drained = job.fluids.rows().any(|f| same(&f.name, name));
        let offered = offers.iter().any(|it| same(&it.name, name));
        if !drained && !offered && !name.trim().is_empty() {
            let name = name.to_owned();
            offers.push(DrainOffer { name, bleed });
        }
    }
    offers
}

/// An open joint, and what a tap says of it.
#[derive(Clone, Debug, PartialEq)]
pub struct JointRow {
    pub row: MissingRow,
    pub on: Target,
}

#[derive(Clone, Debug, PartialEq)]
pub struct FluidPage {
    pub name: String,
    /// "Fill with coolant".
    pub ask: String,
    /// What came out, as it was noted; empty where it was not.
    pub out: String,
    pub filled: bool,
    pub may: bool,
    /// "Do not fill it: 2 things stand against it".
    pub answer: String,
    pub against: Vec<JointRow>,
    /// Off or apart, and taken to hold none of it.
    pub passed_over: Vec<JointRow>,
    /// The cure that is waited for, whatever the reason; empty for none.
    pub cure: String,
    /// What is tapped of one in the first list, and of one in the second.
    pub holds_none: String,
    pub holds_it: String,
    /// What came out and went in, where it is not the same.
    pub volumes: String,
}

/// None where the fluid is not in the job.
pub fn fluid_page(book: &Book, id: FluidId, at: At) -> Option<FluidPage> {
    let job = book.job();
    let it = job.fluids.get(id)?;
    let rows = |lines: Vec<Owed>| -> Vec<JointRow> {
        let mut rows: Vec<JointRow> = Vec::new();
        for owed in lines {
            let row = JointRow {
                row: super::advice::missing_row(job, &owed, at),
                on: joint_of(owed.on),
            };
            rows.push(row);
        }
        rows
    };
    let against = match it.filled {
        None => rows(fill_needs(job, id, at.now)),
        Some(_) => Vec::new(),
    };
    let mut passed_over = match it.filled {
        None => rows(not_asked(job, id, at.now)),
        Some(_) => Vec::new(),
    };
    // Both ends of a hose are one joint.
    passed_over.dedup_by_key(|it| it.on);
    Some(FluidPage {
        ask: words::fill(&it.name),
        out: it.drained.clone(),
        filled: it.filled.is_some(),
        may: against.is_empty(),
        cure: job
            .cure_before_fill(id, at.now)
            .map_or_else(String::new, |(treatment, until)| {
                let refusal = Refusal::Curing { treatment, until };
                words::refusal(job, &refusal, at.style)
            }),
        answer: words::permit_answer(Ask::Fill, against.len() as u32),
        against,
        passed_over,
        holds_none: words::holds_none(&it.name),
        holds_it: words::holds_it(&it.name),
        volumes: words::volumes(it, at.style),
        name: it.name.clone(),
    })
}

/// Tenths of the job's unit that a volume is stepped by, and how each is said.
pub const VOLUME_STEPS: [(&str, i32); 5] = [
    ("+1", 10),
    ("+0.5", 5),
    ("+0.1", 1),
    ("−0.1", -1),
    ("−0.5", -5),
];

/// The text of a volume after one step, in litres or quarts as the job has it.
pub fn volume_step(job: &Job, text: &str, tenths: i32, at: At) -> String {
    let unit = match job.length_unit() {
        LengthUnit::Inch => VolumeUnit::Quart,
        LengthUnit::Millimetre => VolumeUnit::Litre,
    };
    stepped(text, tenths, unit, at.style.decimal)
}
