//! Self-locking nuts: what their running torque is, and what is set with it.
use crate::fastener::common_items::self_locks;
use crate::job::{Fixing, Job};
use crate::journal::*;
use crate::torque::Torque;
use crate::torque::running::with_running_torque;
use crate::words::{self, Style};

/// What is said of nuts that resist all the way down.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SelfLocking {
    pub lines: [&'static str; 3],
    /// The same in short, before the pass.
    pub short: &'static str,
    /// The last torque of the fixing, which the running torque is held against.
    pub figure: Option<Figure>,
    /// What they run with, as noted.
    pub running: Option<Figure>,
    /// What is then set; empty while nothing is noted.
    pub set: String,
}

/// None for all others.
pub fn self_locking(job: &Job, it: &Fixing, style: Style) -> Option<SelfLocking> {
    let lock_nut = |&id: &ItemId| {
        job.items
            .get(id)
            .is_some_and(|item| item.kind == ItemKind::LockNut)
    };
    let torque = |f: &&Figure| matches!(f, Figure::Torque { .. });
    let figure = it.detail.stages.iter().rev().find(torque).copied();
    let running = it.detail.running;
    let set = match (running, figure) {
        (Some(Figure::Torque { milli, unit }), Some(Figure::Torque { .. })) => {
            with_running_in(figure, Torque::from_thousandths(milli, unit), style)
        }
        (Some(running), _) => Some(words::runs_with(running, super::unit_of(job), style)),
        _ => None,
    };
    (self_locks(&it.spec) || it.items.iter().any(lock_nut)).then(|| SelfLocking {
        lines: words::RUNNING_TORQUE,
        short: words::RUNNING_TORQUE_SHORT,
        figure,
        running,
        set: set.unwrap_or_default(),
    })
}

/// The last torque with what its nuts run with, as noted; others as they are.
pub(super) fn with_its_running(it: &Fixing, figure: Figure) -> Figure {
    let of = |f: Figure| match f {
        Figure::Torque { milli, unit } => Some(Torque::from_thousandths(milli, unit)),
        Figure::Angle { .. } => None,
    };
    let sum = || {
        let last = it.last_torque().filter(|&last| last == figure)?;
        with_running_torque(of(last)?, of(it.detail.running?)?)
    };
    sum().map_or(figure, |t| Figure::Torque {
        milli: t.thousandths(),
        unit: t.unit(),
    })
}

/// What is set for a figure when the nut runs with `milli` thousandths of its
/// unit; none where there is no torque, or it runs freely.
pub fn with_running(figure: Option<Figure>, milli: u32, style: Style) -> Option<String> {
    let Some(Figure::Torque { unit, .. }) = figure.filter(|_| milli > 0) else {
        return None;
    };
    with_running_in(figure, Torque::from_thousandths(milli, unit), style)
}

fn with_running_in(figure: Option<Figure>, running: Torque, style: Style) -> Option<String> {
    let Some(Figure::Torque { milli, unit }) = figure else {
        return None;
    };
    let figure = Torque::from_thousandths(milli, unit);
    let running = running.in_unit(unit)?;
    let set = with_running_torque(figure, running)?;
    Some(words::with_running(figure, running, set, style))
}
