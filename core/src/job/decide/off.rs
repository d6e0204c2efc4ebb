//! Commands on the way off.
use super::*;
use crate::procedure::PlannedFixing;
use crate::second::{critical_end, critical_fixing};

impl Tap<'_> {
    /// A part with its fixings, its container, its connections and its photos.
    pub fn take_off(&mut self, it: TakeOff) -> Result<(), Refusal> {
        named(&it.part.name, Kind::Part)?;
        self.job.check(&Act::PartOff(Box::new(it.part.clone())))?;
        for draft in &it.fixings {
            self.sound(draft)?;
        }
        // The bag first, so that what goes into it finds it.
        let container = self.container(it.container)?;
        let planned = self.planned(it.part.planned.as_deref());
        let shared = self.shared(it.part.planned.as_deref());
        let name = it.part.name.clone();
        let lies = it.part.lies.clone();
        // What was in the way of the part was in the way of all that is on it.
        let after = it.part.after.clone();
        let part = PartId(self.push(Act::PartOff(Box::new(it.part))).thing(0));
        for name in it.carried {
            named(&name, Kind::Part)?;
            self.push(Act::PartOff(Box::new(PartOff {
                name,
                lies: lies.clone(),
                aside: false,
                after: after.clone(),
                carried_by: Some(part),
                hazards: Vec::new(),
                note: String::new(),
                planned: None,
            })));
        }
        for text in it.findings {
            let on = Target::Part(part);
            self.push(Act::FindingNoted { on, text });
        }
        for draft in &it.treatments {
            self.job.known(draft.treatment.on)?;
        }
        for fixing in shared {
            self.push(Act::AlsoHolds { fixing, part });
        }
        let mut fixings = Vec::new();
        // The fixing that each draft became, or the first of several.
        let mut drafted = Vec::new();
        let mut became: Vec<(usize, FixingId)> = Vec::new();
        let each = |(n, draft)| one_by_one(draft).into_iter().map(move |it| (n, it));
        for (n, draft) in it.fixings.into_iter().enumerate().flat_map(each) {
            let mut parts = vec![part];
            parts.extend(draft.also.iter().copied());
            let plan = planned.iter().find(|p| {
                p.spec.same_kind(&draft.spec) && p.count == draft.count && p.place == draft.place
            });
            let fixing = self.fixing(parts, draft, container, Some(&name));
            if let Some(plan) = plan {
                self.as_planned(fixing, plan);
            }
            fixings.push(fixing);
            became.push((n, fixing));
            if n == drafted.len() {
                drafted.push(fixing);
            }
        }
        for name in it.openings {
            named(&name, Kind::Opening)?;
            self.push(Act::OpeningMade {
                name,
                on: None,
                shut_by: Some(part),
            });
        }
        for draft in it.connections {
            let mut logged = draft.logged;
            logged.a.on = if draft.a_here {
                Some(part)
            } else {
                logged.a.on
            };
            logged.b.on = if draft.b_here {
                Some(part)
            } else {
                logged.b.on
            };
            let elsewhere = ConnectionLogged {
                a: End {
                    on: logged.a.on.filter(|&on| on != part),
                    ..logged.a.clone()
                },
                b: End {
                    on: logged.b.on.filter(|&on| on != part),
                    ..logged.b.clone()
                },
                ..logged.clone()
            };
            self.job
                .check(&Act::ConnectionLogged(Box::new(elsewhere)))?;
            self.connection(logged)?;
        }
        for item in it.items {
            named(&item.name, Kind::Item)?;
            if item.count == 0 {
                return Err(Refusal::CountZero);
            }
            if item.count > 9_999 {
                return Err(Refusal::CountTooLarge { most: 9_999 });
            }
            self.push(Act::ItemRemoved(ItemRemoved {
                kind: item.kind,
                name: item.name,
                size: item.size,
                count: item.count,
                on: Target::Part(part),
            }));
        }
        for draft in it.treatments {
            let of_draft = |wanted: usize| became.iter().filter(move |it| it.0 == wanted);
            let on: Vec<Target> = match (draft.treatment.on, draft.fixing) {
                (Target::Job, None) => vec![Target::Part(part)],
                (Target::Job, Some(n)) => of_draft(n).map(|it| Target::Fixing(it.1)).collect(),
                (on, _) => vec![on],
            };
            // Of a fixing that is not in the entry it is still to be put on.
            let on = match on.is_empty() {
                true => vec![Target::Part(part)],
                false => on,
            };
            for on in on {
                let treatment = draft.treatment.clone();
                self.push(Act::TreatmentPrescribed(Treatment { on, ..treatment }));
            }
        }
        for photo in it.photos {
            let mut on = vec![Target::Part(part)];
            on.extend(fixings.iter().map(|&f| Target::Fixing(f)));
            let taken = PhotoTaken {
                hash: photo.hash,
                thumb: photo.thumb,
                width: photo.width,
                height: photo.height,
                on,
                caption: photo.caption,
            };
            let id = PhotoId(self.push(Act::PhotoTaken(taken)).thing(0));
            for (number, (x, y, fixing)) in (1_u16..).zip(photo.marks) {
                let what = fixing
                    .and_then(|n| drafted.get(n))
                    .map_or(Target::Part(part), |&f| Target::Fixing(f));
                self.push(Act::MarkSet {
                    photo: id,
                    number,
                    x,
                    y,
                    what,
                });
            }
        }
        Ok(())
    }

    /// Fixings of parts that are off, of which the procedure says that they hold
    /// this one too.
    fn shared(&self, key: Option<&str>) -> Vec<FixingId> {
        let job = &self.job;
        let Some(key) = key else { return Vec::new() };
        let plans = job.procedure.iter().flat_map(|p| &p.parts);
        let plans = plans.flat_map(|p| p.fixings.iter().map(move |f| (&p.key, f)));
        let plans = plans.filter(|(_, f)| f.also.iter().any(|it| it == key));
        let found = plans.filter_map(|(of, plan)| {
            let mut parts = job.parts.iter();
            let (part, it) = parts
                .find(|(_, p)| p.planned.as_ref() == Some(of) && p.state != PartState::Placed)?;
            it.fixings.iter().copied().find(|&id| {
                job.fixings.get(id).is_some_and(|f| {
                    f.parts.first() == Some(&part)
                        && f.spec.same_kind(&plan.spec)
                        && f.places.len() == usize::from(plan.count)
                        && f.place == plan.place
                })
            })
        });
        found.collect()
    }

    /// What the procedure expects of the fixings of a part.
    fn planned(&self, key: Option<&str>) -> Vec<PlannedFixing> {
        let parts = self.job.procedure.iter().flat_map(|p| &p.parts);
        parts
            .filter(|p| Some(p.key.as_str()) == key)
            .flat_map(|p| p.fixings.clone())
            .collect()
    }

    /// The order of tightening and the last round that the procedure brings. A
    /// file from elsewhere may hold any order: one that does not go round is
    /// left out.
    fn as_planned(&mut self, fixing: FixingId, plan: &PlannedFixing) {
        let round = plan.round.as_ref().map(|it| Round {
            fixing,
            photo: None,
            points: it.points.clone(),
            order: it.order.clone(),
            maker: it.maker,
        });
        if let Some(round) = round.filter(|it| it.goes_round(usize::from(plan.count))) {
            self.push(Act::RoundSet(round));
        }
        if plan.last_round {
            self.push(Act::LastRoundAsked {
                fixing,
                asked: true,
            });
        }
    }

    pub fn add_fixing(
        &mut self,
        parts: Vec<PartId>,
        draft: FixingDraft,
        container: ContainerPick,
    ) -> Result<(), Refusal> {
        self.sound(&draft)?;
        for &part in parts.iter().chain(&draft.also) {
            self.job.part(part)?;
        }
        let account = self.container(container)?;
        let mut parts = parts;
        parts.extend(draft.also.iter().copied());
        for draft in one_by_one(draft) {
            self.fixing(parts.clone(), draft, account, None);
        }
        Ok(())
    }

    /// Whether the counts of a draft fit each other.
    fn sound(&self, it: &FixingDraft) -> Result<(), Refusal> {
        if it.count == 0 {
            return Err(Refusal::CountZero);
        }
        if it.count > 999 {
            return Err(Refusal::CountTooLarge { most: 999 });
        }
        let stays = u32::from(it.slackened) + u32::from(it.found_empty);
        let out = u32::from(it.count).saturating_sub(stays);
        if u32::from(it.broke) > out {
            return Err(Refusal::CountsDoNotFit {
                touched: out,
                accounted: u32::from(it.broke),
            });
        }
        let apart = it.apart.map_or(0, |(_, n)| u32::from(n));
        if stays + apart > u32::from(it.count) {
            return Err(Refusal::CountsDoNotFit {
                touched: u32::from(it.count),
                accounted: stays + apart,
            });
        }
        let numbers = it.numbers.len() as u32;
        if numbers > 0 && numbers != u32::from(it.count) {
            return Err(Refusal::CountsDoNotFit {
                touched: u32::from(it.count),
                accounted: numbers,
            });
        }
        angle_last(None, &it.detail.stages)?;
        if it.extras.len() > 32 {
            return Err(Refusal::CountTooLarge { most: 32 });
        }
        if let Some((container, _)) = it.apart {
            self.job.known(Target::Container(container))?;
        }
        for &part in &it.also {
            self.job.part(part)?;
        }
        Ok(())
    }

    /// Into another bag, or onto the bench.
    pub fn bag(
        &mut self,
        from: Account,
        lines: &[(LineId, u32)],
        to: ContainerPick,
    ) -> Result<(), Refusal> {
        if lines.is_empty() {
            return Err(Refusal::CountZero);
        }
        let to = self.container(to)?;
        match to {
            Account::Container(id) if to == from => {
                return Err(Refusal::AlreadySo(Target::Container(id)));
            }
            _ if to == from => return Err(Refusal::AlreadySo(Target::Job)),
            _ => {}
        }
        let moved = |line, to, n| Act::Moved {
            line,
            from,
            to,
            n,
            reason: String::new(),
        };
        for (at, &(line, n)) in lines.iter().enumerate() {
            let so_far = lines[..=at].iter().filter(|it| it.0 == line);
            let so_far = so_far.fold(0_u32, |sum, it| sum.saturating_add(it.1));
            // A new container is named by the same tap, and not there yet.
            self.job.check(&moved(line, Account::Bench, so_far))?;
            self.push(moved(line, to, n));
        }
        Ok(())
    }

    fn container(&mut self, pick: ContainerPick) -> Result<Account, Refusal> {
        match pick {
            ContainerPick::Bench => Ok(Account::Bench),
            ContainerPick::Have(id) => {
                self.job.known(Target::Container(id))?;
                Ok(Account::Container(id))
            }
            ContainerPick::New {
                tag,
                kind,
                name,
                lies,
            } => {
                let tag = self.free_tag(&tag)?;
                let id = self.push(Act::ContainerNamed {
                    tag,
                    kind,
                    name,
                    lies,
                });
                Ok(Account::Container(ContainerId(id.thing(0))))
            }
        }
    }

    /// A fixing undone; `new` is the name of the part that comes off with it.
    /// Where the names say that lives hang on it, a second look is asked for.
    fn fixing(
        &mut self,
        mut parts: Vec<PartId>,
        draft: FixingDraft,
        bag: Account,
        new: Option<&str>,
    ) -> FixingId {
        let mut seen = rustc_hash::FxHashSet::default();
        parts.retain(|&part| seen.insert(part));
        let out = draft.count - draft.slackened - draft.found_empty;
        let n_extras = draft.extras.len() as u16;
        let per_place: Vec<u8> = draft.extras.iter().map(|e| e.per_place).collect();
        // Old ones that are to be renewed are kept out of the bags.
        let into = if draft.reuse == Reuse::Renew {
            Account::Scrapped
        } else {
            bag
        };
        let mut to = Vec::new();
        let apart = draft.apart.filter(|_| draft.reuse != Reuse::Renew);
        let n_apart = apart.map_or(0, |(_, n)| n);
        if out > n_apart {
            to.push((into, out - n_apart));
        }
        if let Some((container, n)) = apart.filter(|&(_, n)| n > 0) {
            to.push((Account::Container(container), n));
        }
        let spec = draft.spec.clone();
        let known = parts.iter().filter_map(|&p| self.job.parts.get(p));
        let names = known.map(|p| p.name.as_str()).chain(new);
        let critical = critical_fixing(&spec, &draft.place, names).is_some();
        let marks = critical && !draft.detail.safety;
        let id = self.push(Act::FixingUndone(Box::new(FixingUndone {
            parts,
            spec: draft.spec,
            place: draft.place,
            numbers: draft.numbers,
            count: draft.count,
            slackened: draft.slackened,
            found_empty: draft.found_empty,
            extras: draft.extras,
            reuse: draft.reuse,
            detail: draft.detail,
            to,
        })));
        let fixing = FixingId(id.thing(0));
        // Those that came out are the first of the places: what broke, the last.
        for place in out.saturating_sub(draft.broke)..out {
            self.push(Act::FastenerBroke {
                fixing,
                place,
                stump_in: true,
            });
        }
        if marks {
            self.push(Act::SecondLookSet {
                what: Target::Fixing(fixing),
                owed: true,
            });
        }
        // Its washers are not renewed with it: they lie in the bag.
        if into == Account::Scrapped && bag != Account::Bench {
            for (n, per_place) in (1..=n_extras).zip(per_place) {
                let n_out = u32::from(out) * u32::from(per_place);
                if n_out > 0 {
                    self.push(Act::Moved {
                        line: LineId(id.thing(n)),
                        from: Account::Bench,
                        to: bag,
                        n: n_out,
                        reason: "kept".to_owned(),
                    });
                }
            }
        }
        if let Some(used) = draft
            .used
            .map(|it| *it)
            .filter(|it| out > 0 && it.per_place > 0)
        {
            self.push(Act::ItemRemoved(ItemRemoved {
                kind: used.kind,
                name: used.name,
                size: used.size,
                count: out.saturating_mul(used.per_place.into()),
                on: Target::Fixing(fixing),
            }));
        }
        if draft.union && out > 0 {
            self.washers(Target::Fixing(fixing), out * 2, spec.label());
        }
        fixing
    }

    /// A union bolt seals with two one-use washers, one each face
    /// (common practice, no source).
    fn washers(&mut self, on: Target, count: u16, size: String) {
        self.push(Act::ItemRemoved(ItemRemoved {
            kind: ItemKind::CrushWasher,
            name: "union washer".to_owned(),
            size,
            count,
            on,
        }));
    }

    pub fn connection(&mut self, mut it: ConnectionLogged) -> Result<(), Refusal> {
        named(&it.name, Kind::Connection)?;
        if let Some(tag) = &it.tag {
            it.tag = Some(self.free_tag(tag)?);
        }
        let ends = [(Side::A, it.a.clone()), (Side::B, it.b.clone())];
        let (name, kind) = (it.name.clone(), it.kind);
        let id = self.push(Act::ConnectionLogged(Box::new(it)));
        for (side, end) in ends {
            if critical_end(kind, &name, &end.label).is_some() {
                let connection = ConnectionId(id.thing(0));
                self.push(Act::SecondLookSet {
                    what: Target::End(EndId { connection, side }),
                    owed: true,
                });
            }
            if end.parted && end.joint == Joint::UnionBolt {
                let connection = ConnectionId(id.thing(0));
                self.washers(Target::End(EndId { connection, side }), 2, name.clone());
            }
        }
        Ok(())
    }

    pub fn part_end(&mut self, end: EndId) -> Result<(), Refusal> {
        self.fitting(Act::EndParted { end })?;
        let it = self.job.end_of(end)?;
        if it.end.joint == Joint::UnionBolt && it.items.is_empty() {
            let name = self
                .job
                .connections
                .get(end.connection)
                .map(|c| c.name.clone());
            self.washers(Target::End(end), 2, name.unwrap_or_default());
        }
        Ok(())
    }

    /// Undoes what holds a placed part and parts the ends on it, then takes it
    /// off. Fasteners go back into the bag they came from. New ones that were
    /// drawn down are used: they are kept out of the bag, and owed new again.
    /// What is swung aside keeps its hoses and cables.
    pub fn take_off_again(&mut self, part: PartId, aside: bool) -> Result<(), Refusal> {
        let it = self.job.part(part)?;
        if it.state != PartState::Placed {
            return Err(Refusal::PartIsOff(part));
        }
        for &end in it.ends.iter().filter(|_| !aside) {
            if self.job.end_of(end)?.state.joined() {
                self.part_end(end)?;
            }
        }
        for &fixing in &it.fixings {
            self.undo_again(fixing)?;
        }
        let undone = self.events.len();
        self.push(Act::PartOffAgain { part, aside });
        if undone == 0 {
            // Nothing held it: it has to fit as it stands.
            self.job.check(&Act::PartOffAgain { part, aside })?;
        }
        Ok(())
    }

    /// Takes out what is in a fixing, each where it belongs then.
    fn undo_again(&mut self, id: FixingId) -> Result<(), Refusal> {
        let Some(fixing) = self.job.fixings.get(id) else {
            return Ok(());
        };
        let bag = fixing.bag.map_or(Account::Bench, Account::Container);
        let used = |p: &Place| fixing.reuse == Reuse::Renew && p.state >= PlaceState::Snug;
        for (spent, to) in [(false, bag), (true, Account::Scrapped)] {
            let places: Vec<u16> = (0_u16..)
                .zip(&fixing.places)
                .filter(|(_, p)| p.holds.is_some() && p.state.filled() && used(p) == spent)
                .map(|(n, _)| n)
                .collect();
            if !places.is_empty() {
                self.fitting(Act::FastenersUndone {
                    fixing: id,
                    places,
                    out: true,
                    to,
                })?;
            }
        }
        Ok(())
    }

    /// Refuses an order in which a thing would have to be off before itself.
    pub fn no_circle(&self, what: Target, needs: &[Need]) -> Result<(), Refusal> {
        for need in needs {
            let mut path = vec![need.first];
            let mut seen = rustc_hash::FxHashSet::default();
            while let Some(at) = path.pop() {
                if at == what {
                    return Err(Refusal::Circle(vec![what, need.first]));
                }
                if !seen.insert(at) {
                    continue;
                }
                let after = match at {
                    Target::Part(id) => self.job.parts.get(id).map(|p| &p.after),
                    Target::Fixing(id) => self.job.fixings.get(id).map(|p| &p.after),
                    Target::Connection(id) => self.job.connections.get(id).map(|c| &c.after),
                    Target::End(id) => self.job.connections.get(id.connection).map(|c| &c.after),
                    _ => None,
                };
                path.extend(after.into_iter().flatten().map(|n| n.first));
            }
        }
        Ok(())
    }

    /// Refuses what would close a circle together with bonds that nobody wrote
    /// down, such as a hose that runs behind a part.
    pub fn no_circle_with(&self, act: &Act) -> Result<(), Refusal> {
        self.job.check(act)?;
        let mut then = self.job.clone();
        then.apply(&Event {
            id: self.next(),
            with: self.first,
            at: self.ctx.now,
            by: self.ctx.by.clone(),
            act: act.clone(),
        });
        let circle = crate::access::back(&then).circle;
        if circle.is_empty() || !crate::access::back(self.job).circle.is_empty() {
            return Ok(());
        }
        Err(Refusal::Circle(circle))
    }
}

/// Shims that nobody has measured or named are counted one by one: each was
/// chosen for its place, and two of them swapped would else leave no trace.
fn one_by_one(it: FixingDraft) -> Vec<FixingDraft> {
    if it.count < 2 || !it.spec.is_unmeasured_shim() {
        return vec![it];
    }
    let out = it.count - it.slackened - it.found_empty;
    let one = |n: u16| {
        let turn = format!("{} of {}", n + 1, it.count);
        let place = match it.numbers.is_empty() {
            true if it.place.is_empty() => turn,
            true => format!("{}, {turn}", it.place),
            false => it.place.clone(),
        };
        let apart = it.apart.filter(|&(_, most)| n < out && n + most >= out);
        FixingDraft {
            place,
            numbers: it
                .numbers
                .get(usize::from(n))
                .copied()
                .into_iter()
                .collect(),
            count: 1,
            slackened: u16::from(n >= out && n < out + it.slackened),
            found_empty: u16::from(n >= out + it.slackened),
            broke: u16::from(n < out && n + it.broke >= out),
            apart: apart.map(|(container, _)| (container, 1)),
            ..it.clone()
        }
    };
    (0..it.count).map(one).collect()
}
