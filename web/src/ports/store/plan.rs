//! What a commit may do to a job's head: the one rule that both stores apply inside their
//! transaction.

use super::{
    batch::{ActRow, Batch, JobHead},
    chain,
    fault::Fault,
};

/// What to do with a batch, given what is there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Plan {
    /// Write the rows; this is the head afterwards. `None` when the batch has no rows.
    Write(Option<JobHead>),
    /// All of it is there already.
    Replay,
    Refuse(Fault),
}

/// Decides. `stored_last` is the row now stored under the key of the batch's last row. A batch is
/// written whole or not at all, so its last row being there means that all of it is.
pub(super) fn plan(head: Option<&JobHead>, stored_last: Option<&ActRow>, batch: &Batch) -> Plan {
    let (Some(first), Some(last)) = (batch.rows.first(), batch.rows.last()) else {
        return Plan::Write(None);
    };
    if let Some(at_row) = batch.first_gap() {
        return Plan::Refuse(Fault::BadBatch { at_row });
    }
    if let Some(stored) = stored_last {
        return if stored == last {
            Plan::Replay
        } else {
            Plan::Refuse(Fault::KeyTaken)
        };
    }
    let expected = head.map_or(0, |head| head.count).saturating_add(1);
    if first.seq != expected {
        return Plan::Refuse(Fault::OutOfOrder {
            expected,
            found: first.seq,
        });
    }
    let before = head.map(|head| head.head.as_str()).unwrap_or_default();
    let after = batch
        .rows
        .iter()
        .fold(before.to_owned(), |hash, row| chain::next(&hash, row));
    Plan::Write(Some(JobHead {
        job: batch.job.clone(),
        count: last.seq,
        head: after,
        first_line: head.map_or_else(|| first.line.clone(), |head| head.first_line.clone()),
        last_line: last.line.clone(),
    }))
}
