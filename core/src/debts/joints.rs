//! Debts of fixings, connection ends and one-use items.
use super::push;
use crate::audit::{Owed, Rule};
use crate::job::{EndOf, EndState, Fixing, Item, Job, Part, Place, PlaceState};
use crate::journal::*;
use crate::ledger::Thing;
use crate::torque::hole::HoleVerdict;

pub fn fixings(job: &Job, owed: &mut Vec<Owed>) {
    for (id, it) in job.fixings.iter() {
        fixing(job, id, it, owed);
        strange(job, id, it, owed);
    }
}

/// What a fixing owes but for what lies in it by mistake.
pub fn fixing(job: &Job, id: FixingId, it: &Fixing, owed: &mut Vec<Owed>) {
    let on = Target::Fixing(id);
    let mut add = |rule: Rule, places: Vec<u16>| {
        if !places.is_empty() {
            let n = places.len() as u32;
            owed.push(Owed {
                rule,
                on,
                opened: it.since,
                n,
                places,
                with: Vec::new(),
            });
        }
    };
    add(
        Rule::StartFasteners,
        which(it, &|p| p.state == PlaceState::Open),
    );
    add(
        Rule::RepairPlace,
        which(it, &|p| p.state == PlaceState::Broken),
    );
    add(
        Rule::Tighten,
        which(it, &|p| {
            matches!(
                p.state,
                PlaceState::Started
                    | PlaceState::Snug
                    | PlaceState::Stage(_)
                    | PlaceState::Slackened
            )
        }),
    );
    if it.round_owed() {
        add(
            Rule::LastRound,
            which(it, &|p| p.state >= PlaceState::Final),
        );
    }
    add(
        Rule::Doubtful,
        which(it, &|p| p.state == PlaceState::Doubtful),
    );
    if it.detail.safety {
        add(
            Rule::IndependentCheck,
            which(it, &|p| p.state == PlaceState::Final),
        );
    }
    // Final says that the whole stack is clamped.
    if it
        .parts
        .iter()
        .any(|&p| job.parts.get(p).is_some_and(Part::off))
    {
        add(
            Rule::FinalTooEarly,
            which(it, &|p| p.state >= PlaceState::Final),
        );
    }
    add(
        Rule::NotNew,
        which(it, &|p| {
            p.holds.is_some_and(|h| h == it.old && h != it.wants)
        }),
    );
    add(
        Rule::WrongThing,
        which(it, &|p| {
            p.holds
                .is_some_and(|h| h != it.wants && h != it.old && !alike(job, it, h))
        }),
    );
    against_hole(job, id, it, owed);
    if let Some((what, since)) = it.hole_old().filter(|_| it.wanted() > 0) {
        owed.push(Owed {
            rule: Rule::HoleOld,
            on,
            opened: since,
            n: 1,
            places: Vec::new(),
            with: vec![what],
        });
    }
    if it.old_or_new_open() {
        push(owed, Rule::OldOrNew, on, it.opened, it.wanted() as u32);
    }
    if it.look_owed() {
        push(owed, Rule::LookAt, on, it.opened, it.wanted() as u32);
    }
    for (line, _) in &it.extras {
        let lacking = job.extras_lacking(id, it, *line).unwrap_or(0);
        if lacking > 0 {
            owed.push(Owed {
                rule: Rule::FitExtra,
                on,
                opened: it.since,
                n: lacking,
                places: Vec::new(),
                with: vec![Target::Line(*line)],
            });
        }
    }
    if !it.sure {
        push(owed, Rule::NotSure, on, it.since, 1);
    }
}

