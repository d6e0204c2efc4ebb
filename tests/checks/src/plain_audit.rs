//! A second audit, plain on purpose: loops over the acts, no state machine, no
//! ledger, no code of the core's but the acts themselves. It says only which
//! rule is open on what. Where the two differ, one of them is wrong.
//!
//! It answers for the debts and the count. What did not fit, and what lies
//! buried, is not for it: on one phone nothing misfits, and burying is a
//! matter of access.
use std::collections::{BTreeSet, HashMap, HashSet};

use countback_core::audit::Rule;
use countback_core::fastener::{FastenerKind, FastenerSpec};
use countback_core::journal::*;

type Open = BTreeSet<(Rule, Target)>;

/// The rules that this audit answers for.
pub fn answers_for(rule: Rule) -> bool {
    !matches!(
        rule,
        Rule::Misfit | Rule::SaidTwice | Rule::Circle | Rule::Buried | Rule::Unbalanced
    )
}

/// What the acts leave open, exceptions not looked at: they are held against
/// the act that opened a line, which this audit does not know.
pub fn plain_audit(events: &[Event], now: i64) -> Open {
    let mut open = Open::new();
    let events: Vec<&Event> = standing(events);
    parts(&events, &mut open);
    fixings(&events, &mut open);
    ends(&events, &mut open);
    items(&events, &mut open);
    care(&events, now, &mut open);
    things(&events, &mut open);
    open
}

/// Without what was struck. On one phone a strike is never itself struck.
fn standing(events: &[Event]) -> Vec<&Event> {
    let struck: HashSet<EventId> = events
        .iter()
        .filter_map(|e| match e.act {
            Act::Struck { event } => Some(event),
            _ => None,
        })
        .collect();
    events
        .iter()
        .filter(|e| !struck.contains(&e.with))
        .collect()
}

#[derive(Clone, Copy, PartialEq)]
enum Where {
    Off,
    On,
    LeftOff,
}

fn where_parts(events: &[&Event]) -> HashMap<PartId, Where> {
    let mut parts = HashMap::new();
    for event in events {
        match &event.act {
            Act::PartOff(_) => {
                parts.insert(PartId(event.id.thing(0)), Where::Off);
            }
            Act::PartOffAgain { part, .. } => {
                parts.insert(*part, Where::Off);
            }
            Act::PartPlaced { part, .. } => {
                parts.insert(*part, Where::On);
            }
            Act::LeftOff {
                what: Target::Part(part),
                ..
            } => {
                parts.insert(*part, Where::LeftOff);
            }
            _ => {}
        }
    }
    parts
}

fn parts(events: &[&Event], open: &mut Open) {
    for (part, at) in where_parts(events) {
        let on = Target::Part(part);
        if at == Where::Off {
            open.insert((Rule::PlacePart, on));
        }
        let mut other = false;
        let mut unsure = false;
        for event in events {
            match &event.act {
                Act::PartReplaced {
                    part: p,
                    as_ordered,
                    ..
                } if *p == part => other = !as_ordered,
                Act::Touched { what, sure, .. } if *what == on => unsure = !sure,
                Act::PartPlaced { part: p, .. } | Act::PartOffAgain { part: p, .. }
                    if *p == part =>
                {
                    unsure = false;
                }
                Act::LeftOff { what, .. } if *what == on => unsure = false,
                _ => {}
            }
        }
        if other {
            open.insert((Rule::OtherPart, on));
        }
        if unsure {
            open.insert((Rule::NotSure, on));
        }
    }
}

/// What is in a hole, and how far.
#[derive(Clone, PartialEq)]
enum Hole {
    NeverHad,
    LeftEmpty,
    Stump,
    Empty,
    Loose(LineId),
    Doubt(LineId),
    InPart(LineId),
    Done(LineId),
    Looked(LineId),
}

impl Hole {
    fn line(&self) -> Option<LineId> {
        match self {
            Hole::Loose(l) | Hole::Doubt(l) | Hole::InPart(l) | Hole::Done(l) | Hole::Looked(l) => {
                Some(*l)
            }
            _ => None,
        }
    }
    fn with(&self, make: impl Fn(LineId) -> Hole) -> Hole {
        self.line().map_or_else(|| self.clone(), make)
    }
}

/// What the things of each line are, by what was last said of them.
fn specs(events: &[&Event]) -> HashMap<LineId, FastenerSpec> {
    let mut specs: HashMap<LineId, FastenerSpec> = HashMap::new();
    for (n, event) in events.iter().enumerate() {
        match &event.act {
            Act::FixingUndone(it) => {
                specs.insert(LineId(event.id.thing(0)), it.spec.clone());
                specs.insert(LineId(event.id.thing(900)), it.spec.clone());
            }
            Act::FixingRenewed { spec, .. } | Act::StrayFound { spec, .. } => {
                specs.insert(LineId(event.id.thing(0)), spec.clone());
            }
            Act::StrayMeasured { stray, spec } => {
                specs.insert(LineId(stray.0), spec.clone());
            }
            Act::FixingMeasured { fixing, spec } => {
                let Some((id, it)) = undone(&events[..n]).into_iter().find(|(f, _)| f == fixing)
                else {
                    continue;
                };
                let (wanted, before) = wants(&events[..n], id, it);
                for line in [wanted, LineId(id.0)] {
                    if specs.get(&line) == Some(&before) {
                        specs.insert(line, spec.clone());
                    }
                }
            }
            _ => {}
        }
    }
    specs
}

/// The lines that a fixing wants now and had first, and what its fasteners are.
fn wants(events: &[&Event], id: FixingId, undone: &FixingUndone) -> (LineId, FastenerSpec) {
    let mut wants = match undone.reuse {
        Reuse::Renew => LineId(id.0.event().thing(900)),
        _ => LineId(id.0),
    };
    let mut spec = undone.spec.clone();
    for (n, event) in events.iter().enumerate() {
        match &event.act {
            Act::FixingRenewed {
                fixing, spec: new, ..
            } if *fixing == id => {
                wants = LineId(event.id.thing(0));
                spec = new.clone();
            }
            Act::FixingMeasured { fixing, spec: new } if *fixing == id => spec = new.clone(),
            Act::OldKept { fixing, .. } if *fixing == id => {
                wants = LineId(id.0);
                if let Some(old) = specs(&events[..n]).get(&wants) {
                    spec = old.clone();
                }
            }
            _ => {}
        }
    }
    (wants, spec)
}

fn only_seats(kind: FastenerKind) -> bool {
    use FastenerKind::*;
    [Clip, Circlip, Pin, SplitPin, Rivet, Shim, Spacer, Washer].contains(&kind)
}

/// Draws nothing down.
fn lies_between(kind: FastenerKind) -> bool {
    use FastenerKind::*;
    [Shim, Spacer, Washer].contains(&kind)
}

