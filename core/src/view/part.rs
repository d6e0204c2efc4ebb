//! The page of a part: its photos, containers, fixings, ends and what is new.
use super::At;
use crate::access;
use crate::fastener::FastenerSpec;
use crate::job::{Book, Connection, EndState, Fixing, Job, PartState, PlaceState, lies_under};
use crate::journal::*;
use crate::words::{self, Names};

#[derive(Clone, Debug, PartialEq)]
pub struct PhotoMark {
    pub number: u16,
    /// Thousandths from the left and from the top.
    pub x: u16,
    pub y: u16,
    pub label: String,
    pub what: Target,
    /// The length of what belongs there, where lengths on the photo differ.
    pub size: String,
    /// Which of the lengths, from the shortest; each has a shape of its own.
    pub group: u8,
    pub done: bool,
}

#[derive(Clone, Debug, PartialEq)]
pub struct PhotoRow {
    pub id: PhotoId,
    pub hash: String,
    pub thumb: String,
    pub caption: String,
    pub when: String,
    pub width: u32,
    pub height: u32,
    pub marks: Vec<PhotoMark>,
}

/// A photo by itself.
#[derive(Clone, Debug, PartialEq)]
pub struct PhotoPage {
    pub row: PhotoRow,
    /// The part that it is of; none where it is of the whole.
    pub part: Option<PartId>,
    /// What a mark can point at, by name.
    pub targets: Vec<(Target, String)>,
}

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
pub struct PlaceCell {
    pub index: u16,
    pub number: u16,
    pub state: PlaceState,
    pub word: String,
}

/// The one act that a fixing asks for next.
#[derive(Clone, Debug, PartialEq)]
pub enum NextAct {
    FitExtras,
    Start {
        n: u16,
    },
    Tighten {
        to: Tight,
        value: Option<Figure>,
        text: String,
    },
    /// Somebody is not sure of so many: each is looked at by itself.
    Doubt {
        n: u16,
    },
    /// Once more all round, place by place.
    LastRound,
    Check,
    Repair,
    /// Its part is off.
    PartFirst,
    Wait {
        text: String,
    },
    Done,
}

#[derive(Clone, Debug, PartialEq)]
pub struct ExtraRow {
    pub line: LineId,
    pub text: String,
    pub n_in: u32,
    pub n: u32,
}

