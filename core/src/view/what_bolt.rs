//! What is this bolt? From what was measured: the threads it may have, the
//! places it may have come from over all open jobs, and what to measure next.
//! It offers; the person says.
use super::offers::habit;
use crate::fastener::identify::{
    CALLIPER_UM, Confidence, Measure, Measured, PitchCount, RULER_UM, RankedThread,
};
use crate::fastener::size::parse_mm;
use crate::fastener::{FastenerKind, FastenerSpec, Thread};
use crate::find::{JobKey, origin_of};
use crate::job::Job;
use crate::journal::*;
use crate::words;

/// A thread it may have.
#[derive(Clone, Debug, PartialEq)]
pub struct ThreadRow {
    pub label: String,
    pub share: String,
}

/// A place it may have come from.
#[derive(Clone, Debug, PartialEq)]
pub struct OriginRow {
    /// The job's place in the list that was asked.
    pub job: usize,
    pub fixing: FixingId,
    /// The line that one of is short.
    pub line: LineId,
    pub text: String,
    /// The job it is of, when that is another than the first.
    pub other_job: String,
    pub short: u32,
}

/// The answer as it stands after each measurement.
#[derive(Clone, Debug, PartialEq)]
pub struct WhatBolt {
    pub threads: Vec<ThreadRow>,
    /// "Likely", and what of; empty while nothing is measured.
    pub head: String,
    pub sure: bool,
    /// Whether the thread tapers would tell, or has told.
    pub ask_taper: bool,
    pub next: String,
    /// Short ones first; of all those that it may be of, these are shown.
    pub places: Vec<OriginRow>,
    /// How many it may be of.
    pub n_places: u32,
    /// The jobs that they are in, each by its place in the list that was asked:
    /// it is owed in all of these.
    pub matching: Vec<usize>,
    /// How it would be logged: what is sure, and the rest in words.
    pub spec: FastenerSpec,
}

/// A stray that waits for its place.
#[derive(Clone, Debug, PartialEq)]
pub struct StrayRow {
    pub id: StrayId,
    pub spec: FastenerSpec,
    pub place: String,
    pub text: String,
}

/// More places than these are no choice any more.
const SHOWN: usize = 12;

/// Asks all of `jobs`, the job at hand first; signed-off ones ask for nothing.
pub fn what_bolt(found: &Measured, jobs: &[&Job]) -> WhatBolt {
    let mut found = *found;
    if let Some(first) = jobs.first() {
        found.habit = habit(first);
    }
    let open: Vec<(JobKey, &Job)> = (0_u32..)
        .zip(jobs)
        .filter(|(_, job)| !job.is_signed())
        .map(|(n, job)| (JobKey(n), *job))
        .collect();
    let measured = measured_any(&found);
    let answer = origin_of(&found, &open);
    let twin = twin(&answer.threads);
    let pipe = pipe_twin(&answer.threads);
    let sure = answer.confidence == Confidence::Sure && twin.is_none() && pipe.is_none();
    let confidence = match twin.or(pipe) {
        Some(_) => answer.confidence.min(Confidence::Likely),
        None => answer.confidence,
    };
    let head = match answer.threads.first() {
        _ if !knows_thread(&found) => String::new(),
        None => "No standard thread comes near these readings. Measure again.".to_owned(),
        Some(first) if sure => {
            format!("{}: {}", words::confidence(confidence), named(first.thread))
        }
        Some(first) => format!(
            "{}: {}, {}",
            words::confidence(confidence),
            named(first.thread),
            words::share(first.chance)
        ),
    };
    let next = match answer.next {
        // Only the taper tells these apart, once their pitch is known.
        _ if pipe.is_some() && (found.pitch.is_some() || found.thread.is_some()) => {
            pipe.map_or_else(String::new, |(one, other)| words::pipe_alike(one, other))
        }
        _ if measured && twin.is_some() && found.pitch.is_some() => {
            twin.map_or_else(String::new, |(one, other)| words::read_alike(one, other))
        }
        _ if !measured => "Begin with whatever is at hand.".to_owned(),
        Some(next) => format!(
            "Next, what would tell most: {}.",
            words::measurement(next.measurement, next.again)
        ),
        None => "Nothing more that can be measured would decide.".to_owned(),
    };
    let thread = found.thread.or_else(|| {
        let first = answer
            .threads
            .first()
            .filter(|_| sure && knows_thread(&found));
        first.map(|it| it.thread)
    });
    let may_be: &[_] = if measured { &answer.places } else { &[] };
    let mut matching: Vec<usize> = may_be.iter().map(|it| it.job.0 as usize).collect();
    matching.sort_unstable();
    matching.dedup();
    let places = may_be
        .iter()
        .take(SHOWN)
        .filter_map(|place| {
            let at = place.job.0 as usize;
            let job = jobs.get(at)?;
            Some(OriginRow {
                job: at,
                fixing: place.key,
                line: job.fixings.get(place.key)?.old,
                text: words::name(job, Target::Fixing(place.key)),
                other_job: match at {
                    0 => String::new(),
                    _ => words::name(job, Target::Job),
                },
                short: place.short,
            })
        })
        .collect();
    WhatBolt {
        threads: answer
            .threads
            .iter()
            .filter(|_| knows_thread(&found) || found.head.is_some())
            .take(4)
            .map(|it| ThreadRow {
                label: named(it.thread),
                share: words::share(it.chance),
            })
            .collect(),
        head,
        sure,
        ask_taper: found.tapers.is_some() || pipe.is_some(),
        next,
        places,
        n_places: may_be.len() as u32,
        matching,
        spec: FastenerSpec {
            kind: found.kind,
            head: found.head,
            thread,
            length_um: found.length.map(|l| l.um),
            class: found.class,
            text: readings(
                &found,
                thread.is_some(),
                jobs.first()
                    .map_or(LengthUnit::Millimetre, |j| j.length_unit()),
            ),
        },
    }
}

