//! One place of the pass: what it has reached, the one act that is its turn,
//! and what else can be said of it.
use super::running::Running;
use crate::job::{Command, Fixing, Job, PlaceState, Thing};
use crate::journal::*;
use crate::words::{self, Style};

/// How a place stands in the pass.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// To be started by hand.
    Open,
    /// Not yet brought to the stage that is under way.
    Owed,
    /// Has reached the stage that is under way.
    Done,
    Final,
    Doubt,
    Broken,
}

#[derive(Clone, Debug, PartialEq)]
pub struct PlaceStep {
    pub index: u16,
    pub number: u16,
    pub standing: Standing,
    /// "45 N·m", "started", "not sure".
    pub word: String,
    /// The same as it is said of one that is next: "has 20 N·m".
    pub has: String,
    /// What its turn is, and the command that says it is done.
    pub act: Option<(String, Command)>,
    /// Why it has no turn now.
    pub held: String,
    /// Another way to make a doubt good, or what a broken one waits for.
    pub remedy: Option<(String, Command)>,
    pub doubt: Option<Command>,
    pub out: Option<Command>,
    pub broke: Option<Command>,
}

/// `stage` is the one under way; none while fasteners are started by hand.
pub(super) fn step(
    job: &Job,
    id: FixingId,
    it: &Fixing,
    run: &Running,
    index: u16,
    stage: Option<usize>,
    style: Style,
) -> PlaceStep {
    let state = run.state(it, index);
    let number = it.number(index);
    let unit = super::unit_of(job);
    let reached = run.pass.reached(usize::from(index));
    let kind = it.spec.kind;
    let doubted = run.doubted(index);
    let standing = match state {
        PlaceState::Broken => Standing::Broken,
        PlaceState::Open => Standing::Open,
        PlaceState::Doubtful => Standing::Doubt,
        PlaceState::Final | PlaceState::Checked => Standing::Final,
        _ if stage.is_none_or(|n| reached > n) => Standing::Done,
        _ => Standing::Owed,
    };
    let word = match (state, it.detail.stages.get(reached.wrapping_sub(1))) {
        (PlaceState::Doubtful, _) => "not sure".to_owned(),
        (PlaceState::Stage(_), Some(&figure)) => words::figure_in(figure, unit, style),
        _ => words::place_state(state),
    };
    let has = match state {
        PlaceState::Stage(_) => words::has_so_far(&word),
        _ => word.clone(),
    };
    // A doubt is about the stage it arose at, the turn about the stage under way.
    let to_stage = doubted.or(stage);
    let mut held = String::new();
    let act = match standing {
        Standing::Open => Some((
            words::started_by_hand(kind, number),
            Command::Start {
                fixing: id,
                which: Thing::Places(vec![index]),
                line: None,
                anyway: false,
            },
        )),
        Standing::Owed | Standing::Doubt => to_stage.map(|n| {
            let value = it.detail.stages.get(n).copied();
            let figure = value.map(|f| (f, words::figure_in(f, unit, style)));
            let again = standing == Standing::Doubt;
            let to = if n + 1 == run.n_stages {
                Tight::Final
            } else {
                Tight::Stage(n as u8 + 1)
            };
            (
                words::brought_to(kind, number, figure, again),
                Command::Tighten {
                    fixing: id,
                    which: Thing::Places(vec![index]),
                    to,
                    value,
                },
            )
        }),
        // Repairing is no turn of the pass: the tap that would be the next turn
        // must not say that a thread is whole.
        Standing::Broken | Standing::Done | Standing::Final => None,
    };
    if act.is_none() {
        held = match (standing, stage) {
            (Standing::Done, None) => words::others_first(kind, &still_open(it)),
            (Standing::Broken, _) => words::thread_first(number),
            _ => words::has_it(kind, number, &word),
        };
    }
    let repaired = (standing == Standing::Broken).then(|| {
        (
            words::thread_repaired(number),
            Command::Record(Act::PlaceRepaired {
                fixing: id,
                place: index,
            }),
        )
    });
    // What was turned by an angle cannot be turned by it once more.
    let remedy = doubted.filter(|&n| run.is_angle(n)).map(|_| {
        (
            words::slacken_and_start_over(kind, number),
            Command::Record(Act::FastenersUndone {
                fixing: id,
                places: vec![index],
                out: false,
                to: Account::Bench,
            }),
        )
    });
    let remedy = remedy.or(repaired);
    let record = |act: Act| Some(Command::Record(act));
    PlaceStep {
        index,
        number,
        standing,
        word,
        has,
        act,
        held,
        remedy,
        doubt: record(Act::Doubted {
            what: Target::Fixing(id),
            places: vec![index],
        })
        .filter(|_| state.filled() && state != PlaceState::Doubtful),
        out: record(Act::FastenersUndone {
            fixing: id,
            places: vec![index],
            out: true,
            to: Account::Bench,
        })
        .filter(|_| state.filled()),
        broke: record(Act::FastenerBroke {
            fixing: id,
            place: index,
            stump_in: true,
        })
        .filter(|_| state.filled()),
    }
}

fn still_open(it: &Fixing) -> Vec<String> {
    it.where_state(|s| s == PlaceState::Open)
        .into_iter()
        .map(|p| it.number(p).to_string())
        .collect()
}
