//! An amount of torque as it was entered, with its unit kept.

use super::unit::TorqueUnit;
use crate::fastener::size::{mm_text, parse_mm};
use std::cmp::Ordering;
use std::fmt;
use std::str::FromStr;

/// A torque in thousandths of its own unit. Two are equal when they were
/// entered alike; [`Torque::compare`] weighs amounts across units.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Torque {
    thousandths: u32,
    unit: TorqueUnit,
}

impl Torque {
    /// From thousandths of the unit: 25 N·m is `from_thousandths(25_000, NewtonMetre)`.
    pub const fn from_thousandths(thousandths: u32, unit: TorqueUnit) -> Self {
        Self { thousandths, unit }
    }

    /// From a computed value in the unit, rounded to thousandths. `None` when it
    /// is negative, not a number, or too big to hold.
    pub fn from_value(value: f64, unit: TorqueUnit) -> Option<Self> {
        let thousandths = (value * 1e3).round();
        (0.0..=f64::from(u32::MAX))
            .contains(&thousandths)
            .then_some(Self {
                thousandths: thousandths as u32,
                unit,
            })
    }

    pub fn unit(self) -> TorqueUnit {
        self.unit
    }

    pub fn thousandths(self) -> u32 {
        self.thousandths
    }

    /// The entered number, in its own unit.
    pub fn value(self) -> f64 {
        f64::from(self.thousandths) / 1e3
    }

    /// In newton metres.
    pub fn newton_metres(self) -> f64 {
        let (up, down) = self.unit.newton_metres();
        self.value() * up as f64 / down as f64
    }

    /// The same amount in another unit, rounded to its nearest thousandth. In
    /// its own unit nothing changes. `None` when it is too big to hold there.
    ///
    /// ```
    /// use countback_core::torque::{Torque, TorqueUnit};
    /// let entered: Torque = "18 lbf·ft".parse().unwrap();
    /// let shown = entered.in_unit(TorqueUnit::NewtonMetre).unwrap();
    /// assert_eq!(shown.to_string(), "24.405 N·m");
    /// ```
    pub fn in_unit(self, unit: TorqueUnit) -> Option<Self> {
        let (up, down) = self.unit.ratio_to(unit);
        let thousandths = (u128::from(self.thousandths) * up * 2 + down) / (down * 2);
        Some(Self {
            thousandths: u32::try_from(thousandths).ok()?,
            unit,
        })
    }

    /// For reading at arm's length: in `unit`, with three figures that matter
    /// ("24.4", "105", "8.13").
    pub fn shown_in(self, unit: TorqueUnit) -> String {
        // What was entered is shown as entered.
        if unit == self.unit {
            return self.to_string();
        }
        let (up, down) = self.unit.ratio_to(unit);
        let value = self.value() * (up as f64 / down as f64);
        let decimals = if value >= 99.95 {
            0
        } else if value >= 9.995 {
            1
        } else {
            2
        };
        format!("{value:.decimals$} {unit}")
    }

    /// Which is more, whatever the units. Exact.
    pub fn compare(self, other: Self) -> Ordering {
        let (up, down) = self.unit.ratio_to(other.unit);
        (u128::from(self.thousandths) * up).cmp(&(u128::from(other.thousandths) * down))
    }

    /// A part in hundredths of this amount, rounded to the thousandth.
    pub fn percent(self, percent: u16) -> Option<Self> {
        let thousandths = (u64::from(self.thousandths) * u64::from(percent) + 50) / 100;
        Some(Self {
            thousandths: u32::try_from(thousandths).ok()?,
            unit: self.unit,
        })
    }
}

impl fmt::Display for Torque {
    /// "25 N·m", "18.5 lbf·ft".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", mm_text(self.thousandths), self.unit)
    }
}

/// Why a text is not an amount of torque.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TorqueError {
    /// No plain number of at most three decimals in front.
    Number(String),
    /// What follows the number is no unit of torque.
    Unit(String),
}

impl FromStr for Torque {
    type Err = TorqueError;

    fn from_str(text: &str) -> Result<Self, TorqueError> {
        let text = text.trim();
        let end = text
            .find(|it: char| !it.is_ascii_digit() && !matches!(it, '.' | ','))
            .unwrap_or(text.len());
        let (number, unit) = text.split_at(end);
        let thousandths =
            parse_mm(number).ok_or_else(|| TorqueError::Number(number.to_string()))?;
        let unit = unit
            .parse()
            .map_err(|_| TorqueError::Unit(unit.trim().to_string()))?;
        Ok(Self { thousandths, unit })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn torque() -> impl Strategy<Value = Torque> {
        (any::<u32>(), prop::sample::select(&TorqueUnit::ALL[..]))
            .prop_map(|(thousandths, unit)| Torque { thousandths, unit })
    }

    proptest! {
        #[test]
        fn prints_and_parses_back(it in torque()) {
            prop_assert_eq!(it.to_string().parse(), Ok(it));
        }

        #[test]
        fn own_unit_changes_nothing(it in torque()) {
            prop_assert_eq!(it.in_unit(it.unit()), Some(it));
        }

        /// There and back is off by no more than half a thousandth of the unit
        /// between, carried back, and half of one's own.
        #[test]
        fn another_unit_and_back(it in torque(), unit in prop::sample::select(&TorqueUnit::ALL[..])) {
            if let Some(back) = it.in_unit(unit).and_then(|there| there.in_unit(it.unit())) {
                let (up, down) = unit.ratio_to(it.unit());
                let bound = 0.5 * (up as f64 / down as f64) + 0.5;
                let off = it.thousandths().abs_diff(back.thousandths());
                prop_assert!(f64::from(off) <= bound, "{it} -> {back}");
            }
        }

        #[test]
        fn comparison_turns_about(a in torque(), b in torque()) {
            prop_assert_eq!(a.compare(b), b.compare(a).reverse());
            let (x, y) = (a.newton_metres(), b.newton_metres());
            if (x - y).abs() > 1e-9 * x.max(y) {
                prop_assert_eq!(Some(a.compare(b)), x.partial_cmp(&y));
            }
        }
    }

    #[test]
    fn written_many_ways() {
        let foot: Torque = "18 lbf·ft".parse().unwrap();
        for text in ["18 ft-lb", "18ft lbs", "18 lb.ft", "18,0 FT·LBF"] {
            assert_eq!(text.parse(), Ok(foot), "{text}");
        }
        assert_eq!("25Nm".parse::<Torque>().unwrap().to_string(), "25 N·m");
        assert_eq!(
            "x Nm".parse::<Torque>(),
            Err(TorqueError::Number(String::new()))
        );
        assert_eq!(
            "25 mm".parse::<Torque>(),
            Err(TorqueError::Unit("mm".into()))
        );
    }

    #[test]
    fn shown_with_three_figures_but_never_the_entered_one() {
        let entered: Torque = "18 lbf·ft".parse().unwrap();
        assert_eq!(entered.shown_in(TorqueUnit::NewtonMetre), "24.4 N·m");
        assert_eq!(entered.shown_in(TorqueUnit::PoundForceFoot), "18 lbf·ft");
        let hundred: Torque = "100 lbf·in".parse().unwrap();
        assert_eq!(hundred.shown_in(TorqueUnit::NewtonMetre), "11.3 N·m");
    }
}
