//! The Put back screen: what can go back now, what blocks the rest, what waits.
use super::At;
use super::order::{Group, HeldRow, changes, groups, held_row, running};
use crate::access::{self, AtWork, Pace, Stand, Wait};
use crate::job::{Book, Job, PartState, Treated};
use crate::journal::*;
use crate::words::{self, Names};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RowState {
    Now,
    /// Placed, with fixings, ends or checks still open.
    Begun,
    Blocked,
    Waiting,
}

/// An act on the way back.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    pub what: Target,
    /// The part whose page settles it; ends on the machine have none.
    pub part: Option<PartId>,
    pub title: String,
    pub lies: String,
    pub tags: Vec<String>,
    /// What is owed on it, or what it waits for.
    pub note: String,
    pub state: RowState,
    /// A second person is to look at it, and nothing else is left.
    pub look: bool,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct PutBackPage {
    /// Things still inside, which come out before all else.
    pub inside: Vec<(InsideId, String)>,
    /// What to do next, so that position and tool are changed seldom.
    pub next: Option<Row>,
    /// How few those changes are; empty when nothing says.
    pub changes: String,
    pub n_now: usize,
    pub now: Vec<Group>,
    pub held: Vec<HeldRow>,
    /// What was put on joints that are not closed yet, each with its open time:
    /// what runs out first at the top, and whether it has run out.
    pub open: Vec<(String, bool)>,
    /// What has cured, and what it held is still to come.
    pub cured: Vec<String>,
    pub begun: Vec<Row>,
    pub blocked: Vec<Row>,
    pub waiting: Vec<Row>,
    pub n_back: usize,
    pub n_parts: usize,
    /// Nothing is off.
    pub empty: bool,
    pub all_back: bool,
}

pub fn put_back_page(book: &Book, at: At, work: &AtWork) -> PutBackPage {
    let job = book.job();
    let under = access::Under::at(job, at.now);
    let back = access::back_over(job, &under);
    let handy = access::handy(job, &back, &Pace::of(book, work));
    let mut now = Vec::new();
    let mut page = PutBackPage {
        inside: job
            .insides
            .iter()
            .filter(|(_, i)| i.n_in > 0)
            .map(|(id, _)| (id, words::still_inside(job, id)))
            .collect(),
        n_back: job
            .parts
            .rows()
            .filter(|p| p.state == PartState::Placed)
            .count(),
        n_parts: job
            .parts
            .rows()
            .filter(|p| p.state != PartState::LeftOff)
            .count(),
        empty: job.parts.is_empty() && job.connections.is_empty(),
        ..PutBackPage::default()
    };
    for act in &back.acts {
        let (state, note) = match &act.stand {
            Stand::Now if act.begun => (RowState::Begun, unfinished(job, act.what)),
            Stand::Now => {
                let still = words::still_open(job, &under.still_open(act.what));
                let said = [needs(job, act.what), still];
                let said: Vec<String> = said.into_iter().filter(|s| !s.is_empty()).collect();
                (RowState::Now, said.join(". "))
            }
            Stand::Blocked(by) => {
                let by = by.iter().map(|&t| comes_first(job, t)).collect();
                (RowState::Blocked, format!("first: {}", Names(by)))
            }
            Stand::Waiting(waits) => {
                let waits: Vec<String> = waits.iter().map(|&w| words::wait(job, w)).collect();
                (RowState::Waiting, format!("waits for {}", waits.join("; ")))
            }
        };
        let row = row(job, act.what, state, note);
        match state {
            RowState::Now => now.push(row),
            RowState::Begun => page.begun.push(row),
            RowState::Blocked => page.blocked.push(row),
            RowState::Waiting => page.waiting.push(row),
        }
    }
    page.n_now = now.len();
    let back_done = back.acts.is_empty();
    let mut order = handy.order.iter();
    let row = |what: &Target| now.iter().chain(&page.begun).find(|r| r.what == *what);
    page.next = order.find_map(row).cloned();
    if page.next.is_none() {
        // Nothing can be done that would not have to be undone.
        let over = |w: &Wait| matches!(w, Wait::Over(_));
        let undo = back.acts.iter().find(|act| match &act.stand {
            Stand::Waiting(waits) => waits.iter().any(over),
            _ => false,
        });
        let mut rows = page.waiting.iter();
        page.next = undo.and_then(|act| rows.find(|r| r.what == act.what).cloned());
    }
    page.changes = changes(&handy);
    page.now = groups(&handy, now);
    let to_buy = job.to_buy();
    let held = handy.held.iter();
    let held = held.map(|held| held_row(job, &to_buy, held, at));
    page.held = held.chain(running(job, at)).collect();
    let filled = job.fluids.rows().all(|f| f.filled.is_some());
    let held = move |it: &Treated| {
        let start = it.treatment.holds_start && job.runs.is_empty();
        let fill = it.treatment.holds_fill && !filled;
        start || fill || (it.treatment.holds_cover && !back_done)
    };
    page.cured = super::due::over(job, at, held).map(|it| it.0).collect();
    page.open = open(job, at);
    page.all_back = !page.empty && back.acts.is_empty();
    page
}

