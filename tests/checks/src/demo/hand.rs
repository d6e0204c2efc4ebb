//! The hand that works a demo job: commands through the core on one made-up
//! phone and one made-up clock, so that the same job comes out every time.
use std::collections::{BTreeMap, BTreeSet};

use countback_core::job::*;
use countback_core::journal::*;
use countback_core::tag::{DeviceBlocks, TagCode, allocate};

use super::draw::{Picture, draw, spots};
use super::terms::{Connect, Loose, Off};
use crate::bench::Bench;

pub struct Hand {
    pub bench: Bench,
    tags: BTreeSet<TagCode>,
    parts: BTreeMap<String, PartId>,
    connections: BTreeMap<String, ConnectionId>,
    containers: BTreeMap<String, ContainerId>,
    /// Sketches with ends on them that are not marked yet, by their part.
    unmarked: Vec<(PartId, &'static str, PhotoId)>,
    pub pictures: Vec<Picture>,
}

/// The made-up phones of the demo jobs.
pub struct DeviceOf;

impl DeviceOf {
    pub const WORKBOAT: DeviceId = countback_core::journal::EXAMPLES[0];
    pub const TILLER: DeviceId = countback_core::journal::EXAMPLES[1];
}

pub const MINUTE: i64 = 60_000;
pub const HOUR: i64 = 60 * MINUTE;
pub const DAY: i64 = 24 * HOUR;

impl Hand {
    pub fn at(device: DeviceId, by: &str, now: i64) -> Self {
        let ctx = Ctx {
            now,
            device,
            by: by.to_owned(),
        };
        let book = Book::default();
        Self {
            bench: Bench { book, ctx },
            tags: BTreeSet::new(),
            parts: BTreeMap::new(),
            connections: BTreeMap::new(),
            containers: BTreeMap::new(),
            unmarked: Vec::new(),
            pictures: Vec::new(),
        }
    }
    pub fn job(&self) -> &Job {
        self.bench.job()
    }
    pub fn by(&mut self, name: &str) {
        self.bench.ctx.by = name.to_owned();
    }
    pub fn wait(&mut self, ms: i64) {
        self.bench.ctx.now += ms;
    }
    pub fn ok(&mut self, command: Command) -> Vec<Event> {
        self.bench.ok(command)
    }
    pub fn record(&mut self, act: Act) -> EventId {
        self.bench.record(act)
    }
    pub fn part(&self, name: &str) -> PartId {
        *self
            .parts
            .get(name)
            .unwrap_or_else(|| panic!("no part {name}"))
    }
    pub fn on(&self, name: &str) -> Target {
        Target::Part(self.part(name))
    }
    pub fn fixing(&self, part: &str, n: usize) -> FixingId {
        self.bench.fixing(self.part(part), n)
    }
    pub fn connection(&self, name: &str) -> ConnectionId {
        *self
            .connections
            .get(name)
            .unwrap_or_else(|| panic!("no connection {name}"))
    }
    pub fn end(&self, name: &str, side: Side) -> EndId {
        EndId {
            connection: self.connection(name),
            side,
        }
    }
    pub fn container(&self, name: &str) -> ContainerId {
        self.containers[name]
    }
    fn tag(&mut self) -> String {
        let tag = allocate(&self.tags, DeviceBlocks::from_seed(self.bench.ctx.device.0))
            .expect("tags are left");
        self.tags.insert(tag);
        tag.digits()
    }

    /// Takes a part off.
    pub fn off(&mut self, off: Off) -> PartId {
        let name = off.it.part.name.clone();
        let mut it = off.it;
        it.part.after = off
            .after
            .iter()
            .map(|&(first, why)| Need {
                first: self.on(first),
                why,
            })
            .collect();
        let new = match off.into {
            Loose::Bench => None,
            Loose::Have(name) => {
                it.container = ContainerPick::Have(self.container(name));
                None
            }
            Loose::New(kind) => {
                it.container = ContainerPick::New {
                    tag: self.tag(),
                    kind,
                    name: name.clone(),
                    lies: it.part.lies.clone(),
                };
                Some(name.clone())
            }
        };
        if !off.sketch.is_empty() {
            it.photos.push(self.picture(off.sketch, &mut it.fixings));
        }
        let events = self.ok(Command::TakeOff(Box::new(it)));
        let find = |want: fn(&Act) -> bool| events.iter().find(|e| want(&e.act)).map(|e| e.id);
        if let (Some(name), Some(id)) = (new, find(|a| matches!(a, Act::ContainerNamed { .. }))) {
            self.containers.insert(name, ContainerId(id.thing(0)));
        }
        let part = find(|a| matches!(a, Act::PartOff(_))).expect("a part came off");
        let part = PartId(part.thing(0));
        assert!(self.parts.insert(name.clone(), part).is_none(), "{name}");
        if let Some(photo) = find(|a| matches!(a, Act::PhotoTaken(_))) {
            self.unmarked
                .push((part, off.sketch, PhotoId(photo.thing(0))));
        }
        part
    }

