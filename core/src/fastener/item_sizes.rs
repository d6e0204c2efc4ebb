//! Sizes of the small things that are bought by a standard's own size: circlips
//! for a shaft or a bore, split pins, crush washers, O-rings. All from memory;
//! the old one measured goes first.

use super::kind::FastenerKind;

/// One standard's sizes of one thing, those met most first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ItemSizes {
    /// "for a shaft, DIN 471".
    pub standard: &'static str,
    /// What a size is of: "mm shaft".
    pub of: &'static str,
    pub sizes: &'static [&'static str],
}

/// The shaft or bore in millimetres.
const CIRCLIPS: &[ItemSizes] = &[
    ItemSizes {
        standard: "DIN 471",
        of: "mm shaft",
        sizes: &[
            "10", "12", "15", "17", "20", "25", "30", "8", "14", "16", "18", "22", "24", "28",
            "32", "35", "40", "45", "50",
        ],
    },
    ItemSizes {
        standard: "DIN 472",
        of: "mm bore",
        sizes: &[
            "22", "26", "28", "32", "35", "40", "47", "16", "19", "20", "24", "30", "37", "42",
            "52", "55", "62", "72",
        ],
    },
];

/// Nominal diameter, which is that of the hole, and length.
const SPLIT_PINS: &[ItemSizes] = &[ItemSizes {
    standard: "ISO 1234",
    of: "mm",
    sizes: &[
        "2 x 20", "2.5 x 25", "3.2 x 32", "3.2 x 40", "4 x 40", "4 x 50", "1 x 12", "1.6 x 16",
        "2 x 25", "2.5 x 32", "3.2 x 50", "5 x 50", "5 x 63", "6.3 x 63",
    ],
}];

/// Inside, outside and thickness.
const CRUSH_WASHERS: &[ItemSizes] = &[ItemSizes {
    standard: "DIN 7603",
    of: "mm",
    sizes: &[
        "10 x 14 x 1",
        "12 x 16 x 1.5",
        "14 x 18 x 1.5",
        "16 x 20 x 1.5",
        "18 x 22 x 1.5",
        "6 x 10 x 1",
        "8 x 12 x 1",
        "10 x 13.5 x 1",
        "14 x 20 x 1.5",
        "18 x 24 x 1.5",
        "20 x 24 x 1.5",
        "22 x 27 x 1.5",
        "24 x 29 x 2",
    ],
}];

/// Inside and section: ISO 3601 sections 1.78, 2.62 and 3.53.
const O_RINGS: &[ItemSizes] = &[ItemSizes {
    standard: "ISO 3601",
    of: "mm",
    sizes: &[
        "7.65 x 1.78",
        "9.25 x 1.78",
        "10.82 x 1.78",
        "12.42 x 1.78",
        "14 x 1.78",
        "17.17 x 1.78",
        "9.19 x 2.62",
        "12.37 x 2.62",
        "15.54 x 2.62",
        "18.72 x 2.62",
        "21.89 x 2.62",
        "25.07 x 2.62",
        "18.64 x 3.53",
        "24.99 x 3.53",
        "29.74 x 3.53",
        "37.69 x 3.53",
        "44.04 x 3.53",
    ],
}];

/// The sizes of such a fastener; empty for kinds that are told by their thread.
pub fn sizes_of(kind: FastenerKind) -> &'static [ItemSizes] {
    match kind {
        FastenerKind::Circlip => CIRCLIPS,
        FastenerKind::SplitPin => SPLIT_PINS,
        _ => &[],
    }
}

/// The sizes of crush washers and of O-rings, which are no fasteners.
pub const fn crush_washers() -> &'static [ItemSizes] {
    CRUSH_WASHERS
}

pub const fn o_rings() -> &'static [ItemSizes] {
    O_RINGS
}

/// A size as it is written down: "20 mm shaft, DIN 471".
pub fn in_words(of: &ItemSizes, size: &str) -> String {
    format!("{size} {}, {}", of.of, of.standard)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_size_stands_twice_and_all_are_of_one_form() {
        let all = [CIRCLIPS, SPLIT_PINS, CRUSH_WASHERS, O_RINGS].concat();
        for it in all {
            for (n, size) in it.sizes.iter().enumerate() {
                let numbers: Vec<f64> = size.split(" x ").filter_map(|n| n.parse().ok()).collect();
                assert_eq!(numbers.len(), size.split(" x ").count(), "{size}");
                assert!(!it.sizes[..n].contains(size), "{size}");
                // Inside before outside, the hole before the length.
                if it.standard == "DIN 7603" || it.standard == "ISO 1234" {
                    assert!(numbers[0] < numbers[1], "{size}");
                }
            }
        }
    }
}