/// Sealant and the like on joints that are not closed, and by when they must be.
fn open(job: &Job, at: At) -> Vec<(String, bool)> {
    let treated = job.treatments.iter();
    let mut open: Vec<_> = treated
        .filter_map(|(id, it)| it.close_by().map(|by| (by, id)))
        .collect();
    open.sort_unstable();
    let told = |(by, id): (i64, TreatmentId)| {
        let over = by < at.now;
        let name = words::name(job, Target::Treatment(id));
        let by = words::close_by(&(at.style.when)(by), over);
        (format!("{name}: {by}"), over)
    };
    open.into_iter().map(told).collect()
}

/// What comes first, by its name; or the look that it lacks.
fn comes_first(job: &Job, what: Target) -> String {
    let name = words::name_and_route(job, what);
    match access::lacks_look(job, what) {
        true => format!("a second look at {name}"),
        false => name,
    }
}

fn row(job: &Job, what: Target, state: RowState, note: String) -> Row {
    let part = match what {
        Target::Part(id) => Some(id),
        Target::End(id) => job.end(id).and_then(|e| e.end.on),
        Target::Fixing(id) => job.fixings.get(id).and_then(|f| f.parts.first().copied()),
        _ => None,
    };
    let (lies, tags) = match what {
        Target::Part(id) => {
            let lies = job
                .parts
                .get(id)
                .map(|p| p.lies.clone())
                .unwrap_or_default();
            (lies, super::part::part_tags(job, id))
        }
        Target::End(id) => {
            let c = job.connections.get(id.connection);
            let route = c.map(super::part::route_text).unwrap_or_default();
            (route, c.and_then(|c| c.tag.clone()).into_iter().collect())
        }
        _ => (String::new(), Vec::new()),
    };
    Row {
        what,
        part,
        title: words::name(job, what),
        lies,
        tags,
        note,
        state,
        look: access::lacks_look(job, what),
    }
}

/// What goes back with a part: fasteners, new items, what is put on.
fn needs(job: &Job, what: Target) -> String {
    let Target::Part(id) = what else {
        return String::new();
    };
    let Some(part) = job.parts.get(id) else {
        return String::new();
    };
    let fasteners: u32 = part
        .fixings
        .iter()
        .filter_map(|&f| job.fixings.get(f))
        .map(|f| f.wanted() as u32)
        .sum();
    let mut said = Vec::new();
    if fasteners > 0 {
        said.push(words::plural(fasteners, "fastener"));
    }
    for item in part
        .items
        .iter()
        .filter_map(|&i| job.items.get(i))
        .filter(|i| !i.finished())
    {
        said.push(format!("new {}", item.name));
    }
    for t in part
        .treatments
        .iter()
        .filter_map(|&t| job.treatments.get(t))
        .filter(|t| t.applied.is_none())
    {
        said.push(words::treatment_kind(t.treatment.kind).to_owned());
    }
    if said.is_empty() {
        String::new()
    } else {
        Names(said).to_string()
    }
}

const LOOK_OWED: &str = "second look owed";

/// What a placed part still lacks.
pub(super) fn unfinished(job: &Job, what: Target) -> String {
    let Target::Part(id) = what else {
        return match access::lacks_look(job, what) {
            true => LOOK_OWED.to_owned(),
            false => "on, not fast".to_owned(),
        };
    };
    let Some(part) = job.parts.get(id) else {
        return String::new();
    };
    let mut said = Vec::new();
    let fixings: Vec<_> = part
        .fixings
        .iter()
        .filter_map(|&f| job.fixings.get(f))
        .collect();
    let total: usize = fixings.iter().map(|f| f.wanted()).sum();
    let finished: usize = fixings
        .iter()
        .map(|f| f.count_where(|p| p.state.finished() && p.holds.is_some()))
        .sum();
    if finished < total {
        said.push(format!("{finished} of {total} fasteners final"));
    }
    let ends = part
        .ends
        .iter()
        .map(|&e| Target::End(e))
        .filter(|&e| !access::settled(job, e) && !access::lacks_look(job, e))
        .count() as u32;
    if ends > 0 {
        said.push(format!("{} open", words::plural(ends, "end")));
    }
    let items = part
        .items
        .iter()
        .filter(|&&i| !access::settled(job, Target::Item(i)))
        .count() as u32;
    if items > 0 {
        said.push(format!("{} not renewed", words::plural(items, "item")));
    }
    if said.is_empty() {
        let joints = part.fixings.iter().map(|&f| Target::Fixing(f));
        let joints = joints.chain(part.ends.iter().map(|&e| Target::End(e)));
        let lacking = joints.chain([what]).flat_map(|on| access::lacking(job, on));
        said.extend(lacking.map(|rule| words::lacks(rule).to_owned()));
        said.dedup();
    }
    if said.is_empty() {
        said.push(LOOK_OWED.to_owned());
    }
    Names(said).to_string()
}