#[derive(Clone, Debug, PartialEq)]
pub struct FixingRow {
    pub id: FixingId,
    pub title: String,
    pub place: String,
    pub n: u32,
    pub n_in: u32,
    pub n_final: u32,
    pub cells: Vec<PlaceCell>,
    pub from: Vec<(String, u32)>,
    pub extras: Vec<ExtraRow>,
    pub stages: Vec<String>,
    pub tool: String,
    pub watch: String,
    pub safety: bool,
    pub renew: bool,
    /// The old ones are to be looked at before they go back, and nobody has said
    /// what was seen.
    pub inspect: bool,
    /// Parts it holds besides this one.
    pub also: Vec<String>,
    pub next: NextAct,
    pub short: u32,
    /// Why its hole is to be measured again; empty where it need not be.
    pub hole_old: String,
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

/// Photos of things that `wanted` picks, with their marks.
/// A photo by itself: the part it is of, and what a mark on it can point at.
pub fn photo_page(job: &Job, id: PhotoId, at: At) -> Option<PhotoPage> {
    let photo = job.photos.get(id)?;
    let row = photo_rows(job, at, |on| photo.taken.on.contains(&on))
        .into_iter()
        .find(|r| r.id == id)?;
    let part = photo.taken.on.iter().find_map(|&on| match on {
        Target::Part(part) => Some(part),
        Target::Fixing(fixing) => job.fixings.get(fixing)?.parts.first().copied(),
        _ => None,
    });
    let targets: Vec<Target> = match part.and_then(|p| job.parts.get(p)) {
        // The joints of what is on it.
        Some(it) => {
            let fixings = it.fixings.iter().map(|&f| Target::Fixing(f));
            let ends = it.ends.iter().map(|&e| Target::End(e));
            fixings.chain(ends).chain(part.map(Target::Part)).collect()
        }
        // All that is seen of the whole.
        None => job.parts.ids().map(Target::Part).collect(),
    };
    let named = |t: Target| (t, words::name(job, t));
    Some(PhotoPage {
        row,
        part,
        targets: targets.into_iter().map(named).collect(),
    })
}

/// The number of the next mark on a photo: that of a hole, where the fixing has
/// its holes numbered and the next of them is free, else one more than the
/// greatest.
pub fn mark_number(job: &Job, photo: PhotoId, what: Target) -> u16 {
    let used: Vec<u16> = job
        .marks
        .rows()
        .filter(|m| m.photo == photo)
        .map(|m| m.number)
        .collect();
    let hole = match what {
        Target::Fixing(id) => job.fixings.get(id),
        _ => None,
    };
    let hole = hole.and_then(|it| it.numbers.iter().find(|n| !used.contains(n)));
    let next = used.iter().max().copied().unwrap_or(0).saturating_add(1);
    hole.copied().unwrap_or(next)
}

/// Photos of the whole, as it stood.
pub fn photos_of_all(job: &Job, at: At) -> Vec<PhotoRow> {
    let photos = job.photos.iter();
    let whole: Vec<PhotoId> = photos
        .filter(|(_, p)| p.taken.on.is_empty() || p.taken.on.contains(&Target::Job))
        .map(|(id, _)| id)
        .collect();
    let page = |id| Some(photo_page(job, id, at)?.row);
    whole.into_iter().filter_map(page).collect()
}

pub fn photo_rows(job: &Job, at: At, wanted: impl Fn(Target) -> bool) -> Vec<PhotoRow> {
    job.photos
        .iter()
        .filter(|(_, p)| p.taken.on.iter().any(|&on| wanted(on)))
        .map(|(id, p)| (id, p, lengths_on(job, id)))
        .map(|(id, p, lengths)| PhotoRow {
            id,
            hash: p.taken.hash.clone(),
            thumb: p.taken.thumb.clone(),
            caption: p.taken.caption.clone(),
            when: (at.style.when)(p.at),
            width: p.taken.width,
            height: p.taken.height,
            marks: job
                .marks
                .rows()
                .filter(|m| m.photo == id)
                .map(|m| PhotoMark {
                    number: m.number,
                    x: m.x,
                    y: m.y,
                    label: words::name(job, m.what),
                    what: m.what,
                    size: length_of(job, m.what)
                        .filter(|_| lengths.len() > 1)
                        .map_or_else(String::new, |um| length_text(job, um, at)),
                    group: length_of(job, m.what)
                        .and_then(|um| lengths.iter().position(|&it| it == um))
                        .map_or(0, |n| n as u8),
                    done: access::settled(job, m.what),
                })
                .collect(),
        })
        .collect()
}

/// The length of the fasteners that a mark shows.
fn length_of(job: &Job, what: Target) -> Option<u32> {
    match what {
        Target::Fixing(id) => job.fixings.get(id)?.spec.length_um,
        _ => None,
    }
}

/// All lengths that are marked on a photo, the shortest first.
fn lengths_on(job: &Job, photo: PhotoId) -> Vec<u32> {
    let marks = job.marks.rows().filter(|m| m.photo == photo);
    let mut lengths: Vec<u32> = marks.filter_map(|m| length_of(job, m.what)).collect();
    lengths.sort_unstable();
    lengths.dedup();
    lengths
}

/// A length as it is said of bolts: inches in fractions where they come out.
fn length_text(job: &Job, um: u32, at: At) -> String {
    let unit = job.length_unit();
    let spec = FastenerSpec {
        length_um: Some(um),
        ..FastenerSpec::default()
    };
    match (unit, spec.inches()) {
        (LengthUnit::Inch, Some(inches)) => format!("{inches} in"),
        _ => words::length(um, unit, at.style),
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

/// A fixing with the one act it asks for next.
pub fn fixing_row(job: &Job, id: FixingId, page: Option<PartId>, at: At) -> Option<FixingRow> {
    let it = job.fixings.get(id)?;
    let wanted = it.wanted() as u32;
    let line = job.lines.get(it.wants);
    let loose = line.map(|l| l.loose_at()).unwrap_or_default();
    let mut tool = vec![it.detail.tool.clone()];
    tool.extend(it.detail.way.map(|w| words::way_in(w).to_owned()));
    if it.detail.spanner_only {
        tool.push("spanner only".to_owned());
    }
    tool.retain(|t| !t.is_empty());
    let extras: Vec<ExtraRow> = it
        .extras
        .iter()
        .filter_map(|(line, extra)| {
            let row = job.lines.get(*line)?;
            let label = extra.spec.label();
            Some(ExtraRow {
                line: *line,
                text: label,
                n_in: row.count(Account::Fixing(id)),
                n: row.declared + row.new_stock,
            })
        })
        .collect();
    Some(FixingRow {
        id,
        title: it.spec.label(),
        place: it.place.clone(),
        n: wanted,
        n_in: it.count_where(|p| p.state.filled()) as u32,
        n_final: it.count_where(|p| p.state >= PlaceState::Final) as u32,
        cells: (0_u16..)
            .zip(&it.places)
            .map(|(index, p)| PlaceCell {
                index,
                number: it.number(index),
                state: p.state,
                word: words::place_state(p.state),
            })
            .collect(),
        from: loose
            .iter()
            .map(|&(a, n)| (words::lying(job, a), n))
            .collect(),
        extras,
        stages: it
            .detail
            .stages
            .iter()
            .map(|&f| words::figure(f, at.style))
            .collect(),
        tool: tool.join(", "),
        watch: it.detail.watch.clone(),
        safety: it.detail.safety,
        renew: it.wants != it.old,
        inspect: it.look_owed(),
        also: it
            .parts
            .iter()
            .filter(|&&p| Some(p) != page)
            .map(|&p| words::name(job, Target::Part(p)))
            .collect(),
        next: next_act(job, id, it, at),
        short: job.short_of(it),
        hole_old: it.hole_old().map_or_else(String::new, |(what, _)| {
            words::hole_old(&words::name(job, what))
        }),
    })
}

/// The next step of a fixing: what goes with it, started all round, then each
/// stage for all before the next stage for any, then the second look.
/// The name of what is to lie under the heads, new or for now the old, and is
/// not there: once they are tight it no longer goes in.
fn not_under(job: &Job, it: &Fixing) -> Option<String> {
    let items = it.items.iter().filter_map(|&i| job.items.get(i));
    let mut lacking = items.filter(|i| {
        lies_under(i.kind) && !i.left_off && i.renewed.saturating_add(i.old_in) < i.count
    });
    Some(lacking.next()?.name.clone())
}

fn next_act(job: &Job, id: FixingId, it: &Fixing, at: At) -> NextAct {
    let off = |p: &PartId| {
        job.parts
            .get(*p)
            .is_some_and(|p| matches!(p.state, PartState::Off | PartState::Aside))
    };
    if it.count_where(|p| p.state == PlaceState::Broken) > 0 {
        return NextAct::Repair;
    }
    let open = it.count_where(|p| p.state == PlaceState::Open) as u16;
    if open > 0 {
        if !it.parts.is_empty() && it.parts.iter().all(off) {
            return NextAct::PartFirst;
        }
        if let Some(name) = not_under(job, it) {
            return NextAct::Wait {
                text: format!("new {name} first"),
            };
        }
        let extras_out = it.extras.iter().any(|(l, _)| {
            let lacking = job.extras_lacking(id, it, *l).unwrap_or(0);
            lacking > 0 && job.lines.get(*l).is_some_and(|l| l.loose() > 0)
        });
        if extras_out {
            return NextAct::FitExtras;
        }
        let short = job.short_of(it).min(u32::from(u16::MAX)) as u16;
        return match open.saturating_sub(short) {
            0 => NextAct::Wait {
                text: words::not_to_hand(it.spec.kind, open),
            },
            n => NextAct::Start { n },
        };
    }
    let stages = &it.detail.stages;
    // The lowest state decides: a stage is for all before the next is for any.
    let lowest = it
        .places
        .iter()
        .map(|p| p.state)
        .filter(|s| s.filled() && *s < PlaceState::Final && *s != PlaceState::Doubtful)
        .min();
    let doubtful = it.count_where(|p| p.state == PlaceState::Doubtful) as u16;
    let Some(lowest) = lowest else {
        if doubtful > 0 {
            return NextAct::Doubt { n: doubtful };
        }
        if it.round_owed() {
            return NextAct::LastRound;
        }
        let unchecked = it.detail.safety && it.count_where(|p| p.state == PlaceState::Final) > 0;
        return if unchecked {
            NextAct::Check
        } else {
            NextAct::Done
        };
    };
    let waits: Vec<String> = it
        .parts
        .iter()
        .filter(|p| off(p))
        .map(|&p| words::name(job, Target::Part(p)))
        .collect();
    let reached = match lowest {
        PlaceState::Stage(n) => usize::from(n),
        _ => 0,
    };
    let last = stages.len() <= reached + 1;
    if last && !waits.is_empty() {
        return NextAct::Wait {
            text: format!("also holds {}, still off", Names(waits)),
        };
    }
    if let Some(until) = job.held_by(it).filter(|_| last) {
        return NextAct::Wait {
            text: format!("only {}", words::hold(until)),
        };
    }
    if let Some(name) = not_under(job, it).filter(|_| last) {
        return NextAct::Wait {
            text: format!("new {name} first"),
        };
    }
    let value = stages.get(reached).copied();
    let text = value.map_or_else(String::new, |v| words::figure(v, at.style));
    let to = if last {
        Tight::Final
    } else {
        Tight::Stage(reached as u8 + 1)
    };
    NextAct::Tighten { to, value, text }
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