/// The first thread and one of the other system that a bench cannot tell from
/// it: pitches within a fiftieth, and not beyond belief.
fn twin(threads: &[RankedThread]) -> Option<(Thread, Thread)> {
    let first = threads.first()?.thread;
    let inch = |it: Thread| matches!(it, Thread::Unified { .. });
    let pitch = first.pitch_mm()?;
    let like = |it: &&RankedThread| {
        let near = it
            .thread
            .pitch_mm()
            .is_some_and(|p| (p - pitch).abs() < pitch / 50.0);
        it.chance >= 0.01 && inch(it.thread) != inch(first) && near
    };
    let other = threads.iter().skip(1).find(like)?.thread;
    Some((first, other))
}

/// A pipe thread that comes first, and one of another form and the same size
/// that is not beyond belief.
fn pipe_twin(threads: &[RankedThread]) -> Option<(Thread, Thread)> {
    let first = threads.first()?.thread;
    let size_of = |it: Thread| match it {
        Thread::Pipe { size, .. } => Some(size),
        _ => None,
    };
    let size = size_of(first)?;
    let like = |it: &&RankedThread| it.chance >= 0.01 && size_of(it.thread) == Some(size);
    let other = threads.iter().skip(1).find(like)?.thread;
    Some((first, other))
}

/// "G 1/4, parallel", "M8 x 1.25".
fn named(thread: Thread) -> String {
    format!("{thread}{}", words::pipe_form(thread))
}

fn knows_thread(found: &Measured) -> bool {
    found.outside.is_some()
        || found.bore.is_some()
        || found.pitch.is_some()
        || found.thread.is_some()
}

fn measured_any(found: &Measured) -> bool {
    knows_thread(found) || found.length.is_some() || found.head.is_some() || found.class.is_some()
}

