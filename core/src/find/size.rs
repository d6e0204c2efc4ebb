//! Sizes said in passing: "10 mil bolt", "T30", "9/16 nut". What size a text
//! names, and which threads carry such a head, is `fastener`'s to say; here is
//! which records that meets.

use super::How;
use super::tokens::tokens;
use crate::fastener::suggest::threads_for_head;
use crate::fastener::words::{SaidHead, head_in_words};
use crate::fastener::{DriveSize, FastenerKind, Habit, HeadSize, Thread};

/// Threads less often met with the head than this are not offered.
const LEAST_SHARE: f64 = 0.05;

/// A fastener among the records.
#[derive(Clone, Debug)]
pub(super) struct Sized {
    pub doc: u32,
    pub kind: FastenerKind,
    pub head: Option<HeadSize>,
    pub thread: Option<Thread>,
}

/// A head that is asked for.
#[derive(Clone, Debug)]
pub(super) struct Asked {
    said: SaidHead,
    /// Threads usually found with it, and in which part of cases.
    threads: Vec<(Thread, f64)>,
}

impl Asked {
    /// The head that `text` names, and the words left over.
    pub fn read(text: &str) -> Option<(Self, Vec<String>)> {
        let said = head_in_words(text)?;
        let habit = match said.head.size {
            Some(DriveSize::Inch(_)) => Habit::Inch,
            _ => Habit::Metric,
        };
        let kind = said.kind.unwrap_or(FastenerKind::Other);
        let threads = threads_for_head(said.head, kind, habit)
            .into_iter()
            .filter(|it| it.share >= LEAST_SHARE)
            .map(|it| (it.thread, it.share))
            .collect();
        let rest = tokens(text).into_iter().filter(|it| !spent(it)).collect();
        Some((Self { said, threads }, rest))
    }

    /// How well a record meets it, from 0 to 1.
    pub fn meets(&self, it: &Sized) -> Option<(How, f32)> {
        if let Some(kind) = self.said.kind
            && !kind.could_be(it.kind)
        {
            return None;
        }
        match it.head {
            Some(head) if head.size.is_some() => {
                head.could_be(self.said.head).then_some((How::Head, 1.0))
            }
            // A drive without its size rules out other drives only.
            Some(head) if !head.could_be(self.said.head) => None,
            _ => {
                let share = self.threads.iter().find(|(t, _)| Some(*t) == it.thread)?.1;
                Some((How::ThreadOfHead, 0.3 + 0.6 * share as f32))
            }
        }
    }

    /// The head asked for, as it is said at the bench.
    pub fn label(&self) -> String {
        self.said.head.label()
    }
}

/// Words that a size query uses up: numbers, units, drives and kinds.
fn spent(word: &str) -> bool {
    const USED: &[&str] = &[
        "mm",
        "mil",
        "mill",
        "millimetre",
        "millimeter",
        "inch",
        "in",
        "head",
        "headed",
        "flange",
        "hex",
        "hexagon",
        "allen",
        "key",
        "socket",
        "square",
        "spline",
        "triple",
        "size",
        "sized",
    ];
    USED.contains(&word)
        || word.parse::<FastenerKind>().is_ok()
        || word.bytes().all(|b| b.is_ascii_digit() || b == b'.')
        || head_in_words(word).is_some()
}
