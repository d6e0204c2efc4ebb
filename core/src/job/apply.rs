//! Folding one act into the job. Cannot fail: an act that does not fit is set
//! down as a misfit (or as said twice) and changes nothing else.
use super::*;
use crate::ledger::Thing as What;

/// Sub-number of the line of new fasteners that a fixing opens with itself.
const FRESH: u16 = 900;

impl Job {
    /// Folds `event` in.
    pub fn apply(&mut self, event: &Event) {
        match self.check(&event.act) {
            Ok(()) => self.take(event),
            Err(why) => {
                let misfit = Misfit {
                    event: event.id,
                    why,
                };
                if misfit.why.says_again() {
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

    fn take(&mut self, event: &Event) {
        let id = event.id;
        match &event.act {
            Act::JobOpened(head) => {
                self.head = Some(head.clone());
                self.opened = id;
            }
            Act::JobDescribed(head) => self.head = Some(head.clone()),
            Act::ProcedureAttached(procedure) => self.attach(id, procedure),
            Act::SafeStepListed(step) => {
                let row = Step {
                    step: step.clone(),
                    opened: id,
                    confirmed: None,
                };
                self.steps.add(StepId(id.thing(0)), row);
            }
            Act::SafeStepConfirmed { step } => {
                if let Some(step) = self.steps.get_mut(*step) {
                    step.confirmed = Some(id);
                }
            }
            Act::PartOff(it) => self.part_off(id, it),
            Act::PartOffAgain { part, aside } => {
                self.part_moves(*part, Account::Part(*part), Account::Bench);
                self.set_part(
                    *part,
                    id,
                    if *aside {
                        PartState::Aside
                    } else {
                        PartState::Off
                    },
                );
            }
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
            Act::CameAfter { what, needs } => self.came_after(*what, needs),
            Act::WayNoted { what, needs } => {
                if let Target::Part(part) = *what
                    && let Some(it) = self.parts.get_mut(part)
                {
                    it.ways.push(needs.clone());
                }
            }
            Act::FixingUndone(it) => self.fixing_undone(event, it),
            Act::FixingDescribed { fixing, detail } => {
                if let Some(it) = self.fixings.get_mut(*fixing) {
                    it.detail = detail.clone();
                }
            }
            Act::FastenersUndone {
                fixing,
                places,
                out,
                to,
            } => {
                self.fasteners_undone(event, *fixing, places, *out, *to);
            }
            Act::FastenerBroke {
                fixing,
                place,
                stump_in,
            } => {
                let state = if *stump_in {
                    PlaceState::Broken
                } else {
                    PlaceState::Open
                };
                let held = self.set_place(event, *fixing, *place, state, None);
                let (line, from) = match held {
                    Some(line) => (line, Account::Fixing(*fixing)),
                    None => match self.fixings.get(*fixing).map(|f| f.old) {
                        Some(old) => (old, self.loose_first(old)),
                        None => return,
                    },
                };
                self.shift(line, from, Account::Scrapped, 1);
            }
            Act::PlaceRepaired { fixing, place } => {
                self.set_place(event, *fixing, *place, PlaceState::Open, None);
            }
            Act::ConnectionLogged(it) => self.connection_logged(event, it),
            Act::EndParted { end } => {
                self.opening_act(id);
                self.set_end(event, *end, EndState::Parted, None);
            }
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
                    opened: id,
                    inside: Vec::new(),
                },
            ),
            Act::PutIn(put) => self.put_in(id, put),
            Act::TakenOut { inside, n } => {
                let line = self.insides.get_mut(*inside).map(|it| {
                    it.n_in = it.n_in.saturating_sub(*n);
                    it.line
                });
                if let Some(line) = line {
                    self.shift(line, Account::Inside(*inside), Account::Bench, *n);
                }
            }
            Act::FluidDrained {
                name,
                amount,
                bleed,
            } => self.fluids.add(
                FluidId(id.thing(0)),
                Fluid {
                    name: name.clone(),
                    drained: amount.clone(),
                    filled: None,
                    bleed: *bleed,
                    bled: false,
                    opened: id,
                },
            ),
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
            Act::TreatmentPrescribed(it) => self.prescribed(id, it),
            Act::TreatmentApplied { treatment } => {
                if let Some(it) = self.treatments.get_mut(*treatment) {
                    it.applied = Some(event.at);
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
            } => {
                let line = LineId(part.0);
                let from = self.loose_first(line);
                self.shift(line, from, Account::Scrapped, 1);
                if let Some(line) = self.lines.get_mut(line) {
                    line.add_new(Account::Bench, 1);
                }
                if let Some(it) = self.parts.get_mut(*part) {
                    let note = note.clone();
                    it.replaced = Some(Replacement {
                        by: id,
                        note,
                        as_ordered: *as_ordered,
                    });
                }
            }
            Act::FixingRenewed { fixing, spec, .. } => self.fixing_renewed(id, *fixing, spec),
            Act::Moved {
                line, from, to, n, ..
            } => self.shift(*line, *from, *to, *n),
            Act::StockAdded { line, to, n } => {
                if let Some(line) = self.lines.get_mut(*line) {
                    line.add_new(*to, *n);
                }
            }
            Act::StrayFound { spec, place } => self.stray_found(id, spec, place),
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
            Act::PartPlaced { part, buried } => {
                let from = self.loose_first(LineId(part.0));
                self.part_moves(*part, from, Account::Part(*part));
                self.set_part(*part, id, PartState::Placed);
                if let Some(it) = self.parts.get_mut(*part) {
                    it.buried.clone_from(buried);
                }
                self.close_treatments(Target::Part(*part), event.at);
            }
            Act::Started {
                fixing,
                places,
                line,
                from,
            } => {
                let seated = self.fixings.get(*fixing).is_some_and(Fixing::seats_only);
                let state = if seated {
                    PlaceState::Final
                } else {
                    PlaceState::Started
                };
                self.shift(*line, *from, Account::Fixing(*fixing), places.len() as u32);
                for &place in places {
                    self.set_place(event, *fixing, place, state, Some(*line));
                }
                self.close_treatments(Target::Fixing(*fixing), event.at);
            }
            Act::Tightened {
                fixing,
                places,
                to,
                value,
            } => self.tightened(event, *fixing, places, *to, *value),
            Act::Doubted { what, places } => match *what {
                Target::Fixing(fixing) => {
                    for &place in places {
                        let holds = self.held(fixing, place);
                        self.set_place(event, fixing, place, PlaceState::Doubtful, holds);
                    }
                }
                Target::End(end) => self.set_end(event, end, EndState::Doubtful, None),
                _ => {}
            },
            Act::ExtraFitted {
                fixing,
                line,
                from,
                n,
            } => {
                self.shift(*line, *from, Account::Fixing(*fixing), *n);
            }
            Act::ItemFitted { item, n, old } => self.item_fitted(*item, *n, *old),
            Act::EndPushed { end, seat } => {
                let elsewhere = (seat != end).then_some(*seat);
                self.set_end(event, *end, EndState::Pushed, elsewhere);
            }
            Act::EndSecured { end } => {
                let elsewhere = self.end(*end).and_then(|e| e.elsewhere);
                self.set_end(event, *end, EndState::Secured, elsewhere);
            }
            Act::Checked { what, places } => match *what {
                Target::Fixing(fixing) => {
                    for &place in places {
                        let holds = self.held(fixing, place);
                        self.set_place(event, fixing, place, PlaceState::Checked, holds);
                    }
                }
                Target::End(end) => {
                    let elsewhere = self.end(end).and_then(|e| e.elsewhere);
                    self.set_end(event, end, EndState::Checked, elsewhere);
                }
                _ => {}
            },
            Act::AfterRunOwed {
                what,
                on,
                text,
                due,
            } => self.after_runs.add(
                AfterRunId(id.thing(0)),
                AfterRun {
                    what: *what,
                    on: *on,
                    text: text.clone(),
                    due: *due,
                    opened: id,
                    done: false,
                },
            ),
            Act::AfterRunDone { after_run, .. } => {
                if let Some(it) = self.after_runs.get_mut(*after_run) {
                    it.done = true;
                }
                // It can only be told from a machine that has run.
                self.ran(event, 0);
            }
            Act::Touched { what, places, sure } => self.touched(event, *what, places, *sure),
            Act::MeterRead(meter) => self.readings.push(Reading {
                meter: *meter,
                at: event.at,
                event: id,
            }),
            Act::Ran { heat_cycles } => self.ran(event, *heat_cycles),
            Act::PhotoTaken(taken) => self.photos.add(
                PhotoId(id.thing(0)),
                Photo {
                    taken: taken.clone(),
                    at: event.at,
                    opened: id,
                },
            ),
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
            Act::NoteAdded { on, text } => self.notes.add(
                NoteId(id.thing(0)),
                Note {
                    on: *on,
                    text: text.clone(),
                    at: event.at,
                    opened: id,
                },
            ),
            Act::Struck { .. } => {}
            Act::Excepted { owed, reason } => self.exceptions.push(Excepted {
                owed: *owed,
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

    /// A procedure adds make-safe steps; it never takes a step or a place away.
    fn attach(&mut self, id: EventId, procedure: &Procedure) {
        for (n, step) in procedure.safe.iter().enumerate() {
            if self.steps.rows().any(|have| have.step == *step) {
                continue;
            }
            let row = Step {
                step: step.clone(),
                opened: id,
                confirmed: None,
            };
            self.steps.add(StepId(id.thing(n as u16)), row);
        }
        for (n, run) in procedure.after_run.iter().enumerate() {
            let row = AfterRun {
                what: run.kind,
                on: Target::Job,
                text: run.text.clone(),
                due: run.due,
                opened: id,
                done: false,
            };
            self.after_runs.add(AfterRunId(id.thing(n as u16)), row);
        }
        self.procedure = Some(procedure.clone());
    }

    fn part_off(&mut self, id: EventId, it: &PartOff) {
        self.opening_act(id);
        let part = PartId(id.thing(0));
        let state = if it.aside {
            PartState::Aside
        } else {
            PartState::Off
        };
        self.lines.add(
            LineId(part.0),
            Line::open(Target::Part(part), What::Part, 1, Account::Bench),
        );
        self.parts.add(
            part,
            Part {
                name: it.name.clone(),
                lies: it.lies.clone(),
                note: it.note.clone(),
                state,
                since: id,
                opened: id,
                after: Vec::new(),
                ways: Vec::new(),
                carried_by: it.carried_by,
                hazards: it.hazards.clone(),
                planned: it.planned.clone(),
                fixings: Vec::new(),
                ends: Vec::new(),
                items: Vec::new(),
                treatments: Vec::new(),
                findings: Vec::new(),
                replaced: None,
                left_off_why: String::new(),
                buried: Vec::new(),
                sure: true,
            },
        );
        self.came_after(Target::Part(part), &it.after);
    }

    fn came_after(&mut self, what: Target, needs: &[Need]) {
        let after = match what {
            Target::Part(id) => self.parts.get_mut(id).map(|it| &mut it.after),
            Target::Fixing(id) => self.fixings.get_mut(id).map(|it| &mut it.after),
            Target::Connection(id) => self.connections.get_mut(id).map(|it| &mut it.after),
            Target::End(id) => self
                .connections
                .get_mut(id.connection)
                .map(|it| &mut it.after),
            _ => None,
        };
        let Some(after) = after else { return };
        for need in needs {
            if after.iter().all(|have| have.first != need.first) {
                after.push(*need);
                self.holders.entry(need.first).or_default().push(what);
            }
        }
    }

    fn set_part(&mut self, part: PartId, since: EventId, state: PartState) {
        if let Some(it) = self.parts.get_mut(part) {
            it.state = state;
            it.since = since;
            it.sure = true;
        }
    }

    fn part_moves(&mut self, part: PartId, from: Account, to: Account) {
        self.shift(LineId(part.0), from, to, 1);
    }

    /// Moves what the check has found to be there.
    fn shift(&mut self, line: LineId, from: Account, to: Account, n: u32) {
        if let Some(line) = self.lines.get_mut(line) {
            // Refused only when short, which the check rules out.
            let _ = line.move_n(from, to, n);
        }
    }

    fn fixing_undone(&mut self, event: &Event, it: &FixingUndone) {
        let id = event.id;
        self.opening_act(id);
        let who = self.who(&event.by);
        let fixing = FixingId(id.thing(0));
        let old = LineId(id.thing(0));
        let of = Target::Fixing(fixing);
        let declared = u32::from(it.count - it.found_empty);
        let out = declared - u32::from(it.slackened);
        let mut line = Line::open(
            of,
            What::Fastener(it.spec.clone()),
            declared,
            Account::Fixing(fixing),
        );
        for &(to, n) in &it.to {
            let _ = line.move_n(Account::Fixing(fixing), to, u32::from(n));
        }
        let first_to = it.to.first().map_or(Account::Bench, |&(to, _)| to);
        self.lines.add(old, line);
        let mut extras = Vec::new();
        for (n, extra) in it.extras.iter().enumerate() {
            let line = LineId(id.thing(n as u16 + 1));
            let declared = out * u32::from(extra.per_place);
            self.lines.add(
                line,
                Line::open(of, What::Extra(extra.spec.clone()), declared, first_to),
            );
            extras.push((line, extra.clone()));
        }
        let wants = if it.reuse == Reuse::Renew {
            let fresh = LineId(id.thing(FRESH));
            self.lines.add(
                fresh,
                Line::open(of, What::Fastener(it.spec.clone()), 0, Account::Bench),
            );
            fresh
        } else {
            old
        };
        let place = |n: u16| {
            let (state, holds) = if n < it.found_empty {
                (PlaceState::FoundEmpty, None)
            } else if n < it.found_empty + it.slackened {
                (PlaceState::Slackened, Some(old))
            } else {
                (PlaceState::Open, None)
            };
            Place {
                state,
                holds,
                who,
                at: event.at,
            }
        };
        self.fixings.add(
            fixing,
            Fixing {
                parts: it.parts.clone(),
                spec: it.spec.clone(),
                place: it.place.clone(),
                numbers: it.numbers.clone(),
                // What stays in place is counted from the far end, so that
                // place 1 is the first to be started.
                places: (0..it.count).rev().map(place).collect(),
                reuse: it.reuse,
                detail: it.detail.clone(),
                wants,
                old,
                extras,
                opened: id,
                since: id,
                treatments: Vec::new(),
                after: Vec::new(),
                ordered: 0,
                arrived: 0,
                last_value: None,
                sure: true,
            },
        );
        for &part in &it.parts {
            if let Some(part) = self.parts.get_mut(part) {
                part.fixings.push(fixing);
            }
        }
    }

    fn held(&self, fixing: FixingId, place: u16) -> Option<LineId> {
        self.fixings
            .get(fixing)?
            .places
            .get(usize::from(place))?
            .holds
    }

    /// Sets a place and says what it held before.
    fn set_place(
        &mut self,
        event: &Event,
        fixing: FixingId,
        place: u16,
        state: PlaceState,
        holds: Option<LineId>,
    ) -> Option<LineId> {
        let who = self.who(&event.by);
        let fixing = self.fixings.get_mut(fixing)?;
        fixing.since = event.id;
        fixing.sure = true;
        let at = fixing.places.get_mut(usize::from(place))?;
        let before = at.holds;
        *at = Place {
            state,
            holds,
            who,
            at: event.at,
        };
        before
    }

    fn fasteners_undone(
        &mut self,
        event: &Event,
        fixing: FixingId,
        places: &[u16],
        out: bool,
        to: Account,
    ) {
        for &place in places {
            let holds = self.held(fixing, place);
            if !out {
                self.set_place(event, fixing, place, PlaceState::Slackened, holds);
                continue;
            }
            self.set_place(event, fixing, place, PlaceState::Open, None);
            if let Some(line) = holds {
                self.shift(line, Account::Fixing(fixing), to, 1);
            }
            // Washers and the like come out with it.
            let extras = self
                .fixings
                .get(fixing)
                .map_or_else(Vec::new, |f| f.extras.clone());
            for (line, extra) in extras {
                let n = u32::from(extra.per_place).min(
                    self.lines
                        .get(line)
                        .map_or(0, |l| l.count(Account::Fixing(fixing))),
                );
                self.shift(line, Account::Fixing(fixing), to, n);
            }
        }
    }

    fn tightened(
        &mut self,
        event: &Event,
        fixing: FixingId,
        places: &[u16],
        to: Tight,
        value: Option<Figure>,
    ) {
        let last = self
            .fixings
            .get(fixing)
            .map_or(0, |f| f.detail.stages.len());
        let state = match to {
            Tight::Snug => PlaceState::Snug,
            Tight::Stage(n) if usize::from(n) >= last => PlaceState::Final,
            Tight::Stage(n) => PlaceState::Stage(n),
            Tight::Final => PlaceState::Final,
        };
        for &place in places {
            let holds = self.held(fixing, place);
            self.set_place(event, fixing, place, state, holds);
        }
        if let Some(it) = self.fixings.get_mut(fixing) {
            it.last_value = value.or(it.last_value);
        }
    }

    fn connection_logged(&mut self, event: &Event, it: &ConnectionLogged) {
        let id = event.id;
        let who = self.who(&event.by);
        let connection = ConnectionId(id.thing(0));
        let end = |end: &End| EndOf {
            end: end.clone(),
            state: if end.parted {
                EndState::Parted
            } else {
                EndState::Undisturbed
            },
            elsewhere: None,
            since: id,
            items: Vec::new(),
            who,
            sure: true,
        };
        self.connections.add(
            connection,
            Connection {
                kind: it.kind,
                name: it.name.clone(),
                a: end(&it.a),
                b: end(&it.b),
                route: it.route.clone(),
                after: Vec::new(),
                tag: it.tag.clone(),
                opened: id,
            },
        );
        for (side, end) in [(Side::A, &it.a), (Side::B, &it.b)] {
            if end.parted {
                self.opening_act(id);
            }
            if let Some(part) = end.on.and_then(|part| self.parts.get_mut(part)) {
                part.ends.push(EndId { connection, side });
            }
        }
        self.came_after(Target::Connection(connection), &it.after);
    }

    fn set_end(&mut self, event: &Event, end: EndId, state: EndState, elsewhere: Option<EndId>) {
        let who = self.who(&event.by);
        if let Some(it) = self.end_mut(end) {
            it.state = state;
            it.elsewhere = elsewhere;
            it.since = event.id;
            it.who = who;
            it.sure = true;
        }
    }

    fn item_removed(&mut self, id: EventId, it: &ItemRemoved) {
        self.opening_act(id);
        let item = ItemId(id.thing(0));
        let line = LineId(id.thing(0));
        let declared = u32::from(it.count);
        self.lines.add(
            line,
            Line::open(Target::Item(item), What::Item, declared, Account::Scrapped),
        );
        self.items.add(
            item,
            Item {
                kind: it.kind,
                name: it.name.clone(),
                size: it.size.clone(),
                count: it.count,
                on: it.on,
                line,
                opened: id,
                renewed: 0,
                old_in: 0,
                ordered: 0,
                arrived: 0,
                left_off: false,
            },
        );
        match it.on {
            Target::Part(part) => {
                if let Some(part) = self.parts.get_mut(part) {
                    part.items.push(item);
                }
            }
            Target::End(end) => {
                if let Some(end) = self.end_mut(end) {
                    end.items.push(item);
                }
            }
            _ => {}
        }
    }

    fn put_in(&mut self, id: EventId, put: &PutIn) {
        let inside = InsideId(id.thing(0));
        let line = LineId(id.thing(0));
        let n_in = u32::from(put.n);
        self.lines.add(
            line,
            Line::open(
                Target::Inside(inside),
                What::Aid,
                n_in,
                Account::Inside(inside),
            ),
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

    fn prescribed(&mut self, id: EventId, it: &Treatment) {
        let treatment = TreatmentId(id.thing(0));
        self.treatments.add(
            treatment,
            Treated {
                treatment: it.clone(),
                opened: id,
                applied: None,
                closed: None,
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

    fn close_treatments(&mut self, on: Target, at: i64) {
        let ids = match on {
            Target::Part(part) => self.parts.get(part).map(|p| p.treatments.clone()),
            Target::Fixing(fixing) => self.fixings.get(fixing).map(|f| f.treatments.clone()),
            _ => None,
        };
        for id in ids.unwrap_or_default() {
            if let Some(it) = self.treatments.get_mut(id) {
                it.closed.get_or_insert(at);
            }
        }
    }

    fn finding_noted(&mut self, id: EventId, on: Target, text: &str) {
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

    fn ordered(&mut self, want: Want, n: u32) {
        match want {
            Want::Item(it) => {
                if let Some(it) = self.items.get_mut(it) {
                    it.ordered += n;
                }
            }
            Want::Fixing(it) => {
                if let Some(it) = self.fixings.get_mut(it) {
                    it.ordered += n;
                }
            }
            Want::Line(it) => {
                if let Some(it) = self.buys.get_mut(it) {
                    it.ordered += n;
                }
            }
        }
    }

    fn arrived(&mut self, want: Want, n: u32) {
        let line = match want {
            Want::Item(it) => self.items.get_mut(it).map(|it| {
                it.arrived += n;
                it.line
            }),
            Want::Fixing(it) => self.fixings.get_mut(it).map(|it| {
                it.arrived += n;
                it.wants
            }),
            Want::Line(it) => {
                if let Some(it) = self.buys.get_mut(it) {
                    it.arrived += n;
                }
                None
            }
        };
        if let Some(line) = line.and_then(|line| self.lines.get_mut(line)) {
            line.add_new(Account::Bench, n);
        }
    }

    /// Other fasteners are wanted from now on; loose old ones are kept apart.
    fn fixing_renewed(
        &mut self,
        id: EventId,
        fixing: FixingId,
        spec: &crate::fastener::FastenerSpec,
    ) {
        let fresh = LineId(id.thing(0));
        let of = Target::Fixing(fixing);
        self.lines.add(
            fresh,
            Line::open(of, What::Fastener(spec.clone()), 0, Account::Bench),
        );
        let before = self.fixings.get_mut(fixing).map(|it| {
            it.spec = spec.clone();
            std::mem::replace(&mut it.wants, fresh)
        });
        let Some(before) = before else { return };
        let loose = self.lines.get(before).map_or_else(Vec::new, Line::loose_at);
        for (from, n) in loose {
            self.shift(before, from, Account::Spare, n);
        }
    }

    fn stray_found(&mut self, id: EventId, spec: &crate::fastener::FastenerSpec, place: &str) {
        let stray = StrayId(id.thing(0));
        let line = LineId(id.thing(0));
        let of = Target::Stray(stray);
        self.lines.add(
            line,
            Line::open(of, What::Stray(spec.clone()), 1, Account::Bench),
        );
        self.strays.add(
            stray,
            Stray {
                spec: spec.clone(),
                place: place.to_owned(),
                line,
                opened: id,
                settled: false,
                reason: String::new(),
            },
        );
    }

    /// The stray stops being a thing of its own: it is the one that was missing,
    /// or it is set aside with a reason.
    fn settle_stray(&mut self, stray: StrayId, reason: &str) {
        let line = self.strays.get_mut(stray).map(|it| {
            it.settled = true;
            it.reason = reason.to_owned();
            it.line
        });
        if let Some(line) = line {
            self.shift(line, Account::Bench, Account::Spare, 1);
        }
    }

    fn left_off(&mut self, event: &Event, what: Target, places: &[u16], reason: &str) {
        match what {
            Target::Part(part) => {
                let from = self.loose_first(LineId(part.0));
                self.part_moves(part, from, Account::LeftOff);
                self.set_part(part, event.id, PartState::LeftOff);
                if let Some(it) = self.parts.get_mut(part) {
                    it.left_off_why = reason.to_owned();
                }
            }
            Target::Fixing(fixing) => {
                let wants = self.fixings.get(fixing).map(|f| f.wants);
                for &place in places {
                    self.set_place(event, fixing, place, PlaceState::LeftEmpty, None);
                    if let Some(line) = wants {
                        let from = self.loose_first(line);
                        let n = self.lines.get(line).map_or(0, |l| l.count(from)).min(1);
                        self.shift(line, from, Account::LeftOff, n);
                    }
                }
            }
            Target::End(end) => self.set_end(event, end, EndState::LeftOff, None),
            Target::Item(item) => {
                if let Some(it) = self.items.get_mut(item) {
                    it.left_off = true;
                }
            }
            _ => {}
        }
    }

    fn item_fitted(&mut self, item: ItemId, n: u32, old: bool) {
        let Some(it) = self.items.get_mut(item) else {
            return;
        };
        let line = it.line;
        let account = Account::Item(item);
        if old {
            it.old_in = it.old_in.saturating_add(n as u16).min(it.count);
            let there = self
                .lines
                .get(line)
                .map_or(0, |l| l.count(Account::Scrapped))
                .min(n);
            self.shift(line, Account::Scrapped, account, there);
            return;
        }
        it.renewed = it.renewed.saturating_add(n as u16).min(it.count);
        let old_out = u32::from(it.old_in).min(n);
        it.old_in -= old_out as u16;
        self.shift(line, account, Account::Scrapped, old_out);
        if let Some(line) = self.lines.get_mut(line) {
            let ready = line.count(Account::Bench).min(n);
            let _ = line.move_n(Account::Bench, account, ready);
            line.add_new(account, n - ready);
        }
    }

    fn ran(&mut self, event: &Event, heat_cycles: u16) {
        self.runs.push(Run {
            heat_cycles,
            at: event.at,
            event: event.id,
        });
    }

    fn touched(&mut self, event: &Event, what: Target, places: &[u16], sure: bool) {
        match what {
            Target::Fixing(id) if !places.is_empty() => {
                if sure {
                    return;
                }
                for &place in places {
                    let holds = self.held(id, place);
                    self.set_place(event, id, place, PlaceState::Doubtful, holds);
                }
            }
            Target::Part(id) => {
                if let Some(it) = self.parts.get_mut(id) {
                    it.sure = sure;
                }
            }
            Target::Fixing(id) => {
                if let Some(it) = self.fixings.get_mut(id) {
                    it.sure = sure;
                }
            }
            Target::End(id) => {
                if let Some(it) = self.end_mut(id) {
                    it.sure = sure;
                }
            }
            _ => {}
        }
    }
}
