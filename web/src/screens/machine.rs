//! What is asked of the machine: may it be turned, cranked, filled, started,
//! and each refusal with what is missing; that it ran; and filling it.
use countback_core::job::{Command, Refusal};
use countback_core::journal::*;
use countback_core::permit::Ask;
use countback_core::view::{self, PermitRow};
use yew::prelude::*;

use super::second::offered;
use crate::app::{Desk, NoticeKind, Told, the_desk};
use crate::kit::{
    Button, ButtonFace, ButtonKind, Icon, ListLength, ListRow, Readiness, Rows, Section, Sheet,
    Standing, TextField, Verdict, use_local,
};
use crate::part;
use crate::router::{self, Route};

/// The four questions, each with its answer; a tap gives all of it.
#[derive(Properties, PartialEq)]
pub struct May {
    pub job: AttrValue,
}

#[hook]
fn use_may(props: &May) -> Html {
    let desk = the_desk();
    let asked = use_local(|| None::<Ask>);
    let rows = permits(&desk, &props.job);
    let shut = {
        let asked = asked.clone();
        Callback::from(move |()| asked.set(None))
    };
    let sheet = (*asked)
        .and_then(|ask| rows.iter().find(|row| row.asked == ask))
        .map(|row| answer(&props.job, row, shut, html! {}));
    html! {
        <>
        { part!(Section { title: "Before you turn or start it", children: html! { <>
            { part!(Rows { label: "Before you turn or start it", children: html! { <>
                { for rows.iter().map(|row| {
                    let (asked, ask) = (asked.clone(), row.asked);
                    let (state, lead) = if row.may { (Standing::Settled, Icon::Machine) } else { (Standing::Danger, Icon::NoTurn) };
                    part!(ListRow { what: row.ask, lead: lead, state: state, owed: row.answer.clone(), lies: Some(&row.first).filter(|it| !it.is_empty()).or(Some(&row.by_clock).filter(|it| !it.is_empty())).map(|it| AttrValue::from(it.clone())), onpress: Some(Callback::from(move |()| asked.set(Some(ask)))) })
                }) }
            </> } }) }
            <p class="soft">{ "As far as it was logged here. The maker's starting procedure comes first." }</p>
        </> } }) }
        { sheet.unwrap_or_default() }
        </>
    }
}

crate::live!(May, use_may);

fn permits(desk: &Desk, job: &AttrValue) -> Vec<PermitRow> {
    let rows = desk.read(job, |book| view::permits(book, desk.at()));
    rows.unwrap_or_default()
}

/// Everything that stands against one of them, the most dangerous first.
fn answer(job: &AttrValue, row: &PermitRow, onclose: Callback<()>, foot: Html) -> Html {
    html! {
        { part!(Sheet { title: row.ask, onclose: onclose, foot: foot, children: html! { <>
            { part!(Verdict { state: if row.may { Standing::Settled } else { Standing::Danger }, words: row.answer.clone() }) }
            if !row.by_clock.is_empty() {
                <p>{ row.by_clock.clone() }</p>
                <p class="soft">{ "The app was closed when that ended. Is this phone's date right?" }</p>
            }
            { missing(job, row.asked) }
        </> } }) }
    }
}

fn missing(job: &AttrValue, ask: Ask) -> Html {
    let desk = the_desk();
    let rows = desk.read(job, |book| view::missing(book, ask, desk.at()));
    let rows = rows.unwrap_or_default();
    if rows.is_empty() {
        return html! {};
    }
    html! {
        { part!(Rows { label: "What stands against it", length: if rows.len() > 40 { ListLength::Long } else { ListLength::Short }, children: html! { <>
            { for rows.iter().map(|it| {
                let href = it.part.map(|part| {
                    let (job, part) = (job.clone(), part.to_string().into());
                    AttrValue::from(Route::PutBackPart { job, part }.href())
                });
                part!(ListRow { what: it.what.clone(), state: Standing::Owed, owed: it.todo.clone(), href: href })
            }) }
        </> } }) }
    }
}

