//! Lines of one part that are tightened as one ring: bolts of several lengths
//! in one cover. Derived from what is noted, so that nothing of it is stored:
//! the same parts, the same stages, and every place marked on one photo.
use super::order::{Disc, Drawing, Loosening, MANY, marks_on, on_photo};
use super::place::{self, PlaceStep, Standing};
use super::running::{Running, running};
use super::{At, TightenPage, Tools};
use crate::fastener::FastenerSpec;
use crate::job::{Book, Fixing, Job, PlaceState};
use crate::journal::*;
use crate::torque::pattern;
use crate::torque::{Operation, Pass, PassNext, loosening};
use crate::words;
use std::collections::BTreeSet;

/// A fixing, the index of a place of it, and where that lies on the photo.
type Spot = (FixingId, u16, Option<(u16, u16)>);

/// All places of a ring, in the order of tightening.
struct Joint {
    /// The photo that all of them are marked on.
    photo: Option<PhotoId>,
    places: Vec<Spot>,
    lines: Vec<FixingId>,
    /// The layout and the scheme, or whose order it is.
    said: String,
    apart: bool,
}

/// What can be chosen of lines that are tightened alike.
#[derive(Clone, Debug, PartialEq)]
pub struct RingChoice {
    pub lines: Vec<FixingId>,
    pub apart: bool,
    /// The maker's order over all of them, where one was put in.
    pub order: Vec<(u16, u16)>,
    /// By hole number.
    pub holes: Vec<RingHole>,
}

/// A place of a ring, by its line and its index there.
#[derive(Clone, Debug, PartialEq)]
pub struct RingHole {
    pub at: (u16, u16),
    pub number: u16,
    pub has: String,
}

/// Why lines of one part are not one pass, in words; empty where there is only
/// one line, or nothing to say.
type Apart = String;

/// The lines of the same parts and with the same figure as this one, itself
/// among them.
fn alike(job: &Job, id: FixingId) -> Result<Vec<FixingId>, Apart> {
    let it = job.fixings.get(id).ok_or_else(String::new)?;
    let rows = job.fixings.iter();
    let rows = rows.filter(|(_, f)| f.parts == it.parts && f.spec.kind == it.spec.kind);
    // Without a figure nobody has said that they are tightened alike.
    if it.detail.stages.is_empty() {
        return Err(String::new());
    }
    let same = |f: &Fixing| {
        f.detail.stages == it.detail.stages && f.detail.tolerance == it.detail.tolerance
    };
    let (alike, others): (Vec<_>, Vec<_>) = rows.partition(|(_, f)| same(f));
    if alike.len() > 1 {
        return Ok(alike.into_iter().map(|(f, _)| f).collect());
    }
    let others = others.iter().filter(|(_, f)| !f.detail.stages.is_empty());
    let others: Vec<String> = others.map(|(_, f)| f.spec.label()).collect();
    Err(match others.as_slice() {
        [] => String::new(),
        _ => words::other_figure(others),
    })
}

fn rows<'a>(job: &'a Job, lines: &'a [FixingId]) -> impl Iterator<Item = (FixingId, &'a Fixing)> {
    let rows = lines.iter();
    rows.filter_map(|&f| Some((f, job.fixings.get(f)?)))
}

/// Each is called by a number that no other of the ring has.
fn numbered(job: &Job, lines: &[FixingId]) -> bool {
    let places = |f: &Fixing| 0..f.places.len() as u16;
    let mut seen = BTreeSet::new();
    rows(job, lines).all(|(_, f)| {
        let mut numbers = places(f).map(|p| f.own_number(p));
        numbers.all(|n| n.is_some_and(|n| seen.insert(n)))
    })
}

/// What was said of all these lines together, and of none by itself since.
fn set_for<'a>(job: &'a Job, lines: &[FixingId]) -> Option<&'a Ring> {
    let mut said = lines.iter().map(|&f| job.fixings.get(f)?.ring.as_deref());
    let ring = said.next()??;
    let all = ring.lines.len() == lines.len() && ring.lines.iter().all(|l| lines.contains(l));
    (all && said.all(|other| other == Some(ring))).then_some(ring)
}

