//! A journal and the job folded from it, kept in step.
use super::*;

impl Job {
    /// Makes room for what the acts will bring in: long journals fold faster.
    fn expect(&mut self, journal: &Journal) {
        let tally = journal.tally();
        self.parts.reserve(tally.parts);
        self.fixings.reserve(tally.fixings);
        self.connections.reserve(tally.connections);
        self.items.reserve(tally.items);
        self.lines
            .reserve(tally.parts + 2 * tally.fixings + tally.items);
        self.holders.reserve(tally.needs);
    }
}

/// What a screen works on: the acts and what they amount to.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Book {
    journal: Journal,
    job: Job,
    struck: std::collections::BTreeSet<EventId>,
    latest: i64,
}

impl Book {
    /// Folds a journal from its start.
    pub fn open(journal: Journal) -> Self {
        let mut job = Job::default();
        job.expect(&journal);
        let struck = journal.struck();
        let mut latest = 0;
        for event in journal.iter() {
            latest = event.at.max(latest);
            if !struck.contains(&event.with) {
                job.apply(event);
            }
        }
        Self {
            journal,
            job,
            struck,
            latest,
        }
    }

    pub fn job(&self) -> &Job {
        &self.job
    }
    pub fn journal(&self) -> &Journal {
        &self.journal
    }
    pub fn is_struck(&self, event: &Event) -> bool {
        self.struck.contains(&event.with)
    }
    /// The latest time known, in ms: the clock given, unless an act is later.
    pub fn now(&self, clock: i64) -> i64 {
        self.latest.max(clock)
    }
    /// The id that the next act on `device` will have. A job's first act starts
    /// the logical clock at the second it is opened in, so that two jobs of one
    /// phone never share an id; from there it counts acts.
    pub fn next_id(&self, device: DeviceId, now: i64) -> EventId {
        let clock = match self.journal.last() {
            Some(last) => last.id.clock.saturating_add(1),
            None => u32::try_from(now / 1000).unwrap_or(1),
        };
        EventId::new(clock, device)
    }

    /// Adds acts that are stored. In order they are folded one by one; a strike
    /// or an act from before the last folds the whole journal anew.
    pub fn append(&mut self, events: Vec<Event>) {
        let last = self.journal.last().map(|e| e.id);
        let mut newest = last;
        let in_order = events.iter().all(|e| {
            let follows = newest.is_none_or(|n| e.id > n);
            newest = Some(e.id);
            follows && !matches!(e.act, Act::Struck { .. })
        });
        for event in events {
            self.latest = self.latest.max(event.at);
            if in_order && !self.struck.contains(&event.with) {
                self.job.apply(&event);
            }
            self.journal.add(event);
        }
        if !in_order {
            *self = Self::open(std::mem::take(&mut self.journal));
        }
    }

    /// Takes in the acts of a copy of this job from another phone.
    ///
    /// # Errors
    /// [`Refusal::OpenAlready`] when the copy is of another job.
    pub fn merge(&mut self, other: &Journal) -> Result<Merged, Refusal> {
        let first = |j: &Journal| j.iter().next().map(|e| e.id);
        if let (Some(a), Some(b)) = (first(&self.journal), first(other))
            && a != b
        {
            return Err(Refusal::OpenAlready);
        }
        let mut journal = std::mem::take(&mut self.journal);
        let merged = journal.merge(other);
        *self = Self::open(journal);
        Ok(merged)
    }

    /// The tap that can be struck for `event`, by its first act.
    ///
    /// # Errors
    /// [`Refusal::BuiltOn`] names the later acts that would no longer fit.
    pub fn can_strike(&self, event: EventId) -> Result<EventId, Refusal> {
        let Some(found) = self.journal.get(event) else {
            return Err(Refusal::Unknown(Kind::Event));
        };
        let tap = found.with;
        if self.struck.contains(&tap) {
            return Err(Refusal::StruckAlready { event });
        }
        // What came in with the opening, as a procedure does, is the opening.
        let first = self.journal.get(tap).unwrap_or(found);
        if matches!(first.act, Act::JobOpened(_)) || matches!(found.act, Act::Struck { .. }) {
            return Err(Refusal::CannotStrike { event });
        }
        // What was signed stands until the job is opened again.
        if self.job.signed.as_ref().is_some_and(|it| tap <= it.event) {
            return Err(Refusal::SignedOff);
        }
        let mut job = Job::default();
        for e in self.journal.iter() {
            if e.with != tap && !self.struck.contains(&e.with) {
                job.apply(e);
            }
        }
        let before: Vec<EventId> = self
            .job
            .misfits
            .iter()
            .chain(&self.job.said_twice)
            .map(|m| m.event)
            .collect();
        let by: Vec<EventId> = job
            .misfits
            .iter()
            .chain(&job.said_twice)
            .map(|m| m.event)
            .filter(|id| !before.contains(id))
            .collect();
        if by.is_empty() {
            Ok(tap)
        } else {
            Err(Refusal::BuiltOn { event, by })
        }
    }
}
