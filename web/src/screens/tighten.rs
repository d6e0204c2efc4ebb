//! The torque pass: the stage and its figure to be read from the floor, the
//! next fastener huge, one tap for each. The screen stays on.
use crate::kit::use_local;
use crate::part;
mod anyway;
mod before;
mod order;
mod picture;
mod ring;
mod stages;
mod tool;

use countback_core::job::{Command, Thing};
use countback_core::journal::*;
use countback_core::view::{self, Before, Drawing, PlaceStanding, PlaceStep, TightenPage, Tools};
use yew::prelude::*;

pub(super) use self::picture::OrderPicture;
use super::lost;
use crate::app::{Desk, the_desk, undo_button};
use crate::kit::{
    Banner, BannerKind, Button, ButtonFace, ButtonKind, Chip, Icon, MainAct, Page, Readiness,
    Section, Sheet, State,
};
use crate::ports::wake::Wake;
use crate::router::{self, Route};

/// Props of [`TightenScreen`].
#[derive(Properties, PartialEq)]
pub struct TightenScreen {
    pub job: AttrValue,
    pub fixing: AttrValue,
}

/// Which sheet is open over the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Over {
    Nothing,
    Order,
    Ring,
    Stages,
    Tool,
    Anyway,
    Place(u16),
}

#[hook]
fn use_tighten_screen(props: &TightenScreen) -> Html {
    let desk = the_desk();
    let over = use_local(|| Over::Nothing);
    {
        let desk = desk.clone();
        use_effect_with((), move |()| {
            let was = desk.is_awake();
            if Wake::is_possible() {
                desk.stay_awake();
            }
            move || {
                if !was {
                    desk.keep_awake(false);
                }
            }
        });
    }
    let job = props.job.clone();
    let id: Option<FixingId> = props.fixing.parse().ok();
    let tools = Tools {
        wrenches: desk.prefs().wrenches(),
        adapter: None,
    };
    let page = id.and_then(|id| {
        desk.read(&job, |book| view::pass_page(book, id, &tools, desk.at()))
            .flatten()
    });
    let Some(page) = page else {
        return lost();
    };
    let back = match page.part {
        Some(part) => Route::PutBackPart {
            job: job.clone(),
            part: part.to_string().into(),
        },
        None => Route::PutBack { job: job.clone() },
    };
    if let Some(cautions) = before::to_read(&desk, &job, &page, &back) {
        return cautions;
    }
    let at = page.at(None).cloned();
    let tell = {
        let (desk, job) = (desk.clone(), job.clone());
        move |command: Command| {
            let (desk, job) = (desk.clone(), job.clone());
            Callback::from(move |()| desk.tell(&job, command.clone()))
        }
    };
    let open = |to: Over| {
        let over = over.clone();
        Callback::from(move |()| over.set(to))
    };
    let main = main_act(&job, &page, at.as_ref(), &back, &tell, open(Over::Anyway));
    let act = html! {
        { part!(MainAct { side: undo_button(&job, "Undo the last tap", ButtonKind::Quiet), children: html! { <div class="pass-act pass-quiet">{ main }</div> } }) }
    };
    let sheet = match *over {
        Over::Nothing => html! {},
        Over::Order => {
            html! { { part!(order::OrderSheet { job: job.clone(), fixing: page.id, onclose: open(Over::Nothing) }) } }
        }
        Over::Ring => match &page.ring {
            Some(choice) => {
                html! { { part!(ring::RingSheet { job: job.clone(), choice: choice.clone(), drawing: if page.one_pass == Some(true) { page.drawing.clone() } else { Drawing::default() }, onown: open(Over::Order), onclose: open(Over::Nothing) }) } }
            }
            None => html! {},
        },
        Over::Stages => {
            html! { { part!(stages::StagesSheet { job: job.clone(), fixing: page.id, begun: page.begun, holds: page.holds.clone(), last_round: page.last_round, onclose: open(Over::Nothing) }) } }
        }
        Over::Place(index) => match page.at(Some(index)) {
            Some(step) => place_sheet(step, &page, &tell, open(Over::Nothing)),
            None => html! {},
        },
        Over::Anyway => match (&page.too_little, at.as_ref().and_then(|s| s.act.as_ref())) {
            (Some(it), Some((_, command))) => {
                html! { { part!(anyway::AnywaySheet { job: job.clone(), it: it.clone(), command: command.clone(), onclose: open(Over::Nothing) }) } }
            }
            _ => html! {},
        },
        Over::Tool => {
            html! { { part!(tool::ToolSheet { job: job.clone(), fixing: page.id, onclose: open(Over::Nothing) }) } }
        }
    };
    let warned = warnings(&page);
    html! {
        <>
        { part!(Page { title: page.title.clone(), under: (!page.under.is_empty()).then(|| AttrValue::from(page.under.clone())), back: back, act: act, children: html! { <>
            { super::again::touch_again(&desk, &job) }
            if !page.begun { { warned.clone() } }
            { hero(&page, at.as_ref()) }
            { together(&page, &tell, open(Over::Ring)) }
            { holds(&page, &tell) }
            if let Some(it) = &page.too_little {
                { part!(Banner { kind: BannerKind::Danger, title: format!("Too little thread: {}", it.sum), text: it.verdict.clone() }) }
            }
            if let Some(round) = &page.round {
                { part!(Banner { title: page.stage.clone(), text: round.said.clone(), icon: Icon::Renew }) }
                { part!(Button { label: round.turned.0.clone(), icon: Icon::Renew, face: ButtonFace::Wide, onpress: tell(round.turned.1.clone()) }) }
            }
            if let (Some(it), true) = (&page.self_locking, !page.begun || page.self_locking.as_ref().is_some_and(|it| !it.set.is_empty())) {
                { part!(Banner { title: "Self-locking: mind the running torque", text: if it.set.is_empty() { it.short.to_owned() } else { it.set.clone() }, icon: Icon::Torque }) }
            }
            if page.no_figure && !page.done {
                { part!(Banner { title: "No figure is noted", text: "Tighten by the maker's figure, or note it here first.", icon: Icon::Torque, children: html! { <>
                    { part!(Button { label: "Note the figure", icon: Icon::Plus, onpress: open(Over::Stages) }) }
                </> } }) }
            }
            if let Some((label, command)) = at.as_ref().and_then(|s| s.remedy.clone()) {
                { part!(Button { label: label, icon: Icon::Undo, face: ButtonFace::Wide, onpress: tell(command) }) }
            }
            if page.n_open > 1 && page.before == Before::Nothing {
                { part!(Button { label: page.start_rest.clone(), icon: Icon::Hand, face: ButtonFace::Wide, onpress: tell(Command::Start { fixing: page.id, which: Thing::All, line: None, anyway: false }) }) }
            }
            { part!(picture::OrderPicture { drawing: page.drawing.clone() }) }
            if page.begun { { warned } }
            { places(&page, &over) }
            { stage_rows(&page) }
            <div class="pair">
                { part!(Button { label: "Order", icon: Icon::Renew, onpress: open(if page.one_pass == Some(true) { Over::Ring } else { Over::Order }) }) }
                { part!(Button { label: "Stages", icon: Icon::Gauge, onpress: open(Over::Stages) }) }
                { part!(Button { label: "Wrench", icon: Icon::Torque, onpress: open(Over::Tool) }) }
                { part!(Chip { label: "Screen stays on", icon: Icon::Awake, pressed: desk.is_awake(), onpress: { let desk = desk.clone(); Callback::from(move |()| desk.keep_awake(!desk.is_awake())) } }) }
            </div>
        </> } }) }
        { sheet }
        </>
    }
}

