//! The page for whoever takes over: blocks of ready lines in the order in which
//! they are read, the same on the screen, on paper and as text.
use super::At;
use crate::audit::Rule;
use crate::handover::{Handover, handover};
use crate::job::{Book, Job};
use crate::journal::*;
use crate::words::{self, Names};

/// How a block is to be taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BlockKind {
    /// What must not be done.
    Stop,
    /// What looks done but is not.
    Doubt,
    Plain,
}

/// A heading and its lines.
#[derive(Clone, Debug, PartialEq)]
pub struct Block {
    pub kind: BlockKind,
    pub title: &'static str,
    /// How many things the lines stand for; none where that says nothing.
    pub n: Option<u32>,
    pub lines: Vec<String>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct HandoverPage {
    pub title: String,
    pub machine: String,
    /// The audit's verdict.
    pub verdict: String,
    pub danger: bool,
    /// The state it shows: the last entry and when.
    pub state_of: String,
    /// What has nothing to say is left out.
    pub blocks: Vec<Block>,
    /// All of it as plain text.
    pub text: String,
}

pub fn handover_page(book: &Book, at: At) -> HandoverPage {
    let job = book.job();
    let page = handover(job, at.now);
    let card = super::job_card(book, at);
    let mut blocks = blocks(job, &page, at);
    blocks.retain(|it| !it.lines.is_empty());
    let state_of = book.journal().last().map_or_else(String::new, |event| {
        let by = if event.by.is_empty() { "" } else { ", " };
        format!(
            "As logged up to {}{by}{}.",
            (at.style.when)(event.at),
            event.by
        )
    });
    let mut page = HandoverPage {
        title: card.title,
        machine: card.machine,
        verdict: card.verdict,
        danger: card.danger,
        state_of,
        blocks,
        text: String::new(),
    };
    page.text = text(&page);
    page
}

fn blocks(job: &Job, page: &Handover, at: At) -> Vec<Block> {
    use BlockKind::{Doubt, Plain, Stop};
    let owed = |o| words::owed(job, o, at.style);
    let name = |what| words::name(job, what);
    let plain = |title, lines: Vec<String>| Block {
        kind: Plain,
        title,
        n: Some(lines.len() as u32),
        lines,
    };
    // What is out is not yet to be bled.
    let out = |on| {
        page.stops
            .iter()
            .any(|(_, o)| o.rule == Rule::Fill && o.on == on)
    };
    let stops = page.stops.iter();
    let stops = stops.filter(|(_, o)| o.rule != Rule::Bleed || !out(o.on));
    let looks = page.looks_done.iter();
    let parts = &page.parts;
    let ready = parts.ready.iter().map(|&id| lies(job, id));
    let waiting = parts.waiting.iter().map(|it| {
        let on = it.on.iter().map(|&w| words::wait(job, w));
        format!(
            "{}, for {}",
            name(Target::Part(it.part)),
            Names(on.collect())
        )
    });
    let blocked = parts.blocked.iter().map(|(id, by)| {
        let by = by.iter().map(|&t| name(t)).collect();
        format!("{}; first: {}", name(Target::Part(*id)), Names(by))
    });
    let left_off = parts.left_off.iter().map(|&id| left_off(job, id));
    let sums = match parts.total {
        0 => Vec::new(),
        _ => vec![words::parts_left(parts), words::parts_total(parts)],
    };
    let after = page.after_running.iter().filter_map(|check| {
        let due = job.after_runs.get(check.after_run)?.due;
        let note = words::due_note(check, due, at.style);
        Some(format!(
            "{}, {note}",
            name(Target::AfterRun(check.after_run))
        ))
    });
    let accepted = page.accepted.iter().map(|(o, e)| {
        let when = (at.style.when)(e.at);
        format!("{}: {} ({}, {when})", owed(o).what, e.reason, e.by)
    });
    vec![
        Block {
            kind: Stop,
            title: "Do not",
            n: None,
            lines: stops
                .map(|(s, o)| words::stop(job, *s, o, at.style))
                .collect(),
        },
        Block {
            kind: Doubt,
            title: "Looks done, is not",
            n: Some(page.looks_done.iter().map(|it| it.owed.n).sum()),
            lines: looks.map(|it| owed(&it.owed).what).collect(),
        },
        Block {
            kind: Plain,
            title: "Parts",
            n: None,
            lines: sums,
        },
        Block {
            kind: Plain,
            title: "Next",
            n: None,
            lines: page.next.map(name).into_iter().collect(),
        },
        plain("Ready to go back", ready.collect()),
        plain("Waiting", waiting.collect()),
        plain("Behind others", blocked.collect()),
        plain("Left off by decision", left_off.collect()),
        plain(
            "Ends not joined",
            page.ends_off
                .iter()
                .map(|&e| name(Target::End(e)))
                .collect(),
        ),
        plain(
            "Not said, not decided, not mended",
            page.unsaid.iter().map(|o| owed(o).what).collect(),
        ),
        plain(
            "The count",
            page.count.iter().map(|o| owed(o).what).collect(),
        ),
        plain("After running", after.collect()),
        plain("Accepted as it is", accepted.collect()),
        Block {
            kind: Plain,
            title: "Open in the audit",
            n: None,
            lines: vec![words::plural(page.open as u32, "line")],
        },
    ]
}

/// A part with where it and its fasteners lie.
fn lies(job: &Job, id: PartId) -> String {
    let mut said = words::name(job, Target::Part(id));
    let at = job
        .parts
        .get(id)
        .map(|it| it.lies.as_str())
        .unwrap_or_default();
    if !at.is_empty() {
        said.push_str(&format!(", lies: {at}"));
    }
    let tags = super::part::part_tags(job, id);
    if !tags.is_empty() {
        said.push_str(&format!(", tag {}", tags.join(", ")));
    }
    said
}

/// A part that stays off, with the reason.
pub(super) fn left_off(job: &Job, id: PartId) -> String {
    let why = job.parts.get(id).map(|it| it.left_off_why.as_str());
    format!(
        "{}: {}",
        words::name(job, Target::Part(id)),
        why.unwrap_or_default()
    )
}

fn text(page: &HandoverPage) -> String {
    let mut text = page.title.clone();
    for line in [&page.machine, &page.verdict] {
        if !line.is_empty() {
            text.push('\n');
            text.push_str(line);
        }
    }
    for block in &page.blocks {
        text.push_str("\n\n");
        text.push_str(block.title);
        if let Some(n) = block.n {
            text.push_str(&format!(": {n}"));
        }
        for line in &block.lines {
            text.push_str("\n- ");
            text.push_str(line);
        }
    }
    text.push_str(&format!("\n\n{}\n", page.state_of));
    text
}
