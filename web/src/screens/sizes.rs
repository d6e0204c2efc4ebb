//! Sizes as chips, in millimetres and in inches: kinds, heads, drives, threads
//! and lengths that are met most, so that no size has to be typed. A chip's
//! number is a size in micrometres, or its place in a list here.
use countback_core::fastener::item_sizes::{self, ItemSizes};
use countback_core::fastener::size::mm_text;
use countback_core::fastener::{
    Drive, DriveSize, FastenerKind, FastenerSpec, HeadSize, InchSize, Thread,
};
use countback_core::job::Job;
use countback_core::journal::LengthUnit;
use countback_core::words;

use yew::prelude::*;

use crate::app::Desk;
use crate::kit::{ChipItem, ChipRow, IArray, Stepper, use_local};
use crate::part;

mod lists;
use lists::*;

type Chips = IArray<ChipItem<u32>>;
/// Chips, and how many of them are usual.
pub type Usual = (Chips, usize);

const KINDS: [FastenerKind; 14] = [
    FastenerKind::Bolt,
    FastenerKind::Nut,
    FastenerKind::Screw,
    FastenerKind::Stud,
    FastenerKind::Clip,
    FastenerKind::Clamp,
    FastenerKind::Circlip,
    FastenerKind::SplitPin,
    FastenerKind::Pin,
    FastenerKind::Shim,
    FastenerKind::Plug,
    FastenerKind::Washer,
    FastenerKind::Rivet,
    FastenerKind::Other,
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

/// Sets a kind; a size of its own that only the kind before has goes with that.
pub fn set_kind(spec: &mut FastenerSpec, n: u32) {
    if item_sizes::is_size_of(spec.kind, &spec.text) {
        spec.text.clear();
    }
    spec.kind = kind(n);
}

pub fn drive_chips(head: Option<HeadSize>) -> Usual {
    let on = head.map(|h| h.drive);
    let chip = |(n, (d, label)): (usize, &(Drive, &'static str))| {
        ChipItem::new(n as u32, *label, on == Some(*d))
    };
    let items = DRIVES.0.iter().enumerate().map(chip).collect();
    (items, DRIVES.1)
}

pub fn drive(n: u32) -> Drive {
    DRIVES.0.get(n as usize).map_or(Drive::Hex, |d| d.0)
}

/// The sizes that go with a drive, and how many of them are usual.
fn head_sizes(inch: bool, drive: Drive) -> (Vec<DriveSize>, usize) {
    let mm = |list: List<u32>| (list.0.iter().map(|&um| DriveSize::Um(um)).collect(), list.1);
    let inches = |list: List<u16>| {
        let size = |&n: &u16| DriveSize::Inch(InchSize::Sixtyfourths(n));
        (list.0.iter().map(size).collect(), list.1)
    };
    let numbers = |list: List<u8>| {
        let size = |&n: &u8| DriveSize::Number(n);
        (list.0.iter().map(size).collect(), list.1)
    };
    match (drive, inch) {
        (Drive::Hexalobular, _) => numbers(LOBES),
        (Drive::ExternalHexalobular, _) => numbers(LOBES_OUTSIDE),
        (Drive::TripleSquare, _) => numbers(TEETH),
        (Drive::Cross | Drive::CrossZ, _) => numbers(CROSSES),
        (Drive::Slotted, _) => mm(SLOTS_MM),
        (Drive::Hand, _) => (Vec::new(), 0),
        (Drive::SocketHex, false) => mm(KEYS_MM),
        (Drive::SocketHex, true) => inches(KEYS_IN),
        (_, false) => mm(HEADS_MM),
        (_, true) => inches(HEADS_IN),
    }
}

/// The sizes of a head, by its drive; their numbers are their places.
pub fn head_chips(inch: bool, head: Option<HeadSize>) -> Usual {
    let drive = head.map_or(Drive::Hex, |h| h.drive);
    let chip = |(n, size): (usize, DriveSize)| {
        let label = match size {
            DriveSize::Um(um) => format!("{} mm", mm_text(um)),
            DriveSize::Inch(size) => format!("{size} in"),
            DriveSize::Number(n) => format!("{}{n}", drive.number_prefix()),
        };
        ChipItem::new(n as u32, label, head.and_then(|h| h.size) == Some(size))
    };
    let (sizes, usual) = head_sizes(inch, drive);
    (sizes.into_iter().enumerate().map(chip).collect(), usual)
}

/// Whether sizes can be told of a head at all, and what they are called.
pub fn head_label(head: Option<HeadSize>) -> &'static str {
    match head.map(|h| h.drive) {
        Some(Drive::Slotted) => "Width of the slot",
        Some(Drive::SocketHex | Drive::Hexalobular | Drive::TripleSquare) => "Key",
        _ => "Head",
    }
}

/// The head with the size of that chip; off when it was on.
pub fn head(inch: bool, head: Option<HeadSize>, n: u32) -> Option<HeadSize> {
    let drive = head.map_or(Drive::Hex, |h| h.drive);
    let size = head_sizes(inch, drive).0.get(n as usize).copied();
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

fn threads(inch: bool) -> List<&'static str> {
    if inch { THREADS_IN } else { THREADS_MM }
}

pub fn thread_chips(inch: bool, thread: Option<Thread>) -> Usual {
    let chip = |(n, name): (usize, &&'static str)| {
        let on = thread.is_some() && thread == name.parse().ok();
        ChipItem::new(n as u32, *name, on)
    };
    let (names, usual) = threads(inch);
    (names.iter().enumerate().map(chip).collect(), usual)
}

pub fn thread(inch: bool, n: u32) -> Option<Thread> {
    threads(inch).0.get(n as usize)?.parse().ok()
}

/// Lengths; their numbers are micrometres.
pub fn length_chips(inch: bool, length_um: Option<u32>) -> Usual {
    let chip = |um: u32, label: String| ChipItem::new(um, label, length_um == Some(um));
    if inch {
        let size = |&n: &u16| InchSize::Sixtyfourths(n);
        let sizes = LENGTHS_IN.0.iter().map(size);
        let items = sizes.map(|s| chip(s.to_um(), s.to_string())).collect();
        return (items, LENGTHS_IN.1);
    }
    let sizes = LENGTHS_MM.0.iter();
    let items = sizes.map(|&mm| chip(mm * 1000, mm.to_string())).collect();
    (items, LENGTHS_MM.1)
}

/// Thicknesses of shims; their numbers are micrometres.
fn shim_chips(inch: bool, thick_um: Option<u32>) -> Usual {
    let chip = |um: u32, label: String| ChipItem::new(um, label, thick_um == Some(um));
    if inch {
        let label = |mils: u32| format!("0.{mils:03}");
        let sizes = SHIMS_MILS.0.iter();
        let items = sizes.map(|&n| chip(words::um_of_mils(n), label(n)));
        return (items.collect(), SHIMS_MILS.1);
    }
    let items = SHIMS_UM.0.iter().map(|&um| chip(um, mm_text(um)));
    (items.collect(), SHIMS_UM.1)
}

/// How thick a shim is: one that is met often, and from there in hundredths of
/// a millimetre or thousandths of an inch. Given as micrometres, 0 where it is
/// not known any more.
pub fn thickness(inch: bool, thick_um: Option<u32>, onset: Callback<u32>) -> Html {
    let scale = Scale { inch };
    let style = crate::app::the_desk().style();
    let now = thick_um.unwrap_or(0);
    let flip = onset.reform(move |um: u32| if um == now { 0 } else { um });
    html! {
        <>
            { part!(Sizes { label: if inch { "How thick, inches" } else { "How thick, mm" }, items: shim_chips(inch, thick_um), onpress: flip }) }
            { part!(Stepper { label: "As measured", value: scale.shown(now), step: scale.step(10, 1), max: scale.shown(30_000), unit: scale.unit(), decimal: style.decimal, under: (now == 0).then_some(AttrValue::Static(UNMEASURED)), onchange: onset.reform(move |n: u32| scale.um(n)) }) }
        </>
    }
}

/// Sets a shim's thickness, or takes it back.
pub fn set_thickness(spec: &mut FastenerSpec, um: u32) {
    spec.length_um = (um > 0).then_some(um);
}

const UNMEASURED: &str = "Left at 0 where nobody measured it.";

/// Properties of [`Sizes`].
#[derive(Properties, PartialEq)]
pub struct Sizes {
    pub label: AttrValue,
    /// Those met most first.
    pub items: Usual,
    pub onpress: Callback<u32>,
}

/// Sizes as chips: those met most, the one that is on, and the rest behind one
/// more tap.
#[hook]
fn use_sizes(props: &Sizes) -> Html {
    let all = use_local(|| false);
    let (items, usual) = &props.items;
    let shown: Chips = items
        .iter()
        .enumerate()
        .filter(|(n, item)| *all || n < usual || item.pressed)
        .map(|(_, item)| item.clone())
        .collect();
    let more = (shown.len() < items.len()).then(|| AttrValue::from("more"));
    let onmore = {
        let all = all.clone();
        Callback::from(move |()| all.set(true))
    };
    part!(ChipRow::<u32> {
        label: props.label.clone(),
        items: shown,
        onpress: props.onpress.clone(),
        more: more,
        onmore: onmore
    })
}

crate::live!(Sizes, use_sizes);

/// The sizes of a small thing that is bought by a standard's own size, a row for
/// each standard; `onset` is given the words of the one chosen, or none.
pub fn small_sizes(spec: &FastenerSpec, onset: &Callback<String>) -> Html {
    let row = |of: &'static ItemSizes| {
        let (now, onset) = (spec.text.clone(), onset.clone());
        let press = Callback::from(move |n: u32| {
            let size = of.sizes.get(n as usize);
            let picked = size.map(|size| item_sizes::in_words(of, size));
            onset.emit(picked.filter(|text| *text != now).unwrap_or_default());
        });
        part!(Sizes {
            label: format!("Size, {}, {}", of.of, of.standard),
            items: item_chips(of, &spec.text),
            onpress: press
        })
    };
    item_sizes::sizes_of(spec.kind).iter().map(row).collect()
}

