//! Counting: where the things of a line are, and the lines that miss one.
use crate::job::Book;
use crate::journal::*;
use crate::ledger::Thing;
use crate::words;

/// A line of the ledger by account.
#[derive(Clone, Debug, PartialEq)]
pub struct LineCount {
    pub line: LineId,
    pub name: String,
    /// Containers and the bench: what a hand can count.
    pub loose: Vec<(Account, u32, String)>,
    pub missing: u32,
    pub total: u32,
}

pub fn line_count(book: &Book, line: LineId) -> Option<LineCount> {
    let job = book.job();
    let it = job.lines.get(line)?;
    Some(LineCount {
        line,
        name: words::name(job, Target::Line(line)),
        loose: it
            .loose_at()
            .into_iter()
            .map(|(at, n)| (at, n, words::account(job, at)))
            .collect(),
        missing: it.count(Account::Missing),
        total: it.total(),
    })
}

/// Lines of which something is missing: where a stray may belong.
pub fn lines_short(book: &Book) -> Vec<(LineId, String)> {
    let job = book.job();
    job.lines
        .iter()
        .filter(|(_, it)| it.count(Account::Missing) > 0)
        .map(|(id, _)| (id, words::name(job, Target::Line(id))))
        .collect()
}

/// Lines that are short of such a fastener as this stray: nothing that is known
/// of both speaks against it.
pub fn stray_fits(book: &Book, stray: StrayId) -> Vec<(LineId, String)> {
    let job = book.job();
    let Some(found) = job.strays.get(stray) else {
        return Vec::new();
    };
    let fits = |line: &LineId| {
        let thing = job.lines.get(*line).map(|it| &it.thing);
        matches!(thing, Some(Thing::Fastener(it) | Thing::Extra(it)) if it.could_be(&found.spec))
    };
    let mut short = lines_short(book);
    short.retain(|(line, _)| fits(line));
    short
}

/// Ports laid open, by name.
pub fn openings(book: &Book) -> Vec<(OpeningId, String)> {
    book.job()
        .openings
        .iter()
        .map(|(id, o)| (id, o.name.clone()))
        .collect()
}
