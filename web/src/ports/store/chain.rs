//! The chain hash of a job: each act's hash covers the one before, so that the last one stands for
//! all of them in their order of writing.

use super::batch::ActRow;
use crate::ports::hash::sha256_hex;

/// The chain hash after `row`, where `before` is the one before it (empty for the first).
pub fn next(before: &str, row: &ActRow) -> String {
    sha256_hex(format!("{before}\n{}\n{}", row.key, row.line).as_bytes())
}

/// The chain hash over rows in any order; they are taken by sequence number.
pub fn of_rows(rows: &[ActRow]) -> String {
    let mut in_order: Vec<&ActRow> = rows.iter().collect();
    in_order.sort_by_key(|row| row.seq);
    in_order
        .into_iter()
        .fold(String::new(), |before, row| next(&before, row))
}