fn holes(events: &[&Event], id: FixingId, undone: &FixingUndone) -> Vec<Hole> {
    let old = LineId(id.0);
    let mut holes = Vec::new();
    let out = undone.count - undone.slackened - undone.found_empty;
    holes.extend((0..out).map(|_| Hole::Empty));
    holes.extend((0..undone.slackened).map(|_| Hole::Loose(old)));
    holes.extend((0..undone.found_empty).map(|_| Hole::NeverHad));
    let mut spec = undone.spec.clone();
    let mut stages = undone.detail.stages.len();
    let mut set = |places: &[u16], make: &dyn Fn(&Hole) -> Hole| {
        for &place in places {
            let hole = &mut holes[usize::from(place)];
            *hole = make(hole);
        }
    };
    for event in events {
        match &event.act {
            Act::FixingRenewed {
                fixing, spec: new, ..
            } if *fixing == id => spec = new.clone(),
            // The kind, which alone counts here, is not changed by measuring.
            Act::OldKept { fixing, .. } if *fixing == id => spec = undone.spec.clone(),
            Act::FixingDescribed { fixing, detail } if *fixing == id => {
                stages = detail.stages.len();
            }
            Act::FastenersUndone {
                fixing,
                places,
                out,
                ..
            } if *fixing == id => set(places, &|h| {
                if *out {
                    Hole::Empty
                } else {
                    h.with(Hole::Loose)
                }
            }),
            Act::FastenerBroke {
                fixing,
                place,
                stump_in,
            } if *fixing == id => set(&[*place], &|_| {
                if *stump_in { Hole::Stump } else { Hole::Empty }
            }),
            Act::PlaceRepaired { fixing, place } if *fixing == id => {
                set(&[*place], &|_| Hole::Empty);
            }
            Act::Started {
                fixing,
                places,
                line,
                ..
            } if *fixing == id => {
                let seats = only_seats(spec.kind);
                set(places, &|_| {
                    if seats {
                        Hole::Done(*line)
                    } else {
                        Hole::InPart(*line)
                    }
                });
            }
            Act::Tightened {
                fixing, places, to, ..
            } if *fixing == id => {
                let done = match to {
                    Tight::Snug => false,
                    Tight::Stage(n) => usize::from(*n) >= stages,
                    Tight::Final => true,
                };
                set(places, &|h| {
                    h.with(if done { Hole::Done } else { Hole::InPart })
                });
            }
            Act::Doubted { what, places }
            | Act::Touched {
                what,
                places,
                sure: false,
            } if *what == Target::Fixing(id) => set(places, &|h| h.with(Hole::Doubt)),
            Act::Checked { what, places } if *what == Target::Fixing(id) => {
                set(places, &|h| h.with(Hole::Looked));
            }
            Act::LeftOff { what, places, .. } if *what == Target::Fixing(id) => {
                set(places, &|_| Hole::LeftEmpty);
            }
            // The decision to leave its part off is taken back.
            Act::PartPlaced { part, .. } if holds(events, event.id, id, undone, *part) => {
                let before: Vec<&Event> = events
                    .iter()
                    .copied()
                    .take_while(|e| e.id < event.id)
                    .collect();
                if where_parts(&before).get(part) == Some(&Where::LeftOff) {
                    let all: Vec<u16> = (0..undone.count).collect();
                    set(&all, &|h| match h {
                        Hole::LeftEmpty => Hole::Empty,
                        other => other.clone(),
                    });
                }
            }
            _ => {}
        }
    }
    holes
}

/// After every act.
const LAST: EventId = EventId::new(u32::MAX, DeviceId(u64::MAX));

/// Whether a fixing clamps a part, as known before an act.
fn holds(events: &[&Event], by: EventId, id: FixingId, it: &FixingUndone, part: PartId) -> bool {
    let said = |e: &&Event| -> bool {
        let also = matches!(e.act, Act::AlsoHolds { fixing, part: p } if (fixing, p) == (id, part));
        also && e.id < by
    };
    it.parts.contains(&part) || events.iter().copied().any(|e| said(&e))
}

fn undone<'a>(events: &[&'a Event]) -> Vec<(FixingId, &'a FixingUndone)> {
    events
        .iter()
        .filter_map(|e| match &e.act {
            Act::FixingUndone(it) => Some((FixingId(e.id.thing(0)), it.as_ref())),
            _ => None,
        })
        .collect()
}

fn fixings(events: &[&Event], open: &mut Open) {
    let at = where_parts(events);
    let specs = specs(events);
    let all = undone(events);
    for &(id, it) in &all {
        let on = Target::Fixing(id);
        let holes = holes(events, id, it);
        let (wants, spec) = wants(events, id, it);
        let kept = events.iter().rev().find_map(|e| match &e.act {
            Act::OldKept { fixing, .. } if *fixing == id => Some(true),
            Act::FixingRenewed { fixing, .. } if *fixing == id => Some(false),
            _ => None,
        });
        if kept == Some(true) {
            open.insert((Rule::NotNew, on));
        }
        let old = LineId(id.0);
        let mut safety = it.detail.safety;
        let mut unsure = false;
        for event in events {
            match &event.act {
                Act::FixingDescribed { fixing, detail } if *fixing == id => safety = detail.safety,
                Act::SecondLookSet { what, owed } if *what == on => safety = *owed,
                Act::Touched { what, places, sure } if *what == on => {
                    if places.is_empty() {
                        unsure = !sure;
                    } else if !sure {
                        unsure = false;
                    }
                }
                act if sets_a_place_of(act, id) => unsure = false,
                Act::PartPlaced { part, .. }
                    if holds(events, event.id, id, it, *part)
                        && taken_back(events, event, *part, id, it) =>
                {
                    unsure = false;
                }
                _ => {}
            }
        }
        if unsure {
            open.insert((Rule::NotSure, on));
        }
        if last_round(events, id, it, &holes) {
            open.insert((Rule::LastRound, on));
        }
        if hole_old(events, id, it) && holes.iter().any(wanted) {
            open.insert((Rule::HoleOld, on));
        }
        let mut detail = &it.detail;
        for event in events {
            if let Act::FixingDescribed {
                fixing,
                detail: new,
            } = &event.act
                && *fixing == id
            {
                detail = new;
            }
        }
        let turned = |f: &Figure| matches!(f, Figure::Angle { .. });
        if it.reuse == Reuse::Reuse
            && kept.is_none()
            && holes.iter().any(wanted)
            && is_drawn_out(spec.kind)
            && (detail.stages.iter().any(turned) || stretch_bolt(&spec))
        {
            open.insert((Rule::OldOrNew, on));
        }
        let looked = |e: &&Event| matches!(e.act, Act::LookedAt { fixing } if fixing == id);
        if it.reuse == Reuse::Inspect
            && kept.is_none()
            && holes.iter().any(wanted)
            && !events.iter().any(looked)
        {
            open.insert((Rule::LookAt, on));
        }
        let measured = events.iter().rev().find_map(|e| match &e.act {
            Act::HoleMeasured { fixing, hole } if *fixing == id => Some(hole),
            _ => None,
        });
        for hole in &holes {
            let spec = hole.line().and_then(|l| specs.get(&l));
            match measured.zip(spec).and_then(|(m, s)| thread_in(m, s)) {
                Some(Thread::Bottoms) => {
                    open.insert((Rule::WouldBottom, on));
                }
                Some(Thread::TooLittle) if matches!(hole, Hole::Done(_) | Hole::Looked(_)) => {
                    open.insert((Rule::HoldsTooLittle, on));
                }
                _ => {}
            }
        }
        let off = |p: &PartId| at.get(p) == Some(&Where::Off);
        let some_off = at.keys().any(|p| off(p) && holds(events, LAST, id, it, *p));
        for hole in &holes {
            let rule = match hole {
                Hole::Empty => Rule::StartFasteners,
                Hole::Stump => Rule::RepairPlace,
                Hole::Loose(_) | Hole::InPart(_) => Rule::Tighten,
                Hole::Doubt(_) => Rule::Doubtful,
                Hole::Done(_) | Hole::Looked(_) if some_off => Rule::FinalTooEarly,
                _ => Rule::AfterRun,
            };
            if rule != Rule::AfterRun {
                open.insert((rule, on));
            }
            if safety && matches!(hole, Hole::Done(_)) {
                open.insert((Rule::IndependentCheck, on));
            }
            if let Some(line) = hole.line().filter(|&l| l != wants) {
                if line == old {
                    open.insert((Rule::NotNew, on));
                } else if specs.get(&line).is_none_or(|s| !as_good(s, &spec)) {
                    open.insert((Rule::WrongThing, on));
                }
            }
        }
    }
}

