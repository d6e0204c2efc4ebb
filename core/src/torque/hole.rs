//! A bolt against its hole: does it bottom, and does it hold enough thread?
//! All lengths in micrometres.

use crate::fastener::{InchSize, Thread};

/// The metal that the thread is cut in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum HoleMetal {
    Steel,
    CastIron,
    Brass,
    Aluminium,
    Magnesium,
    /// A wire thread insert in soft metal.
    Insert,
    Plastic,
}

impl HoleMetal {
    /// Least thread held, in hundredths of the bolt's diameter. Common
    /// practice, no source; makers of soft castings often want more.
    pub fn least_engagement_percent(self) -> u32 {
        match self {
            Self::Steel => 100,
            Self::CastIron | Self::Brass => 125,
            Self::Aluminium | Self::Insert => 150,
            Self::Magnesium | Self::Plastic => 200,
        }
    }
}

/// What a bolt goes through and into.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stack {
    /// Under the head: parts, washers, gasket.
    pub thickness_um: u32,
    /// From the face of the hole down to where the thread ends.
    pub hole_depth_um: u32,
    pub metal: Option<HoleMetal>,
}

/// What the sum says. Every answer carries its sum, to be shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HoleVerdict {
    /// It holds `engaged_um` of thread with `spare_um` of hole to go. Nothing is
    /// said about enough when the metal is not known.
    Fits { engaged_um: u32, spare_um: u32 },
    /// It would reach `reach_um` into a hole of `hole_um`: the head never clamps.
    Bottoms { reach_um: u32, hole_um: u32 },
    /// It holds less thread than its hole's metal wants.
    HoldsTooLittle { engaged_um: u32, wanted_um: u32 },
    /// It does not come out of the stack at all.
    TooShort { length_um: u32, thickness_um: u32 },
}

impl HoleVerdict {
    /// Drawn to its figure it may tear its thread out, or it clamps nothing.
    pub fn too_little(self) -> bool {
        matches!(self, Self::HoldsTooLittle { .. } | Self::TooShort { .. })
    }
}

/// Checks a bolt of `length_um` under the head. The thread gives the engagement
/// wanted; without it only bottoming is checked.
///
/// ```
/// use countback_core::torque::hole::{HoleVerdict, Stack, check_length};
/// let new_flange = Stack { thickness_um: 9_000, hole_depth_um: 20_000, metal: None };
/// let old_bolt = check_length(30_000, None, new_flange);
/// assert_eq!(old_bolt, HoleVerdict::Bottoms { reach_um: 21_000, hole_um: 20_000 });
/// ```
pub fn check_length(length_um: u32, thread: Option<Thread>, stack: Stack) -> HoleVerdict {
    let thickness_um = stack.thickness_um;
    let hole_um = stack.hole_depth_um;
    if length_um <= thickness_um {
        return HoleVerdict::TooShort {
            length_um,
            thickness_um,
        };
    }
    let reach_um = length_um - thickness_um;
    if reach_um > hole_um {
        return HoleVerdict::Bottoms { reach_um, hole_um };
    }
    let wanted_um = match (thread.and_then(Thread::diameter_mm), stack.metal) {
        (Some(diameter_mm), Some(metal)) => {
            (diameter_mm * 10.0 * f64::from(metal.least_engagement_percent())).round() as u32
        }
        _ => 0,
    };
    if reach_um < wanted_um {
        return HoleVerdict::HoldsTooLittle {
            engaged_um: reach_um,
            wanted_um,
        };
    }
    HoleVerdict::Fits {
        engaged_um: reach_um,
        spare_um: hole_um - reach_um,
    }
}

/// Lengths that bolts are sold in, in whole millimetres: ISO 888, from memory.
const STOCK_MM: [u32; 24] = [
    8, 10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90, 100, 110, 120, 130, 140,
    150, 160,
];

/// The shortest two stock lengths beyond `length_um` that hold enough thread and
/// do not bottom; inch bolts come in eighths. None where no stock length fits.
pub fn longer_ones(length_um: u32, thread: Option<Thread>, stack: Stack, inch: bool) -> Vec<u32> {
    let stock: Vec<u32> = match inch {
        true => (2..=48)
            .map(|n| InchSize::Sixtyfourths(n * 8).to_um())
            .collect(),
        false => STOCK_MM.map(|mm| mm * 1_000).into(),
    };
    let fits = |um: &u32| {
        *um > length_um && matches!(check_length(*um, thread, stack), HoleVerdict::Fits { .. })
    };
    stock.into_iter().filter(fits).take(2).collect()
}

