//! Prints the bench rows of the planner as JSON.

use countback_checks::bench_plan::{json, rows};

fn main() {
    match rows() {
        Ok(rows) => println!("{}", json(&rows)),
        Err(error) => eprintln!("the bench job could not be built: {error:?}"),
    }
}
