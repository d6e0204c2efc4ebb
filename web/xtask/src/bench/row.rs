//! One figure, its limit, and how both are read and shown.

use anyhow::{Context, Result};
use serde_json::{Value, json};
use std::fmt::Write;
use std::fs;
use std::path::Path;

/// The figures that are promised: name, unit, limit; all at most.
const PROMISED: [(&str, &str, f64); 17] = [
    ("first_load_gzip_kb", "KB", 400.0),
    ("wasm_gzip_kb", "KB", 300.0),
    ("start_ratio_4x", "ratio", 2.5),
    ("act_saved_ratio", "ratio", 3.0),
    ("act_saved_tap_ratio", "ratio", 3.0),
    ("fold_100k_ms", "ms", 150.0),
    ("fold_slope", "ratio", 11.0),
    ("audit_10k_ms", "ms", 50.0),
    ("plan_10k_ms", "ms", 50.0),
    ("replan_1k_ms", "ms", 2.0),
    ("replan_1k_page_ms", "ms", 8.0),
    ("replan_10k_ms", "ms", 40.0),
    ("put_back_1k_ms", "ms", 2.0),
    ("put_back_1k_page_ms", "ms", 8.0),
    ("toposort_ratio", "ratio", 1.2),
    ("identify_ms", "ms", 2.0),
    ("tables_gzip_kb", "KB", 25.0),
];

/// One figure as measured.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    pub name: String,
    pub value: f64,
    pub unit: String,
    /// None for a figure that only informs.
    pub limit: Option<f64>,
    /// True where more is better.
    pub at_least: bool,
    /// What it was compared with, and how much that took.
    pub floor: Option<String>,
}

impl Row {
    /// A promised figure, with its unit and limit.
    pub fn new(name: &str, value: f64) -> Self {
        let promised = PROMISED.iter().find(|(known, ..)| *known == name);
        Self {
            name: name.to_owned(),
            value,
            unit: promised.map_or("", |(_, unit, _)| unit).to_owned(),
            limit: promised.map(|(.., limit)| *limit),
            at_least: false,
            floor: None,
        }
    }

    /// From what a measuring program printed. The limit of a promised figure
    /// is ours, whatever the program says.
    pub fn parse(value: &Value) -> Result<Self> {
        let name = value["name"].as_str().context("a row without a name")?;
        let number = value["value"]
            .as_f64()
            .with_context(|| format!("{name} has no value"))?;
        let mut row = Self::new(name, number);
        if let Some(unit) = value["unit"].as_str() {
            unit.clone_into(&mut row.unit);
        }
        if row.limit.is_none() {
            row.limit = value["limit"].as_f64();
            row.at_least = value["at_least"].as_bool().unwrap_or(false);
        }
        row.floor = match &value["floor"] {
            Value::Null => None,
            Value::String(text) => Some(text.clone()),
            other => Some(other.to_string()),
        };
        Ok(row)
    }

    /// Whether the value keeps its limit; true where there is none.
    pub fn holds(&self) -> bool {
        self.limit.is_none_or(|limit| {
            if self.at_least {
                self.value >= limit
            } else {
                self.value <= limit
            }
        })
    }

    fn verdict(&self) -> String {
        match self.limit {
            None => String::new(),
            Some(_) if self.holds() => "ok".to_owned(),
            Some(limit) => {
                let off = 100.0 * (self.value - limit).abs() / limit;
                format!("MISSED by {off:.0} %")
            }
        }
    }
}

/// Every row in a program's output: arrays or objects, one a line, among
/// lines that are something else.
pub fn from_output(text: &str) -> Result<Vec<Row>> {
    let mut rows = Vec::new();
    let whole = serde_json::from_str::<Value>(text).ok();
    let values = match whole {
        Some(value) => vec![value],
        None => text
            .lines()
            .filter_map(|line| serde_json::from_str(line).ok())
            .collect(),
    };
    for value in &values {
        match value {
            Value::Array(items) => {
                for item in items {
                    rows.push(Row::parse(item)?);
                }
            }
            Value::Object(_) => rows.push(Row::parse(value)?),
            _ => {}
        }
    }
    Ok(rows)
}

/// The rows a last run left; none if it left nothing readable.
pub fn read(file: &Path) -> Vec<Row> {
    fs::read_to_string(file)
        .ok()
        .and_then(|text| from_output(&text).ok())
        .unwrap_or_default()
}

pub fn json(rows: &[Row]) -> String {
    let list: Vec<Value> = rows
        .iter()
        .map(|row| {
            json!({
                "name": row.name,
                "value": (row.value * 1000.0).round() / 1000.0,
                "unit": row.unit,
                "limit": row.limit,
                "at_least": row.at_least,
                "floor": row.floor,
            })
        })
        .collect();
    format!("{:#}\n", Value::Array(list))
}

pub fn table(rows: &[Row]) -> String {
    let mut text = String::new();
    for row in rows {
        let limit = row.limit.map_or(String::new(), |limit| {
            format!("{} {limit}", if row.at_least { "min" } else { "max" })
        });
        let _ = writeln!(
            text,
            "{:22} {:>10.2} {:6} {:>9}  {:14} {}",
            row.name,
            row.value,
            row.unit,
            limit,
            row.verdict(),
            row.floor.as_deref().unwrap_or_default()
        );
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_come_from_lines_and_arrays_and_keep_our_limits() {
        let text = "warming up\n{\"name\":\"fold_slope\",\"value\":12,\"limit\":99}\n[{\"name\":\"x\",\"value\":1,\"limit\":2,\"at_least\":true,\"floor\":\"y 3 ms\"}]\n";
        let rows = from_output(text).unwrap();
        assert_eq!(rows[0].limit, Some(11.0));
        assert!(!rows[0].holds() && rows[0].verdict() == "MISSED by 9 %");
        assert!(rows[1].at_least && !rows[1].holds());
        assert_eq!(from_output(&json(&rows)).unwrap(), rows);
        assert!(from_output("{\"name\":\"fold_slope\"}").is_err());
    }
}