/// Height of the usual nut in micrometres: ISO 4032, and ASME B18.2.2 in
/// sixty-fourths of an inch; from memory.
pub fn nut_height_um(thread: Thread) -> Option<u32> {
    const ISO_4032: [(u32, u32); 13] = [
        (3_000, 2_400),
        (4_000, 3_200),
        (5_000, 4_700),
        (6_000, 5_200),
        (8_000, 6_800),
        (10_000, 8_400),
        (12_000, 10_800),
        (14_000, 12_800),
        (16_000, 14_800),
        (18_000, 15_800),
        (20_000, 18_000),
        (22_000, 19_400),
        (24_000, 21_500),
    ];
    const ASME: [(u16, u16); 8] = [
        (16, 14),
        (20, 17),
        (24, 21),
        (28, 24),
        (32, 28),
        (36, 31),
        (40, 35),
        (48, 41),
    ];
    match thread {
        Thread::Metric { diameter_um, .. } => {
            let row = ISO_4032.iter().find(|it| it.0 == diameter_um)?;
            Some(row.1)
        }
        Thread::Unified {
            size: InchSize::Sixtyfourths(n),
            ..
        } => {
            let row = ASME.iter().find(|it| it.0 == n)?;
            Some(InchSize::Sixtyfourths(row.1).to_um())
        }
        _ => None,
    }
}

/// Whether at least two full threads stand out of a nut of `nut_um` height, as
/// TM 9-2330-326-14&P wants (`seen`). `None` when the pitch is not known.
pub fn stands_out_of_nut(
    length_um: u32,
    thread: Thread,
    thickness_um: u32,
    nut_um: u32,
) -> Option<bool> {
    let two_threads = 2.0 * thread.pitch_mm()? * 1e3;
    let out = f64::from(length_um) - f64::from(thickness_um) - f64::from(nut_um);
    Some(out >= two_threads)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_thinner_flange_makes_the_old_bolts_bottom() {
        let m8: Option<Thread> = Some("M8".parse().unwrap());
        let stack = |thickness_um| Stack {
            thickness_um,
            hole_depth_um: 20_000,
            metal: Some(HoleMetal::Aluminium),
        };
        assert_eq!(
            check_length(30_000, m8, stack(12_000)),
            HoleVerdict::Fits {
                engaged_um: 18_000,
                spare_um: 2_000
            }
        );
        assert_eq!(
            check_length(30_000, m8, stack(9_000)),
            HoleVerdict::Bottoms {
                reach_um: 21_000,
                hole_um: 20_000
            }
        );
        assert_eq!(
            check_length(28_000, m8, stack(9_000)),
            HoleVerdict::Fits {
                engaged_um: 19_000,
                spare_um: 1_000
            }
        );
    }

    #[test]
    fn too_little_thread_is_told_by_the_metal() {
        let m8: Option<Thread> = Some("M8".parse().unwrap());
        let stack = |metal| Stack {
            thickness_um: 10_000,
            hole_depth_um: 20_000,
            metal,
        };
        assert_eq!(
            check_length(20_000, m8, stack(Some(HoleMetal::Aluminium))),
            HoleVerdict::HoldsTooLittle {
                engaged_um: 10_000,
                wanted_um: 12_000
            }
        );
        let fits = HoleVerdict::Fits {
            engaged_um: 10_000,
            spare_um: 10_000,
        };
        assert_eq!(
            check_length(20_000, m8, stack(Some(HoleMetal::Steel))),
            fits
        );
        assert_eq!(check_length(20_000, m8, stack(None)), fits);
        assert_eq!(
            check_length(10_000, m8, stack(None)),
            HoleVerdict::TooShort {
                length_um: 10_000,
                thickness_um: 10_000
            }
        );
    }

    #[test]
    fn longer_ones_hold_enough_and_do_not_bottom() {
        let m8: Option<Thread> = Some("M8".parse().unwrap());
        let stack = |hole_depth_um| Stack {
            thickness_um: 10_000,
            hole_depth_um,
            metal: Some(HoleMetal::Aluminium),
        };
        // 12 mm wanted in the metal: 25 holds 15, 30 holds 20.
        assert_eq!(
            longer_ones(20_000, m8, stack(20_000), false),
            [25_000, 30_000]
        );
        assert_eq!(longer_ones(20_000, m8, stack(16_000), false), [25_000]);
        assert!(longer_ones(20_000, m8, stack(12_000), false).is_empty());
        let inches = longer_ones(
            19_050,
            Some("5/16-18".parse().unwrap()),
            stack(20_000),
            true,
        );
        assert_eq!(inches, [22_225, 25_400]);
    }

    #[test]
    fn two_threads_stand_out_of_the_nut() {
        let m8: Thread = "M8".parse().unwrap();
        assert_eq!(stands_out_of_nut(30_000, m8, 20_000, 6_800), Some(true));
        assert_eq!(stands_out_of_nut(28_000, m8, 20_000, 6_800), Some(false));
    }
}