fn choice(job: &Job, id: FixingId) -> Option<RingChoice> {
    let lines = alike(job, id).ok().filter(|all| numbered(job, all))?;
    let set = set_for(job, &lines).cloned();
    let set = set.unwrap_or(Ring {
        lines,
        apart: false,
        order: Vec::new(),
    });
    let mut holes: Vec<RingHole> = (0_u16..)
        .zip(rows(job, &set.lines))
        .flat_map(|(line, (_, f))| {
            (0..f.places.len() as u16).map(move |place| RingHole {
                at: (line, place),
                number: f.number(place),
                has: FastenerSpec {
                    head: None,
                    ..f.spec.clone()
                }
                .label(),
            })
        })
        .collect();
    holes.sort_by_key(|it| it.number);
    Some(RingChoice {
        lines: set.lines,
        apart: set.apart,
        order: set.order,
        holes,
    })
}

fn joint(job: &Job, id: FixingId) -> Result<Joint, Apart> {
    let lines = alike(job, id)?;
    let set = set_for(job, &lines);
    let apart = set.is_some_and(|ring| ring.apart);
    // All that are tightened alike, or it would be half a ring.
    let marks = |photo: PhotoId| -> Option<Vec<Spot>> {
        let mut all = Vec::new();
        for (f, row) in rows(job, &lines) {
            let points = marks_on(job, photo, f, row);
            if points.len() != row.places.len() {
                return None;
            }
            all.extend(
                (0_u16..)
                    .zip(points)
                    .map(|(place, at)| (f, place, Some(at))),
            );
        }
        Some(all)
    };
    let marked = job
        .photos
        .ids()
        .find_map(|photo| Some((photo, marks(photo)?)));
    if let Some(ring) = set.filter(|ring| !ring.order.is_empty()) {
        if !numbered(job, &lines) {
            return Err(words::NUMBER_THE_HOLES.to_owned());
        }
        let (photo, marks) = marked.unzip();
        let marks = marks.unwrap_or_default();
        let places = ring.order.iter().filter_map(|&(line, place)| {
            let f = *ring.lines.get(usize::from(line))?;
            let at = marks.iter().find(|it| (it.0, it.1) == (f, place));
            Some((f, place, at.and_then(|it| it.2)))
        });
        return Ok(Joint {
            photo,
            places: places.collect(),
            lines,
            said: words::MAKERS_ORDER.to_owned(),
            apart,
        });
    }
    let (photo, all) = marked.ok_or_else(|| words::MARK_ALL_ON_ONE.to_owned())?;
    if rows(job, &lines).any(|(_, f)| f.round.as_ref().is_some_and(|r| r.maker)) {
        return Err(words::MAKERS_ORDER_OF_EACH.to_owned());
    }
    if !numbered(job, &lines) {
        return Err(words::NUMBER_THE_HOLES.to_owned());
    }
    let taken = job.photos.get(photo).map(|p| &p.taken);
    let size = taken.map_or((1, 1), |it| (it.width, it.height));
    let marks: Vec<(u16, u16)> = all.iter().filter_map(|it| it.2).collect();
    let points = on_photo(&marks, size);
    let found = pattern::recognise(&points).ok().filter(|it| !it.unclear);
    let found = found.ok_or_else(|| words::RING_UNCLEAR.to_owned())?;
    let scheme = found.layout.usual_scheme();
    let order = pattern::order(&points, scheme).map_err(|_| words::RING_UNCLEAR.to_owned())?;
    Ok(Joint {
        photo: Some(photo),
        places: order.iter().filter_map(|&n| all.get(n).copied()).collect(),
        lines,
        said: words::layout_said(found.layout, scheme),
        apart,
    })
}

/// What is said before the fasteners of a whole ring come out, and of which
/// lines; none where each goes by itself.
pub(super) fn loosen_ring(job: &Job, id: FixingId) -> Option<(Vec<FixingId>, Loosening)> {
    let ring = joint(job, id).ok().filter(|ring| !ring.apart)?;
    let filled = rows(job, &ring.lines).map(|(_, f)| f.count_where(|p| p.state.filled()));
    if filled.sum::<usize>() < MANY {
        return None;
    }
    let drawing = drawn(job, &ring, None);
    let labels = rows(job, &ring.lines)
        .map(|(_, f)| f.spec.label())
        .collect();
    let said = words::loosen(&words::Names(labels).to_string(), &drawing.loosen, false);
    Some((ring.lines, Loosening { said, drawing }))
}

