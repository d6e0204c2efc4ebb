//! Photos with their marks: of a part, of a fixing, of the whole.
use super::At;
use crate::access;
use crate::fastener::FastenerSpec;
use crate::job::Job;
use crate::journal::*;
use crate::words;

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

/// Photos of things that `wanted` picks, with their marks.
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
