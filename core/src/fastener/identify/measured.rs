//! What was measured on a found fastener, each with how far off it may be.

use crate::fastener::class::PropertyClass;
use crate::fastener::habit::Habit;
use crate::fastener::head::{Drive, HeadSize};
use crate::fastener::kind::FastenerKind;
use crate::fastener::thread::Thread;

/// How far off a calliper reads by hand at the bench, and a ruler, as
/// [`Measure::uncertainty_um`] (common practice, no source). A calliper's own
/// scale is finer; dirt, burrs and a slant hold are not.
pub const CALLIPER_UM: u32 = 100;
pub const RULER_UM: u32 = 500;

/// A length and how far off it may be either way (two standard deviations),
/// both in micrometres.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Measure {
    pub um: u32,
    pub uncertainty_um: u32,
}

impl Measure {
    /// Read with a calliper.
    pub fn by_calliper(um: u32) -> Self {
        Self {
            um,
            uncertainty_um: CALLIPER_UM,
        }
    }

    /// Read with less than a calliper, so that one would tell more.
    pub fn is_coarse(self) -> bool {
        self.uncertainty_um > CALLIPER_UM
    }

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

impl PitchCount {
    /// Ten threads with a calliper would tell more than twice as much.
    pub fn is_coarse(self) -> bool {
        let each = |over: f64, threads: u16| over / f64::from(threads.max(1));
        let own = each(f64::from(self.over.uncertainty_um), self.threads);
        own > 2.0 * each(f64::from(CALLIPER_UM), 10)
    }
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
    /// Whether the thread grows along its length, where that was looked at.
    pub tapers: Option<bool>,
    /// The thread itself, where it was tried in a known nut or read off.
    pub thread: Option<Thread>,
    pub length: Option<Measure>,
    pub head: Option<HeadSize>,
    pub class: Option<PropertyClass>,
    pub habit: Habit,
}

impl Measured {
    /// The same of another kind: readings that such a thing does not have are
    /// gone, or it would be logged with them.
    #[must_use]
    pub fn of_kind(mut self, kind: FastenerKind) -> Self {
        self.kind = kind;
        let nut = kind == FastenerKind::Nut;
        let of_nut = matches!(self.class, Some(PropertyClass::Nut(_)));
        let stainless = matches!(self.class, Some(PropertyClass::Stainless { .. }));
        if nut {
            (self.outside, self.length) = (None, None);
            self.head = self.head.filter(|it| !is_recess(it.drive));
        } else {
            self.bore = None;
        }
        self.class = self.class.filter(|_| stainless || of_nut == nut);
        if !kind.is_tightened() {
            (self.thread, self.pitch, self.tapers) = (None, None, None);
            self.class = None;
        }
        self
    }
}

/// Drives that are let into a head, which a nut has none of.
fn is_recess(drive: Drive) -> bool {
    matches!(
        drive,
        Drive::SocketHex
            | Drive::Hexalobular
            | Drive::TripleSquare
            | Drive::Cross
            | Drive::CrossZ
            | Drive::Slotted
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_another_kind_does_not_have_is_gone() {
        let read = Some(Measure::by_calliper(7_900));
        let bolt = Measured {
            kind: FastenerKind::Bolt,
            outside: read,
            length: read,
            pitch: Some(PitchCount {
                threads: 10,
                over: Measure::by_calliper(12_500),
            }),
            class: Some(PropertyClass::C8_8),
            head: Some(HeadSize::mm(Drive::SocketHex, 6)),
            ..Measured::default()
        };
        let nut = bolt.of_kind(FastenerKind::Nut);
        assert_eq!((nut.outside, nut.length, nut.class), (None, None, None));
        assert_eq!((nut.head, nut.pitch), (None, bolt.pitch));
        // A bolt and a screw are measured alike.
        let screw = bolt.of_kind(FastenerKind::Screw);
        assert_eq!(screw.of_kind(FastenerKind::Bolt), bolt);
        let nut = Measured {
            bore: read,
            class: Some(PropertyClass::Nut(8)),
            head: Some(HeadSize::mm(Drive::Hex, 13)),
            ..nut
        };
        assert_eq!(nut.of_kind(FastenerKind::Nut), nut);
        let stud = nut.of_kind(FastenerKind::Stud);
        assert_eq!((stud.bore, stud.class, stud.head), (None, None, nut.head));
        // A pin has no thread, and no class of one.
        let pin = bolt.of_kind(FastenerKind::Pin);
        assert_eq!((pin.pitch, pin.class, pin.length), (None, None, read));
    }
}
