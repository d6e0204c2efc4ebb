//! The lines of the audit and its verdict.
use super::small;
use super::{Names, Style, fixing_count, fixing_short, lying, name, plural, volumes};
use crate::audit::{Next, Owed, Rule, Verdict};
use crate::job::Job;
use crate::journal::*;
use crate::ledger::Thing;

/// A line of the audit as it is read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OwedText {
    /// What is the matter, with which thing.
    pub what: String,
    /// What to do about it.
    pub todo: String,
}

/// The heading of a group.
pub fn group(next: Next) -> &'static str {
    match next {
        Next::TakeOut => "Take out first",
        Next::MakeSafe => "Make safe",
        Next::PutRight => "Put right",
        Next::PutBack => "Still off",
        Next::Fasten => "Start and tighten",
        Next::Join => "Join",
        Next::Renew => "Renew and apply",
        Next::Fill => "Fill and switch on",
        Next::Decide => "Decide and mend",
        Next::Check => "Look again",
        Next::Count => "Count",
        Next::LookInto => "Clear up",
        Next::AfterRunning => "After running",
    }
}

fn places(job: &Job, owed: &Owed) -> String {
    let Target::Fixing(id) = owed.on else {
        return String::new();
    };
    let Some(fixing) = job.fixings.get(id) else {
        return String::new();
    };
    if owed.places.len() == fixing.places.len() && fixing.numbers.is_empty() {
        return String::new();
    }
    let mut numbers: Vec<u16> = owed.places.iter().map(|&p| fixing.number(p)).collect();
    numbers.sort_unstable();
    let list: Vec<String> = numbers.iter().take(12).map(u16::to_string).collect();
    let more = if numbers.len() > 12 { " …" } else { "" };
    match numbers.len() {
        0 => String::new(),
        1 => format!(" at place {}", list.join("")),
        _ => format!(" at places {}{more}", list.join(", ")),
    }
}

/// The sum of the bolt in the first of the places.
fn hole_sum(job: &Job, owed: &Owed, style: Style) -> String {
    let sum = || {
        let Target::Fixing(id) = owed.on else {
            return None;
        };
        let it = job.fixings.get(id)?;
        let (hole, _) = it.hole?;
        let at = it.places.get(usize::from(*owed.places.first()?))?;
        match &job.lines.get(at.holds?)?.thing {
            Thing::Fastener(spec) | Thing::Stray(spec) => {
                let verdict = it.against_hole(spec)?;
                let sum = super::hole_sum(spec.length_um?, hole, job.length_unit(), style);
                Some(format!(
                    ". {sum}. {}",
                    super::hole_verdict(verdict, hole, job.length_unit(), style)
                ))
            }
            _ => None,
        }
    };
    let mut said = sum().unwrap_or_default();
    if said.ends_with('.') {
        said.pop();
    }
    said
}

/// What a part that is on still lacks, in two or three words.
pub fn lacks(rule: Rule) -> &'static str {
    match rule {
        Rule::LastRound => "last round owed",
        Rule::FitExtra => "a washer or the like owed",
        Rule::WrongThing => "a wrong fastener in",
        Rule::WrongExtra => "a wrong washer or shim in",
        Rule::NotNew | Rule::OldItemIn => "old where new was due",
        Rule::WouldBottom => "a bolt too long for its hole",
        Rule::HoldsTooLittle => "a bolt that holds too little",
        Rule::HoleOld => "the hole to be measured again",
        Rule::OldOrNew => "old or new to be decided",
        Rule::LookAt => "fasteners to be looked at",
        Rule::WrongEnd => "an end on another seat",
        Rule::FinalTooEarly => "final before all was in the stack",
        Rule::NotSure | Rule::Doubtful => "to be touched again",
        _ => "something owed",
    }
}

