//! The double entry of things: for every line,
//! in place + in containers + on the bench + scrapped + missing + spare +
//! left off = declared + new stock, after every act, always.
use crate::fastener::FastenerSpec;
use crate::journal::{Account, Target};

/// What kind of thing a line counts.
#[derive(Clone, Debug, PartialEq)]
pub enum Thing {
    Fastener(FastenerSpec),
    /// A washer, spacer, shim or stud that goes with a fastener.
    Extra(FastenerSpec),
    Part,
    Item,
    /// Something put into the machine for the work.
    Aid,
    /// Of unknown origin.
    Stray(FastenerSpec),
}

impl Thing {
    /// What it is, where it is told by head, thread and length.
    pub fn spec(&self) -> Option<&FastenerSpec> {
        match self {
            Self::Fastener(spec) | Self::Extra(spec) | Self::Stray(spec) => Some(spec),
            Self::Part | Self::Item | Self::Aid => None,
        }
    }
}

/// Like things, counted together.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// What they belong to.
    pub of: Target,
    pub thing: Thing,
    /// How many were there when the line was opened.
    pub declared: u32,
    /// How many came new since.
    pub new_stock: u32,
    /// How many were ordered, where the line itself is what is bought.
    pub ordered: u32,
    /// Never holds an account with nothing in it.
    at: Vec<(Account, u32)>,
}

/// A move asks for more than the account holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Short {
    pub from: Account,
    pub wanted: u32,
    pub there: u32,
}

impl Line {
    pub(crate) fn open(of: Target, thing: Thing, declared: u32, at: Account) -> Self {
        let at = if declared == 0 {
            Vec::new()
        } else {
            vec![(at, declared)]
        };
        Self {
            of,
            thing,
            declared,
            new_stock: 0,
            ordered: 0,
            at,
        }
    }
    pub fn count(&self, account: Account) -> u32 {
        self.at
            .iter()
            .find(|(a, _)| *a == account)
            .map_or(0, |&(_, n)| n)
    }
    pub fn accounts(&self) -> &[(Account, u32)] {
        &self.at
    }
    /// Every thing of the line, wherever it is.
    pub fn total(&self) -> u32 {
        self.at.iter().map(|&(_, n)| n).sum()
    }
    pub fn balances(&self) -> bool {
        self.total() == self.declared + self.new_stock
    }
    /// In containers and on the bench: off the machine and fit to go back.
    pub fn loose(&self) -> u32 {
        let loose = |a: &Account| matches!(a, Account::Container(_) | Account::Bench);
        self.at
            .iter()
            .filter(|(a, _)| loose(a))
            .map(|&(_, n)| n)
            .sum()
    }
    pub(crate) fn move_n(&mut self, from: Account, to: Account, n: u32) -> Result<(), Short> {
        let there = self.count(from);
        if n > there {
            return Err(Short {
                from,
                wanted: n,
                there,
            });
        }
        if n == 0 || from == to {
            return Ok(());
        }
        if let Some(entry) = self.at.iter_mut().find(|(a, _)| *a == from) {
            entry.1 -= n;
        }
        self.at.retain(|&(_, n)| n > 0);
        self.put(to, n);
        Ok(())
    }
    pub(crate) fn add_new(&mut self, to: Account, n: u32) {
        self.new_stock += n;
        self.put(to, n);
    }
    fn put(&mut self, to: Account, n: u32) {
        if n == 0 {
            return;
        }
        match self.at.iter_mut().find(|(a, _)| *a == to) {
            Some(entry) => entry.1 += n,
            None => self.at.push((to, n)),
        }
    }
    /// Where loose ones are, most first, so that a hand knows where to reach.
    pub fn loose_at(&self) -> Vec<(Account, u32)> {
        let mut at: Vec<_> = self.lying_loose().collect();
        at.sort_by_key(most_first);
        at
    }
    /// The first of [`Line::loose_at`].
    pub fn loose_first(&self) -> Option<Account> {
        self.lying_loose()
            .min_by_key(most_first)
            .map(|(account, _)| account)
    }
    fn lying_loose(&self) -> impl Iterator<Item = (Account, u32)> + '_ {
        let loose = |&(a, _): &(Account, u32)| matches!(a, Account::Container(_) | Account::Bench);
        self.at.iter().copied().filter(loose)
    }
}

fn most_first(&(account, n): &(Account, u32)) -> (std::cmp::Reverse<u32>, Account) {
    (std::cmp::Reverse(n), account)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_balances_and_refuses_to_go_short() {
        let mut line = Line::open(Target::Job, Thing::Item, 4, Account::Bench);
        line.add_new(Account::Spare, 2);
        assert_eq!(line.move_n(Account::Bench, Account::Scrapped, 3), Ok(()));
        let short = Short {
            from: Account::Bench,
            wanted: 2,
            there: 1,
        };
        assert_eq!(line.move_n(Account::Bench, Account::Missing, 2), Err(short));
        assert_eq!((line.total(), line.loose()), (6, 1));
        assert!(line.balances());
    }
}
