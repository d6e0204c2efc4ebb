//! What was measured on a found fastener, each with how far off it may be.

use crate::fastener::class::PropertyClass;
use crate::fastener::habit::Habit;
use crate::fastener::head::HeadSize;
use crate::fastener::kind::FastenerKind;
use crate::fastener::thread::Thread;

/// A length and how far off it may be either way (two standard deviations),
/// both in micrometres.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Measure {
    pub um: u32,
    pub uncertainty_um: u32,
}

impl Measure {
    /// One standard deviation in micrometres; never nought.
    pub(super) fn deviation_um(self) -> f64 {
        (f64::from(self.uncertainty_um) / 2.0).max(5.0)
    }
}

/// Pitch by counting: so many threads over a length, from crest to crest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PitchCount {
    /// Steps from one crest to the next: eleven crests are ten threads.
    pub threads: u16,
    pub over: Measure,
}

/// All that is known of a found fastener. What is not measured is left open.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Measured {
    pub kind: FastenerKind,
    /// Over the crests of an external thread.
    pub outside: Option<Measure>,
    /// Over the crests of an internal thread.
    pub bore: Option<Measure>,
    pub pitch: Option<PitchCount>,
    /// The thread itself, where it was tried in a known nut or read off.
    pub thread: Option<Thread>,
    pub length: Option<Measure>,
    pub head: Option<HeadSize>,
    pub class: Option<PropertyClass>,
    pub habit: Habit,
}
