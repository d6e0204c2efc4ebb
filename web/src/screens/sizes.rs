//! Sizes as chips, in millimetres and in inches: kinds, heads, drives, threads
//! and lengths that are met most, so that no size has to be typed. A chip's
//! number is a size in micrometres, or its place in a list here.
use countback_core::fastener::{
    Drive, DriveSize, FastenerKind, FastenerSpec, HeadSize, InchSize, Thread,
};
use countback_core::job::Job;
use countback_core::journal::LengthUnit;
use countback_core::words;

use crate::kit::{ChipItem, IArray};

type Chips = IArray<ChipItem<u32>>;

const KINDS: [FastenerKind; 10] = [
    FastenerKind::Bolt,
    FastenerKind::Nut,
    FastenerKind::Screw,
    FastenerKind::Stud,
    FastenerKind::Clip,
    FastenerKind::Clamp,
    FastenerKind::Circlip,
    FastenerKind::SplitPin,
    FastenerKind::Pin,
    FastenerKind::Other,
];
const DRIVES: [(Drive, &str); 6] = [
    (Drive::Hex, "hex"),
    (Drive::HexFlange, "flange"),
    (Drive::SocketHex, "hex key"),
    (Drive::Hexalobular, "six-lobe"),
    (Drive::Cross, "cross"),
    (Drive::Slotted, "slot"),
];
const HEADS_MM: [u32; 13] = [5, 6, 7, 8, 10, 12, 13, 14, 15, 16, 17, 18, 19];
const HEADS_IN: [u16; 11] = [16, 20, 22, 24, 28, 32, 36, 40, 44, 48, 60];
const KEYS_MM: [u32; 8] = [3, 4, 5, 6, 7, 8, 10, 12];
const KEYS_IN: [u16; 8] = [8, 9, 10, 12, 14, 16, 20, 24];
const LOBES: [u32; 9] = [15, 20, 25, 27, 30, 40, 45, 50, 55];
const CROSSES: [u32; 4] = [1, 2, 3, 4];
const LENGTHS_MM: [u32; 14] = [10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 100];
/// In sixty-fourths of an inch.
const LENGTHS_IN: [u16; 13] = [24, 32, 40, 48, 56, 64, 80, 96, 112, 128, 160, 192, 256];
const THREADS_MM: [&str; 13] = [
    "M4",
    "M5",
    "M6",
    "M7",
    "M8",
    "M8 x 1",
    "M10",
    "M10 x 1.25",
    "M12",
    "M12 x 1.5",
    "M14 x 1.5",
    "M16",
    "M16 x 1.5",
];
const THREADS_IN: [&str; 15] = [
    "#6-32", "#8-32", "#10-24", "#10-32", "1/4-20", "1/4-28", "5/16-18", "5/16-24", "3/8-16",
    "3/8-24", "7/16-14", "7/16-20", "1/2-13", "1/2-20", "5/8-11",
];

/// Whether a job's lengths are in inches.
pub fn inch(job: &Job) -> bool {
    let units = job.head.as_ref().map(|h| h.units.length);
    units == Some(LengthUnit::Inch)
}

/// A length held in micrometres as its stepper counts it: thousandths of a
/// millimetre, or of an inch.
#[derive(Clone, Copy, PartialEq, Eq)]
pub struct Scale {
    pub inch: bool,
}

impl Scale {
    pub fn unit(self) -> &'static str {
        if self.inch { "in" } else { "mm" }
    }
    pub fn shown(self, um: u32) -> u32 {
        if self.inch { words::mils(um) } else { um }
    }
    /// Back in micrometres: what was entered is shown again as it was.
    pub fn um(self, shown: u32) -> u32 {
        if self.inch {
            words::um_of_mils(shown)
        } else {
            shown
        }
    }
    /// One of two steps: in micrometres, or in thousandths of an inch.
    pub fn step(self, um: u32, mils: u32) -> u32 {
        if self.inch { mils } else { um }
    }
}

/// Sizes that are met most as chips, in whole millimetres or in sixty-fourths
/// of an inch; their numbers are micrometres.
pub fn near_chips(inch: bool, mm: &[u32], sixtyfourths: &[u16], on: impl Fn(u32) -> bool) -> Chips {
    if inch {
        let size = |&n: &u16| InchSize::Sixtyfourths(n);
        let sizes = sixtyfourths.iter().map(size);
        return sizes
            .map(|s| ChipItem::new(s.to_um(), s.to_string(), on(s.to_um())))
            .collect();
    }
    mm.iter()
        .map(|&mm| ChipItem::new(mm * 1000, mm.to_string(), on(mm * 1000)))
        .collect()
}

pub fn kind_chips(kind: FastenerKind) -> Chips {
    let chip = |(n, k): (usize, &FastenerKind)| ChipItem::new(n as u32, k.word(), kind == *k);
    KINDS.iter().enumerate().map(chip).collect()
}

pub fn kind(n: u32) -> FastenerKind {
    KINDS.get(n as usize).copied().unwrap_or_default()
}

