//! Words of the checks that fall due after running.
use super::small::thousandths;
use super::{Style, plural, small};
use crate::journal::Due;
use crate::permit::{DueCheck, Reached};

/// Why a check is due, or what is left until it is.
pub fn due_note(check: &DueCheck, due: Due, style: Style) -> String {
    if check.is_due() {
        let why: Vec<String> = check.reached.iter().map(|&it| reached(it, due)).collect();
        return format!("due now: {}", why.join(", "));
    }
    if check.wants_reading {
        return format!("{}: read the meter to know", small::due(due));
    }
    if !check.ran {
        return small::due(due);
    }
    let tenths = |n: u32| thousandths(n.saturating_mul(100), style);
    let left = &check.left;
    let mut said = Vec::new();
    if let Some(n) = left.heat_cycles {
        said.push(plural(u32::from(n), "warm-up"));
    }
    if let Some(n) = left.km_tenths {
        said.push(format!("{} km", tenths(n)));
    }
    if let Some(n) = left.hours_tenths {
        said.push(format!("{} h", tenths(n)));
    }
    if let Some(n) = left.days {
        said.push(plural(n, "day"));
    }
    format!("{} to go", said.join(" or "))
}

fn reached(how: Reached, due: Due) -> String {
    match how {
        Reached::FirstRun => "it has run".to_owned(),
        Reached::HeatCycles => plural(u32::from(due.heat_cycles), "warm-up"),
        Reached::Distance => format!("{} km run", due.km),
        Reached::Hours => format!("{} run", plural(due.hours, "hour")),
        Reached::Days => format!("{} since it ran", plural(due.days, "day")),
    }
}
