//! From a command to acts, or a refusal. Changes nothing; refuses by the rules
//! of the trade on top of what merely has to fit.
mod back;
mod leave;
mod machine;
mod off;

use super::*;
use crate::audit;
use crate::second::mark_stays;
use crate::tag::TagCode;

/// The acts of one tap, numbered as they are made.
pub(super) struct Tap<'a> {
    job: &'a Job,
    ctx: &'a Ctx,
    /// What the phone's clock says, which acts never go back behind. Cures are
    /// held against this: a clock that ran ahead for a while cures nothing.
    clock: i64,
    first: EventId,
    events: Vec<Event>,
}

impl<'a> Tap<'a> {
    /// The id that the next act will have.
    fn next(&self) -> EventId {
        EventId::new(
            self.first.clock.saturating_add(self.events.len() as u32),
            self.first.device,
        )
    }
    fn push(&mut self, act: Act) -> EventId {
        let id = self.next();
        self.events.push(Event {
            id,
            with: self.first,
            at: self.ctx.now,
            by: self.ctx.by.clone(),
            act,
        });
        id
    }
    /// Adds an act that must fit the job as it stands before the tap.
    fn fitting(&mut self, act: Act) -> Result<EventId, Refusal> {
        self.job.check(&act)?;
        Ok(self.push(act))
    }
}

