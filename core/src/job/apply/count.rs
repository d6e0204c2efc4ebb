//! Folding of moves, deliveries, replacements, strays and what is left off.
use super::*;
use crate::fastener::FastenerSpec;

impl Job {
    /// Moves what the check has found to be there.
    pub(super) fn shift(&mut self, line: LineId, from: Account, to: Account, n: u32) {
        if let Some(it) = self.lines.get_mut(line) {
            // Refused only when short, which the check rules out.
            let _ = it.move_n(from, to, n);
        }
        self.ready_now(line);
    }

    pub(super) fn add_new(&mut self, line: LineId, to: Account, n: u32) {
        if let Some(it) = self.lines.get_mut(line) {
            it.add_new(to, n);
        }
        self.ready_now(line);
    }

    /// Keeps `Item::ready` in step with the ledger.
    fn ready_now(&mut self, line: LineId) {
        if let Some(it) = self.lines.get(line)
            && let Target::Item(item) = it.of
        {
            let loose = it.loose();
            if let Some(item) = self.items.get_mut(item) {
                item.ready = loose;
            }
        }
    }

    /// Moves up to n loose ones, from where most lie first.
    pub(super) fn shift_loose(&mut self, line: LineId, to: Account, mut n: u32) {
        let loose = self.lines.get(line).map_or_else(Vec::new, Line::loose_at);
        for (from, there) in loose {
            let moved = there.min(n);
            self.shift(line, from, to, moved);
            n -= moved;
        }
    }

    pub(super) fn ordered(&mut self, want: Want, n: u32) {
        let ordered = match want {
            Want::Item(it) => self.items.get_mut(it).map(|it| &mut it.ordered),
            Want::Fixing(it) => self.fixings.get_mut(it).map(|it| &mut it.ordered),
            Want::Extra(it) => self.lines.get_mut(it).map(|it| &mut it.ordered),
            Want::Line(it) => self.buys.get_mut(it).map(|it| &mut it.ordered),
        };
        if let Some(ordered) = ordered {
            *ordered = ordered.saturating_add(n);
        }
    }

    pub(super) fn arrived(&mut self, want: Want, n: u32) {
        let line = match want {
            Want::Item(it) => self.items.get_mut(it).map(|it| {
                it.arrived = it.arrived.saturating_add(n);
                it.line
            }),
            Want::Fixing(it) => self.fixings.get_mut(it).map(|it| {
                it.arrived = it.arrived.saturating_add(n);
                it.wants
            }),
            Want::Extra(it) => Some(it),
            Want::Line(it) => {
                if let Some(it) = self.buys.get_mut(it) {
                    it.arrived = it.arrived.saturating_add(n);
                }
                None
            }
        };
        if let Some(line) = line {
            self.add_new(line, Account::Bench, n);
        }
    }

    /// A new part for the old one. One that is missing stays missing: it may
    /// lie inside.
    pub(super) fn part_replaced(
        &mut self,
        id: EventId,
        part: PartId,
        note: &str,
        as_ordered: bool,
    ) {
        let line = LineId(part.0);
        self.shift_loose(line, Account::Scrapped, 1);
        self.add_new(line, Account::Bench, 1);
        if let Some(it) = self.parts.get_mut(part) {
            it.replaced = Some(Replacement {
                by: id,
                note: note.to_owned(),
                as_ordered,
            });
        }
        self.stack_new(id, Target::Part(part));
    }

    /// What is new under the heads of a fixing makes another stack: a part, its
    /// gasket, a washer.
    pub(super) fn stack_new(&mut self, by: EventId, what: Target) {
        let fixings: Vec<FixingId> = match what {
            Target::Part(part) => self.held_by_fixings(part),
            Target::Item(item) => match self.items.get(item).map(|it| (it.kind, it.on)) {
                Some((ItemKind::Gasket, Target::Part(part))) => self.held_by_fixings(part),
                Some((ItemKind::Gasket | ItemKind::CrushWasher, Target::Fixing(fixing))) => {
                    vec![fixing]
                }
                _ => Vec::new(),
            },
            Target::Line(line) => match self.lines.get(line).map(|it| (&it.thing, it.of)) {
                Some((What::Extra(_), Target::Fixing(fixing))) => vec![fixing],
                _ => Vec::new(),
            },
            _ => Vec::new(),
        };
        for fixing in fixings {
            if let Some(it) = self.fixings.get_mut(fixing) {
                it.stack_new = Some((what, by));
            }
        }
    }

