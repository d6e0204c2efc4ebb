//! The ring on which a hexagon head bears: washer face outside, clearance hole
//! inside. ISO 4014 (product grade A, least washer face) and ISO 273 medium;
//! inch heads by ASME B18.2.1 across flats. Recalled but for M8 to M16.

use crate::fastener::{InchSize, Thread};

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

/// The ring of a hexagon head for a thread. `None` for pipe threads and for
/// diameters outside the table.
pub(super) fn hex_face(thread: Thread) -> Option<HeadFace> {
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
