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
    if matches!(omit, Omit::Place(_)) || owed.rule == Rule::Buried {
        return true;
    }
    let (items, treatments) = match omit {
        Omit::Rejoin(end) => (job.end(end).map(|e| e.items.clone()), None),
        Omit::AllFasteners(id) => {
            let fixing = job.fixings.get(id);
            if owed.on == Target::Fixing(id) {
                return matches!(owed.rule, Rule::FitExtra | Rule::Tighten);
            }
            (
                fixing.map(|f| f.items.clone()),
                fixing.map(|f| f.treatments.clone()),
            )
        }
        // They are in by hand: the one that is wrong, and perhaps the last.
        Omit::SwapFasteners(a, b) => {
            let on = owed.on == Target::Fixing(a) || owed.on == Target::Fixing(b);
            return on && owed.rule == Rule::Tighten;
        }
        _ => return false,
    };
    match owed.on {
        Target::Item(id) => items.is_some_and(|it| it.contains(&id)),
        Target::Treatment(id) => treatments.is_some_and(|it| it.contains(&id)),
        _ => false,
    }
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
        assert!(
            audit.open.iter().any(|o| o.rule == *rule && o.on == *on),
            "{said} not found: {:?}",
            audit.open
        );
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
