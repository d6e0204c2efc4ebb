//! Units of torque and their exact factors.
//!
//! From the definitions lb = 0.45359237 kg, g = 9.80665 m/s², in = 25.4 mm
//! (NIST SP 811); every factor is a whole fraction, so nothing is lost.

use std::fmt;
use std::str::FromStr;

/// A unit of torque.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum TorqueUnit {
    #[default]
    NewtonMetre,
    PoundForceFoot,
    PoundForceInch,
    KilogramForceMetre,
    KilogramForceCentimetre,
}

impl TorqueUnit {
    pub const ALL: [Self; 5] = [
        Self::NewtonMetre,
        Self::PoundForceFoot,
        Self::PoundForceInch,
        Self::KilogramForceMetre,
        Self::KilogramForceCentimetre,
    ];

    /// The sign, also the stored form.
    pub fn sign(self) -> &'static str {
        match self {
            Self::NewtonMetre => "N·m",
            Self::PoundForceFoot => "lbf·ft",
            Self::PoundForceInch => "lbf·in",
            Self::KilogramForceMetre => "kgf·m",
            Self::KilogramForceCentimetre => "kgf·cm",
        }
    }

    /// How many newton metres one of it is: numerator and denominator, exact.
    pub const fn newton_metres(self) -> (u64, u64) {
        match self {
            Self::NewtonMetre => (1, 1),
            Self::PoundForceFoot => (3_389_544_870_828_501, 2_500_000_000_000_000),
            Self::PoundForceInch => (1_129_848_290_276_167, 10_000_000_000_000_000),
            Self::KilogramForceMetre => (196_133, 20_000),
            Self::KilogramForceCentimetre => (196_133, 2_000_000),
        }
    }

    /// How many of `other` one of this is, as a reduced fraction.
    pub fn ratio_to(self, other: Self) -> (u128, u128) {
        let (a, a_below) = self.newton_metres();
        let (b, b_below) = other.newton_metres();
        // Reduced crosswise first: the products then stay within 128 bits even
        // when multiplied by any entered value.
        let up = gcd(a, b);
        let down = gcd(a_below, b_below);
        (
            u128::from(a / up) * u128::from(b_below / down),
            u128::from(b / up) * u128::from(a_below / down),
        )
    }
}

fn gcd(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

impl fmt::Display for TorqueUnit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.sign())
    }
}

/// The text names no unit of torque.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotAUnit;

impl FromStr for TorqueUnit {
    type Err = NotAUnit;

    /// Reads the sign and the ways it is written on wrenches and in books:
    /// "Nm", "ft-lb", "lb ft", "in.lbs", "kgm", "kgf cm".
    fn from_str(text: &str) -> Result<Self, NotAUnit> {
        let tidy: String = text
            .chars()
            .filter(|it| it.is_alphabetic())
            .map(|it| it.to_ascii_lowercase())
            .collect();
        Ok(match tidy.as_str() {
            "nm" => Self::NewtonMetre,
            "lbfft" | "ftlbf" | "lbft" | "ftlb" | "lbsft" | "ftlbs" => Self::PoundForceFoot,
            "lbfin" | "inlbf" | "lbin" | "inlb" | "lbsin" | "inlbs" => Self::PoundForceInch,
            "kgfm" | "kgm" | "mkg" | "mkgf" | "kpm" => Self::KilogramForceMetre,
            "kgfcm" | "kgcm" | "cmkg" | "cmkgf" | "kpcm" => Self::KilogramForceCentimetre,
            _ => return Err(NotAUnit),
        })
    }
}
