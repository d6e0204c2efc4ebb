//! Folding one act into the job. Cannot fail: an act that does not fit is set
//! down as a misfit (or as said twice) and changes nothing else.
//!
//! Holds after every act, whatever it is: each line of the ledger balances,
//! and nothing that was ever in the job is taken out of it.
mod back;
mod care;
mod count;
mod notes;
mod off;

use super::*;
use crate::ledger::Thing as What;

impl Job {
    /// Folds `event` in.
    pub fn apply(&mut self, event: &Event) {
        match self.check(&event.act) {
            Ok(()) => self.take(event),
            Err(why) => {
                let again = self.says_again(&event.act, &why);
                let misfit = Misfit {
                    event: event.id,
                    why,
                };
                if again {
                    self.said_twice.push(misfit);
                } else {
                    self.misfits.push(misfit);
                }
            }
        }
    }

    fn who(&mut self, by: &str) -> Who {
        if let Some(at) = self.names.iter().rposition(|n| n == by) {
            return at as Who;
        }
        self.names.push(by.to_owned());
        (self.names.len() - 1) as Who
    }

    fn opening_act(&mut self, id: EventId) {
        self.first_off.get_or_insert(id);
    }

    /// Folds an act that fits.
    fn take(&mut self, event: &Event) {
        let id = event.id;
        match &event.act {
            Act::JobOpened(head) => {
                self.head = Some(head.clone());
                self.opened = id;
            }
            Act::JobDescribed(head) => self.head = Some(head.clone()),
            Act::ProcedureAttached(procedure) => self.attach(id, procedure),
            Act::SafeStepListed(step) => self.step_listed(id, 0, step),
            Act::SafeStepConfirmed { step } => {
                if let Some(step) = self.steps.get_mut(*step) {
                    step.confirmed = Some(id);
                }
            }
            Act::PartOff(it) => self.part_off(id, it),
            Act::PartOffAgain { part, aside } => self.part_off_again(id, *part, *aside),
            Act::PartDescribed {
                part,
                name,
                lies,
                note,
            } => {
                if let Some(it) = self.parts.get_mut(*part) {
                    it.name.clone_from(name);
                    it.lies.clone_from(lies);
                    it.note.clone_from(note);
                }
            }
            Act::Routed { connection, route } => {
                // It may run by what came off after it.
                self.remembered_late |= route.part.is_some();
                if let Some(it) = self.connections.get_mut(*connection) {
                    it.route.push(route.clone());
                }
            }
            Act::AlsoHolds { fixing, part } => {
                if let Some(it) = self.fixings.get_mut(*fixing) {
                    it.parts.push(*part);
                }
                if let Some(it) = self.parts.get_mut(*part) {
                    it.fixings.push(*fixing);
                }
            }
            Act::Named { what, name } => self.called(*what, name),
            Act::Numbered { fixing, numbers } => {
                if let Some(it) = self.fixings.get_mut(*fixing) {
                    it.numbers.clone_from(numbers);
                }
            }
            Act::CameAfter { what, needs } => self.came_after(*what, needs),
            Act::WayNoted { what, needs } => self.way_noted(*what, needs),
            Act::FixingUndone(it) => self.fixing_undone(event, it),
            Act::FixingDescribed { fixing, detail } => {
                if let Some(it) = self.fixings.get_mut(*fixing) {
                    it.detail = detail.clone();
                }
            }
            Act::ExtraAdded {
                fixing,
                extra,
                under,
                to,
            } => self.extra_added(event.id, *fixing, extra, (*under, *to)),
            Act::FastenersUndone {
                fixing,
                places,
                out,
                to,
            } => self.fasteners_undone(event, *fixing, places, *out, *to),
            Act::FastenerBroke {
                fixing,
                place,
                stump_in,
            } => self.fastener_broke(event, *fixing, *place, *stump_in),
            Act::PlaceRepaired { fixing, place } => {
                self.set_place(event, *fixing, *place, PlaceState::Open, None);
            }
            Act::ConnectionLogged(it) => self.connection_logged(event, it),
            Act::EndParted { end } => self.end_parted(event, *end),
            Act::ItemRemoved(it) => self.item_removed(id, it),
            Act::ContainerNamed {
                tag,
                kind,
                name,
                lies,
            } => self.containers.add(
                ContainerId(id.thing(0)),
                Container {
                    tag: tag.clone(),
                    kind: *kind,
                    name: name.clone(),
                    lies: lies.clone(),
                    opened: id,
                },
            ),
            Act::ContainerMoved { container, lies } => {
                if let Some(it) = self.containers.get_mut(*container) {
                    it.lies.clone_from(lies);
                }
            }
            Act::OpeningMade { name, on, shut_by } => self.openings.add(
                OpeningId(id.thing(0)),
                Opening {
                    name: name.clone(),
                    on: *on,
                    shut_by: *shut_by,
                    ways: Vec::new(),
                    opened: id,
                    inside: Vec::new(),
                },
            ),
            Act::PutIn(put) => self.put_in(id, put),
            Act::TakenOut { inside, n } => self.taken_out(*inside, *n),
            Act::FluidDrained {
                name,
                amount,
                bleed,
            } => self.fluid_drained(id, name, amount, *bleed),
            Act::FluidFilled { fluid, amount } => {
                if let Some(it) = self.fluids.get_mut(*fluid) {
                    it.filled = Some(amount.clone());
                }
            }
            Act::FluidBled { fluid } => {
                if let Some(it) = self.fluids.get_mut(*fluid) {
                    it.bled = true;
                }
            }
            Act::LevelSeen { fluid, .. } => {
                if let Some(it) = self.fluids.get_mut(*fluid) {
                    it.level_seen = true;
                }
            }
            Act::JointHolds { fluid, on, holds } => self.joint_holds(*fluid, *on, *holds),
            Act::TreatmentPrescribed(it) => self.prescribed(id, it),
            Act::TreatmentApplied { treatment } => {
                if let Some(it) = self.treatments.get_mut(*treatment) {
                    it.applied = Some(event.at);
                    it.applied_by = id;
                    it.sure = true;
                }
            }
            Act::SupplyIsolated { name, kind } => self.supplies.add(
                SupplyId(id.thing(0)),
                Supply {
                    name: name.clone(),
                    kind: *kind,
                    restored: false,
                    opened: id,
                },
            ),
            Act::SupplyRestored { supply } => {
                if let Some(it) = self.supplies.get_mut(*supply) {
                    it.restored = true;
                }
            }
            Act::FindingNoted { on, text } => self.finding_noted(id, *on, text),
            Act::Decided {
                finding,
                decision,
                reason,
            } => {
                if let Some(it) = self.findings.get_mut(*finding) {
                    it.decision = Some((*decision, reason.clone()));
                    it.decided = Some(id);
                    it.done = false;
                }
            }
            Act::WorkDone { finding } => {
                if let Some(it) = self.findings.get_mut(*finding) {
                    it.done = true;
                }
            }
            Act::BuyListed { what, n, on } => self.buys.add(
                BuyId(id.thing(0)),
                Buy {
                    what: what.clone(),
                    n: *n,
                    on: *on,
                    ordered: 0,
                    arrived: 0,
                    opened: id,
                },
            ),
            Act::Ordered { want, n } => self.ordered(*want, *n),
            Act::Arrived { want, n } => self.arrived(*want, *n),
            Act::PartReplaced {
                part,
                note,
                as_ordered,
            } => self.part_replaced(id, *part, note, *as_ordered),
            Act::FixingRenewed { fixing, spec, .. } => self.fixing_renewed(id, *fixing, spec),
            Act::OldKept { fixing, reason } => self.old_kept(event, *fixing, reason),
            Act::LookedAt { fixing } => {
                if let Some(it) = self.fixings.get_mut(*fixing) {
                    it.looked_at = true;
                }
            }
            Act::FixingMeasured { fixing, spec } => self.fixing_measured(*fixing, spec),
            Act::HoleMeasured { fixing, hole } => {
                if let Some(it) = self.fixings.get_mut(*fixing) {
                    it.hole = Some((*hole, id));
                }
            }
            Act::Moved {
                line, from, to, n, ..
            } => self.shift(*line, *from, *to, *n),
            Act::StockAdded { line, to, n } => {
                self.add_new(*line, *to, *n);
                self.stack_new(id, Target::Line(*line));
            }
            Act::StrayFound { spec, place } => self.stray_found(id, spec, place),
            Act::StrayMeasured { stray, spec } => self.stray_measured(*stray, spec),
            Act::StrayIdentified { stray, line } => {
                self.shift(*line, Account::Missing, Account::Bench, 1);
                self.settle_stray(*stray, "");
            }
            Act::StraySettled { stray, reason } => self.settle_stray(*stray, reason),
            Act::LeftOff {
                what,
                places,
                reason,
            } => self.left_off(event, *what, places, reason),
            Act::PartPlaced { part, buried } => self.part_placed(event, *part, buried),
            Act::Started {
                fixing,
                places,
                line,
                from,
            } => self.started(event, *fixing, places, *line, *from),
            Act::Tightened {
                fixing,
                places,
                to,
                value,
                ..
            } => self.tightened(event, *fixing, places, *to, *value),
            Act::AdapterSet { fixing, adapter } => {
                if let Some(it) = self.fixings.get_mut(*fixing) {
                    it.adapter = *adapter;
                }
            }
            Act::SecondLookSet { what, owed } => match *what {
                Target::Fixing(id) => {
                    if let Some(it) = self.fixings.get_mut(id) {
                        it.detail.safety = *owed;
                    }
                }
                Target::End(id) => {
                    if let Some(it) = self.end_mut(id) {
                        it.safety = *owed;
                    }
                }
                _ => {}
            },
            Act::LastRoundAsked { fixing, asked } => {
                if let Some(it) = self.fixings.get_mut(*fixing) {
                    it.last_round = Some(*asked);
                }
            }
            Act::WentRound { fixing, turned, .. } => {
                let who = self.who(&event.by);
                if let Some(it) = self.fixings.get_mut(*fixing) {
                    it.gone_round = Some(GoneRound {
                        turned: *turned,
                        who,
                    });
                }
            }
            Act::RoundSet(round) => {
                if let Some(it) = self.fixings.get_mut(round.fixing) {
                    let places = 0..it.places.len() as u16;
                    it.called = places.map_while(|p| it.kept_number(p)).collect();
                    it.round = Some(round.clone());
                    // Its own maker's order is the later word.
                    it.ring = it.ring.take().filter(|_| !round.maker);
                }
            }
            Act::RingSet(ring) => {
                for &line in &ring.lines {
                    if let Some(it) = self.fixings.get_mut(line) {
                        it.ring = Some(Box::new(ring.clone()));
                    }
                }
            }
            Act::FinalHeld { fixing, until, met } => {
                if let Some(it) = self.fixings.get_mut(*fixing) {
                    it.holds.retain(|h| h.0 != *until);
                    it.holds.push((*until, *met));
                }
            }
            Act::Doubted { what, places } => self.doubted(event, *what, places),
            Act::ExtraFitted {
                fixing,
                line,
                from,
                n,
            } => self.extra_fitted(id, *fixing, *line, *from, *n),
            Act::ItemFitted { item, n, old, .. } => {
                self.item_fitted(*item, *n, *old);
                if !old {
                    self.stack_new(id, Target::Item(*item));
                }
            }
            Act::EndPushed { end, seat } => {
                let elsewhere = (seat != end).then_some(*seat);
                self.set_end(event, *end, EndState::Pushed, elsewhere);
            }
            Act::EndSecured { end } => self.set_end_there(event, *end, EndState::Secured),
            Act::Checked { what, places } => self.checked(event, *what, places),
            Act::AfterRunOwed {
                what,
                on,
                text,
                due,
            } => self.after_run_owed(id, 0, *what, *on, text, *due),
            Act::AfterRunDone { after_run, .. } => {
                if let Some(it) = self.after_runs.get_mut(*after_run) {
                    it.done = true;
                }
            }
            Act::Touched { what, places, sure } => self.touched(event, *what, places, *sure),
            Act::MeterRead(meter) => self.readings.push(Reading {
                meter: *meter,
                at: event.at,
                event: id,
            }),
            Act::Ran { heat_cycles } => self.ran(event, *heat_cycles),
            Act::PhotoTaken(taken) => self.photo_taken(event, taken),
            Act::MarkSet {
                photo,
                number,
                x,
                y,
                what,
            } => self.marks.add(
                MarkId(id.thing(0)),
                Mark {
                    photo: *photo,
                    number: *number,
                    x: *x,
                    y: *y,
                    what: *what,
                },
            ),
            Act::NoteAdded { on, text } => self.note_added(event, *on, text),
            Act::WentOn { .. } | Act::Struck { .. } => {}
            Act::Excepted { owed, reason } => self.exceptions.push(Excepted {
                owed: *owed,
                up_to: crate::audit::count::accepts(self, *owed),
                reason: reason.clone(),
                by: event.by.clone(),
                at: event.at,
                event: id,
            }),
            Act::SignedOff { verdict } => {
                self.signed = Some(SignOff {
                    by: event.by.clone(),
                    at: event.at,
                    verdict: verdict.clone(),
                    event: id,
                });
            }
            Act::Reopened { .. } => self.signed = None,
        }
    }
}