crate::live!(TightenScreen, use_tighten_screen);

/// The one tap.
fn main_act(
    job: &AttrValue,
    page: &TightenPage,
    at: Option<&PlaceStep>,
    back: &Route,
    tell: &impl Fn(Command) -> Callback<()>,
    anyway: Callback<()>,
) -> Html {
    let button = |label: String, readiness: Readiness, press: Callback<()>| {
        html! { { part!(Button { label: label, kind: ButtonKind::Main, icon: Icon::Check, readiness: readiness, onpress: press }) } }
    };
    let ready = Readiness::Ready;
    match (&page.before, at) {
        (Before::Part(_), _) => {
            html! { { part!(Button { label: "Place the part first", kind: ButtonKind::Main, icon: Icon::PutBack, href: back.href() }) } }
        }
        (Before::Extras(what), _) => {
            let press = tell(Command::FitExtras { fixing: page.id });
            button(format!("Fitted: {what}"), ready, press)
        }
        _ if page.round.is_some() => match &page.round {
            Some(round) => button(round.none.0.clone(), ready, tell(round.none.1.clone())),
            None => html! {},
        },
        (Before::Nothing, Some(_)) if page.too_little.is_some() => {
            html! { { part!(Button { label: "Fit a longer one, or say why not", kind: ButtonKind::Main, icon: Icon::Bolt, onpress: anyway }) } }
        }
        _ if page.check => part!(super::second::SecondLook {
            job: job.clone(),
            what: Target::Fixing(page.id)
        }),
        (before, Some(step)) => match (&step.act, before) {
            (Some((label, _)), Before::Final(why, _)) if step.standing != PlaceStanding::Open => {
                let blocked = Readiness::Blocked(why.clone().into());
                button(label.clone(), blocked, Callback::noop())
            }
            (Some((label, command)), _) => button(label.clone(), ready, tell(command.clone())),
            (None, _) => button(
                match step.standing {
                    PlaceStanding::Broken => format!("{} broke", step.number),
                    _ => format!("{} has had its turn", step.number),
                },
                Readiness::Blocked(step.held.clone().into()),
                Callback::noop(),
            ),
        },
        (_, None) => {
            html! { { part!(Button { label: "Back to the part", kind: ButtonKind::Main, icon: Icon::Back, href: back.href() }) } }
        }
    }
}

