//! Putting a whole job back, act by act, in any order that access allows, with
//! everything settled on the way; or with one thing forgotten.
use countback_core::access::{self, Stand, Under, Wait};
use countback_core::job::*;
use countback_core::journal::*;

use crate::bench::{Bench, HOUR};
use crate::dice::Dice;

/// The one thing that is not done, or done wrongly.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Omit {
    Nothing,
    /// The part stays off.
    Place(PartId),
    /// One fastener of the fixing stays out.
    OneFastener(FixingId),
    /// All of the fixing's fasteners stay out.
    AllFasteners(FixingId),
    /// In by hand, never tightened.
    Tighten(FixingId),
    /// All stages but the last.
    LastStage(FixingId),
    Extras(FixingId),
    /// One-use items are not renewed.
    Renew(ItemId),
    Apply(TreatmentId),
    Rejoin(EndId),
    Secure(EndId),
    TakeOut(InsideId),
    Fill(FluidId),
    Bleed(FluidId),
    Restore(SupplyId),
    AfterRun(AfterRunId),
    /// One fastener of each in a place of the other.
    SwapFasteners(FixingId, FixingId),
    /// Each on the seat of the other.
    SwapEnds(EndId, EndId),
    /// A part comes that is not the one ordered.
    OtherPart(PartId),
    /// More new fasteners came than the fixing takes.
    OneOver(FixingId),
}

/// Puts a job back.
pub struct Refit<'a> {
    pub bench: &'a mut Bench,
    pub dice: &'a mut Dice,
    pub omit: Omit,
    /// Smallest steps in any order, rather than a part at a time.
    pub fine: bool,
    /// How often the record contradicted itself.
    pub circles: usize,
}