/// Washers, shims and the like of other fixings that lie in it and are not like
/// one of its own.
pub fn strange(job: &Job, id: FixingId, it: &Fixing, owed: &mut Vec<Owed>) {
    for &line in &it.strange {
        let Some(row) = job.lines.get(line) else {
            continue;
        };
        let (Thing::Extra(spec), Target::Fixing(theirs)) = (&row.thing, row.of) else {
            continue;
        };
        let n = row.count(Account::Fixing(id));
        let like = it.extras.iter().any(|(_, e)| spec.stands_for(&e.spec));
        let Some(theirs) = job.fixings.get(theirs).filter(|_| n > 0 && !like) else {
            continue;
        };
        owed.push(Owed {
            rule: Rule::WrongExtra,
            on: Target::Fixing(id),
            opened: theirs.since,
            n,
            places: Vec::new(),
            with: vec![Target::Line(line)],
        });
    }
}

/// Bolts that reach the end of their hole, and those made final on too little
/// thread.
fn against_hole(job: &Job, id: FixingId, it: &Fixing, owed: &mut Vec<Owed>) {
    let Some(opened) = it.thread_since() else {
        return;
    };
    let verdict = |p: &Place| match &job.lines.get(p.holds?)?.thing {
        Thing::Fastener(spec) | Thing::Stray(spec) => it.against_hole(spec),
        _ => None,
    };
    let bottoms = |p: &Place| matches!(verdict(p), Some(HoleVerdict::Bottoms { .. }));
    let little =
        |p: &Place| p.state >= PlaceState::Final && verdict(p).is_some_and(HoleVerdict::too_little);
    for (rule, places) in [
        (Rule::WouldBottom, which(it, &bottoms)),
        (Rule::HoldsTooLittle, which(it, &little)),
    ] {
        if !places.is_empty() {
            owed.push(Owed {
                rule,
                on: Target::Fixing(id),
                opened,
                n: places.len() as u32,
                places,
                with: Vec::new(),
            });
        }
    }
}

/// Whether the line's things are of the kind the fixing wants.
fn alike(job: &Job, fixing: &Fixing, line: LineId) -> bool {
    job.lines.get(line).is_some_and(|line| match &line.thing {
        Thing::Fastener(spec) | Thing::Stray(spec) => spec.stands_for(&fixing.spec),
        _ => false,
    })
}

/// By address: there are a dozen of them, and each would be a loop of its own.
fn which(fixing: &Fixing, f: &dyn Fn(&Place) -> bool) -> Vec<u16> {
    (0_u16..)
        .zip(&fixing.places)
        .filter(|(_, p)| f(p))
        .map(|(n, _)| n)
        .collect()
}

pub fn ends(job: &Job, owed: &mut Vec<Owed>) {
    for (id, _, it) in job.ends() {
        end(id, it, owed);
    }
}

pub fn end(id: EndId, it: &EndOf, owed: &mut Vec<Owed>) {
    let on = Target::End(id);
    match it.state {
        EndState::Parted => push(owed, Rule::Rejoin, on, it.since, 1),
        EndState::Pushed => push(owed, Rule::Secure, on, it.since, 1),
        EndState::Doubtful => push(owed, Rule::Doubtful, on, it.since, 1),
        EndState::Secured if it.safety => {
            push(owed, Rule::IndependentCheck, on, it.since, 1);
        }
        _ => {}
    }
    if let Some(seat) = it.elsewhere
        && it.state >= EndState::Pushed
    {
        owed.push(Owed {
            rule: Rule::WrongEnd,
            on,
            opened: it.since,
            n: 1,
            places: Vec::new(),
            with: vec![Target::End(seat)],
        });
    }
    if !it.sure {
        push(owed, Rule::NotSure, on, it.since, 1);
    }
}

pub fn items(job: &Job, owed: &mut Vec<Owed>) {
    for (id, it) in job.items.iter() {
        item(id, it, owed);
    }
}

pub fn item(id: ItemId, it: &Item, owed: &mut Vec<Owed>) {
    if !it.finished() {
        let n = u32::from(it.count - it.renewed);
        let rule = if it.old_in > 0 {
            Rule::OldItemIn
        } else {
            Rule::Renew
        };
        push(owed, rule, Target::Item(id), it.opened, n);
    }
    if !it.sure {
        push(owed, Rule::NotSure, Target::Item(id), it.opened, 1);
    }
}