impl Book {
    /// Turns a command into the acts to be stored, or says why not.
    ///
    /// # Errors
    /// The [`Refusal`] names what stands in the way.
    pub fn decide(&self, command: Command, ctx: &Ctx) -> Result<Vec<Event>, Refusal> {
        let job = self.job();
        let clock = ctx.now;
        let ctx = Ctx {
            now: self.now(ctx.now),
            ..ctx.clone()
        };
        let first = self.next_id(ctx.device, ctx.now);
        let mut tap = Tap {
            job,
            ctx: &ctx,
            clock,
            first,
            events: Vec::new(),
        };
        let closed = job.is_signed()
            && !matches!(
                command,
                Command::Reopen { .. }
                    | Command::Run { .. }
                    | Command::CheckDone { .. }
                    | Command::Strike { .. }
                    | Command::StrikeLast
                    | Command::Record(
                        Act::NoteAdded { .. }
                            | Act::PhotoTaken(_)
                            | Act::AfterRunDone { .. }
                            | Act::MeterRead(_)
                            | Act::Ran { .. }
                    )
            );
        if closed {
            return Err(Refusal::SignedOff);
        }
        match command {
            Command::Open { head, procedure } => {
                named(&head.title, Kind::Name)?;
                tap.fitting(Act::JobOpened(head))?;
                if let Some(procedure) = procedure {
                    tap.push(Act::ProcedureAttached(procedure));
                }
            }
            Command::Record(act) => tap.record(act)?,
            Command::TakeOff(it) => tap.take_off(*it)?,
            Command::AddFixing {
                parts,
                draft,
                container,
            } => tap.add_fixing(parts, draft, container)?,
            Command::Bag { from, lines, to } => tap.bag(from, &lines, to)?,
            Command::PartEnd { end } => tap.part_end(end)?,
            Command::TakeOffAgain { part, aside } => tap.take_off_again(part, aside)?,
            Command::PlacePart { part, anyway } => tap.place(part, anyway)?,
            Command::Start {
                fixing,
                which,
                line,
                anyway,
            } => tap.start(fixing, which, line, anyway)?,
            Command::Tighten {
                fixing,
                which,
                to,
                value,
            } => tap.tighten(fixing, which, to, value, "")?,
            Command::TightenAnyway {
                fixing,
                which,
                to,
                value,
                reason,
            } => tap.tighten(fixing, which, to, value, &reason)?,
            Command::GoRound { fixing, turned } => tap.go_round(fixing, turned)?,
            Command::FitExtras { fixing } => tap.fit_extras(fixing)?,
            Command::FitOther {
                fixing,
                line,
                anyway,
            } => tap.fit_other(fixing, line, anyway)?,
            Command::FitItem { item, n, old } => {
                tap.within_reach(Target::Item(item))?;
                tap.fitting(Act::ItemFitted {
                    item,
                    n,
                    old,
                    reason: String::new(),
                })?;
            }
            Command::Reached { what, reason } => tap.reached(what, reason)?,
            Command::SayLate { act, reason } => tap.say_late(act, reason)?,
            Command::Rejoin { end, seat, anyway } => tap.rejoin(end, seat, anyway)?,
            Command::Check { what } => tap.check(what)?,
            Command::Fill {
                fluid,
                amount,
                anyway,
                checks,
            } => {
                tap.fill(fluid, amount, anyway)?;
                tap.look_after(fluid, &checks);
            }
            Command::Run {
                heat_cycles,
                anyway,
            } => tap.run(heat_cycles, &anyway)?,
            Command::CheckDone {
                after_run,
                reading,
                early,
            } => tap.check_done(after_run, reading, &early)?,
            Command::Recount {
                line,
                account,
                found,
                reason,
            } => {
                tap.recount(line, account, found, reason)?;
            }
            Command::LeaveOff { what, reason } => tap.leave_off(what, reason)?,
            Command::LeaveEmpty {
                fixing,
                places,
                reason,
            } => tap.leave_empty(fixing, places, &reason)?,
            Command::Replace {
                part,
                note,
                as_ordered,
                fasteners,
            } => {
                tap.fitting(Act::PartReplaced {
                    part,
                    note: note.clone(),
                    as_ordered,
                })?;
                for (fixing, spec) in fasteners {
                    let reason = note.clone();
                    tap.fitting(Act::FixingRenewed {
                        fixing,
                        spec,
                        reason,
                    })?;
                }
            }
            Command::Strike { event } => {
                let event = self.can_strike(event)?;
                tap.push(Act::Struck { event });
            }
            Command::StrikeLast => {
                let last = self.last_standing().ok_or(Refusal::Unknown(Kind::Event))?;
                let event = self.can_strike(last)?;
                tap.push(Act::Struck { event });
            }
            Command::Except { owed, reason } => {
                reasoned(&reason)?;
                named(&ctx.by, Kind::Name)?;
                let open = audit::audit(job, clock).open;
                let line = open
                    .iter()
                    .find(|o| o.key() == owed)
                    .ok_or(Refusal::NotOwed)?;
                if !line.rule.can_be_excepted() {
                    return Err(Refusal::StillInside { n: line.n });
                }
                tap.push(Act::Excepted { owed, reason });
            }
            Command::SignOff => {
                named(&ctx.by, Kind::Name)?;
                let audit = audit::audit(job, clock);
                let open = &audit.open;
                if !open.is_empty() {
                    return Err(Refusal::StillOwed {
                        n: open.len() as u32,
                    });
                }
                let accepted = audit.excepted.len();
                let verdict = match accepted {
                    0 => "complete".to_owned(),
                    n => format!("complete, but for {n} accepted"),
                };
                tap.fitting(Act::SignedOff { verdict })?;
            }
            Command::Reopen { reason } => {
                tap.fitting(Act::Reopened { reason })?;
            }
        }
        Ok(tap.events)
    }

    /// What the last tap that stands was about.
    pub fn last_tap(&self) -> Option<&Event> {
        self.tap_about(self.last_standing()?)
    }

    /// What the tap of an act was about: its first act that is more than a bag
    /// or a mark.
    pub fn tap_about(&self, event: EventId) -> Option<&Event> {
        let one = self.journal().get(event)?;
        let mut tap = self.journal().iter().filter(|e| e.with == one.with);
        let small = |e: &&Event| {
            matches!(
                e.act,
                Act::ContainerNamed { .. } | Act::StockAdded { .. } | Act::MarkSet { .. }
            )
        };
        tap.find(|e| !small(e)).or(Some(one))
    }

    /// The last tap that was not struck, by one of its acts.
    pub fn last_standing(&self) -> Option<EventId> {
        self.journal()
            .iter()
            .rev()
            .find(|e| !self.is_struck(e) && !matches!(e.act, Act::Struck { .. }))
            .map(|e| e.id)
    }
}

