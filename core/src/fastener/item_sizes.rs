//! Sizes of the small things that are bought by a standard's own size: circlips
//! for a shaft or a bore, split pins, crush washers, O-rings, hose clamps, clips,
//! pins and rivets. Spring band clamps by a page on DIN 3021 that was read, the
//! rest from memory; the old one measured goes first.

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

/// What a band takes from and to, and the nominal diameter of a spring band,
/// which is that of the hose outside.
const CLAMPS: &[ItemSizes] = &[
    ItemSizes {
        standard: "DIN 3017",
        of: "mm worm drive",
        sizes: &[
            "16 to 27",
            "20 to 32",
            "25 to 40",
            "30 to 45",
            "40 to 60",
            "50 to 70",
            "8 to 12",
            "10 to 16",
            "12 to 22",
            "32 to 50",
            "60 to 80",
            "70 to 90",
            "80 to 100",
            "90 to 110",
            "100 to 120",
        ],
    },
    ItemSizes {
        standard: "DIN 3021",
        of: "mm spring band",
        sizes: &[
            "14", "16", "19", "22", "25", "28", "13", "15", "17", "18", "20", "21", "23", "24",
            "26", "27", "29",
        ],
    },
];

/// The hole that a push-in clip sits in, and the tube that a P-clip holds.
const CLIPS: &[ItemSizes] = &[
    ItemSizes {
        standard: "as measured",
        of: "mm hole",
        sizes: &["6", "7", "8", "9", "10", "12", "5", "6.5", "8.5", "11"],
    },
    ItemSizes {
        standard: "DIN 3016",
        of: "mm tube",
        sizes: &[
            "6", "8", "10", "12", "15", "20", "5", "13", "16", "18", "25", "30",
        ],
    },
];

/// Diameter of the hole, and length.
const PINS: &[ItemSizes] = &[ItemSizes {
    standard: "ISO 8752",
    of: "mm spring pin",
    sizes: &[
        "3 x 20", "4 x 20", "4 x 30", "5 x 30", "6 x 40", "8 x 40", "2 x 12", "2.5 x 16", "3 x 16",
        "5 x 40", "6 x 30",
    ],
}];

const RIVETS: &[ItemSizes] = &[ItemSizes {
    standard: "ISO 15977",
    of: "mm blind rivet",
    sizes: &[
        "3.2 x 8", "4 x 8", "4 x 10", "4.8 x 10", "4.8 x 12", "4.8 x 16", "3.2 x 6", "3.2 x 10",
        "4 x 12",
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
        FastenerKind::Clamp => CLAMPS,
        FastenerKind::Clip => CLIPS,
        FastenerKind::Pin => PINS,
        FastenerKind::Rivet => RIVETS,
        _ => &[],
    }
}

/// Whether these words are one of the sizes of such a fastener.
pub fn is_size_of(kind: FastenerKind, words: &str) -> bool {
    let mut all = sizes_of(kind).iter();
    all.any(|of| of.sizes.iter().any(|size| in_words(of, size) == words))
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
    fn a_size_is_of_its_own_kind_alone() {
        let size = in_words(&CLAMPS[0], CLAMPS[0].sizes[0]);
        assert_eq!(size, "16 to 27 mm worm drive, DIN 3017");
        assert!(is_size_of(FastenerKind::Clamp, &size));
        assert!(!is_size_of(FastenerKind::Clip, &size));
        assert!(!is_size_of(FastenerKind::Clamp, "rear one"));
        assert!(!is_size_of(FastenerKind::Bolt, ""));
    }

    #[test]
    fn no_size_stands_twice_and_all_are_of_one_form() {
        let small = [CLAMPS, CLIPS, PINS, RIVETS].concat();
        let all = [CIRCLIPS, SPLIT_PINS, CRUSH_WASHERS, O_RINGS, &small].concat();
        for it in all {
            for (n, size) in it.sizes.iter().enumerate() {
                let between = if size.contains(" to ") { " to " } else { " x " };
                let parts = size.split(between);
                let numbers: Vec<f64> = parts.clone().filter_map(|n| n.parse().ok()).collect();
                assert_eq!(numbers.len(), parts.count(), "{size}");
                assert!(!it.sizes[..n].contains(size), "{size}");
                // Inside before outside, the hole before the length.
                if ["DIN 7603", "ISO 1234", "DIN 3017"].contains(&it.standard) {
                    assert!(numbers[0] < numbers[1], "{size}");
                }
            }
        }
    }
}
