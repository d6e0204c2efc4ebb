//! The search: branch on a cut, since every way takes one of its things.
//! Branch i takes the i-th and rules out those before it, so that no way is
//! looked at twice; what the floor and the best way so far rule out is never
//! opened.

use super::bound::{Adding, NEVER, Room};
use super::rules::{Local, Rules};
use super::{EXACT_UP_TO, WITH_SMALL};

/// What was found.
#[derive(Debug)]
pub(super) struct Found {
    /// The things on the way, the goal among them.
    pub(super) used: Vec<bool>,
    /// Proven floor of any way.
    pub(super) at_least: u64,
    pub(super) exact: bool,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Mark {
    Free,
    Taken,
    Barred,
}

struct Search<'a> {
    rules: &'a Rules,
    room: Room,
    limit: u64,
    best: u64,
    used: Vec<bool>,
    /// The lowest floor among branches left unopened for want of effort.
    given_up: u64,
}

pub(super) fn least(rules: &Rules, effort: u64) -> Found {
    let limit = if rules.counted <= EXACT_UP_TO + 1 && rules.things() <= WITH_SMALL {
        u64::MAX
    } else {
        effort
    };
    let mut search = Search {
        rules,
        room: Room::new(rules),
        limit,
        best: NEVER,
        used: vec![true; rules.things()],
        given_up: NEVER,
    };
    let mut marks = vec![Mark::Free; rules.things()];
    let forced = rules.forced();
    if !forced.choice {
        // No alternative anywhere on the way: there is only one.
        let at_least = cost_of(rules, &forced.used);
        return Found {
            used: forced.used,
            at_least,
            exact: true,
        };
    }
    for (mark, _) in marks
        .iter_mut()
        .zip(&forced.used)
        .filter(|(_, used)| **used)
    {
        *mark = Mark::Taken;
    }
    let paid = cost_of(rules, &forced.used);
    let price = search.prices(&marks);
    // Both quick ways, for each of the two promises made about larger jobs.
    search.try_quick(&price, Adding::All);
    search.try_quick(&price, Adding::Dearest);
    search.open(marks, paid, 0);
    let at_least = search.best.min(search.given_up);
    Found {
        exact: at_least == search.best,
        used: search.used,
        at_least,
    }
}

fn cost_of(rules: &Rules, used: &[bool]) -> u64 {
    used.iter()
        .zip(&rules.cost)
        .filter(|(used, _)| **used)
        .map(|(_, cost)| cost)
        .sum()
}

impl Search<'_> {
    fn prices(&self, marks: &[Mark]) -> Vec<u64> {
        let of = |&head: &Local| match marks[head as usize] {
            Mark::Free => self.rules.cost[head as usize],
            Mark::Taken => 0,
            Mark::Barred => NEVER,
        };
        self.rules.head.iter().map(of).collect()
    }

    fn try_quick(&mut self, price: &[u64], adding: Adding) {
        if let Some((cost, used)) = self.room.quick(self.rules, price, adding, self.best)
            && cost < self.best
        {
            self.best = cost;
            self.used = used;
        }
    }

    /// Looks for a better way among those that take what is taken, for which
    /// `paid` is paid, and nothing barred. `known` is a floor proven before.
    fn open(&mut self, mut marks: Vec<Mark>, mut paid: u64, mut known: u64) {
        let mut cuts = Vec::new();
        let mut cut = loop {
            if self.room.effort > self.limit && known > 0 {
                self.given_up = self.given_up.min(known);
                return;
            }
            let full = self.prices(&marks);
            let mut price = full.clone();
            let floor = self.room.floor(self.rules, &mut price, &mut cuts);
            if floor == NEVER {
                return;
            }
            // A later floor may come out lower; the higher one stays true.
            known = known.max(paid + floor);
            if known >= self.best {
                return;
            }
            self.try_quick(&full, Adding::All);
            if known >= self.best {
                return;
            }
            if self.room.effort > self.limit {
                self.given_up = self.given_up.min(known);
                return;
            }
            self.bar_too_dear(&mut marks, &price, paid + floor);
            let Some(cut) = cuts.iter().min_by_key(|cut| cut.len()) else {
                return;
            };
            if cut.len() > 1 {
                break cut.clone();
            }
            for cut in &cuts {
                if let [only] = cut[..]
                    && marks[only as usize] != Mark::Taken
                {
                    marks[only as usize] = Mark::Taken;
                    paid += self.rules.cost[only as usize];
                }
            }
        };
        cut.retain(|&x| marks[x as usize] == Mark::Free);
        // The one that frees most first: a good way early shuts more branches.
        cut.sort_by_key(|&x| {
            let rank = self.rules.cost[x as usize] / (1 + self.rules.askers(x).len() as u64);
            (rank, x)
        });
        for thing in cut {
            if known >= self.best {
                return;
            }
            let mut inner = marks.clone();
            inner[thing as usize] = Mark::Taken;
            self.open(inner, paid + self.rules.cost[thing as usize], known);
            marks[thing as usize] = Mark::Barred;
        }
    }

    /// Bars what cannot be on a better way: its price after all cuts are paid
    /// comes on top of the floor.
    fn bar_too_dear(&self, marks: &mut [Mark], price: &[u64], floor: u64) {
        let mut least = vec![NEVER; self.rules.things()];
        for (rule, &head) in self.rules.head.iter().enumerate() {
            let slot = &mut least[head as usize];
            *slot = (*slot).min(price[rule]);
        }
        for (thing, mark) in marks.iter_mut().enumerate() {
            if *mark == Mark::Free && least[thing].saturating_add(floor) >= self.best {
                *mark = Mark::Barred;
            }
        }
    }
}
