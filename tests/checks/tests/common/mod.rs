//! Reads the tables of published values under tests/reference by column name.
#![allow(dead_code, clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::collections::BTreeMap;

/// One row, and where it stands in its file for messages.
#[derive(Debug)]
pub struct Row {
    pub line: usize,
    cells: BTreeMap<String, String>,
}

impl Row {
    /// The text of a column, which must exist.
    pub fn get(&self, column: &str) -> &str {
        self.cells
            .get(column)
            .unwrap_or_else(|| panic!("no column {column}"))
            .trim()
    }

    /// The number in a column.
    pub fn number(&self, column: &str) -> f64 {
        let text = self.get(column);
        text.parse()
            .unwrap_or_else(|_| panic!("line {}: {column} is {text:?}", self.line))
    }

    /// The number in a column that may be empty.
    pub fn maybe(&self, column: &str) -> Option<f64> {
        (!self.get(column).is_empty()).then(|| self.number(column))
    }
}

/// All rows of `tests/reference/<name>.csv`.
pub fn table(name: &str) -> Vec<Row> {
    let path = format!("{}/../reference/{name}.csv", env!("CARGO_MANIFEST_DIR"));
    let mut reader = csv::Reader::from_path(&path).expect(&path);
    let names = reader.headers().unwrap().clone();
    reader
        .records()
        .enumerate()
        .map(|(n, record)| Row {
            line: n + 2,
            cells: names
                .iter()
                .zip(record.unwrap().iter())
                .map(|(name, cell)| (name.to_string(), cell.to_string()))
                .collect(),
        })
        .collect()
}

/// `value` is within `percent` of `expected`.
pub fn close(value: f64, expected: f64, percent: f64) -> bool {
    (value - expected).abs() <= expected.abs() * percent / 100.0
}

/// A small fixed pseudo-random source (xorshift64*), so that every run draws
/// the same cases.
pub struct Draw(pub u64);

impl Draw {
    pub fn bits(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_F491_4F6C_DD1D)
    }

    /// Even between 0 and 1.
    pub fn unit(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// Normal with mean nought and the given standard deviation (Box-Muller).
    pub fn normal(&mut self, deviation: f64) -> f64 {
        let radius = (-2.0 * (1.0 - self.unit()).ln()).sqrt();
        deviation * radius * (std::f64::consts::TAU * self.unit()).cos()
    }
}
