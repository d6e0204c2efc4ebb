//! The second look: what to touch again, what a part would hide unfinished or
//! unchecked, and who may look.
use super::At;
use crate::access::{self, AtWork, Cost, Costs};
use crate::job::{Book, Command, Job, PlaceState};
use crate::journal::*;
use crate::second::{self, Pace};
use crate::words::{self, Names};

/// Places of a fixing, or an end, ticked in a way that asks for a second touch.
#[derive(Clone, Debug, PartialEq)]
pub struct AgainRow {
    pub what: Target,
    pub title: String,
    pub why: &'static str,
    /// Of a fixing, by index, with the number on the drawing.
    pub places: Vec<(u16, u16)>,
    /// The next part that goes on would put it out of sight.
    pub under: bool,
    pub part: Option<PartId>,
    /// Lives hang on it.
    pub safety: bool,
}

impl AgainRow {
    /// The act that answers for these of its places.
    pub fn answer(&self, places: Vec<u16>, sure: bool) -> Act {
        Act::Touched {
            what: self.what,
            places,
            sure,
        }
    }
}

/// Whether a fixing's mark for a second look cannot be taken off any more.
pub fn mark_stays(book: &Book, fixing: FixingId) -> bool {
    second::mark_stays(book.job(), Target::Fixing(fixing))
}

/// What to touch again, of the whole job, or of one part and, as long as that is
/// off, of what it would put out of sight.
pub fn again_rows(book: &Book, of: Option<PartId>) -> Vec<AgainRow> {
    let job = book.job();
    let again = second::touch_again(book, Pace::default());
    if again.is_empty() {
        return Vec::new();
    }
    let over = of.filter(|&id| job.parts.get(id).is_some_and(|it| it.off()));
    let hidden = over.map_or_else(Vec::new, |part| second::joints_under(job, part));
    let row = |it: second::Again| {
        let fixing = match it.what {
            Target::Fixing(id) => job.fixings.get(id),
            _ => None,
        };
        let part = match fixing {
            Some(fixing) => fixing.parts.first().copied(),
            None => super::part_of(job, it.what),
        };
        let own = of.is_none_or(|of| match fixing {
            Some(fixing) => fixing.parts.contains(&of),
            None => part == Some(of),
        });
        if !own && !hidden.contains(&it.what) {
            return None;
        }
        let number = |p: u16| (p, fixing.map_or(p, |it| it.number(p)));
        Some(AgainRow {
            what: it.what,
            title: words::name(job, it.what),
            why: words::slip(it.why),
            places: it.places.into_iter().map(number).collect(),
            under: !own,
            part,
            safety: it.safety,
        })
    };
    again.into_iter().filter_map(row).collect()
}

/// Something that a part would put out of sight.
#[derive(Clone, Debug, PartialEq)]
pub struct HiddenRow {
    pub what: Target,
    pub name: String,
    pub todo: String,
    /// What it would take to get at it again; empty of what is only advised.
    pub cost: String,
    /// The part on whose page it is dealt with.
    pub part: Option<PartId>,
    /// A second person can look now.
    pub can_check: bool,
    /// What is said when it is done, where one tap says it.
    pub settle: Option<Command>,
}

/// What placing a part would hide.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Hides {
    /// What goes on the part itself before it is placed: new seals, sealant.
    pub own: Vec<HiddenRow>,
    /// Owed, so that it stops the part.
    pub owed: Vec<HiddenRow>,
    /// Finished, and by its name something that lives hang on: a second look
    /// is advised, not owed.
    pub advised: Vec<HiddenRow>,
    /// What the dearest of them would take to get at again; empty when nothing
    /// is owed.
    pub cost: String,
    /// What it closes a way to, and by what that can still be reached.
    pub still: String,
}

pub fn hides(book: &Book, part: PartId, work: &AtWork) -> Hides {
    let job = book.job();
    if !job.parts.get(part).is_some_and(|it| it.off()) {
        return Hides::default();
    }
    let unchecked = second::hides_unchecked(job, part);
    let of_it = |on: Target| match (on, job.parts.get(part)) {
        // What is fitted under the part is on its own page.
        (Target::Item(id), Some(it)) => it.items.contains(&id),
        (Target::Treatment(id), Some(it)) => it.treatments.contains(&id),
        _ => false,
    };
    let under = access::Under::of(job);
    let buried = access::buried_under(job, &under, part);
    let hidden = |on: Target| HiddenRow {
        what: on,
        name: words::name_and_route(job, on),
        todo: todo(job, on),
        cost: String::new(),
        part: super::part_of(job, on),
        can_check: false,
        settle: settle(job, on),
    };
    let (own, rest): (Vec<Target>, Vec<Target>) = buried.into_iter().partition(|&on| of_it(on));
    let own = own.into_iter().map(hidden).collect();
    let owed = rest
        .into_iter()
        .filter(|&on| !only_looks(job, on, &unchecked));
    let mut owed: Vec<HiddenRow> = owed.map(hidden).collect();
    let (marked, advised): (Vec<_>, Vec<_>) = unchecked.into_iter().partition(|it| it.marked);
    let row = |it: second::Unchecked| HiddenRow {
        what: it.what,
        name: words::name(job, it.what),
        todo: match it.critical {
            Some(critical) => format!(
                "No second person has looked: {}.",
                words::critical(critical)
            ),
            None => "No second person has looked.".to_owned(),
        },
        cost: String::new(),
        part: super::part_of(job, it.what),
        can_check: true,
        settle: None,
    };
    owed.extend(marked.into_iter().map(row));
    let cost = priced(book, part, work, &mut owed);
    Hides {
        own,
        owed,
        advised: advised.into_iter().map(row).collect(),
        cost,
        still: words::still_open(job, &under.still_open(Target::Part(part))),
    }
}

