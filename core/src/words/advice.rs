//! Words of the permit, of costs and of what to do first.
use super::{name, plural, small, want_target};
use crate::access::{Cost, Wait};
use crate::guard::Break;
use crate::job::Job;
use crate::journal::Target;
use crate::permit::Ask;
use crate::second::{Critical, Slip};

/// What is asked of the machine.
pub fn ask(ask: Ask) -> &'static str {
    match ask {
        Ask::Turn => "Turn it by hand",
        Ask::Crank => "Crank it",
        Ask::Fill => "Fill it",
        Ask::Start => "Start it",
    }
}

/// The refusal of it, said to a person.
pub fn do_not(ask: Ask) -> &'static str {
    match ask {
        Ask::Turn => "Do not turn it",
        Ask::Crank => "Do not crank it",
        Ask::Fill => "Do not fill it",
        Ask::Start => "Do not start it",
    }
}

/// Whether it may be, with how much stands against it.
pub fn permit_answer(ask: Ask, missing: u32) -> String {
    if missing == 0 {
        return "Nothing against it".to_owned();
    }
    let stand = if missing == 1 { "stands" } else { "stand" };
    format!(
        "{}: {} {stand} against it",
        do_not(ask),
        plural(missing, "thing")
    )
}

/// What broke the work off.
pub fn broken_off(why: Break) -> &'static str {
    match why {
        Break::Hidden => "You were away.",
        Break::OtherJob => "You were at another job.",
        Break::Died => "The app was closed under way.",
    }
}

/// How a check that was let go reads, when whoever let it go did the work.
pub const OWN_WORK: &str = "Let go by the hand that did the work; nobody else has seen it.";
/// How it reads otherwise.
pub const NOT_LOOKED_AT: &str = "Let go; no second person has looked.";

/// What a signed job is closed with.
pub fn signed(exceptions: u32) -> String {
    match exceptions {
        0 => "Signed off with nothing owed".to_owned(),
        n => format!("Signed off with {}", plural(n, "exception")),
    }
}

/// Signed, and open all the same: acts of another phone came in afterwards.
pub fn since_signed(n: u32) -> String {
    format!(
        "{} came in after it was signed. Open the job again to settle what is owed.",
        plural(n, "open thing")
    )
}

/// A make-safe step that was not confirmed in time.
pub fn confirmed_late(step: &str, by: &str, when: &str) -> String {
    let by = if by.is_empty() {
        String::new()
    } else {
        format!(" by {by}")
    };
    format!("{step}: confirmed{by} {when}, when the first part was off already")
}

/// What is to be done about a thing before a part goes over it.
pub fn first(job: &Job, what: Target) -> &'static str {
    match what {
        Target::End(_) | Target::Connection(_) => "Join it and make it fast first.",
        Target::Inside(_) | Target::Opening(_) => "Take out first what is in it.",
        Target::Item(_) => "Fit a new one first.",
        Target::Treatment(_) => "Put it on first.",
        Target::Finding(id) => match job.findings.get(id).and_then(|f| f.decision.as_ref()) {
            Some(_) => "Do the work that was decided first.",
            None => "Decide it first.",
        },
        _ => "Finish it first.",
    }
}

/// Why a place is to be touched again.
pub fn slip(slip: Slip) -> &'static str {
    match slip {
        Slip::Bulk => "said for many in one tap",
        Slip::TooFast => "said faster than a hand can",
        Slip::OutOfOrder => "said out of order",
    }
}

/// What lives hang on.
pub fn critical(critical: Critical) -> &'static str {
    match critical {
        Critical::Brakes => "brakes",
        Critical::Steering => "steering",
        Critical::Suspension => "suspension",
        Critical::Wheels => "wheels",
        Critical::Fuel => "fuel",
        Critical::SeatBelts => "seat belts",
        Critical::LiftingPoints => "lifting points",
    }
}

/// A cure that ended while the app was closed.
pub fn over_by_clock(applied: &str, end: &str) -> String {
    format!("put on {applied}, over {end} by this phone's clock")
}

/// What was put on a joint that is not closed yet, and its open time.
pub fn close_by(by: &str, over: bool) -> String {
    match over {
        false => format!("close the joint by {by}"),
        true => format!("its open time ended {by}: clean it off and put on new"),
    }
}

/// What holds others up until it turns up.
pub fn to_be_found(name: &str) -> String {
    format!("{name}, to be found")
}

/// What an act waits for.
pub fn wait(job: &Job, wait: Wait) -> String {
    match wait {
        Wait::Delivery(want) => format!("delivery: {}", name(job, want_target(want))),
        Wait::Decision(id) => format!("a decision: {}", name(job, Target::Finding(id))),
        Wait::Cure(id) => format!("the cure of {}", name(job, Target::Treatment(id))),
        Wait::Work(id) => format!("work decided: {}", name(job, Target::Finding(id))),
        Wait::Repair(id) => format!("the repair of a place of {}", name(job, Target::Fixing(id))),
        Wait::Lost(_) => "being found".to_owned(),
        Wait::Over(what) => format!("coming off again: {} is behind it", name(job, what)),
        Wait::Behind(id) => format!("{} to come off again", name(job, Target::Part(id))),
        Wait::Seat(id) => format!(
            "a word on what becomes of it, as {} is left off",
            name(job, Target::Part(id))
        ),
        Wait::Hold(id) => {
            let hold = job.fixings.get(id).and_then(|it| job.held_by(it));
            let until = hold.map_or("later", small::hold);
            format!(
                "its final torque, {until}: {}",
                name(job, Target::Fixing(id))
            )
        }
    }
}

/// "3 parts, 12 fasteners, about 25 minutes".
pub fn cost(cost: Cost) -> String {
    format!(
        "{}, {}, about {}",
        plural(cost.parts, "part"),
        plural(cost.fasteners, "fastener"),
        plural(cost.minutes, "minute")
    )
}

/// Where minutes are from.
pub fn minutes_by(learned: bool) -> &'static str {
    if learned {
        "Minutes go by your own log."
    } else {
        "Minutes are a guess by the number of fasteners; your own log does not tell yet."
    }
}
