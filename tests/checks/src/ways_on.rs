//! What a person may do about each line of the audit, as commands: the most
//! fitting first. Says nothing of what else has to come before it.
use countback_core::audit::{Owed, Rule};
use countback_core::fastener::FastenerSpec;
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::torque::hole::HoleVerdict;

/// Lines that nothing done on the machine settles: they are history, or
/// contradict one another, and are accepted by name and reason.
pub const ACCEPTED_ONLY: [Rule; 6] = [
    Rule::OtherPart,
    Rule::ClosedLate,
    Rule::Unbalanced,
    Rule::Misfit,
    Rule::SaidTwice,
    Rule::Circle,
];

/// The commands that settle a line, or bring it on.
pub fn ways_on(job: &Job, owed: &Owed) -> Vec<Command> {
    let ways = match owed.on {
        Target::Fixing(id) => job
            .fixings
            .get(id)
            .map_or_else(Vec::new, |it| of_fixing(job, id, it, owed)),
        Target::End(end) => of_end(end, owed),
        _ => of_other(job, owed),
    };
    reached(job, owed.on).into_iter().chain(ways).collect()
}

/// What a part that is on was put over is reached all the same.
fn reached(job: &Job, what: Target) -> Option<Command> {
    let reason = REASON.to_owned();
    let reached = Command::Reached { what, reason };
    job.covered_by(what).map(|_| reached)
}

fn record(act: Act) -> Command {
    Command::Record(act)
}

const REASON: &str = "looked at, and right so";

fn except(owed: &Owed) -> Command {
    Command::Except {
        owed: owed.key(),
        reason: REASON.to_owned(),
    }
}

fn sure(what: Target) -> Command {
    record(Act::Touched {
        what,
        places: Vec::new(),
        sure: true,
    })
}

fn of_fixing(job: &Job, fixing: FixingId, it: &Fixing, owed: &Owed) -> Vec<Command> {
    let out = |places: Vec<u16>| {
        record(Act::FastenersUndone {
            fixing,
            places,
            out: true,
            to: Account::Bench,
        })
    };
    let start = Command::Start {
        fixing,
        which: Thing::All,
        line: None,
        anyway: true,
    };
    let renewed = |spec: FastenerSpec| {
        record(Act::FixingRenewed {
            fixing,
            spec,
            reason: String::new(),
        })
    };
    match owed.rule {
        Rule::RepairPlace => vec![record(Act::PlaceRepaired {
            fixing,
            place: owed.places.first().copied().unwrap_or(0),
        })],
        Rule::WrongThing | Rule::NotNew => vec![out(owed.places.clone())],
        Rule::WouldBottom | Rule::HoldsTooLittle => {
            vec![out(owed.places.clone()), renewed(other_length(it))]
        }
        Rule::HoleOld => it
            .hole
            .map(|(hole, _)| record(Act::HoleMeasured { fixing, hole }))
            .into_iter()
            .collect(),
        Rule::OldOrNew => vec![
            record(Act::OldKept {
                fixing,
                reason: REASON.to_owned(),
            }),
            renewed(it.spec.clone()),
        ],
        Rule::LookAt => vec![record(Act::LookedAt { fixing })],
        Rule::WrongExtra => {
            let filled = it.where_state(PlaceState::filled);
            let first = filled.first().copied();
            first.map_or_else(|| vec![start], |place| vec![out(vec![place])])
        }
        Rule::FinalTooEarly => vec![record(Act::FastenersUndone {
            fixing,
            places: owed.places.clone(),
            out: false,
            to: Account::Bench,
        })],
        Rule::StartFasteners => {
            let short = job.short_of(it);
            let come = record(Act::Arrived {
                want: Want::Fixing(fixing),
                n: short,
            });
            let bottoms = it
                .against_hole(&it.spec)
                .is_some_and(|v| matches!(v, HoleVerdict::Bottoms { .. }));
            let mut ways = parts_on(job, it);
            ways.push(start);
            ways.extend((short > 0).then_some(come));
            ways.extend(bottoms.then(|| renewed(other_length(it))));
            ways
        }
        Rule::FitExtra => {
            let line = owed.with.iter().find_map(|&t| match t {
                Target::Line(line) => Some(line),
                _ => None,
            });
            let loose = |line| job.lines.get(line).map_or(0, |l| l.loose());
            let none = line.filter(|&line| loose(line) == 0);
            let come = none.map(|line| {
                record(Act::StockAdded {
                    line,
                    to: Account::Bench,
                    n: owed.n,
                })
            });
            let fit = Command::FitExtras { fixing };
            std::iter::once(fit).chain(come).collect()
        }
        Rule::Tighten | Rule::Doubtful => {
            // What is in doubt has to be named.
            let which = || Thing::Places(owed.places.clone());
            let to = |to| Command::Tighten {
                fixing,
                which: which(),
                to,
                value: None,
            };
            let stages = (1..=it.detail.stages.len() as u8).map(|n| to(Tight::Stage(n)));
            let anyway = Command::TightenAnyway {
                fixing,
                which: which(),
                to: Tight::Final,
                value: None,
                reason: REASON.to_owned(),
            };
            let hold = job.held_by(it).map(|until| {
                record(Act::FinalHeld {
                    fixing,
                    until,
                    met: true,
                })
            });
            let last = [to(Tight::Final), anyway];
            let mut ways = parts_on(job, it);
            ways.extend(hold.into_iter().chain(stages).chain(last));
            // The wrong one comes out again.
            ways.push(out(owed.places.clone()));
            ways
        }
        Rule::LastRound => vec![Command::GoRound {
            fixing,
            turned: false,
        }],
        Rule::IndependentCheck => vec![Command::Check { what: owed.on }],
        Rule::NotSure => vec![sure(owed.on)],
        _ => vec![except(owed)],
    }
}

