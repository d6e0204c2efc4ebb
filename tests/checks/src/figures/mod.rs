//! Figures that the product has to reach, measured natively. Each module gives
//! its rows; the bench prints them all.
pub mod folding;

use std::time::Instant;

/// A figure and its limit.
#[derive(Clone, Debug)]
pub struct Row {
    pub name: &'static str,
    pub value: f64,
    pub unit: &'static str,
    pub limit: f64,
    /// More is better.
    pub at_least: bool,
    /// What it was compared with, if anything.
    pub floor: Option<f64>,
}

impl Row {
    /// A figure that may be at most `limit`.
    pub fn at_most(name: &'static str, value: f64, unit: &'static str, limit: f64) -> Self {
        Self {
            name,
            value,
            unit,
            limit,
            at_least: false,
            floor: None,
        }
    }
    pub fn json(&self) -> serde_json::Value {
        serde_json::json!({
            "name": self.name,
            "value": (self.value * 1_000.0).round() / 1_000.0,
            "unit": self.unit,
            "limit": self.limit,
            "at_least": self.at_least,
            "floor": self.floor,
        })
    }
}

/// More than any cache of a machine this is run on holds, in bytes.
const COLD: usize = 64 << 20;

/// The median of `times` runs, in milliseconds; making ready is not timed. Every
/// run starts with cold caches, as after reading from storage, so that a small
/// run has no start over a large one.
pub fn median_ms<T, R>(times: usize, mut ready: impl FnMut() -> T, run: impl Fn(T) -> R) -> f64 {
    let mut other = vec![0_u8; COLD];
    median((0..times.max(1)).map(|_| {
        let given = ready();
        for byte in other.iter_mut().step_by(64) {
            *byte = byte.wrapping_add(1);
        }
        std::hint::black_box(&other);
        let start = Instant::now();
        let result = run(given);
        let ms = start.elapsed().as_secs_f64() * 1_000.0;
        drop(std::hint::black_box(result));
        ms
    }))
}

/// The middle one of some; the upper of two.
///
/// # Panics
/// Where there is none.
pub fn median(of: impl IntoIterator<Item = f64>) -> f64 {
    let mut all: Vec<f64> = of.into_iter().collect();
    all.sort_by(f64::total_cmp);
    all[all.len() / 2]
}
