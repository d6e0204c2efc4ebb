//! What a fresh machine lacks, fetched once and kept under target/. Every
//! part looks first, says what it does, and ends with one line that names
//! what is missing and how to get it.

pub mod apt;
pub mod browser;
pub mod npm;
pub mod sysroot;
pub mod wasm;

/// Says that a part of the set-up is being done, and why.
pub fn say(what: &str) {
    println!("[set-up] {what}");
}