/// Prices each of the rows by what would lie over it once the part is on; says
/// the dearest.
fn priced(book: &Book, part: PartId, work: &AtWork, owed: &mut [HiddenRow]) -> String {
    if owed.is_empty() {
        return String::new();
    }
    let costs = Costs::of(book, work);
    let mut dearest = Cost::default();
    for row in owed {
        let cost = costs.once_on(row.what, part);
        row.cost = words::cost(cost);
        if cost.rank() > dearest.rank() {
            dearest = cost;
        }
    }
    let by = words::minutes_by(costs.learned);
    format!("{}. {by}", words::cost(dearest))
}

/// What is said when a seal or what is put on is there.
fn settle(job: &Job, on: Target) -> Option<Command> {
    match on {
        Target::Item(item) => {
            let it = job.items.get(item)?;
            let n = u32::from(it.count.saturating_sub(it.renewed));
            Some(Command::FitItem {
                item,
                n,
                old: false,
            })
        }
        Target::Treatment(treatment) => Some(Command::Record(Act::TreatmentApplied { treatment })),
        _ => None,
    }
}

/// What to do about a thing before it is hidden.
fn todo(job: &Job, on: Target) -> String {
    match on {
        Target::Part(id) if job.parts.get(id).is_some_and(|it| it.off()) => {
            "Off: put it back first.".to_owned()
        }
        Target::Part(_) => {
            let left = super::put_back::unfinished(job, on);
            format!("On, not finished: {left}.")
        }
        on => words::first(job, on).to_owned(),
    }
}

/// Whether all that is open on a thing is looks that are still lacking.
fn only_looks(job: &Job, on: Target, lacking: &[second::Unchecked]) -> bool {
    let lacks = || lacking.iter().any(|it| it.marked && it.what == on);
    let done = |on: Target| access::settled(job, on);
    let done_or_looks = |on: Target| done(on) || only_looks(job, on, lacking);
    match on {
        Target::Fixing(_) | Target::End(_) => access::lacks_look(job, on) && lacks(),
        Target::Connection(connection) => [Side::A, Side::B]
            .into_iter()
            .all(|side| done_or_looks(Target::End(EndId { connection, side }))),
        Target::Part(id) => job.parts.get(id).is_some_and(|it| {
            let joints = it.fixings.iter().map(|&f| Target::Fixing(f));
            let ends = it.ends.iter().map(|&e| Target::End(e));
            let items = it.items.iter().map(|&i| Target::Item(i));
            let treatments = it.treatments.iter().map(|&t| Target::Treatment(t));
            let findings = it.findings.iter().map(|&f| Target::Finding(f));
            !it.off()
                && joints.chain(ends).all(done_or_looks)
                && items.chain(treatments).chain(findings).all(done)
        }),
        _ => false,
    }
}

/// Who may look a second time at a thing, and how letting it go would read.
#[derive(Clone, Debug, PartialEq)]
pub struct CheckAsk {
    pub what: Target,
    pub name: String,
    /// Who did the work, in words.
    pub did: String,
    /// Others whose names stand in this job.
    pub others: Vec<String>,
    /// The line of the audit that letting it go answers; none where the look
    /// is not owed.
    pub owed: Option<OwedKey>,
}

pub fn check_ask(book: &Book, what: Target, at: At) -> Option<CheckAsk> {
    let job = book.job();
    let mut did: Vec<&str> = Vec::new();
    match what {
        Target::Fixing(id) => {
            let places = job.fixings.get(id)?.places.iter();
            for place in places.filter(|p| p.state == PlaceState::Final) {
                let name = job.name_of(place.who);
                if !did.contains(&name) {
                    did.push(name);
                }
            }
        }
        Target::End(id) => did.push(job.name_of(job.end(id)?.who)),
        _ => return None,
    }
    let mut others = people(book);
    others.retain(|by| !did.iter().any(|it| same_name(it, by)));
    let audit = crate::audit::audit(job, at.now);
    let mut lines = audit.open.iter();
    let line = lines.find(|o| o.rule == crate::audit::Rule::IndependentCheck && o.on == what);
    did.retain(|it| !it.trim().is_empty());
    Some(CheckAsk {
        what,
        name: words::name(job, what),
        did: match did.is_empty() {
            true => "somebody who gave no name".to_owned(),
            false => Names(did.into_iter().map(str::to_owned).collect()).to_string(),
        },
        others,
        owed: line.map(|o| o.key()),
    })
}

fn same_name(a: &str, b: &str) -> bool {
    a.trim().to_lowercase() == b.trim().to_lowercase()
}

/// Who has worked on a job, each once, in the order they came to it.
pub fn people(book: &Book) -> Vec<String> {
    let mut people: Vec<String> = Vec::new();
    for event in book.journal().iter() {
        let by = event.by.trim();
        if !by.is_empty() && !people.iter().any(|it| same_name(it, by)) {
            people.push(by.to_owned());
        }
    }
    people
}
