//! Nothing that Put back offers has ever to be undone: whole jobs are put back
//! by what the page offers and nothing else, while deliveries, decisions, cures
//! and other people's looks are pending and come when they come.
use countback_checks::bench::{Bench, HOUR};
use countback_checks::dice::Dice;
use countback_checks::ways_on::ways_on;
use countback_checks::whole_job::{Draw, strip};
use countback_core::access::AtWork;
use countback_core::audit::{Owed, Rule, Verdict};
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::view::{self, At, NextAct, PutBackPage};
use countback_core::words::Style;

const JOBS: u64 = 100;

struct Hand<'a> {
    bench: &'a mut Bench,
    dice: &'a mut Dice,
}

impl Hand<'_> {
    fn at(&self) -> At {
        At {
            now: self.bench.ctx.now,
            open_since: 0,
            style: Style::default(),
        }
    }
    fn page(&self) -> PutBackPage {
        view::put_back_page(&self.bench.book, self.at(), &AtWork::named("Ann"))
    }

    /// Puts the job back; says what stopped it, if anything did.
    fn put_back(&mut self) -> Result<(), String> {
        for _ in 0..5_000 {
            let page = self.page();
            if page.all_back {
                return Ok(());
            }
            let mut offered: Vec<Target> = page
                .now
                .iter()
                .flat_map(|g| &g.rows)
                .map(|r| r.what)
                .collect();
            let begun = page.begun.iter().filter(|r| !r.look);
            offered.extend(begun.map(|r| r.what));
            self.dice.shuffle(&mut offered);
            if let Some(next) = page.next.filter(|_| self.dice.once_in(3)) {
                offered.insert(0, next.what);
            }
            let outside = self.dice.once_in(6) && self.comes();
            let mut done = outside;
            for what in offered.into_iter().filter(|_| !outside) {
                done = self.act(what)?;
                if done {
                    break;
                }
            }
            if !done && !self.take_out() && !self.comes() {
                let held: Vec<String> = page
                    .blocked
                    .iter()
                    .chain(&page.waiting)
                    .map(|r| format!("{}: {}", r.title, r.note))
                    .collect();
                return Err(format!("nothing is offered and nothing pending: {held:#?}"));
            }
        }
        Err("it never ends".to_owned())
    }

    /// The smallest step of what is offered. Nothing is meant against advice,
    /// and no other thing comes off for it. False where only another person is
    /// missing.
    fn act(&mut self, what: Target) -> Result<bool, String> {
        let before = self.bench.book.journal().len();
        match what {
            Target::Part(part) => {
                let it = self.bench.job().parts.get(part).unwrap().clone();
                self.renew(&it.items);
                self.put_on(&it.treatments);
                if it.off() {
                    let place = Command::PlacePart {
                        part,
                        anyway: false,
                    };
                    self.bench
                        .tell(place)
                        .map_err(|why| format!("offered, yet refused: {} {why:?}", it.name))?;
                } else {
                    for fixing in it.fixings {
                        if self.fasten(fixing)? {
                            break;
                        }
                    }
                }
            }
            Target::Fixing(fixing) => drop(self.fasten(fixing)?),
            Target::End(end) => {
                let it = self.bench.job().end(end).unwrap().clone();
                self.renew(&it.items);
                let command = match it.state {
                    EndState::Pushed => Command::Record(Act::EndSecured { end }),
                    _ => Command::Rejoin {
                        end,
                        seat: end,
                        anyway: false,
                    },
                };
                if !it.state.finished() {
                    self.bench
                        .tell(command)
                        .map_err(|why| format!("offered, yet refused: {why:?}"))?;
                }
            }
            other => return Err(format!("offered: {other:?}")),
        }
        Ok(self.bench.book.journal().len() > before)
    }

    fn renew(&mut self, items: &[ItemId]) {
        for &item in items {
            let it = self.bench.job().items.get(item).unwrap();
            let n = u32::from(it.count - it.renewed).min(it.ready);
            if n > 0 && !it.left_off {
                self.bench.ok(Command::FitItem {
                    item,
                    n,
                    old: false,
                });
            }
        }
    }

    fn put_on(&mut self, treatments: &[TreatmentId]) {
        for &treatment in treatments {
            if self
                .bench
                .job()
                .treatments
                .get(treatment)
                .unwrap()
                .applied
                .is_none()
            {
                self.bench.record(Act::TreatmentApplied { treatment });
            }
        }
    }

    /// The one act that the page of the part has for the fixing; says whether it
    /// was this hand's.
    fn fasten(&mut self, fixing: FixingId) -> Result<bool, String> {
        let it = self.bench.job().fixings.get(fixing).unwrap().clone();
        self.renew(&it.items);
        let at = self.at();
        let row = view::fixing_row(self.bench.job(), fixing, None, at).unwrap();
        let which = Thing::All;
        let command = match row.next {
            NextAct::FitExtras => Command::FitExtras { fixing },
            NextAct::Start { n } => {
                self.put_on(&it.treatments);
                Command::Start {
                    fixing,
                    which: Thing::Next(n),
                    line: None,
                    anyway: false,
                }
            }
            NextAct::Tighten { to, value, .. } => Command::Tighten {
                fixing,
                which,
                to,
                value,
            },
            // In before all that it holds was there: touched once more by name.
            NextAct::Doubt { .. } => Command::Tighten {
                fixing,
                which: Thing::Places(it.where_state(|s| s == PlaceState::Doubtful)),
                to: match it.detail.stages.len() {
                    0 | 1 => Tight::Final,
                    _ => Tight::Stage(1),
                },
                value: None,
            },
            NextAct::LastRound => Command::GoRound {
                fixing,
                turned: false,
            },
            NextAct::Check
            | NextAct::Repair
            | NextAct::PartFirst
            | NextAct::Wait { .. }
            | NextAct::Done => return Ok(false),
        };
        let said = format!("{command:?}");
        match self.bench.tell(command) {
            Ok(_) => Ok(true),
            Err(why) => Err(format!("next, yet refused: {said} {why:?}")),
        }
    }

    /// What the page lists as still inside.
    fn take_out(&mut self) -> bool {
        let page = self.page();
        let Some(&(inside, _)) = self.dice.pick(&page.inside) else {
            return false;
        };
        let n = self.bench.job().insides.get(inside).unwrap().n_in;
        self.bench.record(Act::TakenOut { inside, n });
        true
    }

    /// One thing comes that no hand on the machine can hurry.
    fn comes(&mut self) -> bool {
        let wants = self.bench.job().to_buy();
        let pending: Vec<Owed> = self
            .bench
            .audit()
            .open
            .into_iter()
            .filter(|o| outside(o.rule))
            .collect();
        let n = self.dice.below(wants.len() + pending.len());
        let Some(owed) = pending.get(n) else {
            let Some(want) = wants.get(n.saturating_sub(pending.len())) else {
                return false;
            };
            let (want, n) = (want.want, want.n);
            self.bench.record(Act::Arrived { want, n });
            return true;
        };
        if owed.rule == Rule::Curing {
            self.bench.ctx.now += 25 * HOUR;
            return true;
        }
        let by = std::mem::replace(&mut self.bench.ctx.by, "Cyd".to_owned());
        let way = ways_on(self.bench.job(), owed).remove(0);
        self.bench.ok(way);
        self.bench.ctx.by = by;
        true
    }
}

