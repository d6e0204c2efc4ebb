//! What is this bolt? Measurements at the bench rank the threads it may have
//! and the places it may have come from, and say which measurement would
//! decide. It never assigns anything: the person does.

mod likelihood;
mod measured;
mod next;
mod places;
mod threads;

pub use measured::{CALLIPER_UM, Measure, Measured, PitchCount, RULER_UM};
pub use next::{Deciding, Measurement, next_measurement};
pub use places::{Place, RankedPlace, rank_places};
pub use threads::{Confidence, RankedThread, rank_threads};

use super::spec::FastenerSpec;

/// The answer to one found fastener.
#[derive(Clone, Debug, PartialEq)]
pub struct Identification<K, J> {
    /// All standard threads that remain, the likeliest first.
    pub threads: Vec<RankedThread>,
    pub confidence: Confidence,
    /// Places it may have come from: the short ones first. None of these is
    /// always possible and must be offered.
    pub places: Vec<RankedPlace<K, J>>,
    /// What to measure next, unless nothing more would decide.
    pub next: Option<Deciding>,
}

/// Ranks threads and places for one found fastener.
///
/// ```
/// use countback_core::fastener::identify::{Measured, Place, identify};
/// let spec = "bolt | thread=M8 x 1.25 | length=25 | head=hex flange 10 mm".parse().unwrap();
/// let found = Measured::from_spec(&spec);
/// let places = [
///     Place { key: 1, job: "pump", spec: &spec, short: 0 },
///     Place { key: 2, job: "cover", spec: &spec, short: 1 },
/// ];
/// let answer = identify(&found, &places);
/// assert_eq!(answer.places[0].key, 2, "the short one first");
/// ```
pub fn identify<K: Clone + Ord, J: Clone + Ord>(
    found: &Measured,
    places: &[Place<'_, K, J>],
) -> Identification<K, J> {
    let here = places.iter().filter_map(|it| it.spec.thread);
    let threads = rank_threads(found, here);
    let confidence = Confidence::of(&threads);
    let places_ranked = rank_places(found, &threads, places);
    let next = next_measurement(found, &threads, &places_ranked);
    Identification {
        threads,
        confidence,
        places: places_ranked,
        next,
    }
}

impl Measured {
    /// What is known of a fastener that was described rather than measured.
    pub fn from_spec(spec: &FastenerSpec) -> Self {
        Self {
            kind: spec.kind,
            thread: spec.thread,
            length: spec.length_um.map(|um| Measure {
                um,
                uncertainty_um: 500,
            }),
            head: spec.head,
            class: spec.class,
            ..Self::default()
        }
    }
}