impl Tap<'_> {
    /// Acts that stand for themselves, with what the trade asks of them.
    fn record(&mut self, mut act: Act) -> Result<(), Refusal> {
        match &mut act {
            Act::PartOff(it) => named(&it.name, Kind::Part)?,
            Act::PartDescribed { name, .. } => named(name, Kind::Part)?,
            // The place of a fixing may go without words, as it may be logged.
            Act::Named {
                what: Target::Fixing(_),
                ..
            } => {}
            Act::Named { name, .. } => named(name, Kind::Name)?,
            Act::ConnectionLogged(it) => {
                let it = it.clone();
                self.job.check(&act)?;
                return self.connection(*it);
            }
            Act::StrayIdentified { stray, line } => {
                let (stray, line) = (*stray, *line);
                return self.identify(stray, line);
            }
            Act::OldKept { fixing, reason } => {
                reasoned(reason)?;
                let fixing = *fixing;
                return self.keep_old(fixing, act);
            }
            Act::HoleMeasured { fixing, hole } => {
                let (fixing, hole) = (*fixing, *hole);
                return self.hole(fixing, hole);
            }
            Act::JobDescribed(head) => named(&head.title, Kind::Name)?,
            Act::ItemRemoved(it) => named(&it.name, Kind::Item)?,
            Act::ContainerNamed { tag, .. } => *tag = self.free_tag(tag)?,
            Act::OpeningMade { name, .. } => named(name, Kind::Opening)?,
            Act::PutIn(it) => named(&it.name, Kind::Inside)?,
            Act::FluidDrained { name, .. } => named(name, Kind::Fluid)?,
            Act::SupplyIsolated { name, .. } => named(name, Kind::Supply)?,
            Act::FindingNoted { text, .. } => named(text, Kind::Finding)?,
            Act::BuyListed { what, .. } => named(what, Kind::Buy)?,
            Act::NoteAdded { text, .. } => named(text, Kind::Name)?,
            Act::StraySettled { reason, .. } => reasoned(reason)?,
            Act::Moved {
                to: Account::Spare | Account::Scrapped | Account::Missing,
                reason,
                ..
            } => {
                reasoned(reason)?;
            }
            Act::CameAfter { what, needs } => {
                self.no_circle(*what, needs)?;
                self.no_circle_with(&act)?;
            }
            Act::AlsoHolds { .. } | Act::Routed { .. } => self.no_circle_with(&act)?,
            Act::ItemFitted { item, .. } => self.within_reach(Target::Item(*item))?,
            Act::TreatmentApplied { treatment } => {
                self.within_reach(Target::Treatment(*treatment))?;
            }
            Act::TakenOut { inside, .. } => self.uncovered(Target::Inside(*inside))?,
            Act::EndSecured { end } => {
                self.uncovered(Target::End(*end))?;
                if self.job.end_of(*end)?.safety {
                    self.named_work()?;
                }
            }
            Act::SafeStepConfirmed { step } => {
                let step = *step;
                self.fitting(act)?;
                self.cut_off(step);
                return Ok(());
            }
            Act::LastRoundAsked {
                fixing,
                asked: true,
            } if !self.job.fixing(*fixing)?.can_go_round() => {
                return Err(Refusal::NoLastRound { fixing: *fixing });
            }
            Act::FluidFilled { fluid, amount } => {
                let (fluid, amount) = (*fluid, std::mem::take(amount));
                return self.fill(fluid, amount, String::new());
            }
            Act::AfterRunDone { after_run, reading } => {
                return self.check_done(*after_run, std::mem::take(reading), "");
            }
            Act::Ran { heat_cycles } => return self.run(*heat_cycles, ""),
            Act::SecondLookSet { what, owed: false } => self.may_unmark(*what)?,
            Act::FixingDescribed { fixing, detail } => {
                angle_last(Some(*fixing), &detail.stages)?;
                if !detail.safety {
                    self.may_unmark(Target::Fixing(*fixing))?;
                }
            }
            Act::MeterRead(meter) => self.not_lower(*meter)?,
            Act::LeftOff { reason, .. } => reasoned(reason)?,
            Act::JobOpened(_)
            | Act::Struck { .. }
            | Act::Excepted { .. }
            | Act::SignedOff { .. }
            | Act::Started { .. }
            | Act::Tightened { .. }
            | Act::WentRound { .. }
            | Act::PartPlaced { .. }
            | Act::EndPushed { .. }
            | Act::Checked { .. }
            | Act::FixingUndone(_)
            | Act::PartOffAgain { .. }
            | Act::EndParted { .. } => return Err(Refusal::Unknown(Kind::Event)),
            _ => {}
        }
        let decided = match &act {
            Act::Decided {
                finding,
                decision: Decision::Renew,
                ..
            } => Some(*finding),
            _ => None,
        };
        let doubted = match &act {
            Act::FixingDescribed { fixing, detail } => {
                let places = drawn_otherwise(self.job.fixing(*fixing)?, &detail.stages);
                Some((*fixing, places))
            }
            _ => None,
        };
        let round = match &act {
            Act::RoundSet(round) => {
                let stages = self.job.fixing(round.fixing)?.detail.stages.clone();
                Some((round.fixing, stages, Some(round.clone())))
            }
            Act::FixingDescribed { fixing, detail } => {
                let round = self.job.fixing(*fixing)?.round.clone();
                Some((*fixing, detail.stages.clone(), round))
            }
            _ => None,
        };
        self.fitting(act)?;
        if let Some((fixing, stages, round)) = round {
            self.ask_round(fixing, &stages, round.as_ref());
        }
        if let Some((fixing, places)) = doubted.filter(|(_, places)| !places.is_empty()) {
            let what = Target::Fixing(fixing);
            self.push(Act::Doubted { what, places });
        }
        // What is to be renewed has to be bought.
        if let Some(on) = decided.and_then(|f| self.job.findings.get(f)).map(|f| f.on)
            && let Target::Part(part) = on
            && let Some(it) = self.job.parts.get(part)
            && !self.job.buys.rows().any(|b| b.on == on && b.arrived < b.n)
        {
            self.push(Act::BuyListed {
                what: it.name.clone(),
                n: 1,
                on,
            });
        }
        Ok(())
    }

    /// A battery that was taken off to be safe is a supply cut off: it is owed
    /// back.
    fn cut_off(&mut self, step: StepId) {
        let battery = |it: &Supply| it.kind == SupplyKind::Battery && !it.restored;
        let off = self.job.supplies.rows().any(battery);
        let it = self.job.steps.get(step);
        if !off && it.is_some_and(|it| it.step.kind == SafeKind::BatteryOff) {
            self.push(Act::SupplyIsolated {
                name: "battery".to_owned(),
                kind: SupplyKind::Battery,
            });
        }
    }

    fn may_unmark(&self, on: Target) -> Result<(), Refusal> {
        match mark_stays(self.job, on) {
            true => Err(Refusal::MarkStays { on }),
            false => Ok(()),
        }
    }

    /// A tag code is right by its check digits and stands on nothing else, not
    /// even on what this same tap brings in. Gives its stored form.
    fn free_tag(&self, tag: &str) -> Result<String, Refusal> {
        let Ok(code) = tag.parse::<TagCode>() else {
            return Err(Refusal::TagWrong {
                tag: tag.to_owned(),
            });
        };
        let digits = code.digits();
        let in_this_tap = self.events.iter().any(|e| match &e.act {
            Act::ContainerNamed { tag, .. } => *tag == digits,
            Act::ConnectionLogged(it) => it.tag.as_ref() == Some(&digits),
            _ => false,
        });
        if in_this_tap
            || self.job.container_by_tag(&digits).is_some()
            || self
                .job
                .connections
                .rows()
                .any(|c| c.tag.as_ref() == Some(&digits))
        {
            return Err(Refusal::TagTaken { tag: digits });
        }
        Ok(digits)
    }

    fn recount(
        &mut self,
        line: LineId,
        account: Account,
        found: u32,
        reason: String,
    ) -> Result<(), Refusal> {
        let there = self
            .job
            .lines
            .get(line)
            .ok_or(Refusal::Unknown(Kind::Line))?
            .count(account);
        self.job.movable(account)?;
        let reason = if reason.is_empty() {
            "recount".to_owned()
        } else {
            reason
        };
        if found == there {
            // Counted, and as it should be.
            self.fitting(Act::Touched {
                what: Target::Line(line),
                places: Vec::new(),
                sure: true,
            })?;
        } else if found < there {
            self.fitting(Act::Moved {
                line,
                from: account,
                to: Account::Missing,
                n: there - found,
                reason,
            })?;
        } else {
            let more = found - there;
            let missing = self
                .job
                .lines
                .get(line)
                .map_or(0, |l| l.count(Account::Missing))
                .min(more);
            if missing > 0 && account != Account::Missing {
                self.fitting(Act::Moved {
                    line,
                    from: Account::Missing,
                    to: account,
                    n: missing,
                    reason,
                })?;
            }
            let over = more - missing;
            if over > 0 {
                // More than ever came off: it stays in sight as over.
                self.fitting(Act::StockAdded {
                    line,
                    to: account,
                    n: over,
                })?;
            }
        }
        Ok(())
    }

    /// A stray turns out to be one of a line. Where none of that line was known
    /// to be missing, one was: the bag holds one less than the book said.
    fn identify(&mut self, stray: StrayId, line: LineId) -> Result<(), Refusal> {
        self.job.open_stray(stray)?;
        self.job
            .screws(line)
            .or_else(|_| self.job.goes_with(line))?;
        if self.job.stock(line, Account::Missing, 1).is_err() {
            let from = self.job.loose_first(line);
            self.fitting(Act::Moved {
                line,
                from,
                to: Account::Missing,
                n: 1,
                reason: "found lying about".to_owned(),
            })?;
            self.push(Act::StrayIdentified { stray, line });
            return Ok(());
        }
        self.fitting(Act::StrayIdentified { stray, line })?;
        Ok(())
    }
}

