//! Any command at all, aimed at what is in the job and now and then at what is
//! not: for checks of what must hold whatever a person taps. One entry for each
//! command, so longer than most files.
use countback_core::audit::audit;
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::ledger::{Line, Thing as What};
use countback_core::procedure::{PlannedRun, Procedure};
use countback_core::tag::TagCode;
use countback_core::torque::TorqueUnit;
use countback_core::torque::hole::HoleMetal;

use crate::bench::{Bench, end, head, spec, take_off};
use crate::dice::Dice;
use crate::ways_on::ways_on;

const SPECS: [&str; 9] = [
    "bolt | thread=M6 x 1 | length=20",
    "bolt | thread=M6 x 1 | length=35",
    "bolt | thread=M8 x 1.25 | length=40",
    "nut | thread=M8 x 1.25",
    "clip",
    "screw",
    "stud | thread=M8 x 1.25 | length=45",
    "shim | length=0.5",
    "shim",
];

/// Draws commands for a job as it stands.
pub struct Drawer<'a> {
    pub dice: Dice,
    pub job: &'a Job,
    pub events: &'a [EventId],
    pub now: i64,
}

/// The next command that a person, or a devil, might give on this bench: mostly
/// one that could be meant here, as what is nowhere or closed is refused alike
/// every time.
pub fn any_command(bench: &mut Bench, seed: u64) -> Command {
    // Somebody else's hand, now and then.
    bench.ctx.by = if seed.is_multiple_of(7) { "Bob" } else { "Ann" }.to_owned();
    let events: Vec<EventId> = bench.book.journal().iter().map(|e| e.id).collect();
    let mut drawer = Drawer {
        dice: Dice::new(seed),
        job: bench.job(),
        events: &events,
        now: bench.ctx.now,
    };
    let mut command = drawer.command();
    for _ in 0..3 {
        let idle = |r: Refusal| matches!(r, Refusal::Unknown(_) | Refusal::SignedOff);
        if !bench
            .book
            .decide(command.clone(), &bench.ctx)
            .is_err_and(idle)
        {
            break;
        }
        command = drawer.command();
    }
    command
}