/// How it ran. What happened is logged whatever stands against it.
fn it_ran(desk: &Desk, job: &AttrValue) -> Html {
    let ran = |heat_cycles: u16| {
        let (desk, job) = (desk.clone(), job.clone());
        Callback::from(move |()| {
            router::close_sheet();
            desk.tell(&job, Command::Record(Act::Ran { heat_cycles }));
        })
    };
    html! {
        <>
            { part!(Button { label: "It ran, a short while", face: ButtonFace::Wide, icon: Icon::Machine, onpress: ran(0) }) }
            { part!(Button { label: "It ran warm, and is cold again", face: ButtonFace::Wide, icon: Icon::Flame, onpress: ran(1) }) }
        </>
    }
}

/// The sheet that says that it ran, with what stood against it first.
pub fn ran_sheet(desk: &Desk, job: &AttrValue, onclose: Callback<()>) -> Html {
    let rows = permits(desk, job);
    let row = rows.iter().find(|row| row.asked == Ask::Start);
    row.map(|row| answer(job, row, onclose, it_ran(desk, job)))
        .unwrap_or_default()
}

/// "Filled", and what stands against it where something does.
#[derive(Properties, PartialEq)]
pub struct Fill {
    pub job: AttrValue,
    pub fluid: FluidId,
    pub about: AttrValue,
}

/// Reasons that need no typing.
const REASONS: [&str; 2] = ["Filled to look for leaks", "What is open holds none of it"];

#[hook]
fn use_fill(props: &Fill) -> Html {
    let desk = the_desk();
    let refused = use_local(|| false);
    let why = use_local(String::new);
    let fill = |anyway: String| Command::Fill {
        fluid: props.fluid,
        amount: String::new(),
        anyway,
    };
    let press = {
        let (desk, job, refused, command) = (
            desk.clone(),
            props.job.clone(),
            refused.clone(),
            fill(String::new()),
        );
        Callback::from(move |()| {
            let (desk2, job2, refused) = (desk.clone(), job.clone(), refused.clone());
            let done = Callback::from(move |told: Told| match told {
                Told::Refused(Refusal::NotReady { .. }) => refused.set(true),
                Told::Refused(other) => {
                    desk2.say(NoticeKind::Refused, desk2.refusal(&job2, &other));
                }
                Told::Saved(_) | Told::Failed(_) => {}
            });
            desk.try_tell(&job, command.clone(), done);
        })
    };
    let sheet = refused.then(|| {
        let shut = {
            let refused = refused.clone();
            Callback::from(move |()| refused.set(false))
        };
        let readiness = match why.trim().is_empty() {
            true => Readiness::Blocked("Say why".into()),
            false => Readiness::Ready,
        };
        let anyway = {
            let (desk, job, command) = (desk.clone(), props.job.clone(), fill((*why).clone()));
            Callback::from(move |()| {
                router::close_sheet();
                desk.tell(&job, command.clone());
            })
        };
        let rows = permits(&desk, &props.job);
        let row = rows.iter().find(|row| row.asked == Ask::Fill);
        html! {
            { part!(Sheet { title: format!("Fill {}", props.about), onclose: shut, foot: html! {
                { part!(Button { label: "Filled all the same", kind: ButtonKind::Danger, face: ButtonFace::Wide, icon: Icon::Warning, readiness: readiness, onpress: anyway }) }
            }, children: html! { <>
                if let Some(row) = row {
                    { part!(Verdict { state: Standing::Danger, words: row.answer.clone() }) }
                    <p>{ format!("{}.", row.first) }</p>
                }
                { offered("Why all the same", &REASONS.map(str::to_owned), &why) }
                { part!(TextField { label: "Why, in words", value: (*why).clone(), oninput: { let why = why.clone(); Callback::from(move |t: AttrValue| why.set(t.to_string())) } }) }
                if let Some(row) = row { { missing(&props.job, row.asked) } }
            </> } }) }
        }
    });
    html! {
        <>
            { part!(Button { label: "Filled", about: props.about.clone(), icon: Icon::Fluid, onpress: press }) }
            { sheet.unwrap_or_default() }
        </>
    }
}

crate::live!(Fill, use_fill);
