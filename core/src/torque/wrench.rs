//! The person's torque wrenches, and whether one of them reaches a figure: to
//! be said before a pass begins, not in the middle of it.

use super::amount::Torque;
use std::cmp::Ordering;

/// What a wrench can be set to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WrenchRange {
    pub min: Torque,
    pub max: Torque,
}

/// Where a setting falls on a wrench.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Reached {
    Within,
    /// Within its scale, but under a fifth of its greatest figure, from where
    /// ISO 6789 states no accuracy (recalled).
    LowEnd,
    Below,
    Above,
}

impl WrenchRange {
    /// Where `setting` falls.
    pub fn reach(&self, setting: Torque) -> Reached {
        if setting.compare(self.min) == Ordering::Less {
            Reached::Below
        } else if setting.compare(self.max) == Ordering::Greater {
            Reached::Above
        } else if setting.newton_metres() < self.max.newton_metres() * 0.2 {
            Reached::LowEnd
        } else {
            Reached::Within
        }
    }
}

/// The settings of a pass that no wrench reaches well, each with the best that
/// any of `wrenches` does. Empty: the pass can begin. With no wrench known,
/// nothing is said.
pub fn unreached(wrenches: &[WrenchRange], settings: &[Torque]) -> Vec<(Torque, Reached)> {
    settings
        .iter()
        .filter_map(|&setting| {
            let best = wrenches.iter().map(|it| it.reach(setting)).min()?;
            (best != Reached::Within).then_some((setting, best))
        })
        .collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_outside_every_wrench_is_named() {
        let wrench = |min: &str, max: &str| WrenchRange {
            min: min.parse().unwrap(),
            max: max.parse().unwrap(),
        };
        let wrenches = [wrench("5 N·m", "25 N·m"), wrench("30 lbf·ft", "150 lbf·ft")];
        let settings =
            ["4 N·m", "10 N·m", "30 N·m", "90 N·m", "250 N·m"].map(|it| it.parse().unwrap());
        assert_eq!(
            unreached(&wrenches, &settings),
            [
                (settings[0], Reached::Below),
                (settings[2], Reached::Below),
                (settings[4], Reached::Above)
            ]
        );
        assert_eq!(
            wrench("5 N·m", "100 N·m").reach(settings[1]),
            Reached::LowEnd
        );
        assert!(unreached(&[], &settings).is_empty());
    }
}
