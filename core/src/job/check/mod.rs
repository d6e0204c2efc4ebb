//! Whether an act fits the job as it stands: things exist, counts suffice,
//! states allow it. The same question is put before an act is made and when
//! one is folded in from another phone.
mod again;
mod facts;

use super::*;
use crate::ledger::Thing as What;
use facts::{count, has, is_joint, unless};

/// No line ever counts more than this: sums stay far from overflow.
const MOST_OF_A_LINE: u32 = 1_000_000;
/// Kinds of washers and the like that go with one fastener.
const MOST_EXTRAS: usize = 32;

type Fit = Result<(), Refusal>;

impl Job {
    /// Says why `act` cannot follow on the job as it is, if so.
    pub fn check(&self, act: &Act) -> Fit {
        if let Act::JobOpened(_) = act {
            return if self.head.is_none() {
                Ok(())
            } else {
                Err(Refusal::OpenAlready)
            };
        }
        if self.head.is_none() {
            return Err(Refusal::NotOpen);
        }
        match act {
            Act::JobOpened(_)
            | Act::JobDescribed(_)
            | Act::ProcedureAttached(_)
            | Act::SafeStepListed(_)
            | Act::ContainerNamed { .. }
            | Act::SupplyIsolated { .. }
            | Act::FluidDrained { .. }
            | Act::StrayFound { .. }
            | Act::PhotoTaken(_)
            | Act::MeterRead(_)
            | Act::Ran { .. }
            | Act::Excepted { .. }
            | Act::Struck { .. } => Ok(()),
            Act::SafeStepConfirmed { step } => {
                let step = self.steps.get(*step).ok_or(Refusal::Unknown(Kind::Step))?;
                unless(step.confirmed.is_some(), Target::Job)
            }
            Act::PartOff(off) => {
                self.needs(&off.after)?;
                off.carried_by.map_or(Ok(()), |p| self.part(p).map(drop))
            }
            Act::PartOffAgain { part, .. } => match self.part(*part)?.state {
                PartState::Placed => self.unfastened(*part),
                PartState::LeftOff | PartState::Off | PartState::Aside => {
                    Err(Refusal::PartIsOff(*part))
                }
            },
            Act::PartDescribed { part, .. } => self.part(*part).map(drop),
            Act::Routed { connection, route } => {
                has(&self.connections, *connection, Kind::Connection)?;
                route.part.map_or(Ok(()), |p| self.part(p).map(drop))
            }
            Act::AlsoHolds { fixing, part } => {
                self.part(*part)?;
                let holds = self.fixing(*fixing)?.parts.contains(part);
                unless(holds, Target::Fixing(*fixing))
            }
            Act::Named { what, .. } => match facts::has_name(*what) {
                true => self.known(*what),
                false => Err(Refusal::Unknown(Kind::Name)),
            },
            Act::Numbered { fixing, numbers } => {
                let n = self.fixing(*fixing)?.places.len();
                match numbers.is_empty() || numbers.len() == n {
                    true => Ok(()),
                    false => Err(Refusal::CountsDoNotFit {
                        touched: n as u32,
                        accounted: numbers.len() as u32,
                    }),
                }
            }
            Act::CameAfter { what, needs } | Act::WayNoted { what, needs } => {
                self.known(*what)?;
                self.needs(needs)
            }
            Act::FixingUndone(it) => self.check_undone(it),
            Act::FixingDescribed { fixing, .. } => self.fixing(*fixing).map(drop),
            Act::ExtraAdded {
                fixing,
                extra,
                under,
                to,
            } => {
                self.check_extra(*fixing, extra, *under)?;
                self.movable(*to)
            }
            Act::FastenersUndone {
                fixing, places, to, ..
            } => {
                self.movable(*to)?;
                self.each_place(*fixing, places, |s| s.filled())
            }
            Act::FastenerBroke { fixing, place, .. } => {
                self.each_place(*fixing, &[*place], |s| s.filled() || s == PlaceState::Open)?;
                let fixing_of = self.fixing(*fixing)?;
                let holds = fixing_of
                    .places
                    .get(usize::from(*place))
                    .and_then(|p| p.holds);
                match holds {
                    Some(_) => Ok(()),
                    // One of those that lie about, or were put aside as old.
                    None => {
                        let old = self.lines.get(fixing_of.old);
                        let aside = old.map_or(0, |it| it.count(Account::Scrapped));
                        match aside > fixing_of.broken {
                            true => Ok(()),
                            false => self.loose_one(fixing_of.old),
                        }
                    }
                }
            }
            Act::PlaceRepaired { fixing, place } => {
                self.each_place(*fixing, &[*place], |s| s == PlaceState::Broken)
            }
            Act::ConnectionLogged(it) => {
                for part in [it.a.on, it.b.on].into_iter().flatten() {
                    self.part(part)?;
                }
                for part in it.route.iter().filter_map(|r| r.part) {
                    self.part(part)?;
                }
                self.needs(&it.after)
            }
            Act::EndParted { end } => self.end_is(*end, |s| s != EndState::Parted),
            Act::ItemRemoved(it) => {
                self.known(it.on)?;
                count(u32::from(it.count), 9_999)
            }
            Act::ContainerMoved { container, .. } => {
                has(&self.containers, *container, Kind::Container)
            }
            Act::OpeningMade { on, shut_by, .. } => {
                for part in [*on, *shut_by].into_iter().flatten() {
                    self.part(part)?;
                }
                Ok(())
            }
            Act::PutIn(put) => {
                if let Some(part) = put.hidden_by {
                    self.part(part)?;
                }
                if let Some(opening) = put.opening {
                    has(&self.openings, opening, Kind::Opening)?;
                }
                count(u32::from(put.n), 9_999)
            }
            Act::TakenOut { inside, n } => {
                let it = self
                    .insides
                    .get(*inside)
                    .ok_or(Refusal::Unknown(Kind::Inside))?;
                if it.n_in == 0 {
                    return Err(Refusal::AlreadySo(Target::Inside(*inside)));
                }
                count(*n, it.n_in)
            }
            Act::FluidFilled { fluid, .. } => {
                let it = self.fluid(*fluid)?;
                unless(it.filled.is_some(), Target::Fluid(*fluid))
            }
            Act::FluidBled { fluid } => {
                let it = self.fluid(*fluid)?;
                unless(it.bled, Target::Fluid(*fluid))
            }
            Act::LevelSeen { fluid, .. } => {
                let it = self.fluid(*fluid)?;
                if it.filled.is_none() {
                    return Err(Refusal::NotFilled { fluid: *fluid });
                }
                unless(it.level_seen, Target::Fluid(*fluid))
            }
            Act::JointHolds { fluid, on, holds } => {
                let it = self.fluid(*fluid)?;
                self.known(*on)?;
                if !is_joint(*on) {
                    return Err(Refusal::NoJoint { on: *on });
                }
                unless(it.said_of(*on) == Some(*holds), *on)
            }
            Act::TreatmentPrescribed(it) => self.known(it.on),
            Act::TreatmentApplied { treatment } => {
                let it = self
                    .treatments
                    .get(*treatment)
                    .ok_or(Refusal::Unknown(Kind::Treatment))?;
                // What dried before the joint was closed is wiped off and put on anew.
                let stays = it.applied.is_some() && it.close_by().is_none();
                unless(stays, Target::Treatment(*treatment))
            }
            Act::SupplyRestored { supply } => {
                let it = self
                    .supplies
                    .get(*supply)
                    .ok_or(Refusal::Unknown(Kind::Supply))?;
                unless(it.restored, Target::Supply(*supply))
            }
            Act::FindingNoted { on, .. } | Act::NoteAdded { on, .. } => self.known(*on),
            Act::BuyListed { on, n, .. } => {
                count(*n, 9_999)?;
                self.known(*on)
            }
            Act::Decided { finding, .. } => has(&self.findings, *finding, Kind::Finding),
            Act::WorkDone { finding } => {
                let it = self
                    .findings
                    .get(*finding)
                    .ok_or(Refusal::Unknown(Kind::Finding))?;
                if it.decision.is_none() {
                    return Err(Refusal::NotDecided(*finding));
                }
                unless(it.done, Target::Finding(*finding))
            }
            Act::Ordered { want, n } => {
                count(*n, 9_999)?;
                self.wanted(*want)
            }
            Act::Arrived { want, n } => {
                count(*n, 9_999)?;
                self.wanted(*want)?;
                match *want {
                    Want::Item(it) => self.items.get(it).map(|it| it.line),
                    Want::Fixing(it) => self.fixings.get(it).map(|it| it.wants),
                    Want::Extra(it) => Some(it),
                    Want::Line(_) => None,
                }
                .map_or(Ok(()), |line| self.room(line, *n))
            }
            Act::PartReplaced { part, .. } => match self.part(*part)?.state {
                PartState::Placed => Err(Refusal::PartIsBack(*part)),
                PartState::LeftOff => Err(Refusal::AlreadySo(Target::Part(*part))),
                // A new one may come for one that is missing, too.
                PartState::Off | PartState::Aside => self.room(LineId(part.0), 1),
            },
            Act::FixingRenewed { fixing, .. } | Act::HoleMeasured { fixing, .. } => {
                self.fixing(*fixing).map(drop)
            }
            Act::OldKept { fixing, .. } => {
                let it = self.fixing(*fixing)?;
                unless(it.wants == it.old, Target::Fixing(*fixing))
            }
            Act::LookedAt { fixing } => {
                let it = self.fixing(*fixing)?;
                unless(!it.look_owed(), Target::Fixing(*fixing))
            }
            // A bolt does not turn into a nut by being measured.
            Act::FixingMeasured { fixing, spec } => {
                if self.fixing(*fixing)?.spec.kind == spec.kind {
                    Ok(())
                } else {
                    Err(Refusal::Unknown(Kind::Fixing))
                }
            }
            Act::Moved {
                line, from, to, n, ..
            } => {
                count(*n, 99_999)?;
                for account in [from, to] {
                    self.movable(*account)?;
                }
                self.stock(*line, *from, *n)
            }
            Act::StockAdded { line, to, n } => {
                count(*n, 99_999)?;
                self.movable(*to)?;
                has(&self.lines, *line, Kind::Line)?;
                self.room(*line, *n)
            }
            Act::StrayIdentified { stray, line } => {
                self.open_stray(*stray)?;
                self.stock(*line, Account::Missing, 1)
            }
            Act::StrayMeasured { stray, .. } | Act::StraySettled { stray, .. } => {
                self.open_stray(*stray)
            }
            Act::LeftOff { what, places, .. } => self.check_left_off(*what, places),
            Act::PartPlaced { part, .. } => match self.part(*part)?.state {
                PartState::Placed => Err(Refusal::PartIsBack(*part)),
                // The decision to leave it off is taken back.
                PartState::LeftOff => self.stock(LineId(part.0), Account::LeftOff, 1),
                PartState::Off | PartState::Aside => self.loose_one(LineId(part.0)),
            },
            Act::Started {
                fixing,
                places,
                line,
                from,
            } => {
                self.each_place(*fixing, places, |s| s == PlaceState::Open)?;
                self.screws(*line)?;
                self.stock(*line, *from, places.len() as u32)
            }
            Act::Tightened {
                fixing, places, to, ..
            } => {
                if *to == Tight::Stage(0) {
                    return Err(Refusal::StageUnknown {
                        fixing: *fixing,
                        stage: 0,
                    });
                }
                // What is tight already is never brought back by a later word.
                let reached = self.reached(*fixing, *to);
                self.each_place(*fixing, places, |s| s.filled() && s < reached)
            }
            Act::RoundSet(round) => self.check_round(round),
            Act::RingSet(ring) => self.check_ring(ring),
            Act::FinalHeld { fixing, .. }
            | Act::AdapterSet { fixing, .. }
            | Act::LastRoundAsked { fixing, .. } => self.fixing(*fixing).map(drop),
            Act::WentRound { fixing, .. } => {
                let it = self.fixing(*fixing)?;
                let early = it
                    .where_state(|s| !s.finished())
                    .first()
                    .and_then(|&place| Some((place, it.places.get(usize::from(place))?.state)));
                if let Some((place, state)) = early {
                    return Err(Refusal::PlaceIs {
                        fixing: *fixing,
                        place,
                        state,
                    });
                }
                let done = it.gone_round.is_some_and(|it| !it.turned);
                unless(done, Target::Fixing(*fixing))
            }
            Act::Doubted { what, places } => match *what {
                Target::Fixing(fixing) => self.each_place(fixing, places, PlaceState::filled),
                Target::End(end) => self.end_is(end, |s| s >= EndState::Pushed),
                other => self.known(other),
            },
            Act::ExtraFitted {
                fixing,
                line,
                from,
                n,
            } => {
                count(*n, 9_999)?;
                self.goes_with(*line)?;
                self.extra_wanted(*fixing, *line, *n)?;
                self.stock(*line, *from, *n)
            }
            Act::ItemFitted { item, n, old, .. } => {
                let it = self.items.get(*item).ok_or(Refusal::Unknown(Kind::Item))?;
                let in_already = if *old { it.old_in } else { 0 };
                let left = it.count.saturating_sub(it.renewed + in_already);
                if left == 0 {
                    return Err(Refusal::AlreadySo(Target::Item(*item)));
                }
                count(*n, u32::from(left))?;
                // The old one goes back in from where old ones lie.
                if *old {
                    return self.stock(it.line, Account::Scrapped, *n);
                }
                self.room(it.line, *n)
            }
            Act::EndPushed { end, seat } => {
                self.end_of(*seat)?;
                self.end_is(*end, |s| matches!(s, EndState::Parted | EndState::Doubtful))
            }
            Act::EndSecured { end } => {
                self.end_is(*end, |s| matches!(s, EndState::Pushed | EndState::Doubtful))
            }
            Act::Checked { what, places } => match *what {
                Target::Fixing(fixing) => {
                    self.each_place(fixing, places, |s| s == PlaceState::Final)
                }
                Target::End(end) => self.end_is(end, |s| s == EndState::Secured),
                other => self.known(other),
            },
            Act::AfterRunOwed { on, .. } => self.known(*on),
            Act::AfterRunDone { after_run, .. } => {
                let it = self
                    .after_runs
                    .get(*after_run)
                    .ok_or(Refusal::Unknown(Kind::AfterRun))?;
                unless(it.done, Target::AfterRun(*after_run))
            }
            Act::Touched { what, places, .. } => match *what {
                Target::Fixing(fixing) if !places.is_empty() => {
                    self.each_place(fixing, places, PlaceState::filled)
                }
                other => self.known(other),
            },
            Act::WentOn { what } => self.known(*what),
            Act::SecondLookSet { what, owed } => {
                let is = match *what {
                    Target::Fixing(id) => self.fixing(id)?.detail.safety,
                    Target::End(id) => self.end_of(id)?.safety,
                    on => return Err(Refusal::NoJoint { on }),
                };
                unless(is == *owed, *what)
            }
            Act::MarkSet { photo, what, .. } => {
                has(&self.photos, *photo, Kind::Photo)?;
                self.known(*what)
            }
            Act::SignedOff { .. } => unless(self.is_signed(), Target::Job),
            Act::Reopened { .. } => unless(!self.is_signed(), Target::Job),
        }
    }
}