impl Refit<'_> {
    fn back(&self) -> access::Back {
        let job = self.bench.job();
        access::back_over(job, &Under::at(job, self.bench.ctx.now))
    }

    /// Does a thing, behind a part too that it was left out for.
    fn do_it(&mut self, command: Command) -> Result<(), Refusal> {
        let covered = match self.bench.tell(command.clone()) {
            // Only where a thing was left out, or the record contradicted itself.
            Err(Refusal::Covered { what, .. })
                if self.omit != Omit::Nothing || self.circles > 0 =>
            {
                what
            }
            other => return other.map(drop),
        };
        self.reach(covered);
        self.bench.tell(command).map(drop)
    }

    fn reach(&mut self, what: Target) {
        let reason = "through the gap beside it".to_owned();
        self.bench.ok(Command::Reached { what, reason });
    }

    fn must(&mut self, command: Command) {
        if let Err(refusal) = self.do_it(command.clone()) {
            panic!("{command:?} refused: {refusal:?}");
        }
    }

    /// Everything there is to do. Panics where the record allows no next step.
    pub fn run(&mut self) {
        self.prepare();
        // Every step settles something, so there are not endlessly many.
        for _ in 0..20_000 {
            let mut acts = self.back().acts;
            acts.retain(|a| !self.left(a.what));
            if acts.is_empty() {
                self.finish();
                return;
            }
            if self.fine {
                self.one_step(&acts);
            } else {
                self.round(acts);
            }
        }
        panic!("it never ends: {:?}", self.omit);
    }

    /// Acts that are left because of what is omitted.
    fn left(&self, what: Target) -> bool {
        let job = self.bench.job();
        match what {
            Target::End(end) => self.end_left(end),
            Target::Fixing(fixing) => self.fixing_left(fixing),
            Target::Part(id) => {
                let part = job.parts.get(id).unwrap();
                self.omit == Omit::Place(id)
                    || part.state == PartState::Placed
                        && part.fixings.iter().all(|&f| {
                            access::settled(job, Target::Fixing(f)) || self.fixing_left(f)
                        })
                        && part.items.iter().all(|&i| {
                            access::settled(job, Target::Item(i)) || self.omit == Omit::Renew(i)
                        })
                        && part.treatments.iter().all(|&t| {
                            access::settled(job, Target::Treatment(t))
                                || self.omit == Omit::Apply(t)
                        })
                        && part
                            .ends
                            .iter()
                            .all(|&e| access::settled(job, Target::End(e)) || self.end_left(e))
            }
            _ => false,
        }
    }

    /// As far as it gets with the omission.
    fn fixing_left(&self, id: FixingId) -> bool {
        let fixing = self.bench.job().fixings.get(id).unwrap();
        let open = fixing.count_where(|p| p.state == PlaceState::Open);
        match self.omit {
            Omit::OneFastener(f) if f == id => {
                open == 1 && fixing.count_where(|p| !p.state.finished()) == 1
            }
            Omit::AllFasteners(f) => f == id,
            Omit::Tighten(f) if f == id => open == 0,
            Omit::LastStage(f) if f == id => {
                let last = fixing.detail.stages.len() as u8 - 1;
                fixing
                    .places
                    .iter()
                    .all(|p| p.state.finished() || p.state == PlaceState::Stage(last))
            }
            Omit::SwapFasteners(a, b) if a == id || b == id => {
                fixing
                    .places
                    .iter()
                    .skip(1)
                    .all(|p| p.state.finished() || p.state == PlaceState::Started)
                    && open == 0
            }
            Omit::Extras(f) => f == id && fixing.finished(),
            Omit::Renew(item) => fixing.items.contains(&item) && fixing.finished(),
            Omit::Apply(it) => fixing.treatments.contains(&it) && fixing.finished(),
            // What it also holds is not there.
            Omit::Place(part) => fixing.parts.contains(&part),
            _ => false,
        }
    }

    fn end_left(&self, end: EndId) -> bool {
        let it = self.bench.job().end(end).unwrap();
        match self.omit {
            Omit::Rejoin(e) => e == end,
            Omit::SwapEnds(a, b) => (a == end || b == end) && it.state.finished(),
            Omit::Secure(e) => e == end && it.state == EndState::Pushed,
            Omit::Renew(item) => it.items.contains(&item) && it.state.finished(),
            _ => false,
        }
    }

    /// What is settled away from the machine.
    fn prepare(&mut self) {
        if let Omit::OtherPart(part) = self.omit {
            self.bench.ok(Command::Replace {
                part,
                note: "another make".to_owned(),
                as_ordered: false,
                fasteners: Vec::new(),
            });
        }
        if let Omit::OneOver(fixing) = self.omit {
            self.bench.record(Act::Arrived {
                want: Want::Fixing(fixing),
                n: 1 + self
                    .bench
                    .job()
                    .short_of(self.bench.job().fixings.get(fixing).unwrap()),
            });
        }
        let findings: Vec<FindingId> = self.bench.job().findings.ids().collect();
        for finding in findings {
            let decision = [Decision::Refit, Decision::Clean, Decision::Renew][self.dice.below(3)];
            self.bench.record(Act::Decided {
                finding,
                decision,
                reason: "looked at".to_owned(),
            });
            if decision != Decision::Refit {
                self.bench.record(Act::WorkDone { finding });
            }
        }
        let looks: Vec<FixingId> = self.bench.job().fixings.ids().collect();
        for fixing in looks {
            if self.bench.job().fixings.get(fixing).unwrap().look_owed() {
                self.bench.record(Act::LookedAt { fixing });
            }
        }
        // Some of what is wanted is bought; the rest is in the hand.
        for want in self.bench.job().to_buy() {
            let must = matches!(want.want, Want::Line(_) | Want::Extra(_));
            if must || self.dice.once_in(2) {
                self.bench.record(Act::Ordered {
                    want: want.want,
                    n: want.n,
                });
                self.bench.record(Act::Arrived {
                    want: want.want,
                    n: want.n,
                });
            }
        }
        let parts: Vec<PartId> = self.bench.job().parts.ids().collect();
        for part in parts {
            if self.omit == Omit::Nothing && self.dice.once_in(25) {
                self.bench.ok(Command::LeaveOff {
                    what: Target::Part(part),
                    reason: "not needed any more".to_owned(),
                });
            }
        }
        if !self.fine {
            self.take_out_all();
        }
    }

    fn take_out_all(&mut self) {
        let inside: Vec<(InsideId, u32)> = self
            .bench
            .job()
            .insides
            .iter()
            .filter(|(_, i)| i.n_in > 0)
            .map(|(id, i)| (id, i.n_in))
            .collect();
        for (inside, n) in inside {
            // Of several, one is left.
            let n = if self.omit == Omit::TakeOut(inside) {
                n - 1
            } else {
                n
            };
            if n > 0 {
                self.must(Command::Record(Act::TakenOut { inside, n }));
            }
        }
    }

    /// What comes last: fluids, supplies, and what falls due after running.
    fn finish(&mut self) {
        self.take_out_all();
        let fixings: Vec<FixingId> = self.bench.job().fixings.ids().collect();
        for fixing in fixings {
            if !access::settled(self.bench.job(), Target::Fixing(fixing)) {
                self.fasten(fixing);
            }
        }
        // Until all has cured.
        self.bench.ctx.now += 48 * HOUR;
        let fluids: Vec<(FluidId, bool)> = self
            .bench
            .job()
            .fluids
            .iter()
            .map(|(id, f)| (id, f.bleed))
            .collect();
        for (fluid, bleed) in fluids {
            if self.omit != Omit::Fill(fluid) {
                // Something may have been left undone on purpose.
                self.bench.ok(Command::Fill {
                    fluid,
                    amount: String::new(),
                    anyway: "as the case has it".to_owned(),
                    checks: Vec::new(),
                });
            }
            if bleed && self.omit != Omit::Bleed(fluid) {
                self.bench.record(Act::FluidBled { fluid });
            }
        }
        let supplies: Vec<SupplyId> = self.bench.job().supplies.ids().collect();
        for supply in supplies {
            if self.omit != Omit::Restore(supply) {
                self.bench.record(Act::SupplyRestored { supply });
            }
        }
        let runs: Vec<AfterRunId> = self.bench.job().after_runs.ids().collect();
        for after_run in runs {
            if self.omit != Omit::AfterRun(after_run) {
                self.bench.ok(Command::CheckDone {
                    after_run,
                    reading: String::new(),
                    early: "looked at on the bench".to_owned(),
                });
            }
        }
    }

    /// Everything that can be done now, a part at a time.
    fn round(&mut self, acts: Vec<access::Act>) {
        let mut now: Vec<Target> = acts
            .iter()
            .filter(|a| a.stand == Stand::Now)
            .map(|a| a.what)
            .collect();
        self.dice.shuffle(&mut now);
        let before = self.bench.book.journal().len();
        for what in now {
            self.act(what);
        }
        // What is left to do now may be just what is omitted.
        if self.bench.book.journal().len() == before {
            self.unblock(&acts);
        }
    }

    /// One act that can be done now, no further than its next step.
    fn one_step(&mut self, acts: &[access::Act]) {
        let now: Vec<Target> = acts
            .iter()
            .filter(|a| a.stand == Stand::Now)
            .map(|a| a.what)
            .collect();
        match self.dice.pick(&now) {
            Some(&what) => self.act(what),
            None => self.unblock(acts),
        }
    }

    /// Settles what the acts wait for. What only the omission blocks is done in
    /// spite of it, as a person would who does not know of it; and so is what
    /// the record says must each come first.
    fn unblock(&mut self, acts: &[access::Act]) {
        let mut cures = false;
        for act in acts {
            match &act.stand {
                Stand::Waiting(waits) => {
                    for wait in waits {
                        let want = match *wait {
                            Wait::Delivery(want) => want,
                            // What comes sooner goes first: sealant that is
                            // on somewhere else must not wait for it.
                            Wait::Cure(_) => {
                                cures = true;
                                continue;
                            }
                            // Put there in spite of it, it is reached in spite
                            // of it.
                            Wait::Behind(_) => {
                                let before = self.bench.book.journal().len();
                                self.act(act.what);
                                if self.bench.book.journal().len() > before {
                                    return;
                                }
                                continue;
                            }
                            Wait::Over(what) => {
                                self.reach(what);
                                return;
                            }
                            Wait::Seat(_) => {
                                self.bench.ok(Command::LeaveOff {
                                    what: act.what,
                                    reason: "hangs on nothing any more".to_owned(),
                                });
                                return;
                            }
                            _ => panic!("decided before: {wait:?}"),
                        };
                        let omitted = match (want, self.omit) {
                            (Want::Item(item), Omit::Renew(it)) => item == it,
                            // Nobody buys what is only in the wrong place.
                            (Want::Fixing(f), Omit::SwapFasteners(a, b)) => f == a || f == b,
                            _ => false,
                        };
                        if !omitted {
                            self.bench.record(Act::Arrived { want, n: 1 });
                            return;
                        }
                    }
                }
                Stand::Blocked(by)
                    if by
                        .iter()
                        .any(|t| matches!(t, Target::Inside(_) | Target::Opening(_)))
                        && self.omit == Omit::Nothing =>
                {
                    self.take_out_all();
                    return;
                }
                _ => {}
            }
        }
        if cures {
            self.bench.ctx.now += 48 * HOUR;
            return;
        }
        let circle = access::back(self.bench.job()).circle;
        assert!(
            self.omit != Omit::Nothing || !circle.is_empty(),
            "nothing can be done: {acts:#?}"
        );
        self.circles += usize::from(!circle.is_empty());
        let n = self.dice.below(acts.len());
        self.force(acts[n].what);
    }

    fn force(&mut self, what: Target) {
        match what {
            Target::Part(id) if self.bench.job().parts.get(id).unwrap().off() => {
                self.get_ready(id);
                self.must(Command::PlacePart {
                    part: id,
                    anyway: true,
                });
            }
            other => self.act(other),
        }
    }

    fn act(&mut self, what: Target) {
        match what {
            Target::Part(id) => {
                let off = self.bench.job().parts.get(id).unwrap().off();
                if off {
                    self.place(id);
                    if self.fine {
                        return;
                    }
                } else {
                    self.own(id);
                }
                let mut fixings = self.bench.job().parts.get(id).unwrap().fixings.clone();
                self.dice.shuffle(&mut fixings);
                for fixing in fixings {
                    if access::settled(self.bench.job(), Target::Fixing(fixing)) {
                        continue;
                    }
                    if self.fasten(fixing) && self.fine {
                        return;
                    }
                }
            }
            Target::End(end) => self.join(end),
            Target::Fixing(fixing) => {
                self.fasten(fixing);
            }
            other => panic!("{other:?}"),
        }
    }

    /// New items and what is put on, on the part itself.
    fn own(&mut self, id: PartId) {
        let part = self.bench.job().parts.get(id).unwrap().clone();
        self.renew(&part.items);
        self.apply(&part.treatments);
    }

    fn get_ready(&mut self, id: PartId) {
        if self.omit != Omit::Place(id) {
            self.own(id);
        }
    }

    fn place(&mut self, part: PartId) {
        // What was omitted on it is not known to be missing.
        let knows = self.omit == Omit::Nothing;
        let own = |t: &Target| matches!(t, Target::Item(_) | Target::Treatment(_));
        let job = self.bench.job();
        let sealed = !job.parts.get(part).unwrap().treatments.is_empty();
        let curing = || {
            let under = Under::at(job, self.bench.ctx.now);
            under.cure_under(part).is_some()
        };
        let buried = || !access::buried_by(job, part).iter().all(own);
        if knows && sealed && !self.fine && (buried() || curing()) {
            // In a round, something else has gone on meanwhile: no sealant is
            // put on for a joint that cannot be closed.
            return;
        }
        self.get_ready(part);
        match self.do_it(Command::PlacePart {
            part,
            anyway: !knows,
        }) {
            Ok(()) => {}
            // Something else has gone on in the same round.
            Err(Refusal::PartIsBack(_) | Refusal::WouldBury { .. } | Refusal::Curing { .. })
                if !self.fine => {}
            Err(refusal) => panic!("allowed, yet refused: {refusal:?}"),
        }
    }

    fn renew(&mut self, items: &[ItemId]) {
        for &item in items {
            let it = self.bench.job().items.get(item).unwrap();
            let n = u32::from(it.count - it.renewed);
            if n > 0 && !it.left_off && self.omit != Omit::Renew(item) {
                self.must(Command::FitItem {
                    item,
                    n,
                    old: false,
                });
            }
        }
    }

    fn apply(&mut self, treatments: &[TreatmentId]) {
        for &treatment in treatments {
            let it = self.bench.job().treatments.get(treatment).unwrap();
            if it.applied.is_none() && self.omit != Omit::Apply(treatment) {
                self.must(Command::Record(Act::TreatmentApplied { treatment }));
            }
        }
    }

    /// Brings a fixing on as far as it can be; says whether anything was done.
    fn fasten(&mut self, id: FixingId) -> bool {
        let job = self.bench.job();
        let it = job.fixings.get(id).unwrap().clone();
        let off = |p: &PartId| job.parts.get(*p).is_some_and(Part::off);
        let some_off = it.parts.iter().any(off);
        if some_off || self.omit == Omit::AllFasteners(id) || it.wanted() == 0 {
            return false;
        }
        let before = self.bench.book.journal().len();
        self.renew(&it.items);
        if self.omit != Omit::Extras(id) {
            let _ = self.bench.tell(Command::FitExtras { fixing: id });
        }
        self.apply(&it.treatments);
        self.start(id, &it);
        if self.omit != Omit::Tighten(id) && !it.seats_only() {
            self.tighten(id, &it);
        }
        if it.detail.safety {
            let by = std::mem::replace(&mut self.bench.ctx.by, "Bob".to_owned());
            let _ = self.bench.tell(Command::Check {
                what: Target::Fixing(id),
            });
            self.bench.ctx.by = by;
        }
        self.bench.book.journal().len() > before
    }

    fn start(&mut self, id: FixingId, it: &Fixing) {
        let mut open = it.where_state(|s| s == PlaceState::Open);
        if let Omit::SwapFasteners(a, b) = self.omit
            && (a == id || b == id)
            && open.first() == Some(&0)
        {
            let other = if a == id { b } else { a };
            let line = self.bench.job().fixings.get(other).unwrap().wants;
            self.must(Command::Start {
                fixing: id,
                which: Thing::Places(vec![0]),
                line: Some(line),
                anyway: true,
            });
            open.remove(0);
        }
        if self.omit == Omit::OneFastener(id) {
            open.pop();
        }
        if !open.is_empty() {
            self.must(Command::Start {
                fixing: id,
                which: Thing::Places(open),
                line: None,
                anyway: false,
            });
        }
    }

    fn tighten(&mut self, id: FixingId, it: &Fixing) {
        let stages = it.detail.stages.len() as u8;
        let swapped = match self.omit {
            Omit::SwapFasteners(a, b) => a == id || b == id,
            _ => false,
        };
        let which = || {
            if swapped {
                Thing::Places((1..it.places.len() as u16).collect())
            } else {
                Thing::All
            }
        };
        for stage in 1..=stages {
            if stage == stages && self.omit == Omit::LastStage(id) {
                return;
            }
            let _ = self.do_it(Command::Tighten {
                fixing: id,
                which: which(),
                to: Tight::Stage(stage),
                value: None,
            });
        }
        if stages == 0 {
            let _ = self.do_it(Command::Tighten {
                fixing: id,
                which: which(),
                to: Tight::Final,
                value: None,
            });
        }
    }

    fn join(&mut self, end: EndId) {
        let it = self.bench.job().end(end).unwrap().clone();
        self.renew(&it.items);
        if it.state == EndState::Parted {
            let seat = match self.omit {
                Omit::SwapEnds(a, b) if a == end => b,
                Omit::SwapEnds(a, b) if b == end => a,
                _ => end,
            };
            self.must(Command::Rejoin {
                end,
                seat,
                anyway: seat != end,
            });
            if self.fine {
                return;
            }
        }
        let it = self.bench.job().end(end).unwrap();
        if it.state == EndState::Pushed && self.omit != Omit::Secure(end) {
            self.must(Command::Record(Act::EndSecured { end }));
        }
    }
}
