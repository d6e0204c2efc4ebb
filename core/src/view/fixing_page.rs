//! The page of one fixing: how many, which ones, where they lie; its thread and
//! class, its hole, whether it goes back, its figure, what goes on it, and what
//! of its neighbours may be mixed up with it.
use super::At;
use super::choices::{self, Choice};
use super::fixing_row::{FixingRow, fixing_row};
use super::part::{ContainerShare, TreatmentRow, fixing_shares, treatment_row};
use super::photo::{PhotoRow, photo_rows};
use super::tighten::{SelfLocking, put_on, self_locking, surface};
use crate::fastener::common_items::{self, Basis, reuse_of};
use crate::fastener::{FastenerKind, FastenerSpec, Thread};
use crate::job::{Book, Fixing, Job, PlaceState};
use crate::journal::*;
use crate::ledger::Thing;
use crate::torque::hole::{HoleVerdict, check_length, nut_height_um, stands_out_of_nut};
use crate::torque::plausibility::Surface;
use crate::torque::{Torque, TorqueUnit};
use crate::words::{self, Names};

/// A bolt in its hole, in words.
#[derive(Clone, Debug, PartialEq)]
pub struct HoleText {
    pub sum: String,
    pub verdict: String,
    /// It must not go in.
    pub bad: bool,
    /// It may, but holds too little or is not known to hold enough.
    pub doubt: bool,
}

/// Whether the fasteners go back, new ones do, or old ones by decision.
#[derive(Clone, Debug, PartialEq)]
pub struct ReuseText {
    pub now: String,
    /// What the trade does with such a thing.
    pub trade: String,
    /// New ones are due and not decided against.
    pub renew: bool,
    /// The trade would take new ones, and these are the old.
    pub doubt: bool,
    /// Nobody has said it yet, and the audit asks: keeping the old ones is then
    /// accepting this line.
    pub undecided: Option<OwedKey>,
}

/// One stage of tightening.
#[derive(Clone, Debug, PartialEq)]
pub struct StageText {
    /// In the job's unit.
    pub shown: String,
    /// As it was entered, where that is another unit.
    pub entered: String,
    /// What is usual at the end of a pass, as computed; never a specification.
    pub range: String,
    /// That range, what it clamps with and where it gives way, and what all of
    /// it was reckoned by.
    pub reckoned: String,
    pub doubt: String,
}

/// The fasteners of another length or size on the same part.
#[derive(Clone, Debug, PartialEq)]
pub struct SizeRow {
    pub id: FixingId,
    pub text: String,
    pub places: String,
    pub here: bool,
}

#[derive(Clone, Debug, PartialEq)]
pub struct FixingPage {
    pub row: FixingRow,
    pub part: Option<PartId>,
    pub of: String,
    pub spec: FastenerSpec,
    pub detail: FixingDetail,
    /// It has a thread, or may have: a clip has none to be asked after.
    pub threaded: bool,
    /// It is told from its neighbours by how thick it is.
    pub shim: bool,
    /// It may be given a figure: clamps as well.
    pub torqued: bool,
    pub containers: Vec<ContainerShare>,
    /// Numbers of its places, where they are drawn.
    pub places: String,
    /// Empty while it is not known.
    pub thread: String,
    pub class: String,
    pub hole: Hole,
    /// What lengths are measured and shown in.
    pub length: LengthUnit,
    pub hole_text: Option<HoleText>,
    pub reuse: ReuseText,
    pub stages: Vec<StageText>,
    /// Nuts that resist all the way down.
    pub self_locking: Option<SelfLocking>,
    pub unit: TorqueUnit,
    /// What is prescribed for its threads.
    pub put_on: Surface,
    /// Tolerance and threads that the figure is meant with.
    pub meant: String,
    pub dry_but_oiled: Option<&'static str>,
    pub treatments: Vec<TreatmentRow>,
    pub sizes: Vec<SizeRow>,
    /// What lies in a place that wants another.
    pub wrong: Vec<String>,
    /// Photos of it, and those on which one of its places is marked.
    pub photos: Vec<PhotoRow>,
    /// Places with nothing in them: index and number.
    pub open: Vec<(u16, u16)>,
    /// Places that can be left empty by decision: index and number.
    pub may_stay_empty: Vec<(u16, u16)>,
    /// Where washers lie that are said later to have come with it.
    pub more: More,
    /// Parts that it is not known to hold, the last off first.
    pub others: Vec<Choice>,
    /// Other fasteners that lie loose, the same part's first.
    pub offered: Vec<(LineId, String)>,
    /// Washers, shims and the like of other fixings that lie loose and could go
    /// under these by mistake.
    pub offered_extras: Vec<(LineId, String)>,
}

