//! Entries of the log, each in one line.
use super::small;
use super::{Names, Style, account, counted, fixing_count, name, plural};
use crate::job::Job;
use crate::journal::*;

/// What an act said, with the things named as they are called now.
pub fn act(job: &Job, event: &Event, style: Style) -> String {
    let of = |t: Target| name(job, t);
    let part = |id: PartId| name(job, Target::Part(id));
    let fix = |id: FixingId, n: usize| {
        job.fixings.get(id).map_or_else(String::new, |f| {
            let parts = f.parts.iter().map(|&p| part(p)).collect();
            format!("{} of {}", fixing_count(n as u32, f), Names(parts))
        })
    };
    // One of several is called by its number.
    let at = |id: FixingId, places: &[u16]| match (job.fixings.get(id), places) {
        (Some(f), &[place]) if f.places.len() > 1 => {
            format!(
                "{} {}, {}",
                f.spec.kind.word(),
                f.number(place),
                of(Target::Fixing(id))
            )
        }
        _ => fix(id, places.len()),
    };
    match &event.act {
        Act::JobOpened(head) => format!("Job opened: {}", head.title),
        Act::JobDescribed(head) => format!("Job described: {}", head.title),
        Act::ProcedureAttached(p) => format!("Procedure attached: {}", p.title),
        Act::SafeStepListed(s) => format!("Make-safe step: {}", s.text),
        Act::SafeStepConfirmed { step } => {
            let late = job.first_off.is_some_and(|first| first < event.id);
            let word = if late { "Confirmed late" } else { "Confirmed" };
            format!("{word}: {}", of(Target::Step(*step)))
        }
        Act::PartOff(p) if p.aside => format!("Swung aside: {}", p.name),
        Act::PartOff(p) => format!("Off: {}", p.name),
        Act::PartOffAgain { part: p, .. } => format!("Off again: {}", part(*p)),
        Act::PartDescribed { name, .. } => format!("Described: {name}"),
        Act::Routed { connection, route } => {
            let by = route.part.filter(|_| route.text.is_empty());
            let by = by.map_or_else(|| route.text.clone(), part);
            let runs = super::route_to(route.kind, &by);
            format!("{} runs {runs}", of(Target::Connection(*connection)))
        }
        Act::AlsoHolds { fixing, part: p } => {
            format!("Also holds {}: {}", part(*p), of(Target::Fixing(*fixing)))
        }
        Act::ExtraAdded { fixing, extra, .. } => {
            let each = match extra.per_place {
                1 => String::new(),
                n => format!("{n} × "),
            };
            let (spec, on) = (extra.spec.label(), of(Target::Fixing(*fixing)));
            format!("With each came {each}{spec}: {on}")
        }
        Act::Named {
            what: what @ Target::Fixing(_),
            name,
        } => match name.is_empty() {
            true => format!("No words for its place: {}", of(*what)),
            false => format!("Its place is called {name}: {}", of(*what)),
        },
        Act::Named { name, .. } => format!("Called from here on: {name}"),
        Act::Numbered { fixing, .. } => {
            format!("Holes numbered: {}", of(Target::Fixing(*fixing)))
        }
        Act::CameAfter { what, needs } => {
            let first = needs.iter().map(|n| of(n.first)).collect();
            format!("{} came after {}", of(*what), Names(first))
        }
        Act::WayNoted { what, needs } if needs.is_empty() => {
            format!("{} can be reached as it is", of(*what))
        }
        Act::WayNoted { what, needs } => {
            let first = needs.iter().map(|n| of(n.first)).collect();
            format!(
                "{} can also be reached by way of {}",
                of(*what),
                Names(first)
            )
        }
        Act::FixingUndone(f) => {
            let parts = f.parts.iter().map(|&p| part(p)).collect();
            let label = f.spec.label();
            let label = if f.count == 1 {
                label
            } else {
                label.replacen(f.spec.kind.word(), f.spec.kind.words(), 1)
            };
            let slack = if f.slackened > 0 {
                format!(", {} only slackened", f.slackened)
            } else {
                String::new()
            };
            format!("Undone: {} × {label} of {}{slack}", f.count, Names(parts))
        }
        Act::FixingDescribed { fixing, .. } => {
            format!("Described: {}", of(Target::Fixing(*fixing)))
        }
        Act::FastenersUndone {
            fixing,
            places,
            out: true,
            ..
        } => format!("Out again: {}", fix(*fixing, places.len())),
        Act::FastenersUndone { fixing, places, .. } => {
            format!("Slackened: {}", fix(*fixing, places.len()))
        }
        Act::FastenerBroke { fixing, .. } => format!("Broke: {}", fix(*fixing, 1)),
        Act::PlaceRepaired { fixing, .. } => {
            format!("Place repaired: {}", of(Target::Fixing(*fixing)))
        }
        Act::ConnectionLogged(c) => {
            format!("Logged: {} {}", small::connection_kind(c.kind), c.name)
        }
        Act::EndParted { end } => format!("Parted: {}", of(Target::End(*end))),
        Act::ItemRemoved(i) => format!("Used once, removed: {} × {} {}", i.count, i.name, i.size),
        Act::ContainerNamed { tag, kind, .. } => {
            format!("New {} {tag}", small::container_kind(*kind))
        }
        Act::ContainerMoved { container, lies } => {
            format!("{} lies: {lies}", of(Target::Container(*container)))
        }
        Act::OpeningMade { name, .. } => format!("Laid open: {name}"),
        Act::PutIn(p) => match p.place.is_empty() {
            true => format!("Put in: {} × {}", p.n, p.name),
            false => format!("Put in: {} × {}, {}", p.n, p.name, p.place),
        },
        Act::TakenOut { inside, n } => format!(
            "Taken out: {n} × {}",
            super::each(job, Target::Inside(*inside))
        ),
        Act::FluidDrained { name, amount, .. } => format!("Drained: {name} {amount}"),
        Act::FluidFilled { fluid, amount } => {
            format!("Filled: {} {amount}", of(Target::Fluid(*fluid)))
        }
        Act::LevelSeen { fluid, amount } => {
            let fluid = of(Target::Fluid(*fluid));
            match amount.is_empty() {
                true => format!("Level right: {fluid}"),
                false => format!("Level right: {fluid}, {amount} added"),
            }
        }
        Act::JointHolds { fluid, on, holds } => format!(
            "{}: {} {}",
            of(*on),
            if *holds { "holds" } else { "holds no" },
            of(Target::Fluid(*fluid))
        ),
        Act::FluidBled { fluid } => format!("Bled: {}", of(Target::Fluid(*fluid))),
        Act::TreatmentPrescribed(t) => {
            format!(
                "Prescribed: {} {} on {}",
                small::treatment_kind(t.kind),
                t.product,
                of(t.on)
            )
        }
        Act::TreatmentApplied { treatment } => {
            format!("Put on: {}", of(Target::Treatment(*treatment)))
        }
        Act::SupplyIsolated { name, .. } => format!("Cut off: {name}"),
        Act::SupplyRestored { supply } => format!("On again: {}", of(Target::Supply(*supply))),
        Act::FindingNoted { on, text } => format!("Found on {}: {text}", of(*on)),
        Act::Decided {
            finding, decision, ..
        } => {
            format!(
                "Decided to {}: {}",
                small::decision(*decision),
                of(Target::Finding(*finding))
            )
        }
        Act::WorkDone { finding } => format!("Work done: {}", of(Target::Finding(*finding))),
        Act::BuyListed { what, n, .. } => format!("To buy: {n} × {what}"),
        Act::Ordered { want, n } => format!("Ordered: {n} × {}", of(want_target(*want))),
        Act::Arrived { want, n } => format!("Arrived: {n} × {}", of(want_target(*want))),
        Act::PartReplaced { part: p, .. } => format!("New part in place of {}", part(*p)),
        Act::FixingRenewed { fixing, spec, .. } => {
            format!(
                "{} from now on: {}",
                of(Target::Fixing(*fixing)),
                spec.label()
            )
        }
        Act::OldKept { fixing, reason } => {
            format!(
                "Old ones go back: {} ({reason})",
                of(Target::Fixing(*fixing))
            )
        }
        Act::LookedAt { fixing } => {
            format!("Looked at, good: {}", of(Target::Fixing(*fixing)))
        }
        Act::FixingMeasured { fixing, .. } => {
            format!("Measured: {}", of(Target::Fixing(*fixing)))
        }
        Act::HoleMeasured { fixing, hole } => format!(
            "Hole of {}: {} under the head, {}",
            of(Target::Fixing(*fixing)),
            small::length(hole.stack().thickness_um, job.length_unit(), style),
            small::hole_depth(*hole, job.length_unit(), style)
        ),
        Act::Moved { line, from, to, .. } if from == to => {
            format!(
                "Recounted, right: {} in {}",
                of(Target::Line(*line)),
                account(job, *from)
            )
        }
        Act::Moved {
            line, from, to, n, ..
        } => {
            format!(
                "Moved: {} from {} to {}",
                counted(job, *line, *n),
                account(job, *from),
                account(job, *to)
            )
        }
        Act::StockAdded { line, n, .. } => format!("New: {}", counted(job, *line, *n)),
        Act::StrayFound { spec, place } => format!("Found, unknown: {} {place}", spec.label()),
        Act::StrayMeasured { stray, spec } => format!(
            "Measured again, still unknown: {} {}",
            spec.label(),
            job.strays.get(*stray).map_or("", |it| it.place.as_str())
        ),
        Act::StrayIdentified { stray, line } => {
            format!(
                "{} is {}",
                of(Target::Stray(*stray)),
                of(Target::Line(*line))
            )
        }
        Act::StraySettled { stray, reason } => format!("{}: {reason}", of(Target::Stray(*stray))),
        Act::LeftOff { what, reason, .. } => format!("Left off: {} ({reason})", of(*what)),
        Act::PartPlaced { part: p, buried } if buried.is_empty() => format!("Back: {}", part(*p)),
        Act::PartPlaced { part: p, buried } => {
            format!(
                "Back: {}, over {} still owed",
                part(*p),
                plural(buried.len() as u32, "thing")
            )
        }
        Act::Started { fixing, places, .. } => format!("Started: {}", at(*fixing, places)),
        Act::Tightened {
            fixing,
            places,
            to,
            value,
            set,
        } => {
            let to = match to {
                Tight::Snug => "snug".to_owned(),
                Tight::Stage(n) => format!("stage {n}"),
                Tight::Final => "final".to_owned(),
            };
            let value = value.map_or(String::new(), |v| format!(", {}", small::figure(v, style)));
            let value = value + &set_to(*set, style);
            format!("Tightened, {to}{value}: {}", at(*fixing, places))
        }
        Act::AdapterSet { fixing, adapter } => match adapter {
            Some(it) => format!(
                "On the wrench, {} mm to the grip, an adapter of {} mm at {}°: {}",
                it.wrench_mm,
                it.adapter_mm,
                it.angle,
                of(Target::Fixing(*fixing))
            ),
            None => format!("No adapter on the wrench: {}", of(Target::Fixing(*fixing))),
        },
        Act::SecondLookSet { what, owed: true } => {
            format!("A second person is to look at it: {}", of(*what))
        }
        Act::SecondLookSet { what, .. } => format!("No second look asked for: {}", of(*what)),
        Act::LastRoundAsked { fixing, asked } => format!(
            "{} at the end: {}",
            if *asked {
                "Once more all round"
            } else {
                "No last round"
            },
            of(Target::Fixing(*fixing))
        ),
        Act::WentRound {
            fixing,
            turned,
            value,
            set,
        } => format!(
            "Gone round once more{}{}, {}: {}",
            value.map_or(String::new(), |v| format!(
                " at {}",
                small::figure(v, style)
            )),
            set_to(*set, style),
            if *turned {
                "one still turned"
            } else {
                "none turned"
            },
            of(Target::Fixing(*fixing))
        ),
        Act::RoundSet(it) => format!(
            "{} order of tightening: {}",
            if it.maker { "The maker's" } else { "The" },
            of(Target::Fixing(it.fixing))
        ),
        Act::RingSet(it) => format!(
            "{}: {}",
            match (it.apart, it.order.is_empty()) {
                (true, _) => "Each by itself",
                (_, true) => "One pass",
                _ => "One pass in the maker's order",
            },
            Names(it.lines.iter().map(|&l| of(Target::Fixing(l))).collect())
        ),
        Act::FinalHeld {
            fixing,
            until,
            met: false,
        } => format!(
            "Final only {}: {}",
            small::hold(*until),
            of(Target::Fixing(*fixing))
        ),
        Act::FinalHeld { fixing, until, .. } => format!(
            "It is so, {}: {}",
            small::hold(*until),
            of(Target::Fixing(*fixing))
        ),
        Act::Doubted {
            what: Target::Fixing(fixing),
            places,
        } => format!("Not sure: {}", at(*fixing, places)),
        Act::Doubted { what, .. } => format!("Doubtful: {}", of(*what)),
        Act::ExtraFitted { line, n, .. } => format!("Fitted: {}", counted(job, *line, *n)),
        Act::ItemFitted {
            item,
            n,
            old: false,
            ..
        } => format!("Renewed: {n} × {}", super::each(job, Target::Item(*item))),
        Act::ItemFitted {
            item, n, reason, ..
        } => {
            let old = format!(
                "Old one fitted: {n} × {}",
                super::each(job, Target::Item(*item))
            );
            match reason.is_empty() {
                true => old,
                false => format!("{old} ({reason})"),
            }
        }
        Act::EndPushed { end, .. } => format!("Joined: {}", of(Target::End(*end))),
        Act::EndSecured { end } => format!("Made fast: {}", of(Target::End(*end))),
        Act::Checked { what, .. } => format!("Checked by a second person: {}", of(*what)),
        Act::AfterRunOwed {
            what, text, due, ..
        } => {
            format!(
                "Owed {}: {} {text}",
                small::due(*due),
                small::after_run(*what)
            )
        }
        Act::AfterRunDone { after_run, reading } => {
            format!("Done: {} {reading}", of(Target::AfterRun(*after_run)))
        }
        Act::Touched {
            what, sure: true, ..
        } => format!("Touched and sure: {}", of(*what)),
        Act::Touched { what, .. } => format!("Not sure: {}", of(*what)),
        Act::WentOn { what } => format!("Went on, not touched again: {}", of(*what)),
        Act::MeterRead(m) => format!("Read off: {}", small::meter(*m, style)),
        Act::Ran { heat_cycles: 0 } => "Run, a short while".to_owned(),
        Act::Ran { heat_cycles } => format!("Run, {}", plural(u32::from(*heat_cycles), "warm-up")),
        Act::PhotoTaken(p) if p.caption.is_empty() => "Photo".to_owned(),
        Act::PhotoTaken(p) => format!("Photo: {}", p.caption),
        Act::MarkSet { number, what, .. } => format!("Mark {number}: {}", of(*what)),
        Act::NoteAdded {
            on: on @ Target::Fluid(_),
            text,
        } => format!("Note on {}: {text}", of(*on)),
        Act::NoteAdded { text, .. } => format!("Note: {text}"),
        Act::Struck { .. } => "Struck an entry".to_owned(),
        Act::Excepted { owed, reason } => format!("Accepted as it is: {} ({reason})", of(owed.on)),
        Act::SignedOff { .. } => "Signed off".to_owned(),
        Act::Reopened { reason } => format!("Reopened: {reason}"),
    }
    .trim()
    .to_owned()
}

/// The thing that a line of the to-buy list is for.
pub fn want_target(want: Want) -> Target {
    match want {
        Want::Item(id) => Target::Item(id),
        Want::Fixing(id) => Target::Fixing(id),
        Want::Extra(id) => Target::Line(id),
        Want::Line(id) => Target::Buy(id),
    }
}

/// What stood on the scale, where an adapter was on.
fn set_to(set: Option<Figure>, style: Style) -> String {
    set.map_or(String::new(), |it| {
        format!(" (set {}, with the adapter)", small::figure(it, style))
    })
}