/// The page of a pass over the whole ring that a fixing is of: it is the page
/// of the line whose turn it is, and its places, its drawing and its counts are
/// those of the ring. `index` of a place, and `next`, are then its turn in the
/// ring. Where there is no ring, or each line is to go by itself, the pass over
/// the fixing alone.
pub fn pass_page(book: &Book, id: FixingId, tools: &Tools, at: At) -> Option<TightenPage> {
    let job = book.job();
    let by_itself = |said: String, on: Option<bool>| {
        let mut page = super::page(book, id, None, tools, at)?;
        page.together = said;
        page.one_pass = on;
        page.ring = choice(job, id);
        Some(page)
    };
    let ring = match joint(job, id) {
        Ok(ring) if !ring.apart => ring,
        Ok(_) => return by_itself(words::EACH_BY_ITSELF.to_owned(), Some(false)),
        Err(why) => return by_itself(why, None),
    };
    let lines: Vec<(FixingId, &Fixing, Running)> = ring
        .lines
        .iter()
        .filter_map(|&f| Some((f, job.fixings.get(f)?)))
        .map(|(f, row)| (f, row, running(book, f, row)))
        .collect();
    let of = |n: usize| {
        let &(f, place, _) = ring.places.get(n)?;
        let (_, row, run) = lines.iter().find(|line| line.0 == f)?;
        let wanted = run.order.contains(&place);
        wanted.then_some((f, *row, run, place))
    };
    let turns: Vec<usize> = (0..ring.places.len())
        .filter(|&n| of(n).is_some())
        .collect();
    let pass = pass_over(&turns, &of, lines.first()?.2.n_stages);
    let state = |n: usize| of(n).map(|(_, _, run, place)| (run, place));
    let is = |n: &usize, wanted: PlaceState| {
        of(*n).is_some_and(|(_, row, run, place)| run.state(row, place) == wanted)
    };
    let open: Vec<usize> = turns
        .iter()
        .copied()
        .filter(|n| is(n, PlaceState::Open))
        .collect();
    let broken = turns.iter().copied().find(|n| is(n, PlaceState::Broken));
    let (next, stage) = match pass.next() {
        _ if !open.is_empty() => (open.first().copied(), None),
        PassNext::Do(op) => (Some(op.fastener), Some(op.stage)),
        PassNext::Settle(these) => {
            let op = these.first()?;
            (Some(op.fastener), Some(op.stage))
        }
        PassNext::Complete => (None, lines.first()?.2.n_stages.checked_sub(1)),
    };
    let next = broken.or(next);
    // All is final: what is still to be done of a line, or the one asked for.
    let left = || {
        let owes = lines.iter().find(|(f, row, _)| {
            row.round_owed() || super::page(book, *f, None, tools, at).is_some_and(|p| p.check)
        });
        owes.map_or(id, |line| line.0)
    };
    let turn = next.and_then(of).map(|it| (it.0, it.3));
    let (line, place) = turn.map_or_else(|| (left(), None), |(f, place)| (f, Some(place)));
    let mut page = super::page(book, line, place, tools, at)?;
    // A last round is gone by each line.
    let shown = |n: &&usize| page.round.is_none() || of(**n).is_some_and(|it| it.0 == line);
    page.places = turns
        .iter()
        .filter(shown)
        .filter_map(|&n| {
            let (f, row, run, place) = of(n)?;
            let mut step = place::step(job, f, row, run, place, stage, at.style);
            step.index = n as u16;
            if stage.is_none() && step.standing == Standing::Done {
                let still = open.iter().filter_map(|&n| of(n));
                let still: Vec<String> = still
                    .map(|(_, row, _, p)| row.number(p).to_string())
                    .collect();
                step.held = words::others_first(row.spec.kind, &still);
            }
            Some(step)
        })
        .collect();
    page.next = next.map(|n| n as u16);
    page.n_done = pass.n_done() as u32;
    page.n_all = pass.len() as u32;
    page.begun = lines.iter().any(|(_, row, _)| {
        let begun =
            |p: &crate::job::Place| p.state >= PlaceState::Snug && p.state < PlaceState::Checked;
        row.places.iter().any(begun)
    });
    let doubtful: Vec<String> = page
        .places
        .iter()
        .filter(|p| p.standing == Standing::Doubt)
        .map(|p| p.number.to_string())
        .collect();
    let kind = lines.first()?.1.spec.kind;
    page.doubt = match doubtful.as_slice() {
        [] => String::new(),
        _ => words::doubt_at(kind, &doubtful),
    };
    // The first row is the start by hand, then the stages; a last round stays
    // that of the line.
    for (n, row) in page
        .stages
        .iter_mut()
        .take(1 + lines.first()?.2.n_stages)
        .enumerate()
    {
        row.of = turns.len() as u32;
        row.n = match n.checked_sub(1) {
            Some(stage) => lines.iter().map(|(_, _, run)| run.n_at(stage) as u32).sum(),
            None => turns
                .iter()
                .filter_map(|&n| state(n).zip(of(n)))
                .filter(|((run, place), (_, row, ..))| {
                    let state = run.state(row, *place);
                    state.filled() && state != PlaceState::Slackened
                })
                .count() as u32,
        };
    }
    page.drawing = drawn(job, &ring, Some(&page));
    if let Some(row) = job.fixings.get(line) {
        page.start_rest = words::rest_started_of(&row.spec.labels(page.n_open), page.n_open);
    }
    page.ring = choice(job, id);
    let labels = lines.iter().map(|(_, row, _)| row.spec.label()).collect();
    page.together = words::one_pass(labels, turns.len());
    page.one_pass = Some(true);
    Some(page)
}