    fn held_by_fixings(&self, part: PartId) -> Vec<FixingId> {
        let part = self.parts.get(part);
        part.map_or_else(Vec::new, |it| it.fixings.clone())
    }

    /// Other fasteners are wanted from now on; loose old ones are kept apart as
    /// a pattern, not to be fitted.
    pub(super) fn fixing_renewed(&mut self, id: EventId, fixing: FixingId, spec: &FastenerSpec) {
        let fresh = LineId(id.thing(0));
        let of = Target::Fixing(fixing);
        self.lines.add(
            fresh,
            Line::open(of, What::Fastener(spec.clone()), 0, Account::Bench),
        );
        let before = self.fixings.get_mut(fixing).map(|it| {
            it.spec = spec.clone();
            it.kept = None;
            // Another nut runs with another torque.
            it.detail.running = None;
            std::mem::replace(&mut it.wants, fresh)
        });
        if let Some(before) = before {
            self.shift_loose(before, Account::Spare, u32::MAX);
        }
    }

    /// The old ones are wanted again; new ones that came are kept as spares.
    pub(super) fn old_kept(&mut self, event: &Event, fixing: FixingId, reason: &str) {
        let Some(it) = self.fixings.get_mut(fixing) else {
            return;
        };
        let fresh = std::mem::replace(&mut it.wants, it.old);
        let old = it.old;
        it.kept = Some(Excepted {
            up_to: None,
            owed: OwedKey {
                rule: crate::audit::Rule::NotNew,
                on: Target::Fixing(fixing),
                opened: event.id,
            },
            reason: reason.to_owned(),
            by: event.by.clone(),
            at: event.at,
            event: event.id,
        });
        if let Some(What::Fastener(spec)) = self.lines.get(old).map(|l| &l.thing) {
            it.spec = spec.clone();
        }
        self.shift_loose(fresh, Account::Spare, u32::MAX);
    }

    /// What was taken for the same as the fixing's fasteners is so still.
    pub(super) fn fixing_measured(&mut self, fixing: FixingId, spec: &FastenerSpec) {
        let Some(it) = self.fixings.get_mut(fixing) else {
            return;
        };
        let before = std::mem::replace(&mut it.spec, spec.clone());
        for id in [it.wants, it.old] {
            if let Some(line) = self.lines.get_mut(id)
                && matches!(&line.thing, What::Fastener(had) if *had == before)
            {
                line.thing = What::Fastener(spec.clone());
            }
        }
    }

