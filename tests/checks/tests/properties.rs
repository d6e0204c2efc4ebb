//! What holds whatever is tapped, in whatever order, on however many phones.
use std::collections::{BTreeMap, BTreeSet};

use countback_checks::any_act::any_event;
use countback_checks::any_command::any_command;
use countback_checks::bench::{Bench, HOUR, MINUTE};
use countback_checks::dice::Dice;
use countback_checks::kinds::{self, ACTS, COMMANDS, REFUSALS, RULES};
use countback_checks::plain_audit::{answers_for, plain_audit};
use countback_checks::refit::{Omit, Refit};
use countback_checks::ways_on::{ACCEPTED_ONLY, ways_on};
use countback_checks::whole_job::{Draw, strip};
use countback_core::access;
use countback_core::audit::{Owed, Rule, Verdict, audit};
use countback_core::job::*;
use countback_core::journal::*;
use proptest::prelude::*;

/// A bench on which these commands were given; refused ones change nothing.
fn bench_of(seeds: &[u64]) -> Bench {
    let mut bench = Bench::default();
    work(&mut bench, seeds);
    bench
}

fn work(bench: &mut Bench, seeds: &[u64]) {
    for &seed in seeds {
        let command = any_command(bench, seed);
        let _ = bench.tell(command);
    }
}

fn seeds(most: usize) -> impl Strategy<Value = Vec<u64>> {
    proptest::collection::vec(any::<u64>(), 0..most)
}

fn balanced(job: &Job) -> Result<(), TestCaseError> {
    for (id, line) in job.lines.iter() {
        prop_assert!(line.balances(), "{id:?} {line:?}");
    }
    // What a fixing's places hold is what its account says.
    for (id, fixing) in job.fixings.iter() {
        let held = fixing.places.iter().filter(|p| p.holds.is_some()).count() as u32;
        let there: u32 = job
            .lines
            .iter()
            .filter(|(_, l)| !matches!(l.thing, countback_core::ledger::Thing::Extra(_)))
            .map(|(_, l)| l.count(Account::Fixing(id)))
            .sum();
        prop_assert_eq!(held, there, "{:?}", id);
        // No more of its washers are on it than its places take.
        for (line, extra) in &fixing.extras {
            let most = fixing.wanted() as u32 * u32::from(extra.per_place);
            let on_it = job
                .lines
                .get(*line)
                .map_or(0, |l| l.count(Account::Fixing(id)));
            prop_assert!(on_it <= most, "{:?} has {} of {}", id, on_it, most);
        }
    }
    // One-use items said to be in, new or old, are there by the count too.
    for (id, item) in job.items.iter() {
        let there = job
            .lines
            .get(item.line)
            .map_or(0, |l| l.count(Account::Item(id)));
        prop_assert_eq!(there, u32::from(item.renewed + item.old_in), "{:?}", id);
    }
    // A part is in its place exactly when it is placed.
    for (id, part) in job.parts.iter() {
        let here = job
            .lines
            .get(LineId(id.0))
            .map_or(0, |l| l.count(Account::Part(id)));
        prop_assert_eq!(here == 1, part.state == PartState::Placed, "{:?}", id);
    }
    Ok(())
}

fn outlook(job: &Job, now: i64) {
    let _ = audit(job, now);
    // The audit looks for circles only where there can be one.
    let circle = access::circle(job, &access::Under::of(job));
    assert_eq!(circle, access::back(job).circle);
    let _ = job.to_buy();
    for id in job.parts.ids() {
        let _ = access::buried_by(job, id);
    }
}

