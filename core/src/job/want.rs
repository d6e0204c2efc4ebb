//! What must be bought: worked out from what is owed, never kept by hand.
use super::*;
use crate::ledger::Thing as What;

/// A line of the to-buy list.
#[derive(Clone, Debug, PartialEq)]
pub struct ToBuy {
    pub want: Want,
    /// Still to be had, ordered ones among them.
    pub n: u32,
    /// On order and not here yet.
    pub on_order: u32,
    /// What it is for.
    pub on: Target,
}

impl Job {
    /// Places of a fixing with nothing in them that want something.
    pub fn open_places(&self, fixing: &Fixing) -> u32 {
        fixing.count_where(|p| matches!(p.state, PlaceState::Open | PlaceState::Broken)) as u32
    }

    /// How many of a line of washers and the like a fixing still lacks in
    /// place; none when the line is not one of its own.
    pub fn extras_lacking(&self, id: FixingId, fixing: &Fixing, line: LineId) -> Option<u32> {
        let (_, extra) = fixing.extras.iter().find(|(l, _)| *l == line)?;
        let wanted = fixing.wanted() as u32 * u32::from(extra.per_place);
        // One of another fixing that is just like its own is as good.
        let alike = |l: &&LineId| {
            let thing = self.lines.get(**l).map(|l| &l.thing);
            matches!(thing, Some(What::Extra(spec)) if spec.stands_for(&extra.spec))
        };
        let there = std::iter::once(&line).chain(fixing.strange.iter().filter(alike));
        let here: u32 = there
            .filter_map(|&l| self.lines.get(l))
            .map(|l| l.count(Account::Fixing(id)))
            .sum();
        Some(wanted.saturating_sub(here))
    }

    /// How many fasteners of the wanted kind are still not to hand.
    pub fn short_of(&self, fixing: &Fixing) -> u32 {
        let loose = self.lines.get(fixing.wants).map_or(0, Line::loose);
        self.open_places(fixing).saturating_sub(loose)
    }

    /// How many of a line of washers and the like are lacking and not to hand.
    pub fn short_of_extra(&self, id: FixingId, fixing: &Fixing, line: LineId) -> u32 {
        let loose = self.lines.get(line).map_or(0, Line::loose);
        let lacking = self.extras_lacking(id, fixing, line).unwrap_or(0);
        lacking.saturating_sub(loose)
    }

    /// How many open places of a fixing cannot be filled with what is to hand,
    /// and what they are short of most: its fasteners, or what goes with each.
    pub fn cannot_fill(&self, id: FixingId, fixing: &Fixing) -> (u32, Want) {
        let open = self.open_places(fixing);
        let mut most = (self.short_of(fixing), Want::Fixing(id));
        for (line, extra) in &fixing.extras {
            let short = self.short_of_extra(id, fixing, *line);
            let places = short.div_ceil(u32::from(extra.per_place).max(1)).min(open);
            if places > most.0 {
                most = (places, Want::Extra(*line));
            }
        }
        most
    }

    /// Everything that must be bought, in order of coming up.
    pub fn to_buy(&self) -> Vec<ToBuy> {
        let items = self
            .items
            .iter()
            .filter(|(_, it)| it.to_buy() > 0)
            .map(|(id, it)| ToBuy {
                want: Want::Item(id),
                n: it.to_buy(),
                on_order: it.ordered.saturating_sub(it.arrived),
                on: Target::Item(id),
            });
        let fixings = self.fixings.iter().filter_map(|(id, it)| {
            let n = self.short_of(it);
            (n > 0).then(|| ToBuy {
                want: Want::Fixing(id),
                n,
                on_order: it.ordered.saturating_sub(it.arrived),
                on: Target::Fixing(id),
            })
        });
        let extras = self.fixings.iter().flat_map(|(id, it)| {
            it.extras.iter().filter_map(move |(line, _)| {
                let n = self.short_of_extra(id, it, *line);
                let row = self.lines.get(*line).filter(|_| n > 0)?;
                Some(ToBuy {
                    want: Want::Extra(*line),
                    n,
                    on_order: row.ordered.saturating_sub(row.new_stock),
                    on: Target::Fixing(id),
                })
            })
        });
        let lines = self
            .buys
            .iter()
            .filter(|(_, it)| it.arrived < it.n)
            .map(|(id, it)| ToBuy {
                want: Want::Line(id),
                n: it.n - it.arrived,
                on_order: it.ordered.saturating_sub(it.arrived),
                on: it.on,
            });
        items.chain(fixings).chain(extras).chain(lines).collect()
    }
}
