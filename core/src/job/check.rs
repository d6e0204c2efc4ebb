//! Whether an act fits the job as it stands: things exist, counts suffice,
//! states allow it. The same question is put before an act is made and when
//! one is folded in from another phone.
use super::*;

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
            Act::CameAfter { what, needs } | Act::WayNoted { what, needs } => {
                self.known(*what)?;
                self.needs(needs)
            }
            Act::FixingUndone(it) => self.check_undone(it),
            Act::FixingDescribed { fixing, .. } => self.fixing(*fixing).map(drop),
            Act::FastenersUndone { fixing, places, .. } => {
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
                    None => self.stock(fixing_of.old, self.loose_first(fixing_of.old), 1),
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
                let it = self
                    .fluids
                    .get(*fluid)
                    .ok_or(Refusal::Unknown(Kind::Fluid))?;
                unless(it.filled.is_some(), Target::Fluid(*fluid))
            }
            Act::FluidBled { fluid } => {
                let it = self
                    .fluids
                    .get(*fluid)
                    .ok_or(Refusal::Unknown(Kind::Fluid))?;
                unless(it.bled, Target::Fluid(*fluid))
            }
            Act::TreatmentPrescribed(it) => self.known(it.on),
            Act::TreatmentApplied { treatment } => {
                let it = self
                    .treatments
                    .get(*treatment)
                    .ok_or(Refusal::Unknown(Kind::Treatment))?;
                unless(it.applied.is_some(), Target::Treatment(*treatment))
            }
            Act::SupplyRestored { supply } => {
                let it = self
                    .supplies
                    .get(*supply)
                    .ok_or(Refusal::Unknown(Kind::Supply))?;
                unless(it.restored, Target::Supply(*supply))
            }
            Act::FindingNoted { on, .. }
            | Act::BuyListed { on, .. }
            | Act::NoteAdded { on, .. } => self.known(*on),
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
            Act::Ordered { want, n } | Act::Arrived { want, n } => {
                count(*n, 9_999)?;
                match *want {
                    Want::Item(it) => has(&self.items, it, Kind::Item),
                    Want::Fixing(it) => has(&self.fixings, it, Kind::Fixing),
                    Want::Line(it) => has(&self.buys, it, Kind::Buy),
                }
            }
            Act::PartReplaced { part, .. } => match self.part(*part)?.state {
                PartState::Placed => Err(Refusal::PartIsBack(*part)),
                _ => self.stock(LineId(part.0), self.loose_first(LineId(part.0)), 1),
            },
            Act::FixingRenewed { fixing, .. } => self.fixing(*fixing).map(drop),
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
                has(&self.lines, *line, Kind::Line)
            }
            Act::StrayIdentified { stray, line } => {
                self.open_stray(*stray)?;
                self.stock(*line, Account::Missing, 1)
            }
            Act::StraySettled { stray, .. } => self.open_stray(*stray),
            Act::LeftOff { what, places, .. } => self.check_left_off(*what, places),
            Act::PartPlaced { part, .. } => match self.part(*part)?.state {
                PartState::Placed => Err(Refusal::PartIsBack(*part)),
                PartState::LeftOff => Err(Refusal::AlreadySo(Target::Part(*part))),
                PartState::Off | PartState::Aside => {
                    let line = LineId(part.0);
                    self.stock(line, self.loose_first(line), 1)
                }
            },
            Act::Started {
                fixing,
                places,
                line,
                from,
            } => {
                self.each_place(*fixing, places, |s| s == PlaceState::Open)?;
                self.stock(*line, *from, places.len() as u32)
            }
            Act::Tightened { fixing, places, .. } => {
                self.each_place(*fixing, places, |s| s.filled() && s != PlaceState::Checked)
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
                self.fixing(*fixing)?;
                count(*n, 9_999)?;
                self.stock(*line, *from, *n)
            }
            Act::ItemFitted { item, n, .. } => {
                let it = self.items.get(*item).ok_or(Refusal::Unknown(Kind::Item))?;
                let left = it.count.saturating_sub(it.renewed);
                if left == 0 {
                    return Err(Refusal::AlreadySo(Target::Item(*item)));
                }
                count(*n, u32::from(left))
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
            Act::MarkSet { photo, what, .. } => {
                has(&self.photos, *photo, Kind::Photo)?;
                self.known(*what)
            }
            Act::SignedOff { .. } => unless(self.is_signed(), Target::Job),
            Act::Reopened { .. } => unless(!self.is_signed(), Target::Job),
        }
    }

    pub(crate) fn part(&self, id: PartId) -> Result<&Part, Refusal> {
        self.parts.get(id).ok_or(Refusal::Unknown(Kind::Part))
    }
    pub(crate) fn fixing(&self, id: FixingId) -> Result<&Fixing, Refusal> {
        self.fixings.get(id).ok_or(Refusal::Unknown(Kind::Fixing))
    }
    pub(crate) fn end_of(&self, id: EndId) -> Result<&EndOf, Refusal> {
        self.end(id).ok_or(Refusal::Unknown(Kind::Connection))
    }

    /// Whether the thing is in this job.
    pub fn known(&self, what: Target) -> Fit {
        match what {
            Target::Job => Ok(()),
            Target::Part(it) => has(&self.parts, it, Kind::Part),
            Target::Fixing(it) => has(&self.fixings, it, Kind::Fixing),
            Target::Connection(it) => has(&self.connections, it, Kind::Connection),
            Target::End(it) => has(&self.connections, it.connection, Kind::Connection),
            Target::Item(it) => has(&self.items, it, Kind::Item),
            Target::Container(it) => has(&self.containers, it, Kind::Container),
            Target::Opening(it) => has(&self.openings, it, Kind::Opening),
            Target::Inside(it) => has(&self.insides, it, Kind::Inside),
            Target::Fluid(it) => has(&self.fluids, it, Kind::Fluid),
            Target::Treatment(it) => has(&self.treatments, it, Kind::Treatment),
            Target::Supply(it) => has(&self.supplies, it, Kind::Supply),
            Target::Step(it) => has(&self.steps, it, Kind::Step),
            Target::Finding(it) => has(&self.findings, it, Kind::Finding),
            Target::Buy(it) => has(&self.buys, it, Kind::Buy),
            Target::Stray(it) => has(&self.strays, it, Kind::Stray),
            Target::AfterRun(it) => has(&self.after_runs, it, Kind::AfterRun),
            Target::Line(it) => has(&self.lines, it, Kind::Line),
        }
    }

    /// The account that loose ones of a line are taken from first.
    pub(crate) fn loose_first(&self, line: LineId) -> Account {
        let at = self.lines.get(line).map(|l| l.loose_at());
        at.and_then(|at| at.first().map(|&(a, _)| a))
            .unwrap_or(Account::Bench)
    }

    fn needs(&self, needs: &[Need]) -> Fit {
        needs.iter().try_for_each(|need| self.known(need.first))
    }

    fn check_undone(&self, it: &FixingUndone) -> Fit {
        for &part in &it.parts {
            self.part(part)?;
        }
        count(u32::from(it.count), 999)?;
        let out: u32 = it.to.iter().map(|&(_, n)| u32::from(n)).sum();
        let accounted = out + u32::from(it.slackened) + u32::from(it.found_empty);
        if accounted != u32::from(it.count) {
            return Err(Refusal::CountsDoNotFit {
                touched: u32::from(it.count),
                accounted,
            });
        }
        it.to
            .iter()
            .try_for_each(|&(account, _)| self.movable(account))
    }

    /// Accounts that a hand can put things into or take them from.
    fn movable(&self, account: Account) -> Fit {
        match account {
            Account::Container(id) => has(&self.containers, id, Kind::Container),
            Account::Fixing(_) | Account::Item(_) | Account::Part(_) | Account::Inside(_) => {
                Err(Refusal::Unknown(Kind::Line))
            }
            _ => Ok(()),
        }
    }

    fn stock(&self, line: LineId, from: Account, wanted: u32) -> Fit {
        let there = self
            .lines
            .get(line)
            .ok_or(Refusal::Unknown(Kind::Line))?
            .count(from);
        if wanted > there {
            Err(Refusal::NotThere {
                line,
                from,
                wanted,
                there,
            })
        } else {
            Ok(())
        }
    }

    fn each_place(&self, id: FixingId, places: &[u16], fits: impl Fn(PlaceState) -> bool) -> Fit {
        let fixing = self.fixing(id)?;
        if places.is_empty() {
            return Err(Refusal::CountZero);
        }
        for (n, &place) in places.iter().enumerate() {
            let at = fixing.places.get(usize::from(place));
            let at = at.ok_or(Refusal::PlaceUnknown { fixing: id, place })?;
            if !fits(at.state) {
                return Err(Refusal::PlaceIs {
                    fixing: id,
                    place,
                    state: at.state,
                });
            }
            if places
                .get(..n)
                .is_some_and(|before| before.contains(&place))
            {
                return Err(Refusal::PlaceUnknown { fixing: id, place });
            }
        }
        Ok(())
    }

    fn end_is(&self, end: EndId, fits: impl Fn(EndState) -> bool) -> Fit {
        let state = self.end_of(end)?.state;
        if fits(state) {
            Ok(())
        } else {
            Err(Refusal::EndIs { end, state })
        }
    }

    /// A part comes off again only when nothing holds it any more.
    fn unfastened(&self, id: PartId) -> Fit {
        let part = self.part(id)?;
        let holds = |f: &&FixingId| {
            self.fixings.get(**f).is_some_and(|f| {
                f.places
                    .iter()
                    .any(|p| p.holds.is_some() && p.state != PlaceState::Slackened)
            })
        };
        let fixings: Vec<FixingId> = part.fixings.iter().filter(holds).copied().collect();
        if fixings.is_empty() {
            return Ok(());
        }
        Err(Refusal::StillFastened {
            part: id,
            fixings,
            ends: Vec::new(),
        })
    }

    fn open_stray(&self, id: StrayId) -> Fit {
        let it = self.strays.get(id).ok_or(Refusal::Unknown(Kind::Stray))?;
        unless(it.settled, Target::Stray(id))
    }

    fn check_left_off(&self, what: Target, places: &[u16]) -> Fit {
        match what {
            Target::Part(id) => match self.part(id)?.state {
                PartState::Placed => Err(Refusal::PartIsBack(id)),
                PartState::LeftOff => Err(Refusal::AlreadySo(what)),
                PartState::Off | PartState::Aside => {
                    let line = LineId(id.0);
                    self.stock(line, self.loose_first(line), 1)
                }
            },
            Target::Fixing(id) => self.each_place(id, places, |s| {
                matches!(s, PlaceState::Open | PlaceState::Broken)
            }),
            Target::End(id) => {
                self.end_is(id, |s| matches!(s, EndState::Parted | EndState::Doubtful))
            }
            Target::Item(id) => {
                let it = self.items.get(id).ok_or(Refusal::Unknown(Kind::Item))?;
                unless(it.left_off, what)
            }
            _ => Err(Refusal::Unknown(Kind::Part)),
        }
    }
}

fn has<I: Id, T>(table: &Table<I, T>, id: I, kind: Kind) -> Fit {
    if table.has(id) {
        Ok(())
    } else {
        Err(Refusal::Unknown(kind))
    }
}

fn count(n: u32, most: u32) -> Fit {
    match n {
        0 => Err(Refusal::CountZero),
        n if n > most => Err(Refusal::CountTooLarge { most }),
        _ => Ok(()),
    }
}

fn unless(already: bool, what: Target) -> Fit {
    if already {
        Err(Refusal::AlreadySo(what))
    } else {
        Ok(())
    }
}
