//! The page of a part: its photos, containers, fixings, ends and what is new.
use super::At;
use super::fixing_row::{FixingRow, fixing_row};
use super::photo::{PhotoRow, photo_rows};
use crate::access;
use crate::job::{Book, Connection, EndState, Fixing, Job, PartState};
use crate::journal::*;
use crate::words;

/// What of a part's fasteners lies in one container.
#[derive(Clone, Debug, PartialEq)]
pub struct ContainerShare {
    pub line: LineId,
    pub account: Account,
    pub tag: String,
    pub where_: String,
    pub n: u32,
    /// How many others are in it, of other parts.
    pub others: u32,
    pub what: String,
}

#[derive(Clone, Debug, PartialEq)]
pub struct EndRow {
    pub id: EndId,
    pub title: String,
    pub state: EndState,
    pub word: &'static str,
    /// What holds it on, as it was noted.
    pub clamp: String,
    pub push: &'static str,
    pub secure: &'static str,
    pub joint: &'static str,
    /// A second person is to look at it.
    pub look: bool,
    /// What it is called to part it, where it can be parted.
    pub part: Option<&'static str>,
    /// What it sits on is left off: the reason for which it may be, too.
    pub left_with: Option<String>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct ConnectionRow {
    pub id: ConnectionId,
    pub title: String,
    pub kind: ConnectionKind,
    pub tag: Option<String>,
    pub route: String,
    pub ends: Vec<EndRow>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct ItemRow {
    pub id: ItemId,
    pub title: String,
    pub n: u32,
    pub renewed: u32,
    pub old_in: u32,
    pub to_buy: u32,
    pub done: bool,
}

#[derive(Clone, Debug, PartialEq)]
pub struct TreatmentRow {
    pub id: TreatmentId,
    pub title: String,
    pub applied: bool,
    /// Its open time ran out before the joint was closed.
    pub dried: bool,
    pub note: String,
}

#[derive(Clone, Debug, PartialEq)]
pub struct FindingRow {
    pub id: FindingId,
    pub text: String,
    pub decision: String,
    pub decided: bool,
    pub done: bool,
}

#[derive(Clone, Debug, PartialEq)]
pub struct PartPage {
    pub id: PartId,
    pub name: String,
    pub state: PartState,
    pub state_word: &'static str,
    pub lies: String,
    pub note: String,
    /// Why it was left off by decision; empty where it was not.
    pub left_off_why: String,
    pub came_after: Vec<String>,
    /// Ports that it shuts when it is placed.
    pub shuts: Vec<String>,
    pub photos: Vec<PhotoRow>,
    pub containers: Vec<ContainerShare>,
    pub fixings: Vec<FixingRow>,
    pub connections: Vec<ConnectionRow>,
    /// Parts that a hose may run by, those that are off first.
    pub runs_by: Vec<super::Choice>,
    pub items: Vec<ItemRow>,
    pub treatments: Vec<TreatmentRow>,
    pub findings: Vec<FindingRow>,
    pub hazards: Vec<Hazard>,
    /// What placing it now would put out of reach.
    pub would_bury: Vec<String>,
    /// What is behind it and not done, though it is on: it comes off again.
    pub hides: Vec<String>,
    pub notes: Vec<String>,
    pub carried: Vec<String>,
    pub finished: bool,
}

pub fn part_page(book: &Book, id: PartId, at: At) -> Option<PartPage> {
    let job = book.job();
    let part = job.parts.get(id)?;
    let off = matches!(part.state, PartState::Off | PartState::Aside);
    let mut connections: Vec<ConnectionId> = part.ends.iter().map(|e| e.connection).collect();
    connections.dedup();
    Some(PartPage {
        id,
        name: part.name.clone(),
        state: part.state,
        state_word: words::part_state(part.state),
        lies: part.lies.clone(),
        note: part.note.clone(),
        left_off_why: part.left_off_why.clone(),
        came_after: part
            .after
            .iter()
            .map(|n| format!("{} ({})", words::name(job, n.first), words::why(n.why)))
            .collect(),
        shuts: job
            .openings
            .rows()
            .filter(|o| o.shut_by == Some(id))
            .map(|o| o.name.clone())
            .collect(),
        photos: photo_rows(job, at, |on| touches(job, id, on)),
        containers: shares(job, id),
        fixings: part
            .fixings
            .iter()
            .filter_map(|&f| fixing_row(job, f, Some(id), at))
            .collect(),
        runs_by: super::choices::others(job, &[id]),
        connections: connections
            .iter()
            .filter_map(|&c| connection_row(job, c))
            .collect(),
        items: part
            .items
            .iter()
            .chain(
                ends_here(job, id, &connections)
                    .filter_map(|e| job.end(e))
                    .flat_map(|e| &e.items),
            )
            .copied()
            .chain(fixing_items(job, id))
            .filter_map(|i| item_row(job, i))
            .collect(),
        treatments: part
            .treatments
            .iter()
            .chain(
                part.fixings
                    .iter()
                    .filter_map(|&f| job.fixings.get(f))
                    .flat_map(|f| &f.treatments),
            )
            .filter_map(|&t| treatment_row(job, t, at))
            .collect(),
        findings: part
            .findings
            .iter()
            .filter_map(|&f| finding_row(job, f))
            .collect(),
        hazards: part.hazards.clone(),
        would_bury: if off {
            access::buried_by(job, id)
                .into_iter()
                // What is fitted under the part is on this very page.
                .filter(|t| !matches!(t, Target::Item(i) if part.items.contains(i)))
                .filter(|t| !matches!(t, Target::Treatment(i) if part.treatments.contains(i)))
                .map(|t| words::name_and_route(job, t))
                .collect()
        } else {
            Vec::new()
        },
        hides: access::hides(job, id, part)
            .map(|what| words::name_and_route(job, what))
            .collect(),
        notes: job
            .notes
            .rows()
            .filter(|n| touches(job, id, n.on))
            .map(|n| n.text.clone())
            .collect(),
        carried: job
            .parts
            .iter()
            .filter(|(_, p)| p.carried_by == Some(id))
            .map(|(_, p)| p.name.clone())
            .collect(),
        finished: access::settled(job, Target::Part(id)),
    })
}

/// The ends of these connections that sit on the part, or on the machine and
/// are reached by way of it.
fn ends_here<'a>(
    job: &'a Job,
    part: PartId,
    connections: &'a [ConnectionId],
) -> impl Iterator<Item = EndId> + 'a {
    let ends = connections
        .iter()
        .flat_map(|&connection| [Side::A, Side::B].map(|side| EndId { connection, side }));
    ends.filter(move |&end| access::part_of(job, Target::End(end)) == Some(part))
}