    /// Marks the ends that are drawn, once their connections are logged: the
    /// first drawn is the first logged.
    pub fn mark_ends(&mut self) {
        for (part, sketch, photo) in std::mem::take(&mut self.unmarked) {
            let marked = self.job().marks.rows().filter(|m| m.photo == photo).count();
            let drawn: Vec<_> = spots(sketch)
                .into_iter()
                .filter(|s| s.fixing.is_none())
                .collect();
            let ends = self.job().parts.get(part).expect("part").ends.clone();
            assert!(drawn.len() <= ends.len(), "{drawn:?} {ends:?} {sketch}");
            for ((n, spot), end) in drawn.into_iter().enumerate().zip(ends) {
                self.record(Act::MarkSet {
                    photo,
                    number: (marked + n + 1) as u16,
                    x: spot.x,
                    y: spot.y,
                    what: Target::End(end),
                });
            }
        }
    }

    /// Draws a sketch and marks the fasteners on it: each by its number where
    /// the part has several kinds to tell apart, else one for each fixing.
    fn picture(&mut self, sketch: &str, fixings: &mut [FixingDraft]) -> PhotoDraft {
        let picture = draw(sketch);
        let spots: Vec<_> = spots(sketch)
            .into_iter()
            .filter(|s| s.fixing.is_some())
            .collect();
        for (n, fixing) in fixings.iter().enumerate() {
            let drawn = spots.iter().filter(|s| s.fixing == Some(n)).count();
            let count = usize::from(fixing.count);
            assert!(drawn <= count, "{drawn} of {count} drawn: {sketch}");
        }
        let numbered = fixings.len() > 1
            && fixings.iter().enumerate().all(|(n, f)| {
                spots.iter().filter(|s| s.fixing == Some(n)).count() == usize::from(f.count)
            });
        let mut marks = Vec::new();
        for spot in &spots {
            let known = marks.iter().any(|&(_, _, f)| f == spot.fixing);
            if numbered || !known {
                marks.push((spot.x, spot.y, spot.fixing));
            }
        }
        if numbered {
            for (number, spot) in (1_u16..).zip(&spots) {
                if let Some(f) = spot.fixing.and_then(|n| fixings.get_mut(n)) {
                    f.numbers.push(number);
                }
            }
        }
        let draft = PhotoDraft {
            hash: picture.hash.clone(),
            thumb: picture.thumb_hash.clone(),
            width: picture.width,
            height: picture.height,
            caption: String::new(),
            marks,
        };
        self.keep(picture);
        draft
    }

    fn keep(&mut self, picture: Picture) {
        if self.pictures.iter().all(|p| p.hash != picture.hash) {
            self.pictures.push(picture);
        }
    }

    /// A drawing of something else than a part coming off, with marks for what
    /// is drawn on it, in order.
    pub fn show(&mut self, sketch: &str, caption: &str, on: Vec<Target>, marks: &[Target]) {
        let picture = draw(sketch);
        let taken = PhotoTaken {
            hash: picture.hash.clone(),
            thumb: picture.thumb_hash.clone(),
            width: picture.width,
            height: picture.height,
            on,
            caption: caption.to_owned(),
        };
        self.keep(picture);
        let photo = PhotoId(self.record(Act::PhotoTaken(taken)).thing(0));
        for ((number, spot), &what) in (1_u16..).zip(spots(sketch)).zip(marks) {
            let (x, y) = (spot.x, spot.y);
            self.record(Act::MarkSet {
                photo,
                number,
                x,
                y,
                what,
            });
        }
    }

