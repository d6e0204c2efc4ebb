//! Lines of one part that are tightened as one ring: bolts of several lengths
//! in one cover. Derived from what is noted, so that nothing of it is stored:
//! the same parts, the same stages, and every place marked on one photo.
use super::order::{Disc, Drawing, marks_on, on_photo};
use super::place::{self, Standing};
use super::running::{Running, running};
use super::{At, TightenPage, Tools};
use crate::job::{Book, Fixing, Job, PlaceState};
use crate::journal::*;
use crate::torque::pattern::{self, Layout, Scheme};
use crate::torque::{Operation, Pass, PassNext, loosening};
use crate::words;
use std::collections::BTreeSet;

/// All places of a ring, in the order of tightening.
struct Joint {
    photo: PhotoId,
    /// The fixing, the index of its place, and where that lies on the photo.
    places: Vec<(FixingId, u16, (u16, u16))>,
    lines: Vec<FixingId>,
    layout: Layout,
    scheme: Scheme,
}

/// Why lines of one part are not one pass, in words; empty where there is only
/// one line, or nothing to say.
type Apart = String;

fn joint(job: &Job, id: FixingId) -> Result<Joint, Apart> {
    let it = job.fixings.get(id).ok_or_else(String::new)?;
    let others = || {
        job.fixings
            .iter()
            .filter(|(other, f)| *other != id && f.parts == it.parts && f.spec.kind == it.spec.kind)
    };
    // Without a figure nobody has said that they are tightened alike.
    if others().next().is_none() || it.detail.stages.is_empty() {
        return Err(String::new());
    }
    let alike = |f: &Fixing| {
        f.detail.stages == it.detail.stages && f.detail.tolerance == it.detail.tolerance
    };
    let other_figure: Vec<String> = others()
        .filter(|(_, f)| !f.detail.stages.is_empty() && !alike(f))
        .map(|(_, f)| f.spec.label())
        .collect();
    let with_id = |on: &dyn Fn(FixingId, &Fixing) -> bool| -> Vec<FixingId> {
        let all = job.fixings.iter().filter(|(f, row)| {
            row.parts == it.parts && row.spec.kind == it.spec.kind && alike(row) && on(*f, row)
        });
        all.map(|(f, _)| f).collect()
    };
    if with_id(&|_, _| true).len() < 2 {
        return Err(match other_figure.as_slice() {
            [] => String::new(),
            _ => words::other_figure(other_figure),
        });
    }
    let marked =
        |photo: PhotoId| with_id(&|f, row| marks_on(job, photo, f, row).len() == row.places.len());
    // All that are tightened alike, or it would be half a ring.
    let n = with_id(&|_, _| true).len();
    let photo = job.photos.ids().find(|&photo| marked(photo).len() == n);
    let photo = photo.ok_or_else(|| words::MARK_ALL_ON_ONE.to_owned())?;
    let lines = marked(photo);
    let rows = || lines.iter().filter_map(|&f| Some((f, job.fixings.get(f)?)));
    if rows().any(|(_, f)| f.round.as_ref().is_some_and(|r| r.maker)) {
        return Err(words::MAKERS_ORDER_OF_EACH.to_owned());
    }
    // Each is called by a number that no other of the ring has.
    let numbers = rows().flat_map(|(_, f)| (0..f.places.len() as u16).map(|p| f.own_number(p)));
    let mut seen = BTreeSet::new();
    if !numbers
        .into_iter()
        .all(|n| n.is_some_and(|n| seen.insert(n)))
    {
        return Err(words::NUMBER_THE_HOLES.to_owned());
    }
    let all: Vec<(FixingId, u16, (u16, u16))> = rows()
        .flat_map(|(f, row)| {
            let points = marks_on(job, photo, f, row);
            (0_u16..).zip(points).map(move |(place, at)| (f, place, at))
        })
        .collect();
    let size = job
        .photos
        .get(photo)
        .map_or((1, 1), |p| (p.taken.width, p.taken.height));
    let marks: Vec<(u16, u16)> = all.iter().map(|it| it.2).collect();
    let points = on_photo(&marks, size);
    let found = pattern::recognise(&points).ok().filter(|it| !it.unclear);
    let found = found.ok_or_else(|| words::RING_UNCLEAR.to_owned())?;
    let scheme = found.layout.usual_scheme();
    let order = pattern::order(&points, scheme).map_err(|_| words::RING_UNCLEAR.to_owned())?;
    Ok(Joint {
        photo,
        places: order.iter().filter_map(|&n| all.get(n).copied()).collect(),
        lines,
        layout: found.layout,
        scheme,
    })
}