/// What waits for a decision, a cure, a repair or another person.
fn outside(rule: Rule) -> bool {
    use Rule::*;
    matches!(
        rule,
        Decide | DoWork | LookAt | OldOrNew | RepairPlace | IndependentCheck | Curing
    )
}

/// What is owed by the machine as a whole, once all is back.
fn last_of_all(rule: Rule) -> bool {
    use Rule::*;
    outside(rule) || matches!(rule, TakeOut | MakeSafe | Fill | Bleed | Restore | AfterRun)
}

#[test]
fn nothing_offered_has_ever_to_be_undone() {
    let mut failed = Vec::new();
    for seed in 0..JOBS {
        let mut dice = Dice::new(seed);
        let draw = Draw {
            parts: dice.from_to(2, 25),
            made_safe: true,
            late: false,
            ways: seed % 2 == 0,
        };
        let mut bench = strip(&mut dice, draw);
        let start = bench.book.journal().len();
        let mut hand = Hand {
            bench: &mut bench,
            dice: &mut dice,
        };
        if let Err(why) = hand.put_back() {
            failed.push(format!("seed {seed}: {why}"));
            continue;
        }
        // All that is left is no part's.
        for _ in 0..200 {
            let open = bench.audit().open;
            let Some(owed) = open.first() else { break };
            if let Some(wrong) = open.iter().find(|o| !last_of_all(o.rule)) {
                failed.push(format!("seed {seed}: all back, but {wrong:?}"));
                break;
            }
            bench.ctx.by = "Cyd".to_owned();
            match ways_on(bench.job(), owed).into_iter().next() {
                Some(way) => drop(bench.ok(way)),
                None => bench.ctx.now += 25 * HOUR,
            }
        }
        let verdict = bench.audit().verdict;
        if verdict != Verdict::Complete {
            failed.push(format!("seed {seed}: {verdict:?}"));
        }
        let undone = |e: &&Event| {
            matches!(
                e.act,
                Act::PartOffAgain { .. }
                    | Act::FastenersUndone { .. }
                    | Act::EndParted { .. }
                    | Act::Excepted { .. }
            )
        };
        assert_eq!(bench.book.journal().iter().skip(start).find(undone), None);
    }
    assert_eq!(failed, Vec::<String>::new());
}
