//! The tests that share one page of a real browser, in one binary: a WASM of
//! its own for each would cost more than all of them take to run.
#![allow(
    clippy::expect_used,
    clippy::unwrap_used,
    clippy::panic,
    reason = "a failing test should panic"
)]

mod contract;
#[path = "../rows/mod.rs"]
mod rows;
mod store_contract;
mod store_trips;

#[cfg(target_arch = "wasm32")]
mod doors;
#[cfg(target_arch = "wasm32")]
mod job_archive;
#[cfg(target_arch = "wasm32")]
mod kit_browser;
#[cfg(target_arch = "wasm32")]
mod photos;
#[cfg(target_arch = "wasm32")]
mod store_faults;

#[cfg(target_arch = "wasm32")]
wasm_bindgen_test::wasm_bindgen_test_configure!(run_in_browser);
