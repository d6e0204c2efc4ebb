//! What ships, on the scales.

use super::row::Row;
use crate::dist::{split, wasm};
use crate::place::Place;
use crate::test::budget;
use anyhow::{Context, Result};
use std::fs;

/// The modules that have tables of threads, heads, classes and torque.
const TABLES: [&str; 2] = ["countback_core::fastener::", "countback_core::torque::"];

pub fn rows(place: &Place, rows: &mut Vec<Row>) -> Result<()> {
    let weight = budget::weigh(place)?;
    rows.push(Row::new("first_load_gzip_kb", weight.first_load_kb));
    rows.push(Row::new("wasm_gzip_kb", weight.wasm_kb));
    rows.push(Row {
        unit: "KB".to_owned(),
        floor: Some("first start, second file and copies together".to_owned()),
        ..Row::new("all_wasm_gzip_kb", weight.all_wasm_kb)
    });
    let linked = wasm::compiled(place, "countback-web");
    let linked = fs::read(&linked).with_context(|| linked.display().to_string())?;
    let tables = split::data_of(&linked, &TABLES)?;
    rows.push(Row {
        floor: Some(format!("{} bytes of data before gzip", tables.len())),
        ..Row::new("tables_gzip_kb", budget::gzip_kb(&tables)?)
    });
    Ok(())
}
