//! How a demo job says what comes off: parts with their fixings, connections
//! with their ends, in few words.
use countback_core::job::*;
use countback_core::journal::*;

use crate::bench::{spec, take_off};

/// A fixing as it is undone.
pub struct F(pub FixingDraft);

impl F {
    pub fn new(fastener: &str, count: u16) -> Self {
        Self(FixingDraft::new(spec(fastener), count))
    }
    pub fn place(mut self, place: &str) -> Self {
        self.0.place = place.to_owned();
        self
    }
    /// Newton metres, as this job's people have them from the plate or the book.
    pub fn stages(mut self, newton_metres: &[u32], source: &str) -> Self {
        let stage = |&n: &u32| Figure::Torque {
            milli: n * 1_000,
            unit: countback_core::torque::TorqueUnit::NewtonMetre,
        };
        self.0.detail.stages = newton_metres.iter().map(stage).collect();
        self.0.detail.source = source.to_owned();
        self
    }
    pub fn then_turn(mut self, degrees: u16) -> Self {
        self.0.detail.stages.push(Figure::Angle { degrees });
        self
    }
    pub fn tool(mut self, tool: &str) -> Self {
        self.0.detail.tool = tool.to_owned();
        self
    }
    pub fn way(mut self, way: WayIn) -> Self {
        self.0.detail.way = Some(way);
        self
    }
    pub fn spanner_only(mut self) -> Self {
        self.0.detail.spanner_only = true;
        self
    }
    pub fn watch(mut self, watch: &str) -> Self {
        self.0.detail.watch = watch.to_owned();
        self
    }
    pub fn safety(mut self) -> Self {
        self.0.detail.safety = true;
        self
    }
    pub fn reuse(mut self, reuse: Reuse) -> Self {
        self.0.reuse = reuse;
        self
    }
    pub fn slackened(mut self, n: u16) -> Self {
        self.0.slackened = n;
        self
    }
    pub fn found_empty(mut self, n: u16) -> Self {
        self.0.found_empty = n;
        self
    }
    pub fn extra(mut self, per_place: u8, what: &str) -> Self {
        self.0.extras.push(Extra {
            spec: spec(what),
            per_place,
        });
        self
    }
    /// It holds this part as well.
    pub fn also(mut self, part: PartId) -> Self {
        self.0.also.push(part);
        self
    }
    pub fn union_bolt(mut self) -> Self {
        self.0.union = true;
        self
    }
}

/// Where the fasteners go.
pub enum Loose {
    Bench,
    /// A container of its own, of this kind.
    New(ContainerKind),
    /// One that is there already, by its name.
    Have(&'static str),
}

/// A part and what comes off with it.
pub struct Off {
    pub(super) it: TakeOff,
    pub(super) after: Vec<(&'static str, Why)>,
    pub(super) into: Loose,
    pub(super) sketch: &'static str,
}

impl Off {
    pub fn new(name: &str, lies: &str) -> Self {
        let mut it = take_off(name);
        it.part.lies = lies.to_owned();
        Self {
            it,
            after: Vec::new(),
            into: Loose::New(ContainerKind::Bag),
            sketch: "",
        }
    }
    pub fn after(mut self, first: &'static str, why: Why) -> Self {
        self.after.push((first, why));
        self
    }
    pub fn fix(mut self, f: F) -> Self {
        self.it.fixings.push(f.0);
        self
    }
    pub fn item(mut self, kind: ItemKind, name: &str, size: &str, count: u16) -> Self {
        let (name, size) = (name.to_owned(), size.to_owned());
        self.it.items.push(ItemDraft {
            kind,
            name,
            size,
            count,
        });
        self
    }
    pub fn treat(mut self, kind: TreatmentKind, product: &str, cure_min: u32, fill: bool) -> Self {
        self.it.treatments.push(
            Treatment {
                kind,
                product: product.to_owned(),
                on: Target::Job,
                cure_min,
                open_min: None,
                holds_fill: fill,
                holds_start: fill,
                holds_cover: false,
            }
            .into(),
        );
        self
    }
    pub fn opening(mut self, name: &str) -> Self {
        self.it.openings.push(name.to_owned());
        self
    }
    pub fn hazards(mut self, hazards: &[Hazard]) -> Self {
        self.it.part.hazards = hazards.to_vec();
        self
    }
    pub fn note(mut self, note: &str) -> Self {
        self.it.part.note = note.to_owned();
        self
    }
    pub fn aside(mut self) -> Self {
        self.it.part.aside = true;
        self
    }
    pub fn with(mut self, part: PartId) -> Self {
        self.it.part.carried_by = Some(part);
        self
    }
    pub fn loose(mut self, into: Loose) -> Self {
        self.into = into;
        self
    }
    pub fn sketch(mut self, sketch: &'static str) -> Self {
        self.sketch = sketch;
        self
    }
    /// The part has nothing loose to put away.
    pub fn nothing_loose(self) -> Self {
        self.loose(Loose::Bench)
    }
}

/// A connection and its two ends: the part it sits on (none for the machine),
/// its label, how it is joined and whether it is parted.
pub struct Connect {
    pub kind: ConnectionKind,
    pub name: &'static str,
    pub a: (&'static str, &'static str, Joint, bool),
    pub b: (&'static str, &'static str, Joint, bool),
    pub route: &'static [(RouteKind, &'static str, &'static str)],
    pub tagged: bool,
}
