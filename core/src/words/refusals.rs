//! Why a command was refused: what happened, to which thing, what to do.
use super::{Names, Style, account, counted, name, name_and_route, owed, plural, small};
use crate::job::{Job, Kind, Refusal};
use crate::journal::*;

fn kind(kind: Kind) -> &'static str {
    match kind {
        Kind::Part => "part",
        Kind::Fixing => "fixing",
        Kind::Connection => "connection",
        Kind::Item => "one-use item",
        Kind::Container => "container",
        Kind::Opening => "opening",
        Kind::Inside => "thing put in",
        Kind::Fluid => "fluid",
        Kind::Treatment => "lubricant or sealant",
        Kind::Supply => "supply",
        Kind::Step => "make-safe step",
        Kind::Finding => "finding",
        Kind::Buy => "to-buy line",
        Kind::Stray => "stray fastener",
        Kind::AfterRun => "check after running",
        Kind::Line => "line of the count",
        Kind::Photo => "photo",
        Kind::Event => "entry",
        Kind::Name => "name",
    }
}

/// Says a refusal.
pub fn refusal(job: &Job, refusal: &Refusal, style: Style) -> String {
    let part = |id: PartId| name(job, Target::Part(id));
    let fixing = |id: FixingId| name(job, Target::Fixing(id));
    let end = |id: EndId| name(job, Target::End(id));
    let number =
        |id: FixingId, place: u16| job.fixings.get(id).map_or(place + 1, |f| f.number(place));
    match refusal {
        Refusal::Unknown(k) => format!(
            "This {} is not in the job. Reload the page and look again.",
            kind(*k)
        ),
        Refusal::NotOpen => "The job was never opened.".to_owned(),
        Refusal::OpenAlready => "This is another job than the one that is open.".to_owned(),
        Refusal::SignedOff => {
            "The job is signed off. Open it again first, on its Sign-off page.".to_owned()
        }
        Refusal::NameMissing(Kind::Name) => "Say who you are first, under Settings.".to_owned(),
        Refusal::NameMissing(k) => format!("The {} needs a name.", kind(*k)),
        Refusal::CountZero => "The count is nought. Set how many.".to_owned(),
        Refusal::CountTooLarge { most } => format!("At most {most} fit here."),
        Refusal::CountsDoNotFit { touched, accounted } => {
            format!(
                "{touched} were touched, but {accounted} are accounted for. Set the counts so that they agree."
            )
        }
        Refusal::NotThere {
            line,
            from,
            wanted,
            there,
        } => format!(
            "{} wanted from {}, but {there} there. Recount it, or say that new ones came.",
            counted(job, *line, *wanted),
            account(job, *from)
        ),
        Refusal::TagTaken { tag } => format!("Tag {tag} is in use. Take another."),
        Refusal::TagWrong { tag } => {
            format!("{tag} is no tag code: a digit is wrong or two are swapped. Read it again.")
        }
        Refusal::PartIsOff(id) => format!("{} is off already.", part(*id)),
        Refusal::PartIsBack(id) => format!("{} is back already.", part(*id)),
        Refusal::Circle(list) => {
            let list = list.iter().map(|&t| name(job, t)).collect();
            format!(
                "Each would have to come off before the other: {}. Leave one of them out.",
                Names(list)
            )
        }
        Refusal::NothingToHold { fixing: f, part: p } => {
            format!(
                "{} is still off, so {} have nothing to hold. Put the part back first.",
                part(*p),
                fixing(*f)
            )
        }
        Refusal::FinalHeld { fixing: f, until } => {
            format!("{} is made final only {}.", fixing(*f), small::hold(*until))
        }
        Refusal::NotFilled { fluid } => {
            format!(
                "{} is still out. Fill it first.",
                name(job, Target::Fluid(*fluid))
            )
        }
        Refusal::NoJoint { on } => {
            format!(
                "{} is no joint that a fluid could run out of.",
                name(job, *on)
            )
        }
        Refusal::NoLastRound { fixing: f } => format!(
            "{}: a last round repeats a torque over four places or more. After an angle no torque is true any more.",
            fixing(*f)
        ),
        Refusal::BadRound { fixing: f } => format!(
            "This order does not go to each place of {} once. Put it in again.",
            fixing(*f)
        ),
        Refusal::StackIncomplete { fixing: f, part: p } => format!(
            "{} also hold {}, which is off. They stay temporary until it is back.",
            fixing(*f),
            part(*p)
        ),
        Refusal::WrongThing {
            place,
            wanted,
            offered,
            short,
            ..
        } => {
            let short = short.map_or(String::new(), |s| {
                format!(" {} would then be one short.", fixing(s))
            });
            format!(
                "Place {place} wants {}, not {}.{short}",
                wanted.label(),
                offered.label()
            )
        }
        Refusal::WrongExtra {
            fixing: f,
            wanted,
            line,
        } => {
            let offered = name(job, Target::Line(*line));
            match wanted {
                Some(wanted) => format!(
                    "{}: {} belongs there, not {offered}.",
                    fixing(*f),
                    wanted.label()
                ),
                None => format!("{}: no {offered} belongs there.", fixing(*f)),
            }
        }
        Refusal::ShutOver { what, under } => {
            let (state, first) = match under {
                Target::Fixing(_) => ("final", "They come out again first"),
                Target::End(_) => ("fast", "It is parted again first"),
                _ => ("on and tight", "It comes off again first"),
            };
            let is = match under {
                Target::Fixing(id) if job.fixings.get(*id).is_none_or(|f| f.wanted() > 1) => "are",
                _ => "is",
            };
            format!(
                "{} {is} {state}: {} cannot get there any more. {first}.",
                name(job, *under),
                name(job, *what)
            )
        }
        Refusal::PlaceUnknown { fixing: f, place } => {
            format!("{} has no place {}.", fixing(*f), place + 1)
        }
        Refusal::PlaceIs {
            fixing: f,
            place,
            state,
        } => format!(
            "Place {} of {} is {}.",
            number(*f, *place),
            fixing(*f),
            small::place_state(*state)
        ),
        Refusal::WouldBury {
            part: p,
            owed: open,
        } => {
            let owed: Vec<String> = open.iter().map(|&t| name_and_route(job, t)).collect();
            format!(
                "{} would hide what is still owed: {}. Do that first.",
                part(*p),
                Names(owed)
            )
        }
        Refusal::Covered { what, by } => format!(
            "{} is behind {}, which was put on over it.",
            name(job, *what),
            part(*by)
        ),
        Refusal::StillFastened {
            part: p, fixings, ..
        } => {
            let list = fixings.iter().map(|&f| fixing(f)).collect();
            format!(
                "{} is still held by {}. Undo these first.",
                part(*p),
                Names(list)
            )
        }
        Refusal::EndIs { end: e, state } => {
            let joint = job.end(*e).map_or(Joint::PushOn, |it| it.end.joint);
            format!("{} is {}.", end(*e), small::end_state(*state, joint))
        }
        Refusal::WrongEnd { end: e, seat } => {
            format!(
                "{} does not belong there: that is the seat of {}.",
                end(*e),
                end(*seat)
            )
        }
        Refusal::Curing { treatment, until } => format!(
            "Still curing: {}, until {}.",
            name(job, Target::Treatment(*treatment)),
            (style.when)(*until)
        ),
        Refusal::NotReady { ask, missing } => {
            let list = missing.iter().map(|o| owed(job, o, style).what).collect();
            format!("{}. {}.", super::do_not(*ask), Names(list))
        }
        Refusal::NotDue { after_run } => format!(
            "{} is not due yet. Log that it ran, read the meter, or say why it is done early.",
            name(job, Target::AfterRun(*after_run))
        ),
        Refusal::MeterLower { before, read } => format!(
            "{} is less than the {} it read before. Read it again; if it was misread before, strike that entry in the log.",
            small::meter(*read, style),
            small::meter(*before, style)
        ),
        Refusal::AlreadySo(what) => format!("{}: that is so already.", name(job, *what)),
        Refusal::NeedsNew { what, short } => {
            format!(
                "{} take new ones, {} to be had. An old one would be a temporary.",
                name(job, *what),
                plural(*short, "new one")
            )
        }
        Refusal::RepairFirst { fixing: f, place } => {
            format!(
                "Place {} of {} is broken. Repair it first.",
                number(*f, *place),
                fixing(*f)
            )
        }
        Refusal::WouldBottom {
            fixing: f,
            length_um,
            hole,
            new,
        } => {
            let old = new.map_or_else(String::new, |what| {
                format!(" {}", super::hole_old(&name(job, what)))
            });
            let unit = job.length_unit();
            let n = |um: u32| super::bare_length(um, unit, style);
            let under = hole.stack().thickness_um;
            format!(
                "It would bottom in {}: {} long - {} under the head = {} into a hole of {}. The head would never clamp.{old}",
                fixing(*f),
                n(*length_um),
                n(under),
                n(length_um.saturating_sub(under)),
                super::length(hole.depth_um, unit, style)
            )
        }
        Refusal::HoldsTooLittle {
            fixing: f,
            length_um,
            hole,
            verdict,
        } => format!(
            "{}: {}. {} Place by place it can be made final with a reason.",
            fixing(*f),
            super::hole_sum(*length_um, *hole, job.length_unit(), style),
            super::hole_verdict(*verdict, *hole, job.length_unit(), style)
        ),
        Refusal::SameName { name } if name.is_empty() => "Nobody is named for the work on it, so nobody can be told from them. Say who is at work under Settings, doubt it, and make it fast again under that name.".to_owned(),
        Refusal::SameName { name } => {
            format!(
                "{name} did the tightening. A second look needs other eyes: change who is at work under Settings."
            )
        }
        Refusal::MarkStays { on } => format!(
            "{} is owed a second look. Where there is nobody else, let that go in the Audit once it is tight, with your name and reason.",
            name(job, *on)
        ),
        Refusal::TorqueAfterAngle { fixing, stage } => format!(
            "Stage {stage}{} is a torque after an angle. Angles come last: once turned by one, no torque is true any more.",
            fixing.map_or_else(String::new, |it| format!(
                " of {}",
                name(job, Target::Fixing(it))
            ))
        ),
        Refusal::ReasonMissing => "Give a reason; it stands in the record.".to_owned(),
        Refusal::StillOwed { n } => format!(
            "{} still owed. Settle them, or give each an exception with a reason.",
            plural(*n, "thing")
        ),
        Refusal::NotOwed => "That is settled already.".to_owned(),
        Refusal::BuiltOn { by, .. } => format!(
            "{} built on it. Strike those first, the latest first.",
            plural(by.len() as u32, "later entry")
        ),
        Refusal::CannotStrike { .. } => "This entry cannot be struck.".to_owned(),
        Refusal::StruckAlready { .. } => "This entry is struck already.".to_owned(),
        Refusal::StillInside { n } => {
            format!("{n} still inside. That is never signed away: take it out.",)
        }
        Refusal::NotDecided(id) => format!("{}: decide first.", name(job, Target::Finding(*id))),
        Refusal::NoPlaceFor {
            fixing: f,
            wanted,
            free,
        } => {
            format!(
                "{wanted} wanted, but {} has {} left.",
                fixing(*f),
                plural(*free, "place")
            )
        }
        Refusal::StageUnknown { fixing: f, stage } => {
            format!("{} has no stage {stage}.", fixing(*f))
        }
    }
}

/// What opens a joint again that is closed over something.
pub fn open_again(under: Target) -> &'static str {
    match under {
        Target::Fixing(_) => "They come out again",
        Target::End(_) => "Part it again",
        _ => "It comes off again",
    }
}

/// Leads to the part that is over a thing.
pub fn open_over(job: &Job, by: PartId) -> String {
    format!("Open {}", name(job, Target::Part(by)))
}

/// What was covered is in reach.
pub const REACHED: &str = "It can be reached all the same";

/// Why a gasket or sealant may be in all the same.
pub const LATE_REASONS: [&str; 2] = [
    "it was put in before, and is only said now",
    "it goes in from outside",
];
