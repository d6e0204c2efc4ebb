//! Whether the machine is built in millimetres or in inches: what is known of
//! its threads before anything is measured.

use super::thread::Thread;

/// The system that a machine's fasteners are usually of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Habit {
    #[default]
    Metric,
    Inch,
    Mixed,
}

impl Habit {
    /// How likely a thread's system is on such a machine, against the others.
    /// Common practice, no source: a stray bolt of the other system is met,
    /// but about one in fifty; pipe threads are on plugs and senders only.
    pub fn weight(self, thread: Thread) -> f64 {
        match (self, thread) {
            (Self::Metric, Thread::Metric { .. }) => 1.0,
            (Self::Metric, Thread::Unified { .. }) => 0.02,
            (Self::Inch, Thread::Metric { .. }) => 0.02,
            (Self::Inch, Thread::Unified { .. }) => 1.0,
            (Self::Mixed, Thread::Metric { .. } | Thread::Unified { .. }) => 0.5,
            (_, Thread::Pipe { .. }) => 0.05,
        }
    }
}
