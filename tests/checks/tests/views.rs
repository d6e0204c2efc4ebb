//! Every page can be drawn of any job, whatever was tapped or came in from
//! elsewhere; and pages that speak of the same say the same.
use std::collections::BTreeSet;

use countback_checks::any_act::any_event;
use countback_checks::any_command::any_command;
use countback_checks::bench::{Bench, HOUR};
use countback_checks::dice::Dice;
use countback_core::access::{AtWork, Goal};
use countback_core::audit::audit;
use countback_core::codec::{decode, encode};
use countback_core::find::{Index, JobKey};
use countback_core::guard::{Break, BrokenOff};
use countback_core::job::*;
use countback_core::jobfile::{open, pack_list};
use countback_core::journal::*;
use countback_core::permit::Ask;
use countback_core::procedure::{procedure_from_job, procedure_from_json, procedure_to_json};
use countback_core::view::{self, At, Tools};
use countback_core::words::Style;
use proptest::prelude::*;

/// Jobs drawn by commands, of up to so many each.
const JOBS: u64 = 200;
const MOST: usize = 90;

fn drawn(seed: u64) -> Bench {
    let mut dice = Dice::new(seed);
    let mut bench = Bench::default();
    for _ in 0..dice.below(MOST) {
        let command = any_command(&mut bench, dice.draw());
        let _ = bench.tell(command);
    }
    bench
}

fn at(now: i64) -> At {
    At {
        now,
        open_since: 0,
        style: Style::default(),
    }
}

/// Draws every page there is, once for each thing it can be about.
fn every_page(book: &Book, other: &Job, at: At) {
    let job = book.job();
    let work = AtWork::told_by("Ann", [book]);
    let tools = Tools::default();
    let _ = view::job_page(book, at);
    let _ = view::job_rest(book, at);
    let _ = view::put_back_page(book, at, &work);
    let _ = view::picture_page(book, at);
    let _ = view::sign_off_page(book, at);
    let _ = view::handover_page(book, at);
    let _ = view::due_page(book, at);
    let _ = view::to_buy_page(book, at);
    let _ = view::log(book, at, usize::MAX);
    let _ = view::permits(book, at);
    let _ = view::again_rows(book, None);
    let _ = view::people(book);
    let _ = view::strays(job);
    let _ = view::containers(job);
    let _ = view::lines_short(book);
    let _ = view::openings(book);
    let _ = view::chips(book, &[other]);
    let _ = view::earlier_groups(book, &[("other", other)]);
    for ask in [Ask::Turn, Ask::Crank, Ask::Fill] {
        let _ = view::missing(book, ask, None, at);
    }
    for kind in [MeterKind::Kilometres, MeterKind::Hours] {
        let _ = view::meter_ask(book, kind, at);
    }
    for row in view::way_in_page(book, at).iter().flat_map(|g| &g.rows) {
        assert!(view::way_answer(book, row.goal, false, &work).is_some());
        assert!(view::way_answer(book, row.goal, true, &work).is_some());
    }
    for id in job.parts.ids() {
        assert!(view::part_page(book, id, at).is_some());
        assert!(view::add_page(book, &[other], id, DeviceId(1)).is_some());
        let _ = view::hides(book, id, &work);
        let _ = view::again_rows(book, Some(id));
        let _ = view::way_answer_earlier(book, Goal::Thing(Target::Part(id)), false, &work);
    }
    for id in job.fixings.ids() {
        assert!(view::fixing_page(book, id, at).is_some());
        assert!(view::tighten_page(book, id, &tools, at).is_some());
        assert!(view::pass_page(book, id, &tools, at).is_some());
        assert!(view::fixing_row(job, id, None, at).is_some());
        let _ = view::check_ask(book, Target::Fixing(id), at);
        let _ = view::photo_offers(job, id);
        let _ = view::marks_said(job, id);
        let _ = view::pass_cautions(job, id, "");
        let _ = view::mark_stays(book, id);
    }
    for (id, ..) in job.ends() {
        let _ = view::other_seats(book, id);
        let _ = view::check_ask(book, Target::End(id), at);
    }
    for id in job.fluids.ids() {
        assert!(view::fluid_page(book, id, at).is_some());
        let _ = view::missing(book, Ask::Fill, Some(id), at);
    }
    for id in job.lines.ids() {
        assert!(view::line_count(book, id).is_some());
    }
    for id in job.items.ids() {
        let _ = view::shut_over(book, Target::Item(id), at);
    }
    for id in job.treatments.ids() {
        let _ = view::shut_over(book, Target::Treatment(id), at);
    }
    for id in job.after_runs.ids() {
        let _ = view::check_is_due(book, id, at);
    }
    let last = book.journal().last().map(|e| e.id).unwrap_or_default();
    for why in [Break::Hidden, Break::OtherJob, Break::Died] {
        let _ = view::resume_card(book, BrokenOff { why, last });
    }
    let index = Index::of([(JobKey(0), job), (JobKey(1), other)]);
    for asked in ["part", "bolt M6", "hose", "1234", ""] {
        let _ = index.find(asked, 20);
        let _ = index.tag(asked);
    }
    let procedure = procedure_from_job(job);
    let again = procedure_from_json(&procedure_to_json(&procedure));
    assert_eq!(again.as_ref(), Ok(&procedure));
}

