//! Commands on the way back.
use super::*;
use crate::access;
use crate::fastener::{FastenerKind, FastenerSpec};
use crate::ledger::{Line, Thing as What};
use crate::torque::Torque;
use crate::torque::hole::HoleVerdict;

impl Tap<'_> {
    /// Places a part and what was carried along with it.
    pub fn place(&mut self, part: PartId, anyway: bool) -> Result<(), Refusal> {
        self.job.check(&Act::PartPlaced {
            part,
            buried: Vec::new(),
        })?;
        let under = access::Under::at(self.job, self.clock);
        let buried = access::buried_under(self.job, &under, part);
        if !buried.is_empty() && !anyway {
            return Err(Refusal::WouldBury { part, owed: buried });
        }
        if let Some(treatment) = under.cure_under(part).filter(|_| !anyway) {
            let it = self.job.treatments.get(treatment);
            let until = it.and_then(|it| it.cured_at()).unwrap_or_default();
            return Err(Refusal::Curing { treatment, until });
        }
        self.uncovered(Target::Part(part))?;
        self.push(Act::PartPlaced { part, buried });
        self.over_fasteners(part);
        // What hangs on it with nothing of its own to fasten goes back with it,
        // unless it would bury something.
        let carried: Vec<PartId> = self
            .job
            .parts
            .iter()
            .filter(|(_, p)| p.carried_by == Some(part) && p.fixings.is_empty() && p.off())
            .map(|(id, _)| id)
            .filter(|&id| under.cure_under(id).is_none())
            .filter(|&id| {
                access::buried_by(self.job, id)
                    .iter()
                    .all(|&what| what == Target::Part(part))
            })
            .collect();
        for part in carried {
            let act = Act::PartPlaced {
                part,
                buried: Vec::new(),
            };
            if self.job.check(&act).is_ok() {
                self.push(act);
            }
        }
        Ok(())
    }

    /// A fastener that holds this part as well and is in already is hardly in
    /// through both.
    fn over_fasteners(&mut self, part: PartId) {
        let fixings = self.job.parts.get(part).map_or(&[][..], |it| &it.fixings);
        for &id in fixings {
            let Some(fixing) = self.job.fixings.get(id) else {
                continue;
            };
            let in_it = |s| s >= PlaceState::Started;
            let places = fixing.where_state(in_it);
            if !places.is_empty() && !fixing.seats_only() {
                let what = Target::Fixing(id);
                self.push(Act::Doubted { what, places });
            }
        }
    }

    /// Refused where a part that is on was put over it before it was done.
    pub fn uncovered(&self, what: Target) -> Result<(), Refusal> {
        match self.job.covered_by(what) {
            Some(by) => Err(Refusal::Covered { what, by }),
            None => Ok(()),
        }
    }

    /// It can be reached with all that lies over it on.
    pub fn reached(&mut self, what: Target, reason: String) -> Result<(), Refusal> {
        reasoned(&reason)?;
        if self.job.covered_by(what).is_none() {
            return Err(Refusal::AlreadySo(what));
        }
        self.fitting(Act::WayNoted {
            what,
            needs: Vec::new(),
        })?;
        self.push(Act::NoteAdded {
            on: what,
            text: reason,
        });
        Ok(())
    }

    /// Places of a fixing that a choice means, among those that fit.
    fn which(
        &self,
        id: FixingId,
        which: Thing,
        fits: impl Fn(PlaceState) -> bool,
    ) -> Result<Vec<u16>, Refusal> {
        let fixing = self.job.fixing(id)?;
        let mut fitting: Vec<u16> = fixing.where_state(fits);
        fitting.sort_by_key(|&place| fixing.turn(place));
        match which {
            Thing::Places(places) => Ok(places),
            Thing::All if fitting.is_empty() => Err(Refusal::AlreadySo(Target::Fixing(id))),
            Thing::All => Ok(fitting),
            Thing::Next(0) => Err(Refusal::CountZero),
            Thing::Next(n) => {
                let free = fitting.len() as u32;
                if u32::from(n) > free {
                    return Err(Refusal::NoPlaceFor {
                        fixing: id,
                        wanted: u32::from(n),
                        free,
                    });
                }
                Ok(fitting.into_iter().take(usize::from(n)).collect())
            }
        }
    }

    /// Starts fasteners by hand, from wherever they lie.
    pub fn start(
        &mut self,
        id: FixingId,
        which: Thing,
        line: Option<LineId>,
        anyway: bool,
    ) -> Result<(), Refusal> {
        let fixing = self.job.fixing(id)?;
        let places = self.which(id, which, |s| s == PlaceState::Open)?;
        for &place in &places {
            match fixing.places.get(usize::from(place)).map(|p| p.state) {
                Some(PlaceState::Broken) => return Err(Refusal::RepairFirst { fixing: id, place }),
                Some(PlaceState::Open) => {}
                Some(state) => {
                    return Err(Refusal::PlaceIs {
                        fixing: id,
                        place,
                        state,
                    });
                }
                None => return Err(Refusal::PlaceUnknown { fixing: id, place }),
            }
        }
        self.uncovered(Target::Fixing(id))?;
        // It needs something to hold.
        if !fixing.parts.is_empty() && fixing.parts.iter().all(|&p| self.off(p)) {
            let part = fixing.parts.first().copied().unwrap_or_default();
            return Err(Refusal::NothingToHold { fixing: id, part });
        }
        self.job
            .each_place(id, &places, |s| s == PlaceState::Open)?;
        let line = line.unwrap_or(fixing.wants);
        self.job.screws(line)?;
        if line != fixing.wants && !anyway {
            self.same_thing(
                id,
                fixing,
                places.first().copied().unwrap_or_default(),
                line,
            )?;
        }
        let row = self
            .job
            .lines
            .get(line)
            .ok_or(Refusal::Unknown(Kind::Line))?;
        if let What::Fastener(spec) | What::Stray(spec) = &row.thing {
            bottoms(id, fixing, spec)?;
        }
        let wanted = places.len() as u32;
        let loose = row.loose();
        if loose < wanted {
            if line != fixing.wants || line == fixing.old {
                let from = self.job.loose_first(line);
                return Err(Refusal::NotThere {
                    line,
                    from,
                    wanted,
                    there: loose,
                });
            }
            // New ones in the hand that were never booked in.
            self.push(Act::StockAdded {
                line,
                to: Account::Bench,
                n: wanted - loose,
            });
        }
        let mut left = places;
        let mut at = row.loose_at();
        if loose < wanted {
            match at.iter_mut().find(|(a, _)| *a == Account::Bench) {
                Some(bench) => bench.1 += wanted - loose,
                None => at.push((Account::Bench, wanted - loose)),
            }
        }
        for (from, n) in at {
            if left.is_empty() {
                break;
            }
            let rest = left.split_off((n as usize).min(left.len()));
            let places = std::mem::replace(&mut left, rest);
            self.push(Act::Started {
                fixing: id,
                places,
                line,
                from,
            });
        }
        Ok(())
    }

    /// Only the like of what came out may go in without a word.
    fn same_thing(
        &self,
        id: FixingId,
        fixing: &Fixing,
        place: u16,
        line: LineId,
    ) -> Result<(), Refusal> {
        let row = self
            .job
            .lines
            .get(line)
            .ok_or(Refusal::Unknown(Kind::Line))?;
        let offered = row
            .thing
            .spec()
            .ok_or(Refusal::Unknown(Kind::Line))?
            .clone();
        if line == fixing.old {
            return Err(Refusal::NeedsNew {
                what: Target::Fixing(id),
                short: 1,
            });
        }
        if offered.stands_for(&fixing.spec) {
            return Ok(());
        }
        let short = match row.of {
            Target::Fixing(other) => Some(other),
            _ => None,
        };
        Err(Refusal::WrongThing {
            fixing: id,
            place: fixing.number(place),
            wanted: Box::new(fixing.spec.clone()),
            offered: Box::new(offered),
            short,
        })
    }

    fn off(&self, part: PartId) -> bool {
        self.job.parts.get(part).is_some_and(Part::off)
    }

    /// Tightens to a stage. Final is refused while part of what the fixing
    /// clamps is off, or while another thing than its own is in the place; and
    /// of one that holds too little thread without a reason, `anyway`.
    pub fn tighten(
        &mut self,
        id: FixingId,
        which: Thing,
        to: Tight,
        value: Option<Figure>,
        anyway: &str,
    ) -> Result<(), Refusal> {
        let fixing = self.job.fixing(id)?;
        let n_stages = fixing.detail.stages.len();
        let reached = match to {
            Tight::Snug => PlaceState::Snug,
            Tight::Stage(0) => {
                return Err(Refusal::StageUnknown {
                    fixing: id,
                    stage: 0,
                });
            }
            Tight::Stage(n) if usize::from(n) > n_stages => {
                return Err(Refusal::StageUnknown {
                    fixing: id,
                    stage: n,
                });
            }
            Tight::Stage(n) if usize::from(n) < n_stages => PlaceState::Stage(n),
            Tight::Stage(_) | Tight::Final => PlaceState::Final,
        };
        // A place that somebody is not sure of is never gone over in passing:
        // it has to be named.
        let places = self.which(id, which, |s| {
            s.filled() && s < reached && s != PlaceState::Doubtful
        })?;
        if let Tight::Stage(n) = to
            && n > 1
        {
            // Stages are not skipped.
            for &place in &places {
                let state = fixing.places.get(usize::from(place)).map(|p| p.state);
                if let Some(state) = state
                    && state != PlaceState::Doubtful
                    && state < PlaceState::Stage(n - 1)
                {
                    return Err(Refusal::PlaceIs {
                        fixing: id,
                        place,
                        state,
                    });
                }
            }
        }
        let final_now = reached == PlaceState::Final;
        let mut little = None;
        for &place in &places {
            let Some(at) = fixing.places.get(usize::from(place)) else {
                return Err(Refusal::PlaceUnknown { fixing: id, place });
            };
            if !at.state.filled() || at.state >= PlaceState::Final {
                return Err(Refusal::PlaceIs {
                    fixing: id,
                    place,
                    state: at.state,
                });
            }
            if final_now
                && let Some(line) = at.holds.filter(|&l| l != fixing.wants && l != fixing.old)
            {
                self.same_thing(id, fixing, place, line)?;
            }
            let held = at.holds.and_then(|line| self.job.lines.get(line));
            if final_now
                && let Some(What::Fastener(spec) | What::Stray(spec)) = held.map(|l| &l.thing)
            {
                bottoms(id, fixing, spec)?;
                little = little.or(holds_too_little(id, fixing, spec).err());
            }
        }
        let owed = fixing.thread_since().map(|opened| OwedKey {
            rule: audit::Rule::HoldsTooLittle,
            on: Target::Fixing(id),
            opened,
        });
        let owed = owed.filter(|key| !self.job.exceptions.iter().any(|e| e.owed == *key));
        let owed = owed.zip(little);
        if let Some((_, refusal)) = &owed {
            reasoned(anyway).map_err(|_| refusal.clone())?;
            named(&self.ctx.by, Kind::Name)?;
        }
        if final_now {
            for &part in &fixing.parts {
                if self.off(part) {
                    return Err(Refusal::StackIncomplete { fixing: id, part });
                }
            }
            if let Some(until) = self.job.held_by(fixing) {
                return Err(Refusal::FinalHeld { fixing: id, until });
            }
        }
        self.uncovered(Target::Fixing(id))?;
        if fixing.detail.safety && self.job.reached(id, to) >= PlaceState::Final {
            self.named_work()?;
        }
        let set = self.on_the_scale(fixing, value);
        self.fitting(Act::Tightened {
            fixing: id,
            places,
            to,
            value,
            set,
        })?;
        if let Some((owed, _)) = owed {
            self.push(Act::Excepted {
                owed,
                reason: anyway.to_owned(),
            });
        }
        Ok(())
    }

    /// Where lives hang on it, the work stands under a name: a second person is
    /// told from the first by nothing else.
    pub fn named_work(&self) -> Result<(), Refusal> {
        named(&self.ctx.by, Kind::Name)
    }

    /// What stood on the scale for a figure, with the adapter that is on.
    fn on_the_scale(&self, fixing: &Fixing, value: Option<Figure>) -> Option<Figure> {
        let (adapter, Figure::Torque { milli, unit }) = (fixing.adapter?, value?) else {
            return None;
        };
        let shown = self.job.head.as_ref().map(|h| h.units.torque);
        let torque = Torque::from_thousandths(milli, unit);
        let torque = torque.in_unit(shown.unwrap_or(unit)).unwrap_or(torque);
        let set = adapter.reach().on_scale(torque)?;
        Some(Figure::Torque {
            milli: set.thousandths(),
            unit: set.unit(),
        })
    }

    /// Once more all round at the last torque, when all is final.
    pub fn go_round(&mut self, id: FixingId, turned: bool) -> Result<(), Refusal> {
        let fixing = self.job.fixing(id)?;
        if !fixing.can_go_round() {
            return Err(Refusal::NoLastRound { fixing: id });
        }
        self.uncovered(Target::Fixing(id))?;
        let value = fixing.last_torque();
        self.fitting(Act::WentRound {
            fixing: id,
            turned,
            value,
            set: self.on_the_scale(fixing, value),
        })?;
        Ok(())
    }

    /// A last round is asked for with the stages or the order that want it,
    /// unless the person has said.
    pub fn ask_round(&mut self, id: FixingId, stages: &[Figure], round: Option<&Round>) {
        let said = self
            .job
            .fixings
            .get(id)
            .is_none_or(|it| it.last_round.is_some());
        let torque = matches!(stages, [_, .., Figure::Torque { .. }]);
        if !said && torque && round.is_some_and(in_a_ring) {
            self.push(Act::LastRoundAsked {
                fixing: id,
                asked: true,
            });
        }
    }

    /// The old ones go back by decision: what was put aside is taken out again.
    pub fn keep_old(&mut self, id: FixingId, act: Act) -> Result<(), Refusal> {
        self.fitting(act)?;
        let fixing = self.job.fixing(id)?;
        let Some(line) = self.job.lines.get(fixing.old) else {
            return Err(Refusal::Unknown(Kind::Line));
        };
        let mut lacking = self.job.open_places(fixing).saturating_sub(line.loose());
        for from in [Account::Spare, Account::Scrapped] {
            // What broke stays scrap, whatever is decided of the others.
            let broken = if from == Account::Scrapped {
                fixing.broken
            } else {
                0
            };
            let n = line.count(from).saturating_sub(broken).min(lacking);
            if n > 0 {
                lacking -= n;
                self.push(Act::Moved {
                    line: fixing.old,
                    from,
                    to: Account::Bench,
                    n,
                    reason: "goes back by decision".to_owned(),
                });
            }
        }
        Ok(())
    }

    /// The hole as measured. Whatever is tight in it already and would have
    /// bottomed is no longer known to clamp.
    pub fn hole(&mut self, id: FixingId, hole: Hole) -> Result<(), Refusal> {
        self.fitting(Act::HoleMeasured { fixing: id, hole })?;
        let mut measured = self.job.fixing(id)?.clone();
        measured.hole = Some((hole, EventId::default()));
        let doubtful: Vec<u16> = (0_u16..)
            .zip(&measured.places)
            .filter(|(_, p)| p.state >= PlaceState::Snug)
            .filter(|(_, p)| {
                let held = p.holds.and_then(|line| self.job.lines.get(line));
                match held.map(|l| &l.thing) {
                    Some(What::Fastener(spec) | What::Stray(spec)) => {
                        bottoms(id, &measured, spec).is_err()
                    }
                    _ => false,
                }
            })
            .map(|(n, _)| n)
            .collect();
        if !doubtful.is_empty() {
            self.push(Act::Doubted {
                what: Target::Fixing(id),
                places: doubtful,
            });
        }
        Ok(())
    }

    /// Washers, spacers and the like of a fixing, from wherever they lie.
    pub fn fit_extras(&mut self, id: FixingId) -> Result<(), Refusal> {
        let fixing = self.job.fixing(id)?;
        self.uncovered(Target::Fixing(id))?;
        let mut fitted = false;
        let mut short = 0;
        for (line, _) in &fixing.extras {
            let mut lacking = self.job.extras_lacking(id, fixing, *line).unwrap_or(0);
            let at = self
                .job
                .lines
                .get(*line)
                .map(|l| l.loose_at())
                .unwrap_or_default();
            for (from, there) in at {
                let n = there.min(lacking);
                if n == 0 {
                    break;
                }
                lacking -= n;
                self.push(Act::ExtraFitted {
                    fixing: id,
                    line: *line,
                    from,
                    n,
                });
                fitted = true;
            }
            short += lacking;
        }
        if fitted {
            Ok(())
        } else if short > 0 {
            Err(Refusal::NeedsNew {
                what: Target::Fixing(id),
                short,
            })
        } else {
            Err(Refusal::AlreadySo(Target::Fixing(id)))
        }
    }

    /// One of another fixing's washers, shims and the like; without a word only
    /// where it is like one of its own.
    pub fn fit_other(&mut self, id: FixingId, line: LineId, anyway: bool) -> Result<(), Refusal> {
        let fixing = self.job.fixing(id)?;
        self.job.goes_with(line)?;
        if fixing.extras.iter().any(|(own, _)| *own == line) {
            return self.fit_extras(id);
        }
        let row = self.job.lines.get(line);
        let row = row.ok_or(Refusal::Unknown(Kind::Line))?;
        if let What::Extra(offered) = &row.thing {
            let own = || fixing.extras.iter().map(|(_, e)| &e.spec);
            if !anyway && !own().any(|spec| offered.stands_for(spec)) {
                let wanted = own().find(|spec| spec.kind == offered.kind);
                return Err(Refusal::WrongExtra {
                    fixing: id,
                    wanted: wanted.cloned().map(Box::new),
                    line,
                });
            }
            if self.room_for(id, fixing, offered.kind) == 0 {
                return Err(Refusal::NoPlaceFor {
                    fixing: id,
                    wanted: 1,
                    free: 0,
                });
            }
        }
        self.fitting(Act::ExtraFitted {
            fixing: id,
            line,
            from: self.job.loose_first(line),
            n: 1,
        })?;
        Ok(())
    }

    /// How many more of a kind of washer the places of a fixing take. One over
    /// would sit under nothing, and come out with nothing.
    fn room_for(&self, id: FixingId, fixing: &Fixing, kind: FastenerKind) -> u32 {
        let of_kind = |line: LineId| {
            let row = self.job.lines.get(line);
            let is = |row: &&Line| matches!(&row.thing, What::Extra(spec) if spec.kind == kind);
            row.filter(is).map_or(0, |r| r.count(Account::Fixing(id)))
        };
        let own = fixing.extras.iter().filter(|(_, e)| e.spec.kind == kind);
        let each: u32 = own.map(|(_, e)| u32::from(e.per_place)).sum();
        let lines = fixing.extras.iter().map(|(line, _)| line);
        let held: u32 = lines.chain(&fixing.strange).map(|&l| of_kind(l)).sum();
        (fixing.wanted() as u32 * each).saturating_sub(held)
    }

    /// Nothing that it lies under is closed up over its place. What is in or on
    /// already is for the check to refuse.
    pub fn within_reach(&self, what: Target) -> Result<(), Refusal> {
        let done = match what {
            Target::Item(id) => self.job.items.get(id).is_some_and(Item::finished),
            Target::Treatment(id) => {
                let it = self.job.treatments.get(id);
                it.is_some_and(|it| it.applied.is_some())
            }
            _ => false,
        };
        match self.job.shut_over(what).filter(|_| !done) {
            Some(under) => Err(Refusal::ShutOver { what, under }),
            None if done => Ok(()),
            None => self.uncovered(what),
        }
    }

    /// In or on for some time already, though only said now.
    pub fn say_late(&mut self, act: Act, reason: String) -> Result<(), Refusal> {
        reasoned(&reason)?;
        let on = match act {
            Act::ItemFitted { item, .. } => Target::Item(item),
            Act::TreatmentApplied { treatment } => Target::Treatment(treatment),
            _ => return Err(Refusal::Unknown(Kind::Event)),
        };
        self.fitting(act)?;
        self.push(Act::NoteAdded { on, text: reason });
        Ok(())
    }

    /// Pushes an end onto a seat; only its own without a word.
    pub fn rejoin(&mut self, end: EndId, seat: EndId, anyway: bool) -> Result<(), Refusal> {
        self.job.check(&Act::EndPushed { end, seat })?;
        if end != seat && !anyway {
            return Err(Refusal::WrongEnd { end, seat });
        }
        self.uncovered(Target::End(end))?;
        if let Some(part) = self.job.end_of(seat)?.end.on
            && self
                .job
                .parts
                .get(part)
                .is_some_and(|p| p.state == PartState::LeftOff)
        {
            return Err(Refusal::AlreadySo(Target::Part(part)));
        }
        self.push(Act::EndPushed { end, seat });
        Ok(())
    }

    /// An independent check: by another name than the one who tightened.
    pub fn check(&mut self, what: Target) -> Result<(), Refusal> {
        let by = self.ctx.by.trim().to_lowercase();
        if by.is_empty() {
            return Err(Refusal::NameMissing(Kind::Name));
        }
        // Work without a name may be anyone's, the one who looks too.
        let same = |who: Who| {
            let worker = self.job.name_of(who).trim().to_lowercase();
            worker.is_empty() || worker == by
        };
        let refused = |whose: Who| Refusal::SameName {
            name: self.job.name_of(whose).trim().to_owned(),
        };
        match what {
            Target::Fixing(id) => {
                let fixing = self.job.fixing(id)?;
                let places = self.which(id, Thing::All, |s| s == PlaceState::Final)?;
                let places_of = places
                    .iter()
                    .filter_map(|&p| fixing.places.get(usize::from(p)))
                    .map(|p| p.who);
                let round = fixing.gone_round.map(|it| it.who);
                if let Some(own) = places_of.chain(round).find(|&who| same(who)) {
                    return Err(refused(own));
                }
                self.fitting(Act::Checked { what, places })?;
            }
            Target::End(id) => {
                let who = self.job.end_of(id)?.who;
                if same(who) {
                    return Err(refused(who));
                }
                self.fitting(Act::Checked {
                    what,
                    places: Vec::new(),
                })?;
            }
            _ => return Err(Refusal::Unknown(Kind::Fixing)),
        }
        Ok(())
    }
}