/// The page of a pass over the whole ring that a fixing is of: it is the page
/// of the line whose turn it is, and its places, its drawing and its counts are
/// those of the ring. `index` of a place, and `next`, are then its turn in the
/// ring. Where there is no ring, or `alone` is asked for, the pass over the
/// fixing by itself.
pub fn pass_page(
    book: &Book,
    id: FixingId,
    alone: bool,
    tools: &Tools,
    at: At,
) -> Option<TightenPage> {
    let job = book.job();
    let by_itself = |said: String, on: Option<bool>| {
        let mut page = super::page(book, id, None, tools, at)?;
        page.together = said;
        page.one_pass = on;
        Some(page)
    };
    let ring = match joint(job, id) {
        Ok(ring) if !alone => ring,
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
        let &(f, place, at) = ring.places.get(n)?;
        let (_, row, run) = lines.iter().find(|line| line.0 == f)?;
        let wanted = run.order.contains(&place);
        wanted.then_some((f, *row, run, place, at))
    };
    let turns: Vec<usize> = (0..ring.places.len())
        .filter(|&n| of(n).is_some())
        .collect();
    let pass = pass_over(&turns, &of, lines.first()?.2.n_stages);
    let state = |n: usize| of(n).map(|(_, _, run, place, _)| (run, place));
    let is = |n: &usize, wanted: PlaceState| {
        of(*n).is_some_and(|(_, row, run, place, _)| run.state(row, place) == wanted)
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
            let (f, row, run, place, _) = of(n)?;
            let mut step = place::step(job, f, row, run, place, stage, at.style);
            step.index = n as u16;
            if stage.is_none() && step.standing == Standing::Done {
                let still = open.iter().filter_map(|&n| of(n));
                let still: Vec<String> = still
                    .map(|(_, row, _, p, _)| row.number(p).to_string())
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
    page.drawing = drawn(job, &ring, &page);
    let labels = lines.iter().map(|(_, row, _)| row.spec.label()).collect();
    page.together = words::one_pass(labels, turns.len());
    page.one_pass = Some(true);
    Some(page)
}

type Of<'a> = (FixingId, &'a Fixing, &'a Running, u16, (u16, u16));

/// The pass over the turns of a ring as its lines stand.
fn pass_over<'a>(turns: &[usize], of: &dyn Fn(usize) -> Option<Of<'a>>, n_stages: usize) -> Pass {
    let mut pass = Pass::of_stages(turns.to_vec(), n_stages);
    for &fastener in turns {
        let Some((_, _, run, place, _)) = of(fastener) else {
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

fn drawn(job: &Job, ring: &Joint, page: &TightenPage) -> Drawing {
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
    let photo = job.photos.get(ring.photo);
    let discs = (0_u16..).zip(&ring.places).map(|(index, &(_, _, (x, y)))| {
        let step = page.places.iter().find(|p| p.index == index);
        let number = number(usize::from(index)).unwrap_or_default();
        Disc {
            index,
            x,
            y,
            number,
            turn: Some(index + 1).filter(|&t| t != number),
            done: step.is_none_or(|p| matches!(p.standing, Standing::Done | Standing::Final)),
            next: page.next == Some(index),
        }
    });
    Drawing {
        photo: photo.map(|p| (p.taken.hash.clone(), p.taken.width, p.taken.height)),
        discs: discs.collect(),
        order: in_words(&all),
        loosen: in_words(&loosening(&all)),
        said: words::layout_said(ring.layout, ring.scheme),
    }
}
