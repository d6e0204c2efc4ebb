//! Debts of parts: to be placed, and the one that was decided on.
use super::push;
use crate::audit::{Owed, Rule};
use crate::job::Job;
use crate::journal::*;

pub fn parts(job: &Job, owed: &mut Vec<Owed>) {
    for (id, part) in job.parts.iter() {
        let on = Target::Part(id);
        if part.off() {
            push(owed, Rule::PlacePart, on, part.since, 1);
        }
        if !part.sure {
            push(owed, Rule::NotSure, on, part.since, 1);
        }
        if let Some(new) = &part.replaced
            && !new.as_ordered
        {
            push(owed, Rule::OtherPart, on, new.by, 1);
        }
    }
}
