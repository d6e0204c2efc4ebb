//! What things are called: by name, by size and by where they are.
use super::small;
use crate::job::{Fixing, Job};
use crate::journal::*;
use crate::ledger::Thing;

/// A list of names, cut off with a count when it is long.
pub struct Names(pub Vec<String>);

impl std::fmt::Display for Names {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self.0.as_slice() {
            [] => f.write_str("nothing"),
            [one] => f.write_str(one),
            [one, two] => write!(f, "{one} and {two}"),
            [one, two, three] => write!(f, "{one}, {two} and {three}"),
            [one, two, rest @ ..] => write!(f, "{one}, {two} and {} more", rest.len()),
        }
    }
}

/// "pump can still be reached: tray and hose are off.", of each part with what
/// is off on a way to it that stays open.
pub fn still_open(job: &Job, parts: &[(PartId, Vec<Target>)]) -> String {
    let said = parts.iter().map(|(part, way)| {
        let names: Vec<String> = way.iter().map(|&it| name(job, it)).collect();
        let by = match names.len() {
            0 => "nothing else is in the way".to_owned(),
            1 => format!("{} is off", Names(names)),
            _ => format!("{} are off", Names(names)),
        };
        format!(
            "{} can still be reached: {by}.",
            name(job, Target::Part(*part))
        )
    });
    said.collect::<Vec<String>>().join(" ")
}

/// "1 rag", "3 rags", "5 batteries".
pub fn plural(n: u32, one: &str) -> String {
    if n == 1 {
        return format!("1 {one}");
    }
    let many = match one {
        it if it.ends_with('s')
            || it.ends_with("sh")
            || it.ends_with("ch")
            || it.ends_with('x') =>
        {
            format!("{it}es")
        }
        it if it.ends_with("ry") || it.ends_with("ly") || it.ends_with("ty") => {
            format!("{}ies", it.trim_end_matches('y'))
        }
        it => format!("{it}s"),
    };
    format!("{n} {many}")
}

/// "M6 x 20 bolts, 10 mm head": the size of a fixing's fasteners, many or one.
pub fn fixing_count(n: u32, fixing: &Fixing) -> String {
    format!("{n} × {}", fixing.spec.labels(n))
}

/// A fixing without its count: its size, and its place on its part.
pub fn fixing_short(job: &Job, id: FixingId) -> String {
    let Some(fixing) = job.fixings.get(id) else {
        return "unknown fixing".to_owned();
    };
    let label = fixing.spec.labels(fixing.places.len() as u32);
    let place = if fixing.place.is_empty() {
        String::new()
    } else {
        format!(", {}", fixing.place)
    };
    format!("{label}{place}")
}