/// A volume such as "4.9 l" or "1000 ml"; none for anything else.
fn litres(amount: &str) -> Option<f64> {
    let (number, unit) = amount.split_once(' ')?;
    let number: f64 = number.parse().ok()?;
    match unit {
        "l" => Some(number),
        "ml" => Some(number / 1000.0),
        _ => None,
    }
}

fn wanted(hole: &Hole) -> bool {
    !matches!(hole, Hole::NeverHad | Hole::LeftEmpty)
}

/// What is stretched: not a nut, the stud under it.
fn is_drawn_out(kind: FastenerKind) -> bool {
    use FastenerKind::*;
    [Bolt, Stud, Screw].contains(&kind)
}

fn stretch_bolt(spec: &FastenerSpec) -> bool {
    use FastenerKind::{Bolt, Other, Screw};
    let said = spec.text.to_lowercase();
    [Bolt, Screw, Other].contains(&spec.kind)
        && (said.contains("stretch bolt") || said.contains("angle-tightened bolt"))
}

/// A part, gasket or washer under its heads came new after its hole was
/// measured last.
fn hole_old(events: &[&Event], id: FixingId, it: &FixingUndone) -> bool {
    let gasket = |item: ItemId, by: EventId| {
        events.iter().any(|e| match &e.act {
            Act::ItemRemoved(gone) if ItemId(e.id.thing(0)) == item => match gone.on {
                Target::Part(part) => {
                    gone.kind == ItemKind::Gasket && holds(events, by, id, it, part)
                }
                Target::Fixing(on) => {
                    on == id && [ItemKind::Gasket, ItemKind::CrushWasher].contains(&gone.kind)
                }
                _ => false,
            },
            _ => false,
        })
    };
    let extras: Vec<LineId> = extras_of(events, id, it).into_iter().map(|e| e.0).collect();
    let measured = |e: &&Event| matches!(e.act, Act::HoleMeasured { fixing, .. } if fixing == id);
    let Some(at) = events.iter().rposition(measured) else {
        return false;
    };
    events[at..].iter().any(|e| match &e.act {
        Act::PartReplaced { part, .. } => holds(events, e.id, id, it, *part),
        Act::ItemFitted {
            item, old: false, ..
        } => gasket(*item, e.id),
        Act::StockAdded { line, .. } => extras.contains(line),
        Act::ExtraFitted { fixing, line, .. } => *fixing == id && !extras.contains(line),
        _ => false,
    })
}

/// Asked for, all tight, four or more of them with a torque to the end, and
/// not gone round since a place was touched.
fn last_round(events: &[&Event], id: FixingId, undone: &FixingUndone, holes: &[Hole]) -> bool {
    let mut asked = false;
    let mut gone = false;
    let mut last = undone.detail.stages.last().copied();
    for event in events {
        match &event.act {
            Act::LastRoundAsked { fixing, asked: it } if *fixing == id => asked = *it,
            Act::WentRound { fixing, turned, .. } if *fixing == id => gone = !turned,
            Act::FixingDescribed { fixing, detail } if *fixing == id => {
                last = detail.stages.last().copied();
            }
            Act::Checked { .. } => {}
            // Places left off with a part come back empty with it.
            Act::PartPlaced { part, .. }
                if holds(events, event.id, id, undone, *part)
                    && taken_back(events, event, *part, id, undone) =>
            {
                gone = false;
            }
            act if sets_a_place_of(act, id) => gone = false,
            _ => {}
        }
    }
    let wanted = holes
        .iter()
        .filter(|h| !matches!(h, Hole::NeverHad | Hole::LeftEmpty));
    let tight = |h: &Hole| matches!(h, Hole::Done(_) | Hole::Looked(_));
    asked
        && !gone
        && matches!(last, Some(Figure::Torque { .. }))
        && wanted.clone().count() >= 4
        && wanted.clone().all(tight)
}

/// What a bolt finds in its hole.
enum Thread {
    Bottoms,
    TooLittle,
}

fn thread_in(hole: &countback_core::journal::Hole, spec: &FastenerSpec) -> Option<Thread> {
    use FastenerKind::{Bolt, Other, Screw};
    use countback_core::torque::hole::HoleMetal::*;
    if ![Bolt, Screw, Other].contains(&spec.kind) {
        return None;
    }
    let long = i64::from(spec.length_um?);
    let reach = long - i64::from(hole.parts_um) - i64::from(hole.washers_um);
    if hole.depth_um > 0 && reach > i64::from(hole.depth_um) {
        return Some(Thread::Bottoms);
    }
    let diameters = match hole.metal {
        None => 0.0,
        Some(Steel) => 1.0,
        Some(CastIron | Brass) => 1.25,
        Some(Aluminium | Insert) => 1.5,
        Some(Magnesium | Plastic) => 2.0,
    };
    let across = spec.thread.and_then(|t| t.diameter_mm()).unwrap_or(0.0);
    let wanted = (across * 1_000.0 * diameters).round() as i64;
    (reach <= 0 || reach < wanted).then_some(Thread::TooLittle)
}

/// One may go where the other came out: a shim only where its thickness or a
/// word of it is known.
fn as_good(a: &FastenerSpec, b: &FastenerSpec) -> bool {
    let known = a.length_um.is_some() || !a.text.trim().is_empty();
    alike(a, b) && (a.kind != FastenerKind::Shim || known)
}

