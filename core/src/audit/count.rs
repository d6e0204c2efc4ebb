//! Rules on the count: what is missing, what is over, what does not balance.
use super::{Owed, Rule};
use crate::job::Job;
use crate::journal::*;
use crate::ledger::Thing;

pub fn count(job: &Job, owed: &mut Vec<Owed>) {
    for (id, line) in job.lines.iter() {
        let on = Target::Line(id);
        let opened = id.0.event();
        let mut add = |rule, n| {
            owed.push(Owed {
                rule,
                on,
                opened,
                n,
                places: Vec::new(),
                with: vec![line.of],
            });
        };
        if !line.balances() {
            add(
                Rule::Unbalanced,
                line.total().abs_diff(line.declared + line.new_stock),
            );
        }
        let missing = line.count(Account::Missing);
        if missing > 0 {
            add(Rule::Missing, missing);
        }
        let Target::Fixing(of) = line.of else {
            continue;
        };
        let Some(fixing) = job.fixings.get(of) else {
            continue;
        };
        let want = match &line.thing {
            Thing::Fastener(_) if fixing.wants == id => job.open_places(fixing),
            Thing::Extra(_) => job.extras_lacking(of, fixing, id).unwrap_or(0),
            _ => 0,
        };
        let over = line.loose().saturating_sub(want);
        if over > 0 {
            add(Rule::LeftOver, over);
        }
    }
}