impl Drawer<'_> {
    fn id<I: Id, T>(&mut self, table: &Table<I, T>) -> I {
        if table.is_empty() || self.dice.once_in(40) {
            return I::from_ref(EventId::new(self.dice.below(60) as u32, DeviceId(1)).thing(0));
        }
        let ids: Vec<I> = table.ids().collect();
        // Late ones more often: that is where the hand is.
        let n = ids.len();
        let from = if self.dice.once_in(2) { n / 2 } else { 0 };
        ids[from + self.dice.below(n - from)]
    }
    fn part(&mut self) -> PartId {
        self.id(&self.job.parts)
    }
    fn fixing(&mut self) -> FixingId {
        self.id(&self.job.fixings)
    }
    fn end(&mut self) -> EndId {
        EndId {
            connection: self.id(&self.job.connections),
            side: if self.dice.once_in(2) {
                Side::A
            } else {
                Side::B
            },
        }
    }
    fn line(&mut self) -> LineId {
        self.id(&self.job.lines)
    }
    pub fn target(&mut self) -> Target {
        match self.dice.below(20) {
            0 => Target::Job,
            1 => Target::Connection(self.id(&self.job.connections)),
            2 => Target::Container(self.id(&self.job.containers)),
            3 => Target::Opening(self.id(&self.job.openings)),
            4 => Target::Inside(self.id(&self.job.insides)),
            5 => Target::Fluid(self.id(&self.job.fluids)),
            6 => Target::Treatment(self.id(&self.job.treatments)),
            7 => Target::Line(self.line()),
            8 => Target::Item(self.id(&self.job.items)),
            9 | 10 => Target::End(self.end()),
            11..=14 => Target::Fixing(self.fixing()),
            _ => Target::Part(self.part()),
        }
    }
    fn needs(&mut self) -> Vec<Need> {
        let mut needs = Vec::new();
        while self.dice.once_in(3) {
            needs.push(Need {
                first: self.target(),
                why: Why::BlocksReach,
            });
        }
        needs
    }
    fn account(&mut self) -> Account {
        match self.dice.below(12) {
            0 => Account::Scrapped,
            1 => Account::Missing,
            2 => Account::Spare,
            3 => Account::LeftOff,
            4 => Account::Fixing(self.fixing()),
            5 => Account::Part(self.part()),
            6..=8 => Account::Container(self.id(&self.job.containers)),
            _ => Account::Bench,
        }
    }
    fn words(&mut self, text: &str) -> String {
        if self.dice.once_in(20) {
            String::new()
        } else {
            format!("{text} {}", self.dice.below(30))
        }
    }
    fn n(&mut self) -> u32 {
        if self.dice.once_in(25) {
            0
        } else {
            self.dice.from_to(1, 4) as u32
        }
    }
    fn tag(&mut self) -> String {
        let code = TagCode::from_payload(self.dice.below(40) as u16);
        let digits = code.map(TagCode::digits).unwrap_or_default();
        if self.dice.once_in(15) {
            format!("{digits}1")
        } else {
            digits
        }
    }
    fn detail(&mut self) -> FixingDetail {
        let mut stages: Vec<Figure> = (0..self.dice.below(4))
            .map(|n| Figure::Torque {
                milli: 10_000 * (n as u32 + 1),
                unit: TorqueUnit::NewtonMetre,
            })
            .collect();
        if self.dice.once_in(6) {
            stages.push(Figure::Angle { degrees: 90 });
        }
        FixingDetail {
            stages,
            safety: self.dice.once_in(4),
            ..FixingDetail::default()
        }
    }
    fn draft(&mut self) -> FixingDraft {
        let text = SPECS[self.dice.below(SPECS.len())];
        let mut it = FixingDraft::new(spec(text), self.n() as u16);
        it.detail = self.detail();
        if self.dice.once_in(4) {
            it.slackened = self.dice.below(usize::from(it.count) + 1) as u16;
        }
        if self.dice.once_in(6) {
            it.found_empty = self.dice.below(usize::from(it.count) + 1) as u16;
        }
        if self.dice.once_in(15) {
            it.broke = self.dice.below(usize::from(it.count) + 1) as u16;
        }
        if self.dice.once_in(3) {
            let which = ["washer", "shim", "shim | length=0.5"][self.dice.below(3)];
            it.extras.push(Extra {
                spec: spec(which),
                per_place: self.dice.below(3) as u8,
            });
        }
        it.reuse = [Reuse::Reuse, Reuse::Renew, Reuse::Inspect][self.dice.below(3)];
        it.union = self.dice.once_in(8);
        it.used = self.dice.once_in(8).then(|| {
            Box::new(UsedOnce {
                kind: ItemKind::SplitPin,
                name: "split pin".to_owned(),
                size: String::new(),
                per_place: self.dice.below(3) as u8,
            })
        });
        if self.dice.once_in(4) {
            it.also.push(self.part());
        }
        if self.dice.once_in(6) {
            it.apart = Some((
                self.id(&self.job.containers),
                self.dice.below(usize::from(it.count) + 1) as u16,
            ));
        }
        if self.dice.once_in(10) {
            it.numbers = (1..=it.count).collect();
        }
        it
    }
    fn container(&mut self) -> ContainerPick {
        match self.dice.below(4) {
            0 => ContainerPick::New {
                tag: self.tag(),
                kind: ContainerKind::Bag,
                name: "bag".to_owned(),
                lies: "shelf".to_owned(),
            },
            1 => ContainerPick::Have(self.id(&self.job.containers)),
            _ => ContainerPick::Bench,
        }
    }
    fn an_end(&mut self) -> End {
        let on = (!self.dice.once_in(2)).then(|| self.part());
        let parted = self.dice.once_in(2);
        let mut end = end(on, "end", parted);
        end.joint = [Joint::PushOn, Joint::Clicked, Joint::UnionBolt][self.dice.below(3)];
        end
    }
    fn connection(&mut self) -> ConnectionLogged {
        let mut route = Vec::new();
        if self.dice.once_in(3) {
            route.push(Route {
                kind: [RouteKind::Behind, RouteKind::Through, RouteKind::ClippedTo]
                    [self.dice.below(3)],
                part: (!self.dice.once_in(4)).then(|| self.part()),
                text: String::new(),
            });
        }
        ConnectionLogged {
            kind: ConnectionKind::Hose,
            name: self.words("hose"),
            a: self.an_end(),
            b: self.an_end(),
            route,
            after: self.needs(),
            tag: self.dice.once_in(4).then(|| self.tag()),
        }
    }
    fn treatment(&mut self, on: Target) -> Treatment {
        Treatment {
            kind: [TreatmentKind::Lubricant, TreatmentKind::Sealant][self.dice.below(2)],
            product: "paste".to_owned(),
            on,
            cure_min: [0, 0, 10, 1440][self.dice.below(4)],
            open_min: self.dice.once_in(3).then_some(3),
            holds_fill: self.dice.once_in(2),
            holds_start: self.dice.once_in(2),
            holds_cover: self.dice.once_in(3),
        }
    }
    fn take_off(&mut self) -> TakeOff {
        let mut off = take_off(&self.words("part"));
        off.part.aside = self.dice.once_in(5);
        off.part.after = self.needs();
        if self.dice.once_in(6) {
            off.part.carried_by = Some(self.part());
        }
        if self.dice.once_in(6) {
            off.carried.push(self.words("part"));
        }
        if self.dice.once_in(6) {
            off.findings.push(self.words("crack"));
        }
        off.fixings = (0..self.dice.below(3)).map(|_| self.draft()).collect();
        off.container = self.container();
        if self.dice.once_in(3) {
            off.connections.push(ConnectionDraft {
                logged: self.connection(),
                a_here: true,
                b_here: self.dice.once_in(5),
            });
        }
        if self.dice.once_in(3) {
            off.items.push(ItemDraft {
                kind: ItemKind::Gasket,
                name: self.words("gasket"),
                size: String::new(),
                count: self.n() as u16,
            });
        }
        if self.dice.once_in(5) {
            let on = if self.dice.once_in(3) {
                self.target()
            } else {
                Target::Job
            };
            off.treatments.push(TreatmentDraft {
                treatment: self.treatment(on),
                fixing: self.dice.once_in(3).then_some(0),
            });
        }
        if self.dice.once_in(4) {
            off.openings.push(self.words("port"));
        }
        if self.dice.once_in(6) {
            off.photos.push(PhotoDraft {
                hash: "00".repeat(32),
                thumb: String::new(),
                width: 10,
                height: 10,
                caption: String::new(),
                marks: vec![(500, 500, Some(self.dice.below(3)))],
            });
        }
        off
    }
    fn which(&mut self) -> Thing {
        match self.dice.below(4) {
            0 => Thing::Next(self.n() as u16),
            1 => Thing::Places((0..self.dice.below(4) as u16).collect()),
            2 if self.dice.once_in(4) => Thing::Places(vec![1, 1]),
            _ => Thing::All,
        }
    }
    fn places(&mut self) -> Vec<u16> {
        let mut places: Vec<u16> = (0..self.dice.from_to(1, 3) as u16).collect();
        self.dice.shuffle(&mut places);
        places
    }
    /// An order of all places of a fixing, mostly.
    fn round(&mut self) -> Round {
        let fixing = self.fixing();
        let n = self.job.fixings.get(fixing).map_or(2, |f| f.places.len()) as u16;
        let mut order: Vec<u16> = (0..n).collect();
        self.dice.shuffle(&mut order);
        if self.dice.once_in(8) {
            order.pop();
        }
        Round {
            fixing,
            photo: None,
            points: Vec::new(),
            order,
            maker: self.dice.once_in(2),
        }
    }
    /// Mostly of one part, and of another where it has but one fixing.
    fn ring(&mut self) -> Ring {
        let part = self.part();
        let own = self.job.parts.get(part).map(|p| p.fixings.clone());
        let mut lines = own.filter(|f| !f.is_empty()).unwrap_or_default();
        if lines.len() < 2 || self.dice.once_in(8) {
            lines.push(self.fixing());
        }
        let places = lines.iter().map(|&f| self.job.fixings.get(f));
        let places = places.map(|f| f.map_or(2, |f| f.places.len() as u16));
        let mut order: Vec<(u16, u16)> = (0..)
            .zip(places)
            .flat_map(|(line, n)| (0..n).map(move |place| (line, place)))
            .collect();
        self.dice.shuffle(&mut order);
        if self.dice.once_in(8) {
            order.pop();
        }
        if self.dice.once_in(3) {
            order.clear();
        }
        Ring {
            lines,
            apart: self.dice.once_in(3),
            order,
        }
    }
    fn tight(&mut self) -> Tight {
        match self.dice.below(4) {
            0 => Tight::Snug,
            1 => Tight::Stage(self.dice.below(4) as u8),
            _ => Tight::Final,
        }
    }
    fn want(&mut self) -> Want {
        match self.dice.below(4) {
            0 if self.dice.once_in(2) => Want::Extra(self.extra().unwrap_or(self.line())),
            0 => Want::Item(self.id(&self.job.items)),
            1 => Want::Fixing(self.fixing()),
            _ => Want::Line(self.id(&self.job.buys)),
        }
    }

    /// What settles a line of the audit, or brings it on.
    fn way_on(&mut self) -> Option<Command> {
        let open = audit(self.job, self.now).open;
        let owed = self.dice.pick(&open)?;
        let ways = ways_on(self.job, owed);
        self.dice.pick(&ways).cloned()
    }

    pub fn command(&mut self) -> Command {
        if self.job.is_signed() && self.dice.once_in(3) {
            return Command::Reopen {
                reason: "once more".to_owned(),
            };
        }
        if self.dice.once_in(5)
            && let Some(command) = self.way_on()
        {
            return command;
        }
        match self.dice.below(66) {
            0..=8 => Command::TakeOff(Box::new(self.take_off())),
            9 => Command::AddFixing {
                parts: (0..self.dice.below(3)).map(|_| self.part()).collect(),
                draft: self.draft(),
                container: self.container(),
            },
            11 if self.dice.once_in(3) => Command::Bag {
                from: self.account(),
                lines: vec![(self.line(), self.n())],
                to: self.container(),
            },
            10 | 11 => Command::PartEnd { end: self.end() },
            12 if self.dice.once_in(2)
                && let Some(what) = self.covered() =>
            {
                Command::Reached {
                    what,
                    reason: self.words("from below"),
                }
            }
            12 => Command::TakeOffAgain {
                part: self.part(),
                aside: self.dice.once_in(3),
            },
            13..=17 => Command::PlacePart {
                part: self.part(),
                anyway: !self.dice.once_in(3),
            },
            18 if let Some((fixing, place)) = self.broken() => Command::Start {
                fixing,
                which: Thing::Places(vec![place]),
                line: None,
                anyway: false,
            },
            18..=22 => Command::Start {
                fixing: self.fixing(),
                which: self.which(),
                line: self.dice.once_in(5).then(|| self.line()),
                anyway: self.dice.once_in(3),
            },
            23..=27 => Command::Tighten {
                fixing: self.begun(),
                which: self.which(),
                to: self.tight(),
                value: None,
            },
            28 if self.dice.once_in(3) => Command::FitOther {
                fixing: self.fixing(),
                line: self.extra().unwrap_or_else(|| self.line()),
                anyway: self.dice.once_in(2),
            },
            28 => Command::FitExtras {
                fixing: self.fixing(),
            },
            29 if self.dice.once_in(3) => Command::SayLate {
                act: match self.dice.once_in(2) {
                    true => Act::ItemFitted {
                        item: self.id(&self.job.items),
                        n: self.n(),
                        old: self.dice.once_in(4),
                        reason: String::new(),
                    },
                    false => Act::TreatmentApplied {
                        treatment: self.id(&self.job.treatments),
                    },
                },
                reason: self.words("before"),
            },
            29 | 30 => Command::FitItem {
                item: self.id(&self.job.items),
                n: self.n(),
                old: self.dice.once_in(4),
            },
            31 | 32 => {
                let end = self.end();
                let seat = if self.dice.once_in(5) {
                    self.end()
                } else {
                    end
                };
                Command::Rejoin {
                    end,
                    seat,
                    anyway: self.dice.once_in(2),
                }
            }
            33 => {
                let is_final = |f: &Fixing| f.count_where(|p| p.state == PlaceState::Final) > 0;
                let tight = self.job.fixings.iter().find(|(_, f)| is_final(f));
                Command::Check {
                    what: match tight {
                        Some((id, _)) => Target::Fixing(id),
                        None => self.target(),
                    },
                }
            }
            34 => Command::Recount {
                line: self.line(),
                account: self.account(),
                found: self.dice.below(6) as u32,
                reason: String::new(),
            },
            35 if self.dice.once_in(3) => Command::LeaveEmpty {
                fixing: self.fixing(),
                places: self.places(),
                reason: self.words("not wanted"),
            },
            35 => Command::LeaveOff {
                what: self.target(),
                reason: self.words("not wanted"),
            },
            36 => Command::Replace {
                part: self.part(),
                note: "new".to_owned(),
                as_ordered: !self.dice.once_in(4),
                fasteners: (0..self.dice.below(2))
                    .map(|_| (self.fixing(), spec(SPECS[self.dice.below(SPECS.len())])))
                    .collect(),
            },
            37 => Command::Strike {
                event: *self.dice.pick(self.events).unwrap_or(&EventId::default()),
            },
            38 => Command::StrikeLast,
            39 => {
                let open = audit(self.job, self.now).open;
                match self.dice.pick(&open) {
                    Some(owed) => Command::Except {
                        owed: OwedKey {
                            opened: match self.dice.once_in(6) {
                                true => EventId::default(),
                                false => owed.opened,
                            },
                            ..owed.key()
                        },
                        reason: self.words("so be it"),
                    },
                    None => Command::SignOff,
                }
            }
            40 if !self.dice.once_in(4) => Command::Fill {
                fluid: self.id(&self.job.fluids),
                amount: self.amount(),
                anyway: self.words("to look for leaks"),
                checks: match self.dice.once_in(3) {
                    true => vec![AfterRunKind::LeakCheck],
                    false => Vec::new(),
                },
            },
            40 => Command::Open {
                head: head("again"),
                procedure: None,
            },
            41 => Command::Reopen {
                reason: String::new(),
            },
            42 if self.dice.once_in(2) => Command::CheckDone {
                after_run: self.id(&self.job.after_runs),
                reading: String::new(),
                early: self.words("looked at as it stands"),
            },
            42 => Command::SignOff,
            43 | 44 => {
                // One that is ready for it, if there is one.
                let ready = |f: &Fixing| f.can_go_round() && f.finished();
                let ready = self.job.fixings.iter().find(|(_, f)| ready(f));
                Command::GoRound {
                    fixing: ready.map_or(FixingId::default(), |(id, _)| id),
                    turned: self.dice.once_in(3),
                }
            }
            46 => Command::Run {
                heat_cycles: self.dice.below(3) as u16,
                anyway: self.words("to hear it"),
            },
            45 => Command::TightenAnyway {
                fixing: self.fixing(),
                which: self.which(),
                to: self.tight(),
                value: None,
                reason: self.words("until a longer one comes"),
            },
            _ => Command::Record(self.act()),
        }
    }

    /// Aimed at a place that is broken, if there is one: chance alone would
    /// seldom meet it.
    fn repair(&mut self) -> Act {
        let (fixing, place) = self.broken().unwrap_or((self.fixing(), 0));
        Act::PlaceRepaired { fixing, place }
    }
    /// One with a fastener in by hand, if there is one.
    fn begun(&mut self) -> FixingId {
        let begun = |f: &Fixing| f.count_where(|p| p.state == PlaceState::Started) > 0;
        let begun = self.job.fixings.iter().find(|(_, f)| begun(f));
        match begun {
            Some((id, _)) if !self.dice.once_in(3) => id,
            _ => self.fixing(),
        }
    }
    /// Washers, shims and the like that lie loose.
    fn extra(&mut self) -> Option<LineId> {
        let loose = |l: &Line| matches!(l.thing, What::Extra(_)) && l.loose() > 0;
        let lines = self.job.lines.iter().filter(|(_, l)| loose(l));
        let all: Vec<LineId> = lines.map(|(id, _)| id).collect();
        self.dice.pick(&all).copied()
    }

    /// Something that a part was put on over.
    fn covered(&mut self) -> Option<Target> {
        let on = |p: &&Part| p.state == PartState::Placed;
        let parts = self.job.parts.rows().filter(on);
        let all: Vec<Target> = parts.flat_map(|p| p.buried.iter().copied()).collect();
        self.dice.pick(&all).copied()
    }

    fn broken(&self) -> Option<(FixingId, u16)> {
        self.job.fixings.iter().find_map(|(id, f)| {
            let place = f.where_state(|s| s == PlaceState::Broken);
            place.first().map(|&place| (id, place))
        })
    }

    fn amount(&mut self) -> String {
        let all = ["", "5 l", "4.9 l", "4 l", "1000 ml", "some"];
        all[self.dice.below(all.len())].to_owned()
    }

    fn act(&mut self) -> Act {
        match self.dice.below(67) {
            0 => Act::ProcedureAttached(Procedure {
                title: "gasket".to_owned(),
                safe: vec![SafeStep {
                    kind: SafeKind::Cooled,
                    text: "cold".to_owned(),
                }],
                after_run: vec![PlannedRun {
                    kind: AfterRunKind::LeakCheck,
                    text: "leaks".to_owned(),
                    due: Due::default(),
                }],
                ..Procedure::default()
            }),
            1 => Act::SafeStepListed(SafeStep {
                kind: SafeKind::BatteryOff,
                text: self.words("battery"),
            }),
            2 => Act::SafeStepConfirmed {
                step: self.id(&self.job.steps),
            },
            3 if self.dice.once_in(3) => Act::WayNoted {
                what: Target::Part(self.part()),
                needs: self.needs(),
            },
            3 => Act::CameAfter {
                what: self.target(),
                needs: self.needs(),
            },
            4 => {
                let mut detail = self.detail();
                if self.dice.once_in(3) {
                    detail.stages.push(Figure::Angle { degrees: 60 });
                    detail.stages.extend(self.detail().stages);
                }
                Act::FixingDescribed {
                    fixing: self.fixing(),
                    detail,
                }
            }
            5 => Act::FastenersUndone {
                fixing: self.fixing(),
                places: self.places(),
                out: self.dice.once_in(2),
                to: self.account(),
            },
            7 => Act::FastenerBroke {
                fixing: self.fixing(),
                place: self.dice.below(4) as u16,
                stump_in: self.dice.once_in(2),
            },
            8 => self.repair(),
            9 | 10 => Act::ConnectionLogged(Box::new(self.connection())),
            11 => Act::ItemRemoved(ItemRemoved {
                kind: ItemKind::ORing,
                name: self.words("ring"),
                size: String::new(),
                count: self.n() as u16,
                on: self.target(),
            }),
            12 => Act::ContainerNamed {
                tag: self.tag(),
                kind: ContainerKind::Bag,
                name: "bag".to_owned(),
                lies: String::new(),
            },
            13 => Act::OpeningMade {
                name: self.words("port"),
                on: None,
                shut_by: self.dice.once_in(2).then(|| self.part()),
            },
            14 | 15 => Act::PutIn(PutIn {
                kind: [InsideKind::Rag, InsideKind::Cover][self.dice.below(2)],
                name: self.words("rag"),
                n: self.n() as u16,
                opening: self.dice.once_in(2).then(|| self.id(&self.job.openings)),
                place: String::new(),
                hidden_by: self.dice.once_in(3).then(|| self.part()),
            }),
            16 | 17 => Act::TakenOut {
                inside: self.id(&self.job.insides),
                n: self.n(),
            },
            18 => Act::FluidDrained {
                name: self.words("oil"),
                amount: self.amount(),
                bleed: self.dice.once_in(2),
            },
            19 => Act::FluidFilled {
                fluid: self.id(&self.job.fluids),
                amount: self.amount(),
            },
            20 => Act::FluidBled {
                fluid: self.id(&self.job.fluids),
            },
            21 => {
                let on = self.target();
                Act::TreatmentPrescribed(self.treatment(on))
            }
            22 | 23 => Act::TreatmentApplied {
                treatment: self.id(&self.job.treatments),
            },
            24 => Act::SupplyIsolated {
                name: self.words("battery"),
                kind: SupplyKind::Battery,
            },
            25 => Act::SupplyRestored {
                supply: self.id(&self.job.supplies),
            },
            26 => Act::FindingNoted {
                on: Target::Part(self.part()),
                text: self.words("worn"),
            },
            27 | 28 => Act::Decided {
                finding: match self.job.findings.iter().find(|(_, f)| f.decision.is_none()) {
                    Some((id, _)) => id,
                    None => self.id(&self.job.findings),
                },
                decision: [
                    Decision::Refit,
                    Decision::Clean,
                    Decision::Renew,
                    Decision::LeaveOff,
                ][self.dice.below(4)],
                reason: String::new(),
            },
            29 | 57 => {
                let decided = self.job.findings.iter().find(|(_, f)| f.work_owed());
                let finding = match decided {
                    Some((id, _)) => id,
                    None => self.id(&self.job.findings),
                };
                Act::WorkDone { finding }
            }
            30 => Act::BuyListed {
                what: self.words("pump"),
                n: self.n(),
                on: self.target(),
            },
            31 => Act::Ordered {
                want: self.want(),
                n: self.n(),
            },
            32 => Act::Arrived {
                want: self.want(),
                n: self.n(),
            },
            33 => Act::FixingRenewed {
                fixing: self.fixing(),
                spec: spec(SPECS[self.dice.below(SPECS.len())]),
                reason: String::new(),
            },
            34 => Act::Moved {
                line: self.line(),
                from: self.account(),
                to: self.account(),
                n: self.n(),
                reason: self.words("moved"),
            },
            36 => Act::StockAdded {
                line: self.line(),
                to: self.account(),
                n: self.n(),
            },
            37 => Act::StrayFound {
                spec: spec(SPECS[self.dice.below(SPECS.len())]),
                place: "floor".to_owned(),
            },
            38 if self.dice.once_in(3) => Act::StrayMeasured {
                stray: self.id(&self.job.strays),
                spec: spec(SPECS[self.dice.below(SPECS.len())]),
            },
            38 => Act::StrayIdentified {
                stray: self.id(&self.job.strays),
                line: self.line(),
            },
            39 => Act::StraySettled {
                stray: self.id(&self.job.strays),
                reason: self.words("old"),
            },
            40 => Act::Doubted {
                what: self.target(),
                places: self.places(),
            },
            41 => Act::ExtraFitted {
                fixing: self.fixing(),
                line: self.line(),
                from: self.account(),
                n: self.n(),
            },
            42 => Act::EndSecured { end: self.end() },
            44 => Act::AfterRunOwed {
                what: AfterRunKind::LeakCheck,
                on: self.target(),
                text: "leaks".to_owned(),
                due: Due::default(),
            },
            45 => Act::AfterRunDone {
                after_run: self.id(&self.job.after_runs),
                reading: String::new(),
            },
            46 => Act::Touched {
                what: self.target(),
                places: if self.dice.once_in(2) {
                    Vec::new()
                } else {
                    self.places()
                },
                sure: self.dice.once_in(2),
            },
            6 if self.dice.once_in(2) => Act::LookedAt {
                fixing: self.fixing(),
            },
            6 => Act::OldKept {
                fixing: self.fixing(),
                reason: self.words("none to be had"),
            },
            35 => Act::FixingMeasured {
                fixing: self.fixing(),
                spec: spec(SPECS[self.dice.below(SPECS.len())]),
            },
            43 | 65 => Act::HoleMeasured {
                // Where one is in by hand, the sum stops the next turn.
                fixing: self.begun(),
                hole: Hole {
                    parts_um: self.n() * 5_000,
                    washers_um: self.n() * 500,
                    depth_um: self.n() * 12_000,
                    metal: (!self.dice.once_in(4)).then_some(HoleMetal::Aluminium),
                },
            },
            47 if self.dice.once_in(3) => Act::RingSet(self.ring()),
            47 => Act::RoundSet(self.round()),
            48 => Act::FinalHeld {
                fixing: self.fixing(),
                until: [Hold::Neighbours, Hold::Loaded, Hold::Hot][self.dice.below(3)],
                met: self.dice.once_in(2),
            },
            49 => Act::AdapterSet {
                fixing: self.fixing(),
                adapter: (!self.dice.once_in(3)).then_some(Adapter {
                    wrench_mm: 400,
                    adapter_mm: 50,
                    angle: 0,
                }),
            },
            50 | 51 => {
                let can = |f: &Fixing| f.can_go_round();
                let can = self.job.fixings.iter().find(|(_, f)| can(f));
                Act::LastRoundAsked {
                    fixing: match can {
                        Some((id, _)) if !self.dice.once_in(3) => id,
                        _ => self.fixing(),
                    },
                    asked: !self.dice.once_in(4),
                }
            }
            52 => self.repair(),
            54 => {
                let ready = |f: &Fluid| f.filled.is_some() && !f.level_seen;
                let ready = self.job.fluids.iter().find(|(_, f)| ready(f));
                Act::LevelSeen {
                    fluid: match ready {
                        Some((id, _)) if !self.dice.once_in(3) => id,
                        _ => self.id(&self.job.fluids),
                    },
                    amount: self.amount(),
                }
            }
            55 => Act::JointHolds {
                fluid: self.id(&self.job.fluids),
                on: self.target(),
                holds: self.dice.once_in(2),
            },
            56 => Act::SecondLookSet {
                what: match self.dice.once_in(2) {
                    true => Target::Fixing(self.fixing()),
                    false => Target::End(self.end()),
                },
                owed: !self.dice.once_in(3),
            },
            63 if self.dice.once_in(2) => Act::Routed {
                connection: self.id(&self.job.connections),
                route: Route {
                    kind: [RouteKind::Through, RouteKind::Behind][self.dice.below(2)],
                    part: (!self.dice.once_in(4)).then(|| self.part()),
                    text: String::new(),
                },
            },
            60 if self.dice.once_in(3) => Act::ExtraAdded {
                fixing: self.fixing(),
                extra: Extra {
                    spec: ["washer", "spacer"][self.dice.below(2)]
                        .parse()
                        .unwrap_or_default(),
                    per_place: 1 + self.dice.below(2) as u8,
                },
                under: self.dice.below(3) as u16,
                to: self.account(),
            },
            60 if self.dice.once_in(3) => Act::AlsoHolds {
                fixing: self.fixing(),
                part: self.part(),
            },
            58 if self.dice.once_in(2) => Act::Named {
                what: self.target(),
                name: self.words("by another name"),
            },
            58 => Act::JobDescribed(head(&self.words("job"))),
            59 if self.dice.once_in(2) => Act::Numbered {
                fixing: self.fixing(),
                numbers: (0..self.n() as u16).map(|n| n + 3).collect(),
            },
            59 => Act::ContainerMoved {
                container: self.id(&self.job.containers),
                lies: self.words("shelf"),
            },
            60 => Act::NoteAdded {
                on: self.target(),
                text: self.words("note"),
            },
            61 => Act::MeterRead(Meter {
                kind: [MeterKind::Kilometres, MeterKind::Hours][self.dice.below(2)],
                tenths: 100 * self.n(),
            }),
            62 => Act::Ran {
                heat_cycles: self.dice.below(3) as u16,
            },
            63 => Act::WentOn {
                what: self.target(),
            },
            64 => Act::PhotoTaken(PhotoTaken {
                hash: "00".repeat(32),
                thumb: String::new(),
                width: 10,
                height: 10,
                on: vec![self.target()],
                caption: String::new(),
            }),
            _ => Act::PartDescribed {
                part: self.part(),
                name: self.words("part"),
                lies: String::new(),
                note: String::new(),
            },
        }
    }
}
