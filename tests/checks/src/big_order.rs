//! A large job on its way back, for timing what the Put back screen works out.
//! Shared with the page's own bench, so it needs the core and nothing else.
use countback_core::access::AtWork;
use countback_core::fastener::FastenerSpec;
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::torque::TorqueUnit;
use countback_core::view::{At, PutBackPage, put_back_page};
use countback_core::words::Style;

use crate::random_graphs::Seeded;

/// Parts that came off after others, half of them back and fast.
pub struct BigOrder {
    pub book: Book,
    ctx: Ctx,
    work: AtWork,
}

impl BigOrder {
    /// `count` parts with two bolts each, reached from several sides with
    /// several tools, and `links` times that one had to be off before another,
    /// mostly one that came off shortly before.
    pub fn new(count: usize, links: usize) -> Self {
        let ctx = Ctx {
            now: 1_760_000_000_000,
            device: DeviceId(1),
            by: "Ann".to_owned(),
        };
        let mut it = Self {
            book: Book::default(),
            work: AtWork::named(&ctx.by),
            ctx,
        };
        it.tell(Command::Open {
            head: JobHead {
                title: "All of it".to_owned(),
                machine: String::new(),
                aim: String::new(),
                meter: None,
                units: Units {
                    torque: TorqueUnit::NewtonMetre,
                    length: LengthUnit::Millimetre,
                },
            },
            procedure: None,
        });
        let parts = it.take_off(count, links);
        for part in parts.into_iter().skip(count / 2).rev() {
            it.put_back(part);
        }
        it
    }

    fn take_off(&mut self, count: usize, links: usize) -> Vec<PartId> {
        let mut seeded = Seeded::new(count as u64);
        let mut parts: Vec<PartId> = Vec::with_capacity(count);
        let mut owed = 0;
        let spec: FastenerSpec = "bolt | thread=M8 x 1.25".parse().unwrap_or_default();
        for n in 0..count {
            // What the first few cannot have, the others make up for.
            owed += links / count.max(1) + usize::from(n < links % count.max(1));
            let mut firsts: Vec<usize> = Vec::new();
            for _ in 0..8 * owed {
                if firsts.len() == owed.min(n) {
                    break;
                }
                let back = if seeded.chance(80) { n.min(60) } else { n };
                let first = n - 1 - seeded.below(back);
                if !firsts.contains(&first) {
                    firsts.push(first);
                }
            }
            owed -= firsts.len();
            let need = |first: usize| {
                let first = Target::Part(*parts.get(first)?);
                Some(Need {
                    first,
                    why: Why::BlocksReach,
                })
            };
            let mut fixing = FixingDraft::new(spec.clone(), 2);
            fixing.detail.way = [None, Some(WayIn::Above), Some(WayIn::Below)][seeded.below(3)];
            fixing.detail.tool = ["10 mm", "13 mm", "T30"][seeded.below(3)].to_owned();
            let events = self.tell(Command::TakeOff(Box::new(TakeOff {
                part: PartOff {
                    name: format!("part {n}"),
                    lies: "shelf".to_owned(),
                    aside: false,
                    after: firsts.into_iter().filter_map(need).collect(),
                    carried_by: None,
                    hazards: Vec::new(),
                    note: String::new(),
                    planned: None,
                },
                fixings: vec![fixing],
                container: ContainerPick::Bench,
                connections: Vec::new(),
                items: Vec::new(),
                openings: Vec::new(),
                treatments: Vec::new(),
                findings: Vec::new(),
                photos: Vec::new(),
                carried: Vec::new(),
            })));
            let part = events.iter().find(|e| matches!(e.act, Act::PartOff(_)));
            parts.extend(part.map(|e| PartId(e.id.thing(0))));
        }
        parts
    }

    fn put_back(&mut self, part: PartId) {
        self.tell(Command::PlacePart { part, anyway: true });
        let fixings = self.book.job().parts.get(part).map(|p| p.fixings.clone());
        for fixing in fixings.into_iter().flatten() {
            self.tell(Command::Start {
                fixing,
                which: Thing::All,
                line: None,
                anyway: false,
            });
            self.tell(Command::Tighten {
                fixing,
                which: Thing::All,
                to: Tight::Final,
                value: None,
            });
        }
    }

    /// What is not allowed does not happen.
    fn tell(&mut self, command: Command) -> Vec<Event> {
        self.ctx.now += 60_000;
        let events = self.book.decide(command, &self.ctx).unwrap_or_default();
        self.book.append(events.clone());
        events
    }

    /// What the screen shows.
    pub fn page(&self) -> PutBackPage {
        let at = At {
            now: self.ctx.now,
            open_since: 0,
            style: Style::default(),
        };
        put_back_page(&self.book, at, &self.work)
    }

    /// Does what the screen says is next.
    pub fn go_on(&mut self) {
        if let Some(part) = self.page().next.and_then(|row| row.part) {
            self.put_back(part);
        }
    }
}