/// What a thing is called, standing alone.
pub fn name(job: &Job, what: Target) -> String {
    let unknown = || "unknown thing".to_owned();
    match what {
        Target::Job => job.head.as_ref().map_or_else(unknown, |h| h.title.clone()),
        Target::Part(id) => job.parts.get(id).map_or_else(unknown, |p| p.name.clone()),
        Target::Fixing(id) => job.fixings.get(id).map_or_else(unknown, |fixing| {
            let parts: Vec<String> = fixing
                .parts
                .iter()
                .map(|&p| name(job, Target::Part(p)))
                .collect();
            let of = if parts.is_empty() {
                String::new()
            } else {
                format!(" of {}", Names(parts))
            };
            // The part before the place: "at the block" alone says of what.
            let label = fixing.spec.labels(fixing.places.len() as u32);
            match fixing.place.is_empty() {
                true => format!("{label}{of}"),
                false => format!("{label}{of}, {}", fixing.place),
            }
        }),
        Target::Connection(id) => job
            .connections
            .get(id)
            .map_or_else(unknown, |c| c.name.clone()),
        Target::End(id) => job
            .connections
            .get(id.connection)
            .map_or_else(unknown, |c| {
                let end = &c.end(id.side).end;
                let at = match end.on {
                    _ if !end.label.is_empty() => end.label.clone(),
                    Some(part) => name(job, Target::Part(part)),
                    None => "machine".to_owned(),
                };
                format!("{}, end at {at}", c.name)
            }),
        Target::Item(id) => job.items.get(id).map_or_else(unknown, |it| {
            let size = if it.size.is_empty() {
                String::new()
            } else {
                format!(" {}", it.size)
            };
            let on = match it.on {
                Target::Part(_) | Target::End(_) => format!(" of {}", name(job, it.on)),
                _ => String::new(),
            };
            let count = if it.count == 1 {
                String::new()
            } else {
                format!("{} × ", it.count)
            };
            format!("{count}{}{size}{on}", it.name)
        }),
        Target::Container(id) => job.containers.get(id).map_or_else(unknown, |c| {
            let named = if c.name.is_empty() {
                String::new()
            } else {
                format!(" ({})", c.name)
            };
            format!("{} {}{named}", small::container_kind(c.kind), c.tag)
        }),
        Target::Opening(id) => job
            .openings
            .get(id)
            .map_or_else(unknown, |o| o.name.clone()),
        Target::Inside(id) => job.insides.get(id).map_or_else(unknown, |it| {
            let at = where_inside(job, id);
            let at = if at.is_empty() {
                String::new()
            } else {
                format!(" in {at}")
            };
            let n = if it.put.n == 1 {
                String::new()
            } else {
                format!("{} × ", it.put.n)
            };
            format!("{n}{}{at}", it.put.name)
        }),
        Target::Fluid(id) => job.fluids.get(id).map_or_else(unknown, |f| f.name.clone()),
        Target::Treatment(id) => job.treatments.get(id).map_or_else(unknown, |t| {
            let product = if t.treatment.product.is_empty() {
                small::treatment_kind(t.treatment.kind).to_owned()
            } else {
                treatment_product(&t.treatment)
            };
            format!("{product} on {}", name(job, t.treatment.on))
        }),
        Target::Supply(id) => job
            .supplies
            .get(id)
            .map_or_else(unknown, |s| s.name.clone()),
        Target::Step(id) => job
            .steps
            .get(id)
            .map_or_else(unknown, |s| s.step.text.clone()),
        Target::Finding(id) => job.findings.get(id).map_or_else(unknown, |f| match f.on {
            Target::Job => f.text.clone(),
            on => format!("{}: {}", name(job, on), f.text),
        }),
        Target::Buy(id) => job.buys.get(id).map_or_else(unknown, |b| b.what.clone()),
        Target::Stray(id) => job
            .strays
            .get(id)
            .map_or_else(unknown, |s| format!("{} found {}", s.spec.label(), s.place)),
        Target::AfterRun(id) => job.after_runs.get(id).map_or_else(unknown, |a| {
            let kind = small::after_run(a.what);
            match (a.text.is_empty(), a.on) {
                (false, _) => a.text.clone(),
                (true, Target::Job) => kind.to_owned(),
                (true, on) => format!("{kind}: {}", name(job, on)),
            }
        }),
        Target::Line(id) => of_line(job, id, 1),
    }
}

/// What is put on, by its kind and product; a product that says its kind says it
/// once.
fn treatment_product(it: &Treatment) -> String {
    let kind = small::treatment_kind(it.kind);
    match it.product.to_ascii_lowercase().contains(kind) {
        true => it.product.clone(),
        false => format!("{kind} {}", it.product),
    }
}

/// Things of a line with their number: "4 × M6 x 30 screws of guard".
pub fn counted(job: &Job, id: LineId, n: u32) -> String {
    format!("{n} × {}", of_line(job, id, n))
}

/// So many things of a line, without their number.
pub fn of_line(job: &Job, id: LineId, n: u32) -> String {
    job.lines.get(id).map_or_else(
        || "unknown thing".to_owned(),
        |line| match &line.thing {
            Thing::Fastener(spec) | Thing::Extra(spec) | Thing::Stray(spec) => {
                let label = spec.labels(n);
                match line.of {
                    Target::Fixing(f) => {
                        let parts = job
                            .fixings
                            .get(f)
                            .map(|f| f.parts.clone())
                            .unwrap_or_default();
                        let parts = parts.iter().map(|&p| name(job, Target::Part(p))).collect();
                        format!("{label} of {}", Names(parts))
                    }
                    _ => label,
                }
            }
            _ => name(job, line.of),
        },
    )
}