/// What it holds goes on first.
fn parts_on(job: &Job, it: &Fixing) -> Vec<Command> {
    let off = |part: &&PartId| job.parts.get(**part).is_some_and(Part::off);
    let place = |&part: &PartId| {
        let place = Command::PlacePart { part, anyway: true };
        let reached = reached(job, Target::Part(part));
        reached.into_iter().chain([place])
    };
    it.parts.iter().filter(off).flat_map(place).collect()
}

/// A shorter or a longer one, which the sum of the hole asks for.
fn other_length(it: &Fixing) -> FastenerSpec {
    FastenerSpec {
        length_um: None,
        ..it.spec.clone()
    }
}

fn of_end(end: EndId, owed: &Owed) -> Vec<Command> {
    let secure = record(Act::EndSecured { end });
    match owed.rule {
        Rule::Rejoin => vec![
            Command::Rejoin {
                end,
                seat: end,
                anyway: true,
            },
            Command::LeaveOff {
                what: owed.on,
                reason: "what it sat on is left off".to_owned(),
            },
        ],
        Rule::Secure | Rule::Doubtful => vec![secure],
        Rule::WrongEnd => vec![Command::PartEnd { end }],
        Rule::IndependentCheck => vec![Command::Check { what: owed.on }],
        Rule::NotSure => vec![sure(owed.on)],
        _ => vec![except(owed)],
    }
}

fn of_other(job: &Job, owed: &Owed) -> Vec<Command> {
    let late = |act: Act| {
        [
            record(act.clone()),
            Command::SayLate {
                act,
                reason: REASON.to_owned(),
            },
        ]
        .to_vec()
    };
    match (owed.rule, owed.on) {
        (Rule::NotSure, what) => vec![sure(what)],
        (Rule::TakeOut, Target::Inside(inside)) => {
            vec![record(Act::TakenOut { inside, n: owed.n })]
        }
        (Rule::MakeSafe, Target::Step(step)) => vec![record(Act::SafeStepConfirmed { step })],
        (Rule::PlacePart, Target::Part(part)) => {
            let place = Command::PlacePart { part, anyway: true };
            let replace = Command::Replace {
                part,
                note: "new".to_owned(),
                as_ordered: true,
                fasteners: Vec::new(),
            };
            let loose = job.lines.get(LineId(part.0)).map_or(0, |l| l.loose());
            match loose {
                0 => vec![replace],
                _ => vec![place],
            }
        }
        (Rule::Renew | Rule::OldItemIn, Target::Item(item)) => late(Act::ItemFitted {
            item,
            n: owed.n,
            old: false,
            reason: String::new(),
        }),
        (Rule::Apply, Target::Treatment(treatment)) => late(Act::TreatmentApplied { treatment }),
        (Rule::Fill, Target::Fluid(fluid)) => vec![Command::Fill {
            fluid,
            amount: String::new(),
            anyway: REASON.to_owned(),
            checks: Vec::new(),
        }],
        (Rule::Bleed, Target::Fluid(fluid)) => vec![record(Act::FluidBled { fluid })],
        (Rule::LessIn, Target::Fluid(fluid)) => vec![record(Act::LevelSeen {
            fluid,
            amount: String::new(),
        })],
        (Rule::Restore, Target::Supply(supply)) => vec![record(Act::SupplyRestored { supply })],
        (Rule::Decide, Target::Finding(finding)) => vec![record(Act::Decided {
            finding,
            decision: Decision::Refit,
            reason: REASON.to_owned(),
        })],
        (Rule::DoWork, Target::Finding(finding)) => vec![record(Act::WorkDone { finding })],
        (Rule::Missing, Target::Line(line)) => vec![record(Act::Moved {
            line,
            from: Account::Missing,
            to: Account::Bench,
            n: owed.n,
            reason: "found".to_owned(),
        })],
        (Rule::LeftOver, Target::Line(line)) => {
            let at = job
                .lines
                .get(line)
                .and_then(|l| l.loose_at().first().copied());
            at.map(|(from, there)| {
                record(Act::Moved {
                    line,
                    from,
                    to: Account::Spare,
                    n: there.min(owed.n),
                    reason: "one over".to_owned(),
                })
            })
            .into_iter()
            .collect()
        }
        (Rule::Stray, Target::Stray(stray)) => vec![record(Act::StraySettled {
            stray,
            reason: "not of this machine".to_owned(),
        })],
        (Rule::AfterRun, Target::AfterRun(after_run)) => vec![Command::CheckDone {
            after_run,
            reading: String::new(),
            early: REASON.to_owned(),
        }],
        // It hardens by itself.
        (Rule::Curing, _) => Vec::new(),
        _ => vec![except(owed)],
    }
}
