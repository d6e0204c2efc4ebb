//! Whole jobs of chance: a strip-down such as a person could have done it, in
//! an order in which it could have come apart. Figures are invented.
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::procedure::{PlannedRun, Procedure};
use countback_core::torque::TorqueUnit;

use crate::bench::{Bench, end, head, spec, take_off};
use crate::dice::Dice;

const SPECS: [&str; 9] = [
    "bolt | thread=M6 x 1 | length=20",
    "bolt | thread=M6 x 1 | length=35",
    "bolt | thread=M6 x 1 | length=60",
    "bolt | thread=M8 x 1.25 | length=40",
    "bolt | thread=M10 x 1.5 | length=70",
    "nut | thread=M8 x 1.25",
    "screw | text=long one",
    "clip",
    "pin",
];

/// How a job is drawn.
#[derive(Clone, Copy)]
pub struct Draw {
    pub parts: usize,
    /// Make-safe steps are confirmed before the first part, all but one of them
    /// when this is false.
    pub made_safe: bool,
    /// Now and then something that had to be off first is remembered late, and
    /// perhaps wrongly.
    pub late: bool,
    /// Other ways to some parts were noted, over whatever there is.
    pub ways: bool,
}

/// Takes a machine apart.
pub fn strip(dice: &mut Dice, draw: Draw) -> Bench {
    let mut bench = Bench::on(DeviceId(1), "Ann");
    Stripper {
        bench: &mut bench,
        dice,
    }
    .strip(draw);
    bench
}

struct Stripper<'a> {
    bench: &'a mut Bench,
    dice: &'a mut Dice,
}

/// Ids of a table from which one is drawn.
fn some<I: Id, T>(dice: &mut Dice, table: &Table<I, T>) -> Option<I> {
    if table.is_empty() {
        return None;
    }
    // Mostly what came off lately: that is what lies in the way.
    let near = table.len().min(6);
    let from = if dice.once_in(4) {
        0
    } else {
        table.len() - near
    };
    table.ids().nth(dice.from_to(from, table.len() - 1))
}