    /// Logs a connection that is parted at the ends said.
    pub fn connect(&mut self, it: Connect) {
        let end = |(on, label, joint, parted): (&str, &str, Joint, bool)| End {
            on: (!on.is_empty()).then(|| self.part(on)),
            label: label.to_owned(),
            joint,
            clamp: match joint {
                Joint::Clamped => "worm-drive clamp".to_owned(),
                _ => String::new(),
            },
            parted,
        };
        let (a, b) = (end(it.a), end(it.b));
        let route = it
            .route
            .iter()
            .map(|&(kind, part, text)| Route {
                kind,
                part: (!part.is_empty()).then(|| self.part(part)),
                text: text.to_owned(),
            })
            .collect();
        let tag = it.tagged.then(|| self.tag());
        let id = self.record(Act::ConnectionLogged(Box::new(ConnectionLogged {
            kind: it.kind,
            name: it.name.to_owned(),
            a,
            b,
            route,
            after: Vec::new(),
            tag,
        })));
        let id = ConnectionId(id.thing(0));
        assert!(self.connections.insert(it.name.to_owned(), id).is_none());
    }

    /// Puts a part back and makes all its fixings final.
    pub fn back(&mut self, name: &str) {
        let part = self.part(name);
        self.bench.place(part);
        self.fasten(name);
    }

    /// Starts, snugs and takes each of a part's fixings through its stages.
    pub fn fasten(&mut self, name: &str) {
        let part = self.part(name);
        for fixing in self.job().parts.get(part).expect("part").fixings.clone() {
            let it = self.job().fixings.get(fixing).expect("fixing").clone();
            let whole =
                |p: &PartId| self.job().parts.get(*p).expect("part").state == PartState::Placed;
            if it.finished() || !it.parts.iter().all(whole) {
                continue;
            }
            if !it.extras.is_empty() {
                self.ok(Command::FitExtras { fixing });
            }
            if it.places.iter().any(|p| p.state == PlaceState::Open) {
                self.ok(Command::Start {
                    fixing,
                    which: Thing::All,
                    line: None,
                    anyway: false,
                });
            }
            if it.seats_only() {
                continue;
            }
            let stages = it.detail.stages.clone();
            if stages.len() < 2 {
                self.tighten(fixing, Tight::Final, stages.first().copied());
            }
            for (n, &value) in (1_u8..)
                .zip(&stages)
                .take(if stages.len() < 2 { 0 } else { 9 })
            {
                self.tighten(fixing, Tight::Stage(n), Some(value));
            }
        }
    }

    fn tighten(&mut self, fixing: FixingId, to: Tight, value: Option<Figure>) {
        self.ok(Command::Tighten {
            fixing,
            which: Thing::All,
            to,
            value,
        });
    }

    /// Looks the work of another over.
    pub fn check(&mut self, part: &str, n: usize) {
        let what = Target::Fixing(self.fixing(part, n));
        self.ok(Command::Check { what });
    }

    /// Somebody else looks at all that is owed a second look.
    pub fn looks(&mut self, other: &str) {
        self.bench.looked_at_by(other);
    }

    pub fn join(&mut self, name: &str, side: Side) {
        let end = self.end(name, side);
        self.bench.join(end);
    }

    pub fn part_end(&mut self, name: &str, side: Side) {
        let end = self.end(name, side);
        self.ok(Command::PartEnd { end });
    }

    /// New ones come in and go on.
    pub fn renew(&mut self, name: &str) {
        let (item, n) = self
            .job()
            .items
            .iter()
            .find(|(_, it)| it.name == name && !it.finished())
            .map(|(id, it)| (id, u32::from(it.count - it.renewed)))
            .unwrap_or_else(|| panic!("nothing to renew: {name}"));
        self.ok(Command::FitItem {
            item,
            n,
            old: false,
        });
    }

    pub fn arrive(&mut self, name: &str) {
        let (item, n) = self
            .job()
            .items
            .iter()
            .find(|(_, it)| it.name == name)
            .map(|(id, it)| (id, u32::from(it.count)))
            .unwrap_or_else(|| panic!("no item {name}"));
        let want = Want::Item(item);
        self.record(Act::Arrived { want, n });
    }

    pub fn finding(&mut self, on: Target, text: &str) -> FindingId {
        let text = text.to_owned();
        FindingId(self.record(Act::FindingNoted { on, text }).thing(0))
    }

    pub fn decide(&mut self, finding: FindingId, decision: Decision, reason: &str) {
        let reason = reason.to_owned();
        self.record(Act::Decided {
            finding,
            decision,
            reason,
        });
    }

    pub fn note(&mut self, on: Target, text: &str) {
        let text = text.to_owned();
        self.record(Act::NoteAdded { on, text });
    }
}