/// What each page says of the audit is what the audit says, and each line leads
/// to where it is settled.
fn pages_agree(book: &Book, at: At) -> Vec<String> {
    let job = book.job();
    let audit = audit(job, at.now);
    let n = audit.open.len();
    let page = view::audit_page(book, at, &AtWork::named("Ann"));
    let rows: Vec<_> = page.groups.iter().flat_map(|g| &g.rows).collect();
    assert_eq!(page.n_open, n);
    assert_eq!(rows.len(), n, "each line stands in one group");
    let keys = |of: &mut dyn Iterator<Item = OwedKey>| {
        let mut keys: Vec<String> = of.map(|k| format!("{k:?}")).collect();
        keys.sort();
        keys
    };
    assert_eq!(
        keys(&mut rows.iter().map(|r| r.key)),
        keys(&mut audit.open.iter().map(|o| o.key()))
    );
    assert_eq!(page.excepted.len(), audit.excepted.len());
    let card = view::job_card(book, at);
    assert_eq!(card.counts.owed, n);
    assert_eq!(view::job_page(book, at).card, card);
    let sign = view::sign_off_page(book, at);
    assert_eq!(sign.n_open as usize, n);
    assert_eq!(sign.against.iter().map(|a| a.n as usize).sum::<usize>(), n);
    if sign.can_sign {
        assert_eq!(n, 0);
    }
    // Inside, so on the Job page, on Put back and in the count.
    let inside = job.insides.rows().filter(|i| i.n_in > 0).count();
    let back = view::put_back_page(book, at, &AtWork::named("Ann"));
    assert_eq!((back.inside.len(), card.counts.inside), (inside, inside));
    assert_eq!(back.waiting.len(), card.counts.waiting);
    assert_eq!(back.n_back, card.counts.back);
    // A part is in one list of what is to do, and in none when it is finished.
    let held = back.begun.iter().chain(&back.blocked).chain(&back.waiting);
    let now = back.now.iter().flat_map(|g| &g.rows);
    let listed: Vec<Target> = held.chain(now).map(|r| r.what).collect();
    let once: BTreeSet<String> = listed.iter().map(|t| format!("{t:?}")).collect();
    assert_eq!(once.len(), listed.len(), "listed twice: {listed:?}");
    for (id, part) in job.parts.iter() {
        let finished = view::part_page(book, id, at).unwrap().finished;
        let is_listed = listed.contains(&Target::Part(id));
        assert!(!part.off() || is_listed, "off and not listed: {id:?}");
        assert!(!(finished && is_listed), "finished and listed: {id:?}");
    }
    let text = view::handover_page(book, at).text;
    assert!(text.contains(&card.verdict), "{text}");
    let to_buy = view::to_buy_page(book, at).lines;
    let wants: usize = to_buy.iter().map(|l| l.wants.len()).sum();
    assert_eq!(wants, card.counts.to_buy);
    rows.into_iter()
        .filter_map(|row| leads(book, row, at).err())
        .collect()
}

