//! The Way in screen: what can be got at, the least that has to come off for
//! it, and the other ways.
use super::At;
use crate::access::ways::{Measure, WaysError};
use crate::access::{Asking, AtWork, Goal, Laid, Reach, planned_connection, planned_parts};
use crate::job::{Book, Job};
use crate::journal::*;
use crate::words::{self, Names};

/// A thing that can be asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct GoalRow {
    pub goal: Goal,
    pub name: String,
}

#[derive(Clone, Debug, PartialEq)]
pub struct GoalGroup {
    pub title: &'static str,
    pub rows: Vec<GoalRow>,
}

/// A thing that comes off on the way.
#[derive(Clone, Debug, PartialEq)]
pub struct WayStep {
    pub name: String,
    pub note: String,
}

#[derive(Clone, Debug, PartialEq)]
pub struct OtherWay {
    /// "or hatch alone", "or drive belt and alternator".
    pub by: String,
    pub sum: String,
}

/// What came off in another job on the same machine.
#[derive(Clone, Debug, PartialEq)]
pub struct EarlierGroup {
    /// The id of that job.
    pub job: String,
    pub title: String,
    pub rows: Vec<GoalRow>,
}

/// The answer for one thing.
#[derive(Clone, Debug, PartialEq)]
pub struct WayAnswer {
    pub name: String,
    /// "3 acts, about 25 minutes".
    pub sum: String,
    pub steps: Vec<WayStep>,
    pub others: Vec<OtherWay>,
    /// Where the minutes are from, and what is not certain.
    pub note: String,
    /// The thing for which another way can be written down.
    pub noted_of: Option<Target>,
    /// What such a way does not do; empty of a part.
    pub but: &'static str,
    /// What another way may lead over.
    pub over: Vec<(PartId, String)>,
}

/// What can be asked for, what is still on first.
pub fn way_in_page(book: &Book, _at: At) -> Vec<GoalGroup> {
    let job = book.job();
    let laid = Laid::of(job);
    let mut groups = [
        "From the procedure, still on",
        "On again",
        "Off now",
        "Openings",
        "Hoses, pipes, plugs",
    ]
    .map(|title| GoalGroup {
        title,
        rows: Vec::new(),
    });
    for (goal, off) in laid.goals().into_iter().zip(laid.off()) {
        let at = match goal {
            Goal::Planned(_) => 0,
            Goal::Thing(Target::Part(_)) if off => 2,
            Goal::Thing(Target::Part(_)) => 1,
            Goal::Thing(Target::Opening(_)) => 3,
            Goal::Thing(Target::Connection(_)) | Goal::PlannedConnection(..) => 4,
            Goal::Thing(_) => continue,
        };
        if let Some(group) = groups.get_mut(at) {
            let name = name(job, goal);
            group.rows.push(GoalRow { goal, name });
        }
    }
    // The deepest is what is most likely asked for.
    for group in &mut groups {
        group.rows.reverse();
    }
    groups.into_iter().filter(|g| !g.rows.is_empty()).collect()
}

/// Parts that came off in other jobs on the machine of `here` and have not been
/// touched in this one, the deepest first. Machines are told by their names.
pub fn earlier_groups(here: &Book, others: &[(&str, &Job)]) -> Vec<EarlierGroup> {
    let machine = |job: &Job| {
        let head = job.head.as_ref();
        head.map(|h| h.machine.trim().to_lowercase())
    };
    let same = |name: &str| name.trim().to_lowercase();
    let Some(this) = machine(here.job()).filter(|it| !it.is_empty()) else {
        return Vec::new();
    };
    let known: Vec<String> = here.job().parts.rows().map(|p| same(&p.name)).collect();
    let others = others.iter();
    let others = others
        .filter(|(_, job)| here.job().may_share_with(job) && machine(job).as_ref() == Some(&this));
    let groups = others.map(|&(id, job)| {
        let parts = job.parts.iter().rev();
        let new = parts.filter(|(_, p)| !known.contains(&same(&p.name)));
        EarlierGroup {
            job: id.to_owned(),
            title: format!("From {}", words::name(job, Target::Job)),
            rows: new
                .map(|(id, part)| GoalRow {
                    goal: Goal::Thing(Target::Part(id)),
                    name: part.name.clone(),
                })
                .collect(),
        }
    });
    groups.filter(|g| !g.rows.is_empty()).collect()
}

/// As [`way_answer`], with everything on, from the job in which it came off
/// before.
pub fn way_answer_earlier(
    book: &Book,
    goal: Goal,
    by_minutes: bool,
    work: &AtWork,
) -> Option<WayAnswer> {
    let mut answer = answer_of(book, &Asking::from_whole(book, work), goal, by_minutes)?;
    // That job is not the one at hand: nothing is written down in it.
    answer.noted_of = None;
    let title = words::name(book.job(), Target::Job);
    answer.note = format!("{} As it came apart in {title}.", answer.note);
    Some(answer)
}

