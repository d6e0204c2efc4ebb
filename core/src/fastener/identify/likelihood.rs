//! How well a reading fits what a thread should read: limits of the standard,
//! widened for wear, plating and burrs, and blurred by the measuring hand.

use super::measured::{Measure, PitchCount};
use crate::fastener::geometry::Limits;

/// Part of fasteners within their limits, worn or undersize, and thickened by
/// plating, paint or burrs. Common practice, no source.
const GOOD: f64 = 0.85;
const WORN: f64 = 0.12;
const THICK: f64 = 0.03;

/// How far wear goes below, and plating above, the limits, in micrometres.
const WEAR_UM: f64 = 150.0;
const PLATE_UM: f64 = 40.0;

/// Chance of having counted one thread too many or too few, each.
const MISCOUNT: f64 = 0.03;

/// Density per micrometre of reading `measure` over the crests of an external
/// thread with `limits`.
pub(super) fn outside(measure: Measure, limits: Limits) -> f64 {
    let Limits { min_um, max_um } = limits;
    let read = |low, high| spread(measure, low, high);
    GOOD * read(min_um, max_um)
        + WORN * read(min_um - WEAR_UM, min_um)
        + THICK * read(max_um, max_um + PLATE_UM)
}

/// The same for an internal thread: wear makes it larger.
pub(super) fn bore(measure: Measure, limits: Limits) -> f64 {
    let Limits { min_um, max_um } = limits;
    let read = |low, high| spread(measure, low, high);
    GOOD * read(min_um, max_um)
        + WORN * read(max_um, max_um + WEAR_UM)
        + THICK * read(min_um - PLATE_UM, min_um)
}

/// Density per micrometre of the pitch counted, for a thread of `pitch_um`.
pub(super) fn pitch(count: PitchCount, pitch_um: f64) -> f64 {
    let over = f64::from(count.over.um);
    let one = |threads: u16| {
        if threads == 0 {
            return 0.0;
        }
        let threads = f64::from(threads);
        // Threads themselves are cut within about 0.2 %.
        let deviation = (count.over.deviation_um() / threads).hypot(0.002 * pitch_um);
        normal((over / threads - pitch_um) / deviation) / deviation
    };
    (1.0 - 2.0 * MISCOUNT) * one(count.threads)
        + MISCOUNT * (one(count.threads.saturating_add(1)) + one(count.threads.saturating_sub(1)))
}

/// How well a length fits, 0 to 1: falls off beyond the uncertainty of the
/// reading and half a millimetre of stock tolerance.
pub(super) fn length(measure: Measure, length_um: u32) -> f64 {
    let off = (f64::from(measure.um) - f64::from(length_um)) / measure.deviation_um().hypot(350.0);
    (-0.5 * off * off).exp()
}

/// An even spread from `low` to `high`, blurred by the measuring hand.
fn spread(measure: Measure, low: f64, high: f64) -> f64 {
    let (read, deviation) = (f64::from(measure.um), measure.deviation_um());
    let part = below((read - low) / deviation) - below((read - high) / deviation);
    part.max(0.0) / (high - low).max(1.0)
}

fn normal(x: f64) -> f64 {
    (-0.5 * x * x).exp() / std::f64::consts::TAU.sqrt()
}

/// The part of a normal distribution below `x`, by Abramowitz and Stegun
/// 7.1.26; within 1.5e-7.
fn below(x: f64) -> f64 {
    let z = x.abs() / std::f64::consts::SQRT_2;
    let t = 1.0 / (1.0 + 0.327_591_1 * z);
    let series = t
        * (0.254_829_592
            + t * (-0.284_496_736
                + t * (1.421_413_741 + t * (-1.453_152_027 + t * 1.061_405_429))));
    let tail = 0.5 * series * (-z * z).exp();
    if x < 0.0 { tail } else { 1.0 - tail }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn normal_distribution_is_met() {
        // Table values of the standard normal distribution.
        for (x, part) in [
            (0.0, 0.5),
            (1.0, 0.841_344_7),
            (-1.96, 0.024_997_9),
            (3.0, 0.998_650_1),
        ] {
            assert!((below(x) - part).abs() < 1e-6, "{x}");
        }
    }

    #[test]
    fn a_reading_within_the_limits_fits_better_than_one_outside() {
        let limits = Limits {
            min_um: 7_760.0,
            max_um: 7_972.0,
        };
        let read = |um| {
            outside(
                Measure {
                    um,
                    uncertainty_um: 100,
                },
                limits,
            )
        };
        assert!(read(7_870) > read(7_700));
        assert!(read(7_700) > read(7_500));
        assert!(read(7_870) > read(8_050));
    }
}
