//! The log: every entry in words, the struck ones too.
use super::At;
use crate::job::{Book, Command};
use crate::journal::*;
use crate::words;

#[derive(Clone, Debug, PartialEq)]
pub struct LogRow {
    pub id: EventId,
    pub text: String,
    pub when: String,
    pub by: String,
    pub struck: bool,
    /// Nothing has struck it and it may be struck by its kind: a strike stands,
    /// and so does all that opened the job.
    pub can_strike: bool,
}

/// After so many minutes an entry is no longer what was just done (own choice, no
/// source).
const JUST_NOW_MIN: i64 = 15;

/// What is asked before the last entry is struck in one tap: none where this
/// person made it just now.
pub fn strike_asks(book: &Book, by: &str, at: At) -> Option<(String, Command)> {
    let last = book.last_tap()?;
    let same = last.by.trim().eq_ignore_ascii_case(by.trim());
    let age = book.now(at.now).saturating_sub(last.at);
    if same && age <= JUST_NOW_MIN * 60_000 {
        return None;
    }
    let said = entry_text(book, last, at.style);
    let when = (at.style.when)(last.at);
    let text = words::strike_asks(&said, &last.by, &when);
    Some((text, Command::Strike { event: last.id }))
}

/// An entry in words; one that strikes says what it struck.
pub fn entry_text(book: &Book, event: &Event, style: words::Style) -> String {
    let said = |it: &Event| words::act(book.job(), it, style);
    match event.act {
        Act::Struck { event: struck } => book
            .tap_about(struck)
            .map_or_else(|| said(event), |it| format!("Struck: {}", said(it))),
        _ => said(event),
    }
}

pub(super) fn row(book: &Book, event: &Event, at: At) -> LogRow {
    let first = book.journal().get(event.with).unwrap_or(event);
    LogRow {
        id: event.id,
        text: entry_text(book, event, at.style),
        when: (at.style.when)(event.at),
        by: event.by.clone(),
        struck: book.is_struck(event),
        can_strike: !book.is_struck(event)
            && !matches!(event.act, Act::Struck { .. })
            && !matches!(first.act, Act::JobOpened(_)),
    }
}

/// The log, the latest entry first; `most` rows of it.
pub fn log(book: &Book, at: At, most: usize) -> Vec<LogRow> {
    book.journal()
        .iter()
        .rev()
        .take(most)
        .map(|e| row(book, e, at))
        .collect()
}
