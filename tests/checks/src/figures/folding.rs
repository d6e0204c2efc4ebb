//! Folding a long journal, auditing a large job and working out its way back.
use countback_core::access;
use countback_core::audit::audit;
use countback_core::job::*;
use countback_core::journal::*;

use super::{Row, median, median_ms};
use crate::bench::Bench;
use crate::big_order::BigOrder;
use crate::dice::Dice;
use crate::whole_job::{Draw, strip};

const TIMES: usize = 9;

/// The first `n` acts of a job that was taken apart and half put back.
fn journal(n: usize) -> Journal {
    // Some six acts to a part on the way off.
    let mut bench = apart(n / 7);
    let parts: Vec<PartId> = bench.job().parts.ids().collect();
    for part in parts.into_iter().rev() {
        if bench.book.journal().len() >= n {
            break;
        }
        let _ = bench.tell(Command::PlacePart { part, anyway: true });
        bench.fasten_what_fits(part);
    }
    let events: Vec<Event> = bench.book.journal().iter().take(n).cloned().collect();
    assert_eq!(events.len(), n, "too few acts to measure with");
    Journal::new(events)
}

fn apart(parts: usize) -> Bench {
    strip(
        &mut Dice::new(7),
        Draw {
            parts,
            made_safe: true,
            late: false,
            ways: false,
        },
    )
}

/// Rows on the core alone.
pub fn rows() -> Vec<Row> {
    let long = journal(100_000);
    let short = journal(10_000);
    // Ten short ones, all kept: as many acts and as much memory as the long one,
    // so that the slope tells of the folding and not of the allocator or of
    // what fits a cache.
    let ten = || -> Vec<Journal> { (0..10).map(|_| short.clone()).collect() };
    let fold_ten = |ten: Vec<Journal>| -> Vec<Book> { ten.into_iter().map(Book::open).collect() };
    // In turns, so that an hour in which the machine is slower is so for both.
    let turns: Vec<(f64, f64)> = (0..TIMES)
        .map(|_| {
            let long_ms = median_ms(1, || long.clone(), Book::open);
            (long_ms, median_ms(1, ten, fold_ten) / 10.0)
        })
        .collect();
    let long_ms = median(turns.iter().map(|(long, _)| *long));
    let short_ms = median(turns.iter().map(|(_, short)| *short));
    let slope = median(turns.iter().map(|(long, short)| long / short));
    let large = apart(10_000);
    let now = large.ctx.now;
    let audit_ms = median_ms(TIMES, || (), |()| audit(large.job(), now));
    let plan_ms = median_ms(TIMES, || (), |()| access::back(large.job()));
    let big = BigOrder::new(1_000, 5_000);
    let put_back_ms = median_ms(5 * TIMES, || (), |()| big.page());
    vec![
        Row::at_most("put_back_1k_ms", put_back_ms, "ms", 2.0),
        Row::at_most("fold_100k_ms", long_ms, "ms", 150.0),
        Row {
            floor: Some(short_ms),
            ..Row::at_most("fold_slope", slope, "times", 11.0)
        },
        Row::at_most("audit_10k_ms", audit_ms, "ms", 50.0),
        Row::at_most("plan_10k_ms", plan_ms, "ms", 50.0),
    ]
}
