//! The words a thing goes by, put into a buffer for whoever refers to it.

use crate::job::{Connection, Job};
use crate::journal::*;

/// Appends the name of `what` to `text`, with those it belongs to.
pub fn push_name(job: &Job, what: Target, text: &mut String) {
    match what {
        Target::Job => push(text, job.head.as_ref().map(|it| it.title.as_str())),
        Target::Part(id) => push(text, job.parts.get(id).map(|it| it.name.as_str())),
        Target::Fixing(id) => {
            if let Some(it) = job.fixings.get(id) {
                for &part in &it.parts {
                    push_name(job, Target::Part(part), text);
                }
                push(text, Some(&it.place));
                push(text, Some(it.spec.kind.word()));
            }
        }
        Target::Connection(id) => push_connection(job.connections.get(id), text),
        Target::End(id) => {
            push_connection(job.connections.get(id.connection), text);
            push(text, job.end(id).map(|it| it.end.label.as_str()));
        }
        Target::Item(id) => {
            if let Some(it) = job.items.get(id) {
                push(text, Some(&it.name));
                if !matches!(it.on, Target::Item(_)) {
                    push_name(job, it.on, text);
                }
            }
        }
        Target::Container(id) => push(text, job.containers.get(id).map(|it| it.name.as_str())),
        Target::Opening(id) => push(text, job.openings.get(id).map(|it| it.name.as_str())),
        Target::Inside(id) => push(text, job.insides.get(id).map(|it| it.put.name.as_str())),
        Target::Fluid(id) => push(text, job.fluids.get(id).map(|it| it.name.as_str())),
        Target::Treatment(id) => {
            push(
                text,
                job.treatments
                    .get(id)
                    .map(|it| it.treatment.product.as_str()),
            );
        }
        Target::Supply(id) => push(text, job.supplies.get(id).map(|it| it.name.as_str())),
        Target::Step(id) => push(text, job.steps.get(id).map(|it| it.step.text.as_str())),
        Target::Finding(id) => push(text, job.findings.get(id).map(|it| it.text.as_str())),
        Target::Buy(id) => push(text, job.buys.get(id).map(|it| it.what.as_str())),
        Target::Stray(id) => push(text, job.strays.get(id).map(|it| it.spec.kind.word())),
        Target::AfterRun(id) => push(text, job.after_runs.get(id).map(|it| it.text.as_str())),
        Target::Line(id) => match job.lines.get(id).map(|it| it.of) {
            // A line belongs to a thing, never to a line.
            Some(Target::Line(_)) | None => {}
            Some(of) => push_name(job, of, text),
        },
    }
}

fn push_connection(it: Option<&Connection>, text: &mut String) {
    if let Some(it) = it {
        push(text, Some(&it.name));
        push(text, Some(kind_word(it.kind)));
    }
}

pub fn push(text: &mut String, more: Option<&str>) {
    if let Some(more) = more {
        text.push(' ');
        text.push_str(more);
    }
}

/// The trade word, for the search only.
pub fn kind_word(kind: ConnectionKind) -> &'static str {
    match kind {
        ConnectionKind::Hose => "hose",
        ConnectionKind::Pipe => "pipe",
        ConnectionKind::Plug => "plug connector",
        ConnectionKind::Cable => "cable",
        ConnectionKind::Linkage => "linkage",
    }
}
