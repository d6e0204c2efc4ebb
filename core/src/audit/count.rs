//! Rules on the count: what is missing, what is over, what does not balance.
use super::{Owed, Rule};
use crate::job::Job;
use crate::journal::*;
use crate::ledger::{Line, Thing};

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
        for rule in [Rule::Missing, Rule::LeftOver] {
            let n = of_line(job, id, line, rule);
            if n > 0 {
                add(rule, n);
            }
        }
    }
}

/// How many of a line are missing, or over.
fn of_line(job: &Job, id: LineId, line: &Line, rule: Rule) -> u32 {
    if rule == Rule::Missing {
        return line.count(Account::Missing);
    }
    let Target::Fixing(of) = line.of else {
        return 0;
    };
    let Some(fixing) = job.fixings.get(of) else {
        return 0;
    };
    let want = match &line.thing {
        Thing::Fastener(_) if fixing.wants == id => job.open_places(fixing),
        Thing::Extra(_) => job.extras_lacking(of, fixing, id).unwrap_or(0),
        _ => 0,
    };
    line.loose().saturating_sub(want)
}

/// The number that an exception to such a line accepts; none where the line is
/// not about a number.
pub(crate) fn accepts(job: &Job, owed: OwedKey) -> Option<u32> {
    let Target::Line(id) = owed.on else {
        return None;
    };
    let counted = matches!(owed.rule, Rule::Missing | Rule::LeftOver);
    let line = job.lines.get(id).filter(|_| counted)?;
    Some(of_line(job, id, line, owed.rule))
}
