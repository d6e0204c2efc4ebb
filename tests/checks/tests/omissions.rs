//! The audit against what people really leave out when they put things
//! together again. The kinds, their shares and their sources stand in
//! `tests/reference/omissions.csv`:
//! - Reason 1997, 122 maintenance lapses of one airline over three years
//!   (the first three kinds seen in trade press quoting the study, the others
//!   from memory);
//! - Hobbs and Williamson, survey of maintenance occurrences for the ATSB
//!   (counts seen second-hand).
//!
//! For each kind jobs are drawn that are complete but for one omission of it.
//! The jobs are invented; the mistakes are not.
use countback_checks::bench::Bench;
use countback_checks::dice::Dice;
use countback_checks::refit::{Omit, Refit};
use countback_checks::whole_job::{Draw, strip};
use countback_core::audit::{Owed, Rule, Verdict};
use countback_core::job::*;
use countback_core::journal::*;

/// Jobs for each kind of omission.
const JOBS: usize = 200;
/// Complete jobs, on which nothing may be raised.
const COMPLETE: u64 = 1_000;

/// One way to commit an omission of a kind.
#[derive(Clone, Copy, Debug)]
enum Way {
    OneFastener,
    NotTightened,
    StageMissing,
    Inside(&'static [InsideKind]),
    PartOff(&'static [&'static str]),
    NotFilled,
    NotBled,
    NotRejoined,
    NotSecured,
    WasherMissing,
    NotRenewed,
    OneOver,
    NotApplied,
    NotFixed,
    SwappedFasteners,
    SwappedEnds,
    OtherPart,
    NotRetightened,
    NotMadeSafe,
    NotRestored,
}

/// The ways in which each kind of the reference file comes about.
fn ways(kind: &str) -> Option<&'static [Way]> {
    use InsideKind::*;
    Some(match kind {
        "fastenings undone or incomplete" => {
            &[Way::OneFastener, Way::NotTightened, Way::StageMissing]
        }
        "items left locked or pins not removed" => &[Way::Inside(&[LockingPin, Tool, Support])],
        "caps loose or missing (filler and breather)" => {
            &[Way::PartOff(&["filler cap"]), Way::NotFilled]
        }
        "items left loose or disconnected" => &[Way::NotRejoined, Way::NotSecured],
        "spacers, washers missing" => &[Way::WasherMissing, Way::NotRenewed],
        "tools or spare fastenings not removed" => &[Way::Inside(&[Tool, Rag]), Way::OneOver],
        "lack of lubrication" => &[Way::NotApplied],
        "panels left off" => &[Way::PartOff(&["panel", "cover"])],
        "incomplete installation" => &[Way::NotTightened, Way::NotRejoined],
        "incorrect assembly or location" => &[Way::SwappedFasteners, Way::SwappedEnds],
        "material left in the machine" => &[Way::Inside(&[Rag, Cover, Tool])],
        "wrong part installed" => &[Way::OtherPart],
        "part not installed" => &[Way::PartOff(&["pump", "bracket", "cover"])],
        "panel or system not closed" => &[Way::NotFixed],
        "required service not performed" => &[Way::NotBled, Way::NotFilled, Way::NotRetightened],
        "system not made safe before maintenance" => &[Way::NotMadeSafe],
        "system not reactivated" => &[Way::NotRestored],
        "pin or tie left in place" => &[Way::Inside(&[LockingPin])],
        _ => return None,
    })
}

