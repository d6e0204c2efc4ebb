//! The one developer command: serve, test, bench, dist.
fn main() {}
