//! Advice beside the lists: what the machine may be asked to do, what to touch
//! again after a break, what a miss would cost.
use super::At;
use crate::audit::Owed;
use crate::guard::{self, BrokenOff, Touch};
use crate::job::{Book, Job, Treated};
use crate::journal::*;
use crate::permit::{Ask, fill_needs, permit};
use crate::words;

/// Whether the machine may be turned, cranked, filled or started.
#[derive(Clone, Debug, PartialEq)]
pub struct PermitRow {
    pub asked: Ask,
    /// Which fluid, where filling is asked for one that is out.
    pub fluid: Option<FluidId>,
    pub ask: String,
    pub may: bool,
    /// "Do not turn it: 2 things stand against it", or that nothing does.
    pub answer: String,
    /// What stands against it, in short.
    pub first: String,
    /// Cures that held it and ended while the app was closed; empty for none.
    pub by_clock: String,
}

/// One thing that stands against it.
#[derive(Clone, Debug, PartialEq)]
pub struct MissingRow {
    pub what: String,
    pub todo: String,
    /// The part on whose page it is settled.
    pub part: Option<PartId>,
}

/// All that stands against one of them, the most dangerous first.
pub fn missing(book: &Book, ask: Ask, fluid: Option<FluidId>, at: At) -> Vec<MissingRow> {
    let job = book.job();
    let needs = match fluid {
        Some(id) => fill_needs(job, id, at.now),
        None => permit(job, at.now).needs(ask).to_vec(),
    };
    let row = |owed: &Owed| missing_row(job, owed, at);
    needs.iter().map(row).collect()
}

pub(super) fn missing_row(job: &Job, owed: &Owed, at: At) -> MissingRow {
    let text = words::owed(job, owed, at.style);
    MissingRow {
        what: text.what,
        todo: text.todo,
        part: super::part_of(job, owed.on),
    }
}

/// The first of these lines in words, and how many more.
pub(super) fn in_short<'a>(job: &Job, lines: impl Iterator<Item = &'a Owed>, at: At) -> String {
    // No more than three are ever named.
    let name = |(n, owed): (usize, &Owed)| match n {
        0..3 => words::owed(job, owed, at.style).what,
        _ => String::new(),
    };
    let names: Vec<String> = lines.enumerate().map(name).collect();
    // Each is a sentence of its own.
    match names.len() {
        0..=3 => names.join("; "),
        n => format!(
            "{}; and {} more",
            names.get(..2).unwrap_or_default().join("; "),
            n - 2
        ),
    }
}

pub fn permits(book: &Book, at: At) -> Vec<PermitRow> {
    let job = book.job();
    let permit = permit(job, at.now);
    let row = |asked: Ask, fluid: Option<FluidId>, missing: &[Owed]| PermitRow {
        asked,
        fluid,
        ask: match fluid.and_then(|id| job.fluids.get(id)) {
            Some(it) => words::fill(&it.name),
            None => words::ask(asked).to_owned(),
        },
        may: missing.is_empty(),
        answer: words::permit_answer(asked, missing.len() as u32),
        first: in_short(job, missing.iter(), at),
        by_clock: by_clock(job, asked, at),
    };
    let out = job.fluids.iter().filter(|(_, it)| it.filled.is_none());
    let out: Vec<FluidId> = out.map(|(id, _)| id).collect();
    let mut rows = Vec::new();
    for ask in Ask::ALL {
        if ask != Ask::Fill || out.is_empty() {
            rows.push(row(ask, None, permit.needs(ask)));
            continue;
        }
        for &id in &out {
            let needs = fill_needs(job, id, at.now);
            rows.push(row(ask, Some(id), &needs));
        }
    }
    rows
}

/// A clock set forward while the app was closed ends a cure as time does, so
/// where one that held this ended then, that is said.
fn by_clock(job: &Job, ask: Ask, at: At) -> String {
    let held = move |it: &Treated| match ask {
        Ask::Turn => false,
        Ask::Fill => it.treatment.holds_fill,
        Ask::Crank | Ask::Start => it.treatment.holds_start,
    };
    let unseen = super::due::over(job, at, held).filter(|(_, unseen)| *unseen);
    let said: Vec<String> = unseen.map(|(text, _)| format!("{text}.")).collect();
    said.join(" ")
}

/// What to touch again after work was broken off.
#[derive(Clone, Debug, PartialEq)]
pub struct ResumeCard {
    /// The thing that was in hand.
    pub on: Target,
    pub hand: String,
    pub touch: Vec<(Touch, String)>,
    /// What broke it off.
    pub why: &'static str,
    /// Where it goes on.
    pub next: String,
    pub part: Option<PartId>,
}

impl ResumeCard {
    /// The act that goes on without touching.
    pub fn go_on(&self) -> Act {
        Act::WentOn { what: self.on }
    }
}

/// Asked at the next look at a job after work was broken off.
pub fn resume_card(book: &Book, broken: BrokenOff) -> Option<ResumeCard> {
    let resume = guard::resume(book, broken.last)?;
    let job = book.job();
    let text = |touch: &Touch| match touch.number {
        // What was in the hand is named above them all.
        Some(number) if touch.what == resume.hand => format!("Place {number}"),
        Some(number) => format!("Place {number} of {}", words::name(job, touch.what)),
        None => words::name(job, touch.what),
    };
    let next = resume.next.map_or_else(String::new, |step| {
        let verb = if step.to.is_none() {
            "start"
        } else {
            "tighten"
        };
        format!("Then {verb} place {}.", step.number)
    });
    Some(ResumeCard {
        on: resume.hand,
        hand: words::name(job, resume.hand),
        why: words::broken_off(broken.why),
        touch: resume.touch.iter().map(|t| (*t, text(t))).collect(),
        next,
        part: super::part_of(job, resume.hand),
    })
}