/// Picks a thing of the job on which to commit it, and says what the audit must
/// find; none when this job has no such thing.
fn commit(dice: &mut Dice, job: &Job, way: Way) -> Option<(Omit, Vec<(Rule, Target)>)> {
    fn any<T: Copy>(dice: &mut Dice, from: impl Iterator<Item = T>) -> Option<T> {
        let all: Vec<T> = from.collect();
        dice.pick(&all).copied()
    }
    let fixing = |dice: &mut Dice, fits: &dyn Fn(&Fixing) -> bool| {
        any(
            dice,
            job.fixings
                .iter()
                .filter(|(_, f)| fits(f))
                .map(|(id, _)| id),
        )
    };
    let open = |f: &Fixing| f.count_where(|p| p.state == PlaceState::Open);
    let parted = |dice: &mut Dice| {
        any(
            dice,
            job.ends()
                .filter(|(_, _, e)| e.state == EndState::Parted)
                .map(|(id, _, _)| id),
        )
    };
    let only = |omit, rule, on| Some((omit, vec![(rule, on)]));
    match way {
        Way::OneFastener => {
            let id = fixing(dice, &|f| open(f) > 1)?;
            only(
                Omit::OneFastener(id),
                Rule::StartFasteners,
                Target::Fixing(id),
            )
        }
        Way::NotTightened => {
            let id = fixing(dice, &|f| open(f) > 0 && !f.seats_only())?;
            only(Omit::Tighten(id), Rule::Tighten, Target::Fixing(id))
        }
        Way::StageMissing => {
            let id = fixing(dice, &|f| f.detail.stages.len() > 1)?;
            only(Omit::LastStage(id), Rule::Tighten, Target::Fixing(id))
        }
        Way::Inside(kinds) => {
            let id = any(
                dice,
                job.insides
                    .iter()
                    .filter(|(_, i)| kinds.contains(&i.put.kind))
                    .map(|(id, _)| id),
            )?;
            only(Omit::TakeOut(id), Rule::TakeOut, Target::Inside(id))
        }
        Way::PartOff(names) => {
            let id = any(
                dice,
                job.parts
                    .iter()
                    .filter(|(_, p)| names.iter().any(|n| p.name.starts_with(n)))
                    // Not one that goes back of itself with what carries it.
                    .filter(|(_, p)| p.carried_by.is_none() || !p.fixings.is_empty())
                    .map(|(id, _)| id),
            )?;
            only(Omit::Place(id), Rule::PlacePart, Target::Part(id))
        }
        Way::NotFilled => {
            let id = any(dice, job.fluids.ids())?;
            only(Omit::Fill(id), Rule::Fill, Target::Fluid(id))
        }
        Way::NotBled => {
            let id = any(
                dice,
                job.fluids.iter().filter(|(_, f)| f.bleed).map(|(id, _)| id),
            )?;
            only(Omit::Bleed(id), Rule::Bleed, Target::Fluid(id))
        }
        Way::NotRejoined => {
            let id = parted(dice)?;
            only(Omit::Rejoin(id), Rule::Rejoin, Target::End(id))
        }
        Way::NotSecured => {
            let id = parted(dice)?;
            only(Omit::Secure(id), Rule::Secure, Target::End(id))
        }
        Way::WasherMissing => {
            let id = fixing(dice, &|f| !f.extras.is_empty() && open(f) > 0)?;
            only(Omit::Extras(id), Rule::FitExtra, Target::Fixing(id))
        }
        Way::NotRenewed => {
            let id = any(
                dice,
                job.items
                    .iter()
                    .filter(|(_, i)| i.kind == ItemKind::CrushWasher)
                    .map(|(id, _)| id),
            )?;
            only(Omit::Renew(id), Rule::Renew, Target::Item(id))
        }
        Way::OneOver => {
            let id = fixing(dice, &|f| f.reuse == Reuse::Renew)?;
            let wants = job.fixings.get(id)?.wants;
            only(Omit::OneOver(id), Rule::LeftOver, Target::Line(wants))
        }
        Way::NotApplied => {
            let id = any(dice, job.treatments.ids())?;
            only(Omit::Apply(id), Rule::Apply, Target::Treatment(id))
        }
        Way::NotFixed => {
            let id = fixing(dice, &|f| open(f) > 0 && !f.parts.is_empty())?;
            only(
                Omit::AllFasteners(id),
                Rule::StartFasteners,
                Target::Fixing(id),
            )
        }
        Way::SwappedFasteners => {
            let fits = |f: &Fixing| {
                f.reuse == Reuse::Reuse
                    && f.places
                        .first()
                        .is_some_and(|p| p.state == PlaceState::Open)
                    && !f.seats_only()
            };
            let a = fixing(dice, &fits)?;
            let of_a = job.fixings.get(a)?.spec.clone();
            let b = fixing(dice, &|f| fits(f) && !f.spec.same_kind(&of_a))?;
            Some((
                Omit::SwapFasteners(a, b),
                vec![
                    (Rule::WrongThing, Target::Fixing(a)),
                    (Rule::WrongThing, Target::Fixing(b)),
                ],
            ))
        }
        Way::SwappedEnds => {
            let a = parted(dice)?;
            let b = parted(dice).filter(|b| b.connection != a.connection)?;
            Some((
                Omit::SwapEnds(a, b),
                vec![
                    (Rule::WrongEnd, Target::End(a)),
                    (Rule::WrongEnd, Target::End(b)),
                ],
            ))
        }
        Way::OtherPart => {
            let id = any(dice, job.parts.ids())?;
            only(Omit::OtherPart(id), Rule::OtherPart, Target::Part(id))
        }
        Way::NotRetightened => {
            let id = any(dice, job.after_runs.ids())?;
            only(Omit::AfterRun(id), Rule::AfterRun, Target::AfterRun(id))
        }
        Way::NotMadeSafe => {
            let unconfirmed = |(_, s): &(StepId, &Step)| s.confirmed.is_none();
            let id = job.steps.iter().find(unconfirmed).map(|(id, _)| id)?;
            only(Omit::Nothing, Rule::MakeSafe, Target::Step(id))
        }
        Way::NotRestored => {
            let id = any(dice, job.supplies.ids())?;
            only(Omit::Restore(id), Rule::Restore, Target::Supply(id))
        }
    }
}

