//! The torque pass over one fixing: which fastener is next and to what figure,
//! what each place has reached, what is doubtful, and what to say before the
//! wrench is picked up. Figures are the person's own; nothing here is a
//! specification, and the maker's figure wins.
mod joint;
mod order;
mod place;
mod running;
mod self_locking;
mod setting;
mod stages;
mod too_little;
mod typed;

pub use crate::journal::Adapter;
pub use joint::{RingChoice, RingHole, pass_page};
pub use order::{
    Disc, Drawing, Loosening, OrderOffer, chosen_layout, drawing, loosen_again, loosen_planned,
    marks_said, photo_offers,
};
pub use place::{PlaceStep, Standing};
pub use self_locking::{SelfLocking, self_locking, with_running};
pub use setting::{Setting, Tools, Wrench, WrenchPage, set_up, wrench_page};
pub use stages::{MadeStages, split, splits, stages_said, tolerances};
pub use too_little::{TooLittle, all_the_same};
pub use typed::{
    TypedStages, read_as, type_figure, type_stage, type_torque, typed_doubt, typed_stages,
};

use super::At;
use super::fixing_row::{NextAct, fixing_row};
use crate::caution;
use crate::job::{Book, Command, Fixing, Job, PlaceState};
use crate::journal::*;
use crate::torque::PassNext;
use crate::torque::plausibility::Surface;
use crate::words;

/// One stage of the pass and how far it is.
#[derive(Clone, Debug, PartialEq)]
pub struct StageRow {
    pub text: String,
    pub n: u32,
    pub of: u32,
    pub now: bool,
}

/// Once more all round, and how it is said.
#[derive(Clone, Debug, PartialEq)]
pub struct RoundStep {
    pub none: (String, Command),
    pub turned: (String, Command),
    /// What it is, or that one turned the last time.
    pub said: String,
}

/// What the whole fixing waits for before the next fastener can be gone to.
#[derive(Clone, Debug, PartialEq)]
pub enum Before {
    Nothing,
    /// Its part is off.
    Part(PartId),
    /// Washers and the like go in first.
    Extras(String),
    /// Final waits, and why. The hold can be said to be met.
    Final(String, Option<Hold>),
}

#[derive(Clone, Debug, PartialEq)]
pub struct TightenPage {
    pub id: FixingId,
    /// The part it is reached from.
    pub part: Option<PartId>,
    pub title: String,
    pub under: String,
    /// "Stage 2 of 3".
    pub stage: String,
    /// "45 N·m", to be read from the floor; empty where none is noted.
    pub figure: String,
    /// "noted as 33 lbf·ft", where it is shown in another unit.
    pub noted: String,
    pub stages: Vec<StageRow>,
    /// Fasteners brought to a stage, of all that there are to bring.
    pub n_done: u32,
    pub n_all: u32,
    /// In the order of tightening.
    pub places: Vec<PlaceStep>,
    /// The index of the place that is next.
    pub next: Option<u16>,
    pub before: Before,
    /// What is in doubt, in words.
    pub doubt: String,
    /// All is final, and the last round is to come.
    pub round: Option<RoundStep>,
    /// A last round can be made here, and whether it is asked for.
    pub last_round: Option<bool>,
    /// Everything is final; a second person is asked for.
    pub check: bool,
    pub done: bool,
    /// How many are to be started by hand, and the word for all of them.
    pub n_open: u32,
    pub start_rest: String,
    /// Something was tightened already: the stages stay as they are.
    pub begun: bool,
    /// No figure is noted.
    pub no_figure: bool,
    /// Said at the top, before the pass and during it.
    pub warnings: Vec<String>,
    pub holds: Vec<(Hold, bool)>,
    pub drawing: Drawing,
    pub setting: Setting,
    /// Nuts that resist all the way down.
    pub self_locking: Option<SelfLocking>,
    /// The bolt that is next holds too little thread to be made final unasked.
    pub too_little: Option<TooLittle>,
    pub source: String,
    /// Tolerance and threads that the figure is meant with.
    pub meant: String,
    pub tool: String,
    pub watch: String,
    /// With which other lines of the part it is one pass, or why it is not;
    /// empty where there is nothing to say.
    pub together: String,
    /// Whether it is one pass with them; none where it cannot be.
    pub one_pass: Option<bool>,
    /// What can be chosen of them; none where there are none, or their holes are
    /// not numbered.
    pub ring: Option<RingChoice>,
}

