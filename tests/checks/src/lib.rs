//! Shared helpers of the checks: a bench to work a job on, and job builders.
pub mod any_act;
pub mod bench;
pub mod bench_plan;
pub mod demo;
pub mod identify_case;
pub mod random_graphs;
