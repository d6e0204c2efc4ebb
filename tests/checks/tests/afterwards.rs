//! What is said after the first entry: steps listed one by one, what was
//! forgotten, findings of the job, what lies elsewhere. Scenarios are invented.
use countback_checks::bench::*;
use countback_core::journal::*;
use countback_core::view::{self, At};
use countback_core::words::Style;

fn here(b: &Bench) -> At {
    At {
        now: b.ctx.now,
        open_since: 0,
        style: Style::default(),
    }
}

/// One step listed leaves the others on offer, each until it is listed.
#[test]
fn make_safe_steps_are_offered_until_each_is_listed() {
    let mut b = Bench::default();
    let offers = |b: &Bench| -> Vec<String> {
        let page = view::job_page(&b.book, here(b));
        page.step_offers.into_iter().map(|s| s.text).collect()
    };
    assert_eq!(offers(&b).len(), 4);
    b.record(Act::SafeStepListed(SafeStep {
        kind: SafeKind::BatteryOff,
        text: "Earth lead off".to_owned(),
    }));
    // In other words, and still the same step.
    assert!(!offers(&b).contains(&"Battery off".to_owned()));
    assert_eq!(offers(&b).len(), 3);
    b.record(Act::SafeStepListed(SafeStep {
        kind: SafeKind::Other,
        text: "Wheels chocked".to_owned(),
    }));
    assert_eq!(offers(&b).len(), 3);
    assert_eq!(b.job().steps.len(), 2);
}
