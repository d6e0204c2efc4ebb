//! The case by which identification is timed: one found bolt against 2,000
//! places of two jobs and every standard thread.

use countback_core::fastener::identify::{
    Identification, Measure, Measured, PitchCount, Place, identify,
};
use countback_core::fastener::thread_table::standard_threads;
use countback_core::fastener::{Drive, FastenerKind, FastenerSpec, HeadSize};

/// How many places stand in the case.
pub const PLACES: usize = 2_000;

/// What each place takes: bolts of every standard thread in ten lengths, some
/// with the head or the length not known.
pub fn specs() -> Vec<FastenerSpec> {
    let threads: Vec<_> = standard_threads().map(|it| it.thread).collect();
    threads
        .iter()
        .cycle()
        .take(PLACES)
        .enumerate()
        .map(|(n, thread)| FastenerSpec {
            kind: FastenerKind::Bolt,
            thread: (n % 7 != 0).then_some(*thread),
            length_um: (n % 5 != 0).then_some(10_000 + 5_000 * (n as u32 / 97 % 10)),
            head: (n % 3 != 0).then_some(HeadSize::mm(Drive::Hex, 8 + n as u32 % 12)),
            ..FastenerSpec::default()
        })
        .collect()
}

/// One identification over `specs`.
pub fn identify_once(specs: &[FastenerSpec]) -> Identification<usize, usize> {
    let places: Vec<_> = specs
        .iter()
        .enumerate()
        .map(|(key, spec)| Place {
            key,
            job: key % 2,
            spec,
            short: u32::from(key % 4 == 0),
        })
        .collect();
    let found = Measured {
        outside: Some(Measure {
            um: 7_880,
            uncertainty_um: 100,
        }),
        pitch: Some(PitchCount {
            threads: 10,
            over: Measure {
                um: 12_450,
                uncertainty_um: 200,
            },
        }),
        length: Some(Measure {
            um: 25_200,
            uncertainty_um: 500,
        }),
        head: Some(HeadSize::mm(Drive::Hex, 13)),
        ..Measured::default()
    };
    identify(&found, &places)
}
