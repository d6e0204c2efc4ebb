//! Ranks the places that a found fastener may have come from: those that are
//! short of one first.

use super::likelihood;
use super::measured::Measured;
use super::threads::RankedThread;
use crate::fastener::spec::FastenerSpec;
use std::collections::BTreeMap;

/// A place, or a set of like places, that takes one sort of fastener.
#[derive(Clone, Copy, Debug)]
pub struct Place<'a, K, J> {
    pub key: K,
    pub job: J,
    pub spec: &'a FastenerSpec,
    /// How many it is short of now.
    pub short: u32,
}

/// A place that may be the one.
#[derive(Clone, Debug, PartialEq)]
pub struct RankedPlace<K, J> {
    pub key: K,
    pub job: J,
    pub spec: FastenerSpec,
    pub short: u32,
    /// How well everything known of both agrees, 0 to 1. Not a chance: two
    /// places that take the same bolt fit it equally well.
    pub fit: f64,
}

/// Below this a place is not offered.
const OFFERED: f64 = 0.02;

/// What an unknown thread, length, head or class of a place is worth against
/// one that is known and agrees.
const UNKNOWN: f64 = 0.35;

/// A class that reads otherwise: marks are misread and bolts are replaced.
const OTHER_CLASS: f64 = 0.15;

/// A head that does not agree: misread, or replaced by one of another series.
const OTHER_HEAD: f64 = 0.05;

/// The places that may be, those short of one first, then by fit, then by job
/// and key so that the order never wavers.
pub fn rank_places<K: Clone + Ord, J: Clone + Ord>(
    found: &Measured,
    threads: &[RankedThread],
    places: &[Place<'_, K, J>],
) -> Vec<RankedPlace<K, J>> {
    let knows_thread = found.outside.is_some()
        || found.bore.is_some()
        || found.pitch.is_some()
        || found.thread.is_some();
    let chances: BTreeMap<_, _> = threads.iter().map(|it| (it.thread, it.chance)).collect();
    // Against the likeliest, so that a fit of 1 is reached.
    let best = threads.first().map_or(1.0, |it| it.chance);
    let thread_fit = |spec: &FastenerSpec| match spec.thread {
        Some(thread) if knows_thread => chances.get(&thread).copied().unwrap_or(0.0) / best,
        Some(_) => 1.0,
        None if knows_thread => UNKNOWN,
        None => 1.0,
    };
    let mut ranked: Vec<_> = places
        .iter()
        .filter(|it| it.spec.kind.could_be(found.kind))
        .filter_map(|place| {
            let fit = thread_fit(place.spec) * other_fit(found, place.spec);
            (fit >= OFFERED).then(|| RankedPlace {
                key: place.key.clone(),
                job: place.job.clone(),
                spec: place.spec.clone(),
                short: place.short,
                fit,
            })
        })
        .collect();
    ranked.sort_by(|a, b| {
        (b.short > 0)
            .cmp(&(a.short > 0))
            .then(b.fit.total_cmp(&a.fit))
            .then_with(|| a.job.cmp(&b.job))
            .then_with(|| a.key.cmp(&b.key))
    });
    ranked
}

/// Length, head and class.
fn other_fit(found: &Measured, spec: &FastenerSpec) -> f64 {
    let length = match (found.length, spec.length_um) {
        (Some(measure), Some(length_um)) => likelihood::length(measure, length_um),
        (Some(_), None) => UNKNOWN,
        (None, _) => 1.0,
    };
    let head = match (found.head, spec.head) {
        (Some(a), Some(b)) if a.could_be(b) => 1.0,
        (Some(_), Some(_)) => OTHER_HEAD,
        (Some(_), None) => UNKNOWN,
        (None, _) => 1.0,
    };
    let class = match (found.class, spec.class) {
        (Some(a), Some(b)) if a != b => OTHER_CLASS,
        _ => 1.0,
    };
    length * head * class
}