fn fixing_items(job: &Job, part: PartId) -> impl Iterator<Item = ItemId> + '_ {
    job.items
        .iter()
        .filter(move |(_, i)| match i.on {
            Target::Fixing(f) => job
                .fixings
                .get(f)
                .is_some_and(|f| f.parts.first() == Some(&part)),
            _ => false,
        })
        .map(|(id, _)| id)
}

/// Whether a thing is the part or one of its joints.
fn touches(job: &Job, part: PartId, on: Target) -> bool {
    match on {
        Target::Part(id) => id == part,
        Target::Fixing(id) => job.fixings.get(id).is_some_and(|f| f.parts.contains(&part)),
        Target::End(id) => job.end(id).is_some_and(|e| e.end.on == Some(part)),
        Target::Item(id) => job
            .items
            .get(id)
            .is_some_and(|it| touches(job, part, it.on)),
        Target::Treatment(id) => {
            let it = job.treatments.get(id);
            it.is_some_and(|it| touches(job, part, it.treatment.on))
        }
        _ => false,
    }
}

/// Tags of the containers that hold what a part needs.
pub fn part_tags(job: &Job, id: PartId) -> Vec<String> {
    let mut tags: Vec<String> = Vec::new();
    for share in shares(job, id) {
        if !share.tag.is_empty() && !tags.contains(&share.tag) {
            tags.push(share.tag);
        }
    }
    tags
}

fn shares(job: &Job, id: PartId) -> Vec<ContainerShare> {
    let Some(part) = job.parts.get(id) else {
        return Vec::new();
    };
    let fixings = part.fixings.iter().filter_map(|&f| job.fixings.get(f));
    let mut shares: Vec<ContainerShare> = fixings
        .flat_map(|fixing| fixing_shares(job, fixing))
        .collect();
    // What else of this part lies in the same bag does not stay in it.
    let mine: Vec<u32> = shares
        .iter()
        .map(|it| {
            let same = shares.iter().filter(|other| other.tag == it.tag);
            same.map(|other| other.n).sum()
        })
        .collect();
    for (share, mine) in shares.iter_mut().zip(mine) {
        share.others = (share.others + share.n).saturating_sub(mine);
    }
    shares
}

