//! The torque pass: the stage and its figure to be read from the floor, the
//! next fastener huge, one tap for each. The screen stays on.
use crate::kit::use_local;
use crate::part;
mod before;
mod order;
mod picture;
mod stages;
mod tool;

use countback_core::job::{Command, Thing};
use countback_core::journal::*;
use countback_core::view::{self, Before, PlaceStanding, PlaceStep, TightenPage, Tools};
use yew::prelude::*;

use super::lost;
use crate::app::{Desk, the_desk};
use crate::kit::{
    Banner, BannerKind, Button, ButtonFace, ButtonKind, Chip, Icon, MainAct, Page, Readiness,
    Section,
};
use crate::ports::wake::Wake;
use crate::router::Route;

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
    Stages,
    Tool,
}

#[hook]
fn use_tighten_screen(props: &TightenScreen) -> Html {
    let desk = the_desk();
    let chosen = use_local(|| None::<u16>);
    let over = use_local(|| Over::Nothing);
    {
        let desk = desk.clone();
        use_effect_with((), move |()| {
            if Wake::is_possible() {
                desk.stay_awake();
            }
            move || desk.keep_awake(false)
        });
    }
    let job = props.job.clone();
    let id: Option<FixingId> = props.fixing.parse().ok();
    let tools = Tools {
        wrenches: desk.prefs().wrenches(),
        adapter: tool::adapter(&desk, &props.fixing),
    };
    let page = id.and_then(|id| {
        desk.read(&job, |book| view::tighten_page(book, id, &tools, desk.at()))
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
    if let Some(cautions) = before::cautions(&desk, &job, &page, &back) {
        return cautions;
    }
    let at = page.at(*chosen).cloned();
    let tell = {
        let (desk, job, chosen) = (desk.clone(), job.clone(), chosen.clone());
        move |command: Command| {
            let (desk, job, chosen) = (desk.clone(), job.clone(), chosen.clone());
            Callback::from(move |()| {
                chosen.set(None);
                desk.tell(&job, command.clone());
            })
        }
    };
    let open = |to: Over| {
        let over = over.clone();
        Callback::from(move |()| over.set(to))
    };
    let main = main_act(&page, at.as_ref(), &back, &tell);
    let act = html! {
        { part!(MainAct { side: {html! {
            { part!(Button { label: "Undo the last tap", icon: Icon::Undo, face: ButtonFace::IconOnly, kind: ButtonKind::Quiet, onpress: {let (desk, job, chosen) = (desk.clone(), job.clone(), chosen.clone()); Callback::from(move |()| { chosen.set(None); desk.strike_last(&job); })} }) }
        }}, children: html! { <div class="pass-act">{ main }</div> } }) }
    };
    let sheet = match *over {
        Over::Nothing => html! {},
        Over::Order => {
            html! { { part!(order::OrderSheet { job: job.clone(), fixing: page.id, onclose: open(Over::Nothing) }) } }
        }
        Over::Stages => {
            html! { { part!(stages::StagesSheet { job: job.clone(), fixing: page.id, begun: page.begun, holds: page.holds.clone(), onclose: open(Over::Nothing) }) } }
        }
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
            { holds(&page, &tell) }
            if page.no_figure && !page.done {
                { part!(Banner { title: "No figure is noted", text: "Tighten by the maker's figure, or note it here first.", icon: Icon::Torque, children: html! { <>
                    { part!(Button { label: "Note the figure", icon: Icon::Plus, onpress: open(Over::Stages) }) }
                </> } }) }
            }
            { beside(at.as_ref(), &page, &tell, &chosen) }
            if page.n_open > 1 && page.before == Before::Nothing {
                { part!(Button { label: page.start_rest.clone(), icon: Icon::Hand, face: ButtonFace::Wide, onpress: tell(Command::Start { fixing: page.id, which: Thing::All, line: None, anyway: false }) }) }
            }
            { part!(picture::OrderPicture { drawing: page.drawing.clone() }) }
            if page.begun { { warned } }
            { places(&page, at.as_ref(), &chosen) }
            { stage_rows(&page) }
            <div class="pair">
                { part!(Button { label: "Order", icon: Icon::Renew, onpress: open(Over::Order) }) }
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
    page: &TightenPage,
    at: Option<&PlaceStep>,
    back: &Route,
    tell: &impl Fn(Command) -> Callback<()>,
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
        _ if page.check => {
            let check = Command::Check {
                what: Target::Fixing(page.id),
            };
            button(
                "Looked at by a second person".to_owned(),
                ready,
                tell(check),
            )
        }
        (before, Some(step)) => match (&step.act, before) {
            (Some((label, _)), Before::Final(why, _)) if step.standing != PlaceStanding::Open => {
                let blocked = Readiness::Blocked(why.clone().into());
                button(label.clone(), blocked, Callback::noop())
            }
            (Some((label, command)), _) => button(label.clone(), ready, tell(command.clone())),
            (None, _) => button(
                format!("{} has had its turn", step.number),
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
            <div class="pass__what">
                <p class="pass__stage">{ page.stage.clone() }{ if page.figure.is_empty() { "" } else { ":" } }</p>
                if !set.set.is_empty() {
                    <p class="pass__figure">{ set.set.clone() }</p>
                    <p class="pass__note">{ format!("to set; it then gets {}", set.gets) }</p>
                } else if !page.figure.is_empty() {
                    <p class="pass__figure">{ page.figure.clone() }</p>
                }
                if !notes.is_empty() { <p class="pass__note">{ notes.join("; ") }</p> }
                if !page.figure.is_empty() { <p class="pass__note">{ "As noted. The maker's figure wins." }</p> }
                if !page.tool.is_empty() { <p class="pass__note">{ format!("Tool: {}", page.tool) }</p> }
            </div>
            if let Some(step) = at {
                <div class={classes!("pass__next", format!("pass__next--{}", suffix(step.standing)))}>
                    <span class="pass__label">{ if page.next == Some(step.index) { "Next" } else { "Chosen" } }</span>
                    <span class="pass__number">{ step.number }</span>
                    <span class="pass__label">{ step.word.clone() }</span>
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

fn warnings(page: &TightenPage) -> Html {
    html! {
        <>
            if !page.watch.is_empty() {
                { part!(Banner { kind: BannerKind::Caution, title: page.watch.clone() }) }
            }
            { for page.warnings.iter().map(|w| html! { { part!(Banner { kind: BannerKind::Caution, title: w.clone() }) } }) }
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

/// What else can be said of the fastener in hand.
fn beside(
    at: Option<&PlaceStep>,
    page: &TightenPage,
    tell: &impl Fn(Command) -> Callback<()>,
    chosen: &crate::kit::State<Option<u16>>,
) -> Html {
    let Some(step) = at else {
        return html! {};
    };
    let one = |label: &'static str, icon: Icon, command: &Option<Command>| {
        command.as_ref().map(|command| {
            html! { { part!(Button { label: label, about: step.number.to_string(), icon: icon, kind: ButtonKind::Quiet, onpress: tell(command.clone()) }) } }
        })
    };
    let elsewhere = page.next.is_some() && page.next != Some(step.index);
    html! {
        <>
            if let Some((label, command)) = &step.remedy {
                { part!(Button { label: label.clone(), icon: Icon::Undo, face: ButtonFace::Wide, onpress: tell(command.clone()) }) }
            }
            if elsewhere {
                { part!(Button { label: "Go on with the next one", icon: Icon::Forward, face: ButtonFace::Wide, onpress: { let chosen = chosen.clone(); Callback::from(move |()| chosen.set(None)) } }) }
                <div class="pass-beside">
                    { one("Not sure of it", Icon::Help, &step.doubt).unwrap_or_default() }
                    { one("Out again", Icon::TakeOff, &step.out).unwrap_or_default() }
                    { one("It broke", Icon::Warning, &step.broke).unwrap_or_default() }
                </div>
            }
        </>
    }
}

/// Every place with what it has reached; a tap chooses it.
fn places(
    page: &TightenPage,
    at: Option<&PlaceStep>,
    chosen: &crate::kit::State<Option<u16>>,
) -> Html {
    let cells = page.places.iter().map(|step| {
        let (chosen, index) = (chosen.clone(), step.index);
        let pressed = at.is_some_and(|it| it.index == index);
        html! {
            <button type="button" key={index} class={classes!("place", format!("place--{}", suffix(step.standing)))}
                aria-pressed={if pressed { "true" } else { "false" }}
                onclick={Callback::from(move |_: MouseEvent| chosen.set(Some(index)))}>
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