/// `None` when there is no such fixing.
pub fn fixing_page(book: &Book, id: FixingId, at: At) -> Option<FixingPage> {
    let job = book.job();
    let it = job.fixings.get(id)?;
    let unit = job
        .head
        .as_ref()
        .map_or(TorqueUnit::NewtonMetre, |h| h.units.torque);
    let treatments: Vec<TreatmentRow> = it
        .treatments
        .iter()
        .filter_map(|&t| treatment_row(job, t, at))
        .collect();
    let hole = it.hole.map(|(hole, _)| hole);
    Some(FixingPage {
        row: fixing_row(job, id, None, at)?,
        part: it.parts.first().copied(),
        of: Names(
            it.parts
                .iter()
                .map(|&p| words::name(job, Target::Part(p)))
                .collect(),
        )
        .to_string(),
        spec: it.spec.clone(),
        detail: it.detail.clone(),
        threaded: it.spec.kind.is_threaded() || it.spec.kind == FastenerKind::Other,
        shim: it.spec.kind == FastenerKind::Shim,
        torqued: it.spec.kind.is_tightened(),
        containers: fixing_shares(job, it),
        places: numbers(it),
        thread: it.spec.thread.map(|t| t.to_string()).unwrap_or_default(),
        class: it.spec.class.map(|c| c.to_string()).unwrap_or_default(),
        hole: hole.unwrap_or_default(),
        length: job.length_unit(),
        hole_text: hole.and_then(|hole| hole_text(&it.spec, hole, job.length_unit(), at)),
        reuse: reuse(job, id, it),
        stages: (0..it.detail.stages.len())
            .filter_map(|n| stage(it, n, surface(job, it), unit, at))
            .collect(),
        self_locking: self_locking(job, it, at.style),
        unit,
        put_on: put_on(job, it),
        meant: words::meant(&it.detail, it.detail.stages.last().copied(), unit, at.style),
        dry_but_oiled: it
            .detail
            .dry_but_oiled(put_on(job, it))
            .then_some(words::DRY_BUT_OILED),
        treatments,
        sizes: sizes(job, id, it),
        wrong: wrong(job, id, it),
        photos: photo_rows(job, at, |_| true)
            .into_iter()
            .filter(|p| {
                let of = Target::Fixing(id);
                let taken = job
                    .photos
                    .get(p.id)
                    .is_some_and(|p| p.taken.on.contains(&of));
                taken || p.marks.iter().any(|m| m.what == of)
            })
            .collect(),
        open: places(it, |s| s == PlaceState::Open),
        may_stay_empty: places(it, |s| matches!(s, PlaceState::Open | PlaceState::Broken)),
        more: more(job, it),
        others: choices::others(job, &it.parts),
        offered: offered(job, it),
        offered_extras: offered_extras(job, id, it),
    })
}

/// What is taken for so of washers and the like that are remembered later.
#[derive(Clone, Debug, PartialEq)]
pub struct More {
    /// Where those lie that are not in.
    pub to: Account,
    /// The same in words.
    pub lies: String,
    /// Places that were only slackened: theirs never came out.
    pub under: u16,
    /// Places with a fastener in them.
    pub filled: u16,
    /// "of 4 fasteners that are in".
    pub of: String,
}

fn more(job: &Job, it: &Fixing) -> More {
    let with = job.lines.get(it.old).map(|l| l.loose_at());
    let with = with.and_then(|at| at.first().map(|a| a.0));
    let bag = it.bag.map(Account::Container);
    let to = with.or(bag).unwrap_or(Account::Bench);
    let count = |state: fn(PlaceState) -> bool| it.count_where(|p| state(p.state)) as u16;
    let filled = count(|s| s.filled());
    More {
        lies: words::the_others_lie(filled, &words::lying(job, to)),
        to,
        under: count(|s| s == PlaceState::Slackened),
        filled,
        of: format!("of {filled} {} that are in", it.spec.kind.words()),
    }
}

/// A washer, spacer, shim or stud that came with fasteners of this thread.
pub fn came_with(kind: FastenerKind, thread: Option<Thread>) -> FastenerSpec {
    let threaded = matches!(kind, FastenerKind::Washer | FastenerKind::Stud);
    FastenerSpec {
        thread: thread.filter(|_| threaded),
        ..FastenerSpec::of(kind)
    }
}