/// What is read from the floor.
fn hero(page: &TightenPage, at: Option<&PlaceStep>) -> Html {
    let set = &page.setting;
    let notes = [
        page.noted.as_str(),
        page.source.as_str(),
        set.wrench.as_str(),
    ];
    let notes: Vec<&str> = notes.into_iter().filter(|n| !n.is_empty()).collect();
    html! {
        <section class="pass" aria-label="The pass">
            <p class="pass__read">
                <span class="pass__stage">{ page.stage.clone() }{ if page.figure.is_empty() { "" } else if set.set.is_empty() { ": " } else { ", set: " } }</span>
                if !set.set.is_empty() {
                    <span class="pass__figure">{ set.set.clone() }</span>
                } else if !page.figure.is_empty() {
                    <span class="pass__figure">{ page.figure.clone() }</span>
                }
            </p>
            <div class="pass__what">
                if !set.set.is_empty() {
                    <p class="pass__stage">{ format!("With the adapter it then gets {}", set.gets) }</p>
                }
                if !notes.is_empty() { <p class="pass__note">{ notes.join("; ") }</p> }
                if !page.figure.is_empty() { <p class="pass__note">{ "As noted. The maker's figure wins." }</p> }
                if !page.meant.is_empty() { <p class="pass__note">{ page.meant.clone() }</p> }
                if !page.tool.is_empty() { <p class="pass__note">{ format!("How: {}", page.tool) }</p> }
            </div>
            if let Some(step) = at {
                <div class={classes!("pass__next", format!("pass__next--{}", suffix(step.standing)))}>
                    <span class="pass__label">{ "Next" }</span>
                    <span class="pass__number">{ step.number }</span>
                    <span class="pass__label">{ step.has.clone() }</span>
                </div>
            } else if page.round.is_some() {
                <div class="pass__next pass__next--owed">
                    <span class="pass__label">{ "Round" }</span>
                    <span class="pass__number">{ page.places.len() }</span>
                    <span class="pass__label">{ "all of them" }</span>
                </div>
            } else if page.done {
                <div class="pass__next pass__next--settled">
                    <span class="pass__label">{ "Final" }</span>
                    <span class="pass__number">{ page.places.len() }</span>
                    <span class="pass__label">{ format!("of {}", page.places.len()) }</span>
                </div>
            }
        </section>
    }
}

/// With which other lines of the part it is one pass, and the choice.
fn together(
    page: &TightenPage,
    tell: &impl Fn(Command) -> Callback<()>,
    order: Callback<()>,
) -> Html {
    let choice = page.ring.as_ref().map(|ring| match page.one_pass {
        None => {
            html! { { part!(Button { label: "Put in the maker's order over all", icon: Icon::Edit, face: ButtonFace::Wide, onpress: order }) } }
        }
        Some(on) => {
            let press = tell(Command::Record(Act::RingSet(Ring {
                lines: ring.lines.clone(),
                apart: on,
                order: ring.order.clone(),
            })));
            html! { { part!(Chip { label: "With the others of this part", pressed: on, onpress: press }) } }
        }
    });
    html! {
        if !page.together.is_empty() {
            <p class="soft">{ page.together.clone() }</p>
            { choice.unwrap_or_default() }
        }
    }
}

fn warnings(page: &TightenPage) -> Html {
    html! {
        <>
            if !page.watch.is_empty() {
                { part!(Banner { kind: BannerKind::Caution, title: page.watch.clone() }) }
            }
            { for page.warnings.iter().map(|w| super::doubted(w)) }
            if !page.setting.hint.is_empty() {
                { part!(Banner { kind: BannerKind::Caution, title: page.setting.hint.clone() }) }
            }
        </>
    }
}