/// Nothing known tells the two apart.
fn alike(a: &FastenerSpec, b: &FastenerSpec) -> bool {
    let words = |s: &FastenerSpec| s.text.trim().to_lowercase();
    (a.kind, a.head, a.thread, a.length_um, a.class)
        == (b.kind, b.head, b.thread, b.length_um, b.class)
        && (a.length_um.is_some() || words(a) == words(b))
}

fn sets_a_place_of(act: &Act, id: FixingId) -> bool {
    match act {
        Act::FastenersUndone { fixing, .. }
        | Act::FastenerBroke { fixing, .. }
        | Act::PlaceRepaired { fixing, .. }
        | Act::Started { fixing, .. }
        | Act::Tightened { fixing, .. } => *fixing == id,
        Act::Doubted { what, .. } | Act::Checked { what, .. } | Act::LeftOff { what, .. } => {
            *what == Target::Fixing(id)
        }
        _ => false,
    }
}

/// Placing the part here takes back that it was left off, and places with it.
fn taken_back(
    events: &[&Event],
    at: &Event,
    part: PartId,
    id: FixingId,
    it: &FixingUndone,
) -> bool {
    let before: Vec<&Event> = events
        .iter()
        .copied()
        .take_while(|e| e.id < at.id)
        .collect();
    where_parts(&before).get(&part) == Some(&Where::LeftOff)
        && holes(&before, id, it).contains(&Hole::LeftEmpty)
}

fn ends(events: &[&Event], open: &mut Open) {
    #[derive(Clone, Copy, PartialEq)]
    enum State {
        Never,
        Apart,
        Doubt,
        Pushed,
        Fast,
        Given,
    }
    let mut ends: HashMap<EndId, (State, bool, bool, Option<PartId>)> = HashMap::new();
    let mut placed_from_left_off: HashMap<PartId, bool> = HashMap::new();
    for event in events {
        match &event.act {
            Act::ConnectionLogged(it) => {
                let connection = ConnectionId(event.id.thing(0));
                for (side, end) in [(Side::A, &it.a), (Side::B, &it.b)] {
                    let state = if end.parted {
                        State::Apart
                    } else {
                        State::Never
                    };
                    ends.insert(EndId { connection, side }, (state, false, false, end.on));
                }
            }
            Act::EndParted { end } => {
                if let Some(it) = ends.get_mut(end) {
                    (it.0, it.1, it.2) = (State::Apart, false, false);
                }
            }
            Act::EndPushed { end, seat } => {
                if let Some(it) = ends.get_mut(end) {
                    (it.0, it.1, it.2) = (State::Pushed, end != seat, false);
                }
            }
            Act::EndSecured { end } => {
                if let Some(it) = ends.get_mut(end) {
                    (it.0, it.2) = (State::Fast, false);
                }
            }
            Act::Doubted {
                what: Target::End(end),
                ..
            } => {
                if let Some(it) = ends.get_mut(end) {
                    (it.0, it.2) = (State::Doubt, false);
                }
            }
            Act::Checked {
                what: Target::End(end),
                ..
            } => {
                if let Some(it) = ends.get_mut(end) {
                    it.2 = false;
                }
            }
            Act::LeftOff {
                what: Target::End(end),
                ..
            } => {
                if let Some(it) = ends.get_mut(end) {
                    (it.0, it.1, it.2) = (State::Given, false, false);
                }
            }
            Act::LeftOff {
                what: Target::Part(part),
                ..
            } => {
                placed_from_left_off.insert(*part, true);
            }
            Act::PartPlaced { part, .. }
                if placed_from_left_off.insert(*part, false) == Some(true) =>
            {
                for it in ends.values_mut() {
                    if it.3 == Some(*part) && it.0 == State::Given {
                        (it.0, it.1, it.2) = (State::Apart, false, false);
                    }
                }
            }
            Act::Touched {
                what: Target::End(end),
                sure,
                ..
            } => {
                if let Some(it) = ends.get_mut(end) {
                    it.2 = !sure;
                }
            }
            _ => {}
        }
    }
    let checks = |end: EndId| {
        let of = |e: &&&Event| match &e.act {
            Act::SecondLookSet { what, .. } => *what == Target::End(end),
            _ => false,
        };
        let last = events.iter().rev().find(of).map(|e| &e.act);
        matches!(last, Some(Act::SecondLookSet { owed: true, .. }))
    };
    // The last that was done to it was a look by a second person.
    let looked = |end: EndId| {
        let of = |e: &&&Event| match &e.act {
            Act::EndPushed { end: it, .. } | Act::EndSecured { end: it } => *it == end,
            Act::Checked { what, .. } => *what == Target::End(end),
            _ => false,
        };
        let last = events.iter().rev().find(of).map(|e| &e.act);
        matches!(last, Some(Act::Checked { .. }))
    };
    for (end, (state, elsewhere, unsure, _)) in ends {
        let on = Target::End(end);
        match state {
            State::Apart => drop(open.insert((Rule::Rejoin, on))),
            State::Doubt => drop(open.insert((Rule::Doubtful, on))),
            State::Pushed => drop(open.insert((Rule::Secure, on))),
            State::Fast if checks(end) && !looked(end) => {
                open.insert((Rule::IndependentCheck, on));
            }
            State::Never | State::Fast | State::Given => {}
        }
        if elsewhere && matches!(state, State::Pushed | State::Fast) {
            open.insert((Rule::WrongEnd, on));
        }
        if unsure {
            open.insert((Rule::NotSure, on));
        }
    }
}

fn items(events: &[&Event], open: &mut Open) {
    for event in events {
        let Act::ItemRemoved(it) = &event.act else {
            continue;
        };
        let id = ItemId(event.id.thing(0));
        let (mut new, mut old, mut given) = (0_u32, 0_u32, false);
        let on = Target::Item(id);
        let unsure = events.iter().rev().find_map(|e| match &e.act {
            Act::Touched { what, sure, .. } if *what == on => Some(!sure),
            Act::ItemFitted { item, .. } if *item == id => Some(false),
            Act::LeftOff { what, .. } if *what == on => Some(false),
            _ => None,
        });
        if unsure == Some(true) {
            open.insert((Rule::NotSure, on));
        }
        let count = u32::from(it.count);
        for (n, later) in events.iter().enumerate().filter(|(_, e)| e.id > event.id) {
            let before = &events[..n];
            match &later.act {
                Act::ItemFitted {
                    item,
                    n,
                    old: false,
                    ..
                } if *item == id => {
                    new = (new + n).min(count);
                    old -= old.min(*n);
                }
                Act::ItemFitted {
                    item, n, old: true, ..
                } if *item == id => {
                    old = (old + n).min(count);
                }
                Act::LeftOff { what, .. } if *what == Target::Item(id) => given = true,
                act => {
                    let spent = spent(before, act, it).min(count);
                    let new_out = new.min(spent);
                    new -= new_out;
                    old -= old.min(spent - new_out);
                    if let Act::PartPlaced { part, .. } = act
                        && where_parts(before).get(part) == Some(&Where::LeftOff)
                        && given_back(before, *part, it)
                    {
                        given = false;
                    }
                }
            }
        }
        if !given && new < count {
            let rule = if old > 0 {
                Rule::OldItemIn
            } else {
                Rule::Renew
            };
            open.insert((rule, Target::Item(id)));
        }
    }
}

