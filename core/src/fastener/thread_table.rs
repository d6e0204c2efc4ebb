//! The threads that are standard on vehicles and machines, and how often each
//! is met. Weights are common practice, no source: they only order what the
//! measurements leave open. Sizes and pitches: ISO 261 and ISO 262, ASME B1.1,
//! ISO 228, ISO 7, ASME B1.20.1.

use super::size::InchSize;
use super::thread::{PipeForm, Thread};

/// A standard thread and how often it is met, 1 (rare) to 100 (everywhere).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StandardThread {
    pub thread: Thread,
    pub weight: u8,
}

/// Diameter in tenths of a millimetre, then pitch in hundredths and weight. Fine
/// pitches by ISO 261, from memory where no published row is checked.
type MetricRow = (u16, &'static [(u16, u8)]);

const METRIC: &[MetricRow] = &[
    (16, &[(35, 2)]),
    (20, &[(40, 8), (25, 1)]),
    (25, &[(45, 8), (35, 1)]),
    (30, &[(50, 25), (35, 1)]),
    (35, &[(60, 4)]),
    (40, &[(70, 35), (50, 1)]),
    (50, &[(80, 60), (50, 1)]),
    (60, &[(100, 100), (75, 1)]),
    (70, &[(100, 6), (75, 1)]),
    (80, &[(125, 100), (100, 12), (75, 1)]),
    (90, &[(125, 1), (100, 2), (75, 1)]),
    (100, &[(150, 70), (125, 35), (100, 20), (75, 1)]),
    (110, &[(150, 3), (125, 2)]),
    (120, &[(175, 40), (150, 30), (125, 30), (100, 2)]),
    (140, &[(200, 15), (150, 25), (125, 6), (100, 1)]),
    (160, &[(200, 15), (150, 12), (100, 1)]),
    (180, &[(250, 4), (150, 8), (200, 2)]),
    (200, &[(250, 8), (150, 7), (200, 3)]),
    (220, &[(250, 3), (150, 5), (200, 2)]),
    (240, &[(300, 5), (200, 4), (150, 3)]),
];

/// Threads per inch of the coarse and of the fine series, each with a weight;
/// 0 where the series has none.
type UnifiedRow = (InchSize, [(u8, u8); 2]);

const fn number(n: u8) -> InchSize {
    InchSize::Number(n)
}

const fn sixty_fourths(n: u16) -> InchSize {
    InchSize::Sixtyfourths(n)
}

const UNIFIED: &[UnifiedRow] = &[
    (number(4), [(40, 5), (48, 1)]),
    (number(5), [(40, 2), (44, 1)]),
    (number(6), [(32, 10), (40, 1)]),
    (number(8), [(32, 15), (36, 1)]),
    (number(10), [(24, 20), (32, 20)]),
    (number(12), [(24, 3), (28, 1)]),
    (sixty_fourths(16), [(20, 80), (28, 25)]),
    (sixty_fourths(20), [(18, 70), (24, 25)]),
    (sixty_fourths(24), [(16, 80), (24, 35)]),
    (sixty_fourths(28), [(14, 30), (20, 20)]),
    (sixty_fourths(32), [(13, 50), (20, 35)]),
    (sixty_fourths(36), [(12, 8), (18, 10)]),
    (sixty_fourths(40), [(11, 20), (18, 15)]),
    (sixty_fourths(48), [(10, 15), (16, 12)]),
    (sixty_fourths(56), [(9, 4), (14, 4)]),
    (sixty_fourths(64), [(8, 4), (12, 3)]),
];

/// One size of pipe thread.
pub(super) struct PipeRow {
    pub form: PipeForm,
    pub size: InchSize,
    pub tpi: u8,
    /// Largest and smallest outside diameter that a calliper meets, in
    /// micrometres. On a taper the smaller is at the end of the thread.
    pub outside_um: (u32, u32),
    pub weight: u8,
}

const fn pipe(form: PipeForm, n: u16, tpi: u8, outside_um: (u32, u32), weight: u8) -> PipeRow {
    PipeRow {
        form,
        size: sixty_fourths(n),
        tpi,
        outside_um,
        weight,
    }
}

/// ISO 228-1 class A, ISO 7-1 (small end by the gauge length), ASME B1.20.1
/// (small end to the outside of the pipe); recalled, not seen.
pub(super) const PIPE: &[PipeRow] = &[
    pipe(PipeForm::G, 8, 28, (9_728, 9_514), 15),
    pipe(PipeForm::G, 16, 19, (13_157, 12_907), 15),
    pipe(PipeForm::G, 24, 19, (16_662, 16_412), 10),
    pipe(PipeForm::G, 32, 14, (20_955, 20_671), 10),
    pipe(PipeForm::G, 48, 14, (26_441, 26_157), 6),
    pipe(PipeForm::G, 64, 11, (33_249, 32_889), 3),
    pipe(PipeForm::R, 8, 28, (9_728, 9_478), 12),
    pipe(PipeForm::R, 16, 19, (13_157, 12_781), 8),
    pipe(PipeForm::R, 24, 19, (16_662, 16_262), 5),
    pipe(PipeForm::R, 32, 14, (20_955, 20_443), 5),
    pipe(PipeForm::R, 48, 14, (26_441, 25_847), 3),
    pipe(PipeForm::R, 64, 11, (33_249, 32_599), 2),
    pipe(PipeForm::Npt, 4, 27, (7_938, 7_640), 3),
    pipe(PipeForm::Npt, 8, 27, (10_287, 9_986), 12),
    pipe(PipeForm::Npt, 16, 18, (13_716, 13_254), 12),
    pipe(PipeForm::Npt, 24, 18, (17_145, 16_680), 8),
    pipe(PipeForm::Npt, 32, 14, (21_336, 20_718), 8),
    pipe(PipeForm::Npt, 48, 14, (26_670, 26_045), 4),
];

/// Every standard thread, metric first.
pub fn standard_threads() -> impl Iterator<Item = StandardThread> {
    let metric = METRIC.iter().flat_map(|&(tenths, pitches)| {
        pitches
            .iter()
            .map(move |&(hundredths, weight)| StandardThread {
                thread: Thread::metric(u32::from(tenths) * 100, u32::from(hundredths) * 10),
                weight,
            })
    });
    let unified = UNIFIED.iter().flat_map(|&(size, series)| {
        series.into_iter().map(move |(tpi, weight)| StandardThread {
            thread: Thread::Unified { size, tpi },
            weight,
        })
    });
    let pipe = PIPE.iter().map(|row| StandardThread {
        thread: Thread::Pipe {
            form: row.form,
            size: row.size,
        },
        weight: row.weight,
    });
    metric.chain(unified).chain(pipe)
}

/// Fine threads of ISO 261 (from memory) that are hardly ever met, each with three
/// that read like it over their crests: diameter in tenths of a millimetre, pitch
/// in hundredths.
const SELDOM: &[(u16, u16)] = &[
    (35, 35),
    (110, 100),
    (110, 75),
    (180, 100),
    (200, 100),
    (220, 100),
    (240, 100),
];

/// Threads that only their pitch can tell: where four read alike over the crests,
/// the rarest is in no short list of three. They are weighed in once the pitch was
/// counted, or the thread is named.
pub fn seldom_threads() -> impl Iterator<Item = StandardThread> {
    SELDOM.iter().map(|&(tenths, hundredths)| StandardThread {
        thread: Thread::metric(u32::from(tenths) * 100, u32::from(hundredths) * 10),
        weight: 1,
    })
}

/// Series of a standard thread.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Series {
    MetricCoarse,
    MetricFine,
    UnifiedCoarse,
    UnifiedFine,
    Pipe,
    /// In no series held here.
    Special,
}

/// The series a thread belongs to.
pub fn series(thread: Thread) -> Series {
    match thread {
        Thread::Metric { .. } if thread.is_metric_coarse() => Series::MetricCoarse,
        Thread::Metric { .. } => Series::MetricFine,
        Thread::Unified { size, tpi } => {
            let row = UNIFIED.iter().find(|it| it.0 == size).map(|it| it.1);
            match row {
                Some([(coarse, _), _]) if coarse == tpi => Series::UnifiedCoarse,
                Some([_, (fine, _)]) if fine == tpi => Series::UnifiedFine,
                _ => Series::Special,
            }
        }
        Thread::Pipe { .. } => Series::Pipe,
    }
}