type Of<'a> = (FixingId, &'a Fixing, &'a Running, u16);

/// The pass over the turns of a ring as its lines stand.
fn pass_over<'a>(turns: &[usize], of: &dyn Fn(usize) -> Option<Of<'a>>, n_stages: usize) -> Pass {
    let mut pass = Pass::of_stages(turns.to_vec(), n_stages);
    for &fastener in turns {
        let Some((_, _, run, place)) = of(fastener) else {
            continue;
        };
        for stage in 0..run.pass.reached(usize::from(place)) {
            pass.note_done(Operation { stage, fastener });
        }
        if let Some(stage) = run.doubted(place) {
            pass.note_done(Operation { stage, fastener });
            pass.doubt(Operation { stage, fastener });
        }
    }
    pass
}

fn drawn(job: &Job, ring: &Joint, page: Option<&TightenPage>) -> Drawing {
    let number = |n: usize| {
        let &(f, place, _) = ring.places.get(n)?;
        Some(job.fixings.get(f)?.number(place))
    };
    let all: Vec<usize> = (0..ring.places.len()).collect();
    let in_words = |order: &[usize]| {
        let numbers = order
            .iter()
            .filter_map(|&n| number(n))
            .map(|n| n.to_string());
        numbers.collect::<Vec<_>>().join(", ")
    };
    let photo = ring.photo.and_then(|id| job.photos.get(id));
    let discs = (0_u16..).zip(&ring.places).filter_map(|(index, it)| {
        let (x, y) = it.2?;
        let steps = page.map(|p| p.places.as_slice()).unwrap_or_default();
        let step = steps.iter().find(|p| p.index == index);
        let number = number(usize::from(index)).unwrap_or_default();
        let is_done = |p: &PlaceStep| matches!(p.standing, Standing::Done | Standing::Final);
        Some(Disc {
            index,
            x,
            y,
            number,
            turn: Some(index + 1).filter(|&t| t != number),
            done: page.is_some() && step.is_none_or(is_done),
            next: page.is_some_and(|p| p.next == Some(index)),
        })
    });
    Drawing {
        photo: photo.map(|p| (p.taken.hash.clone(), p.taken.width, p.taken.height)),
        discs: discs.collect(),
        order: in_words(&all),
        loosen: in_words(&loosening(&all)),
        said: ring.said.clone(),
    }
}
