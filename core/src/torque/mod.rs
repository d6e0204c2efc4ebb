//! Torque: units so far.

/// A unit that torque figures are given in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TorqueUnit {
    #[default]
    NewtonMetre,
    PoundForceFoot,
    PoundForceInch,
    KilogramForceMetre,
    KilogramForceCentimetre,
}