/// How many of an item are spent by an act that takes apart what clamped them.
fn spent(before: &[&Event], act: &Act, it: &ItemRemoved) -> u32 {
    let all = u32::from(it.count);
    match (act, it.on) {
        (Act::PartOffAgain { part, .. }, Target::Part(on))
            if *part == on && drawn_down(before, on) =>
        {
            all
        }
        (Act::EndParted { end }, Target::End(on)) if *end == on => {
            // Pushed on only is not clamped yet.
            let last = before.iter().rev().find_map(|e| match &e.act {
                Act::EndPushed { end, .. } if *end == on => Some(true),
                Act::EndSecured { end } | Act::EndParted { end } if *end == on => Some(false),
                Act::Doubted { what, .. } | Act::LeftOff { what, .. }
                    if *what == Target::End(on) =>
                {
                    Some(false)
                }
                _ => None,
            });
            if last == Some(true) { 0 } else { all }
        }
        (
            Act::FastenersUndone {
                fixing,
                places,
                out: true,
                ..
            },
            Target::Fixing(on),
        ) if *fixing == on => {
            let Some((_, undone)) = undone(before).into_iter().find(|(id, _)| *id == on) else {
                return 0;
            };
            let holes = holes(before, on, undone);
            let tight = places
                .iter()
                .filter(|&&p| was_snug(before, on, undone, p))
                .count() as u32;
            let wanted = holes
                .iter()
                .filter(|h| !matches!(h, Hole::NeverHad | Hole::LeftEmpty))
                .count()
                .max(1) as u32;
            (all * tight).div_ceil(wanted)
        }
        _ => 0,
    }
}

/// Snug or further, and not in doubt.
fn was_snug(before: &[&Event], id: FixingId, it: &FixingUndone, place: u16) -> bool {
    let hole = &holes(before, id, it)[usize::from(place)];
    match hole {
        Hole::Done(_) | Hole::Looked(_) => true,
        // In by hand, or turned since.
        Hole::InPart(_) => before
            .iter()
            .rev()
            .find_map(|e| match &e.act {
                Act::Tightened { fixing, places, .. }
                    if *fixing == id && places.contains(&place) =>
                {
                    Some(true)
                }
                Act::Started { fixing, places, .. } if *fixing == id && places.contains(&place) => {
                    Some(false)
                }
                _ => None,
            })
            .unwrap_or(false),
        _ => false,
    }
}

/// Something on the part was tightened, or clicked in, since it was placed.
fn drawn_down(before: &[&Event], part: PartId) -> bool {
    let of_part: HashMap<FixingId, &FixingUndone> = undone(before).into_iter().collect();
    let held = |by: EventId, id: FixingId| {
        let it = of_part.get(&id);
        it.is_some_and(|it| holds(before, by, id, it, part))
    };
    for (n, event) in before.iter().enumerate().rev() {
        match &event.act {
            Act::PartOffAgain { part: p, .. } if *p == part => return false,
            Act::Tightened { fixing, .. }
                if held(event.id, *fixing)
                    && where_parts(&before[..n]).get(&part) == Some(&Where::On) =>
            {
                return true;
            }
            Act::Started { fixing, .. } => {
                if let Some(it) = of_part.get(fixing)
                    && held(event.id, *fixing)
                    && only_seats(wants(&before[..n], *fixing, it).1.kind)
                    && !lies_between(wants(&before[..n], *fixing, it).1.kind)
                    && where_parts(&before[..n]).get(&part) == Some(&Where::On)
                {
                    return true;
                }
            }
            _ => {}
        }
    }
    false
}

/// Whether an item is among what was left off with a part.
fn given_back(before: &[&Event], part: PartId, it: &ItemRemoved) -> bool {
    match it.on {
        Target::Part(on) => on == part,
        Target::Fixing(on) => undone(before)
            .iter()
            .any(|(id, f)| *id == on && holds(before, LAST, on, f, part)),
        Target::End(on) => {
            let sits = before.iter().any(|e| match &e.act {
                Act::ConnectionLogged(c) if ConnectionId(e.id.thing(0)) == on.connection => {
                    let end = if on.side == Side::A { &c.a } else { &c.b };
                    end.on == Some(part)
                }
                _ => false,
            });
            let state = before.iter().rev().find_map(|e| match &e.act {
                Act::LeftOff { what, .. } if *what == Target::End(on) => Some(true),
                Act::EndParted { end } | Act::EndPushed { end, .. } | Act::EndSecured { end }
                    if *end == on =>
                {
                    Some(false)
                }
                Act::Doubted { what, .. } if *what == Target::End(on) => Some(false),
                // Given back before.
                Act::PartPlaced { part: p, .. } if *p == part => Some(false),
                _ => None,
            });
            sits && state == Some(true)
        }
        _ => false,
    }
}