/// Where the loose fasteners of a fixing lie, and what goes with them.
pub(super) fn fixing_shares(job: &Job, fixing: &Fixing) -> Vec<ContainerShare> {
    let mut shares = Vec::new();
    let extras = fixing.extras.iter().map(|(l, _)| *l);
    for line in std::iter::once(fixing.wants).chain(extras) {
        let Some(row) = job.lines.get(line) else {
            continue;
        };
        for (account, n) in row.loose_at() {
            let container = match account {
                Account::Container(c) => job.containers.get(c),
                _ => None,
            };
            shares.push(ContainerShare {
                line,
                account,
                tag: container.map(|c| c.tag.clone()).unwrap_or_default(),
                where_: container.map_or_else(|| "the bench".to_owned(), |c| c.lies.clone()),
                n,
                others: in_account(job, account).saturating_sub(n),
                what: words::of_line(job, line, n),
            });
        }
    }
    shares
}

fn in_account(job: &Job, account: Account) -> u32 {
    match account {
        Account::Container(_) => job.lines.rows().map(|l| l.count(account)).sum(),
        _ => 0,
    }
}

pub(super) fn route_text(it: &Connection) -> String {
    let route: Vec<String> = it
        .route
        .iter()
        .map(|r| words::route_to(r.kind, &r.text))
        .collect();
    route.join(", ")
}

fn connection_row(job: &Job, id: ConnectionId) -> Option<ConnectionRow> {
    let it = job.connections.get(id)?;
    let mut route = route_text(it);
    for part in it
        .route
        .iter()
        .filter(|r| r.text.is_empty())
        .filter_map(|r| r.part)
    {
        route.push_str(&words::name(job, Target::Part(part)));
    }
    Some(ConnectionRow {
        id,
        title: it.name.clone(),
        kind: it.kind,
        tag: it.tag.clone(),
        route,
        ends: [Side::A, Side::B]
            .into_iter()
            .map(|side| {
                let id = EndId {
                    connection: id,
                    side,
                };
                let end = it.end(side);
                EndRow {
                    id,
                    title: words::name(job, Target::End(id)),
                    state: end.state,
                    word: words::end_state(end.state, end.end.joint),
                    clamp: end.end.clamp.clone(),
                    push: words::push_on(end.end.joint),
                    secure: words::secure(end.end.joint),
                    joint: words::joint(end.end.joint),
                    look: access::lacks_look(job, Target::End(id)),
                    part: words::part_end(end.state),
                    left_with: end
                        .end
                        .on
                        .filter(|_| end.state == EndState::Parted)
                        .and_then(|on| {
                            let left_off = |p: &&crate::job::Part| p.state == PartState::LeftOff;
                            let on = job.parts.get(on).filter(left_off)?;
                            Some(words::left_with(on))
                        }),
                }
            })
            .collect(),
    })
}

fn item_row(job: &Job, id: ItemId) -> Option<ItemRow> {
    let it = job.items.get(id)?;
    Some(ItemRow {
        id,
        title: format!("{} {}", it.name, it.size).trim().to_owned(),
        n: u32::from(it.count),
        renewed: u32::from(it.renewed),
        old_in: u32::from(it.old_in),
        to_buy: it.to_buy(),
        done: it.finished(),
    })
}

pub(super) fn treatment_row(job: &Job, id: TreatmentId, at: At) -> Option<TreatmentRow> {
    let it = job.treatments.get(id)?;
    let dried = it.close_by().is_some_and(|by| by < at.now);
    let note = match it.cured_at() {
        Some(_) if it.close_by().is_some() => {
            let by = it.close_by().map(at.style.when).unwrap_or_default();
            words::close_by(&by, dried)
        }
        Some(until) if it.curing(at.now) => format!("cures until {}", (at.style.when)(until)),
        Some(end) if it.treatment.cure_min > 0 => {
            format!("cured since {}", (at.style.when)(end))
        }
        Some(_) => "put on".to_owned(),
        None => "to be put on".to_owned(),
    };
    Some(TreatmentRow {
        id,
        title: words::name(job, Target::Treatment(id)),
        applied: it.applied.is_some(),
        dried,
        note,
    })
}

pub(super) fn finding_row(job: &Job, id: FindingId) -> Option<FindingRow> {
    let it = job.findings.get(id)?;
    Some(FindingRow {
        id,
        text: it.text.clone(),
        decision: it
            .decision
            .as_ref()
            .map_or("", |d| words::decision(d.0))
            .to_owned(),
        decided: it.decision.is_some(),
        done: it.decision.is_some() && !it.work_owed(),
    })
}