/// Settles line after line by what may be done about each; what only can be
/// accepted is, once nothing else is left. Gives what nothing settles.
fn settle(bench: &mut Bench) -> Vec<(Owed, Vec<Refusal>)> {
    let mut waited = false;
    for _ in 0..400 {
        let open = bench.audit().open;
        let mut refused = Vec::new();
        let mut done = false;
        for owed in &open {
            let last = ACCEPTED_ONLY.contains(&owed.rule) || owed.rule == Rule::Buried;
            let mut why = Vec::new();
            // Accepted once the hand has nothing more to do about anything.
            if last && !waited {
                refused.push((owed.clone(), why));
                continue;
            }
            for way in ways_on(bench.job(), owed) {
                bench.ctx.by = match way {
                    Command::Check { .. } => "Cyd",
                    _ => "Ann",
                }
                .to_owned();
                match bench.tell(way) {
                    Ok(_) => done = true,
                    Err(refusal) => why.push(refusal),
                }
                if done {
                    break;
                }
            }
            refused.push((owed.clone(), why));
            if done {
                break;
            }
        }
        if open.is_empty() {
            return Vec::new();
        }
        if done {
            waited = false;
            continue;
        }
        if waited {
            return refused;
        }
        // What hardens has hardened.
        bench.ctx.now += 48 * HOUR;
        waited = true;
    }
    bench
        .audit()
        .open
        .into_iter()
        .map(|o| (o, Vec::new()))
        .collect()
}

