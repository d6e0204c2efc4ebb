//! A procedure made from a job: the sequence as it turned out, without what
//! belongs to that one machine and its people. Left behind are names, times,
//! meter readings, photos, notes, findings, tags and where things lay.
use super::*;
use crate::job::{Connection, EndOf, EndState, Fixing, Item, Job};

/// Makes a procedure of what a job has met: parts in the order in which they
/// came off, what had to be off before, and all that came with each.
pub fn procedure_from_job(job: &Job) -> Procedure {
    let head = job.head.as_ref();
    let clean = Clean { names: &job.names };
    let keys = Keys::of(job);
    let mut parts: Vec<PlannedPart> = Vec::with_capacity(job.parts.len());
    for (slot, (id, part)) in job.parts.iter().enumerate() {
        parts.push(PlannedPart {
            key: keys.0.get(slot).cloned().unwrap_or_default(),
            name: clean.text(&part.name),
            lies: String::new(),
            after: keys.after(job, part.opened, &part.after),
            ways: keys.ways(job, Some(id), &part.ways),
            hazards: part.hazards.clone(),
            note: String::new(),
            fixings: part
                .fixings
                .iter()
                .filter_map(|&f| job.fixings.get(f))
                // One that holds several parts goes with the first of them.
                .filter(|f| f.parts.first() == Some(&id))
                .map(|f| {
                    let others = f.parts.iter().skip(1);
                    let also = others.filter_map(|&part| keys.key(job, part));
                    fixing(f, also.cloned().collect(), &clean)
                })
                .collect(),
            connections: Vec::new(),
            items: Vec::new(),
            openings: Vec::new(),
            treatments: Vec::new(),
        });
    }
    for (id, it) in job.connections.iter() {
        let touched = |side| it.end(side).state != EndState::Undisturbed;
        if !touched(Side::A) && !touched(Side::B) {
            continue;
        }
        let slot = goes_with(job, Target::Connection(id), it);
        let with = job.parts.ids().nth(slot);
        if let Some(part) = parts.get_mut(slot) {
            part.connections
                .push(connection(job, it, with, &clean, &keys));
        }
    }
    for it in job.items.rows() {
        let slot = match it.on {
            Target::Part(part) => job.parts.slot(part),
            Target::Fixing(fixing) => job
                .fixings
                .get(fixing)
                .and_then(|f| job.parts.slot(*f.parts.first()?)),
            Target::End(end) => job
                .connections
                .get(end.connection)
                .map(|c| goes_with(job, Target::Connection(end.connection), c)),
            _ => None,
        };
        if let Some(part) = slot.and_then(|slot| parts.get_mut(slot)) {
            part.items.push(item(it, &clean));
        }
    }
    for it in job.openings.rows() {
        let slot = it.shut_by.and_then(|part| job.parts.slot(part));
        if let Some(part) = slot.and_then(|slot| parts.get_mut(slot)) {
            part.openings.push(clean.text(&it.name));
        }
    }
    for it in job.treatments.rows() {
        let (part, fixing) = match it.treatment.on {
            Target::Part(part) => (Some(part), None),
            Target::Fixing(id) => own_fixing(job, id).unzip(),
            _ => continue,
        };
        let slot = part.and_then(|part| job.parts.slot(part));
        if let Some(part) = slot.and_then(|slot| parts.get_mut(slot)) {
            part.treatments.push(PlannedTreatment {
                treatment: Treatment {
                    product: clean.text(&it.treatment.product),
                    on: Target::Job,
                    ..it.treatment.clone()
                },
                fixing,
            });
        }
    }
    Procedure {
        title: head.map(|h| clean.text(&h.title)).unwrap_or_default(),
        machine: head.map(|h| clean.text(&h.machine)).unwrap_or_default(),
        aim: head.map(|h| clean.text(&h.aim)).unwrap_or_default(),
        safe: job.steps.rows().map(|s| clean.step(&s.step)).collect(),
        parts,
        fluids: job
            .fluids
            .rows()
            .map(|f| PlannedFluid {
                name: clean.text(&f.name),
                amount: clean.text(&f.drained),
                bleed: f.bleed,
            })
            .collect(),
        after_run: job
            .after_runs
            .rows()
            .map(|r| PlannedRun {
                kind: r.what,
                text: clean.text(&r.text),
                due: r.due,
            })
            .collect(),
    }
}

