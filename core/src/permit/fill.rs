//! What stands against filling, of one fluid or of all that are out: an open
//! joint that holds it in, a cure, a rag. Which joints hold which fluid is said
//! by the person; where nothing was said it is guessed, and rather asked for
//! once too often: a hose that is named after another fluid is passed over, all
//! else with a seal is not. Common practice, no source.
use rustc_hash::FxHashSet;

use super::needs::treatment;
use crate::audit::{Owed, Rule, audit};
use crate::fastener::FastenerKind;
use crate::fluid::{Families, families};
use crate::job::{Connection, Fluid, Job};
use crate::journal::*;

/// What stands against filling one fluid at `now` (ms since 1970), the most
/// dangerous first.
pub fn fill_needs(job: &Job, fluid: FluidId, now: i64) -> Vec<Owed> {
    let wet = Wet::of(job, job.fluids.get(fluid));
    let open = audit(job, now).open;
    let stops = open.into_iter().filter(|owed| wet.stops(owed));
    stops.collect()
}

/// What is off or apart and is not asked for before filling.
pub fn not_asked(job: &Job, fluid: FluidId, now: i64) -> Vec<Owed> {
    let wet = Wet::of(job, job.fluids.get(fluid));
    let open = audit(job, now).open;
    let rest = open.into_iter().filter(|owed| {
        let apart = matches!(owed.rule, Rule::PlacePart | Rule::Rejoin);
        apart && !wet.stops(owed)
    });
    rest.collect()
}

/// What stands against filling any fluid that is out; where none is, any at all.
pub(super) fn fill(job: &Job, open: &[Owed]) -> Vec<Owed> {
    let out = job.fluids.rows().filter(|it| it.filled.is_none());
    let mut wets: Vec<Wet> = out.map(|it| Wet::of(job, Some(it))).collect();
    if wets.is_empty() {
        wets.push(Wet::of(job, None));
    }
    let stops = |owed: &&Owed| wets.iter().any(|wet| wet.stops(owed));
    open.iter().filter(stops).cloned().collect()
}

/// Whether a person said that what this line is about holds none of the fluid.
pub fn holds_none(job: &Job, fluid: FluidId, on: Target) -> bool {
    job.fluids
        .get(fluid)
        .is_some_and(|it| said(job, it, on) == Some(false))
}

/// The joint that a line of the audit is about.
pub const fn joint_of(on: Target) -> Target {
    match on {
        Target::End(end) => Target::Connection(end.connection),
        on => on,
    }
}

/// What was said of it, or of what it is on.
fn said(job: &Job, fluid: &Fluid, on: Target) -> Option<bool> {
    let joint = joint_of(on);
    let own = fluid.said_of(joint);
    if own.is_some() || fluid.joints.is_empty() {
        return own;
    }
    match joint {
        Target::Fixing(id) => {
            let parts = &job.fixings.get(id)?.parts;
            let mut of = parts.iter().map(|&p| fluid.said_of(Target::Part(p)));
            let first = of.next()?;
            // What clamps several holds if one of them does.
            of.fold(first, |all, one| match (all, one) {
                (Some(a), Some(b)) => Some(a || b),
                (Some(true), None) | (None, Some(true)) => Some(true),
                _ => None,
            })
        }
        Target::Item(id) => said(job, fluid, job.items.get(id)?.on),
        Target::Treatment(id) => said(job, fluid, job.treatments.get(id)?.treatment.on),
        _ => None,
    }
}

pub(super) fn seals(kind: ItemKind) -> bool {
    matches!(
        kind,
        ItemKind::Gasket | ItemKind::CrushWasher | ItemKind::ORing | ItemKind::Seal
    )
}

/// What holds a fluid in, as far as the record shows it: parts and fixings with
/// a seal or sealant of their own, hoses and pipes, plugs with a thread.
pub(super) struct Wet<'a> {
    job: &'a Job,
    fluid: Option<&'a Fluid>,
    named: Families,
    parts: FxHashSet<PartId>,
    fixings: FxHashSet<FixingId>,
}

impl<'a> Wet<'a> {
    pub fn of(job: &'a Job, fluid: Option<&'a Fluid>) -> Self {
        let mut wet = Self {
            job,
            fluid,
            named: fluid.map_or_else(Families::default, |it| families(&it.name)),
            parts: FxHashSet::default(),
            fixings: FxHashSet::default(),
        };
        for it in job.items.rows().filter(|it| seals(it.kind)) {
            wet.add(it.on);
        }
        for it in job.treatments.rows() {
            if it.treatment.kind == TreatmentKind::Sealant {
                wet.add(it.treatment.on);
            }
        }
        for (id, it) in job.connections.iter() {
            if wet.carries(id, it) {
                wet.parts
                    .extend([it.a.end.on, it.b.end.on].into_iter().flatten());
            }
        }
        for (id, it) in job.fixings.iter() {
            let sealed = it.parts.iter().any(|part| wet.parts.contains(part));
            if sealed || it.spec.kind == FastenerKind::Plug {
                wet.fixings.insert(id);
            }
        }
        wet
    }

    fn said(&self, on: Target) -> Option<bool> {
        said(self.job, self.fluid?, on)
    }

    fn add(&mut self, on: Target) {
        match on {
            Target::Part(id) => {
                self.parts.insert(id);
            }
            Target::Fixing(id) => {
                self.fixings.insert(id);
            }
            _ => {}
        }
    }

    /// A hose or pipe has one fluid in it, and its name may tell which.
    fn carries(&self, id: ConnectionId, it: &Connection) -> bool {
        let guess = || {
            let wet = matches!(it.kind, ConnectionKind::Hose | ConnectionKind::Pipe);
            let named = families(&it.name);
            wet && !named.is_air() && !named.is_other(self.named)
        };
        self.said(Target::Connection(id)).unwrap_or_else(guess)
    }

    pub fn holds(&self, on: Target) -> bool {
        let guess = || match on {
            Target::Part(id) => self.parts.contains(&id),
            Target::Fixing(id) => self.fixings.contains(&id),
            Target::End(id) => {
                let it = self.job.connections.get(id.connection);
                it.is_some_and(|it| self.carries(id.connection, it))
            }
            _ => false,
        };
        self.said(on).unwrap_or_else(guess)
    }

    /// A fluid is not poured on a cure, into an open joint, or onto a rag.
    fn stops(&self, owed: &Owed) -> bool {
        let job = self.job;
        let may = |guess: bool| self.said(owed.on).unwrap_or(guess);
        match owed.rule {
            Rule::TakeOut => match owed.on {
                Target::Inside(id) => job.insides.get(id).is_some_and(|it| {
                    may(!matches!(
                        it.put.kind,
                        InsideKind::LockingPin | InsideKind::Support
                    ))
                }),
                _ => true,
            },
            Rule::Curing | Rule::Apply => treatment(job, owed.on)
                .is_some_and(|it| may(it.holds_fill || it.kind == TreatmentKind::Sealant)),
            Rule::Renew | Rule::OldItemIn => match owed.on {
                Target::Item(id) => {
                    let seals = job.items.get(id).is_some_and(|it| seals(it.kind));
                    may(seals)
                }
                _ => false,
            },
            Rule::Rejoin
            | Rule::Secure
            | Rule::WrongEnd
            | Rule::PlacePart
            | Rule::StartFasteners
            | Rule::Tighten
            | Rule::Doubtful
            | Rule::NotSure
            | Rule::RepairPlace
            | Rule::WrongThing
            | Rule::FinalTooEarly => self.holds(owed.on),
            _ => false,
        }
    }
}
