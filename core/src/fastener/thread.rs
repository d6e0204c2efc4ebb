//! One thread: its system, its diameter and its pitch, printed and parsed the
//! way it is stamped on a tap. Which threads are standard is in `thread_table`.

use super::size::{InchSize, mm_text, parse_mm};
use std::fmt;
use std::str::FromStr;

/// A screw thread.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Thread {
    /// ISO metric, both in micrometres.
    Metric { diameter_um: u32, pitch_um: u32 },
    /// Unified, threads per inch.
    Unified { size: InchSize, tpi: u8 },
    /// Pipe thread by its nominal size, which is not its diameter.
    Pipe { form: PipeForm, size: InchSize },
}

/// Pipe thread systems met on vehicles.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum PipeForm {
    /// ISO 228 parallel, seals on a washer.
    G,
    /// ISO 7 taper, seals on the thread.
    R,
    /// ASME B1.20.1 taper, 60 degrees, seals on the thread.
    Npt,
}

impl PipeForm {
    pub const ALL: [Self; 3] = [Self::G, Self::R, Self::Npt];

    pub fn word(self) -> &'static str {
        match self {
            Self::G => "G",
            Self::R => "R",
            Self::Npt => "NPT",
        }
    }
}

/// Pitch of the ISO 261 coarse series for a diameter, both in micrometres.
/// `None` for a diameter outside the series.
pub fn coarse_pitch_um(diameter_um: u32) -> Option<u32> {
    Some(match diameter_um {
        1_600 => 350,
        2_000 => 400,
        2_500 => 450,
        3_000 => 500,
        3_500 => 600,
        4_000 => 700,
        5_000 => 800,
        6_000 | 7_000 => 1_000,
        8_000 | 9_000 => 1_250,
        10_000 | 11_000 => 1_500,
        12_000 => 1_750,
        14_000 | 16_000 => 2_000,
        18_000 | 20_000 | 22_000 => 2_500,
        24_000 | 27_000 => 3_000,
        30_000 | 33_000 => 3_500,
        36_000 => 4_000,
        _ => return None,
    })
}

impl Thread {
    /// Metric thread from micrometres.
    pub const fn metric(diameter_um: u32, pitch_um: u32) -> Self {
        Self::Metric {
            diameter_um,
            pitch_um,
        }
    }

    /// Metric thread of the coarse series. `None` outside the series.
    pub fn metric_coarse(diameter_um: u32) -> Option<Self> {
        Some(Self::metric(diameter_um, coarse_pitch_um(diameter_um)?))
    }

    /// Whether it is metric with the pitch of the coarse series, which trade
    /// writing leaves out ("M8").
    pub fn is_metric_coarse(self) -> bool {
        matches!(self, Self::Metric { diameter_um, pitch_um }
            if coarse_pitch_um(diameter_um) == Some(pitch_um))
    }

    /// Whether it grows along its length: ISO 7-1 R and ASME B1.20.1 NPT, by 1 in
    /// 16 on the diameter.
    pub fn tapers(self) -> bool {
        matches!(
            self,
            Self::Pipe {
                form: PipeForm::R | PipeForm::Npt,
                ..
            }
        )
    }

    /// The shortest usual name: "M8" for coarse, "M8 x 1" for fine.
    pub fn short_name(self) -> String {
        match self {
            Self::Metric { diameter_um, .. } if self.is_metric_coarse() => {
                format!("M{}", mm_text(diameter_um))
            }
            _ => self.to_string(),
        }
    }
}

impl fmt::Display for Thread {
    /// The full designation: "M8 x 1.25", "3/8-16", "G 1/4".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::Metric {
                diameter_um,
                pitch_um,
            } => {
                write!(f, "M{} x {}", mm_text(diameter_um), mm_text(pitch_um))
            }
            Self::Unified { size, tpi } => write!(f, "{size}-{tpi}"),
            Self::Pipe { form, size } => write!(f, "{} {size}", form.word()),
        }
    }
}

/// Why a text is not a thread.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ThreadError {
    /// Neither metric, nor unified, nor a pipe thread.
    NotAThread(String),
    /// A metric diameter without a pitch, outside the coarse series.
    PitchNeeded { diameter_um: u32 },
    /// A diameter or pitch of nothing.
    Zero,
}

impl FromStr for Thread {
    type Err = ThreadError;

