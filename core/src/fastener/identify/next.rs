//! Which measurement would tell most, given what remains.

use super::measured::Measured;
use super::places::RankedPlace;
use super::threads::RankedThread;
use crate::fastener::class::PropertyClass;
use crate::fastener::head::DriveSize;
use crate::fastener::kind::FastenerKind;
use crate::fastener::thread::Thread;
use std::collections::BTreeMap;

/// Something that can be measured at the bench.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Measurement {
    /// Length under the head.
    Length,
    /// Diameter over the crests (or, in a nut, inside them).
    Diameter,
    /// Threads counted over a length.
    Pitch,
    Head,
    ClassMark,
}

/// The measurement that decides most.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Deciding {
    pub measurement: Measurement,
    /// How much it is expected to tell, in bits: 1 halves what remains.
    pub bits: f64,
    /// It was read before, more coarsely than it could be.
    pub again: bool,
}

/// Less than this is not worth a walk to the bench.
const WORTH_BITS: f64 = 0.1;

/// The measurement that would best tell the remaining places apart, or, with no
/// places to tell apart, the remaining threads. `None` when nothing would.
pub fn next_measurement<K, J>(
    found: &Measured,
    threads: &[RankedThread],
    places: &[RankedPlace<K, J>],
) -> Option<Deciding> {
    let by_place = best(found, |measurement| {
        gain(places.iter().map(|place| {
            // A place that is not short is an unlikely origin.
            let weight = if place.short > 0 {
                place.fit
            } else {
                place.fit * 0.1
            };
            let spec = &place.spec;
            let reading = match measurement {
                Measurement::Length => spec.length_um,
                Measurement::Diameter => spec.thread.and_then(diameter_group),
                Measurement::Pitch => spec.thread.and_then(pitch_group),
                Measurement::Head => spec.head.and_then(|it| it.size).map(|it| match it {
                    DriveSize::Number(number) => u32::from(number),
                    size => size.to_um().unwrap_or(u32::MAX),
                }),
                Measurement::ClassMark => spec.class.map(class_group),
            };
            (weight, reading)
        }))
    });
    let by_thread = || {
        best(found, |measurement| {
            gain(threads.iter().map(|it| {
                let reading = match measurement {
                    Measurement::Diameter => diameter_group(it.thread),
                    Measurement::Pitch => pitch_group(it.thread),
                    _ => None,
                };
                (it.chance, reading)
            }))
        })
    };
    by_place.or_else(by_thread)
}

fn best(found: &Measured, gain_of: impl Fn(Measurement) -> f64) -> Option<Deciding> {
    let threaded =
        found.thread.is_none() && (found.kind.is_threaded() || found.kind == FastenerKind::Other);
    // A reading that was taken coarsely is worth taking again, as long as what
    // remains reads differently.
    let across = found.outside.or(found.bore);
    let (coarse, counted) = (
        across.is_some_and(|it| it.is_coarse()),
        found.pitch.is_some_and(|it| it.is_coarse()),
    );
    let open = [
        (Measurement::Length, found.length.is_none(), false),
        (
            Measurement::Diameter,
            threaded && (across.is_none() || coarse),
            coarse,
        ),
        (
            Measurement::Pitch,
            threaded && (found.pitch.is_none() || counted),
            counted,
        ),
        (
            Measurement::Head,
            found.head.is_none_or(|it| it.size.is_none()),
            false,
        ),
        (Measurement::ClassMark, found.class.is_none(), false),
    ];
    open.into_iter()
        .filter(|it| it.1)
        .map(|(measurement, _, again)| Deciding {
            measurement,
            bits: gain_of(measurement),
            again,
        })
        .filter(|it| it.bits >= WORTH_BITS)
        // The first wins a tie: the list runs from the easiest on.
        .reduce(|a, b| if b.bits > a.bits { b } else { a })
}

/// Entropy in bits of what a reading would show. What has no known reading
/// cannot be told from anything and adds nothing.
fn gain(cases: impl Iterator<Item = (f64, Option<u32>)>) -> f64 {
    let mut groups: BTreeMap<u32, f64> = BTreeMap::new();
    let mut total = 0.0;
    for (weight, reading) in cases {
        total += weight;
        if let Some(reading) = reading {
            *groups.entry(reading).or_default() += weight;
        }
    }
    let known: f64 = groups.values().sum();
    if known <= 0.0 || total <= 0.0 {
        return 0.0;
    }
    let entropy: f64 = groups
        .values()
        .map(|it| it / known)
        .filter(|it| *it > 0.0)
        .map(|it| -it * it.log2())
        .sum();
    entropy * known / total
}

/// Diameters that a calliper tells apart, in steps of 0.2 mm.
fn diameter_group(thread: Thread) -> Option<u32> {
    thread.diameter_mm().map(|it| (it * 5.0).round() as u32)
}

/// Pitches that counting tells apart, in steps of 0.05 mm.
fn pitch_group(thread: Thread) -> Option<u32> {
    thread.pitch_mm().map(|it| (it * 20.0).round() as u32)
}

fn class_group(class: PropertyClass) -> u32 {
    PropertyClass::ALL
        .iter()
        .position(|it| *it == class)
        .map_or(u32::MAX, |it| it as u32)
}
