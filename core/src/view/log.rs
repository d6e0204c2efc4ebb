//! The log: every entry in words, the struck ones too.
use super::At;
use crate::job::Book;
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

/// A person's own last entry is struck unasked for so long after it was made,
/// in ms. A design choice, no source.
const STILL_AT_IT_MS: i64 = 5 * 60_000;

/// The last entry, as undo would strike it.
#[derive(Clone, Debug, PartialEq)]
pub struct Undoing {
    /// Strikes its tap.
    pub event: EventId,
    pub text: String,
    /// It is another person's, or some time ago: why striking it is asked about.
    pub asks: Option<&'static str>,
    /// It marks a place on a photo.
    pub is_mark: bool,
}

/// What undo would strike for `by`. None where that is how the job was opened,
/// or what was signed.
pub fn undoing(book: &Book, by: &str, at: At) -> Option<Undoing> {
    let last = book.last_tap()?;
    let opened = book.journal().iter().next()?;
    let signed = book.job().signed.as_ref();
    if last.with == opened.with || signed.is_some_and(|it| last.with <= it.event) {
        return None;
    }
    let asks = if last.by.trim() != by.trim() {
        Some("It is not yours.")
    } else if (at.now - last.at).abs() > STILL_AT_IT_MS {
        Some("It is not of just now.")
    } else {
        None
    };
    Some(Undoing {
        event: last.id,
        text: entry_text(book, last, at.style),
        asks,
        is_mark: matches!(last.act, Act::MarkSet { .. }),
    })
}

impl Undoing {
    /// When it was made, and by whom: "12 March, 14:05, Ann". Not worked out
    /// before it is asked for: a browser's first look at its calendar is slow.
    pub fn made(&self, book: &Book, at: At) -> String {
        let event = book.journal().get(self.event);
        event.map_or_else(String::new, |it| made(&row(book, it, at)))
    }
}

/// When an entry was made, and by whom.
pub fn made(row: &LogRow) -> String {
    match row.by.is_empty() {
        true => row.when.clone(),
        false => format!("{}, {}", row.when, row.by),
    }
}
