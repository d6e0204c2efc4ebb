//! Folding of what was put in, drained, put on, found, listed or prescribed.
use super::*;

impl Job {
    /// A procedure adds make-safe steps and checks after running; it never
    /// takes a step, a check or a place away, and adds none twice.
    pub(super) fn attach(&mut self, id: EventId, procedure: &Procedure) {
        for (n, step) in (0_u16..).zip(&procedure.safe) {
            if self.steps.rows().all(|have| have.step != *step) {
                self.step_listed(id, n, step);
            }
        }
        for (n, run) in (0_u16..).zip(&procedure.after_run) {
            let known = |have: &AfterRun| {
                have.on == Target::Job
                    && have.what == run.kind
                    && have.text == run.text
                    && have.due == run.due
            };
            if !self.after_runs.rows().any(known) {
                self.after_run_owed(id, n, run.kind, Target::Job, &run.text, run.due);
            }
        }
        self.procedure = Some(procedure.clone());
    }

    pub(super) fn step_listed(&mut self, id: EventId, sub: u16, step: &SafeStep) {
        let row = Step {
            step: step.clone(),
            opened: id,
            confirmed: None,
        };
        self.steps.add(StepId(id.thing(sub)), row);
    }

    pub(super) fn put_in(&mut self, id: EventId, put: &PutIn) {
        let inside = InsideId(id.thing(0));
        let line = LineId(id.thing(0));
        let n_in = u32::from(put.n);
        let at = Account::Inside(inside);
        self.lines.add(
            line,
            Line::open(Target::Inside(inside), What::Aid, n_in, at),
        );
        self.insides.add(
            inside,
            Inside {
                put: put.clone(),
                line,
                opened: id,
                n_in,
            },
        );
        if let Some(opening) = put.opening.and_then(|o| self.openings.get_mut(o)) {
            opening.inside.push(inside);
        }
    }

    pub(super) fn taken_out(&mut self, inside: InsideId, n: u32) {
        let line = self.insides.get_mut(inside).map(|it| {
            it.n_in = it.n_in.saturating_sub(n);
            it.line
        });
        if let Some(line) = line {
            self.shift(line, Account::Inside(inside), Account::Bench, n);
        }
    }

    pub(super) fn fluid_drained(&mut self, id: EventId, name: &str, amount: &str, bleed: bool) {
        self.fluids.add(
            FluidId(id.thing(0)),
            Fluid {
                name: name.to_owned(),
                drained: amount.to_owned(),
                filled: None,
                bleed,
                bled: false,
                level_seen: false,
                joints: Vec::new(),
                opened: id,
            },
        );
    }

    pub(super) fn joint_holds(&mut self, fluid: FluidId, on: Target, holds: bool) {
        if let Some(it) = self.fluids.get_mut(fluid) {
            it.joints.retain(|(joint, _)| *joint != on);
            it.joints.push((on, holds));
        }
    }

    pub(super) fn prescribed(&mut self, id: EventId, it: &Treatment) {
        let treatment = TreatmentId(id.thing(0));
        self.treatments.add(
            treatment,
            Treated {
                treatment: it.clone(),
                opened: id,
                applied: None,
                closed: None,
                applied_by: id,
                closed_by: id,
                sure: true,
            },
        );
        match it.on {
            Target::Part(part) => {
                if let Some(part) = self.parts.get_mut(part) {
                    part.treatments.push(treatment);
                }
            }
            Target::Fixing(fixing) => {
                if let Some(fixing) = self.fixings.get_mut(fixing) {
                    fixing.treatments.push(treatment);
                }
            }
            _ => {}
        }
    }

    fn treatments_of(&self, on: Target) -> Vec<TreatmentId> {
        match on {
            Target::Part(part) => self.parts.get(part).map(|p| p.treatments.clone()),
            Target::Fixing(fixing) => self.fixings.get(fixing).map(|f| f.treatments.clone()),
            _ => None,
        }
        .unwrap_or_default()
    }

    /// What they were put on was closed up over them.
    pub(super) fn close_treatments(&mut self, on: Target, by: &Event) {
        for id in self.treatments_of(on) {
            if let Some(it) = self.treatments.get_mut(id)
                && it.closed.is_none()
            {
                it.closed = Some(by.at);
                it.closed_by = by.id;
            }
        }
    }

    /// What was closed up over them came apart again: they are put on anew
    /// (common practice, no source).
    pub(super) fn reopen_treatments(&mut self, on: Target) {
        for id in self.treatments_of(on) {
            if let Some(it) = self.treatments.get_mut(id)
                && it.closed.is_some()
            {
                it.applied = None;
                it.closed = None;
            }
        }
    }

    pub(super) fn finding_noted(&mut self, id: EventId, on: Target, text: &str) {
        let finding = FindingId(id.thing(0));
        self.findings.add(
            finding,
            FindingOf {
                on,
                text: text.to_owned(),
                opened: id,
                decision: None,
                decided: None,
                done: false,
            },
        );
        if let Target::Part(part) = on
            && let Some(part) = self.parts.get_mut(part)
        {
            part.findings.push(finding);
        }
    }
}