/// The least work to get at `goal`, by acts or by minutes.
pub fn way_answer(book: &Book, goal: Goal, by_minutes: bool, work: &AtWork) -> Option<WayAnswer> {
    answer_of(book, &Asking::of(book, work), goal, by_minutes)
}

fn answer_of(book: &Book, asking: &Asking, goal: Goal, by_minutes: bool) -> Option<WayAnswer> {
    let job = book.job();
    let by = if by_minutes {
        Measure::Minutes
    } else {
        Measure::Acts
    };
    let noted_of = match goal {
        Goal::Thing(what @ (Target::Part(_) | Target::Connection(_) | Target::Opening(_))) => {
            Some(what)
        }
        _ => None,
    };
    let but = match noted_of {
        Some(Target::Connection(_) | Target::Opening(_)) => {
            "Way in goes by it. On the way back its recorded way stays what counts."
        }
        _ => "",
    };
    let over = job.parts.iter().rev();
    let over = over.filter(|(id, _)| noted_of != Some(Target::Part(*id)));
    let mut answer = WayAnswer {
        name: name(job, goal),
        sum: String::new(),
        steps: Vec::new(),
        others: Vec::new(),
        note: String::new(),
        noted_of,
        but,
        over: over.map(|(id, p)| (id, p.name.clone())).collect(),
    };
    let best = match asking.least(goal, by)? {
        Ok(best) => best,
        Err(WaysError::NeedsItself { .. } | WaysError::NodeOutOfRange { .. }) => {
            answer.sum = "Each way in needs itself to be off first.".to_owned();
            answer.note =
                "What was written down contradicts itself; the audit names it.".to_owned();
            return Some(answer);
        }
    };
    answer.sum = if !best.take_off.is_empty() {
        sum(&best)
    } else if asking.is_off(goal) {
        "It is off, and nothing is in the way.".to_owned()
    } else {
        "Nothing has to come off first.".to_owned()
    };
    let known = |goal: Goal| match goal {
        Goal::Thing(Target::Part(id)) => job.parts.slot(id).is_some_and(|s| asking.pace.knows(s)),
        _ => false,
    };
    answer.steps = best
        .take_off
        .iter()
        .map(|&step| WayStep {
            name: name(job, step),
            note: {
                let minutes = words::plural(asking.minutes(step), "minute");
                let fixing = matches!(step, Goal::Thing(Target::Fixing(_)));
                if fixing && asking.minutes(step) == 0 {
                    "counted with what it holds".to_owned()
                } else if known(step) {
                    format!("took {minutes} by your log")
                } else {
                    format!("about {minutes}")
                }
            },
        })
        .collect();
    let others = asking.each(goal, by).into_iter();
    answer.others = others
        .filter(|way| way.take_off != best.take_off)
        .map(|way| OtherWay {
            by: by_way_of(job, &way),
            sum: sum(&way),
        })
        .collect();
    answer.note = note(&best, asking, known);
    if !by_minutes && !best.take_off.is_empty() {
        answer.note.insert_str(
            0,
            "An act is a fastener undone, an end parted or a part lifted off. ",
        );
    }
    Some(answer)
}

fn note(best: &Reach, asking: &Asking, known: impl Fn(Goal) -> bool) -> String {
    let n = best.take_off.len();
    let told = best.take_off.iter().filter(|&&g| known(g)).count();
    let mut note = if n == 0 {
        String::new()
    } else if told == n {
        "The minutes are as they were in your own log.".to_owned()
    } else if told == 0 && asking.pace.learned() {
        "Your own log does not tell these; the minutes are a guess at your own pace.".to_owned()
    } else if told > 0 {
        format!("Your own log tells {told} of {n}; the rest is a guess at your own pace.")
    } else {
        words::minutes_by(false).to_owned()
    };
    if !best.exact {
        note.push_str(&format!(
            " There may be less, but nothing below {}.",
            best.at_least
        ));
    }
    note
}

fn sum(way: &Reach) -> String {
    let fit = |n: u64| u32::try_from(n).unwrap_or(u32::MAX);
    format!(
        "{}, about {}",
        words::plural(fit(way.acts), "act"),
        words::plural(fit(way.minutes), "minute")
    )
}

fn by_way_of(job: &Job, way: &Reach) -> String {
    let names: Vec<String> = way.take_off.iter().map(|&g| name(job, g)).collect();
    match names.as_slice() {
        [] => "or straight at it".to_owned(),
        [one] => format!("or {one} alone"),
        _ => format!("or {}", Names(names)),
    }
}

pub(super) fn name(job: &Job, goal: Goal) -> String {
    match goal {
        Goal::Thing(what) => words::name(job, what),
        Goal::Planned(n) => {
            let planned = planned_parts(job).get(n as usize);
            planned.map(|p| p.name.clone()).unwrap_or_default()
        }
        Goal::PlannedConnection(of, n) => match planned_connection(job, of, n) {
            Some(it) if it.name.is_empty() => words::connection_kind(it.kind).to_owned(),
            it => it.map(|it| it.name.clone()).unwrap_or_default(),
        },
    }
}
