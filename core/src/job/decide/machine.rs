//! Commands that ask something of the machine: filling it, and what its meter
//! is said to read.
use super::*;
use crate::permit::{Ask, fill_needs, holds_none, is_due, permit};

impl Tap<'_> {
    /// Fluid in. A cure that holds filling back is waited for; whatever else
    /// stands against it is owned up to with a reason, which is noted beside.
    pub fn fill(&mut self, fluid: FluidId, amount: String, anyway: String) -> Result<(), Refusal> {
        let act = Act::FluidFilled { fluid, amount };
        self.job.check(&act)?;
        if let Some((treatment, until)) = self.job.cure_before_fill(fluid, self.clock) {
            return Err(Refusal::Curing { treatment, until });
        }
        let missing = fill_needs(self.job, fluid, self.clock);
        if missing.is_empty() {
            self.push(act);
            return Ok(());
        }
        let ask = Ask::Fill;
        reasoned(&anyway).map_err(|_| Refusal::NotReady { ask, missing })?;
        self.push(act);
        self.push(Act::NoteAdded {
            on: Target::Fluid(fluid),
            text: anyway,
        });
        Ok(())
    }

    /// Leaks and the level are looked at once it has run.
    pub fn look_after(&mut self, fluid: FluidId, checks: &[AfterRunKind]) {
        for &what in checks {
            self.push(Act::AfterRunOwed {
                what,
                on: Target::Fluid(fluid),
                text: self
                    .job
                    .fluids
                    .get(fluid)
                    .map_or(String::new(), |it| it.name.clone()),
                due: Due::default(),
            });
        }
    }

    /// It ran. What happened is not to be denied: where something stood against
    /// it a reason is asked for, which is noted beside, and it is logged.
    pub fn run(&mut self, heat_cycles: u16, anyway: &str) -> Result<(), Refusal> {
        let act = Act::Ran { heat_cycles };
        self.job.check(&act)?;
        let missing = permit(self.job, self.clock).start;
        if missing.is_empty() {
            self.push(act);
            return Ok(());
        }
        let ask = Ask::Start;
        reasoned(anyway).map_err(|_| Refusal::NotReady { ask, missing })?;
        self.push(act);
        self.push(Act::NoteAdded {
            on: Target::Job,
            text: format!("Run all the same: {anyway}"),
        });
        Ok(())
    }

    /// What is not due can only be done early, and that is noted beside: a joint
    /// that has not run has not settled.
    pub fn check_done(
        &mut self,
        after_run: AfterRunId,
        reading: String,
        early: &str,
    ) -> Result<(), Refusal> {
        let act = Act::AfterRunDone { after_run, reading };
        self.job.check(&act)?;
        if is_due(self.job, after_run, self.ctx.now) {
            self.push(act);
            return Ok(());
        }
        reasoned(early).map_err(|_| Refusal::NotDue { after_run })?;
        self.push(act);
        self.push(Act::NoteAdded {
            on: Target::AfterRun(after_run),
            text: format!("Done before it was due: {early}"),
        });
        Ok(())
    }

    /// A meter only goes up: one that reads less was misread now or before.
    pub fn not_lower(&self, read: Meter) -> Result<(), Refusal> {
        match self.job.meter_of(read.kind) {
            Some(before) if read.tenths < before.tenths => {
                Err(Refusal::MeterLower { before, read })
            }
            _ => Ok(()),
        }
    }
}

impl Job {
    /// A cure that holds this fluid back at `now` (ms since 1970), and until
    /// when. No reason goes past it.
    pub(crate) fn cure_before_fill(&self, fluid: FluidId, now: i64) -> Option<(TreatmentId, i64)> {
        let holds = |id: TreatmentId, it: &Treatment| {
            it.holds_fill
                && !holds_none(self, fluid, it.on)
                && !holds_none(self, fluid, Target::Treatment(id))
        };
        let mut curing = self.treatments.iter();
        curing.find_map(|(id, it)| {
            let until = it.cured_at()?;
            (holds(id, &it.treatment) && it.curing(now)).then_some((id, until))
        })
    }
}
