//! Self-locking nuts: what their running torque is, and what is set with it.
use crate::fastener::common_items::self_locks;
use crate::job::{Fixing, Job};
use crate::journal::*;
use crate::torque::running::with_running_torque;
use crate::torque::{Torque, TorqueUnit};
use crate::words::{self, Style};

/// What is said of nuts that resist all the way down.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SelfLocking {
    pub lines: [&'static str; 3],
    /// The same in short, before the pass.
    pub short: &'static str,
    /// The last torque of the fixing, which the running torque is held against.
    pub figure: Option<Figure>,
}

/// None for all others.
pub fn self_locking(job: &Job, it: &Fixing) -> Option<SelfLocking> {
    let lock_nut = |&id: &ItemId| {
        job.items
            .get(id)
            .is_some_and(|item| item.kind == ItemKind::LockNut)
    };
    let torque = |f: &&Figure| matches!(f, Figure::Torque { .. });
    (self_locks(&it.spec) || it.items.iter().any(lock_nut)).then(|| SelfLocking {
        lines: words::RUNNING_TORQUE,
        short: words::RUNNING_TORQUE_SHORT,
        figure: it.detail.stages.iter().rev().find(torque).copied(),
    })
}

/// What is set for a figure when the nut runs with `milli` thousandths of its
/// unit; none where there is no torque, or it runs freely.
pub fn with_running(figure: Option<Figure>, milli: u32, style: Style) -> Option<String> {
    let Some(Figure::Torque { milli: full, unit }) = figure.filter(|_| milli > 0) else {
        return None;
    };
    let of = |milli, unit: TorqueUnit| Torque::from_thousandths(milli, unit);
    let (figure, running) = (of(full, unit), of(milli, unit));
    let set = with_running_torque(figure, running)?;
    Some(words::with_running(figure, running, set, style))
}
