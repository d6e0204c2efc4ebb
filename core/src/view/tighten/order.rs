//! The order of tightening as a drawing: from the marks on a photo, from a
//! layout that the person chooses, or as the maker has it.
use crate::fastener::FastenerSpec;
use crate::job::{Fixing, Job, PlaceState};
use crate::journal::*;
use crate::procedure::PlannedFixing;
use crate::torque::loosening;
use crate::torque::pattern::{self, Layout, LayoutError, Point, Scheme};
use crate::words;

/// A place on the drawing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Disc {
    pub index: u16,
    /// Thousandths from the left and from the top.
    pub x: u16,
    pub y: u16,
    pub number: u16,
    /// Its turn, from 1, where it has a number of its own besides.
    pub turn: Option<u16>,
    /// Has reached what the pass is at.
    pub done: bool,
    pub next: bool,
}

/// The places and the order, ready to be drawn.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Drawing {
    /// Hash, width and height of the photo that the discs lie on.
    pub photo: Option<(String, u32, u32)>,
    pub discs: Vec<Disc>,
    /// Numbers in their order: "1, 5, 3, 7"; empty when no order was set.
    pub order: String,
    /// The other way about.
    pub loosen: String,
    /// "Cross pattern on a circle", "The maker's order".
    pub said: String,
}

/// An order that could be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OrderOffer {
    pub text: String,
    pub round: Round,
    /// The marks fit no layout well, or two about as well.
    pub unclear: bool,
}

/// The drawing of a round; empty without one.
pub fn drawing(job: &Job, it: &Fixing, round: Option<&Round>, next: Option<u16>) -> Drawing {
    let Some(round) = round else {
        return Drawing::default();
    };
    let photo = round.photo.and_then(|id| job.photos.get(id));
    let done = |place: u16| {
        it.places
            .get(usize::from(place))
            .is_some_and(|p| p.state >= PlaceState::Final)
    };
    drawn(
        round,
        &|place| match it.round.as_ref() == Some(round) {
            true => it.own_number(place),
            false => it.kept_number(place),
        },
        photo.map(|p| (p.taken.hash.clone(), p.taken.width, p.taken.height)),
        &done,
        next,
    )
}

fn drawn(
    round: &Round,
    own: &dyn Fn(u16) -> Option<u16>,
    photo: Option<(String, u32, u32)>,
    done: &dyn Fn(u16) -> bool,
    next: Option<u16>,
) -> Drawing {
    let turn = |place: u16| round.order.iter().position(|&p| p == place);
    let number = |place: u16| {
        own(place)
            .or_else(|| turn(place).map(|t| t as u16 + 1))
            .unwrap_or(place + 1)
    };
    let order: Vec<usize> = round.order.iter().map(|&p| usize::from(p)).collect();
    let in_words = |order: &[usize]| {
        let numbers = order.iter().map(|&p| number(p as u16).to_string());
        numbers.collect::<Vec<_>>().join(", ")
    };
    let size = photo.as_ref().map(|p| (p.1, p.2));
    Drawing {
        photo,
        discs: (0_u16..)
            .zip(&round.points)
            .map(|(index, &(x, y))| Disc {
                index,
                x,
                y,
                number: number(index),
                turn: turn(index)
                    .map(|t| t as u16 + 1)
                    .filter(|&t| t != number(index)),
                done: done(index),
                next: next == Some(index),
            })
            .collect(),
        order: in_words(&order),
        loosen: in_words(&loosening(&order)),
        said: if round.maker {
            words::MAKERS_ORDER.to_owned()
        } else {
            said(round, size)
        },
    }
}

/// So many are held by several at once: from here on their order matters when
/// they come out (common practice, no source).
pub(super) const MANY: usize = 4;

/// The order in which the fasteners of one fixing come out, said before they do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Loosening {
    pub said: String,
    /// Where each lies, when that is known.
    pub drawing: Drawing,
}

/// What the procedure's order of tightening says of loosening a planned part,
/// before its fasteners come out.
pub fn loosen_planned(job: &Job, key: &str) -> Vec<Loosening> {
    let parts = job.procedure.iter().flat_map(|it| &it.parts);
    let fixings = parts.filter(|it| it.key == key).flat_map(|it| &it.fixings);
    fixings.filter_map(of_plan).collect()
}

fn of_plan(plan: &PlannedFixing) -> Option<Loosening> {
    let n = usize::from(plan.count);
    let planned = plan.round.as_ref()?;
    let round = Round {
        fixing: FixingId::default(),
        photo: None,
        points: planned.points.clone(),
        order: planned.order.clone(),
        maker: planned.maker,
    };
    if n < MANY || !round.goes_round(n) {
        return None;
    }
    let drawing = drawn(&round, &|_| None, None, &|_| false, None);
    let said = words::loosen(&called(&plan.spec, &plan.place), &drawing.loosen, true);
    Some(Loosening { said, drawing })
}

fn called(spec: &FastenerSpec, place: &str) -> String {
    match place {
        "" => spec.label(),
        place => format!("{}, {place}", spec.label()),
    }
}