fn care(events: &[&Event], now: i64, open: &mut Open) {
    let mut begun = false;
    let mut steps: HashMap<StepId, bool> = HashMap::new();
    let mut known: Vec<SafeStep> = Vec::new();
    let mut runs: Vec<(AfterRunId, bool)> = Vec::new();
    let mut run_texts: Vec<(AfterRunKind, String, Due)> = Vec::new();
    for event in events {
        let id = event.id;
        match &event.act {
            Act::PartOff(_)
            | Act::FixingUndone(_)
            | Act::FastenersUndone { .. }
            | Act::EndParted { .. }
            | Act::ItemRemoved(_) => begun = true,
            Act::ConnectionLogged(it) => begun |= it.a.parted || it.b.parted,
            Act::SafeStepListed(step) => {
                known.push(step.clone());
                steps.insert(StepId(id.thing(0)), false);
            }
            Act::SafeStepConfirmed { step } => {
                steps.insert(*step, true);
            }
            Act::ProcedureAttached(procedure) => {
                for (n, step) in procedure.safe.iter().enumerate() {
                    if !known.contains(step) {
                        known.push(step.clone());
                        steps.insert(StepId(id.thing(n as u16)), false);
                    }
                }
                for (n, run) in procedure.after_run.iter().enumerate() {
                    let said = (run.kind, run.text.clone(), run.due);
                    if !run_texts.contains(&said) {
                        run_texts.push(said);
                        runs.push((AfterRunId(id.thing(n as u16)), false));
                    }
                }
            }
            Act::AfterRunOwed {
                what,
                on,
                text,
                due,
            } => {
                if *on == Target::Job {
                    run_texts.push((*what, text.clone(), *due));
                }
                runs.push((AfterRunId(id.thing(0)), false));
            }
            Act::AfterRunDone { after_run, .. } => {
                for run in &mut runs {
                    run.1 |= run.0 == *after_run;
                }
            }
            Act::PutIn(put) => {
                let inside = InsideId(id.thing(0));
                let out: u32 = events
                    .iter()
                    .map(|e| match e.act {
                        Act::TakenOut { inside: i, n } if i == inside => n,
                        _ => 0,
                    })
                    .sum();
                if out < u32::from(put.n) {
                    open.insert((Rule::TakeOut, Target::Inside(inside)));
                }
            }
            Act::FluidDrained { bleed, amount, .. } => {
                let fluid = FluidId(id.thing(0));
                let on = Target::Fluid(fluid);
                let any = |f: &dyn Fn(&Act) -> bool| events.iter().any(|e| f(&e.act));
                if !any(&|a| matches!(a, Act::FluidFilled { fluid: f, .. } if *f == fluid)) {
                    open.insert((Rule::Fill, on));
                }
                if *bleed && !any(&|a| matches!(a, Act::FluidBled { fluid: f } if *f == fluid)) {
                    open.insert((Rule::Bleed, on));
                }
                let seen = any(&|a| matches!(a, Act::LevelSeen { fluid: f, .. } if *f == fluid));
                let filled = events.iter().find_map(|e| match &e.act {
                    Act::FluidFilled { fluid: f, amount } if *f == fluid => litres(amount),
                    _ => None,
                });
                if let (Some(out), Some(filled), false) = (litres(amount), filled, seen)
                    && out - filled > f64::max(0.1, out / 20.0) + 1e-9
                {
                    open.insert((Rule::LessIn, on));
                }
            }
            Act::SupplyIsolated { .. } => {
                let supply = SupplyId(id.thing(0));
                let back =
                    |e: &&Event| matches!(e.act, Act::SupplyRestored { supply: s } if s == supply);
                if !events.iter().any(back) {
                    open.insert((Rule::Restore, Target::Supply(supply)));
                }
            }
            Act::TreatmentPrescribed(it) => {
                treatment(events, TreatmentId(id.thing(0)), it, now, open);
            }
            Act::FindingNoted { .. } => {
                let finding = FindingId(id.thing(0));
                let mut owed = Some(Rule::Decide);
                for later in events {
                    match &later.act {
                        Act::Decided {
                            finding: f,
                            decision,
                            ..
                        } if *f == finding => {
                            owed = (*decision != Decision::Refit).then_some(Rule::DoWork);
                        }
                        Act::WorkDone { finding: f } if *f == finding => owed = None,
                        _ => {}
                    }
                }
                if let Some(rule) = owed {
                    open.insert((rule, Target::Finding(finding)));
                }
            }
            Act::StrayFound { .. } => {
                let stray = StrayId(id.thing(0));
                let settled = |e: &&Event| match &e.act {
                    Act::StrayIdentified { stray: s, .. } | Act::StraySettled { stray: s, .. } => {
                        *s == stray
                    }
                    _ => false,
                };
                if !events.iter().any(settled) {
                    open.insert((Rule::Stray, Target::Stray(stray)));
                }
            }
            _ => {}
        }
    }
    for (step, confirmed) in steps {
        if begun && !confirmed {
            open.insert((Rule::MakeSafe, Target::Step(step)));
        }
    }
    for (run, done) in runs {
        if !done {
            open.insert((Rule::AfterRun, Target::AfterRun(run)));
        }
    }
}

fn treatment(events: &[&Event], id: TreatmentId, it: &Treatment, now: i64, open: &mut Open) {
    let minute = 60_000;
    let (mut on_at, mut shut_at) = (None, None);
    let mut there = false;
    for event in events {
        there |= id.0.event() == event.id;
        if !there {
            continue;
        }
        match (&event.act, it.on) {
            (Act::TreatmentApplied { treatment }, _) if *treatment == id => on_at = Some(event.at),
            (Act::PartPlaced { part, .. }, Target::Part(on)) if *part == on => {
                shut_at = shut_at.or(Some(event.at));
            }
            (Act::Started { fixing, .. }, Target::Fixing(on)) if *fixing == on => {
                shut_at = shut_at.or(Some(event.at));
            }
            (Act::PartOffAgain { part, .. }, Target::Part(on))
                if *part == on && shut_at.is_some() =>
            {
                (on_at, shut_at) = (None, None);
            }
            (
                Act::FastenersUndone {
                    fixing, out: true, ..
                },
                Target::Fixing(on),
            ) if *fixing == on && shut_at.is_some() => (on_at, shut_at) = (None, None),
            _ => {}
        }
    }
    let target = Target::Treatment(id);
    let unsure = events.iter().rev().find_map(|e| match &e.act {
        Act::Touched { what, sure, .. } if *what == target => Some(!sure),
        Act::TreatmentApplied { treatment } if *treatment == id => Some(false),
        _ => None,
    });
    if unsure == Some(true) {
        open.insert((Rule::NotSure, target));
    }
    let Some(on_at) = on_at else {
        let moot = match it.on {
            Target::Part(part) => where_parts(events).get(&part) == Some(&Where::LeftOff),
            Target::Fixing(on) => undone(events)
                .iter()
                .filter(|(f, _)| *f == on)
                .all(|(f, u)| {
                    holes(events, *f, u)
                        .iter()
                        .all(|h| matches!(h, Hole::NeverHad | Hole::LeftEmpty))
                }),
            _ => false,
        };
        if !moot {
            open.insert((Rule::Apply, target));
        }
        return;
    };
    if it.cure_min > 0 && now < on_at + i64::from(it.cure_min) * minute {
        open.insert((Rule::Curing, target));
    }
    if let (Some(minutes), Some(shut)) = (it.open_min, shut_at)
        && shut > on_at + i64::from(minutes) * minute
    {
        open.insert((Rule::ClosedLate, target));
    }
}

/// How many of each line lie where: a plain count of every act that moves any.
#[derive(Default)]
struct Heap {
    at: HashMap<(LineId, Account), i64>,
}

impl Heap {
    fn add(&mut self, line: LineId, account: Account, n: i64) {
        *self.at.entry((line, account)).or_default() += n;
    }
    fn count(&self, line: LineId, account: Account) -> i64 {
        self.at.get(&(line, account)).copied().unwrap_or(0)
    }
    fn go(&mut self, line: LineId, from: Account, to: Account, n: i64) {
        self.add(line, from, -n);
        self.add(line, to, n);
    }
    fn loose(&self, line: LineId) -> i64 {
        self.at
            .iter()
            .filter(|((l, a), _)| *l == line && matches!(a, Account::Bench | Account::Container(_)))
            .map(|(_, n)| n)
            .sum()
    }
    /// The fullest of bench and containers first.
    fn go_loose(&mut self, line: LineId, to: Account, most: i64) {
        let mut left = most;
        while left > 0 {
            let fullest = self
                .at
                .iter()
                .filter(|((l, a), n)| {
                    *l == line && **n > 0 && matches!(a, Account::Bench | Account::Container(_))
                })
                .map(|((_, a), n)| (std::cmp::Reverse(*n), *a))
                .min();
            let Some((std::cmp::Reverse(n), from)) = fullest else {
                return;
            };
            let n = n.min(left);
            self.go(line, from, to, n);
            left -= n;
        }
    }
}