pub fn drive_chips(head: Option<HeadSize>) -> Chips {
    let on = head.map(|h| h.drive);
    let chip = |(n, (d, label)): (usize, &(Drive, &'static str))| {
        ChipItem::new(n as u32, *label, on == Some(*d))
    };
    DRIVES.iter().enumerate().map(chip).collect()
}

pub fn drive(n: u32) -> Drive {
    DRIVES.get(n as usize).map_or(Drive::Hex, |d| d.0)
}

/// The sizes that go with a drive.
fn head_sizes(inch: bool, drive: Drive) -> Vec<DriveSize> {
    let mm = |list: &[u32]| list.iter().map(|&mm| DriveSize::Um(mm * 1000)).collect();
    let inches = |list: &[u16]| {
        let size = |&n: &u16| DriveSize::Inch(InchSize::Sixtyfourths(n));
        list.iter().map(size).collect()
    };
    let numbers = |list: &[u32]| list.iter().map(|&n| DriveSize::Number(n as u8)).collect();
    match (drive, inch) {
        (Drive::Hexalobular | Drive::ExternalHexalobular, _) => numbers(&LOBES),
        (Drive::Cross | Drive::CrossZ, _) => numbers(&CROSSES),
        (Drive::Slotted | Drive::Hand, _) => Vec::new(),
        (Drive::SocketHex, false) => mm(&KEYS_MM),
        (Drive::SocketHex, true) => inches(&KEYS_IN),
        (_, false) => mm(&HEADS_MM),
        (_, true) => inches(&HEADS_IN),
    }
}

/// The sizes of a head, by its drive; their numbers are their places.
pub fn head_chips(inch: bool, head: Option<HeadSize>) -> Chips {
    let drive = head.map_or(Drive::Hex, |h| h.drive);
    let chip = |(n, size): (usize, DriveSize)| {
        let label = match size {
            DriveSize::Um(um) => format!("{} mm", um / 1000),
            DriveSize::Inch(size) => format!("{size} in"),
            DriveSize::Number(n) => format!("{}{n}", drive.number_prefix()),
        };
        ChipItem::new(n as u32, label, head.and_then(|h| h.size) == Some(size))
    };
    let sizes = head_sizes(inch, drive).into_iter().enumerate();
    sizes.map(chip).collect()
}

/// The head with the size of that chip; off when it was on.
pub fn head(inch: bool, head: Option<HeadSize>, n: u32) -> Option<HeadSize> {
    let drive = head.map_or(Drive::Hex, |h| h.drive);
    let size = head_sizes(inch, drive).get(n as usize).copied();
    let new = HeadSize { drive, size };
    (head != Some(new)).then_some(new)
}

/// The head with another drive, whose sizes are others.
pub fn with_drive(head: Option<HeadSize>, n: u32) -> HeadSize {
    let drive = drive(n);
    let size = head
        .filter(|h| h.drive.could_be(drive))
        .and_then(|h| h.size);
    HeadSize { drive, size }
}

fn threads(inch: bool) -> &'static [&'static str] {
    if inch { &THREADS_IN } else { &THREADS_MM }
}

pub fn thread_chips(inch: bool, thread: Option<Thread>) -> Chips {
    let chip = |(n, name): (usize, &&'static str)| {
        let on = thread.is_some() && thread == name.parse().ok();
        ChipItem::new(n as u32, *name, on)
    };
    threads(inch).iter().enumerate().map(chip).collect()
}

pub fn thread(inch: bool, n: u32) -> Option<Thread> {
    threads(inch).get(n as usize)?.parse().ok()
}

/// Lengths; their numbers are micrometres.
pub fn length_chips(inch: bool, length_um: Option<u32>) -> Chips {
    let chip = |um: u32, label: String| ChipItem::new(um, label, length_um == Some(um));
    if inch {
        let size = |&n: &u16| InchSize::Sixtyfourths(n);
        let sizes = LENGTHS_IN.iter().map(size);
        return sizes.map(|s| chip(s.to_um(), s.to_string())).collect();
    }
    let sizes = LENGTHS_MM.iter();
    sizes.map(|&mm| chip(mm * 1000, mm.to_string())).collect()
}

pub fn length_label(inch: bool) -> &'static str {
    if inch { "Length, inches" } else { "Length, mm" }
}

/// Millimetres or inches, as two chips.
pub fn system_chips(inch: bool) -> Chips {
    [
        ChipItem::new(0, "millimetres", !inch),
        ChipItem::new(1, "inches", inch),
    ]
    .into_iter()
    .collect()
}

/// Sets one length, or takes it back when it was set.
pub fn flip_length(spec: &mut FastenerSpec, um: u32) {
    spec.length_um = (spec.length_um != Some(um)).then_some(um);
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn every_chip_of_a_thread_reads_as_one() {
        for inch in [false, true] {
            for n in 0..threads(inch).len() {
                assert!(thread(inch, n as u32).is_some(), "{}", threads(inch)[n]);
            }
        }
    }

    #[test]
    fn a_chip_of_a_head_sets_it_and_takes_it_back() {
        let ten = head(false, None, 4);
        assert_eq!(ten, Some(HeadSize::mm(Drive::Hex, 10)));
        assert_eq!(head(false, ten, 4), None);
        let lobed = with_drive(ten, 3);
        assert_eq!(lobed.size, None, "a spanner's size is no key's number");
        let half = head(true, None, 5).unwrap();
        assert_eq!(half.label(), "1/2 in head");
    }
}