/// Places in such a state: index and number.
fn places(it: &Fixing, state: impl Fn(PlaceState) -> bool) -> Vec<(u16, u16)> {
    let found = it.where_state(state).into_iter();
    found.map(|n| (n, it.number(n))).collect()
}

fn numbers(it: &Fixing) -> String {
    let list: Vec<String> = it.numbers.iter().map(u16::to_string).collect();
    list.join(", ")
}

/// How a bolt stands in a hole as it is being measured.
pub fn hole_text(spec: &FastenerSpec, hole: Hole, unit: LengthUnit, at: At) -> Option<HoleText> {
    let length_um = spec.length_um?;
    let verdict = check_length(length_um, spec.thread, hole.stack());
    // Right through, it may have a nut.
    let nut = || {
        let (thread, nut_um) = (spec.thread?, nut_height_um(spec.thread?)?);
        let under = hole.stack().thickness_um;
        let stands = stands_out_of_nut(length_um, thread, under, nut_um)?;
        Some(words::out_of_nut(stands, nut_um, unit, at.style))
    };
    let nut = if hole.depth_um == 0 && hole.metal.is_none() {
        nut().unwrap_or_default()
    } else {
        String::new()
    };
    Some(HoleText {
        sum: words::hole_sum(length_um, hole, unit, at.style),
        verdict: format!(
            "{}{nut}",
            words::hole_verdict(verdict, hole, unit, at.style)
        ),
        bad: matches!(
            verdict,
            HoleVerdict::Bottoms { .. } | HoleVerdict::TooShort { .. }
        ),
        doubt: matches!(verdict, HoleVerdict::HoldsTooLittle { .. }) || hole.metal.is_none(),
    })
}

fn reuse(job: &Job, id: FixingId, it: &Fixing) -> ReuseText {
    let (usual, named) = reuse_of(&it.spec);
    let angle = it.detail.by_angle() && it.stretched();
    let renew_usual = usual == common_items::Reuse::Renew || angle;
    let what = named.map_or_else(
        || it.spec.kind.words().to_owned(),
        |n| format!("{}s", n.name),
    );
    let basis = match named.map(|n| n.basis) {
        Some(Basis::Seen(_)) => "",
        _ => " (common practice)",
    };
    let trade = match usual {
        _ if angle && usual != common_items::Reuse::Renew => {
            "Bolts tightened by angle are taken new (common practice).".to_owned()
        }
        common_items::Reuse::Renew => format!("The trade takes {what} new{basis}."),
        common_items::Reuse::Inspect => {
            format!("The trade looks at {what} and fits good ones again{basis}.")
        }
        common_items::Reuse::Reuse => format!("The trade fits {what} again{basis}."),
    };
    let renew = it.wants != it.old;
    let key = OwedKey {
        rule: crate::audit::Rule::OldOrNew,
        on: Target::Fixing(id),
        opened: it.opened,
    };
    let open = it.old_or_new_open();
    let accepted = job.exceptions.iter().rfind(|e| open && e.owed == key);
    let undecided = (open && accepted.is_none()).then_some(key);
    let now = match it.kept.as_ref().or(accepted) {
        None if undecided.is_some() => "Old or new is not decided.".to_owned(),
        Some(kept) => format!("The old ones go back: {} ({}).", kept.reason, kept.by),
        None if renew => {
            let have = job
                .lines
                .get(it.wants)
                .map_or(0, crate::ledger::Line::loose);
            format!(
                "New ones go in: {} wanted, {have} to hand.",
                job.open_places(it)
            )
        }
        None if it.looked_at => "They were looked at and are good: they go back.".to_owned(),
        None if it.reuse == Reuse::Inspect => {
            "They go back once each was looked at; a bad one is renewed.".to_owned()
        }
        None => "They go back as they came off.".to_owned(),
    };
    ReuseText {
        now,
        trade: format!("{trade} The maker's word goes first."),
        renew,
        doubt: renew_usual && !renew && it.kept.is_none() && accepted.is_none(),
        undecided,
    }
}

fn stage(it: &Fixing, n: usize, surface: Surface, unit: TorqueUnit, at: At) -> Option<StageText> {
    let these = it.detail.stages.get(n..)?;
    let figure = *these.first()?;
    let own = words::figure(figure, at.style);
    let (shown, entered) = match figure {
        Figure::Torque {
            milli,
            unit: entered,
        } if entered != unit => {
            let there = Torque::from_thousandths(milli, entered).shown_in(unit);
            (there.replacen('.', &at.style.decimal.to_string(), 1), own)
        }
        _ => (own, String::new()),
    };
    let check = words::torque_check(&it.spec, these, surface, unit, at.style);
    let reckoned = check.as_ref().map(words::TorqueCheck::reckoned);
    let check = check.unwrap_or_default();
    Some(StageText {
        shown,
        entered,
        range: check.range,
        reckoned: reckoned.unwrap_or_default(),
        doubt: check.doubt,
    })
}

