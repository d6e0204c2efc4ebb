//! Whether an entered torque can be right for a bolt. The answer is a doubt or
//! none, with the range it rests on; never a specification.

use super::amount::Torque;
use super::preload::{Friction, Joint};
use super::unit::TorqueUnit;
use crate::fastener::{HeadSize, PropertyClass, Thread};

/// What is on the threads.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Surface {
    /// Not said.
    #[default]
    Unknown,
    /// Oil, grease, paste, wax.
    Lubricated,
    Dry,
    ThreadLocker,
}

impl Surface {
    /// Friction from lowest to highest: VDI 2230 friction classes B (0.08 to
    /// 0.16) and C (0.14 to 0.24), recalled, the latter begun lower as few
    /// threads are wholly dry. Not said: class B, as most bolts are supplied.
    pub fn friction(self) -> (Friction, Friction) {
        match self {
            Self::Unknown | Self::Lubricated => (Friction(0.08), Friction(0.16)),
            Self::Dry => (Friction(0.12), Friction(0.24)),
            Self::ThreadLocker => (Friction(0.10), Friction(0.20)),
        }
    }
}

/// Lowest and highest, in the unit the field says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    pub low: f64,
    pub high: f64,
}

impl Range {
    fn holds(self, value: f64) -> bool {
        (self.low..=self.high).contains(&value)
    }
}

/// What the comparison says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Verdict {
    /// Far less than any tightening of this bolt.
    Low,
    /// Nothing to doubt.
    Fits,
    /// More than the tables give this bolt even at high friction.
    High,
    /// It yields even at high friction.
    AboveYield,
}

/// The verdict with what it rests on.
#[derive(Clone, Debug, PartialEq)]
pub struct Plausibility {
    pub verdict: Verdict,
    /// From 30 % of yield at low friction to 90 % at high friction, in N·m.
    pub usual_nm: Range,
    /// Torque at yield from low to high friction, in N·m.
    pub yield_nm: Range,
    /// Clamp force that the entered torque makes, from high to low friction, in
    /// kN, not more than at yield: of the weaker class the one, of the stronger
    /// the other.
    pub preload_kn: Range,
    /// The classes assumed: the one given, that of the bolt a nut goes with, or
    /// the usual ones when none was.
    pub classes: (PropertyClass, PropertyClass),
    pub friction: (Friction, Friction),
    /// Read in this unit the same number would fit: it may have been entered in
    /// the wrong one.
    pub looks_like: Option<TorqueUnit>,
}

impl Plausibility {
    /// The same for a torque that another stage or an angle follows: it is meant
    /// to be low, and how low tells nothing of its unit.
    pub fn before_more(self) -> Self {
        let verdict = match self.verdict {
            Verdict::Low => Verdict::Fits,
            it => it,
        };
        Self {
            verdict,
            looks_like: None,
            ..self
        }
    }
}

/// Share of yield below which a torque is doubted: covers in aluminium are held
/// with little. Common practice, no source.
const LOW_PART: f64 = 0.30;
/// Share of yield that tables tighten to (VDI 2230).
const TABLE_PART: f64 = 0.90;
/// A unit is only suggested when it leads well into the range.
const LIKELY_PART: f64 = 0.50;

/// Classes met on vehicles when none is known. Common practice, no source.
const USUAL_CLASSES: (PropertyClass, PropertyClass) = (PropertyClass::C8_8, PropertyClass::C10_9);

/// The class of bolt that a nut is proved with, which it is reckoned by: ISO
/// 898-2, from memory. Bolt classes are their own.
fn bolt_class(class: PropertyClass) -> PropertyClass {
    use PropertyClass as C;
    match class {
        C::Nut(5) => C::C5_8,
        C::Nut(6) => C::C6_8,
        C::Nut(8) => C::C8_8,
        C::Nut(9) => C::C9_8,
        C::Nut(10) => C::C10_9,
        C::Nut(12) => C::C12_9,
        it => it,
    }
}

/// Compares an entered torque with what the bolt bears, under a flange where
/// `head` is known to have one. `None` when nothing can
/// be said: pipe threads, sizes without a standard head, nut classes that go
/// with no bolt.
///
/// ```
/// use countback_core::torque::plausibility::{Surface, Verdict, plausibility};
/// use countback_core::torque::TorqueUnit;
/// let m6 = "M6".parse().unwrap();
/// let found = plausibility("88 N·m".parse().unwrap(), m6, "8.8".parse().ok(), Surface::Unknown, None).unwrap();
/// assert_eq!(found.verdict, Verdict::AboveYield);
/// assert_eq!(found.looks_like, Some(TorqueUnit::PoundForceInch));
/// ```
pub fn plausibility(
    entered: Torque,
    thread: Thread,
    class: Option<PropertyClass>,
    surface: Surface,
    head: Option<HeadSize>,
) -> Option<Plausibility> {
    let classes = match class {
        Some(class) => (bolt_class(class), bolt_class(class)),
        None => usual_classes(thread),
    };
    let (weak, strong) = (
        Joint::new(thread, classes.0, head)?,
        Joint::new(thread, classes.1, head)?,
    );
    let (slick, rough) = surface.friction();
    let usual_nm = Range {
        low: weak.torque_nm(LOW_PART, slick),
        high: strong.torque_nm(TABLE_PART, rough),
    };
    let yield_nm = Range {
        low: weak.torque_nm(1.0, slick),
        high: strong.torque_nm(1.0, rough),
    };
    let torque_nm = entered.newton_metres();
    let verdict = if torque_nm < usual_nm.low {
        Verdict::Low
    } else if torque_nm <= usual_nm.high {
        Verdict::Fits
    } else if torque_nm <= yield_nm.high {
        Verdict::High
    } else {
        Verdict::AboveYield
    };
    let preload_kn = Range {
        // As much as the weaker class bears: it may be that.
        low: weak
            .preload_from_kn(torque_nm, rough)
            .min(weak.preload_kn(1.0, rough)),
        high: strong
            .preload_from_kn(torque_nm, slick)
            .min(strong.preload_kn(1.0, slick)),
    };
    let likely = Range {
        low: weak.torque_nm(LIKELY_PART, slick),
        high: usual_nm.high,
    };
    let looks_like = (verdict != Verdict::Fits)
        .then(|| other_unit(entered, likely))
        .flatten();
    Some(Plausibility {
        verdict,
        usual_nm,
        yield_nm,
        preload_kn,
        classes,
        friction: (slick, rough),
        looks_like,
    })
}

fn usual_classes(thread: Thread) -> (PropertyClass, PropertyClass) {
    match thread {
        Thread::Unified { .. } => (PropertyClass::Sae5, PropertyClass::Sae8),
        _ => USUAL_CLASSES,
    }
}

/// The units that figures are mixed up in, the likeliest first: a book in pound
/// inches, a wrench with two scales. Common practice, no source.
const MIXED_UP: [TorqueUnit; 5] = [
    TorqueUnit::NewtonMetre,
    TorqueUnit::PoundForceInch,
    TorqueUnit::PoundForceFoot,
    TorqueUnit::KilogramForceMetre,
    TorqueUnit::KilogramForceCentimetre,
];

/// The likeliest unit in which the same number falls into `likely`.
fn other_unit(entered: Torque, likely: Range) -> Option<TorqueUnit> {
    MIXED_UP
        .into_iter()
        .filter(|it| *it != entered.unit())
        .find(|unit| {
            likely.holds(Torque::from_thousandths(entered.thousandths(), *unit).newton_metres())
        })
}