/// A job of 20 to 80 parts, taken apart.
fn apart(dice: &mut Dice, made_safe: bool) -> Bench {
    let parts = dice.from_to(20, 80);
    strip(
        dice,
        Draw {
            parts,
            made_safe,
            late: false,
            ways: false,
        },
    )
}

fn refit(bench: &mut Bench, dice: &mut Dice, omit: Omit) {
    Refit {
        bench,
        dice,
        omit,
        fine: false,
        circles: 0,
    }
    .run();
}

/// Stays owed for no other reason than the one omission: what hangs on a part
/// that is off or on a joint that is open, or lies behind it.
fn follows(job: &Job, omit: Omit, owed: &Owed) -> bool {
    if owed.rule != Rule::Buried {
        return follows_by(job, omit, owed.rule, owed.on);
    }
    // What was left undone is behind what is back, or what it hangs on is.
    let undone = left_undone(job, omit);
    undone
        .iter()
        .any(|&on| with_all(job, on).contains(&owed.on))
}

/// The things on which the omission was committed, and those that cannot be
/// finished for it.
fn left_undone(job: &Job, omit: Omit) -> Vec<Target> {
    match omit {
        Omit::Place(id) => {
            let part = job.parts.get(id).unwrap();
            let fixings = part.fixings.iter().map(|&f| Target::Fixing(f));
            let ends = part.ends.iter().map(|&e| Target::End(e));
            fixings.chain(ends).chain([Target::Part(id)]).collect()
        }
        Omit::OneFastener(id)
        | Omit::AllFasteners(id)
        | Omit::Tighten(id)
        | Omit::LastStage(id)
        | Omit::Extras(id) => vec![Target::Fixing(id)],
        Omit::SwapFasteners(a, b) => vec![Target::Fixing(a), Target::Fixing(b)],
        Omit::Renew(id) => vec![Target::Item(id)],
        Omit::Apply(id) => vec![Target::Treatment(id)],
        Omit::Rejoin(id) | Omit::Secure(id) => vec![Target::End(id)],
        Omit::SwapEnds(a, b) => vec![Target::End(a), Target::End(b)],
        Omit::TakeOut(id) => vec![Target::Inside(id)],
        _ => Vec::new(),
    }
}

/// A thing and what it hangs on, up to the parts; and what hangs on it.
fn with_all(job: &Job, on: Target) -> Vec<Target> {
    let mut all = vec![on];
    let items = job.items.iter().filter(|(_, it)| it.on == on);
    all.extend(items.map(|(id, _)| Target::Item(id)));
    let treated = job.treatments.iter();
    let treated = treated.filter(|(_, it)| it.treatment.on == on);
    all.extend(treated.map(|(id, _)| Target::Treatment(id)));
    match on {
        Target::Item(id) => all.extend(with_all(job, job.items.get(id).unwrap().on)),
        Target::Treatment(id) => {
            all.extend(with_all(job, job.treatments.get(id).unwrap().treatment.on));
        }
        Target::Fixing(id) => {
            let parts = &job.fixings.get(id).unwrap().parts;
            all.extend(parts.iter().map(|&p| Target::Part(p)));
        }
        Target::End(id) => {
            all.push(Target::Connection(id.connection));
            all.extend(job.end(id).and_then(|e| e.end.on).map(Target::Part));
        }
        Target::Inside(id) => {
            let opening = job.insides.get(id).and_then(|i| i.put.opening);
            all.extend(opening.map(Target::Opening));
        }
        _ => {}
    }
    all
}

/// Whether a line of that rule on that thing comes of the omission alone.
fn follows_by(job: &Job, omit: Omit, rule: Rule, on: Target) -> bool {
    use Rule::{Apply, FinalTooEarly, FitExtra, Rejoin, Renew, StartFasteners, Tighten};
    // What the thing hangs on: its fixing, its end, its part.
    let of = match on {
        Target::Item(id) => job.items.get(id).map(|it| it.on),
        Target::Treatment(id) => job.treatments.get(id).map(|it| it.treatment.on),
        _ => None,
    };
    match omit {
        // All that goes on it, and through it.
        Omit::Place(part) => {
            let with = |on: Target| match on {
                Target::Part(id) => id == part,
                Target::Fixing(id) => {
                    let it = job.fixings.get(id);
                    it.is_some_and(|f| f.parts.contains(&part))
                }
                Target::End(id) => job.end(id).is_some_and(|e| e.end.on == Some(part)),
                _ => false,
            };
            match rule {
                StartFasteners | Tighten | FitExtra | Rejoin => with(on),
                // What only clips in is as fast as it gets.
                FinalTooEarly => with(on),
                Renew | Apply => of.is_some_and(with),
                _ => false,
            }
        }
        Omit::Rejoin(end) => rule == Renew && of == Some(Target::End(end)),
        Omit::AllFasteners(id) => match rule {
            FitExtra | Tighten => on == Target::Fixing(id),
            Renew | Apply => of == Some(Target::Fixing(id)),
            _ => false,
        },
        // They are in by hand: the one that is wrong, and perhaps the last.
        Omit::SwapFasteners(a, b) => {
            rule == Tighten && (on == Target::Fixing(a) || on == Target::Fixing(b))
        }
        _ => false,
    }
}

