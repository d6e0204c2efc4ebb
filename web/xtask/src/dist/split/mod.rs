//! One WASM file made into two: what a start needs, and the rest, which is
//! fetched when the first screen stands. What is second is told by name
//! (web/later.txt) and by what refers to what; the same code gives the same
//! two files.

mod carve;
mod graph;
mod plan;

use anyhow::{Result, bail};
pub use carve::carve;
use graph::Graph;
use plan::{Patterns, Plan};
use std::ops::Range;

/// The code that does it, so that a change of it makes the files anew.
pub const CODE: [&str; 4] = [
    include_str!("carve.rs"),
    include_str!("graph.rs"),
    include_str!("plan.rs"),
    include_str!("join.js"),
];

/// Put at the end of the glue: puts the two files together again in the page.
const JOIN: &str = include_str!("join.js");

/// Plans the division of a file as it was linked with `--emit-relocs`, by the
/// text of web/later.txt.
pub fn plan(linked: &[u8], patterns: &str) -> Result<Plan> {
    Ok(Plan::make(
        &Graph::read(linked)?,
        &Patterns::parse(patterns),
    ))
}

/// The constant data of a linked file that functions of these modules refer
/// to, directly or through other data, each byte once: their tables, with
/// whatever texts they use. A table that the compiler has made code of is not
/// in it; one that others use too is.
pub fn data_of(linked: &[u8], modules: &[&str]) -> Result<Vec<u8>> {
    let graph = Graph::read(linked)?;
    let is_theirs = |name: &str| {
        let name = format!("{:#}", rustc_demangle::demangle(name));
        modules.iter().any(|module| name.contains(module))
    };
    let mut seen = vec![false; graph.nodes.len()];
    let mut waiting: Vec<usize> = (0..graph.nodes.len())
        .filter(|&node| is_theirs(&graph.nodes[node].name))
        .collect();
    let mut ranges: Vec<Range<usize>> = Vec::new();
    while let Some(node) = waiting.pop() {
        for &to in &graph.nodes[node].to {
            if let Some(place) = &graph.nodes[to].data
                && place.constant
                && !std::mem::replace(&mut seen[to], true)
            {
                ranges.push(place.file.clone());
                waiting.push(to);
            }
        }
    }
    ranges.sort_by_key(|range| (range.start, range.end));
    let mut bytes = Vec::new();
    let mut taken = 0;
    for range in ranges {
        let from = range.start.max(taken);
        if let Some(new) = linked.get(from..range.end) {
            bytes.extend_from_slice(new);
            taken = range.end;
        }
    }
    Ok(bytes)
}

/// The file without what only a linker reads and other tools stumble over.
pub fn without_relocations(linked: &[u8]) -> Result<Vec<u8>> {
    let mut out = linked.get(..8).unwrap_or_default().to_vec();
    let mut kept = |range: Range<usize>| out.extend_from_slice(&linked[range]);
    let mut at = 8;
    while at < linked.len() {
        let (id, body) = (linked[at], at + 1);
        let (len, start) = leb(linked, body)?;
        let end = start + len;
        let name = if id == 0 {
            custom_name(linked, start)?
        } else {
            ""
        };
        if name != "linking" && !name.starts_with("reloc.") {
            kept(at..end);
        }
        at = end;
    }
    Ok(out)
}

fn custom_name(wasm: &[u8], at: usize) -> Result<&str> {
    let (len, start) = leb(wasm, at)?;
    Ok(std::str::from_utf8(
        wasm.get(start..start + len).unwrap_or_default(),
    )?)
}

/// A number of seven bits a byte, and where it ends.
fn leb(wasm: &[u8], mut at: usize) -> Result<(usize, usize)> {
    let (mut value, mut shift) = (0, 0);
    while let Some(&byte) = wasm.get(at) {
        value |= usize::from(byte & 0x7f) << shift;
        at += 1;
        shift += 7;
        if byte < 0x80 {
            return Ok((value, at));
        }
        if shift > 28 {
            break;
        }
    }
    bail!("a section of the WASM breaks off")
}

/// The glue of a file that was carved: it gives the first file its stand-ins
/// and knows how to add the second.
pub fn glue(bound: &str) -> Result<String> {
    const IMPORTS: &str = "function __wbg_get_imports() {";
    const FINISH: &str = "function __wbg_finalize_init(instance, module) {";
    const WASM: &str = "let wasmModule, wasmInstance, wasm;";
    for text in [IMPORTS, FINISH, WASM] {
        if bound.matches(text).count() != 1 {
            bail!("wasm-bindgen's glue has changed: `{text}` is not in it once");
        }
    }
    Ok(bound.replace(IMPORTS, "function pageImports() {") + JOIN)
}
