//! Measures the core natively and prints the figures as a JSON array on
//! standard output. Run it with `--release`.
use countback_checks::figures::folding;

fn main() {
    let rows: Vec<serde_json::Value> = folding::rows().iter().map(|row| row.json()).collect();
    println!("{:#}", serde_json::Value::Array(rows));
}
