//! What is offered of a fastener that is only partly known: threads by its
//! head, classes by its mark. The person confirms, or leaves it open.
use crate::fastener::marks::{Mark, read_mark};
use crate::fastener::suggest::threads_for_head;
use crate::fastener::{FastenerKind, FastenerSpec, Habit, HeadSize, PropertyClass, Thread};
use crate::job::Job;
use crate::journal::LengthUnit;
use crate::words;

/// A thread that the head is usually found on.
#[derive(Clone, Debug, PartialEq)]
pub struct ThreadOffer {
    pub thread: Thread,
    pub label: String,
    pub standards: String,
    pub share: String,
    pub chosen: bool,
}

/// The system that the job's fasteners are of: both where some of each are
/// known, else by its units.
pub(super) fn habit(job: &Job) -> Habit {
    let threads = || job.fixings.rows().filter_map(|it| it.spec.thread);
    let metric = threads().any(|it| matches!(it, Thread::Metric { .. }));
    let unified = threads().any(|it| matches!(it, Thread::Unified { .. }));
    match job.head.as_ref().map(|h| h.units.length) {
        _ if metric && unified => Habit::Mixed,
        Some(LengthUnit::Inch) => Habit::Inch,
        _ => Habit::Metric,
    }
}

/// The threads that a head is usually found on, the likeliest first, with the
/// standards that say so. An offer: the person confirms or leaves it open.
pub fn thread_offers(job: &Job, spec: &FastenerSpec, head: Option<HeadSize>) -> Vec<ThreadOffer> {
    let Some(head) = head else { return Vec::new() };
    threads_for_head(head, spec.kind, habit(job))
        .into_iter()
        .take(6)
        .map(|it| ThreadOffer {
            thread: it.thread,
            label: it.thread.to_string(),
            standards: it.standards.join(", "),
            share: words::share(it.share),
            chosen: spec.thread == Some(it.thread),
        })
        .collect()
}

/// Marks that are met on such a thing, as chips.
pub fn usual_marks(job: &Job, kind: FastenerKind) -> Vec<Mark> {
    let text = |marks: &[&str]| marks.iter().map(|m| Mark::Text((*m).to_owned())).collect();
    let mut marks: Vec<Mark> = match kind {
        FastenerKind::Nut => text(&["8", "10", "12"]),
        _ => text(&[
            "4.6", "5.6", "6.8", "8.8", "9.8", "10.9", "12.9", "A2-70", "A4-80",
        ]),
    };
    let lines = [3, 6].map(Mark::RadialLines);
    match (kind, habit(job)) {
        (FastenerKind::Nut, _) => {}
        (_, Habit::Inch) => marks.splice(0..0, lines).for_each(drop),
        _ => marks.extend(lines),
    }
    marks
}

/// What a mark on such a thing says, with the standard that says so.
pub fn class_offers(mark: &Mark, kind: FastenerKind) -> Vec<(PropertyClass, String)> {
    read_mark(mark, kind)
        .into_iter()
        .map(|it| {
            let sure = if it.certain { "" } else { ", as a rule" };
            (it.class, format!("{} by {}{sure}", it.class, it.standard))
        })
        .collect()
}
