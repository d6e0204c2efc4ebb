//! Which head, nut and key sizes go with which threads, by standard.
//!
//! The sizes are the nominal ones of each standard. `weight` is common
//! practice, no source: how often the standard is met on a vehicle or machine.

use super::head::{Drive, DriveSize};
use super::head_rows::*;
use super::kind::FastenerKind;
use super::size::InchSize;
use super::thread::{PipeForm, Thread};

/// The threads of a standard, each with its size.
#[derive(Clone, Copy, Debug)]
pub(super) enum Sizes {
    /// Diameter in tenths of a millimetre, coarse pitch; size in tenths.
    Coarse(&'static [(u16, u16)]),
    /// Diameter in tenths, pitch in hundredths of a millimetre; size in tenths.
    Pitched(&'static [(u16, u16, u16)]),
    /// Diameter in tenths of a millimetre, coarse pitch; drive number.
    Numbered(&'static [(u16, u8)]),
    /// Size and across flats in 64ths of an inch, coarse and fine.
    Inch(&'static [(InchSize, u16)]),
    /// Size in inches, coarse and fine; drive number.
    InchNumbered(&'static [(InchSize, u8)]),
    /// Size in inches, coarse and fine; width in micrometres.
    InchUm(&'static [(InchSize, u16)]),
    /// Parallel pipe size in 64ths of an inch; size in tenths of a millimetre.
    Pipe(&'static [(u16, u16)]),
}

/// One standard's sizes for one sort of fastener.
#[derive(Clone, Copy, Debug)]
pub struct HeadStandard {
    pub name: &'static str,
    pub kind: FastenerKind,
    pub drive: Drive,
    pub weight: u8,
    pub(super) sizes: Sizes,
}

const fn standard(
    name: &'static str,
    kind: FastenerKind,
    drive: Drive,
    weight: u8,
    sizes: Sizes,
) -> HeadStandard {
    HeadStandard {
        name,
        kind,
        drive,
        weight,
        sizes,
    }
}

use Drive as D;
use FastenerKind as K;

/// Every standard held. Checked rows: hex, flange, nuts, keys and hexalobular
/// against published tables; cross and slot sizes, flange nuts, inch flanges,
/// plugs, wheel and pipe nuts are recalled or common practice, no source.
pub const HEAD_STANDARDS: &[HeadStandard] = &[
    standard(
        "ISO 4014 / ISO 4017",
        K::Bolt,
        D::Hex,
        60,
        Sizes::Coarse(ISO_HEX),
    ),
    standard(
        "ISO 8765 / ISO 8676",
        K::Bolt,
        D::Hex,
        40,
        Sizes::Pitched(ISO_FINE),
    ),
    standard(
        "DIN 931 / DIN 933",
        K::Bolt,
        D::Hex,
        60,
        Sizes::Coarse(DIN_HEX),
    ),
    standard(
        "DIN 960 / DIN 961",
        K::Bolt,
        D::Hex,
        40,
        Sizes::Pitched(DIN_FINE),
    ),
    standard(
        "EN 1662 small series",
        K::Bolt,
        D::HexFlange,
        50,
        Sizes::Coarse(EN_1662),
    ),
    standard("EN 1665", K::Bolt, D::HexFlange, 60, Sizes::Coarse(EN_1665)),
    standard(
        "JIS B 1189 small series",
        K::Bolt,
        D::HexFlange,
        40,
        Sizes::Coarse(JIS_FLANGE),
    ),
    standard(
        "JIS B 1180 small series",
        K::Bolt,
        D::Hex,
        50,
        Sizes::Pitched(JIS_SMALL),
    ),
    standard(
        "ISO 4161 flange",
        K::Nut,
        D::HexFlange,
        50,
        Sizes::Coarse(ISO_4161),
    ),
    standard(
        "DIN 6923 flange",
        K::Nut,
        D::HexFlange,
        40,
        Sizes::Coarse(DIN_6923),
    ),
    standard("ISO 4032", K::Nut, D::Hex, 60, Sizes::Coarse(ISO_HEX)),
    standard("ISO 8673", K::Nut, D::Hex, 40, Sizes::Pitched(ISO_FINE)),
    standard("DIN 934", K::Nut, D::Hex, 60, Sizes::Coarse(DIN_HEX)),
    standard("DIN 934 fine", K::Nut, D::Hex, 40, Sizes::Pitched(DIN_FINE)),
    standard(
        "ISO 7040 prevailing torque",
        K::Nut,
        D::Hex,
        40,
        Sizes::Coarse(ISO_HEX),
    ),
    standard("DIN 1587 domed", K::Nut, D::Hex, 5, Sizes::Coarse(ISO_HEX)),
    standard(
        "ISO 4762",
        K::Screw,
        D::SocketHex,
        60,
        Sizes::Coarse(ISO_4762),
    ),
    standard(
        "JIS B 1176",
        K::Screw,
        D::SocketHex,
        20,
        Sizes::Coarse(ISO_4762),
    ),
    standard(
        "ISO 7380-1 button head",
        K::Screw,
        D::SocketHex,
        30,
        Sizes::Coarse(ISO_7380),
    ),
    standard(
        "ISO 10642 countersunk",
        K::Screw,
        D::SocketHex,
        20,
        Sizes::Coarse(ISO_10642),
    ),
    standard(
        "ISO 14579 / ISO 14583",
        K::Screw,
        D::Hexalobular,
        60,
        Sizes::Numbered(HEXALOBULAR),
    ),
    standard(
        "usual on vehicles",
        K::Screw,
        D::Hexalobular,
        30,
        Sizes::Numbered(HEXALOBULAR_USUAL),
    ),
    standard(
        "usual on vehicles",
        K::Bolt,
        D::ExternalHexalobular,
        50,
        Sizes::Numbered(EXTERNAL_HEXALOBULAR),
    ),
    standard(
        "ISO 7045 / ISO 7046",
        K::Screw,
        D::Cross,
        50,
        Sizes::Numbered(CROSS),
    ),
    standard(
        "ISO 7045 / ISO 7046 type Z",
        K::Screw,
        D::CrossZ,
        30,
        Sizes::Numbered(CROSS),
    ),
    standard(
        "ISO 1207 / ISO 1580",
        K::Screw,
        D::Slotted,
        30,
        Sizes::Coarse(SLOT),
    ),
    standard(
        "wheel bolts and nuts, usual",
        K::Bolt,
        D::Hex,
        20,
        Sizes::Pitched(WHEEL),
    ),
    standard(
        "wheel bolts and nuts, usual",
        K::Nut,
        D::Hex,
        20,
        Sizes::Pitched(WHEEL),
    ),
    standard(
        "spark plugs, usual",
        K::Plug,
        D::Hex,
        40,
        Sizes::Pitched(SPARK_PLUG),
    ),
    standard(
        "brake pipe nuts, usual",
        K::Nut,
        D::Hex,
        10,
        Sizes::Pitched(PIPE_NUT),
    ),
    standard(
        "DIN 908 plugs",
        K::Plug,
        D::SocketHex,
        30,
        Sizes::Pitched(DIN_908),
    ),
    standard(
        "DIN 908 pipe plugs",
        K::Plug,
        D::SocketHex,
        20,
        Sizes::Pipe(DIN_908_PIPE),
    ),
    standard(
        "ASME B18.2.1 hex",
        K::Bolt,
        D::Hex,
        60,
        Sizes::Inch(ASME_HEX),
    ),
    standard(
        "ASME B18.2.1 square",
        K::Bolt,
        D::Square,
        10,
        Sizes::Inch(ASME_SQUARE),
    ),
    standard(
        "ASME B18.2.2 hex",
        K::Nut,
        D::Hex,
        60,
        Sizes::Inch(ASME_NUT),
    ),
    standard(
        "ASME B18.2.2 machine screw",
        K::Nut,
        D::Hex,
        15,
        Sizes::Inch(ASME_SCREW_NUT),
    ),
    standard(
        "IFI 111 flange",
        K::Bolt,
        D::HexFlange,
        40,
        Sizes::Inch(ASME_FLANGE),
    ),
    standard(
        "IFI 145 flange",
        K::Nut,
        D::HexFlange,
        30,
        Sizes::Inch(ASME_FLANGE_NUT),
    ),
    standard(
        "ASME B18.6.3 type I",
        K::Screw,
        D::Cross,
        40,
        Sizes::InchNumbered(ASME_CROSS),
    ),
    standard(
        "ASME B18.6.3 slotted",
        K::Screw,
        D::Slotted,
        25,
        Sizes::InchUm(ASME_SLOT),
    ),
    standard(
        "ASME B18.3",
        K::Screw,
        D::SocketHex,
        40,
        Sizes::Inch(ASME_SOCKET),
    ),
];

impl HeadStandard {
    /// Every thread of this standard with the size of its drive.
    pub fn entries(&self) -> Vec<(Thread, DriveSize)> {
        let coarse = |tenths: u16| Thread::metric_coarse(u32::from(tenths) * 100);
        let um = |tenths: u16| DriveSize::Um(u32::from(tenths) * 100);
        match self.sizes {
            Sizes::Coarse(rows) => rows
                .iter()
                .filter_map(|&(d, size)| Some((coarse(d)?, um(size))))
                .collect(),
            Sizes::Pitched(rows) => rows
                .iter()
                .map(|&(d, pitch, size)| {
                    (
                        Thread::metric(u32::from(d) * 100, u32::from(pitch) * 10),
                        um(size),
                    )
                })
                .collect(),
            Sizes::Numbered(rows) => rows
                .iter()
                .filter_map(|&(d, number)| Some((coarse(d)?, DriveSize::Number(number))))
                .collect(),
            Sizes::Inch(rows) => both_series(rows, |n| DriveSize::Inch(InchSize::Sixtyfourths(n))),
            Sizes::InchNumbered(rows) => both_series(rows, DriveSize::Number),
            Sizes::InchUm(rows) => both_series(rows, |um| DriveSize::Um(u32::from(um))),
            Sizes::Pipe(rows) => rows
                .iter()
                .map(|&(n, size)| {
                    let thread = Thread::Pipe {
                        form: PipeForm::G,
                        size: InchSize::Sixtyfourths(n),
                    };
                    (thread, um(size))
                })
                .collect(),
        }
    }
}

/// The coarse and the fine thread of each inch size, with the size of its drive.
fn both_series<T: Copy>(
    rows: &[(InchSize, T)],
    drive: impl Fn(T) -> DriveSize,
) -> Vec<(Thread, DriveSize)> {
    let threads = |size: InchSize| {
        super::thread_table::standard_threads()
            .map(|it| it.thread)
            .filter(move |it| matches!(it, Thread::Unified { size: s, .. } if *s == size))
    };
    rows.iter()
        .flat_map(|&(size, n)| {
            let drive = drive(n);
            threads(size).map(move |thread| (thread, drive))
        })
        .collect()
}

/// Over the points and across the flanks of socket T`number`, in millimetres.
/// `None` for a number outside ISO 10664.
pub fn hexalobular_recess_mm(number: u8) -> Option<(f64, f64)> {
    let row = HEXALOBULAR_RECESS.iter().find(|it| it.0 == number)?;
    Some((f64::from(row.1) / 100.0, f64::from(row.2) / 100.0))
}

/// The socket number nearest to what was measured over the points, in
/// millimetres. `None` when nothing is within a tenth of the measure.
pub fn hexalobular_by_points(over_points_mm: f64) -> Option<u8> {
    HEXALOBULAR_RECESS
        .iter()
        .map(|&(number, points, _)| (number, (f64::from(points) / 100.0 - over_points_mm).abs()))
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .filter(|it| it.1 <= over_points_mm * 0.1)
        .map(|it| it.0)
}
