//! The shape of a thread in numbers: diameters, stress area, and the limits
//! within which a calliper reads it.
//!
//! Basic profile by ISO 68-1 (shared by unified threads). Limits by ISO 965-1
//! 6g and 6H, ASME B1.1 class 2A; pipe threads as in the table.

use super::thread::Thread;
use super::thread_table::PIPE;
use std::f64::consts::PI;

/// Lowest and highest reading, in micrometres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    pub min_um: f64,
    pub max_um: f64,
}

/// ISO 965-1: pitch, allowance of position g, and tolerance of the major
/// diameter in grade 6, all in micrometres. The formulae of the standard are
/// rounded to preferred numbers, so the rounded values are kept.
const LIMITS_6G: &[(u32, u16, u16)] = &[
    (250, 18, 67),
    (350, 19, 85),
    (400, 19, 95),
    (450, 20, 100),
    (500, 20, 106),
    (600, 21, 125),
    (700, 22, 140),
    (750, 22, 140),
    (800, 24, 150),
    (1_000, 26, 180),
    (1_250, 28, 212),
    (1_500, 32, 236),
    (1_750, 34, 265),
    (2_000, 38, 280),
    (2_500, 42, 335),
    (3_000, 48, 375),
];

impl Thread {
    /// Nominal (basic major) diameter in millimetres. For a pipe thread the
    /// largest outside diameter, as its name is not a size. `None` for a pipe
    /// size outside the table.
    pub fn diameter_mm(self) -> Option<f64> {
        match self {
            Self::Metric { diameter_um, .. } => Some(f64::from(diameter_um) / 1e3),
            Self::Unified { size, .. } => Some(size.to_inches() * 25.4),
            Self::Pipe { form, size } => PIPE
                .iter()
                .find(|it| it.form == form && it.size == size)
                .map(|it| f64::from(it.outside_um.0) / 1e3),
        }
    }

    /// Distance from crest to crest in millimetres. `None` for a pipe size
    /// outside the table.
    pub fn pitch_mm(self) -> Option<f64> {
        match self {
            Self::Metric { pitch_um, .. } => Some(f64::from(pitch_um) / 1e3),
            Self::Unified { tpi, .. } => Some(25.4 / f64::from(tpi)),
            Self::Pipe { form, size } => PIPE
                .iter()
                .find(|it| it.form == form && it.size == size)
                .map(|it| 25.4 / f64::from(it.tpi)),
        }
    }

    /// Pitch diameter d2 in millimetres. `None` for pipe threads, which are
    /// not fasteners.
    pub fn pitch_diameter_mm(self) -> Option<f64> {
        self.bolt_size().map(|(d, p)| d - 0.649_519 * p)
    }

    /// Root diameter d3 in millimetres. `None` for pipe threads.
    pub fn root_diameter_mm(self) -> Option<f64> {
        self.bolt_size().map(|(d, p)| d - 1.226_869 * p)
    }

    /// Tensile stress area in square millimetres: ISO 898-1 for metric, ASME
    /// B1.1 for unified threads. `None` for pipe threads.
    pub fn stress_area_mm2(self) -> Option<f64> {
        let (d, p) = self.bolt_size()?;
        // Half the sum of d2 and d3: the standards round it differently.
        let factor = if matches!(self, Self::Metric { .. }) {
            0.938_2
        } else {
            0.974_3
        };
        Some(PI / 4.0 * (d - factor * p).powi(2))
    }

    /// The stress area as the standards print it and reckon loads from: rounded
    /// to three figures. `None` for pipe threads.
    pub fn nominal_stress_area_mm2(self) -> Option<f64> {
        let area = self.stress_area_mm2()?;
        let figures = 10_f64.powf(2.0 - area.log10().floor());
        Some((area * figures).round() / figures)
    }

    /// Tap drill in millimetres, the diameter less the pitch (ISO 2306).
    /// `None` for pipe threads.
    pub fn tap_drill_mm(self) -> Option<f64> {
        self.bolt_size().map(|(d, p)| d - p)
    }

    fn bolt_size(self) -> Option<(f64, f64)> {
        match self {
            Self::Pipe { .. } => None,
            _ => Some((self.diameter_mm()?, self.pitch_mm()?)),
        }
    }

    /// What a calliper reads over the crests of a good external thread.
    /// `None` for a pipe size outside the table.
    pub fn outside_limits(self) -> Option<Limits> {
        match self {
            Self::Metric {
                diameter_um,
                pitch_um,
            } => {
                let (allowance, tolerance) = LIMITS_6G
                    .iter()
                    .find(|it| it.0 == pitch_um)
                    .map(|it| (f64::from(it.1), f64::from(it.2)))
                    .unwrap_or_else(|| formula_6g(f64::from(pitch_um) / 1e3));
                let max_um = f64::from(diameter_um) - allowance;
                Some(Limits {
                    min_um: max_um - tolerance,
                    max_um,
                })
            }
            Self::Unified { size, tpi } => {
                // ASME B1.1, class 2A, all in inches, engagement of one diameter.
                let (d, p) = (size.to_inches(), 1.0 / f64::from(tpi));
                let two_thirds = p.powf(2.0 / 3.0);
                let pitch_tolerance = 0.0015 * d.cbrt() + 0.0015 * d.sqrt() + 0.015 * two_thirds;
                let max = d - 0.300 * pitch_tolerance;
                let inch = 25_400.0;
                Some(Limits {
                    min_um: (max - 0.060 * two_thirds) * inch,
                    max_um: max * inch,
                })
            }
            Self::Pipe { form, size } => PIPE
                .iter()
                .find(|it| it.form == form && it.size == size)
                .map(|it| Limits {
                    min_um: f64::from(it.outside_um.1),
                    max_um: f64::from(it.outside_um.0),
                }),
        }
    }

    /// What a calliper reads inside a good nut or tapped hole, over the crests
    /// of its thread: ISO 965-1 6H, and near enough for unified 2B. `None` for
    /// pipe threads.
    pub fn bore_limits(self) -> Option<Limits> {
        let (d, p) = self.bolt_size()?;
        let min_um = (d - 1.082_532 * p) * 1e3;
        let tolerance = if p >= 1.0 {
            230.0 * p.powf(0.7)
        } else {
            433.0 * p - 190.0 * p.powf(1.22)
        };
        Some(Limits {
            min_um,
            max_um: min_um + tolerance,
        })
    }
}

/// The unrounded formulae of ISO 965-1, for a pitch outside the table.
fn formula_6g(pitch_mm: f64) -> (f64, f64) {
    (
        15.0 + 11.0 * pitch_mm,
        180.0 * pitch_mm.powf(2.0 / 3.0) - 3.15 / pitch_mm.sqrt(),
    )
}
