//! The handy order of a job: of the acts that can be done without anything
//! having to come off again, one order with few changes of position and of
//! tool; and what each thing that is waited for holds up.
use rustc_hash::FxHashMap;

use super::back::{Act, Back, Stand, Wait};
use super::graph::{Edge, Node, Precedence, Why};
use super::positions::{self, ChangeCost, Legs, Proposal, count_legs, entries, propose_legs};
use super::sequence::{index_of, places_of};
use super::waiting::{Gate, Waiting};
use super::{Pace, Planner, settled};
use crate::job::{Fixing, Job, Part, Place, PlaceState};
use crate::journal::*;

/// Getting under the machine and out again against changing a tool (own
/// choice, no source).
const CHANGES: ChangeCost = ChangeCost {
    position: 4,
    tool: 1,
};
const WAYS: [WayIn; 7] = [
    WayIn::Above,
    WayIn::Below,
    WayIn::Front,
    WayIn::Behind,
    WayIn::Side,
    WayIn::Inside,
    WayIn::WheelOff,
];
/// So many acts are put in order; those after them keep the plain order.
const AHEAD: usize = 150;

/// Acts that are done from one position, in order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Run {
    /// None for what no fixing says of how it is reached.
    pub way: Option<WayIn>,
    pub acts: Vec<Target>,
}

/// What a thing that is waited for holds up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HeldUp {
    /// None for a second person's look.
    pub by: Option<Wait>,
    /// What it is set on, and what must come after.
    pub acts: Vec<Target>,
    /// Of these, how many nothing else outstanding holds up.
    pub alone: usize,
    /// Of putting all of them back.
    pub minutes: u64,
}

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Handy {
    /// Everything that waits for nothing and for nobody, in order.
    pub order: Vec<Target>,
    /// The same by position.
    pub runs: Vec<Run>,
    pub position_changes: usize,
    pub tool_changes: usize,
    /// The same of the plain order, the last off first.
    pub plain_changes: (usize, usize),
    /// No allowed order has less, by what the fixings say.
    pub exact: bool,
    /// What holds up most in front.
    pub held: Vec<HeldUp>,
}

/// Puts the open acts of `back` in a handy order.
pub fn handy(job: &Job, back: &Back, pace: &Pace) -> Handy {
    let acts = &back.acts;
    let index = index_of(acts);
    let mut edges = Vec::new();
    for (after, act) in (0..).zip(acts) {
        let Stand::Blocked(by) = &act.stand else {
            continue;
        };
        // What is on already takes its turn at once.
        for before in by.iter().filter(|_| !act.begun) {
            for before in places_of(job, &index, *before).into_iter().flatten() {
                edges.push(Edge::new(before as Node, after, Why::Stated));
            }
        }
    }
    for (before, after) in &back.by_choice {
        if let (Some(&before), Some(&after)) = (index.get(before), index.get(after)) {
            edges.push(Edge::new(before as Node, after as Node, Why::Stated));
        }
    }
    let Ok(graph) = Precedence::new(acts.len(), &edges) else {
        return Handy::default();
    };
    let held = held_up(job, back, &index, &graph, pace);
    let mut free = vec![true; acts.len()];
    let circle = back.circle.iter().filter_map(|what| index.get(what));
    // What can be got on with is done although a part of it waits; what waits
    // for another person's look alone is not for this one to do.
    let now = |&&at: &&usize| {
        let act = acts.get(at);
        act.is_some_and(|a| a.stand == Stand::Now && !only_a_look(job, a))
    };
    let held_nodes = held
        .iter()
        .flat_map(|(_, nodes)| nodes)
        .filter(|at| !now(at));
    let waits = |at: &usize| matches!(acts.get(*at).map(|a| &a.stand), Some(Stand::Waiting(_)));
    let waiting: Vec<usize> = (0..acts.len()).filter(waits).collect();
    for &at in circle.chain(held_nodes).chain(&waiting) {
        if let Some(free) = free.get_mut(at) {
            *free = false;
        }
    }
    // Nor what can only come after one of these; the acts stand in an order in
    // which what comes first is in front.
    edges.sort_unstable_by_key(|it| it.after);
    for edge in &edges {
        // Only by choice after it: it can be done all the same.
        let after = acts.get(edge.after as usize);
        if after.is_some_and(|act| act.stand == Stand::Now) {
            continue;
        }
        let stuck = free.get(edge.before as usize) == Some(&false);
        if let Some(after) = free.get_mut(edge.after as usize) {
            *after &= !stuck;
        }
    }
    let plain: Vec<Node> = (0..acts.len() as Node)
        .filter(|&n| free.get(n as usize) == Some(&true))
        .collect();
    let mut tools = Tools::default();
    let legs: Vec<Legs> = acts.iter().map(|a| tools.legs(job, a.what)).collect();
    let from = tools.last(job);
    let plain_changes = count_legs(&plain, &legs, CHANGES, from);
    let found = ahead(&graph, &plain, &legs, from);
    let ways = tools.entered(&found.order, &legs, from);
    let names = found.order.iter().filter_map(|&n| acts.get(n as usize));
    Handy {
        order: names.map(|a| a.what).collect(),
        runs: runs(acts, &found.order, &ways),
        position_changes: found.position_changes,
        tool_changes: found.tool_changes,
        plain_changes,
        exact: found.exact,
        held: held.into_iter().map(|(held, _)| held).collect(),
    }
}