/// A key for each part: its name in small letters, numbered where two are alike.
struct Keys(Vec<String>);

impl Keys {
    fn of(job: &Job) -> Self {
        let clean = Clean { names: &job.names };
        let mut keys: Vec<String> = Vec::with_capacity(job.parts.len());
        let mut used = std::collections::HashSet::new();
        for part in job.parts.rows() {
            let name = clean.text(&part.name).to_lowercase();
            let words: Vec<&str> = name
                .split(|c: char| !c.is_alphanumeric())
                .filter(|w| !w.is_empty())
                .collect();
            let base = if words.is_empty() {
                "part".to_owned()
            } else {
                words.join("-")
            };
            let mut key = base.clone();
            let mut n = 1_u32;
            while !used.insert(key.clone()) {
                n += 1;
                key = format!("{base}-{n}");
            }
            keys.push(key);
        }
        Self(keys)
    }

    /// What was off before something that came off then. A need for a part that
    /// came off later contradicts the sequence and is dropped.
    fn after(&self, job: &Job, opened: EventId, needs: &[Need]) -> Vec<String> {
        let mut after: Vec<String> = Vec::new();
        for first in needs.iter().filter_map(|need| part_of(job, need.first)) {
            let earlier = job.parts.get(first).is_some_and(|p| p.opened < opened);
            if earlier
                && let Some(key) = self.key(job, first)
                && !after.contains(key)
            {
                after.push(key.clone());
            }
        }
        after
    }

    /// The ways that were noted, whatever came off when. One that leads over
    /// what no part stands for, or over the part itself, cannot be told.
    fn ways(&self, job: &Job, own: Option<PartId>, ways: &[Vec<Need>]) -> Vec<Vec<String>> {
        let mut told: Vec<Vec<String>> = Vec::new();
        for needs in ways {
            let mut way: Vec<String> = Vec::new();
            let whole = needs.iter().all(|need| {
                let first = part_of(job, need.first).filter(|&p| Some(p) != own);
                let Some(key) = first.and_then(|first| self.key(job, first)) else {
                    return false;
                };
                if !way.contains(key) {
                    way.push(key.clone());
                }
                true
            });
            if whole && !told.contains(&way) {
                told.push(way);
            }
        }
        told
    }

    fn key(&self, job: &Job, part: PartId) -> Option<&String> {
        self.0.get(job.parts.slot(part)?)
    }
}

/// The part that stands for what had to be off.
fn part_of(job: &Job, first: Target) -> Option<PartId> {
    match first {
        Target::Part(first) => Some(first),
        Target::End(end) => job.end(end)?.end.on,
        Target::Fixing(fixing) => job.fixings.get(fixing)?.parts.first().copied(),
        Target::Opening(opening) => job.openings.get(opening)?.shut_by,
        _ => None,
    }
}

/// The part a connection is logged with: the one it sits on, else the one that
/// had to wait for it, else the next that came off, else the last.
fn goes_with(job: &Job, id: Target, it: &Connection) -> usize {
    let on = |side| it.end(side).end.on.and_then(|part| job.parts.slot(part));
    let waited = || {
        job.gave_way_to(id).iter().find_map(|&what| match what {
            Target::Part(part) => job.parts.slot(part),
            _ => None,
        })
    };
    let next = || job.parts.rows().position(|p| p.opened > it.opened);
    on(Side::A)
        .or_else(|| on(Side::B))
        .or_else(waited)
        .or_else(next)
        .unwrap_or(job.parts.len().saturating_sub(1))
}

/// The part that a fixing goes with, and its place among the fixings there.
fn own_fixing(job: &Job, id: FixingId) -> Option<(PartId, u16)> {
    let part = *job.fixings.get(id)?.parts.first()?;
    let of_part = job.parts.get(part)?.fixings.iter();
    let first = |f: &&FixingId| {
        let it = job.fixings.get(**f);
        it.is_some_and(|it| it.parts.first() == Some(&part))
    };
    let place = of_part.filter(first).position(|&f| f == id)?;
    Some((part, place as u16))
}