/// Says one line.
pub fn owed(job: &Job, owed: &Owed, style: Style) -> OwedText {
    let thing = name(job, owed.on);
    let n = owed.n;
    let things = match owed.on {
        Target::Line(id) => super::counted(job, id, n),
        _ => format!("{n} × {thing}"),
    };
    let at = places(job, owed);
    let fixing = match owed.on {
        Target::Fixing(id) => job.fixings.get(id),
        _ => None,
    };
    let counted = fixing.map_or_else(
        || thing.clone(),
        |f| {
            let parts: Vec<String> = f
                .parts
                .iter()
                .map(|&p| name(job, Target::Part(p)))
                .collect();
            format!("{} of {}", fixing_count(n, f), Names(parts))
        },
    );
    let with = owed.with.first().map(|&w| name(job, w)).unwrap_or_default();
    let (what, todo) = match owed.rule {
        Rule::TakeOut => {
            let left = match owed.on {
                Target::Inside(id) => job.insides.get(id).map(|i| (i.n_in, i.put.n)),
                _ => None,
            };
            let of = left.map_or(String::new(), |(n_in, put)| {
                if u32::from(put) == n_in {
                    String::new()
                } else {
                    format!(" ({n_in} of {put} still in)")
                }
            });
            (
                format!("Still inside: {thing}{of}"),
                "Take it out before anything is turned.".to_owned(),
            )
        }
        Rule::MakeSafe => (
            format!("Not confirmed before the first part: {thing}"),
            "Make sure of it now and confirm it.".to_owned(),
        ),
        Rule::RepairPlace => (
            format!("{counted}: broken{at}"),
            "Draw the stump or mend the thread, then look for swarf and clean the hole.".to_owned(),
        ),
        Rule::WrongThing => {
            let holds = fixing
                .zip(owed.places.first())
                .and_then(|(f, &p)| f.places.get(usize::from(p))?.holds);
            let holds = holds
                .map(|l| name(job, Target::Line(l)))
                .unwrap_or_default();
            (
                format!(
                    "Wrong fastener{at}: holds {holds}, wants {}",
                    fixing.map(|f| f.spec.label()).unwrap_or_default()
                ),
                "Take it out and fit the one that belongs there.".to_owned(),
            )
        }
        Rule::WouldBottom => (
            format!("Too long for its hole{at}: {counted}{}", hole_sum(job, owed, style)),
            "Take it out, and fit a shorter one or another washer. As it is the head clamps nothing."
                .to_owned(),
        ),
        Rule::HoldsTooLittle => (
            format!("Final on too little thread{at}: {counted}{}", hole_sum(job, owed, style)),
            "Fit a longer one, or accept it with a reason.".to_owned(),
        ),
        Rule::HoleOld => (
            format!("Hole measured before the new {with} came: {thing}"),
            "Measure it again: the stack under the head is another.".to_owned(),
        ),
        Rule::OldOrNew => (
            format!("Old or new is not decided: {counted}"),
            "They stretch when they are turned on. Take new ones, or keep the old ones with a reason (common practice; the maker's word goes first)."
                .to_owned(),
        ),
        Rule::LookAt => (
            format!("Not looked at yet: {counted}"),
            "Look at each, as was asked for. Say that they are good, or take new ones.".to_owned(),
        ),
        Rule::WrongExtra => (
            format!("{n} × {with} sits at {thing}"),
            "Move it to where it came from.".to_owned(),
        ),
        Rule::WrongEnd => (
            format!("{thing} is on the seat of {with}"),
            "Part it and join each to its own seat.".to_owned(),
        ),
        Rule::NotNew => (
            format!("Old ones in: {counted}{at}"),
            "Fit new ones; these are used once.".to_owned(),
        ),
        Rule::OldItemIn => (
            format!("Old one fitted: {thing}"),
            "A temporary only. Fit a new one.".to_owned(),
        ),
        Rule::OtherPart => (
            format!("{thing}: the new part is not the one decided on"),
            "Compare it with the old one; fit the right one or accept it with a reason.".to_owned(),
        ),
        Rule::FinalTooEarly => (
            format!("{counted} made final{at} while a part they clamp is off"),
            "Slacken them, fit the part, then tighten.".to_owned(),
        ),
        Rule::PlacePart => {
            let lies = match owed.on {
                Target::Part(id) => job.parts.get(id).map(|p| (p.lies.clone(), p.state)),
                _ => None,
            };
            let (lies, state) =
                lies.map_or((String::new(), "off"), |(l, s)| (l, small::part_state(s)));
            let lies = if lies.is_empty() {
                String::new()
            } else {
                format!(" Where: {lies}.")
            };
            (format!("{thing} is {state}"), format!("Put it back.{lies}"))
        }
        Rule::StartFasteners => {
            let loose = fixing
                .and_then(|f| job.lines.get(f.wants))
                .map(|l| l.loose_at())
                .unwrap_or_default();
            let from: Vec<String> = loose
                .iter()
                .map(|&(a, n)| format!("{n} {}", lying(job, a)))
                .collect();
            let from = if from.is_empty() {
                "None to hand.".to_owned()
            } else {
                format!("{}.", Names(from))
            };
            (
                format!("Not in: {counted}{at}"),
                format!("Start by hand. {from}"),
            )
        }
        Rule::FitExtra => (
            format!(
                "Missing with {}: {n} × {with}",
                fixing.map_or(thing.clone(), |_| fixing_of(job, owed.on))
            ),
            "Fit them with their fasteners.".to_owned(),
        ),
        Rule::Rejoin => (
            format!("Open: {thing}"),
            "Join it and make it fast.".to_owned(),
        ),
        Rule::Renew => (format!("Not renewed: {thing}"), "Fit a new one.".to_owned()),
        Rule::Apply => (
            format!("Not put on: {thing}"),
            "Apply it as its maker says.".to_owned(),
        ),
        Rule::Tighten => (
            format!("Not tight: {counted}{at}"),
            tighten_todo(job, owed.on, style),
        ),
        Rule::LastRound => (
            format!("Last round owed: {counted}"),
            match fixing.and_then(|f| f.last_torque()) {
                Some(figure) => format!(
                    "Once more all round at {}, until none turns.",
                    small::figure(figure, style)
                ),
                None => "Once more all round, until none turns.".to_owned(),
            },
        ),
        Rule::Secure => {
            let joint = match owed.on {
                Target::End(id) => job.end(id).map_or(Joint::PushOn, |e| e.end.joint),
                _ => Joint::PushOn,
            };
            (
                format!("On, not fast: {thing}"),
                format!("{}: make sure and confirm.", small::secure(joint)),
            )
        }
        Rule::Doubtful => (
            format!(
                "Doubtful: {}{at}",
                if fixing.is_some() { counted } else { thing }
            ),
            "Go over it again and confirm.".to_owned(),
        ),
        Rule::NotSure => (
            format!("Not sure about {thing}"),
            "Touch it and say how it stands.".to_owned(),
        ),
        Rule::ClosedLate => (
            format!("Closed after its open time: {thing}"),
            "Clean off and apply anew, or accept it with a reason.".to_owned(),
        ),
        Rule::Curing => {
            let until = match owed.on {
                Target::Treatment(id) => job.treatments.get(id).and_then(|t| t.cured_at()),
                _ => None,
            };
            (
                format!("Curing: {thing}"),
                until.map_or_else(String::new, |u| format!("Wait until {}.", (style.when)(u))),
            )
        }
        Rule::Fill => {
            let drained = match owed.on {
                Target::Fluid(id) => job
                    .fluids
                    .get(id)
                    .map(|f| f.drained.clone())
                    .unwrap_or_default(),
                _ => String::new(),
            };
            let drained = if drained.is_empty() {
                String::new()
            } else {
                format!(" {drained} came out.")
            };
            (format!("Out: {thing}"), format!("Fill it.{drained}"))
        }
        Rule::Bleed => (format!("Not bled: {thing}"), "Bleed it.".to_owned()),
        Rule::LessIn => {
            let said = match owed.on {
                Target::Fluid(id) => job.fluids.get(id).map(|f| volumes(f, style)),
                _ => None,
            };
            (
                format!("Less in than came out: {thing}"),
                format!(
                    "{} Air in it, or a leak? Top up, and look at the level.",
                    said.unwrap_or_default()
                ),
            )
        }
        Rule::Restore => (
            format!("Cut off: {thing}"),
            "Switch it on or connect it again.".to_owned(),
        ),
        Rule::Decide => (
            format!("No decision: {thing}"),
            "Refit, clean, repair, renew or leave off?".to_owned(),
        ),
        Rule::DoWork => {
            let what = match owed.on {
                Target::Finding(id) => job
                    .findings
                    .get(id)
                    .and_then(|f| f.decision.as_ref())
                    .map_or("", |d| small::decision(d.0)),
                _ => "",
            };
            (
                format!("Decided, not done ({what}): {thing}"),
                "Do the work, then say so.".to_owned(),
            )
        }
        Rule::IndependentCheck => (
            format!("No second look: {counted}{at}"),
            "Have it checked by somebody other than the one who tightened it.".to_owned(),
        ),
        Rule::Missing => (
            format!("Missing: {things}"),
            "Look in the machine first, then on the floor. Say when it is found.".to_owned(),
        ),
        Rule::Stray => (
            format!("Unknown: {thing}"),
            "Find out where it belongs.".to_owned(),
        ),
        Rule::LeftOver => {
            let at: Vec<String> = match owed.on {
                Target::Line(id) => job.lines.get(id).map(|l| l.loose_at()).unwrap_or_default(),
                _ => Vec::new(),
            }
            .iter()
            .map(|&(a, n)| format!("{n} {}", lying(job, a)))
            .collect();
            (
                format!("Left over: {things}"),
                format!("Which place lacks it? {}.", Names(at)),
            )
        }
        Rule::Unbalanced => (
            format!("The count of {thing} does not close, by {n}"),
            "Count it again.".to_owned(),
        ),
        Rule::Misfit => (
            format!(
                "An act of {} does not fit what was there",
                entry(owed.opened)
            ),
            "Look at the log and strike what is wrong.".to_owned(),
        ),
        Rule::SaidTwice => (
            "The same was said on two phones".to_owned(),
            "Look at the thing, then strike one of them.".to_owned(),
        ),
        Rule::Circle => (
            format!("{thing} would have to go back before itself"),
            "One entry of what came off first is wrong; put it right.".to_owned(),
        ),
        Rule::Buried => (
            format!("Behind {with}, which is back: {thing}"),
            format!("{with} has to come off again to get at it."),
        ),
        Rule::AfterRun => {
            let when = match owed.on {
                Target::AfterRun(id) => job
                    .after_runs
                    .get(id)
                    .map(|a| small::due(a.due))
                    .unwrap_or_default(),
                _ => String::new(),
            };
            (
                format!("Owed {when}: {thing}"),
                "Do it and say so; the job stays open for it.".to_owned(),
            )
        }
    };
    OwedText { what, todo }
}

