//! What the checks ask of the job: is the thing there, is there enough of it,
//! is the place or end in a state that allows it.
use super::*;

impl Job {
    pub(crate) fn part(&self, id: PartId) -> Result<&Part, Refusal> {
        self.parts.get(id).ok_or(Refusal::Unknown(Kind::Part))
    }
    pub(crate) fn fixing(&self, id: FixingId) -> Result<&Fixing, Refusal> {
        self.fixings.get(id).ok_or(Refusal::Unknown(Kind::Fixing))
    }
    pub(crate) fn fluid(&self, id: FluidId) -> Result<&Fluid, Refusal> {
        self.fluids.get(id).ok_or(Refusal::Unknown(Kind::Fluid))
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

    /// What final tightening of a fixing still waits for.
    pub fn held_by(&self, fixing: &Fixing) -> Option<Hold> {
        let other_open = || {
            let parts = fixing.parts.iter().filter_map(|&p| self.parts.get(p));
            parts
                .flat_map(|p| &p.fixings)
                .filter_map(|&f| self.fixings.get(f))
                .any(|f| self.open_places(f) > 0)
        };
        let waits = |&&(hold, met): &&(Hold, bool)| match hold {
            Hold::Neighbours => !met && other_open(),
            Hold::Loaded | Hold::Hot => !met,
        };
        fixing.holds.iter().find(waits).map(|it| it.0)
    }

    pub(super) fn check_round(&self, round: &Round) -> Fit {
        let bad = Err(Refusal::BadRound {
            fixing: round.fixing,
        });
        let n = self.fixing(round.fixing)?.places.len();
        if let Some(photo) = round.photo {
            has(&self.photos, photo, Kind::Photo)?;
        }
        if round.goes_round(n) { Ok(()) } else { bad }
    }

    /// Two lines or more, each once and of the same parts.
    pub(super) fn check_ring(&self, ring: &Ring) -> Fit {
        let fixing = ring.lines.first().copied().unwrap_or_default();
        let parts = &self.fixing(fixing)?.parts;
        let mut places = Vec::new();
        let mut alike = ring.lines.len() > 1;
        for (at, &line) in ring.lines.iter().enumerate() {
            let it = self.fixing(line)?;
            alike &= it.parts == *parts && !ring.lines.iter().take(at).any(|&l| l == line);
            places.push(it.places.len());
        }
        if alike && ring.goes_round(&places) {
            Ok(())
        } else {
            Err(Refusal::BadRound { fixing })
        }
    }

    /// The account that loose ones of a line are taken from first.
    pub(crate) fn loose_first(&self, line: LineId) -> Account {
        let line = self.lines.get(line);
        line.and_then(Line::loose_first).unwrap_or(Account::Bench)
    }

    /// One of the line lies loose.
    pub(super) fn loose_one(&self, line: LineId) -> Fit {
        self.stock(line, self.loose_first(line), 1)
    }

    pub(super) fn wanted(&self, want: Want) -> Fit {
        match want {
            Want::Item(it) => has(&self.items, it, Kind::Item),
            Want::Fixing(it) => has(&self.fixings, it, Kind::Fixing),
            Want::Extra(it) => self.goes_with(it),
            Want::Line(it) => has(&self.buys, it, Kind::Buy),
        }
    }

    /// n more of a line may come.
    pub(super) fn room(&self, line: LineId, n: u32) -> Fit {
        let total = self.lines.get(line).map_or(0, Line::total);
        if total.saturating_add(n) > MOST_OF_A_LINE {
            return Err(Refusal::CountTooLarge {
                most: MOST_OF_A_LINE.saturating_sub(total),
            });
        }
        Ok(())
    }

    /// What goes into a hole: no part, washer or rag does.
    pub(crate) fn screws(&self, line: LineId) -> Fit {
        let row = self.lines.get(line).ok_or(Refusal::Unknown(Kind::Line))?;
        match row.thing {
            What::Fastener(_) | What::Stray(_) => Ok(()),
            _ => Err(Refusal::Unknown(Kind::Line)),
        }
    }

    /// What goes with a fastener: a washer, spacer, shim or stud.
    pub(crate) fn goes_with(&self, line: LineId) -> Fit {
        let row = self.lines.get(line).ok_or(Refusal::Unknown(Kind::Line))?;
        match row.thing {
            What::Extra(_) => Ok(()),
            _ => Err(Refusal::Unknown(Kind::Line)),
        }
    }

    /// A fixing takes as many of its washers as it has places for.
    pub(super) fn extra_wanted(&self, fixing: FixingId, line: LineId, n: u32) -> Fit {
        let it = self.fixing(fixing)?;
        let Some(lacking) = self.extras_lacking(fixing, it, line) else {
            return Ok(());
        };
        if lacking == 0 {
            return Err(Refusal::AlreadySo(Target::Fixing(fixing)));
        }
        count(n, lacking)
    }

    pub(super) fn needs(&self, needs: &[Need]) -> Fit {
        needs.iter().try_for_each(|need| self.known(need.first))
    }

    pub(super) fn check_undone(&self, it: &FixingUndone) -> Fit {
        for &part in &it.parts {
            self.part(part)?;
        }
        count(u32::from(it.count), 999)?;
        if it.extras.len() > MOST_EXTRAS {
            return Err(Refusal::CountTooLarge {
                most: MOST_EXTRAS as u32,
            });
        }
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

    /// What is said later to go with each fastener of a fixing.
    pub(super) fn check_extra(&self, fixing: FixingId, extra: &Extra, under: u16) -> Fit {
        let it = self.fixing(fixing)?;
        if extra.per_place == 0 {
            return Err(Refusal::CountZero);
        }
        let most = MOST_OF_A_LINE / (it.places.len() as u32).max(1);
        if it.extras.len() >= MOST_EXTRAS || u32::from(extra.per_place) > most {
            return Err(Refusal::CountTooLarge {
                most: (MOST_EXTRAS as u32).min(most),
            });
        }
        let filled = it.count_where(|p| p.state.filled()) as u32;
        if u32::from(under) > filled {
            return Err(Refusal::CountTooLarge { most: filled });
        }
        Ok(())
    }

    /// Accounts that a hand can put things into or take them from.
    pub(crate) fn movable(&self, account: Account) -> Fit {
        match account {
            Account::Container(id) => has(&self.containers, id, Kind::Container),
            Account::Fixing(_) | Account::Item(_) | Account::Part(_) | Account::Inside(_) => {
                Err(Refusal::Unknown(Kind::Line))
            }
            _ => Ok(()),
        }
    }

    pub(crate) fn stock(&self, line: LineId, from: Account, wanted: u32) -> Fit {
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

    pub(crate) fn each_place(
        &self,
        id: FixingId,
        places: &[u16],
        fits: impl Fn(PlaceState) -> bool,
    ) -> Fit {
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

    pub(super) fn end_is(&self, end: EndId, fits: impl Fn(EndState) -> bool) -> Fit {
        let state = self.end_of(end)?.state;
        if fits(state) {
            Ok(())
        } else {
            Err(Refusal::EndIs { end, state })
        }
    }

    /// A part comes off again only when nothing holds it any more.
    pub(super) fn unfastened(&self, id: PartId) -> Fit {
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

    pub(crate) fn open_stray(&self, id: StrayId) -> Fit {
        let it = self.strays.get(id).ok_or(Refusal::Unknown(Kind::Stray))?;
        unless(it.settled, Target::Stray(id))
    }

    pub(super) fn check_left_off(&self, what: Target, places: &[u16]) -> Fit {
        match what {
            Target::Part(id) => match self.part(id)?.state {
                PartState::Placed => Err(Refusal::PartIsBack(id)),
                PartState::LeftOff => Err(Refusal::AlreadySo(what)),
                PartState::Off | PartState::Aside => self.loose_one(LineId(id.0)),
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

/// What is called by words that can be put right.
pub(super) const fn has_name(what: Target) -> bool {
    !matches!(
        what,
        Target::Job | Target::Step(_) | Target::Stray(_) | Target::AfterRun(_) | Target::Line(_)
    )
}

pub(super) fn has<I: Id, T>(table: &Table<I, T>, id: I, kind: Kind) -> Fit {
    if table.has(id) {
        Ok(())
    } else {
        Err(Refusal::Unknown(kind))
    }
}

pub(super) fn count(n: u32, most: u32) -> Fit {
    match n {
        0 => Err(Refusal::CountZero),
        n if n > most => Err(Refusal::CountTooLarge { most }),
        _ => Ok(()),
    }
}

/// What can be said to hold a fluid in, or not.
pub(super) const fn is_joint(on: Target) -> bool {
    matches!(
        on,
        Target::Part(_)
            | Target::Fixing(_)
            | Target::Connection(_)
            | Target::Item(_)
            | Target::Treatment(_)
            | Target::Inside(_)
    )
}

pub(super) fn unless(already: bool, what: Target) -> Fit {
    if already {
        Err(Refusal::AlreadySo(what))
    } else {
        Ok(())
    }
}
