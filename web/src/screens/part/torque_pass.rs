//! Place by place: every fastener of a fixing as a large button, one tap each,
//! with the stage in figures to be read from the floor.
use crate::kit::use_local;
use crate::part;
use countback_core::job::{Command, PlaceState, Thing};
use countback_core::journal::*;
use countback_core::view::{FixingRow, NextAct, PlaceCell};
use yew::prelude::*;

use crate::app::the_desk;
use crate::kit::{Button, ButtonFace, ButtonKind, Figure, Icon, Sheet};

#[derive(Properties, PartialEq)]
pub struct TorquePass {
    pub job: AttrValue,
    pub fixing: FixingRow,
    pub onclose: Callback<()>,
}

/// What a tap on a place does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Mode {
    Next,
    Doubt,
    Broke,
    Undo,
}

#[hook]
fn use_torque_pass(props: &TorquePass) -> Html {
    let desk = the_desk();
    let mode = use_local(|| Mode::Next);
    let f = &props.fixing;
    let id = f.id;
    let (figure, what) = match &f.next {
        NextAct::Start { n } => (n.to_string(), "to start by hand".to_owned()),
        NextAct::Tighten { text, to, .. } if text.is_empty() => (
            "tight".to_owned(),
            if *to == Tight::Final {
                "by the maker's figure".to_owned()
            } else {
                String::new()
            },
        ),
        NextAct::Tighten { text, .. } => (
            text.clone(),
            "as noted; the maker's figure goes first".to_owned(),
        ),
        NextAct::FitExtras => ("first".to_owned(), "washers and the like".to_owned()),
        NextAct::Check => ("2nd".to_owned(), "look by another person".to_owned()),
        NextAct::Repair => ("repair".to_owned(), "the broken place first".to_owned()),
        NextAct::PartFirst => ("place".to_owned(), "the part first".to_owned()),
        NextAct::Wait { text } => ("wait".to_owned(), text.clone()),
        NextAct::Done => ("done".to_owned(), format!("{} of {}", f.n_final, f.n)),
    };
    let press = {
        let (desk, job, mode, next) = (desk.clone(), props.job.clone(), *mode, f.next.clone());
        Callback::from(move |cell: PlaceCell| {
            let one = Thing::Places(vec![cell.index]);
            let command = match (mode, cell.state, &next) {
                (Mode::Doubt, ..) => Command::Record(Act::Doubted {
                    what: Target::Fixing(id),
                    places: vec![cell.index],
                }),
                (Mode::Broke, PlaceState::Broken, _) => Command::Record(Act::PlaceRepaired {
                    fixing: id,
                    place: cell.index,
                }),
                (Mode::Broke, ..) => Command::Record(Act::FastenerBroke {
                    fixing: id,
                    place: cell.index,
                    stump_in: true,
                }),
                (Mode::Undo, ..) => Command::Record(Act::FastenersUndone {
                    fixing: id,
                    places: vec![cell.index],
                    out: true,
                    to: Account::Bench,
                }),
                (Mode::Next, PlaceState::Open, _) => Command::Start {
                    fixing: id,
                    which: one,
                    line: None,
                    anyway: false,
                },
                (Mode::Next, PlaceState::Broken, _) => Command::Record(Act::PlaceRepaired {
                    fixing: id,
                    place: cell.index,
                }),
                (Mode::Next, _, NextAct::Tighten { to, value, .. }) => Command::Tighten {
                    fixing: id,
                    which: one,
                    to: *to,
                    value: *value,
                },
                (Mode::Next, ..) => Command::Tighten {
                    fixing: id,
                    which: one,
                    to: Tight::Final,
                    value: None,
                },
            };
            desk.tell(&job, command);
        })
    };
    let chip = |m: Mode, label: &'static str, icon: Icon| {
        let mode_now = mode.clone();
        html! { { part!(crate::kit::Chip { label: label, icon: icon, pressed: *mode == m, onpress: Callback::from(move |()| mode_now.set(if *mode_now == m { Mode::Next } else { m })) }) } }
    };
    html! {
        { part!(Sheet { title: format!("{} {}", f.title, f.place), onclose: props.onclose.clone(), foot: html! {
            { part!(Button { label: "Undo the last tap", icon: Icon::Undo, face: ButtonFace::Wide, kind: ButtonKind::Plain, onpress: {let (desk, job) = (desk.clone(), props.job.clone()); Callback::from(move |()| desk.strike_last(&job))} }) }
        }, children: html! { <>
            { part!(Figure { value: figure, what: what }) }
            <div class="places" role="group" aria-label="Places">
                { for f.cells.iter().map(|c| {
                    let cell = c.clone();
                    html! {
                        <button type="button" key={c.index} class={classes!("place", format!("place--{}", class(c.state)))}
                            onclick={press.reform(move |_: MouseEvent| cell.clone())}>
                            <span class="unseen">{ "Place " }</span>
                            <span class="place__number">{ c.number }</span>
                            <span class="unseen">{ ", " }</span>
                            <span class="place__word">{ c.word.clone() }</span>
                        </button>
                    }
                }) }
            </div>
            <div class="chips__row">
                { part!(crate::kit::Chip { label: "Keep the screen on", icon: Icon::Awake, pressed: desk.is_awake(), onpress: { let desk = desk.clone(); Callback::from(move |()| desk.keep_awake(!desk.is_awake())) } }) }
                { chip(Mode::Doubt, "Not sure of one", Icon::Help) }
                { chip(Mode::Undo, "One out again", Icon::Undo) }
                { chip(Mode::Broke, "One broke", Icon::Warning) }
            </div>
        </> } }) }
    }
}

crate::live!(TorquePass, use_torque_pass);

fn class(state: PlaceState) -> &'static str {
    match state {
        PlaceState::Final
        | PlaceState::Checked
        | PlaceState::FoundEmpty
        | PlaceState::LeftEmpty => "settled",
        PlaceState::Broken | PlaceState::Doubtful => "danger",
        PlaceState::Open | PlaceState::Slackened => "open",
        PlaceState::Started | PlaceState::Snug | PlaceState::Stage(_) => "owed",
    }
}
