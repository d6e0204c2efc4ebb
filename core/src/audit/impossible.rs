//! Rules on what cannot be: acts that did not fit, things said twice, orders
//! that close on themselves, things owed behind a part that is back.
use super::{Owed, Rule};
use crate::access;
use crate::job::{Job, PartState};
use crate::journal::*;

pub fn impossible(job: &Job, owed: &mut Vec<Owed>) {
    for (rule, list) in [
        (Rule::Misfit, &job.misfits),
        (Rule::SaidTwice, &job.said_twice),
    ] {
        for misfit in list {
            owed.push(Owed {
                rule,
                on: Target::Job,
                opened: misfit.event,
                n: 1,
                places: Vec::new(),
                with: Vec::new(),
            });
        }
    }
    let under = access::Under::of(job);
    buried(job, &under, owed);
    for what in access::circle(job, &under) {
        let opened = match what {
            Target::Part(id) => id.0.event(),
            Target::End(id) => id.connection.0.event(),
            _ => job.opened,
        };
        owed.push(Owed {
            rule: Rule::Circle,
            on: what,
            opened,
            n: 1,
            places: Vec::new(),
            with: Vec::new(),
        });
    }
}

/// What is owed behind a placed part: it must come off again.
fn buried(job: &Job, under: &access::Under, owed: &mut Vec<Owed>) {
    for (id, part) in job
        .parts
        .iter()
        .filter(|(_, p)| p.state == PartState::Placed)
    {
        for what in under.open(job, id) {
            owed.push(Owed {
                rule: Rule::Buried,
                on: what,
                opened: part.since,
                n: 1,
                places: Vec::new(),
                with: vec![Target::Part(id)],
            });
        }
    }
}
