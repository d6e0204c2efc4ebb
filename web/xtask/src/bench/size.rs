//! What ships, on the scales.

use super::row::Row;
use crate::place::Place;
use crate::test::budget;
use anyhow::Result;

pub fn rows(place: &Place, rows: &mut Vec<Row>) -> Result<()> {
    let weight = budget::weigh(place)?;
    rows.push(Row::new("first_load_gzip_kb", weight.first_load_kb));
    rows.push(Row::new("wasm_gzip_kb", weight.wasm_kb));
    rows.push(Row {
        unit: "KB".to_owned(),
        floor: Some("first start, second file and copies together".to_owned()),
        ..Row::new("all_wasm_gzip_kb", weight.all_wasm_kb)
    });
    Ok(())
}
