//! What ships, on the scales.

use super::row::Row;
use crate::place::Place;
use crate::test::budget;
use anyhow::Result;

pub fn rows(place: &Place, rows: &mut Vec<Row>) -> Result<()> {
    let weight = budget::weigh(place)?;
    rows.push(Row::new("first_load_gzip_kb", weight.first_load_kb));
    rows.push(Row::new("wasm_gzip_kb", weight.wasm_kb));
    Ok(())
}