    /// Reads "M8 x 1.25", "M8x1,25", "m8" (coarse), "3/8-16", "3/8-16 UNC",
    /// "#10-24", "G 1/4", "1/4 BSP", "R 1/8", "NPT 1/8", "1/8-27 NPT".
    fn from_str(text: &str) -> Result<Self, ThreadError> {
        let tidy = text
            .trim()
            .to_ascii_uppercase()
            .replace('×', "X")
            .replace('"', "");
        let not = || ThreadError::NotAThread(text.to_string());
        if let Some(metric) = tidy.strip_prefix('M') {
            return parse_metric(metric).unwrap_or_else(|| Err(not()));
        }
        for (word, form) in [
            ("BSPT", PipeForm::R),
            ("BSPP", PipeForm::G),
            ("BSP", PipeForm::G),
            ("NPT", PipeForm::Npt),
            ("G", PipeForm::G),
            ("R", PipeForm::R),
        ] {
            let size = match (tidy.strip_prefix(word), tidy.strip_suffix(word)) {
                (Some(size), _) => size,
                // "1/8-27 NPT": the count follows from the size.
                (None, Some(size)) => size.split('-').next().unwrap_or(size),
                (None, None) => continue,
            };
            let size = size.trim().parse().map_err(|_| not())?;
            return Ok(Self::Pipe { form, size });
        }
        let plain = ["UNC", "UNF", "UNEF", "UN"]
            .iter()
            .find_map(|word| tidy.strip_suffix(word))
            .unwrap_or(&tidy)
            .trim();
        let (size, tpi) = plain.rsplit_once('-').ok_or_else(not)?;
        let size: InchSize = size.parse().map_err(|_| not())?;
        let tpi: u8 = tpi.trim().parse().map_err(|_| not())?;
        if tpi == 0 || size == InchSize::Sixtyfourths(0) {
            return Err(ThreadError::Zero);
        }
        Ok(Self::Unified { size, tpi })
    }
}

/// The part after the M. `None` when it is no metric thread at all.
fn parse_metric(text: &str) -> Option<Result<Thread, ThreadError>> {
    let (diameter, pitch) = match text.split_once(['X', '-', '*']) {
        Some((diameter, pitch)) => (diameter, Some(pitch)),
        None => (text, None),
    };
    let diameter_um = parse_mm(diameter)?;
    let pitch_um = match pitch {
        Some(pitch) => parse_mm(pitch)?,
        None => match coarse_pitch_um(diameter_um) {
            Some(pitch_um) => pitch_um,
            None => return Some(Err(ThreadError::PitchNeeded { diameter_um })),
        },
    };
    if diameter_um == 0 || pitch_um == 0 {
        return Some(Err(ThreadError::Zero));
    }
    Some(Ok(Thread::metric(diameter_um, pitch_um)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_the_ways_a_thread_is_written() {
        let m8 = Thread::metric(8_000, 1_250);
        for text in ["M8 x 1.25", "M8x1,25", "m8", "M8 × 1.25", "M8-1.25", " M8 "] {
            assert_eq!(text.parse(), Ok(m8), "{text}");
        }
        let coarse = Thread::Unified {
            size: InchSize::Sixtyfourths(24),
            tpi: 16,
        };
        for text in ["3/8-16", "3/8-16 UNC", "3/8\"-16 unc"] {
            assert_eq!(text.parse(), Ok(coarse), "{text}");
        }
        let quarter = InchSize::Sixtyfourths(16);
        for (text, form) in [
            ("G 1/4", PipeForm::G),
            ("G1/4", PipeForm::G),
            ("1/4 BSP", PipeForm::G),
            ("R 1/4", PipeForm::R),
            ("1/4 BSPT", PipeForm::R),
            ("NPT 1/4", PipeForm::Npt),
            ("1/4-18 NPT", PipeForm::Npt),
        ] {
            assert_eq!(
                text.parse(),
                Ok(Thread::Pipe {
                    form,
                    size: quarter
                }),
                "{text}"
            );
        }
        assert_eq!(
            "M13".parse::<Thread>(),
            Err(ThreadError::PitchNeeded {
                diameter_um: 13_000
            })
        );
        assert_eq!("M0 x 1".parse::<Thread>(), Err(ThreadError::Zero));
        for text in ["", "M", "8", "3/8", "M8 x x", "bolt", "#10"] {
            assert_eq!(
                text.parse::<Thread>(),
                Err(ThreadError::NotAThread(text.into())),
                "{text}"
            );
        }
    }

    #[test]
    fn coarse_pitch_is_left_out_of_the_short_name() {
        assert_eq!(Thread::metric(8_000, 1_250).short_name(), "M8");
        assert_eq!(Thread::metric(8_000, 1_000).short_name(), "M8 x 1");
    }
}
