//! What is closed up: a part that is on and drawn down, a fixing that is final,
//! an end that is fast. A gasket or sealant that goes under it cannot get there
//! any more before it comes apart again.
use super::*;

impl Job {
    /// What would have to come apart again before a one-use item or a treatment
    /// could go where it belongs; none where it can go there now, or has no such
    /// place.
    pub fn shut_over(&self, what: Target) -> Option<Target> {
        let on = match what {
            Target::Item(id) => self
                .items
                .get(id)
                .filter(|it| lies_under(it.kind))
                .map(|it| it.on),
            Target::Treatment(id) => self.treatments.get(id).map(|it| it.treatment.on),
            _ => None,
        }?;
        let shut = match on {
            Target::Part(id) => self.parts.get(id).is_some_and(|it| self.is_drawn_down(it)),
            Target::Fixing(id) => self.fixings.get(id).is_some_and(is_final),
            Target::End(id) => self
                .end(id)
                .is_some_and(|it| matches!(it.state, EndState::Secured | EndState::Checked)),
            _ => false,
        };
        shut.then_some(on)
    }

    /// The part that is on and was put over a thing before it was done; none
    /// where nothing was, or where it can be reached all the same.
    pub fn covered_by(&self, what: Target) -> Option<PartId> {
        let with = self.part_of_what(what);
        // What lies between a part and the machine is shut in by its joint, not
        // by the part alone.
        let of = match what {
            Target::Item(id) => self.items.get(id).map(|it| it.on),
            Target::Treatment(id) => self.treatments.get(id).map(|it| it.treatment.on),
            _ => None,
        };
        let over = |&id: &PartId| {
            let part = self.parts.get(id)?;
            let mut buried = part.buried.iter();
            (part.state == PartState::Placed
                && of != Some(Target::Part(id))
                && buried.any(|&it| it == what || Some(it) == with))
            .then(|| (self.parts.slot(id), id))
        };
        let known = |what: Target| self.put_over.get(&what).into_iter().flatten();
        let may = known(what).chain(with.into_iter().flat_map(known));
        may.filter_map(over).min().map(|it| it.1)
    }

    /// The port that something is in, the hose that an end is of.
    pub(super) fn part_of_what(&self, what: Target) -> Option<Target> {
        match what {
            Target::Inside(id) => {
                let opening = self.insides.get(id).and_then(|it| it.put.opening);
                opening.map(Target::Opening)
            }
            Target::End(end) => Some(Target::Connection(end.connection)),
            _ => None,
        }
    }

    /// It is in place, and something that holds it is snug or further.
    fn is_drawn_down(&self, part: &Part) -> bool {
        let tight = |f: &Fixing| {
            draws_down(f.spec.kind) && f.places.iter().any(|p| p.state >= PlaceState::Snug)
        };
        let mut fixings = part.fixings.iter().filter_map(|&f| self.fixings.get(f));
        part.state == PartState::Placed && fixings.any(tight)
    }
}

/// All that are in it are final.
fn is_final(it: &Fixing) -> bool {
    it.wanted() > 0 && it.count_where(|p| p.state >= PlaceState::Final) == it.wanted()
}

/// Kinds that lie between what is drawn together. A split pin or a clip goes in
/// when all is tight, a stretch bolt or a lock nut is what draws.
pub(crate) fn lies_under(kind: ItemKind) -> bool {
    match kind {
        ItemKind::Gasket | ItemKind::CrushWasher | ItemKind::ORing | ItemKind::Seal => true,
        ItemKind::SplitPin
        | ItemKind::StretchBolt
        | ItemKind::LockNut
        | ItemKind::Clip
        | ItemKind::Other => false,
    }
}