impl TightenPage {
    /// The place that is chosen, or the next one.
    pub fn at(&self, chosen: Option<u16>) -> Option<&PlaceStep> {
        let index = chosen.or(self.next)?;
        self.places.iter().find(|p| p.index == index)
    }
}

/// The page of a pass over one fixing by itself. `tools` are the person's own.
pub fn tighten_page(book: &Book, id: FixingId, tools: &Tools, at: At) -> Option<TightenPage> {
    page(book, id, None, tools, at)
}

/// The same; `turn` is the place that is next where a ring of several lines has
/// the say.
fn page(
    book: &Book,
    id: FixingId,
    turn: Option<u16>,
    tools: &Tools,
    at: At,
) -> Option<TightenPage> {
    let job = book.job();
    let it = job.fixings.get(id)?;
    let row = fixing_row(job, id, it.parts.first().copied(), at)?;
    let tools = &Tools {
        adapter: tools.adapter.or(it.adapter),
        ..tools.clone()
    };
    let run = running::running(book, id, it);
    let mut said = warnings(job, it, &run, tools, at);
    // Before anything is tightened: how much thread they hold is not sure.
    if !row.hole_old.is_empty() && !it.finished() {
        said.insert(0, row.hole_old.clone());
    }
    let open = it.count_where(|p| p.state == PlaceState::Open) > 0;
    let pass_next = run.pass.next();
    let stage = match &pass_next {
        _ if open => None,
        PassNext::Do(it) => Some(it.stage),
        PassNext::Settle(these) => these.first().map(|it| it.stage),
        PassNext::Complete => run.n_stages.checked_sub(1),
    };
    let target = stage.and_then(|n| it.detail.stages.get(n)).copied();
    let unit = unit_of(job);
    let places: Vec<PlaceStep> = run
        .order
        .iter()
        .map(|&index| place::step(job, id, it, &run, index, stage, at.style))
        .collect();
    let next = match &pass_next {
        _ if open => run
            .order
            .iter()
            .find(|&&p| run.state(it, p) == PlaceState::Open)
            .copied(),
        PassNext::Do(op) => Some(op.fastener as u16),
        PassNext::Settle(these) => these.first().map(|op| op.fastener as u16),
        PassNext::Complete => None,
    };
    // A stump is dealt with before the next is drawn down against it.
    let broken = it.where_state(|s| s == PlaceState::Broken);
    let next = turn.or(broken.first().copied()).or(next);
    let before = before(job, it, &row.next, &row.extras, stage, run.n_stages);
    let doubtful: Vec<String> = places
        .iter()
        .filter(|p| p.standing == Standing::Doubt)
        .map(|p| p.number.to_string())
        .collect();
    let done = it.finished();
    let mut parts = it.parts.iter().map(|&p| words::name(job, Target::Part(p)));
    let under = [parts.next().unwrap_or_default(), it.place.clone()];
    let hand = it.count_where(|p| p.state.filled() && p.state != PlaceState::Slackened);
    let mut stages = vec![StageRow {
        text: "By hand".to_owned(),
        n: hand as u32,
        of: run.order.len() as u32,
        now: open,
    }];
    stages.extend((0..run.n_stages).map(|n| StageRow {
        text: it.detail.stages.get(n).map_or_else(
            || "By the maker's figure".to_owned(),
            |&f| words::figure_in(f, unit, at.style),
        ),
        n: run.n_at(n) as u32,
        of: run.order.len() as u32,
        now: stage == Some(n) && !done,
    }));
    let round = round_step(id, it, unit, at);
    if it.last_round == Some(true) && it.can_go_round() {
        let gone = it.finished() && round.is_none();
        let n = run.order.len() as u32;
        stages.push(StageRow {
            text: words::LAST_ROUND.to_owned(),
            n: if gone { n } else { 0 },
            of: n,
            now: round.is_some(),
        });
    }
    let mut drawing = drawing(job, it, it.round.as_ref(), next);
    for disc in &mut drawing.discs {
        let place = places.iter().find(|p| p.index == disc.index);
        disc.done = place.is_none_or(|p| matches!(p.standing, Standing::Done | Standing::Final));
    }
    Some(TightenPage {
        id,
        part: it.parts.first().copied(),
        title: it.spec.label(),
        under: under
            .into_iter()
            .filter(|t| !t.is_empty())
            .collect::<Vec<_>>()
            .join(", "),
        stage: match stage {
            _ if round.is_some() => words::LAST_ROUND.to_owned(),
            _ if done => "All final".to_owned(),
            None => "By hand, all round".to_owned(),
            Some(_) if it.detail.stages.is_empty() => "Tighten".to_owned(),
            Some(n) => format!("Stage {} of {}", n + 1, run.n_stages),
        },
        figure: target.map_or_else(String::new, |f| words::figure_in(f, unit, at.style)),
        noted: target.map_or_else(String::new, |f| words::noted_as(f, unit, at.style)),
        stages,
        n_done: run.pass.n_done() as u32,
        n_all: run.pass.len() as u32,
        next: next.filter(|_| !done),
        before,
        doubt: if doubtful.is_empty() {
            String::new()
        } else {
            words::doubt_at(it.spec.kind, &doubtful)
        },
        last_round: it.can_go_round().then_some(it.last_round == Some(true)),
        round,
        check: done && matches!(row.next, NextAct::Check),
        done,
        n_open: it.count_where(|p| p.state == PlaceState::Open) as u32,
        start_rest: words::rest_started(
            it.count_where(|p| p.state == PlaceState::Open) as u32,
            it.spec.kind,
        ),
        begun: it
            .places
            .iter()
            .any(|p| p.state >= PlaceState::Snug && p.state < PlaceState::Checked),
        no_figure: it.detail.stages.is_empty() && !it.seats_only(),
        warnings: said,
        holds: it.holds.clone(),
        drawing,
        setting: setting::setting(
            target.map(|f| self_locking::with_its_running(it, f)),
            tools,
            unit,
            at.style,
        ),
        self_locking: self_locking(job, it, at.style),
        too_little: too_little::too_little((id, it), job, next, (stage, run.n_stages), at),
        source: it.detail.source.clone(),
        meant: words::meant(&it.detail, target, unit, at.style),
        tool: row.tool,
        watch: it.detail.watch.clone(),
        together: String::new(),
        one_pass: None,
        ring: None,
        places,
    })
}

