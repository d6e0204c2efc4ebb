//! Rules on the count: what is missing, what is over, what does not balance.
use super::{Owed, Rule};
use crate::job::{Job, PlaceState};
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
        let Target::Fixing(fixing) = line.of else {
            continue;
        };
        let Some(fixing) = job.fixings.get(fixing) else {
            continue;
        };
        let want = match &line.thing {
            Thing::Fastener(_) if fixing.wants == id => job.open_places(fixing),
            Thing::Extra(_) => {
                fixing
                    .extras
                    .iter()
                    .find(|(l, _)| *l == id)
                    .map_or(0, |(_, extra)| {
                        let open = fixing.count_where(|p| {
                            !matches!(p.state, PlaceState::LeftEmpty | PlaceState::FoundEmpty)
                        }) as u32;
                        let in_place: u32 = line
                            .accounts()
                            .iter()
                            .filter(|(a, _)| matches!(a, Account::Fixing(_)))
                            .map(|&(_, n)| n)
                            .sum();
                        (open * u32::from(extra.per_place)).saturating_sub(in_place)
                    })
            }
            _ => 0,
        };
        let over = line.loose().saturating_sub(want);
        if over > 0 {
            add(Rule::LeftOver, over);
        }
    }
}