fn named(name: &str, kind: Kind) -> Result<(), Refusal> {
    if name.trim().is_empty() {
        Err(Refusal::NameMissing(kind))
    } else {
        Ok(())
    }
}

fn reasoned(reason: &str) -> Result<(), Refusal> {
    if reason.trim().is_empty() {
        Err(Refusal::ReasonMissing)
    } else {
        Ok(())
    }
}

/// Places that were drawn down by other figures than these. Where none stood
/// before, what was made final is only known by its value.
fn drawn_otherwise(fixing: &Fixing, stages: &[Figure]) -> Vec<u16> {
    let before = &fixing.detail.stages;
    let last = before.last().copied().or(fixing.last_value);
    let same_last = stages.last().is_none() || stages.last().copied() == last;
    let otherwise = |state| match state {
        PlaceState::Stage(n) => {
            let n = usize::from(n);
            stages.get(..n) != before.get(..n) || stages.len() < n
        }
        PlaceState::Final | PlaceState::Checked => !same_last,
        _ => false,
    };
    match fixing.seats_only() {
        true => Vec::new(),
        false => fixing.where_state(otherwise),
    }
}

/// Once turned by an angle no torque is true any more, so none comes after it.
fn angle_last(fixing: Option<FixingId>, stages: &[Figure]) -> Result<(), Refusal> {
    let is_angle = |f: &Figure| matches!(f, Figure::Angle { degrees: 1.. });
    let is_torque = |f: &Figure| matches!(f, Figure::Torque { milli: 1.., .. });
    let first = stages.iter().position(is_angle);
    let after = first.and_then(|at| stages.get(at..)?.iter().position(is_torque));
    match first.zip(after) {
        Some((at, after)) => Err(Refusal::TorqueAfterAngle {
            fixing,
            stage: (at + after + 1) as u8,
        }),
        None => Ok(()),
    }
}