/// All sizes on the parts that this fixing holds, when there is more than one.
fn sizes(job: &Job, id: FixingId, it: &Fixing) -> Vec<SizeRow> {
    let rows: Vec<SizeRow> = job
        .fixings
        .iter()
        .filter(|(_, f)| f.spec.kind == it.spec.kind)
        .filter(|(_, f)| f.parts.iter().any(|p| it.parts.contains(p)))
        .map(|(other, f)| SizeRow {
            id: other,
            text: words::fixing_count(f.wanted() as u32, f),
            places: match numbers(f) {
                drawn if drawn.is_empty() => f.place.clone(),
                drawn if f.places.len() == 1 => format!("place {drawn}"),
                drawn => format!("places {drawn}"),
            },
            here: other == id,
        })
        .collect();
    if rows.len() > 1 { rows } else { Vec::new() }
}

fn wrong(job: &Job, id: FixingId, it: &Fixing) -> Vec<String> {
    let strange = it.strange.iter().filter_map(|&line| {
        let row = job.lines.get(line)?;
        let n = row.count(Account::Fixing(id));
        let Thing::Extra(spec) = &row.thing else {
            return None;
        };
        let own = || it.extras.iter().map(|(_, extra)| &extra.spec);
        if n == 0 || own().any(|own| spec.stands_for(own)) {
            return None;
        }
        let held = format!("{n} × {} sits here", words::name(job, Target::Line(line)));
        let wanted = own().find(|own| own.kind == spec.kind);
        Some(wanted.map_or_else(
            || held.clone(),
            |own| format!("{held}, wants {}", own.label()),
        ))
    });
    let places = (0_u16..).zip(&it.places).filter_map(|(n, place)| {
        let held = place.holds.filter(|&l| l != it.wants && l != it.old)?;
        let (Thing::Fastener(spec) | Thing::Stray(spec)) = &job.lines.get(held)?.thing else {
            return None;
        };
        (!spec.stands_for(&it.spec)).then(|| {
            format!(
                "Place {} holds {}, wants {}",
                it.number(n),
                words::name(job, Target::Line(held)),
                it.spec.label()
            )
        })
    });
    places.chain(strange).collect()
}

/// Loose washers, shims and the like of other fixings, of a kind that these
/// still lack.
fn offered_extras(job: &Job, id: FixingId, it: &Fixing) -> Vec<(LineId, String)> {
    let lacks = |kind: FastenerKind| {
        let own = it.extras.iter().filter(|(_, e)| e.spec.kind == kind);
        let mut lacking = own.filter_map(|(line, _)| job.extras_lacking(id, it, *line));
        lacking.any(|n| n > 0)
    };
    if it.extras.is_empty() {
        return Vec::new();
    }
    let loose = job
        .lines
        .iter()
        .filter(|(line, row)| row.loose() > 0 && !it.extras.iter().any(|(own, _)| own == line));
    loose
        .filter(|(_, row)| matches!(&row.thing, Thing::Extra(spec) if lacks(spec.kind)))
        .map(|(line, _)| (line, words::name(job, Target::Line(line))))
        .take(12)
        .collect()
}

/// Loose fasteners that a hand could take for these by mistake.
fn offered(job: &Job, it: &Fixing) -> Vec<(LineId, String)> {
    let mut rows: Vec<(bool, LineId, String)> = job
        .lines
        .iter()
        .filter(|(id, l)| *id != it.wants && l.loose() > 0)
        .filter_map(|(id, l)| {
            let (Thing::Fastener(spec) | Thing::Stray(spec)) = &l.thing else {
                return None;
            };
            if !spec.kind.could_be(it.spec.kind) {
                return None;
            }
            let near = match l.of {
                Target::Fixing(f) => job
                    .fixings
                    .get(f)
                    .is_some_and(|f| f.parts.iter().any(|p| it.parts.contains(p))),
                _ => false,
            };
            Some((!near, id, words::name(job, Target::Line(id))))
        })
        .collect();
    rows.sort_by_key(|r| r.0);
    rows.truncate(12);
    rows.into_iter().map(|(_, id, text)| (id, text)).collect()
}
