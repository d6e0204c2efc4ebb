//! The sizes that chips offer, those that are met most first (common practice,
//! no source); which threads they go with is the core's to say.
use countback_core::fastener::Drive;

/// In every list those that are met most come first, as many as its second
/// field says; the rest stand behind "more".
pub type List<T> = (&'static [T], usize);

pub const DRIVES: List<(Drive, &str)> = (
    &[
        (Drive::Hex, "hex"),
        (Drive::HexFlange, "flange"),
        (Drive::SocketHex, "hex key"),
        (Drive::Hexalobular, "six-lobe"),
        (Drive::Cross, "cross"),
        (Drive::Slotted, "slot"),
        (Drive::ExternalHexalobular, "six-lobe outside"),
        (Drive::TwelvePoint, "twelve-point"),
        (Drive::TripleSquare, "triple-square"),
        (Drive::Square, "square"),
        (Drive::CrossZ, "cross Z"),
        (Drive::Hand, "by hand"),
    ],
    6,
);
/// In micrometres.
pub const HEADS_MM: List<u32> = (
    &[
        5_000, 6_000, 7_000, 8_000, 10_000, 12_000, 13_000, 14_000, 15_000, 16_000, 17_000, 18_000,
        19_000, 3_200, 4_000, 5_500, 9_000, 11_000, 20_800, 21_000, 22_000, 24_000, 27_000, 30_000,
        32_000, 34_000, 36_000,
    ],
    13,
);
/// In sixty-fourths of an inch.
pub const HEADS_IN: List<u16> = (
    &[
        16, 20, 22, 24, 28, 32, 36, 40, 44, 48, 60, 12, 18, 26, 30, 52, 56, 64, 68, 72, 84, 96,
    ],
    11,
);
pub const KEYS_MM: List<u32> = (
    &[
        3_000, 4_000, 5_000, 6_000, 7_000, 8_000, 10_000, 12_000, 1_300, 1_500, 2_000, 2_500,
        14_000, 17_000, 19_000,
    ],
    8,
);
pub const KEYS_IN: List<u16> = (&[8, 9, 10, 12, 14, 16, 20, 24, 4, 5, 6, 7, 32, 40, 48], 8);
pub const LOBES: List<u8> = (
    &[
        15, 20, 25, 27, 30, 40, 45, 50, 55, 6, 8, 10, 60, 70, 80, 90, 100,
    ],
    9,
);
pub const LOBES_OUTSIDE: List<u8> = (&[6, 8, 10, 12, 14, 16, 18, 20, 4, 5, 7, 11, 24], 8);
pub const TEETH: List<u8> = (&[6, 8, 10, 12, 5, 14, 16], 4);
pub const CROSSES: List<u8> = (&[1, 2, 3, 4, 0], 4);
/// Widths of slots.
pub const SLOTS_MM: List<u32> = (&[800, 1_000, 1_200, 1_600, 2_000, 400, 500, 600, 2_500], 5);
/// Thicknesses of shims, in micrometres.
pub const SHIMS_UM: List<u32> = (
    &[
        50, 100, 150, 200, 250, 300, 500, 800, 1_000, 1_500, 2_000, 2_500, 3_000, 30, 350, 400,
        450, 600, 700, 1_200, 1_800, 2_200, 2_800, 3_500, 4_000, 5_000,
    ],
    13,
);
/// In thousandths of an inch.
pub const SHIMS_MILS: List<u32> = (
    &[
        2, 3, 5, 10, 15, 20, 25, 30, 40, 50, 60, 80, 100, 1, 4, 6, 8, 12, 125,
    ],
    13,
);
pub const LENGTHS_MM: List<u32> = (
    &[
        10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 100, 6, 8, 14, 18, 22, 28, 55, 65, 75,
        85, 90, 110, 120, 130, 140, 150,
    ],
    14,
);
/// In sixty-fourths of an inch.
pub const LENGTHS_IN: List<u16> = (
    &[
        24, 32, 40, 48, 56, 64, 80, 96, 112, 128, 160, 192, 256, 16, 20, 28, 72, 88, 104, 144, 176,
        208, 224, 240, 288, 320,
    ],
    13,
);
pub const THREADS_MM: List<&str> = (
    &[
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
        "M2",
        "M2.5",
        "M3",
        "M3.5",
        "M9 x 1",
        "M10 x 1",
        "M11",
        "M12 x 1.25",
        "M12 x 1",
        "M14",
        "M14 x 1.25",
        "M18",
        "M18 x 1.5",
        "M18 x 2",
        "M20",
        "M20 x 1.5",
        "M22",
        "M22 x 1.5",
        "M24",
        "M24 x 2",
        "M24 x 1.5",
        "G 1/8",
        "G 1/4",
        "G 3/8",
        "G 1/2",
        "G 3/4",
        "G 1",
        "R 1/8",
        "R 1/4",
        "R 3/8",
        "R 1/2",
        "R 3/4",
        "R 1",
        "NPT 1/16",
        "NPT 1/8",
        "NPT 1/4",
        "NPT 3/8",
        "NPT 1/2",
        "NPT 3/4",
        "M20 x 2",
        "M22 x 2",
        "M14 x 1",
        "M16 x 1",
        "M1.6",
        "M2 x 0.25",
        "M2.5 x 0.35",
        "M3 x 0.35",
        "M4 x 0.5",
        "M5 x 0.5",
        "M6 x 0.75",
        "M7 x 0.75",
        "M8 x 0.75",
        "M9 x 1.25",
        "M9 x 0.75",
        "M10 x 0.75",
        "M11 x 1.25",
    ],
    13,
);
pub const THREADS_IN: List<&str> = (
    &[
        "#6-32", "#8-32", "#10-24", "#10-32", "1/4-20", "1/4-28", "5/16-18", "5/16-24", "3/8-16",
        "3/8-24", "7/16-14", "7/16-20", "1/2-13", "1/2-20", "5/8-11", "#4-40", "#5-40", "#12-24",
        "9/16-12", "9/16-18", "5/8-18", "3/4-10", "3/4-16", "7/8-9", "7/8-14", "1-8", "1-12",
        "#4-48", "#5-44", "#6-40", "#8-36", "#12-28", "NPT 1/16", "NPT 1/8", "NPT 1/4", "NPT 3/8",
        "NPT 1/2", "NPT 3/4",
    ],
    15,
);
