//! How much a file may hold before it is refused unread. Far above any job,
//! low enough that a phone is not brought down by a hostile one.

/// A measure that was overrun.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Limit {
    /// Bytes of `job.jsonl`.
    Journal,
    /// Bytes of `about.json`.
    About,
    /// Acts.
    Acts,
    /// Bytes of one act.
    Act,
    /// Pictures.
    Photos,
}

impl Limit {
    /// The most that is taken. 10,000 acts take about 3 MB.
    pub const fn most(self) -> usize {
        match self {
            Self::Journal => 100_000_000,
            Self::About => 4_000_000,
            Self::Acts => 300_000,
            // A whole procedure is one act.
            Self::Act => 4_000_000,
            Self::Photos => 20_000,
        }
    }
}

/// The last time an act may carry: 2200-01-01, in ms since 1970. One from
/// beyond would hold up every cure, as time in a job never goes back.
pub const LAST_TIME: i64 = 7_258_118_400_000;

/// The highest logical clock that leaves room for a lifetime of acts after it.
pub const LAST_CLOCK: u32 = u32::MAX - (1 << 24);
