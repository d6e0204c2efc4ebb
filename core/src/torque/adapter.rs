//! An adapter on the torque wrench: what to set so that the fastener gets its
//! torque, and the way back. Lengths in any one unit; only their ratio counts.
//!
//! Setting = torque x L / (L + E cos a): L from the grip to the drive, E from
//! the drive to the fastener, a between the adapter and the handle's line away
//! from the grip. At 90 degrees nothing is to be corrected; turned back over
//! the handle (180 degrees) the lever is shorter and more must be set.

use super::amount::Torque;
use crate::journal::Adapter;

/// How a fastener is reached from the drive of the wrench.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reach {
    /// A socket, or a socket bar in line with the drive, whatever its length:
    /// needs no correction.
    InLineWithDrive,
    /// An adapter that moves the fastener away from the drive (a crowfoot).
    Offset {
        wrench: f64,
        adapter: f64,
        angle_degrees: f64,
    },
}

/// Why no setting can be given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum AdapterError {
    /// The wrench has no length, or a length is negative or not a number.
    BadLength,
    /// The adapter reaches back past the grip: the wrench would turn the wrong
    /// way.
    BeyondTheGrip,
    /// The result is too big to hold.
    TooBig,
}

/// What may have been meant otherwise.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AdapterHint {
    /// At this angle, or with no offset, the setting is the torque itself. A
    /// straight socket bar is in line with the drive and is meant so.
    NothingToCorrect,
    /// The adapter is a good part of the wrench's length: hold the wrench at its
    /// grip, the figure hangs on it.
    LongAdapter,
}

impl Adapter {
    pub fn reach(self) -> Reach {
        Reach::Offset {
            wrench: f64::from(self.wrench_mm),
            adapter: f64::from(self.adapter_mm),
            angle_degrees: f64::from(self.angle),
        }
    }
}

/// Parts of a unit that a scale is read to.
fn grain(value: f64) -> f64 {
    match value {
        v if v < 10.0 => 100.0,
        v if v < 100.0 => 10.0,
        _ => 1.0,
    }
}

impl Reach {
    /// The same as fine as a scale can be read: to a tenth of the unit below
    /// 100, to a hundredth below 10, else to whole ones. None where there is no
    /// setting.
    pub fn on_scale(self, torque: Torque) -> Option<Torque> {
        let exact = self.setting(torque).ok()?;
        let grain = grain(exact.value());
        Torque::from_value((exact.value() * grain).round() / grain, exact.unit())
    }

    /// Torque at the fastener for each torque set. 1 means no correction.
    ///
    /// # Errors
    /// [`AdapterError`] when the lengths make no lever.
    pub fn factor(self) -> Result<f64, AdapterError> {
        let (wrench, adapter, angle) = match self {
            Self::InLineWithDrive => return Ok(1.0),
            Self::Offset {
                wrench,
                adapter,
                angle_degrees,
            } => (wrench, adapter, angle_degrees),
        };
        let good = wrench.is_finite()
            && wrench > 0.0
            && adapter.is_finite()
            && adapter >= 0.0
            && angle.is_finite();
        if !good {
            return Err(AdapterError::BadLength);
        }
        let factor = (wrench + adapter * angle.to_radians().cos()) / wrench;
        if factor <= 1e-6 {
            Err(AdapterError::BeyondTheGrip)
        } else {
            Ok(factor)
        }
    }

    /// What to set on the wrench so that the fastener gets `torque`, in its unit.
    ///
    /// # Errors
    /// [`AdapterError`] when the lengths make no lever or the figure is too big.
    ///
    /// ```
    /// use countback_core::torque::adapter::Reach;
    /// let crowfoot = Reach::Offset { wrench: 40.0, adapter: 5.0, angle_degrees: 0.0 };
    /// let setting = crowfoot.setting("80 N·m".parse().unwrap()).unwrap();
    /// assert_eq!(setting.to_string(), "71.111 N·m");
    /// ```
    pub fn setting(self, torque: Torque) -> Result<Torque, AdapterError> {
        let value = torque.value() / self.factor()?;
        Torque::from_value(value, torque.unit()).ok_or(AdapterError::TooBig)
    }

    /// What the fastener gets when `set` is set: the check of a setting.
    ///
    /// # Errors
    /// As [`Reach::setting`].
    pub fn applied(self, set: Torque) -> Result<Torque, AdapterError> {
        let value = set.value() * self.factor()?;
        Torque::from_value(value, set.unit()).ok_or(AdapterError::TooBig)
    }

    /// What to ask the person about, if anything.
    pub fn hint(self) -> Option<AdapterHint> {
        let Self::Offset {
            wrench, adapter, ..
        } = self
        else {
            return None;
        };
        match self.factor() {
            Ok(factor) if (factor - 1.0).abs() < 0.005 => Some(AdapterHint::NothingToCorrect),
            Ok(_) if adapter > wrench / 2.0 => Some(AdapterHint::LongAdapter),
            _ => None,
        }
    }
}