/// The best order of what comes first, the rest as it was; never worse than
/// all as it was.
fn ahead(graph: &Precedence, plain: &[Node], legs: &[Legs], from: positions::Stand) -> Proposal {
    let (first, rest) = plain.split_at(plain.len().min(AHEAD));
    let mut found = propose_legs(graph, first, legs, CHANGES, from);
    if rest.is_empty() {
        return found;
    }
    found.order.extend_from_slice(rest);
    let worth = |(positions, tools): (usize, usize)| {
        positions * CHANGES.position as usize + tools * CHANGES.tool as usize
    };
    let (changes, was) = (
        count_legs(&found.order, legs, CHANGES, from),
        count_legs(plain, legs, CHANGES, from),
    );
    let better = worth(changes) <= worth(was);
    let (order, (position_changes, tool_changes)) = if better {
        (found.order, changes)
    } else {
        (plain.to_vec(), was)
    };
    Proposal {
        order,
        position_changes,
        tool_changes,
        exact: false,
    }
}

/// Cuts the order where the position changes; `ways` has where each of its acts
/// is begun. What can be done from anywhere changes none and is kept apart, at
/// the end.
fn runs(acts: &[Act], order: &[Node], ways: &[Option<WayIn>]) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    let mut anywhere = Vec::new();
    for (&node, &way) in order.iter().zip(ways) {
        let Some(act) = acts.get(node as usize) else {
            continue;
        };
        match runs.last_mut() {
            _ if way.is_none() => anywhere.push(act.what),
            Some(run) if run.way == way => run.acts.push(act.what),
            _ => runs.push(Run {
                way,
                acts: vec![act.what],
            }),
        }
    }
    if !anywhere.is_empty() {
        runs.push(Run {
            way: None,
            acts: anywhere,
        });
    }
    runs
}

/// What is waited for, with the acts that it holds up.
fn held_up(
    job: &Job,
    back: &Back,
    index: &FxHashMap<Target, usize>,
    graph: &Precedence,
    pace: &Pace,
) -> Vec<(HeldUp, Vec<usize>)> {
    let acts = &back.acts;
    // Asked of the things and not of how the acts stand: what is blocked as well
    // waits all the same.
    let deliveries = job
        .to_buy()
        .into_iter()
        .map(|b| (Wait::Delivery(b.want), b.on));
    let findings = job.findings.iter().filter_map(|(id, f)| match f.decision {
        None => Some((Wait::Decision(id), f.on)),
        Some(_) => f.work_owed().then_some((Wait::Work(id), f.on)),
    });
    let cures = back.cures.iter().map(|&(on, id)| (Wait::Cure(id), on));
    let broken = job.fixings.iter().filter(|(_, it)| {
        let stump = |p: &Place| p.state == PlaceState::Broken;
        it.count_where(stump) > 0
    });
    let repairs = broken.map(|(id, _)| (Wait::Repair(id), Target::Fixing(id)));
    let gone = job.parts.iter().filter(|(id, part)| {
        let line = job.lines.get(LineId(id.0));
        part.off() && line.is_some_and(|it| it.count(Account::Missing) > 0)
    });
    let lost = gone.map(|(id, _)| (Wait::Lost(id), Target::Part(id)));
    let waits: Vec<(Wait, Target)> = deliveries
        .chain(lost)
        .chain(findings)
        .chain(cures)
        .chain(repairs)
        .collect();
    let mut waiting = Waiting::new();
    let gate = |at: u32, wait: Wait| match wait {
        Wait::Delivery(_) => Gate::Delivery(at),
        Wait::Decision(_)
        | Wait::Work(_)
        | Wait::Repair(_)
        | Wait::Lost(_)
        | Wait::Behind(_)
        | Wait::Over(_)
        | Wait::Seat(_)
        | Wait::Hold(_) => Gate::Decision(at),
        // One cure holds all that goes over it; only running ones are here.
        Wait::Cure(id) => Gate::Cure {
            id: waits
                .iter()
                .position(|w| w.0 == Wait::Cure(id))
                .unwrap_or(0) as u32,
            until_ms: i64::MAX,
        },
    };
    for (at, &(wait, on)) in (0..).zip(&waits) {
        if let Some(node) = act_for(job, index, on) {
            waiting.hold(node as Node, gate(at, wait));
        }
    }
    // A part may wait for what is bought for a fixing that it shares.
    for (node, act) in (0..).zip(acts) {
        let Stand::Waiting(own) = &act.stand else {
            continue;
        };
        for &wait in own {
            if let Some(at) = waits.iter().position(|w| w.0 == wait) {
                waiting.hold(node, gate(at as u32, wait));
            }
        }
    }
    for (node, _) in (0..).zip(acts).filter(|(_, act)| only_a_look(job, act)) {
        waiting.hold(node, Gate::Check(node));
    }
    let minutes: Vec<u32> = acts
        .iter()
        .map(|act| match act.what {
            Target::Part(id) => job.parts.slot(id).map_or(0, |slot| pace.back(slot)),
            _ => 1,
        })
        .collect();
    let planner = Planner::new(graph.clone(), &[]);
    let holds = waiting.outlook(&planner, &minutes, 0).holds;
    let held = holds.into_iter().map(|held| {
        let by = match held.gate {
            Gate::Delivery(at) | Gate::Decision(at) => waits.get(at as usize).map(|w| w.0),
            Gate::Cure { id, .. } => waits.get(id as usize).map(|w| w.0),
            Gate::Check(_) => None,
        };
        let nodes: Vec<usize> = held.nodes.iter().map(|&n| n as usize).collect();
        let names = nodes.iter().filter_map(|&n| acts.get(n)).map(|a| a.what);
        let up = HeldUp {
            by,
            acts: names.collect(),
            alone: held.by_it_alone.len(),
            minutes: held.minutes,
        };
        (up, nodes)
    });
    held.collect()
}

