//! Commands that ask something of the machine: filling it, and what its meter
//! is said to read.
use super::*;
use crate::permit::{Ask, permit};

impl Tap<'_> {
    /// Fluid in. A cure that holds filling back is waited for; whatever else
    /// stands against it is owned up to with a reason, which is noted beside.
    pub fn fill(&mut self, fluid: FluidId, amount: String, anyway: String) -> Result<(), Refusal> {
        let act = Act::FluidFilled { fluid, amount };
        self.job.check(&act)?;
        self.cured(|t| t.holds_fill)?;
        let missing = permit(self.job, self.clock).fill;
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

    fn cured(&self, holds: impl Fn(&Treatment) -> bool) -> Result<(), Refusal> {
        for (treatment, it) in self.job.treatments.iter() {
            if holds(&it.treatment)
                && it.curing(self.clock)
                && let Some(until) = it.cured_at()
            {
                return Err(Refusal::Curing { treatment, until });
            }
        }
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