/// A line of the audit leads to a page that shows the thing, or has its act
/// beside it.
fn leads(book: &Book, row: &view::AuditRow, at: At) -> Result<(), String> {
    let job = book.job();
    let shown = |part: PartId| {
        let page = view::part_page(book, part, at).unwrap();
        match row.key.on {
            Target::Fixing(id) => page.fixings.iter().any(|f| f.id == id),
            Target::End(id) => page.connections.iter().any(|c| c.id == id.connection),
            Target::Item(id) => page.items.iter().any(|i| i.id == id),
            Target::Treatment(id) => page.treatments.iter().any(|t| t.id == id),
            Target::Finding(id) => page.findings.iter().any(|f| f.id == id),
            _ => true,
        }
    };
    let rest = || view::job_rest(book, at);
    let has_way = match (row.part, row.key.on) {
        // By way of the part that is over it.
        (Some(_), _) if row.key.rule == countback_core::audit::Rule::Buried => true,
        (Some(part), _) => shown(part),
        (None, Target::Finding(id)) => row.on_job && rest().findings.iter().any(|f| f.id == id),
        (None, Target::Inside(_) | Target::Step(_)) => true,
        (None, Target::Fluid(_) | Target::Supply(_)) => true,
        (None, Target::Line(_) | Target::Stray(_) | Target::AfterRun(_)) => true,
        (None, Target::End(_) | Target::Item(_)) => true,
        // What contradicts itself is accepted.
        (None, Target::Job) => true,
        (None, _) => false,
    };
    // No screen makes a fixing that holds nothing, or says of anything but a
    // part, a fixing or an end that something is renewed or put on there.
    let of = match row.key.on {
        Target::Item(id) => job.items.get(id).map(|i| i.on),
        Target::Treatment(id) => job.treatments.get(id).map(|t| t.treatment.on),
        on => Some(on),
    };
    let made = match of {
        Some(Target::Fixing(id)) => job.fixings.get(id).is_some_and(|f| !f.parts.is_empty()),
        Some(Target::Part(_)) => true,
        Some(Target::End(_)) => matches!(row.key.on, Target::Item(_)),
        _ => false,
    };
    match has_way || !made {
        true => Ok(()),
        false => Err(format!("{row:?} of {of:?}")),
    }
}

#[test]
fn every_page_of_any_job_is_drawn_and_says_the_same() {
    let other = drawn(7_777);
    let mut nowhere = Vec::new();
    for seed in 0..JOBS {
        let bench = drawn(seed);
        let at = at(bench.ctx.now + HOUR);
        every_page(&bench.book, other.job(), at);
        nowhere.extend(pages_agree(&bench.book, at));
        for row in view::log(&bench.book, at, usize::MAX) {
            let strike = bench.book.can_strike(row.id);
            let cannot = matches!(strike, Err(Refusal::CannotStrike { .. }));
            let struck = matches!(strike, Err(Refusal::StruckAlready { .. }));
            assert_eq!(row.can_strike, !cannot && !struck, "{row:?} {strike:?}");
        }
        let lines = bench.book.journal().iter().map(|e| {
            let line = encode(e);
            assert_eq!(decode(&line).as_ref(), Ok(e));
            e.clone()
        });
        assert_eq!(&Book::open(Journal::new(lines)), &bench.book);
        let packed = pack_list(bench.book.journal(), &BTreeSet::new());
        let opened = open(
            packed.job_jsonl.as_bytes(),
            packed.about_json.as_bytes(),
            &BTreeSet::new(),
        );
        assert_eq!(&opened.unwrap().journal, bench.book.journal());
    }
    assert_eq!(nowhere, Vec::<String>::new());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

    /// Pages are drawn of acts from anywhere too, at any time.
    #[test]
    fn pages_of_acts_from_anywhere_are_drawn(acts in proptest::collection::vec(any_event(), 0..30), seed in 0..JOBS) {
        let bench = drawn(seed);
        let mut events: Vec<Event> = bench.book.journal().iter().cloned().collect();
        events.extend(acts);
        let book = Book::open(Journal::new(events));
        for now in [bench.ctx.now, i64::MAX, i64::MIN] {
            every_page(&book, bench.job(), at(now));
        }
    }
}