fn fixing(it: &Fixing, also: Vec<String>, clean: &Clean) -> PlannedFixing {
    PlannedFixing {
        also,
        spec: FastenerSpec {
            text: clean.text(&it.spec.text),
            ..it.spec.clone()
        },
        count: it.places.len() as u16,
        place: clean.text(&it.place),
        numbers: it.numbers.clone(),
        extras: it
            .extras
            .iter()
            .map(|(_, extra)| Extra {
                spec: FastenerSpec {
                    text: clean.text(&extra.spec.text),
                    ..extra.spec.clone()
                },
                per_place: extra.per_place,
            })
            .collect(),
        reuse: it.reuse,
        detail: FixingDetail {
            source: clean.text(&it.detail.source),
            tool: clean.text(&it.detail.tool),
            watch: clean.text(&it.detail.watch),
            // That was of these nuts.
            running: None,
            ..it.detail.clone()
        },
        round: it.round.as_ref().map(|it| PlannedRound {
            points: it.points.clone(),
            order: it.order.clone(),
            maker: it.maker,
        }),
        last_round: it.last_round == Some(true),
    }
}

fn connection(
    job: &Job,
    it: &Connection,
    with: Option<PartId>,
    clean: &Clean,
    keys: &Keys,
) -> PlannedConnection {
    let lies = it.route.iter().filter(|r| r.kind != RouteKind::ClippedTo);
    let lies = lies.filter_map(|r| r.part).map(|part| Need {
        first: Target::Part(part),
        why: Why::RoutedThrough,
    });
    let needs: Vec<Need> = it.after.iter().cloned().chain(lies).collect();
    // The end on the part is the near one.
    let here = |end: &EndOf| with.is_some() && end.end.on == with;
    let (near, far) = match here(&it.b) && !here(&it.a) {
        true => (&it.b, &it.a),
        false => (&it.a, &it.b),
    };
    let parted = |end: &EndOf| end.state != EndState::Undisturbed;
    let key = |part: Option<PartId>| part.and_then(|part| keys.key(job, part).cloned());
    PlannedConnection {
        kind: it.kind,
        name: clean.text(&it.name),
        a: clean.text(&near.end.label),
        b: clean.text(&far.end.label),
        joint: near.end.joint,
        clamp: clean.text(&near.end.clamp),
        away: !here(near),
        stays: !parted(near),
        far: PlannedEnd {
            off: parted(far),
            on: key(far.end.on).unwrap_or_default(),
            joint: Some(far.end.joint).filter(|&joint| joint != near.end.joint),
            clamp: clean.text(&far.end.clamp),
        },
        route: it.route.first().map(|run| PlannedRoute {
            kind: run.kind,
            by: key(run.part).unwrap_or_default(),
            text: clean.text(&run.text),
        }),
        after: keys.after(job, it.opened, &needs),
        ways: keys.ways(job, None, &it.ways),
    }
}

fn item(it: &Item, clean: &Clean) -> PlannedItem {
    PlannedItem {
        kind: it.kind,
        name: clean.text(&it.name),
        size: clean.text(&it.size),
        count: it.count,
    }
}

/// Takes the names of those who worked on the job out of what they wrote. A
/// watch-out is worth more than its sentence: only the name goes.
struct Clean<'a> {
    names: &'a [String],
}

impl Clean<'_> {
    fn text(&self, text: &str) -> String {
        let mut text = text.to_owned();
        for name in self.names.iter().map(|n| n.trim()) {
            if !name.is_empty() && text.contains(name) {
                text = without(&text, name);
            }
        }
        text
    }

    fn step(&self, it: &SafeStep) -> SafeStep {
        SafeStep {
            kind: it.kind,
            text: self.text(&it.text),
        }
    }
}

/// The text with every whole-word `name` made a dash.
fn without(text: &str, name: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find(name) {
        let (before, found) = rest.split_at(at);
        let behind = found.get(name.len()..).unwrap_or_default();
        let inside_word = before.ends_with(char::is_alphanumeric)
            || out.ends_with(char::is_alphanumeric) && before.is_empty()
            || behind.starts_with(char::is_alphanumeric);
        out.push_str(before);
        out.push_str(if inside_word { name } else { "-" });
        rest = behind;
    }
    out.push_str(rest);
    out
}
