//! A job on the bench: commands in, refusals out, the audit at hand.
use countback_core::access::AtWork;
use countback_core::audit::{Audit, Rule, audit};
use countback_core::fastener::FastenerSpec;
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::torque::TorqueUnit;

/// A job being worked on by one person on one phone.
#[derive(Clone)]
pub struct Bench {
    pub book: Book,
    pub ctx: Ctx,
}

pub const START: i64 = 1_760_000_000_000;
pub const MINUTE: i64 = 60_000;
pub const HOUR: i64 = 60 * MINUTE;

/// A fastener in its stored form.
pub fn spec(text: &str) -> FastenerSpec {
    text.parse().unwrap_or_else(|e| panic!("{text}: {e:?}"))
}

pub fn head(title: &str) -> JobHead {
    JobHead {
        title: title.to_owned(),
        machine: "van".to_owned(),
        aim: "gasket".to_owned(),
        meter: None,
        units: Units {
            torque: TorqueUnit::NewtonMetre,
            length: LengthUnit::Millimetre,
        },
    }
}

impl Default for Bench {
    fn default() -> Self {
        Self::on(DeviceId(1), "Ann")
    }
}

impl Bench {
    pub fn on(device: DeviceId, by: &str) -> Self {
        let ctx = Ctx {
            now: START,
            device,
            by: by.to_owned(),
        };
        let mut bench = Self {
            book: Book::default(),
            ctx,
        };
        bench.ok(Command::Open {
            head: head("Cover off"),
            procedure: None,
        });
        bench
    }
    pub fn job(&self) -> &Job {
        self.book.job()
    }
    /// The last act of all: what a break that comes now comes after.
    pub fn last_act(&self) -> EventId {
        self.book
            .journal()
            .last()
            .map_or_else(EventId::default, |e| e.id)
    }
    /// Decides and stores; the refusal if there is one.
    pub fn tell(&mut self, command: Command) -> Result<Vec<Event>, Refusal> {
        self.ctx.now += MINUTE;
        let events = self.book.decide(command, &self.ctx)?;
        self.book.append(events.clone());
        Ok(events)
    }
    pub fn ok(&mut self, command: Command) -> Vec<Event> {
        match self.tell(command.clone()) {
            Ok(events) => events,
            Err(refusal) => panic!("{command:?} refused: {refusal:?}"),
        }
    }
    pub fn refused(&mut self, command: Command) -> Refusal {
        match self.tell(command.clone()) {
            Err(refusal) => refusal,
            Ok(_) => panic!("{command:?} was not refused"),
        }
    }
    pub fn record(&mut self, act: Act) -> EventId {
        self.ok(Command::Record(act))[0].id
    }
    /// A part off with these fixings into a bag of its own.
    pub fn part(&mut self, name: &str, fixings: &[(&str, u16)]) -> PartId {
        self.part_after(name, fixings, &[])
    }
    pub fn part_after(&mut self, name: &str, fixings: &[(&str, u16)], after: &[Target]) -> PartId {
        let mut off = take_off(name);
        off.part.after = after
            .iter()
            .map(|&first| Need {
                first,
                why: Why::BlocksReach,
            })
            .collect();
        off.fixings = fixings
            .iter()
            .map(|&(s, n)| FixingDraft::new(spec(s), n))
            .collect();
        self.take_off(off)
    }
    pub fn take_off(&mut self, off: TakeOff) -> PartId {
        let events = self.ok(Command::TakeOff(Box::new(off)));
        let part = events.iter().find(|e| matches!(e.act, Act::PartOff(_)));
        PartId(part.map(|e| e.id).unwrap_or_default().thing(0))
    }
    pub fn fixing(&self, part: PartId, n: usize) -> FixingId {
        self.job().parts.get(part).unwrap().fixings[n]
    }
    /// A photo of a thing, of so many pixels.
    pub fn photo(&mut self, of: Target, (width, height): (u32, u32)) -> PhotoId {
        let taken = self.record(Act::PhotoTaken(PhotoTaken {
            hash: "ab".repeat(32),
            thumb: "cd".repeat(32),
            width,
            height,
            on: vec![of],
            caption: String::new(),
        }));
        PhotoId(taken.thing(0))
    }
    pub fn place(&mut self, part: PartId) {
        self.ok(Command::PlacePart {
            part,
            anyway: false,
        });
    }
    /// Starts and makes final all of a part's fixings.
    pub fn fasten(&mut self, part: PartId) {
        for fixing in self.job().parts.get(part).unwrap().fixings.clone() {
            self.fasten_fixing(fixing);
        }
    }
    /// Somebody else looks at all that is owed a second look.
    pub fn looked_at_by(&mut self, other: &str) {
        let by = std::mem::replace(&mut self.ctx.by, other.to_owned());
        let open = self.audit().open.into_iter();
        for owed in open.filter(|o| o.rule == Rule::IndependentCheck) {
            self.ok(Command::Check { what: owed.on });
        }
        self.ctx.by = by;
    }
    /// As far as it goes: others may share its fixings and be off.
    pub fn fasten_what_fits(&mut self, part: PartId) {
        let fixings = self
            .job()
            .parts
            .get(part)
            .map_or_else(Vec::new, |p| p.fixings.clone());
        for fixing in fixings {
            let _ = self.tell(Command::FitExtras { fixing });
            let _ = self.tell(Command::Start {
                fixing,
                which: Thing::All,
                line: None,
                anyway: false,
            });
            let _ = self.tell(Command::Tighten {
                fixing,
                which: Thing::All,
                to: Tight::Final,
                value: None,
            });
        }
    }
    pub fn fasten_fixing(&mut self, fixing: FixingId) {
        let it = self.job().fixings.get(fixing).unwrap().clone();
        if !it.extras.is_empty() {
            let _ = self.tell(Command::FitExtras { fixing });
        }
        let _ = self.tell(Command::Start {
            fixing,
            which: Thing::All,
            line: None,
            anyway: false,
        });
        if !it.seats_only() {
            self.ok(Command::Tighten {
                fixing,
                which: Thing::All,
                to: Tight::Final,
                value: None,
            });
        }
    }
    pub fn join(&mut self, end: EndId) {
        self.ok(Command::Rejoin {
            end,
            seat: end,
            anyway: false,
        });
        self.record(Act::EndSecured { end });
    }
    pub fn connection(&mut self, name: &str, a: End, b: End, after: &[Target]) -> ConnectionId {
        let id = self.record(Act::ConnectionLogged(Box::new(ConnectionLogged {
            kind: ConnectionKind::Hose,
            name: name.to_owned(),
            a,
            b,
            route: Vec::new(),
            after: after
                .iter()
                .map(|&first| Need {
                    first,
                    why: Why::BlocksReach,
                })
                .collect(),
            tag: None,
        })));
        ConnectionId(id.thing(0))
    }
    /// The person at work, of whom no other job tells.
    pub fn at_work(&self) -> AtWork {
        AtWork::named(&self.ctx.by)
    }
    pub fn audit(&self) -> Audit {
        audit(self.job(), self.ctx.now)
    }
    pub fn rules(&self) -> Vec<(Rule, Target)> {
        self.audit().open.iter().map(|o| (o.rule, o.on)).collect()
    }
}

pub fn take_off(name: &str) -> TakeOff {
    TakeOff {
        part: PartOff {
            name: name.to_owned(),
            lies: "shelf".to_owned(),
            aside: false,
            after: Vec::new(),
            carried_by: None,
            hazards: Vec::new(),
            note: String::new(),
            planned: None,
        },
        fixings: Vec::new(),
        container: ContainerPick::Bench,
        connections: Vec::new(),
        items: Vec::new(),
        photos: Vec::new(),
        treatments: Vec::new(),
        openings: Vec::new(),
        carried: Vec::new(),
        findings: Vec::new(),
    }
}

pub fn end(on: Option<PartId>, label: &str, parted: bool) -> End {
    End {
        on,
        label: label.to_owned(),
        joint: Joint::Clamped,
        clamp: "clip".to_owned(),
        parted,
    }
}

pub fn side(connection: ConnectionId, side: Side) -> EndId {
    EndId { connection, side }
}