/// The same of a part that is on and may come off again, by the order that was
/// set for its fixings.
pub fn loosen_again(job: &Job, part: PartId) -> Vec<Loosening> {
    let Some(it) = job.parts.get(part) else {
        return Vec::new();
    };
    let mut told = Vec::new();
    let mut all = Vec::new();
    for &id in &it.fixings {
        if !told.contains(&id)
            && let Some((lines, loosening)) = super::joint::loosen_ring(job, id)
        {
            told.extend(lines);
            all.push(loosening);
        }
    }
    let fixings = it.fixings.iter().filter(|id| !told.contains(id));
    let fixings = fixings.filter_map(|&id| job.fixings.get(id));
    let many = fixings.filter(|it| it.count_where(|p| p.state.filled()) >= MANY);
    all.extend(many.filter_map(|it| {
        let drawing = drawing(job, it, it.round.as_ref(), None);
        let own = it.own_number(0).is_none() && drawing.discs.is_empty();
        (!drawing.loosen.is_empty()).then(|| Loosening {
            said: words::loosen(&called(&it.spec, &it.place), &drawing.loosen, own),
            drawing,
        })
    }));
    all
}

fn points_of(round: &Round) -> Vec<Point> {
    let point = |&(x, y): &(u16, u16)| Point {
        x: f64::from(x),
        y: f64::from(y),
    };
    round.points.iter().map(point).collect()
}

/// The layout of a round, and the scheme that gives its order.
fn said(round: &Round, photo: Option<(u32, u32)>) -> String {
    let points = match photo {
        Some(size) => on_photo(&round.points, size),
        None => points_of(round),
    };
    let Ok(found) = pattern::recognise(&points) else {
        return String::new();
    };
    let gives = |scheme: &&Scheme| {
        let order = pattern::order(&points, **scheme).unwrap_or_default();
        order
            .iter()
            .map(|&p| p as u16)
            .eq(round.order.iter().copied())
    };
    match found.schemes.iter().find(gives) {
        Some(&scheme) => words::layout_said(found.layout, scheme),
        None => words::layout_of_own(found.layout),
    }
}

/// Thousandths of a photo's width and height are not the same length.
pub(super) fn on_photo(points: &[(u16, u16)], (wide, high): (u32, u32)) -> Vec<Point> {
    let point = |&(x, y): &(u16, u16)| Point {
        x: f64::from(x) * f64::from(wide).max(1.0),
        y: f64::from(y) * f64::from(high).max(1.0),
    };
    points.iter().map(point).collect()
}

/// A round by a scheme over points that lie as they are given.
fn round(
    fixing: FixingId,
    photo: Option<PhotoId>,
    points: Vec<(u16, u16)>,
    scheme: Scheme,
) -> Result<Round, LayoutError> {
    let mut round = Round {
        fixing,
        photo,
        points,
        order: Vec::new(),
        maker: false,
    };
    let order = pattern::order(&points_of(&round), scheme)?;
    round.order = order.into_iter().map(|p| p as u16).collect();
    Ok(round)
}

/// The round for a layout that the person chose; `along` as in
/// [`pattern::lay_out`]. None where the places cannot lie so.
pub fn chosen_layout(id: FixingId, it: &Fixing, layout: Layout, along: usize) -> Option<Round> {
    let points = pattern::lay_out(layout, it.places.len(), along);
    if points.is_empty() {
        return None;
    }
    let thousandths = |v: f64| (v * 1000.0).round() as u16;
    let points = points
        .iter()
        .map(|p| (thousandths(p.x), thousandths(p.y)))
        .collect();
    round(id, None, points, layout.usual_scheme()).ok()
}

/// Marks of a fixing on one photo: its points in the order of its places.
pub(super) fn marks_on(job: &Job, photo: PhotoId, id: FixingId, it: &Fixing) -> Vec<(u16, u16)> {
    let on = |m: &&crate::job::Mark| m.photo == photo && m.what == Target::Fixing(id);
    let mut marks: Vec<_> = job.marks.rows().filter(on).collect();
    let own = |number: u16| it.numbers.iter().position(|&n| n == number);
    if marks.iter().all(|m| own(m.number).is_some()) {
        marks.sort_by_key(|m| own(m.number));
    } else {
        marks.sort_by_key(|m| m.number);
    }
    marks.iter().map(|m| (m.x, m.y)).collect()
}

/// The orders that marks on photos give, the usual one first.
pub fn photo_offers(job: &Job, id: FixingId) -> Vec<OrderOffer> {
    let Some(it) = job.fixings.get(id) else {
        return Vec::new();
    };
    let mut offers = Vec::new();
    for (photo, row) in job.photos.iter() {
        let marks = marks_on(job, photo, id, it);
        if marks.len() != it.places.len() {
            continue;
        }
        let points = on_photo(&marks, (row.taken.width, row.taken.height));
        let Ok(found) = pattern::recognise(&points) else {
            continue;
        };
        for &scheme in &found.schemes {
            let Ok(order) = pattern::order(&points, scheme) else {
                continue;
            };
            offers.push(OrderOffer {
                text: words::layout_said(found.layout, scheme),
                unclear: found.unclear,
                round: Round {
                    fixing: id,
                    photo: Some(photo),
                    points: marks.clone(),
                    order: order.into_iter().map(|p| p as u16).collect(),
                    maker: false,
                },
            });
        }
    }
    offers
}

/// How the marking of places on photos stands, in words; empty without marks.
pub fn marks_said(job: &Job, id: FixingId) -> Vec<String> {
    let Some(it) = job.fixings.get(id) else {
        return Vec::new();
    };
    let mut said = Vec::new();
    for (photo, row) in job.photos.iter() {
        let marks = marks_on(job, photo, id, it);
        if marks.is_empty() {
            continue;
        }
        // As the offers have it: what gives none is told.
        let points = on_photo(&marks, (row.taken.width, row.taken.height));
        if let Err(LayoutError::SamePlace { first, second }) = pattern::recognise(&points) {
            said.push(words::marks_on_one_another(first + 1, second + 1));
        }
        if marks.len() != it.places.len() {
            said.push(words::marks_missing(marks.len(), it.places.len()));
        }
    }
    said
}
