//! Leaving a thing off by decision, with all that only it needs.
use super::*;

impl Tap<'_> {
    pub fn leave_off(&mut self, what: Target, reason: String) -> Result<(), Refusal> {
        reasoned(&reason)?;
        match what {
            Target::Part(id) => self.leave_part(id, &reason),
            Target::Fixing(id) => {
                if !self.leave_fixing(id, &reason)? {
                    return Err(Refusal::AlreadySo(what));
                }
                Ok(())
            }
            Target::End(id) => self.leave_end(id, &reason),
            other => self.left(other, Vec::new(), &reason),
        }
    }

    fn left(&mut self, what: Target, places: Vec<u16>, reason: &str) -> Result<(), Refusal> {
        self.fitting(Act::LeftOff {
            what,
            places,
            reason: reason.to_owned(),
        })?;
        Ok(())
    }

    fn leave_part(&mut self, id: PartId, reason: &str) -> Result<(), Refusal> {
        self.left(Target::Part(id), Vec::new(), reason)?;
        let part = self.job.part(id)?;
        for &fixing in &part.fixings {
            let needed = |p: &PartId| {
                *p != id
                    && self
                        .job
                        .parts
                        .get(*p)
                        .is_some_and(|p| p.state != PartState::LeftOff)
            };
            let shared = self
                .job
                .fixings
                .get(fixing)
                .is_some_and(|f| f.parts.iter().any(needed));
            if !shared {
                self.leave_fixing(fixing, reason)?;
            }
        }
        // A hose goes with it where no end of it stays on the machine; one that
        // does is owed a word of its own, or it would hang open.
        for &end in &part.ends {
            let parted = |e: &EndOf| matches!(e.state, EndState::Parted | EndState::Doubtful);
            let other = end.other();
            let goes = self.job.end(other).is_some_and(|e| {
                let with = e.end.on == Some(id) && parted(e);
                with || e.state == EndState::LeftOff
            });
            if goes && self.job.end(end).is_some_and(parted) {
                self.leave_end(end, reason)?;
            }
        }
        self.leave_items(&part.items, reason)
    }

    /// Leaves open places empty; says whether there were any.
    fn leave_fixing(&mut self, id: FixingId, reason: &str) -> Result<bool, Refusal> {
        let fixing = self.job.fixing(id)?;
        let places = fixing.where_state(|s| matches!(s, PlaceState::Open | PlaceState::Broken));
        if places.is_empty() {
            return Ok(false);
        }
        self.leave_places(id, places, reason)?;
        Ok(true)
    }

    pub fn leave_empty(
        &mut self,
        id: FixingId,
        places: Vec<u16>,
        reason: &str,
    ) -> Result<(), Refusal> {
        reasoned(reason)?;
        self.leave_places(id, places, reason)
    }

    fn leave_places(
        &mut self,
        id: FixingId,
        places: Vec<u16>,
        reason: &str,
    ) -> Result<(), Refusal> {
        let fixing = self.job.fixing(id)?;
        let wanted_after = fixing.wanted().saturating_sub(places.len());
        self.left(Target::Fixing(id), places, reason)?;
        // Washers that no place wants any more.
        for (line, extra) in &fixing.extras {
            let Some(row) = self.job.lines.get(*line) else {
                continue;
            };
            let lacking = (wanted_after as u32 * u32::from(extra.per_place))
                .saturating_sub(row.count(Account::Fixing(id)));
            let mut over = row.loose().saturating_sub(lacking);
            for (from, there) in row.loose_at() {
                let n = there.min(over);
                if n == 0 {
                    break;
                }
                over -= n;
                self.push(Act::Moved {
                    line: *line,
                    from,
                    to: Account::LeftOff,
                    n,
                    reason: reason.to_owned(),
                });
            }
        }
        if wanted_after == 0 {
            self.leave_items(&fixing.items, reason)?;
        }
        Ok(())
    }

    fn leave_end(&mut self, id: EndId, reason: &str) -> Result<(), Refusal> {
        self.left(Target::End(id), Vec::new(), reason)?;
        let items = self.job.end_of(id)?.items.clone();
        self.leave_items(&items, reason)
    }

    fn leave_items(&mut self, items: &[ItemId], reason: &str) -> Result<(), Refusal> {
        for &item in items {
            if self.job.items.get(item).is_some_and(|i| !i.finished()) {
                self.left(Target::Item(item), Vec::new(), reason)?;
            }
        }
        Ok(())
    }
}
