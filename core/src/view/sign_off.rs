//! The sign-off: the verdict, what still stands against it, what was accepted
//! by whom and why, what was left off by design, and every time it was closed
//! and opened again.
use super::At;
use super::audit::{ExceptedRow, excepted_rows, late_steps};
use crate::audit::{Next, audit};
use crate::job::{Book, PartState};
use crate::journal::*;
use crate::words;

/// What is owed of one kind.
#[derive(Clone, Debug, PartialEq)]
pub struct AgainstRow {
    pub title: &'static str,
    pub n: u32,
    /// The first of the lines, and how many more.
    pub said: String,
}

/// A closing or an opening again.
#[derive(Clone, Debug, PartialEq)]
pub struct SignedRow {
    pub text: String,
    pub by: String,
    pub when: String,
}

#[derive(Clone, Debug, PartialEq)]
pub struct SignOffPage {
    pub title: String,
    pub verdict: words::VerdictText,
    /// Why it cannot be closed; empty when it can.
    pub against: Vec<AgainstRow>,
    pub n_open: u32,
    pub can_sign: bool,
    pub signed: Option<SignedRow>,
    /// What came in after the signature, as from another phone, and is open.
    pub since: String,
    pub excepted: Vec<ExceptedRow>,
    /// Parts that stay off, with reason, who and when.
    pub left_off: Vec<ExceptedRow>,
    pub late: Vec<String>,
    /// Fixings that were ticked and not touched again.
    pub not_touched: u32,
    /// Closings and openings so far, the first first.
    pub history: Vec<SignedRow>,
}

pub fn sign_off_page(book: &Book, at: At) -> SignOffPage {
    let job = book.job();
    let audit = audit(job, at.now);
    let against: Vec<AgainstRow> = Next::ALL
        .into_iter()
        .map(|next| AgainstRow {
            title: words::group(next),
            n: audit.group(next).count() as u32,
            said: super::advice::in_short(job, audit.group(next), at),
        })
        .filter(|it| it.n > 0)
        .collect();
    let history: Vec<SignedRow> = book
        .journal()
        .iter()
        .filter(|e| !book.is_struck(e))
        .filter(|e| matches!(e.act, Act::SignedOff { .. } | Act::Reopened { .. }))
        .map(|e| SignedRow {
            text: words::act(job, e, at.style),
            by: e.by.clone(),
            when: (at.style.when)(e.at),
        })
        .collect();
    SignOffPage {
        title: words::name(job, Target::Job),
        verdict: words::verdict(job, &audit.verdict, &audit.open),
        n_open: audit.open.len() as u32,
        can_sign: audit.open.is_empty() && !job.is_signed() && job.first_off.is_some(),
        since: match audit.open.len() as u32 {
            n if n > 0 && job.is_signed() => words::since_signed(n),
            _ => String::new(),
        },
        signed: job.signed.as_ref().map(|s| SignedRow {
            text: words::signed(audit.excepted.len() as u32),
            by: s.by.clone(),
            when: (at.style.when)(s.at),
        }),
        against,
        excepted: excepted_rows(job, &audit, at),
        left_off: left_off(book, at),
        late: late_steps(book, at),
        not_touched: super::again_rows(book, None).len() as u32,
        history,
    }
}

fn left_off(book: &Book, at: At) -> Vec<ExceptedRow> {
    let job = book.job();
    let parts = job
        .parts
        .iter()
        .filter(|(_, it)| it.state == PartState::LeftOff);
    let row = |(id, it): (PartId, &crate::job::Part)| {
        let event = book.journal().get(it.since);
        ExceptedRow {
            what: words::name(job, Target::Part(id)),
            reason: it.left_off_why.clone(),
            note: "",
            by: event.map(|e| e.by.clone()).unwrap_or_default(),
            when: event.map_or_else(String::new, |e| (at.style.when)(e.at)),
        }
    };
    parts.map(row).collect()
}