fn things(events: &[&Event], open: &mut Open) {
    let mut heap = Heap::default();
    for (n, event) in events.iter().enumerate() {
        move_things(&mut heap, &events[..n], event);
    }
    let all = undone(events);
    let missing: Vec<LineId> = heap
        .at
        .iter()
        .filter(|((_, a), n)| *a == Account::Missing && **n > 0)
        .map(|((l, _), _)| *l)
        .collect();
    for line in missing {
        open.insert((Rule::Missing, Target::Line(line)));
    }
    for &(id, it) in &all {
        let holes = holes(events, id, it);
        let (wants, _) = wants(events, id, it);
        let empty = holes
            .iter()
            .filter(|h| matches!(h, Hole::Empty | Hole::Stump))
            .count() as i64;
        let wanted = holes
            .iter()
            .filter(|h| !matches!(h, Hole::NeverHad | Hole::LeftEmpty))
            .count() as i64;
        let mut lines: Vec<LineId> = vec![LineId(id.0), LineId(id.0.event().thing(900))];
        lines.extend(events.iter().filter_map(|e| match &e.act {
            Act::FixingRenewed { fixing, .. } if *fixing == id => Some(LineId(e.id.thing(0))),
            _ => None,
        }));
        for line in lines {
            let want = if line == wants { empty } else { 0 };
            if heap.loose(line) > want {
                open.insert((Rule::LeftOver, Target::Line(line)));
            }
        }
        for (line, extra) in extras_of(events, id, it) {
            let mut here = heap.count(line, Account::Fixing(id));
            for &(other, theirs) in all.iter().filter(|(other, _)| *other != id) {
                for (line, one) in extras_of(events, other, theirs) {
                    if as_good(&one.spec, &extra.spec) {
                        here += heap.count(line, Account::Fixing(id));
                    }
                }
            }
            let lacking = (wanted * i64::from(extra.per_place) - here).max(0);
            if lacking > 0 {
                open.insert((Rule::FitExtra, Target::Fixing(id)));
            }
            if heap.loose(line) > lacking {
                open.insert((Rule::LeftOver, Target::Line(line)));
            }
            for &(other, theirs) in &all {
                let has = heap.count(line, Account::Fixing(other)) > 0;
                let good = |e: &Extra| as_good(&extra.spec, &e.spec);
                let own = extras_of(events, other, theirs);
                if other != id && has && !own.iter().map(|e| &e.1).any(good) {
                    open.insert((Rule::WrongExtra, Target::Fixing(other)));
                }
            }
        }
    }
}

fn move_things(heap: &mut Heap, before: &[&Event], event: &Event) {
    let id = event.id;
    let line = LineId(id.thing(0));
    match &event.act {
        Act::PartOff(_) | Act::StrayFound { .. } => heap.add(line, Account::Bench, 1),
        Act::FixingUndone(it) => {
            let here = Account::Fixing(FixingId(id.thing(0)));
            let had = i64::from(it.count - it.found_empty);
            let out = had - i64::from(it.slackened);
            heap.add(line, here, had);
            for &(to, n) in &it.to {
                heap.go(line, here, to, i64::from(n));
            }
            let bag = it
                .to
                .iter()
                .map(|t| t.0)
                .find(|&a| a != Account::Scrapped)
                .unwrap_or(Account::Bench);
            for (n, extra) in it.extras.iter().enumerate() {
                let line = LineId(id.thing(n as u16 + 1));
                heap.add(line, here, had * i64::from(extra.per_place));
                heap.go(line, here, bag, out * i64::from(extra.per_place));
            }
        }
        Act::ExtraAdded {
            fixing,
            extra,
            under,
            to,
        } => {
            let Some((_, it)) = undone(before).into_iter().find(|(f, _)| f == fixing) else {
                return;
            };
            let takes = |h: &&Hole| !matches!(h, Hole::NeverHad | Hole::LeftEmpty);
            let takes = holes(before, *fixing, it).iter().filter(takes).count() as i64;
            let each = i64::from(extra.per_place);
            let under = i64::from(*under);
            heap.add(line, Account::Fixing(*fixing), under * each);
            heap.add(line, *to, (takes - under) * each);
        }
        Act::FastenersUndone {
            fixing,
            places,
            out: true,
            to,
        } => {
            let here = Account::Fixing(*fixing);
            let Some((_, it)) = undone(before).into_iter().find(|(f, _)| f == fixing) else {
                return;
            };
            let holes = holes(before, *fixing, it);
            for &place in places {
                if let Some(line) = holes[usize::from(place)].line() {
                    heap.go(line, here, *to, 1);
                }
                extras_out(heap, before, *fixing, it, *to);
            }
        }
        Act::FastenerBroke { fixing, place, .. } => {
            let Some((_, it)) = undone(before).into_iter().find(|(f, _)| f == fixing) else {
                return;
            };
            match holes(before, *fixing, it)[usize::from(*place)].line() {
                Some(line) => heap.go(line, Account::Fixing(*fixing), Account::Scrapped, 1),
                None => heap.go_loose(LineId(fixing.0), Account::Scrapped, 1),
            }
        }
        Act::PartOffAgain { part, .. } => {
            heap.go(LineId(part.0), Account::Part(*part), Account::Bench, 1);
        }
        Act::PartPlaced { part, .. } => part_on(heap, before, *part),
        Act::PartReplaced { part, .. } => {
            heap.go_loose(LineId(part.0), Account::Scrapped, 1);
            heap.add(LineId(part.0), Account::Bench, 1);
        }
        Act::LeftOff { what, places, .. } => match *what {
            Target::Part(part) => heap.go_loose(LineId(part.0), Account::LeftOff, 1),
            Target::Fixing(fixing) => {
                if let Some((_, it)) = undone(before).into_iter().find(|(f, _)| *f == fixing) {
                    let (wants, _) = wants(before, fixing, it);
                    heap.go_loose(wants, Account::LeftOff, places.len() as i64);
                    let mut now = before.to_vec();
                    now.push(event);
                    extras_left(heap, &now, fixing, it);
                }
            }
            _ => {}
        },
        Act::FixingRenewed { fixing, .. } | Act::OldKept { fixing, .. } => {
            if let Some((_, it)) = undone(before).into_iter().find(|(f, _)| f == fixing) {
                let (wanted, _) = wants(before, *fixing, it);
                heap.go_loose(wanted, Account::Spare, i64::MAX);
            }
        }
        Act::Arrived {
            want: Want::Fixing(fixing),
            n,
        } => {
            if let Some((_, it)) = undone(before).into_iter().find(|(f, _)| f == fixing) {
                let (wants, _) = wants(before, *fixing, it);
                heap.add(wants, Account::Bench, i64::from(*n));
            }
        }
        Act::Arrived {
            want: Want::Extra(line),
            n,
        } => heap.add(*line, Account::Bench, i64::from(*n)),
        Act::Arrived {
            want: Want::Item(item),
            n,
        } => heap.add(LineId(item.0), Account::Bench, i64::from(*n)),
        Act::ItemRemoved(it) => heap.add(line, Account::Scrapped, i64::from(it.count)),
        Act::ItemFitted {
            item,
            n,
            old: false,
            ..
        } => {
            // From where they lie, or straight out of the hand.
            heap.go_loose(LineId(item.0), Account::Item(*item), i64::from(*n));
        }
        Act::PutIn(put) => heap.add(
            line,
            Account::Inside(InsideId(id.thing(0))),
            i64::from(put.n),
        ),
        Act::TakenOut { inside, n } => heap.go(
            LineId(inside.0),
            Account::Inside(*inside),
            Account::Bench,
            i64::from(*n),
        ),
        Act::Moved {
            line, from, to, n, ..
        } => heap.go(*line, *from, *to, i64::from(*n)),
        Act::StockAdded { line, to, n } => heap.add(*line, *to, i64::from(*n)),
        Act::Started {
            fixing,
            places,
            line,
            from,
        } => heap.go(*line, *from, Account::Fixing(*fixing), places.len() as i64),
        Act::ExtraFitted {
            fixing,
            line,
            from,
            n,
        } => heap.go(*line, *from, Account::Fixing(*fixing), i64::from(*n)),
        Act::StrayIdentified { stray, line } => {
            heap.go(*line, Account::Missing, Account::Bench, 1);
            heap.go_loose(LineId(stray.0), Account::Spare, 1);
        }
        Act::StraySettled { stray, .. } => heap.go_loose(LineId(stray.0), Account::Spare, 1),
        _ => {}
    }
}

