//! Prints the bench row of the identification of a stray fastener as JSON.
use countback_checks::identify_case::{identify_once, specs};
use std::time::Instant;

fn main() {
    let specs = specs();
    let mut times: Vec<f64> = (0..31)
        .map(|_| {
            let start = Instant::now();
            std::hint::black_box(identify_once(&specs));
            start.elapsed().as_secs_f64() * 1000.0
        })
        .collect();
    times.sort_by(f64::total_cmp);
    let median = times.get(times.len() / 2).copied().unwrap_or_default();
    println!(
        r#"[{{"name":"identify_ms","value":{median:.3},"unit":"ms","limit":2,"at_least":false,"floor":null}}]"#
    );
}
