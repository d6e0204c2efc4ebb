//! Shared helpers of the checks: job builders and the second, plain audit.

pub mod random_graphs;