/// How a hose runs: what was written down says it by itself where it begins with
/// such a word.
pub fn route_to(kind: RouteKind, by: &str) -> String {
    const SAYS: [&str; 14] = [
        "behind", "between", "through", "under", "over", "past", "along", "beside", "round",
        "around", "inside", "above", "below", "clipped",
    ];
    let first = by
        .split_whitespace()
        .next()
        .unwrap_or_default()
        .to_ascii_lowercase();
    match SAYS.contains(&first.as_str()) {
        true => by.to_owned(),
        false => format!("{} {by}", small::route(kind)),
    }
}

/// What a thing is called, with what it runs behind or through: so that a part
/// does not go back as if the hose were free.
pub fn name_and_route(job: &Job, what: Target) -> String {
    let name_of = name(job, what);
    let (Target::Connection(connection) | Target::End(EndId { connection, .. })) = what else {
        return name_of;
    };
    let routes = job.connections.get(connection).map(|c| &c.route);
    let lies = routes.into_iter().flatten();
    let lies: Vec<String> = lies
        .filter(|r| r.kind != RouteKind::ClippedTo)
        .map(|r| {
            let by = r.part.filter(|_| r.text.is_empty());
            let by = by.map_or_else(|| r.text.clone(), |p| name(job, Target::Part(p)));
            route_to(r.kind, &by)
        })
        .collect();
    if lies.is_empty() {
        name_of
    } else {
        format!("{name_of} ({})", lies.join(", "))
    }
}

/// One of a thing that is there several times: its name without how many.
pub fn each(job: &Job, what: Target) -> String {
    let count = match what {
        Target::Inside(id) => job.insides.get(id).map(|it| it.put.n),
        Target::Item(id) => job.items.get(id).map(|it| it.count),
        _ => None,
    };
    let name = name(job, what);
    let many = count.map(|n| format!("{n} × ")).unwrap_or_default();
    name.strip_prefix(&many).map(str::to_owned).unwrap_or(name)
}

/// What of it is still inside.
pub fn still_inside(job: &Job, id: InsideId) -> String {
    let one = each(job, Target::Inside(id));
    match job.insides.get(id).map_or(0, |it| it.n_in) {
        0 | 1 => one,
        n => format!("{n} × {one}"),
    }
}

fn where_inside(job: &Job, id: InsideId) -> String {
    let Some(it) = job.insides.get(id) else {
        return String::new();
    };
    match it.put.opening.and_then(|o| job.openings.get(o)) {
        Some(opening) if it.put.place.is_empty() => opening.name.clone(),
        Some(opening) => format!("{}, {}", opening.name, it.put.place),
        None => it.put.place.clone(),
    }
}

/// Where things of an account are.
pub fn account(job: &Job, at: Account) -> String {
    match at {
        Account::Fixing(id) => format!("in place, {}", name(job, Target::Fixing(id))),
        Account::Item(_) | Account::Part(_) => "in place".to_owned(),
        Account::Inside(_) => "inside".to_owned(),
        Account::Container(id) => name(job, Target::Container(id)),
        Account::Bench => "the bench".to_owned(),
        Account::Scrapped => "scrap".to_owned(),
        Account::Missing => "missing".to_owned(),
        Account::Spare => "spares".to_owned(),
        Account::LeftOff => "left off".to_owned(),
    }
}

/// The same behind a number: "4 on the bench", "4 in bag 100001".
pub fn lying(job: &Job, at: Account) -> String {
    match at {
        Account::Bench => "on the bench".to_owned(),
        Account::Inside(_) | Account::Missing | Account::LeftOff | Account::Fixing(_) => {
            account(job, at)
        }
        Account::Item(_) | Account::Part(_) => account(job, at),
        other => format!("in {}", account(job, other)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_and_lists_read_as_speech() {
        assert_eq!(plural(1, "rag"), "1 rag");
        assert_eq!(plural(3, "box"), "3 boxes");
        assert_eq!(plural(2, "delivery"), "2 deliveries");
        let names = |n: usize| Names((0..n).map(|n| format!("p{n}")).collect()).to_string();
        assert_eq!(names(3), "p0, p1 and p2");
        assert_eq!(names(5), "p0, p1 and 3 more");
    }
}