/// The last round where it is owed.
fn round_step(
    id: FixingId,
    it: &Fixing,
    unit: crate::torque::TorqueUnit,
    at: At,
) -> Option<RoundStep> {
    let figure = it.last_torque().filter(|_| it.round_owed())?;
    let figure = words::figure_in(figure, unit, at.style);
    let go = |turned| Command::GoRound { fixing: id, turned };
    Some(RoundStep {
        none: (words::gone_round(&figure), go(false)),
        turned: (words::ONE_TURNED.to_owned(), go(true)),
        said: words::last_round(&figure, it.gone_round.is_some()),
    })
}

/// The unit that the job's figures are shown in.
pub(super) fn unit_of(job: &Job) -> crate::torque::TorqueUnit {
    job.head
        .as_ref()
        .map(|h| h.units.torque)
        .unwrap_or_default()
}

fn before(
    job: &Job,
    it: &Fixing,
    next: &NextAct,
    extras: &[super::ExtraRow],
    stage: Option<usize>,
    n_stages: usize,
) -> Before {
    let off = |p: &&PartId| job.parts.get(**p).is_some_and(|p| p.off());
    match next {
        NextAct::PartFirst => {
            return it
                .parts
                .first()
                .map_or(Before::Nothing, |&p| Before::Part(p));
        }
        NextAct::FitExtras => {
            let these: Vec<String> = extras
                .iter()
                .map(|e| format!("{} × {}", e.n, e.text))
                .collect();
            return Before::Extras(these.join(", "));
        }
        _ => {}
    }
    if stage.is_none_or(|n| n + 1 < n_stages) || it.finished() {
        return Before::Nothing;
    }
    let waits: Vec<String> = it
        .parts
        .iter()
        .filter(off)
        .map(|&p| words::name(job, Target::Part(p)))
        .collect();
    if !waits.is_empty() {
        return Before::Final(words::final_waits_for(waits), None);
    }
    match job.held_by(it) {
        Some(until) => Before::Final(words::final_only(until), Some(until)),
        None => Before::Nothing,
    }
}