/// The act in which a thing that waits is dealt with.
fn act_for(job: &Job, index: &FxHashMap<Target, usize>, on: Target) -> Option<usize> {
    if let Some(&at) = index.get(&on) {
        return Some(at);
    }
    match on {
        Target::Item(id) => act_for(job, index, job.items.get(id)?.on),
        other => index
            .get(&Target::Part(super::part_of(job, other)?))
            .copied(),
    }
}

/// All is done but the look of a second person.
fn only_a_look(job: &Job, act: &Act) -> bool {
    let Target::Part(id) = act.what else {
        return super::lacks_look(job, act.what);
    };
    let Some(part) = job.parts.get(id).filter(|_| act.begun) else {
        return false;
    };
    let joints = part.fixings.iter().map(|&f| Target::Fixing(f));
    let mut joints = joints.chain(part.ends.iter().map(|&e| Target::End(e)));
    let seen = |what: Target| settled(job, what) || super::lacks_look(job, what);
    part.sure && joints.all(seen) && super::settled::own(part).all(|what| settled(job, what))
}

/// Tools by number.
#[derive(Default)]
struct Tools {
    names: FxHashMap<String, u8>,
}

impl Tools {
    fn number(&mut self, tool: &str) -> Option<u8> {
        let tool = tool.trim();
        if tool.is_empty() {
            return None;
        }
        if let Some(&n) = self.names.get(tool) {
            return Some(n);
        }
        let n = u8::try_from(self.names.len()).ok()?;
        self.names.insert(tool.to_owned(), n);
        Some(n)
    }

    /// Where an act is done from and with what: as each of its fixings says
    /// that is not finished.
    fn legs(&mut self, job: &Job, what: Target) -> Legs {
        let open = |f: &&Fixing| !f.finished();
        let fixings: Vec<&Fixing> = match what {
            Target::Part(id) => {
                let own = job.parts.get(id).map(|p: &Part| &p.fixings);
                let own = own.into_iter().flatten();
                own.filter_map(|&f| job.fixings.get(f))
                    .filter(open)
                    .collect()
            }
            Target::Fixing(id) => job.fixings.get(id).into_iter().collect(),
            _ => Vec::new(),
        };
        let stands = fixings.into_iter().map(|f| positions::Stand {
            position: f.detail.way.map(|w| w as u8),
            tool: self.number(&f.detail.tool),
        });
        Legs::of(stands)
    }

    /// From where each act of the order is begun; none for what can be done
    /// from anywhere.
    fn entered(&self, order: &[Node], legs: &[Legs], from: positions::Stand) -> Vec<Option<WayIn>> {
        let entries = entries(order, legs, CHANGES, from).into_iter();
        let way = |(&node, entry): (&Node, positions::Stand)| {
            let says = legs.get(node as usize).is_some_and(Legs::has_position);
            let mut ways = WAYS.into_iter();
            ways.find(|&w| says && entry.position == Some(w as u8))
        };
        order.iter().zip(entries).map(way).collect()
    }

    /// Where the person is now: at the fixing worked on last.
    fn last(&mut self, job: &Job) -> positions::Stand {
        let begun = |f: &&Fixing| f.places.iter().any(|p| p.state > PlaceState::Doubtful);
        let last = job.fixings.rows().filter(begun).max_by_key(|f| f.since);
        positions::Stand {
            position: last.and_then(|f| f.detail.way).map(|w| w as u8),
            tool: last.and_then(|f| self.number(&f.detail.tool)),
        }
    }
}
