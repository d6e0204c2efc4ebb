//! Shared helpers of the checks: a bench to work a job on, and job builders.
pub mod any_act;
pub mod any_command;
pub mod bench;
pub mod bench_plan;
pub mod big_order;
pub mod demo;
pub mod dice;
pub mod figures;
pub mod identify_case;
pub mod kinds;
pub mod plain_audit;
pub mod random_graphs;
pub mod refit;
pub mod ways_on;
pub mod whole_job;
