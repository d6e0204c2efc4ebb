//! Advice beside the lists: what the machine may be asked to do, what to touch
//! again after a break, what a miss would cost.
use super::At;
use crate::access::Costs;
use crate::guard::{self, Break, Touch};
use crate::job::Book;
use crate::journal::*;
use crate::permit::{Ask, permit};
use crate::words::{self, Names};

/// Whether the machine may be turned, cranked, filled or started.
#[derive(Clone, Debug, PartialEq)]
pub struct PermitRow {
    pub ask: &'static str,
    pub may: bool,
    /// What stands against it.
    pub first: String,
}

pub fn permits(book: &Book, at: At) -> Vec<PermitRow> {
    let job = book.job();
    let permit = permit(job, book.now(at.now));
    Ask::ALL
        .into_iter()
        .map(|ask| {
            let missing = permit.needs(ask);
            let names = missing
                .iter()
                .map(|o| words::owed(job, o, at.style).what)
                .collect();
            PermitRow {
                ask: words::ask(ask),
                may: missing.is_empty(),
                first: if missing.is_empty() {
                    String::new()
                } else {
                    Names(names).to_string()
                },
            }
        })
        .collect()
}

/// What to touch again after work was broken off.
#[derive(Clone, Debug, PartialEq)]
pub struct ResumeCard {
    /// The thing that was in hand.
    pub hand: String,
    pub touch: Vec<(Touch, String)>,
    /// Where it goes on.
    pub next: String,
    pub part: Option<PartId>,
}

/// Asked when the app comes back after being away since `since` (ms).
pub fn resume_card(book: &Book, since: i64, at: At) -> Option<ResumeCard> {
    let now = book.now(at.now);
    let resume = guard::resume(book, Break::Hidden { since }, now, guard::PATIENCE_MS)?;
    let job = book.job();
    let text = |touch: &Touch| match touch.number {
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
        hand: words::name(job, resume.hand),
        touch: resume.touch.iter().map(|t| (*t, text(t))).collect(),
        next,
        part: super::part_of(job, resume.hand),
    })
}

/// What a miss behind a part would cost once it is on, in words.
pub fn cost_behind(book: &Book, part: PartId) -> String {
    let job = book.job();
    words::cost(Costs::of(job).behind(job, part))
}