    pub(super) fn stray_found(&mut self, id: EventId, spec: &FastenerSpec, place: &str) {
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

    pub(super) fn stray_measured(&mut self, stray: StrayId, spec: &FastenerSpec) {
        let Some(it) = self.strays.get_mut(stray) else {
            return;
        };
        it.spec = spec.clone();
        if let Some(line) = self.lines.get_mut(it.line) {
            line.thing = What::Stray(spec.clone());
        }
    }

    /// The stray stops being a thing of its own: it is the one that was missing,
    /// or it is set aside with a reason.
    pub(super) fn settle_stray(&mut self, stray: StrayId, reason: &str) {
        let line = self.strays.get_mut(stray).map(|it| {
            it.settled = true;
            it.reason = reason.to_owned();
            it.line
        });
        if let Some(line) = line {
            self.shift_loose(line, Account::Spare, 1);
        }
    }

    pub(super) fn left_off(&mut self, event: &Event, what: Target, places: &[u16], reason: &str) {
        match what {
            Target::Part(part) => {
                self.shift_loose(LineId(part.0), Account::LeftOff, 1);
                self.set_part(part, event.id, PartState::LeftOff);
                if let Some(it) = self.parts.get_mut(part) {
                    it.left_off_why = reason.to_owned();
                }
            }
            Target::Fixing(fixing) => {
                let wants = self.fixings.get(fixing).map(|f| f.wants);
                for &place in places {
                    self.set_place(event, fixing, place, PlaceState::LeftEmpty, None);
                }
                if let Some(line) = wants {
                    self.shift_loose(line, Account::LeftOff, places.len() as u32);
                }
                self.extras_left(fixing);
            }
            Target::End(end) => self.set_end(event, end, EndState::LeftOff, None),
            Target::Item(item) => {
                if let Some(it) = self.items.get_mut(item) {
                    it.left_off = true;
                    it.sure = true;
                }
            }
            _ => {}
        }
    }

    /// Washers that lay ready on places now left empty come off with them: those
    /// of other fixings back to the bench, as they are owed there, its own to
    /// what is left off.
    fn extras_left(&mut self, fixing: FixingId) {
        let Some(it) = self.fixings.get(fixing) else {
            return;
        };
        let here = Account::Fixing(fixing);
        let wanted = it.wanted() as u32;
        let (extras, strange) = (it.extras.clone(), it.strange.clone());
        for (line, extra) in &extras {
            let alike = |l: &&LineId| {
                let thing = self.lines.get(**l).map(|l| &l.thing);
                matches!(thing, Some(What::Extra(spec)) if spec.stands_for(&extra.spec))
            };
            let theirs: Vec<LineId> = strange.iter().filter(alike).copied().collect();
            let held = |line: LineId| self.lines.get(line).map_or(0, |l| l.count(here));
            let all = held(*line) + theirs.iter().map(|&l| held(l)).sum::<u32>();
            let mut over = all.saturating_sub(wanted * u32::from(extra.per_place));
            let theirs = theirs.into_iter().map(|l| (l, Account::Bench));
            for (line, to) in theirs.chain([(*line, Account::LeftOff)]) {
                let n = self.lines.get(line).map_or(0, |l| l.count(here)).min(over);
                self.shift(line, here, to, n);
                over -= n;
            }
        }
        if wanted == 0 {
            for line in strange {
                let n = self.lines.get(line).map_or(0, |l| l.count(here));
                self.shift(line, here, Account::Bench, n);
            }
        }
    }

    /// A part that was left off by decision goes back after all: what was left
    /// off with it is owed again.
    pub(super) fn decision_reversed(&mut self, event: &Event, part: PartId) {
        let Some(it) = self.parts.get_mut(part) else {
            return;
        };
        it.left_off_why.clear();
        let (fixings, ends, items) = (it.fixings.clone(), it.ends.clone(), it.items.clone());
        for id in fixings {
            let Some(fixing) = self.fixings.get(id) else {
                continue;
            };
            let places = fixing.where_state(|s| s == PlaceState::LeftEmpty);
            let lines: Vec<LineId> = std::iter::once(fixing.wants)
                .chain(fixing.extras.iter().map(|(line, _)| *line))
                .collect();
            let fixing_items = fixing.items.clone();
            for place in places {
                self.set_place(event, id, place, PlaceState::Open, None);
            }
            for line in lines {
                let n = self
                    .lines
                    .get(line)
                    .map_or(0, |l| l.count(Account::LeftOff));
                self.shift(line, Account::LeftOff, Account::Bench, n);
            }
            self.wanted_again(&fixing_items);
        }
        for end in ends {
            let left = |e: &EndOf| e.state == EndState::LeftOff;
            if self.end(end).is_some_and(left) {
                self.set_end(event, end, EndState::Parted, None);
                let items = self.end(end).map_or_else(Vec::new, |e| e.items.clone());
                self.wanted_again(&items);
            }
        }
        self.wanted_again(&items);
    }

    fn wanted_again(&mut self, items: &[ItemId]) {
        for &item in items {
            if let Some(it) = self.items.get_mut(item) {
                it.left_off = false;
            }
        }
    }
}
