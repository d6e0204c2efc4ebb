//! What ships, on the scales.

use super::row::Row;
use crate::place::Place;
use crate::test::budget;
use anyhow::Result;

pub fn rows(place: &Place) -> Result<Vec<Row>> {
    let weight = budget::weigh(place)?;
    Ok(vec![
        Row::new("first_load_gzip_kb", weight.first_load_kb),
        Row::new("wasm_gzip_kb", weight.wasm_kb),
    ])
}