/// What final waits for, and the tap that says it is so.
fn holds(page: &TightenPage, tell: &impl Fn(Command) -> Callback<()>) -> Html {
    html! {
        <>
            if let Before::Final(why, hold) = &page.before {
                { part!(Banner { kind: BannerKind::Caution, title: why.clone(), children: html! { <>
                    if let Some(until) = *hold {
                        { part!(Button { label: before::met(until), icon: Icon::Check, onpress: tell(Command::Record(Act::FinalHeld { fixing: page.id, until, met: true })) }) }
                    }
                </> } }) }
            }
            if !page.doubt.is_empty() {
                { part!(Banner { kind: BannerKind::Caution, title: page.doubt.clone(), icon: Icon::Help }) }
            }
        </>
    }
}

/// What can be said of a place that was chosen, its turn or not.
fn place_sheet(
    step: &PlaceStep,
    page: &TightenPage,
    tell: &impl Fn(Command) -> Callback<()>,
    onclose: Callback<()>,
) -> Html {
    let wide = |label: AttrValue, icon: Icon, kind: ButtonKind, command: &Command| {
        let press = tell(command.clone());
        let press = Callback::from(move |()| {
            router::close_sheet();
            press.emit(());
        });
        html! { { part!(Button { label: label, icon: icon, kind: kind, face: ButtonFace::Wide, onpress: press }) } }
    };
    let maybe = |label: &'static str, icon: Icon, command: &Option<Command>| {
        let command = command.as_ref()?;
        Some(wide(label.into(), icon, ButtonKind::Plain, command))
    };
    let held = match (&page.before, &step.act) {
        (Before::Final(why, _), Some(_)) if step.standing != PlaceStanding::Open => why.clone(),
        _ => step.held.clone(),
    };
    let turn = step.act.as_ref().filter(|_| held.is_empty());
    html! {
        { part!(Sheet { title: format!("Place {}: {}", step.number, step.word), onclose, children: html! { <>
            if !held.is_empty() { <p>{ held }</p> }
            { maybe("Not sure of it", Icon::Help, &step.doubt).unwrap_or_default() }
            { maybe("Out again", Icon::TakeOff, &step.out).unwrap_or_default() }
            { maybe("It broke", Icon::Warning, &step.broke).unwrap_or_default() }
            if let Some((label, command)) = &step.remedy {
                { wide(label.clone().into(), Icon::Undo, ButtonKind::Plain, command) }
            }
            if let Some((label, command)) = turn {
                { wide(label.clone().into(), Icon::Check, ButtonKind::Main, command) }
            }
        </> } }) }
    }
}

/// Every place with what it has reached; a tap chooses it.
fn places(page: &TightenPage, over: &State<Over>) -> Html {
    let cells = page.places.iter().map(|step| {
        let (over, index) = (over.clone(), step.index);
        let next = page.next == Some(index);
        html! {
            <button type="button" key={index} class={classes!("place", format!("place--{}", suffix(step.standing)))}
                aria-current={next.then_some("step")}
                onclick={Callback::from(move |_: MouseEvent| over.set(Over::Place(index)))}>
                <span class="unseen">{ "Place " }</span>
                <span class="place__number">{ step.number }</span>
                <span class="unseen">{ ", " }</span>
                <span class="place__word">{ step.word.clone() }</span>
            </button>
        }
    });
    html! {
        { part!(Section { title: "Places, in their order", count: format!("{} of {}", page.n_done, page.n_all), children: html! {
            <div class="places" role="group" aria-label="Places">{ for cells }</div>
        } }) }
    }
}

fn stage_rows(page: &TightenPage) -> Html {
    let rows = page.stages.iter().map(|row| {
        html! {
            <li class={classes!("pass-stage", row.now.then_some("pass-stage--now"))} aria-current={row.now.then_some("step")}>
                <span>{ row.text.clone() }</span>
                <span class="pass-stage__n">{ format!("{} of {}", row.n, row.of) }{ if row.n == row.of { " ✓" } else { "" } }</span>
            </li>
        }
    });
    html! { <ol class="pass-stages" aria-label="Stages">{ for rows }</ol> }
}

const fn suffix(standing: PlaceStanding) -> &'static str {
    match standing {
        PlaceStanding::Final => "settled",
        PlaceStanding::Doubt | PlaceStanding::Broken => "danger",
        PlaceStanding::Open => "open",
        PlaceStanding::Owed => "owed",
        PlaceStanding::Done => "done",
    }
}

/// Tells a command on behalf of a sheet.
fn tell_now(desk: &Desk, job: &AttrValue, act: Act) {
    desk.tell(job, Command::Record(act));
}