/// Whether the points of a round lie on a circle or round a rectangle.
fn in_a_ring(round: &Round) -> bool {
    use crate::torque::pattern::{Layout, Point, recognise};
    let point = |&(x, y): &(u16, u16)| Point {
        x: f64::from(x),
        y: f64::from(y),
    };
    let points: Vec<Point> = round.points.iter().map(point).collect();
    points.len() >= 4
        && recognise(&points)
            .is_ok_and(|it| matches!(it.layout, Layout::Circle | Layout::RectangleRing))
}

/// Refused with its sum: a bolt that reaches the end of its hole clamps nothing.
fn bottoms(id: FixingId, fixing: &Fixing, spec: &FastenerSpec) -> Result<(), Refusal> {
    let verdict = fixing.against_hole(spec);
    let sum = fixing.hole.zip(spec.length_um);
    if let (Some(HoleVerdict::Bottoms { .. }), Some(((hole, _), length_um))) = (verdict, sum) {
        return Err(Refusal::WouldBottom {
            fixing: id,
            length_um,
            hole,
            new: fixing.hole_old().map(|(what, _)| what),
        });
    }
    Ok(())
}

/// Refused with its sum: a bolt that holds too little thread tears it out.
fn holds_too_little(id: FixingId, fixing: &Fixing, spec: &FastenerSpec) -> Result<(), Refusal> {
    let verdict = fixing.against_hole(spec);
    let sum = fixing.hole.zip(spec.length_um);
    if let (Some(verdict), Some(((hole, _), length_um))) = (verdict, sum)
        && verdict.too_little()
    {
        return Err(Refusal::HoldsTooLittle {
            fixing: id,
            length_um,
            hole,
            verdict,
        });
    }
    Ok(())
}
