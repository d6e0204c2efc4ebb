//! The ring on which a hexagon head bears: washer face outside, clearance hole
//! inside. ISO 4014 (product grade A, least washer face) and ISO 273 medium;
//! inch heads by ASME B18.2.1 across flats. Recalled but for M8 to M16.

use crate::fastener::{Drive, DriveSize, HeadSize, InchSize, Thread};

/// Outer and inner diameter of the bearing ring, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct HeadFace {
    pub outer_mm: f64,
    pub inner_mm: f64,
}

/// Diameter in tenths of a millimetre; washer face in hundredths, hole in tenths.
#[rustfmt::skip]
const FACES: &[(u16, u16, u16)] = &[
    (16, 227, 18), (20, 307, 24), (25, 407, 29), (30, 457, 34), (35, 507, 39), (40, 588, 45),
    (50, 688, 55), (60, 888, 66), (70, 963, 76), (80, 1163, 90), (90, 1300, 100), (100, 1463, 110),
    (110, 1550, 120), (120, 1663, 135), (140, 1964, 155), (160, 2249, 175), (180, 2534, 200),
    (200, 2819, 220), (220, 3171, 240), (240, 3361, 260),
];

/// A flange: thread diameter in tenths of a millimetre, across flats in tenths,
/// least washer face in hundredths. EN 1662, as ISO 4162, which has 15 across
/// flats on M12.
#[rustfmt::skip]
const SMALL_FLANGES: &[(u16, u16, u16)] = &[
    (50, 70, 940), (60, 80, 1160), (80, 100, 1490), (100, 130, 1870), (120, 160, 2250),
    (120, 150, 2250), (140, 180, 2640), (160, 210, 3060),
];

/// The same by EN 1665, and flange nuts by ISO 4161 and DIN 6923 from memory.
#[rustfmt::skip]
const FLANGES: &[(u16, u16, u16)] = &[
    (50, 80, 980), (60, 100, 1220), (80, 130, 1580), (100, 160, 1960), (120, 180, 2380),
    (140, 210, 2760), (160, 240, 3190), (200, 300, 3990),
];

/// The ring that a head bears on: of a flange where it is known to have one of
/// the tables, by its size across flats; where that is not known, the smaller
/// one. Of a plain hexagon else.
pub(super) fn face(thread: Thread, head: Option<HeadSize>) -> Option<HeadFace> {
    let plain = hex_face(thread)?;
    let flange = head
        .filter(|it| it.drive == Drive::HexFlange)
        .and_then(|it| flange_mm(thread, it.size));
    Some(HeadFace {
        outer_mm: flange.unwrap_or(plain.outer_mm),
        ..plain
    })
}

fn flange_mm(thread: Thread, size: Option<DriveSize>) -> Option<f64> {
    let Thread::Metric { diameter_um, .. } = thread else {
        return None;
    };
    let across_um = size.and_then(DriveSize::to_um);
    let fits = |it: &&(u16, u16, u16)| {
        u32::from(it.0) * 100 == diameter_um
            && across_um.is_none_or(|um| u32::from(it.1) * 100 == um)
    };
    let row = SMALL_FLANGES.iter().chain(FLANGES).find(fits)?;
    Some(f64::from(row.2) / 100.0)
}

/// The ring of a hexagon head for a thread. `None` for pipe threads and for
/// diameters outside the table.
fn hex_face(thread: Thread) -> Option<HeadFace> {
    match thread {
        Thread::Metric { diameter_um, .. } => {
            let tenths = u16::try_from(diameter_um / 100).ok()?;
            let row = FACES.iter().find(|it| it.0 == tenths)?;
            Some(HeadFace {
                outer_mm: f64::from(row.1) / 100.0,
                inner_mm: f64::from(row.2) / 10.0,
            })
        }
        Thread::Unified { size, .. } => {
            let d = size.to_inches();
            let across = match size {
                // Across flats of the usual hexagon is one and a half diameters,
                // a sixteenth more on the quarter inch.
                InchSize::Sixtyfourths(16) => 0.4375,
                InchSize::Number(_) => 1.6 * d,
                InchSize::Sixtyfourths(_) => 1.5 * d,
            };
            // The washer face is 95 % of the flats, the hole 1/32 in wide.
            Some(HeadFace {
                outer_mm: 0.95 * across * 25.4,
                inner_mm: (d + 1.0 / 32.0) * 25.4,
            })
        }
        Thread::Pipe { .. } => None,
    }
}
