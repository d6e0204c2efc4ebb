//! A procedure as a file of its own: readable by a person, and hostile until
//! it has been looked through.
use std::collections::HashMap;

use super::Procedure;
use crate::codec::{CodecError, plan_from_text, plan_to_text};

/// The longest file that is looked at, in bytes. A procedure of 1,000 parts
/// with all they bring takes about a quarter of it.
const MOST_BYTES: usize = 4_000_000;

/// Why a file is not taken as a procedure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ProcedureFault {
    TooLong {
        bytes: usize,
        most: usize,
    },
    Unreadable(CodecError),
    /// Two parts go by one key.
    SameKey(String),
    /// A part is to come after one that is not there, or is reached over it.
    NoSuchKey(String),
    /// Parts that each must come off before the other, one of them by its key.
    Circle(String),
}

/// The file of a procedure, indented, with a line end after it.
pub fn procedure_to_json(procedure: &Procedure) -> String {
    plan_to_text(procedure)
}

/// Reads the file of a procedure.
///
/// ```
/// use countback_core::procedure::{Procedure, procedure_from_json, procedure_to_json};
/// let procedure = Procedure { title: "Front cover".to_owned(), ..Procedure::default() };
/// let file = procedure_to_json(&procedure);
/// assert!(file.starts_with("{\n  \"format\": \"countback-procedure\",\n  \"v\": 1,\n"));
/// assert_eq!(procedure_from_json(&file), Ok(procedure));
/// ```
///
/// # Errors
/// [`ProcedureFault`] says what is wrong with it; nothing is taken in part.
pub fn procedure_from_json(text: &str) -> Result<Procedure, ProcedureFault> {
    if text.len() > MOST_BYTES {
        return Err(ProcedureFault::TooLong {
            bytes: text.len(),
            most: MOST_BYTES,
        });
    }
    let procedure = plan_from_text(text).map_err(ProcedureFault::Unreadable)?;
    in_order(&procedure)?;
    Ok(procedure)
}

/// Keys are single, lead somewhere and never back to where they came from.
fn in_order(procedure: &Procedure) -> Result<(), ProcedureFault> {
    let parts = &procedure.parts;
    let mut at = HashMap::new();
    for (n, part) in parts.iter().enumerate() {
        if at.insert(part.key.as_str(), n).is_some() {
            return Err(ProcedureFault::SameKey(part.key.clone()));
        }
    }
    for part in parts {
        let lines = part.connections.iter();
        let lines = lines.flat_map(|c| {
            let run = c.route.iter().map(|run| &run.by);
            let by = run.chain([&c.far.on]).filter(|key| !key.is_empty());
            c.after.iter().chain(c.ways.iter().flatten()).chain(by)
        });
        let held = part.fixings.iter().flat_map(|f| &f.also);
        for key in part.ways.iter().flatten().chain(lines).chain(held) {
            if !at.contains_key(key.as_str()) {
                return Err(ProcedureFault::NoSuchKey(key.clone()));
            }
        }
        // A way over itself leads nowhere; two that lead over each other are
        // no circle, as each can be got at in the order that stands first.
        if part.ways.iter().flatten().any(|key| *key == part.key) {
            return Err(ProcedureFault::Circle(part.key.clone()));
        }
    }
    let mut waits = vec![0_usize; parts.len()];
    let mut frees = vec![Vec::new(); parts.len()];
    for (n, part) in parts.iter().enumerate() {
        for key in &part.after {
            let first = at.get(key.as_str());
            let first = first.ok_or_else(|| ProcedureFault::NoSuchKey(key.clone()))?;
            if let (Some(count), Some(list)) = (waits.get_mut(n), frees.get_mut(*first)) {
                *count += 1;
                list.push(n);
            }
        }
    }
    let free = |(n, &count): (usize, &usize)| (count == 0).then_some(n);
    let mut ready: Vec<usize> = waits.iter().enumerate().filter_map(free).collect();
    while let Some(first) = ready.pop() {
        for &n in frees.get(first).into_iter().flatten() {
            if let Some(count) = waits.get_mut(n) {
                *count -= 1;
                if *count == 0 {
                    ready.push(n);
                }
            }
        }
    }
    match parts.iter().zip(&waits).find(|(_, count)| **count > 0) {
        Some((part, _)) => Err(ProcedureFault::Circle(part.key.clone())),
        None => Ok(()),
    }
}