/// How many are wrong, where it is known how many were left.
fn how_many(omit: Omit) -> Option<u32> {
    matches!(
        omit,
        Omit::OneFastener(_)
            | Omit::TakeOut(_)
            | Omit::SwapFasteners(..)
            | Omit::OneOver(_)
            | Omit::Rejoin(_)
            | Omit::Secure(_)
            | Omit::Place(_)
    )
    .then_some(1)
}

fn one_job(kind: &str, way: Way, seed: u64) -> bool {
    let mut dice = Dice::new(seed);
    let mut bench = apart(&mut dice, !matches!(way, Way::NotMadeSafe));
    let Some((omit, wanted)) = commit(&mut dice, bench.job(), way) else {
        return false;
    };
    refit(&mut bench, &mut dice, omit);
    let audit = bench.audit();
    let said = format!("{kind}, {way:?}, seed {seed}: {omit:?}");
    for (rule, on) in &wanted {
        let it = |o: &&Owed| o.rule == *rule && o.on == *on;
        let found: Vec<&Owed> = audit.open.iter().filter(it).collect();
        let [found] = found.as_slice() else {
            panic!("{said} not found once: {:?}", audit.open)
        };
        if let Some(n) = how_many(omit) {
            assert_eq!(found.n, n, "{said}");
        }
        let named = found.places.len() as u32;
        assert!(named == 0 || named == found.n, "{said}: {found:?}");
    }
    // It is named, and not drowned in what has nothing to do with it.
    for line in &audit.open {
        let it = wanted.contains(&(line.rule, line.on));
        assert!(
            it || follows(bench.job(), omit, line),
            "{said} but also {line:?}"
        );
    }
    match way {
        Way::Inside(_) => {
            let Verdict::DoNotTurn { inside } = &audit.verdict else {
                panic!("{said}: {:?}", audit.verdict)
            };
            assert_eq!(inside.as_slice(), [wanted[0].1]);
        }
        Way::NotFilled | Way::NotBled | Way::NotRestored => {
            let Verdict::DoNotStart { missing } = &audit.verdict else {
                panic!("{said}: {:?}", audit.verdict)
            };
            assert_eq!(missing.as_slice(), [wanted[0].1]);
        }
        Way::NotRetightened => assert_eq!(audit.verdict, Verdict::RunThenCheck { n: 1 }),
        _ => assert!(
            matches!(audit.verdict, Verdict::Owed { .. }),
            "{said}: {:?}",
            audit.verdict
        ),
    }
    true
}

fn kinds() -> Vec<String> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../reference/omissions.csv");
    let mut rows = csv::Reader::from_path(path).unwrap();
    rows.records()
        .map(|row| row.unwrap()[1].to_owned())
        .collect()
}

#[test]
fn every_published_kind_of_omission_is_found_every_time() {
    let kinds = kinds();
    assert!(kinds.len() >= 18, "{}", kinds.len());
    // Shared among two hands.
    std::thread::scope(|scope| {
        for half in 0..2 {
            let kinds = &kinds;
            scope.spawn(move || {
                for (row, kind) in kinds.iter().enumerate().skip(half).step_by(2) {
                    let ways = ways(kind).unwrap_or_else(|| panic!("no jobs for: {kind}"));
                    let mut jobs = 0;
                    let mut seed = 1_000_000 * row as u64;
                    while jobs < JOBS {
                        seed += 1;
                        jobs += usize::from(one_job(kind, ways[jobs % ways.len()], seed));
                    }
                }
            });
        }
    });
}

#[test]
fn complete_jobs_raise_nothing() {
    std::thread::scope(|scope| {
        for half in 0..2 {
            scope.spawn(move || {
                for seed in (half..COMPLETE).step_by(2) {
                    let mut dice = Dice::new(seed);
                    let mut bench = apart(&mut dice, true);
                    refit(&mut bench, &mut dice, Omit::Nothing);
                    let audit = bench.audit();
                    assert_eq!(audit.open, vec![], "seed {seed}");
                    assert_eq!(audit.verdict, Verdict::Complete, "seed {seed}");
                }
            });
        }
    });
}