/// What is doubtful about the figure, the stages and the wrench.
fn warnings(job: &Job, it: &Fixing, run: &running::Running, tools: &Tools, at: At) -> Vec<String> {
    let mut said = Vec::new();
    if it.finished() && !it.round_owed() {
        return said;
    }
    if let Some(wrong) = run.wrong {
        said.push(words::stage_error(wrong));
    }
    said.extend(figure_doubt(job, it, &it.detail, at));
    if it.detail.dry_but_oiled(put_on(job, it)) {
        said.push(words::DRY_BUT_OILED.to_owned());
    }
    // What is set is the figure and what its nuts run with.
    let stages = it.detail.stages.iter();
    let set: Vec<Figure> = stages
        .map(|&f| self_locking::with_its_running(it, f))
        .collect();
    said.extend(setting::out_of_range(&set, tools, unit_of(job), at.style));
    said
}

/// A doubt about the last torque of a detail that is or may be the fixing's;
/// none where nothing can be said.
fn figure_doubt(job: &Job, it: &Fixing, detail: &FixingDetail, at: At) -> Option<String> {
    let stages = &detail.stages;
    let torque = |f: &Figure| matches!(f, Figure::Torque { milli: 1.., .. });
    let last = stages.get(stages.iter().rposition(torque)?..)?;
    let check = words::torque_check(
        &it.spec,
        last,
        detail.surface(put_on(job, it)),
        unit_of(job),
        at.style,
    )?;
    Some(check.said()).filter(|d| !d.is_empty())
}

/// What is on the threads, as far as it was noted.
pub(super) fn surface(job: &Job, it: &Fixing) -> Surface {
    it.detail.surface(put_on(job, it))
}

/// What is prescribed for the threads.
pub(super) fn put_on(job: &Job, it: &Fixing) -> Surface {
    let on = it.treatments.iter().filter_map(|&t| job.treatments.get(t));
    let kinds = on.map(|t| t.treatment.kind);
    kinds.fold(Surface::Unknown, |found, kind| match kind {
        TreatmentKind::ThreadLocker => Surface::ThreadLocker,
        TreatmentKind::Lubricant => Surface::Lubricated,
        TreatmentKind::Sealant => found,
    })
}

/// A caution to be read before the pass.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PassCaution {
    pub title: &'static str,
    pub lines: Vec<&'static str>,
    /// Can kill or maim.
    pub grave: bool,
}

/// What is to be read before the first fastener is tightened; `read` holds the
/// titles of those that this job has shown already.
pub fn pass_cautions(job: &Job, fixing: FixingId, read: &str) -> Vec<PassCaution> {
    let Some(it) = job.fixings.get(fixing) else {
        return Vec::new();
    };
    if it.finished() {
        return Vec::new();
    }
    let mut all = Vec::new();
    if it.spec.kind.is_tightened() {
        all.push(words::over_tightening());
    }
    let command = Command::Tighten {
        fixing,
        which: crate::job::Thing::All,
        to: Tight::Final,
        value: None,
    };
    let mut hazards = caution::touched(&command, job);
    // A second look is asked for where people's lives hang on it.
    if it.detail.safety && !hazards.contains(&Hazard::BrakesSteering) {
        hazards.push(Hazard::BrakesSteering);
    }
    all.extend(hazards.into_iter().map(super::cautions::said));
    all.retain(|it| !read.contains(it.title));
    all
}