/// Sizes that a standard gives of a small thing; their numbers are their places.
pub fn item_chips(of: &ItemSizes, now: &str) -> Usual {
    let chip = |(n, size): (usize, &&'static str)| {
        ChipItem::new(n as u32, *size, now == item_sizes::in_words(of, size))
    };
    let items = of.sizes.iter().enumerate().map(chip).collect();
    (items, 6)
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

/// The system that a sheet offers sizes in, at first the job's own, and the
/// chips that switch it: one bolt of the other system is met on most machines
/// (common practice, no source).
#[hook]
pub fn use_system(desk: &Desk, job: &str) -> (bool, Html) {
    let own = desk.read(job, |book| inch(book.job()));
    let now = use_local(|| own.unwrap_or_default());
    let set = now.clone();
    let onpress = Callback::from(move |n: u32| set.set(n == 1));
    let chips = part!(ChipRow::<u32> {
        label: "Sizes in",
        items: system_chips(*now),
        onpress: onpress
    });
    (*now, html! { { chips } })
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
            let (names, usual) = threads(inch);
            assert!(usual < names.len());
            let read: Vec<_> = (0..names.len()).map(|n| thread(inch, n as u32)).collect();
            assert!(read.iter().all(Option::is_some), "{read:?}");
            let once: std::collections::BTreeSet<_> = read.iter().collect();
            assert_eq!(once.len(), names.len(), "none stands twice");
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
        let slot = with_drive(ten, 5);
        let wide = head(false, Some(slot), 3).unwrap();
        assert_eq!(wide.label(), "1.6 mm slotted head");
    }

    /// Every thread held in the core is on a chip of its own system, at most
    /// behind "more"; a taper pipe thread of the inch series in both.
    #[test]
    fn every_thread_held_here_has_a_chip() {
        use countback_core::fastener::PipeForm;
        use countback_core::fastener::thread_table::standard_threads;
        let on_chips = |inch: bool, it: Thread| {
            let names = threads(inch).0.iter();
            names.clone().any(|n| n.parse() == Ok(it))
        };
        let mut missing = Vec::new();
        for it in standard_threads().map(|it| it.thread) {
            let systems: &[bool] = match it {
                Thread::Metric { .. } => &[false],
                Thread::Unified { .. } => &[true],
                Thread::Pipe {
                    form: PipeForm::Npt,
                    ..
                } => &[false, true],
                Thread::Pipe { .. } => &[false],
            };
            let lacks = systems.iter().any(|&inch| !on_chips(inch, it));
            missing.extend(lacks.then(|| it.to_string()));
        }
        assert_eq!(missing, Vec::<String>::new());
    }

    /// No standard held in the core gives these a head.
    const NO_HEAD: [&str; 17] = [
        "M2 x 0.25",
        "M2.5 x 0.35",
        "M3 x 0.35",
        "M4 x 0.5",
        "M5 x 0.5",
        "M6 x 0.75",
        "M7 x 0.75",
        "M8 x 0.75",
        "M9 x 1.25",
        "M9 x 1",
        "M9 x 0.75",
        "M10 x 0.75",
        "M11 x 1.5",
        "M11 x 1.25",
        "M14 x 1.25",
        "M14 x 1",
        "M16 x 1",
    ];

    /// The heads on chips lead to every thread that has one.
    #[test]
    fn every_thread_with_a_head_is_offered_by_a_chip_of_a_head() {
        use countback_core::fastener::thread_table::standard_threads;
        use countback_core::fastener::{FastenerKind, Habit, suggest::threads_for_head};
        let mut offered = std::collections::BTreeSet::new();
        for inch in [false, true] {
            for (drive, _) in DRIVES.0 {
                for size in head_sizes(inch, *drive).0 {
                    let head = HeadSize {
                        drive: *drive,
                        size: Some(size),
                    };
                    for kind in [FastenerKind::Bolt, FastenerKind::Nut] {
                        let found = threads_for_head(head, kind, Habit::Mixed);
                        offered.extend(found.into_iter().map(|it| it.thread));
                    }
                }
            }
        }
        let missing: Vec<String> = standard_threads()
            .map(|it| it.thread)
            .filter(|it| !matches!(it, Thread::Pipe { .. }) && !offered.contains(it))
            .map(|it| it.to_string())
            .collect();
        assert_eq!(missing, NO_HEAD);
    }
}