impl Stripper<'_> {
    fn strip(&mut self, draw: Draw) {
        let safe =
            [SafeKind::BatteryOff, SafeKind::Supported, SafeKind::Cooled].map(|kind| SafeStep {
                kind,
                text: format!("{kind:?}"),
            });
        self.bench.record(Act::ProcedureAttached(Procedure {
            title: "gasket".to_owned(),
            safe: safe.to_vec(),
            after_run: vec![PlannedRun {
                kind: AfterRunKind::Retighten,
                text: "tighten again".to_owned(),
                due: Due {
                    heat_cycles: 1,
                    ..Due::default()
                },
            }],
            ..Procedure::default()
        }));
        let steps: Vec<StepId> = self.bench.job().steps.ids().collect();
        let forgotten = self.dice.below(steps.len());
        for (n, step) in steps.into_iter().enumerate() {
            if draw.made_safe || n != forgotten {
                self.bench.record(Act::SafeStepConfirmed { step });
            }
        }
        for (name, kind) in [
            ("battery", SupplyKind::Battery),
            ("fuel tap", SupplyKind::Fuel),
        ] {
            self.bench.record(Act::SupplyIsolated {
                name: name.to_owned(),
                kind,
            });
        }
        for (name, bleed) in [("coolant", true), ("oil", false)] {
            self.bench.record(Act::FluidDrained {
                name: name.to_owned(),
                amount: "4 l".to_owned(),
                bleed,
            });
        }
        for (kind, name) in [
            (InsideKind::LockingPin, "timing pin"),
            (InsideKind::Support, "prop"),
            (InsideKind::Tool, "flywheel lock"),
            (InsideKind::Rag, "rag"),
        ] {
            self.put_in(kind, name, None, None);
        }
        for n in 0..draw.parts {
            self.part(n);
            if draw.late {
                self.remember();
            }
        }
        if draw.ways {
            self.other_ways();
        }
    }

    fn other_ways(&mut self) {
        let parts: Vec<PartId> = self.bench.job().parts.ids().collect();
        for &part in &parts {
            while self.dice.once_in(3) {
                let mut needs: Vec<Need> = Vec::new();
                for _ in 0..self.dice.from_to(1, 3) {
                    let connections = &self.bench.job().connections;
                    let first = match some(self.dice, connections) {
                        Some(hose) if self.dice.once_in(6) => Target::Connection(hose),
                        _ => Target::Part(parts[self.dice.below(parts.len())]),
                    };
                    needs.push(Need {
                        first,
                        why: Why::BlocksReach,
                    });
                }
                self.bench.record(Act::WayNoted {
                    what: Target::Part(part),
                    needs,
                });
            }
        }
    }

    fn needs(&mut self) -> Vec<Need> {
        let mut needs = Vec::new();
        let job = self.bench.job();
        for _ in 0..self.dice.below(3) {
            if let Some(part) = some(self.dice, &job.parts) {
                needs.push(Target::Part(part));
            }
        }
        if self.dice.once_in(5)
            && let Some(connection) = some(self.dice, &job.connections)
        {
            needs.push(if self.dice.once_in(2) {
                Target::Connection(connection)
            } else {
                Target::End(EndId {
                    connection,
                    side: Side::A,
                })
            });
        }
        if self.dice.once_in(8)
            && let Some(fixing) = some(self.dice, &job.fixings)
        {
            needs.push(Target::Fixing(fixing));
        }
        let need = |first| Need {
            first,
            why: Why::BlocksReach,
        };
        needs.into_iter().map(need).collect()
    }

    fn draft(&mut self) -> FixingDraft {
        let text = SPECS[self.dice.below(SPECS.len())];
        let mut it = FixingDraft::new(spec(text), self.dice.from_to(1, 6) as u16);
        let tightens = !seats_only(it.spec.kind);
        if tightens && self.dice.once_in(6) {
            it.slackened = self.dice.below(usize::from(it.count)) as u16;
        }
        if self.dice.once_in(12) {
            it.found_empty = u16::from(it.count - it.slackened > 1);
        }
        if tightens && self.dice.once_in(4) {
            it.extras.push(Extra {
                spec: spec("washer"),
                per_place: self.dice.from_to(1, 2) as u8,
            });
        }
        if tightens && self.dice.once_in(4) {
            it.detail.stages = (1..=self.dice.from_to(2, 3) as u32)
                .map(|n| Figure::Torque {
                    milli: n * 15_000,
                    unit: TorqueUnit::NewtonMetre,
                })
                .collect();
        }
        it.reuse = match self.dice.below(6) {
            // One that was only slackened cannot be a new one.
            0 if it.slackened == 0 => Reuse::Renew,
            1 => Reuse::Inspect,
            _ => Reuse::Reuse,
        };
        it.union = tightens && self.dice.once_in(10);
        // Not by the dice: what was found with a seed is found with it still.
        it.used = (tightens && !it.union && it.count == 3).then(|| {
            Box::new(UsedOnce {
                kind: ItemKind::CrushWasher,
                name: "crush washer".to_owned(),
                size: "14 x 18".to_owned(),
                per_place: 1,
            })
        });
        it.detail.safety = self.dice.once_in(8);
        if self.dice.once_in(7)
            && let Some(other) = some(self.dice, &self.bench.job().parts)
        {
            it.also.push(other);
        }
        it
    }

    fn connection(&mut self, n: usize) -> ConnectionDraft {
        let job = self.bench.job();
        let other = (!self.dice.once_in(2))
            .then(|| some(self.dice, &job.parts))
            .flatten();
        let route = if self.dice.once_in(3) {
            let part = some(self.dice, &job.parts);
            let kind =
                [RouteKind::Behind, RouteKind::Through, RouteKind::ClippedTo][self.dice.below(3)];
            vec![Route {
                kind,
                part,
                text: String::new(),
            }]
        } else {
            Vec::new()
        };
        let both = self.dice.once_in(2);
        let mut a = end(None, "a", true);
        a.joint = [
            Joint::PushOn,
            Joint::Clamped,
            Joint::Clicked,
            Joint::UnionBolt,
        ][self.dice.below(4)];
        let mut b = end(other, "b", both);
        b.joint = Joint::Clamped;
        ConnectionDraft {
            logged: ConnectionLogged {
                kind: ConnectionKind::Hose,
                name: format!("hose {n}"),
                a,
                b,
                route,
                after: self.needs(),
                tag: None,
            },
            a_here: self.dice.once_in(2),
            b_here: false,
        }
    }

    fn part(&mut self, n: usize) {
        let kind = ["cover", "panel", "filler cap", "pump", "bracket"][n % 5];
        let mut off = take_off(&format!("{kind} {n}"));
        off.part.after = self.needs();
        off.part.aside = self.dice.once_in(8);
        if self.dice.once_in(12) {
            off.part.carried_by = some(self.dice, &self.bench.job().parts);
        }
        off.fixings = (0..self.dice.below(4)).map(|_| self.draft()).collect();
        if self.dice.once_in(3) {
            off.connections.push(self.connection(n));
        }
        if self.dice.once_in(4) {
            off.items.push(ItemDraft {
                kind: ItemKind::Gasket,
                name: format!("gasket {n}"),
                size: String::new(),
                count: self.dice.from_to(1, 2) as u16,
            });
        }
        if self.dice.once_in(6) {
            off.treatments
                .push(self.treatment(TreatmentKind::Sealant, Target::Job).into());
        }
        if self.dice.once_in(8) {
            off.openings.push(format!("port {n}"));
        }
        let part = self.bench.take_off(off);
        let fixings = self.bench.job().parts.get(part).unwrap().fixings.clone();
        if let Some(&fixing) = self.dice.pick(&fixings)
            && self.dice.once_in(5)
        {
            let it = self.treatment(TreatmentKind::ThreadLocker, Target::Fixing(fixing));
            self.bench.record(Act::TreatmentPrescribed(it));
        }
        let opening = self
            .bench
            .job()
            .openings
            .iter()
            .find(|(_, o)| o.shut_by == Some(part))
            .map(|(id, _)| id);
        if opening.is_some() {
            self.put_in(InsideKind::Cover, &format!("blank {n}"), opening, None);
        } else if self.dice.once_in(10) {
            self.put_in(InsideKind::Rag, &format!("rag {n}"), None, Some(part));
        }
        if self.dice.once_in(8) {
            let on = Target::Part(part);
            self.bench.record(Act::FindingNoted {
                on,
                text: "worn".to_owned(),
            });
        }
        if self.dice.once_in(10) {
            let draft = self.draft();
            let parts = if self.dice.once_in(2) {
                Vec::new()
            } else {
                vec![part]
            };
            self.bench.ok(Command::AddFixing {
                parts,
                draft,
                container: ContainerPick::Bench,
            });
        }
        if self.dice.once_in(10)
            && let Some(connection) = some(self.dice, &self.bench.job().connections)
        {
            let end = EndId {
                connection,
                side: Side::B,
            };
            let _ = self.bench.tell(Command::PartEnd { end });
        }
    }

    /// Refused where it cannot be.
    fn remember(&mut self) {
        if self.dice.once_in(15)
            && let Some(earlier) = some(self.dice, &self.bench.job().parts)
        {
            let needs = self.needs();
            let _ = self.bench.tell(Command::Record(Act::CameAfter {
                what: Target::Part(earlier),
                needs,
            }));
        }
    }

    fn treatment(&mut self, kind: TreatmentKind, on: Target) -> Treatment {
        Treatment {
            kind,
            product: "paste".to_owned(),
            on,
            cure_min: [0, 60, 1_440][self.dice.below(3)],
            open_min: self.dice.once_in(2).then_some(10),
            holds_fill: self.dice.once_in(2),
            holds_start: true,
            holds_cover: self.dice.once_in(3),
        }
    }

    fn put_in(
        &mut self,
        kind: InsideKind,
        name: &str,
        opening: Option<OpeningId>,
        hidden_by: Option<PartId>,
    ) {
        let n = self.dice.from_to(1, 3) as u16;
        self.bench.record(Act::PutIn(PutIn {
            kind,
            name: name.to_owned(),
            n,
            opening,
            place: "port 2".to_owned(),
            hidden_by,
        }));
    }
}

/// A head for jobs that are built act by act.
pub fn opened() -> Act {
    Act::JobOpened(head("Whole job"))
}
