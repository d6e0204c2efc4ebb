//! What is asked of the machine: may it be turned, cranked, filled, started,
//! and each refusal with what is missing; and that it ran.
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::permit::Ask;
use countback_core::view::{self, PermitRow};
use yew::prelude::*;

use super::second::offered;
use crate::app::{Desk, the_desk};
use crate::kit::{
    Button, ButtonFace, Icon, ListLength, ListRow, Readiness, Rows, Section, Sheet, Standing,
    TextField, Verdict, use_local,
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
    let asked = use_local(|| None::<(Ask, Option<FluidId>)>);
    let rows = permits(&desk, &props.job);
    let shut = {
        let asked = asked.clone();
        Callback::from(move |()| asked.set(None))
    };
    let sheet = (*asked)
        .and_then(|it| rows.iter().find(|row| (row.asked, row.fluid) == it))
        .map(|row| answer(&props.job, row, shut, (html! {}, None)));
    html! {
        <>
        { part!(Section { title: "Before you turn or start it", children: html! { <>
            { part!(Rows { label: "Before you turn or start it", children: html! { <>
                { for rows.iter().map(|row| {
                    let (asked, ask) = (asked.clone(), (row.asked, row.fluid));
                    let (state, lead) = if row.may { (Standing::Settled, Icon::Machine) } else { (Standing::Danger, Icon::NoTurn) };
                    part!(ListRow { what: row.ask.clone(), lead: lead, state: state, owed: row.answer.clone(), lies: Some(&row.first).filter(|it| !it.is_empty()).or(Some(&row.by_clock).filter(|it| !it.is_empty())).map(|it| AttrValue::from(it.clone())), onpress: Some(Callback::from(move |()| asked.set(Some(ask)))) })
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

/// Everything that stands against one of them, the most dangerous first; and
/// what is asked besides, with the foot.
fn answer(
    job: &AttrValue,
    row: &PermitRow,
    onclose: Callback<()>,
    (asked, foot): (Html, Option<Html>),
) -> Html {
    html! {
        { part!(Sheet { title: row.ask.clone(), onclose: onclose, foot: foot, children: html! { <>
            { part!(Verdict { state: if row.may { Standing::Settled } else { Standing::Danger }, words: row.answer.clone() }) }
            if !row.by_clock.is_empty() {
                <p>{ row.by_clock.clone() }</p>
                <p class="soft">{ "The app was closed when that ended. Is this phone's date right?" }</p>
            }
            { asked }
            { missing(job, row) }
        </> } }) }
    }
}

fn missing(job: &AttrValue, row: &PermitRow) -> Html {
    let desk = the_desk();
    let rows = desk.read(job, |book| {
        view::missing(book, row.asked, row.fluid, desk.at())
    });
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

/// Reasons for running it that need no typing.
const REASONS: [&str; 4] = [
    "to look for leaks",
    "to bleed it",
    "to move it a few metres",
    "started by somebody else",
];

/// The sheet that says that it ran, with what stood against it first. Where
/// something did, a reason is asked for, and what happened is logged.
#[derive(Properties, PartialEq)]
pub struct ItRan {
    pub job: AttrValue,
    pub onclose: Callback<()>,
}

#[hook]
fn use_it_ran(props: &ItRan) -> Html {
    let desk = the_desk();
    let why = use_local(String::new);
    let rows = permits(&desk, &props.job);
    let Some(row) = rows.iter().find(|row| row.asked == Ask::Start) else {
        return html! {};
    };
    let readiness = match row.may || !why.trim().is_empty() {
        true => Readiness::Ready,
        false => Readiness::Blocked("Say why all the same".into()),
    };
    let ran = |heat_cycles: u16| {
        let (desk, job) = (desk.clone(), props.job.clone());
        let command = Command::Run {
            heat_cycles,
            anyway: why.trim().to_owned(),
        };
        Callback::from(move |()| {
            router::close_sheet();
            desk.tell(&job, command.clone());
        })
    };
    let foot = html! {
        <>
            { part!(Button { label: "It ran, a short while", face: ButtonFace::Wide, icon: Icon::Machine, readiness: readiness.clone(), onpress: ran(0) }) }
            { part!(Button { label: "It ran warm, and is cold again", face: ButtonFace::Wide, icon: Icon::Flame, readiness: readiness, onpress: ran(1) }) }
        </>
    };
    let why = html! {
        if !row.may {
            { offered("Why all the same", &REASONS.map(str::to_owned), &why) }
            { part!(TextField { label: "Why, in words", value: (*why).clone(), oninput: { let why = why.clone(); Callback::from(move |t: AttrValue| why.set(t.to_string())) } }) }
        }
    };
    answer(&props.job, row, props.onclose.clone(), (why, Some(foot)))
}

crate::live!(ItRan, use_it_ran);
