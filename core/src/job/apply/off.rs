//! Folding of what comes off: parts, fixings, connections, one-use items.
use super::*;
use crate::fastener::FastenerKind;

/// Sub-number of the line of new fasteners that a fixing opens with itself;
/// its extras are numbered from 1 and are fewer than that.
const FRESH: u16 = 900;

impl Job {
    pub(super) fn part_off(&mut self, id: EventId, it: &PartOff) {
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
                clamped: false,
            },
        );
        self.came_after(Target::Part(part), &it.after);
    }

    /// A part that was back comes off again: what it clamped or closed up that
    /// serves once is owed anew.
    pub(super) fn part_off_again(&mut self, id: EventId, part: PartId, aside: bool) {
        self.shift(LineId(part.0), Account::Part(part), Account::Bench, 1);
        let state = if aside {
            PartState::Aside
        } else {
            PartState::Off
        };
        self.set_part(part, id, state);
        let Some(it) = self.parts.get_mut(part) else {
            return;
        };
        let spent = std::mem::take(&mut it.clamped);
        let items = it.items.clone();
        if spent {
            for item in items {
                self.spend(item, u16::MAX);
            }
        }
        self.reopen_treatments(Target::Part(part));
    }

    pub(super) fn came_after(&mut self, what: Target, needs: &[Need]) {
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
        self.remembered_late |= needs.iter().any(|n| n.first.event() >= what.event());
        after.reserve_exact(needs.len());
        for need in needs {
            if after.iter().all(|have| have.first != need.first) {
                after.push(*need);
                self.holders
                    .entry(need.first)
                    .or_insert_with(|| Vec::with_capacity(1))
                    .push(what);
            }
        }
    }

    pub(super) fn set_part(&mut self, part: PartId, since: EventId, state: PartState) {
        if let Some(it) = self.parts.get_mut(part) {
            it.state = state;
            it.since = since;
            it.sure = true;
        }
    }

    pub(super) fn fixing_undone(&mut self, event: &Event, it: &FixingUndone) {
        let id = event.id;
        self.opening_act(id);
        let who = self.who(&event.by);
        let fixing = FixingId(id.thing(0));
        let here = Account::Fixing(fixing);
        let old = LineId(id.thing(0));
        let of = Target::Fixing(fixing);
        let declared = u32::from(it.count - it.found_empty);
        let out = declared - u32::from(it.slackened);
        let mut line = Line::open(of, What::Fastener(it.spec.clone()), declared, here);
        for &(to, n) in &it.to {
            let _ = line.move_n(here, to, u32::from(n));
        }
        self.lines.add(old, line);
        // Washers lie with the fasteners, but are not thrown away with them.
        let kept = |&(to, _): &(Account, u16)| (to != Account::Scrapped).then_some(to);
        let first_to = it.to.iter().find_map(kept).unwrap_or(Account::Bench);
        let mut extras = Vec::new();
        for (n, extra) in (1_u16..).zip(&it.extras) {
            let line_id = LineId(id.thing(n));
            let per_place = u32::from(extra.per_place);
            let thing = What::Extra(extra.spec.clone());
            let mut line = Line::open(of, thing, declared * per_place, here);
            let _ = line.move_n(here, first_to, out * per_place);
            self.lines.add(line_id, line);
            extras.push((line_id, extra.clone()));
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
                called: Vec::new(),
                // What stays in place is counted from the far end, so that
                // place 1 is the first to be started.
                places: (0..it.count).rev().map(place).collect(),
                reuse: it.reuse,
                detail: it.detail.clone(),
                wants,
                old,
                extras,
                strange: Vec::new(),
                opened: id,
                since: id,
                treatments: Vec::new(),
                items: Vec::new(),
                after: Vec::new(),
                ordered: 0,
                arrived: 0,
                last_value: None,
                bag: None,
                hole: None,
                stack_new: None,
                kept: None,
                looked_at: false,
                broken: 0,
                round: None,
                ring: None,
                holds: Vec::new(),
                adapter: None,
                last_round: None,
                gone_round: None,
                sure: true,
            },
        );
        for &part in &it.parts {
            if let Some(part) = self.parts.get_mut(part) {
                part.fixings.push(fixing);
            }
        }
    }

    pub(super) fn fasteners_undone(
        &mut self,
        event: &Event,
        fixing: FixingId,
        places: &[u16],
        out: bool,
        to: Account,
    ) {
        self.opening_act(event.id);
        let mut was_tight = 0;
        for &place in places {
            let holds = self.held(fixing, place);
            if !out {
                self.set_place(event, fixing, place, PlaceState::Slackened, holds);
                continue;
            }
            let tight = |f: &Fixing| {
                f.places
                    .get(usize::from(place))
                    .is_some_and(|p| p.state >= PlaceState::Snug)
            };
            was_tight += u16::from(self.fixings.get(fixing).is_some_and(tight));
            self.set_place(event, fixing, place, PlaceState::Open, None);
            if let Some(line) = holds {
                self.shift(line, Account::Fixing(fixing), to, 1);
            }
            self.extras_out(fixing, to);
        }
        if !out {
            return;
        }
        // It has to bear its weight and be hot once more when it goes back in.
        if let Some(it) = self.fixings.get_mut(fixing) {
            for hold in &mut it.holds {
                hold.1 = false;
            }
        }
        if was_tight > 0 {
            self.spend_with(fixing, was_tight);
        }
        self.reopen_treatments(Target::Fixing(fixing));
    }

    /// Washers and the like that were forgotten with it: in at so many places,
    /// the others where they lie.
    pub(super) fn extra_added(
        &mut self,
        id: EventId,
        fixing: FixingId,
        extra: &Extra,
        (under, to): (u16, Account),
    ) {
        let Some(it) = self.fixings.get_mut(fixing) else {
            return;
        };
        let line_id = LineId(id.thing(0));
        let per_place = u32::from(extra.per_place);
        let declared = it.wanted() as u32 * per_place;
        let out = declared.saturating_sub(u32::from(under) * per_place);
        it.extras.push((line_id, extra.clone()));
        it.since = id;
        let here = Account::Fixing(fixing);
        let thing = What::Extra(extra.spec.clone());
        let mut line = Line::open(Target::Fixing(fixing), thing, declared, here);
        let _ = line.move_n(here, to, out);
        self.lines.add(line_id, line);
    }

    /// Washers and the like come out with a fastener: those of other fixings
    /// first, as it is for them that a place is opened once more, and of its own
    /// so many fewer of their kind.
    fn extras_out(&mut self, fixing: FixingId, to: Account) {
        let Some(it) = self.fixings.get(fixing) else {
            return;
        };
        let here = Account::Fixing(fixing);
        let mut places: Vec<(FastenerKind, LineId, u32)> = it
            .extras
            .iter()
            .map(|(line, extra)| (extra.spec.kind, *line, u32::from(extra.per_place)))
            .collect();
        for line in it.strange.clone() {
            let Some(row) = self.lines.get(line) else {
                continue;
            };
            let What::Extra(spec) = &row.thing else {
                continue;
            };
            let (kind, mut n) = (spec.kind, row.count(here));
            let own = |p: &&mut (FastenerKind, LineId, u32)| p.0 == kind;
            if places.iter().any(|p| p.0 == kind) {
                let room = places.iter().filter(|p| p.0 == kind).map(|p| p.2).sum();
                n = n.min(room);
            }
            let mut taken = n;
            for place in places.iter_mut().filter(own) {
                let less = place.2.min(taken);
                place.2 -= less;
                taken -= less;
            }
            self.shift(line, here, to, n);
        }
        for (_, line, n) in places {
            let there = self.lines.get(line).map_or(0, |l| l.count(here));
            self.shift(line, here, to, n.min(there));
        }
    }

    /// One-use items that went with n fasteners that were tight.
    fn spend_with(&mut self, fixing: FixingId, n: u16) {
        let Some(it) = self.fixings.get(fixing) else {
            return;
        };
        let places = it.wanted().max(1);
        for item in it.items.clone() {
            let count = self.items.get(item).map_or(0, |i| usize::from(i.count));
            let spent = (count * usize::from(n)).div_ceil(places).min(count);
            self.spend(item, spent as u16);
        }
    }

    /// A loose fastener that broke is one of those that came out.
    pub(super) fn fastener_broke(
        &mut self,
        event: &Event,
        fixing: FixingId,
        place: u16,
        stump_in: bool,
    ) {
        let state = if stump_in {
            PlaceState::Broken
        } else {
            PlaceState::Open
        };
        let held = self.set_place(event, fixing, place, state, None);
        if let Some(it) = self.fixings.get_mut(fixing)
            && held.is_none_or(|line| line == it.old)
        {
            it.broken = it.broken.saturating_add(1);
        }
        match held {
            Some(line) => self.shift(line, Account::Fixing(fixing), Account::Scrapped, 1),
            None => {
                let line = self.fixings.get(fixing).map(|f| f.old);
                let loose = |id: &LineId| self.lines.get(*id).is_some_and(|it| it.loose() > 0);
                if let Some(line) = line.filter(loose) {
                    self.shift_loose(line, Account::Scrapped, 1);
                }
            }
        }
    }

    pub(super) fn connection_logged(&mut self, event: &Event, it: &ConnectionLogged) {
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
            first: end.parted.then_some(id),
            since: id,
            items: Vec::new(),
            who,
            sure: true,
            safety: false,
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
                ways: Vec::new(),
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

    pub(super) fn end_parted(&mut self, event: &Event, end: EndId) {
        self.opening_act(event.id);
        let was = self.end(end).map(|e| e.state);
        self.set_end(event, end, EndState::Parted, None);
        if let Some(it) = self.end_mut(end) {
            it.first.get_or_insert(event.id);
        }
        // Pushed on is not yet clamped; anything further was, or may have been.
        if was != Some(EndState::Pushed) {
            for item in self.end(end).map_or_else(Vec::new, |e| e.items.clone()) {
                self.spend(item, u16::MAX);
            }
        }
    }

    pub(super) fn item_removed(&mut self, id: EventId, it: &ItemRemoved) {
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
                ready: 0,
                left_off: false,
                sure: true,
            },
        );
        match it.on {
            Target::Part(part) => {
                if let Some(part) = self.parts.get_mut(part) {
                    part.items.push(item);
                }
            }
            Target::Fixing(fixing) => {
                if let Some(fixing) = self.fixings.get_mut(fixing) {
                    fixing.items.push(item);
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
}