/// What goes with each fastener of a fixing, what was said later of it too.
fn extras_of(events: &[&Event], id: FixingId, it: &FixingUndone) -> Vec<(LineId, Extra)> {
    let first = (1..).zip(&it.extras);
    let first = first.map(|(n, e)| (LineId(id.0.event().thing(n)), e.clone()));
    let later = events.iter().filter_map(|e| match &e.act {
        Act::ExtraAdded { fixing, extra, .. } if *fixing == id => {
            Some((LineId(e.id.thing(0)), extra.clone()))
        }
        _ => None,
    });
    first.chain(later).collect()
}

/// What comes out with one fastener: what was put here of other fixings, in the
/// order it came, then of its own what is left of each kind's number.
fn extras_out(heap: &mut Heap, before: &[&Event], id: FixingId, it: &FixingUndone, to: Account) {
    let here = Account::Fixing(id);
    let all = extras_of(before, id, it);
    let own = |n: usize| all[n].0;
    let mut left: Vec<i64> = all.iter().map(|e| i64::from(e.1.per_place)).collect();
    let mut seen = Vec::new();
    for event in before {
        let Act::ExtraFitted { fixing, line, .. } = event.act else {
            continue;
        };
        if fixing != id || seen.contains(&line) || (0..left.len()).any(|n| own(n) == line) {
            continue;
        }
        seen.push(line);
        let whose = undone(before).into_iter().find_map(|(f, u)| {
            let theirs = extras_of(before, f, u);
            theirs
                .into_iter()
                .find(|e| e.0 == line)
                .map(|e| e.1.spec.kind)
        });
        let like: Vec<usize> = (0..left.len())
            .filter(|&n| Some(all[n].1.spec.kind) == whose)
            .collect();
        let mut out = heap.count(line, here);
        if !like.is_empty() {
            out = out.min(like.iter().map(|&n| left[n]).sum());
        }
        heap.go(line, here, to, out);
        for n in like {
            let less = left[n].min(out);
            left[n] -= less;
            out -= less;
        }
    }
    for (n, left) in left.into_iter().enumerate() {
        let out = left.min(heap.count(own(n), here));
        heap.go(own(n), here, to, out);
    }
}

/// What more washers lie on a fixing than its places take, now that some are
/// left empty: of other fixings first, in the order they came.
fn extras_left(heap: &mut Heap, events: &[&Event], id: FixingId, it: &FixingUndone) {
    let here = Account::Fixing(id);
    let taken = |h: &&Hole| !matches!(h, Hole::NeverHad | Hole::LeftEmpty);
    let wanted = holes(events, id, it).iter().filter(taken).count() as i64;
    let all = extras_of(events, id, it);
    let own = |n: usize| all[n].0;
    let mut others: Vec<(LineId, Extra)> = Vec::new();
    for event in events {
        let Act::ExtraFitted { fixing, line, .. } = event.act else {
            continue;
        };
        let mine = (0..all.len()).any(|n| own(n) == line);
        if fixing != id || mine || others.iter().any(|(l, _)| *l == line) {
            continue;
        }
        for (from, theirs) in undone(events) {
            let theirs = extras_of(events, from, theirs);
            others.extend(theirs.into_iter().filter(|e| e.0 == line));
        }
    }
    for (n, (_, extra)) in all.iter().enumerate() {
        let good = |o: &&(LineId, Extra)| as_good(&o.1.spec, &extra.spec);
        let good: Vec<LineId> = others.iter().filter(good).map(|o| o.0).collect();
        let on_it = |heap: &Heap, line: LineId| heap.count(line, here);
        let lie: i64 = good.iter().map(|&l| on_it(heap, l)).sum::<i64>() + on_it(heap, own(n));
        let mut over = (lie - wanted * i64::from(extra.per_place)).max(0);
        for line in good {
            let off = on_it(heap, line).min(over);
            heap.go(line, here, Account::Bench, off);
            over -= off;
        }
        let off = on_it(heap, own(n)).min(over);
        heap.go(own(n), here, Account::LeftOff, off);
    }
    for (line, _) in others.iter().filter(|_| wanted == 0) {
        let lie = heap.count(*line, here);
        heap.go(*line, here, Account::Bench, lie);
    }
}

/// A part goes on; if it was left off by decision, what was left off with it
/// comes out again.
fn part_on(heap: &mut Heap, before: &[&Event], part: PartId) {
    let line = LineId(part.0);
    let to = Account::Part(part);
    if where_parts(before).get(&part) != Some(&Where::LeftOff) {
        heap.go_loose(line, to, 1);
        return;
    }
    heap.go(line, Account::LeftOff, to, 1);
    for (id, it) in undone(before) {
        if !holds(before, LAST, id, it, part) {
            continue;
        }
        let (wants, _) = wants(before, id, it);
        let extras = extras_of(before, id, it).into_iter().map(|e| e.0);
        for line in std::iter::once(wants).chain(extras) {
            let n = heap.count(line, Account::LeftOff);
            heap.go(line, Account::LeftOff, Account::Bench, n);
        }
    }
}