fn entry(id: EventId) -> String {
    format!("entry {}", id.clock)
}

fn fixing_of(job: &Job, on: Target) -> String {
    match on {
        Target::Fixing(id) => {
            let parts = job
                .fixings
                .get(id)
                .map(|f| f.parts.clone())
                .unwrap_or_default();
            let parts = parts.iter().map(|&p| name(job, Target::Part(p))).collect();
            format!("{} of {}", fixing_short(job, id), Names(parts))
        }
        on => name(job, on),
    }
}

fn tighten_todo(job: &Job, on: Target, style: Style) -> String {
    let Target::Fixing(id) = on else {
        return String::new();
    };
    let Some(fixing) = job.fixings.get(id) else {
        return String::new();
    };
    if fixing.detail.stages.is_empty() {
        return "Tighten to the maker's figure.".to_owned();
    }
    let stages: Vec<String> = fixing
        .detail
        .stages
        .iter()
        .map(|&f| small::figure(f, style))
        .collect();
    format!(
        "Tighten: {}, as noted. The maker's figure goes first.",
        stages.join(", then ")
    )
}

/// The verdict as it is read: the large line, and the lines under it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct VerdictText {
    pub head: String,
    pub lines: Vec<String>,
    /// Whether it is shown as danger.
    pub danger: bool,
}