/// As many cases as a run of all checks has time for; more where asked.
fn cases() -> ProptestConfig {
    let asked = std::env::var("PROPTEST_CASES")
        .ok()
        .and_then(|n| n.parse().ok());
    ProptestConfig {
        cases: asked.unwrap_or(300),
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

proptest! {
    #![proptest_config(cases())]

    #[test]
    fn the_ledger_balances_after_every_command(seeds in seeds(120)) {
        let mut bench = Bench::default();
        for seed in seeds {
            let command = any_command(&mut bench, seed);
            let said = format!("{command:?}");
            if bench.tell(command).is_ok() {
                prop_assert_eq!(&bench.job().misfits, &vec![], "after {}", said);
                prop_assert_eq!(&bench.job().said_twice, &vec![], "after {}", said);
            }
            balanced(bench.job())?;
        }
        outlook(bench.job(), bench.ctx.now);
    }

    #[test]
    fn folding_in_pieces_equals_folding_at_once(seeds in seeds(120), cuts in proptest::collection::vec(1_usize..9, 1..200)) {
        let bench = bench_of(&seeds);
        let journal = bench.book.journal().clone();
        prop_assert_eq!(&Book::open(journal.clone()), &bench.book);
        let mut pieces = Book::default();
        let mut events: Vec<Event> = journal.iter().cloned().collect();
        let mut cuts = cuts.into_iter().cycle();
        while !events.is_empty() {
            let n = cuts.next().unwrap_or(1).min(events.len());
            let rest = events.split_off(n);
            pieces.append(events);
            events = rest;
        }
        prop_assert_eq!(&pieces, &bench.book);
    }

    #[test]
    fn the_start_of_a_journal_is_a_journal(seeds in seeds(60)) {
        let bench = bench_of(&seeds);
        let events: Vec<Event> = bench.book.journal().iter().cloned().collect();
        for n in 0..=events.len() {
            let book = Book::open(Journal::new(events[..n].iter().cloned()));
            balanced(book.job())?;
            outlook(book.job(), bench.ctx.now);
        }
    }

    #[test]
    fn a_struck_tap_was_never_made(seeds in seeds(80), pick in any::<prop::sample::Index>()) {
        let mut bench = bench_of(&seeds);
        let events: Vec<Event> = bench.book.journal().iter().cloned().collect();
        let event = events[pick.index(events.len())].id;
        match bench.tell(Command::Strike { event }) {
            Ok(strike) => {
                let with = events.iter().find(|e| e.id == event).map(|e| e.with);
                let without = bench.book.journal().iter().filter(|e| Some(e.with) != with && e.id != strike[0].id);
                let never = Book::open(Journal::new(without.cloned()));
                prop_assert_eq!(never.job(), bench.job());
                prop_assert_eq!(&bench.job().misfits, &vec![]);
            }
            Err(Refusal::BuiltOn { by, .. }) => prop_assert!(!by.is_empty()),
            Err(Refusal::CannotStrike { .. } | Refusal::StruckAlready { .. }) => {}
            Err(Refusal::SignedOff) => prop_assert!(bench.job().is_signed()),
            Err(other) => prop_assert!(false, "{:?}", other),
        }
    }

    #[test]
    fn merging_is_a_union(first in seeds(40), a in seeds(40), b in seeds(40), c in seeds(40)) {
        let start = bench_of(&first);
        let on = |device, seeds: &[u64]| {
            let mut bench = start.clone();
            bench.ctx.device = DeviceId(device);
                work(&mut bench, seeds);
            bench.book
        };
        let (a, b, c) = (on(2, &a), on(3, &b), on(4, &c));
        let merged = |one: &Book, two: &Book| {
            let mut one = one.clone();
            prop_assert!(one.merge(two.journal()).is_ok());
            Ok(one)
        };
        let ab = merged(&a, &b)?;
        prop_assert_eq!(&ab, &merged(&b, &a)?, "commutative");
        prop_assert_eq!(&merged(&ab, &c)?, &merged(&a, &merged(&b, &c)?)?, "associative");
        prop_assert_eq!(&merged(&a, &a)?, &a, "idempotent");
        prop_assert_eq!(&merged(&ab, &b)?, &ab, "idempotent");
        let all = merged(&ab, &c)?;
        balanced(all.job())?;
        outlook(all.job(), 0);
        // Every misfit is owed an answer.
        let open = audit(all.job(), 0).open;
        let misfits = open.iter().filter(|o| o.rule == Rule::Misfit).count();
        prop_assert_eq!(misfits, all.job().misfits.len());
    }

    /// Each phone strikes what the other may have built on: every strike stands,
    /// what stands of both is folded or is owed an answer, and there is a way on.
    #[test]
    fn strikes_on_one_phone_meet_what_the_other_built_on_them(first in seeds(60), a in seeds(40), b in seeds(40), picks in proptest::collection::vec(any::<prop::sample::Index>(), 1..6)) {
        let start = bench_of(&first);
        let shared: Vec<EventId> = start.book.journal().iter().map(|e| e.id).collect();
        let on = |device, seeds: &[u64], strikes: bool| {
            let mut bench = start.clone();
            bench.ctx.device = DeviceId(device);
            // One strikes before it goes on, the other goes on all the while.
            for pick in picks.iter().filter(|_| strikes) {
                let event = shared[pick.index(shared.len())];
                let _ = bench.tell(Command::Strike { event });
            }
            work(&mut bench, seeds);
            bench
        };
        let (a, b) = (on(2, &a, true), on(3, &b, false));
        let mut both = a.clone();
        prop_assert!(both.book.merge(b.book.journal()).is_ok());
        both.ctx.now = both.ctx.now.max(b.ctx.now);
        let job = both.job();
        balanced(job)?;
        let struck = both.book.journal().struck();
        for event in both.book.journal().iter() {
            let by_one = [&a, &b].into_iter().any(|one| {
                one.book.journal().get(event.id).is_some_and(|e| one.book.is_struck(e))
            });
            prop_assert_eq!(both.book.is_struck(event), by_one, "{:?}", event);
        }
        let mut answered = job.misfits.iter().chain(&job.said_twice);
        prop_assert!(answered.all(|m| both.book.journal().get(m.event).is_some_and(|e| !struck.contains(&e.with))));
        if both.job().is_signed() {
            both.ok(Command::Reopen { reason: "the other phone".to_owned() });
        }
        let misfits = both.job().misfits.clone();
        let left = settle(&mut both);
        prop_assert!(left.is_empty(), "{:?}", left);
        prop_assert_eq!(&both.job().misfits, &misfits, "none is added by going on");
        both.ok(Command::SignOff);
    }

    #[test]
    fn acts_from_anywhere_are_folded_without_a_panic(acts in proptest::collection::vec(any_event(), 0..40), seeds in seeds(30)) {
        let bench = bench_of(&seeds);
        let mut events: Vec<Event> = bench.book.journal().iter().cloned().collect();
        let known: Vec<Event> = acts
            .iter()
            .enumerate()
            .map(|(n, e)| Event { id: EventId::new(500 + n as u32, DeviceId(9)), with: EventId::new(500 + n as u32, DeviceId(9)), ..e.clone() })
            .collect();
        events.extend(acts);
        events.extend(known);
        let book = Book::open(Journal::new(events));
        balanced(book.job())?;
        outlook(book.job(), i64::MAX);
        outlook(book.job(), i64::MIN);
    }

    #[test]
    fn the_second_audit_agrees(seeds in seeds(90), later in 0_i64..3_000) {
        let bench = bench_of(&seeds);
        let now = bench.ctx.now + later * MINUTE;
        let events: Vec<Event> = bench.book.journal().iter().cloned().collect();
        outlook(bench.job(), now);
        let audit = audit(bench.job(), now);
        let core: BTreeSet<(Rule, Target)> = audit
            .open
            .iter()
            .chain(audit.excepted.iter().map(|(owed, _)| owed))
            .map(|o| (o.rule, o.on))
            .filter(|(rule, _)| answers_for(*rule))
            .collect();
        // Nothing of which a line is open is taken for settled on the way back.
        for owed in &audit.open {
            let own = matches!(owed.on, Target::Fixing(_) | Target::End(_) | Target::Item(_));
            if own && owed.rule != Rule::Buried {
                prop_assert!(!access::settled(bench.job(), owed.on), "{:?}", owed);
            }
        }
        let plain = plain_audit(&events, now);
        let only_core: Vec<_> = core.difference(&plain).collect();
        let only_plain: Vec<_> = plain.difference(&core).collect();
        prop_assert!(only_core.is_empty() && only_plain.is_empty(), "core {:?} plain {:?}", only_core, only_plain);
    }

    #[test]
    fn any_order_that_access_allows_ends_in_an_empty_audit(seed in any::<u64>(), parts in 1_usize..25, late in any::<bool>(), ways in any::<bool>()) {
        let mut dice = Dice::new(seed);
        let mut bench = strip(&mut dice, Draw { parts, made_safe: true, late, ways });
        // Only what was remembered late, and wrongly, can close a circle, and
        // the audit names it.
        let circle = access::back(bench.job()).circle;
        prop_assert!(late || circle.is_empty());
        prop_assert_eq!(bench.audit().has(Rule::Circle), !circle.is_empty());
        let mut refit = Refit { bench: &mut bench, dice: &mut dice, omit: Omit::Nothing, fine: true, circles: 0 };
        refit.run();
        // A record in the order of the work never contradicts itself.
        prop_assert!(late || refit.circles == 0);
        let audit = bench.audit();
        prop_assert_eq!(&audit.open, &vec![]);
        prop_assert_eq!(audit.verdict, Verdict::Complete);
        prop_assert_eq!(&bench.job().misfits, &vec![]);
    }
}

/// Jobs in which a part's own fixing, or one that clamps it to its cover, once
/// counted as shutting the way to it, so that each waited for the other. In the
/// last of them what was remembered wrongly came to close a circle only with a
/// hose that was logged afterwards.
#[test]
fn records_that_once_went_round_do_not() {
    for (seed, parts, late, ways) in [
        (17_495_710_869_905_564_754, 5, false, true),
        (12_349_833_641_226_472_687, 12, false, true),
        (11_320_393_478_714_157_516, 18, false, true),
        (7_291_434_354_899_942_296, 17, false, true),
        (4_867_022_222_337_106_903, 20, false, true),
        (11_713_739_913_087_370_740, 21, false, true),
        (2_232_967_110_497_111_110, 23, false, true),
        (2_424_344_174_486_534_598, 23, false, true),
        (14_861_480_605_752_200_447, 9, true, false),
    ] {
        let mut dice = Dice::new(seed);
        let mut bench = strip(
            &mut dice,
            Draw {
                parts,
                made_safe: true,
                late,
                ways,
            },
        );
        let circle = access::back(bench.job()).circle;
        assert_eq!(circle.is_empty(), !late, "seed {seed}");
        assert_eq!(bench.audit().has(Rule::Circle), late, "seed {seed}");
        let mut refit = Refit {
            bench: &mut bench,
            dice: &mut dice,
            omit: Omit::Nothing,
            fine: true,
            circles: 0,
        };
        refit.run();
        assert!(late || refit.circles == 0, "seed {seed}");
        assert_eq!(bench.audit().verdict, Verdict::Complete);
    }
}

/// The commands drawn above are worth something: every act comes of them, each
/// command is taken, each refusal met and each rule owed, but for those named.
#[test]
fn the_commands_drawn_reach_everything() {
    const OFTEN: u32 = 5;
    let [mut acts, mut commands, mut refusals, mut rules] =
        [ACTS, COMMANDS, REFUSALS, RULES].map(|all| {
            all.iter()
                .map(|&it| (it, 0_u32))
                .collect::<BTreeMap<_, _>>()
        });
    let count = |of: &mut BTreeMap<&str, u32>, it| *of.entry(it).or_default() += 1;
    for seed in 0..2_000_u64 {
        let mut dice = Dice::new(seed);
        let mut bench = Bench::default();
        for n in 1..=100 {
            let command = any_command(&mut bench, dice.draw());
            let kind = kinds::command(&command);
            match bench.tell(command) {
                Ok(_) => count(&mut commands, kind),
                Err(refusal) => count(&mut refusals, kinds::refusal(&refusal)),
            }
            if n % 10 == 0 {
                let audit = bench.audit();
                let excepted = audit.excepted.iter().map(|(owed, _)| owed);
                for owed in audit.open.iter().chain(excepted) {
                    count(&mut rules, kinds::rule(&owed.rule));
                }
            }
        }
        for event in bench.book.journal().iter() {
            count(&mut acts, kinds::act(&event.act));
        }
    }
    let seldom = |of: BTreeMap<&'static str, u32>| -> Vec<(&str, u32)> {
        of.into_iter().filter(|&(_, n)| n < OFTEN).collect()
    };
    assert_eq!(seldom(acts), []);
    // A job is opened before the first is drawn.
    assert_eq!(seldom(commands), [("Open", 0)]);
    assert_eq!(
        seldom(refusals),
        [
            // It is open before the first is drawn.
            ("NotOpen", 0),
            // A part is taken off with what still holds it: only the fold of
            // what two phones say meets it.
            ("StillFastened", 0),
        ]
    );
    assert_eq!(
        seldom(rules),
        [
            // What contradicts itself is refused on one phone.
            ("Circle", 0),
            ("Misfit", 0),
            ("SaidTwice", 0),
            // The ledger balances.
            ("Unbalanced", 0),
        ]
    );
}

/// Whatever was tapped, each line of the audit has something that may be done
/// about it, and with all done the job is complete.
#[test]
fn every_line_has_a_way_on() {
    let mut stuck: BTreeMap<String, (u32, u64)> = BTreeMap::new();
    for seed in 0..1_500_u64 {
        let mut dice = Dice::new(seed);
        let many = dice.below(90);
        let seeds: Vec<u64> = (0..many).map(|_| dice.draw()).collect();
        let mut bench = bench_of(&seeds);
        if bench.job().is_signed() {
            bench.ok(Command::Reopen {
                reason: "once more".to_owned(),
            });
        }
        let left = settle(&mut bench);
        if left.is_empty() {
            assert_eq!(bench.job().misfits, [], "seed {seed}");
            balanced(bench.job()).unwrap_or_else(|e| panic!("seed {seed}: {e}"));
            bench.ok(Command::SignOff);
        }
        for (owed, why) in left {
            let why: Vec<&str> = why.iter().map(kinds::refusal).collect();
            let e = stuck
                .entry(format!("{:?} {why:?}", owed.rule))
                .or_insert((0, seed));
            e.0 += 1;
        }
    }
    assert_eq!(stuck, BTreeMap::new());
}