/// What was read off and is not settled by a thread, kept in words that
/// [`measured_again`] reads: diameters by calliper and lengths by ruler, where
/// nothing else is said.
fn readings(found: &Measured, settled: bool, unit: LengthUnit) -> String {
    if settled {
        return String::new();
    }
    let mut said = Vec::new();
    if let Some(over) = found.outside.or(found.bore) {
        let by = if over.is_coarse() { BY_RULER } else { "" };
        said.push(format!("{}{OVER}{by}", length_text(over.um, unit)));
    }
    if let Some(PitchCount { threads, over }) = found.pitch {
        let by = if over.is_coarse() { "" } else { BY_CALLIPER };
        said.push(format!("{threads}{IN}{}{by}", length_text(over.um, unit)));
    }
    let taper = found.tapers.map(|it| if it { TAPERS } else { NO_TAPER });
    said.extend(taper.map(str::to_owned));
    said.join(", ")
}

const OVER: &str = " over the thread";
const IN: &str = " threads in ";
const BY_RULER: &str = " by ruler";
const BY_CALLIPER: &str = " by calliper";
const TAPERS: &str = "tapers";
const NO_TAPER: &str = "does not taper";

/// What is known of a stray that was logged, to be measured on from there: its
/// thread, or what was read off in its stead.
pub fn measured_again(spec: &FastenerSpec) -> Measured {
    let mut found = Measured::from_spec(spec);
    for said in spec.text.split(", ") {
        let (plain, ruler) = match said.strip_suffix(BY_RULER) {
            Some(plain) => (plain, true),
            None => (said, false),
        };
        if let Some(um) = plain.strip_suffix(OVER).and_then(read_length) {
            let uncertainty_um = if ruler { RULER_UM } else { CALLIPER_UM };
            let over = Some(Measure { um, uncertainty_um });
            match spec.kind {
                FastenerKind::Nut => found.bore = over,
                _ => found.outside = over,
            }
        } else if let Some((threads, over)) = said.split_once(IN) {
            let (over, uncertainty_um) = match over.strip_suffix(BY_CALLIPER) {
                Some(over) => (over, CALLIPER_UM),
                None => (over, RULER_UM),
            };
            let read = threads.parse().ok().zip(read_length(over));
            found.pitch = read.map(|(threads, um)| PitchCount {
                threads,
                over: Measure { um, uncertainty_um },
            });
        } else if said == TAPERS || said == NO_TAPER {
            found.tapers = Some(said == TAPERS);
        }
    }
    found
}

/// A length as [`length_text`] writes it, in micrometres.
fn read_length(text: &str) -> Option<u32> {
    match text.strip_suffix(" in") {
        Some(inches) => parse_mm(inches).map(words::um_of_mils),
        None => text.strip_suffix(" mm").and_then(parse_mm),
    }
}

/// What keeps what was measured of a stray since it was logged; none where that
/// is nothing.
pub fn keep_readings(job: &Job, stray: StrayId, spec: &FastenerSpec) -> Option<Act> {
    let logged = job.strays.get(stray).filter(|it| !it.settled)?;
    let spec = Some(spec).filter(|it| **it != logged.spec)?.clone();
    Some(Act::StrayMeasured { stray, spec })
}

/// As it stands in the record, whatever the phone's own way of numbers.
fn length_text(um: u32, unit: LengthUnit) -> String {
    words::length(um, unit, words::Style::default())
}

/// What a reading was taken with, and how far off that is held to read: "calliper,
/// ± 0.1", in thousandths of an inch "calliper, ± 0.004".
pub fn read_with(tool: &str, um: u32, inch: bool, style: words::Style) -> String {
    let thousandths = if inch { (um * 10 + 127) / 254 } else { um };
    format!("{tool}, ± {}", words::thousandths(thousandths, style))
}

/// Strays of a job that are still owed.
pub fn strays(job: &Job) -> Vec<StrayRow> {
    job.strays
        .iter()
        .filter(|(_, s)| !s.settled)
        .map(|(id, s)| StrayRow {
            id,
            spec: s.spec.clone(),
            place: s.place.clone(),
            text: words::name(job, Target::Stray(id)),
        })
        .collect()
}

/// The same stray as another job has it logged: found in both until it is
/// settled in one.
pub fn same_stray(job: &Job, spec: &FastenerSpec, place: &str) -> Option<StrayId> {
    let mut open = job.strays.iter().filter(|(_, s)| !s.settled);
    open.find(|(_, s)| s.spec == *spec && s.place == place)
        .map(|(id, _)| id)
}