/// What a thing lacks before the machine is started: "coolant: fill, bleed."
fn to_start(job: &Job, on: Target, open: &[Owed]) -> String {
    let lacks: Vec<&str> = open
        .iter()
        .filter(|o| o.on == on)
        .map(|o| match o.rule {
            Rule::Fill => "fill",
            Rule::Bleed => "bleed",
            Rule::LessIn => "look at the level",
            Rule::Restore => "connect again",
            Rule::Curing => "wait for its cure",
            _ => "settle",
        })
        .collect();
    format!("{}: {}.", name(job, on), lacks.join(", "))
}

/// Says the verdict.
pub fn verdict(job: &Job, verdict: &Verdict, open: &[Owed]) -> VerdictText {
    let mut danger = false;
    let (head, mut lines) = match verdict {
        Verdict::NothingOff => ("Nothing is off.".to_owned(), Vec::new()),
        Verdict::DoNotTurn { inside } => {
            danger = true;
            let lines = inside
                .iter()
                .map(|&i| format!("Still inside: {}.", name(job, i)))
                .collect();
            ("Do not turn the engine.".to_owned(), lines)
        }
        Verdict::DoNotStart { missing } => {
            danger = true;
            (
                "Do not start it yet.".to_owned(),
                missing.iter().map(|&m| to_start(job, m, open)).collect(),
            )
        }
        Verdict::Owed { n } => (
            format!("Not done: {} owed.", plural(*n, "thing")),
            Vec::new(),
        ),
        Verdict::RunThenCheck { n } => (
            format!("Together. {} owed after running.", plural(*n, "check")),
            Vec::new(),
        ),
        Verdict::Complete => {
            let left = |p: &crate::job::Part| p.state == crate::job::PartState::LeftOff;
            let head = match job.parts.rows().any(left) {
                true => "Everything that came off is back, or left off by decision.",
                false => "Everything that came off is back.",
            };
            (head.to_owned(), Vec::new())
        }
        Verdict::SignedOff => ("Signed off.".to_owned(), Vec::new()),
    };
    let rest = open.iter().filter(|o| o.rule != Rule::TakeOut).count() as u32;
    if matches!(verdict, Verdict::DoNotTurn { .. }) && rest > 0 {
        lines.push(format!("Besides, {} owed.", plural(rest, "thing")));
    }
    VerdictText {
        head,
        lines,
        danger,
    }
}
