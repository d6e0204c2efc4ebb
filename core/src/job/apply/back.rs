//! Folding of what goes back, and of the states of places and ends.
use super::*;

impl Job {
    pub(super) fn held(&self, fixing: FixingId, place: u16) -> Option<LineId> {
        self.fixings
            .get(fixing)?
            .places
            .get(usize::from(place))?
            .holds
    }

    /// Sets a place and says what it held before.
    pub(super) fn set_place(
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
        // A second look turns nothing; all else is after the round.
        if state != PlaceState::Checked {
            fixing.gone_round = None;
        }
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

    pub(super) fn set_end(
        &mut self,
        event: &Event,
        end: EndId,
        state: EndState,
        elsewhere: Option<EndId>,
    ) {
        let who = self.who(&event.by);
        if let Some(it) = self.end_mut(end) {
            it.state = state;
            it.elsewhere = elsewhere;
            it.since = event.id;
            it.who = who;
            it.sure = true;
        }
    }

    /// Sets an end that stays on the seat it is on.
    pub(super) fn set_end_there(&mut self, event: &Event, end: EndId, state: EndState) {
        let elsewhere = self.end(end).and_then(|e| e.elsewhere);
        self.set_end(event, end, state, elsewhere);
    }

    pub(super) fn part_placed(&mut self, event: &Event, part: PartId, buried: &[Target]) {
        let line = LineId(part.0);
        let to = Account::Part(part);
        let left_off = self
            .parts
            .get(part)
            .is_some_and(|p| p.state == PartState::LeftOff);
        if left_off {
            self.shift(line, Account::LeftOff, to, 1);
            self.decision_reversed(event, part);
        } else {
            self.shift_loose(line, to, 1);
        }
        self.set_part(part, event.id, PartState::Placed);
        if let Some(it) = self.parts.get_mut(part) {
            it.buried = buried.to_vec();
        }
        for &what in buried {
            let over = self.put_over.entry(what).or_default();
            if !over.contains(&part) {
                over.push(part);
            }
        }
        self.close_treatments(Target::Part(part), event);
    }

    pub(super) fn started(
        &mut self,
        event: &Event,
        fixing: FixingId,
        places: &[u16],
        line: LineId,
        from: Account,
    ) {
        let seated = self.fixings.get(fixing).is_some_and(Fixing::seats_only);
        let state = if seated {
            PlaceState::Final
        } else {
            PlaceState::Started
        };
        self.shift(line, from, Account::Fixing(fixing), places.len() as u32);
        if let Account::Container(bag) = from
            && let Some(it) = self.fixings.get_mut(fixing)
        {
            it.bag = Some(bag);
        }
        for &place in places {
            self.set_place(event, fixing, place, state, Some(line));
        }
        let draws = |f: &Fixing| draws_down(f.spec.kind);
        if seated && self.fixings.get(fixing).is_some_and(draws) {
            self.clamp(fixing);
        }
        self.close_treatments(Target::Fixing(fixing), event);
    }

    /// The state that tightening to `to` brings a place of the fixing to.
    pub(crate) fn reached(&self, fixing: FixingId, to: Tight) -> PlaceState {
        let last = self
            .fixings
            .get(fixing)
            .map_or(0, |f| f.detail.stages.len());
        match to {
            Tight::Snug => PlaceState::Snug,
            Tight::Stage(n) if usize::from(n) < last => PlaceState::Stage(n),
            Tight::Stage(_) | Tight::Final => PlaceState::Final,
        }
    }

    pub(super) fn tightened(
        &mut self,
        event: &Event,
        fixing: FixingId,
        places: &[u16],
        to: Tight,
        value: Option<Figure>,
    ) {
        let state = self.reached(fixing, to);
        for &place in places {
            let holds = self.held(fixing, place);
            self.set_place(event, fixing, place, state, holds);
        }
        if let Some(it) = self.fixings.get_mut(fixing) {
            it.last_value = value.or(it.last_value);
        }
        self.clamp(fixing);
    }

    /// The parts that a fixing holds are drawn down.
    fn clamp(&mut self, fixing: FixingId) {
        let parts = self
            .fixings
            .get(fixing)
            .map_or_else(Vec::new, |f| f.parts.clone());
        for part in parts {
            if let Some(it) = self.parts.get_mut(part)
                && it.state == PartState::Placed
            {
                it.clamped = true;
            }
        }
    }

    pub(super) fn doubted(&mut self, event: &Event, what: Target, places: &[u16]) {
        match what {
            Target::Fixing(fixing) => {
                for &place in places {
                    let holds = self.held(fixing, place);
                    self.set_place(event, fixing, place, PlaceState::Doubtful, holds);
                }
            }
            Target::End(end) => self.set_end_there(event, end, EndState::Doubtful),
            _ => {}
        }
    }

    pub(super) fn checked(&mut self, event: &Event, what: Target, places: &[u16]) {
        match what {
            Target::Fixing(fixing) => {
                for &place in places {
                    let holds = self.held(fixing, place);
                    self.set_place(event, fixing, place, PlaceState::Checked, holds);
                }
            }
            Target::End(end) => self.set_end_there(event, end, EndState::Checked),
            _ => {}
        }
    }

    /// One of another fixing is another thickness, unless it is measured.
    pub(super) fn extra_fitted(
        &mut self,
        by: EventId,
        fixing: FixingId,
        line: LineId,
        from: Account,
        n: u32,
    ) {
        self.shift(line, from, Account::Fixing(fixing), n);
        if let Some(it) = self.fixings.get_mut(fixing)
            && !it.extras.iter().any(|(own, _)| *own == line)
        {
            it.stack_new = Some((Target::Line(line), by));
            if !it.strange.contains(&line) {
                it.strange.push(line);
            }
        }
    }

    pub(super) fn item_fitted(&mut self, item: ItemId, n: u32, old: bool) {
        let Some(it) = self.items.get_mut(item) else {
            return;
        };
        it.sure = true;
        let line = it.line;
        let account = Account::Item(item);
        if old {
            it.old_in = it.old_in.saturating_add(n as u16).min(it.count);
            self.shift(line, Account::Scrapped, account, n);
            return;
        }
        it.renewed = it.renewed.saturating_add(n as u16).min(it.count);
        let old_out = u32::from(it.old_in).min(n);
        it.old_in -= old_out as u16;
        let ready = it.ready.min(n);
        self.shift(line, account, Account::Scrapped, old_out);
        self.shift_loose(line, account, ready);
        // New ones in the hand that were never booked in.
        self.add_new(line, account, n - ready);
    }

    /// One-use items that were clamped are spent: they are owed again.
    pub(super) fn spend(&mut self, item: ItemId, n: u16) {
        let Some(it) = self.items.get_mut(item) else {
            return;
        };
        let line = it.line;
        let new = it.renewed.min(n);
        let old = it.old_in.min(n - new);
        // What was accepted of the one before says nothing of the next.
        self.exceptions.retain(|e| e.owed.on != Target::Item(item));
        it.renewed -= new;
        it.old_in -= old;
        let fitted = self
            .lines
            .get(line)
            .map_or(0, |l| l.count(Account::Item(item)));
        let spent = u32::from(new + old).min(fitted);
        self.shift(line, Account::Item(item), Account::Scrapped, spent);
    }

    pub(super) fn touched(&mut self, event: &Event, what: Target, places: &[u16], sure: bool) {
        match what {
            // Sure of single places changes nothing; not sure makes them doubtful.
            Target::Fixing(_) if !places.is_empty() && sure => {}
            Target::Fixing(_) if !places.is_empty() => self.doubted(event, what, places),
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
            Target::Item(id) => {
                if let Some(it) = self.items.get_mut(id) {
                    it.sure = sure;
                }
            }
            Target::Treatment(id) => {
                if let Some(it) = self.treatments.get_mut(id) {
                    it.sure = sure;
                }
            }
            _ => {}
        }
    }
}
