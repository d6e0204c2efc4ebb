//! Audit: a verdict in words, what is owed by what to do next, exceptions and
//! the sign-off.
use crate::kit::use_local;
use crate::part;
use countback_core::audit::{Next, Rule};
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::view::{self, AuditRow};
use yew::prelude::*;

use super::counting::CountSheet;
use super::put_back::{take_out, taken_out};
use super::second::offered;
use super::{OfJob, copies, lost};
use crate::app::the_desk;
use crate::kit::{
    Button, ButtonFace, ButtonKind, Empty, Fold, Icon, ListLength, ListRow, MainAct, Page,
    Readiness, RowMark, Rows, Section, Sheet, Standing, TextField, Verdict,
};
use crate::router::{self, Route};

/// Lines on the page before its groups are folded, but for the first. A design
/// choice, no source.
const LONG: usize = 20;

#[hook]
pub fn use_audit_screen(props: &OfJob) -> Html {
    let desk = the_desk();
    let job = props.job.clone();
    let excepting = use_local(|| None::<AuditRow>);
    let counting = use_local(|| None::<LineId>);
    let work = desk.at_work(&job);
    let Some(page) = desk.read(&job, |book| view::audit_page(book, desk.at(), &work)) else {
        return lost();
    };
    let n_rows: usize = page.groups.iter().map(|group| group.rows.len()).sum();
    let state = match (page.verdict.danger, page.n_open) {
        (true, _) => Standing::Danger,
        (false, 0) => Standing::Settled,
        _ => Standing::Owed,
    };
    let (label, icon) = match (&page.signed, page.n_open) {
        (Some(_), _) => ("Sign-off".to_owned(), Icon::Check),
        (None, 0) => ("Sign off".to_owned(), Icon::Check),
        (None, n) => (format!("Sign-off: {n} still open"), Icon::Lock),
    };
    let kind = match page.can_sign {
        true => ButtonKind::Main,
        false => ButtonKind::Plain,
    };
    let act = html! {
        { part!(MainAct { children: html! { <>
            { part!(Button { label: label, kind: kind, face: ButtonFace::Wide, icon: icon, href: Route::SignOff { job: job.clone() }.href() }) }
        </> } }) }
    };
    let sheet = (*excepting).clone().map(|row| {
        let close = {
            let e = excepting.clone();
            Callback::from(move |()| e.set(None))
        };
        html! { { part!(ExceptSheet { job: job.clone(), row, onclose: close }) } }
    });
    let count_sheet = (*counting).map(|line| {
        let close = {
            let c = counting.clone();
            Callback::from(move |()| c.set(None))
        };
        html! { { part!(CountSheet { job: job.clone(), line, onclose: close }) } }
    });
    html! {
        <>
        { part!(Page { title: "Audit", act: act, children: html! { <>
            { part!(Verdict { state: state, words: page.verdict.head.clone(), text: (!page.verdict.lines.is_empty()).then(|| AttrValue::from(page.verdict.lines.join(" "))) }) }
            { super::again::touch_again(&desk, &job) }
            if let Some(signed) = &page.signed { <p class="soft">{ format!("Signed off by {signed}.") }</p> }
            if let Some(note) = &page.cost_note { <p class="soft">{ note }</p> }
            if page.empty {
                { part!(Empty { icon: Icon::Audit, title: "Nothing to count back yet.", text: "The audit lists what is owed once something is off.", children: html! { <>
                    { part!(Button { label: "Take off", icon: Icon::TakeOff, href: Route::TakeOff { job: job.clone() }.href() }) }
                </> } }) }
            }
            { for page.groups.iter().enumerate().map(|(at, group)| {
                let rows = html! { <>
                    { part!(Rows { label: group.title, length: if group.rows.len() > 40 { ListLength::Long } else { ListLength::Short }, children: html! { <>
                        { for group.rows.iter().map(|row| {
                            let excepting = excepting.clone();
                            let chosen = row.clone();
                            let counting = counting.clone();
                            html! { { part!(key: format!("{}-{}-{}", row.key.rule as u8, row.key.on, row.key.opened); Line { job: job.clone(), row: row.clone(), oncount: Callback::from(move |line| counting.set(Some(line))), onexcept: Callback::from(move |()| excepting.set(Some(chosen.clone()))) }) } }
                        }) }
                    </> } }) }
                </> };
                let count = group.rows.len().to_string();
                match n_rows > LONG {
                    false => part!(Section { title: group.title, count: count, children: rows }),
                    true => part!(key: group.title; Fold { title: group.title, count: count, open: at == 0, children: rows }),
                }
            }) }
            if !page.empty {
                { part!(Button { label: "A fastener turned up", icon: Icon::Bolt, face: ButtonFace::Wide, href: Route::WhatBolt { job: job.clone() }.href() }) }
                { super::again::ticked(&desk, &job, None) }
                { part!(super::machine::May { job: job.clone() }) }
            }
            if !page.late.is_empty() {
                { part!(Section { title: "Confirmed late", count: page.late.len().to_string(), children: html! { <>
                    { for page.late.iter().map(|text| html! { <p class="soft">{ format!("{text}.") }</p> }) }
                </> } }) }
            }
            { super::sign_off::accepted("Accepted as it is", &page.excepted) }
            { part!(Section { title: "Copy", children: copies::save(&desk, &job) }) }
        </> } }) }
        { sheet.unwrap_or_default() }
        { count_sheet.unwrap_or_default() }
        </>
    }
}

#[derive(Properties, PartialEq)]
struct Line {
    job: AttrValue,
    row: AuditRow,
    oncount: Callback<LineId>,
    onexcept: Callback<()>,
}

/// One line: what is the matter, what to do, and the way there.
fn line(props: &Line) -> Html {
    let desk = the_desk();
    let row = &props.row;
    let job = props.job.clone();
    let tell = |command: Command| {
        let (desk, job) = (desk.clone(), job.clone());
        Callback::from(move |()| desk.tell(&job, command.clone()))
    };
    let act = match row.key.on {
        what if row.key.rule == Rule::NotSure => {
            let touched = Act::Touched {
                what,
                places: Vec::new(),
                sure: true,
            };
            html! { { part!(Button { label: "Touched and sure", about: row.what.clone(), icon: Icon::Check, onpress: tell(Command::Record(touched)) }) } }
        }
        Target::Inside(id) => {
            let (desk, job) = (desk.clone(), job.clone());
            html! { { part!(Button { label: taken_out(&desk, &job, id), about: row.what.clone(), icon: Icon::Check, onpress: Callback::from(move |()| take_out(&desk, &job, id)) }) } }
        }
        Target::Fluid(fluid) if row.key.rule == Rule::Bleed => {
            html! { { part!(Button { label: "Bled", about: row.what.clone(), icon: Icon::Fluid, onpress: tell(Command::Record(Act::FluidBled { fluid })) }) } }
        }
        Target::Fluid(fluid) if row.key.rule == Rule::LessIn => {
            html! { { part!(super::fluid::Level { job: job.clone(), fluid, about: row.what.clone() }) } }
        }
        Target::Fluid(fluid) => {
            html! { { part!(super::fluid::Fill { job: job.clone(), fluid, about: row.what.clone() }) } }
        }
        what if row.key.rule == Rule::IndependentCheck => {
            html! { { part!(super::second::SecondLook { job: job.clone(), what, about: row.what.clone() }) } }
        }
        // Settled on the page of the fixing, not of its part.
        Target::Fixing(id)
            if matches!(
                row.key.rule,
                Rule::HoleOld | Rule::OldOrNew | Rule::WouldBottom | Rule::HoldsTooLittle
            ) =>
        {
            let href = Route::Fixing {
                job: job.clone(),
                fixing: id.to_string().into(),
            }
            .href();
            html! { { part!(Button { label: "Go to it", about: row.what.clone(), icon: Icon::Bolt, href: href }) } }
        }
        Target::Fixing(fixing) if row.key.rule == Rule::LookAt => {
            html! { { part!(Button { label: "Looked at, all good", about: row.what.clone(), icon: Icon::Eye, onpress: tell(Command::Record(Act::LookedAt { fixing })) }) } }
        }
        Target::Supply(id) => {
            html! { { part!(Button { label: "On again", about: row.what.clone(), icon: Icon::Battery, onpress: tell(Command::Record(Act::SupplyRestored { supply: id })) }) } }
        }
        Target::Step(id) => {
            html! { { part!(super::cautions::Held { job: job.clone(), label: "Confirm", about: row.what.clone(), icon: Icon::Check, command: Command::Record(Act::SafeStepConfirmed { step: id }) }) } }
        }
        Target::AfterRun(id) => {
            html! { { part!(super::due::Done { job: job.clone(), check: id, about: row.what.clone() }) } }
        }
        Target::End(end) if row.part.is_none() => {
            let secured = row.key.rule != Rule::Rejoin;
            let (label, command) = if secured {
                let fast = desk.read(&job, |book| view::secure(book, end));
                let act = Act::EndSecured { end };
                (fast.unwrap_or_default(), Command::Record(act))
            } else {
                (
                    "On",
                    Command::Rejoin {
                        end,
                        seat: end,
                        anyway: false,
                    },
                )
            };
            html! { { part!(super::cautions::Held { job: job.clone(), label: label, about: row.what.clone(), icon: Icon::Rejoin, command: command }) } }
        }
        // Of a connection with both ends on the machine.
        Target::Item(item) if row.part.is_none() => {
            let fitted = Act::ItemFitted {
                item,
                n: row.n,
                old: false,
                reason: String::new(),
            };
            let label = if row.n > 1 {
                format!("All {} new ones fitted", row.n)
            } else {
                "New one fitted".to_owned()
            };
            html! { { part!(Button { label: label, about: row.what.clone(), icon: Icon::Renew, onpress: tell(Command::Record(fitted)) }) } }
        }
        Target::Line(line) if row.key.rule == Rule::Missing => html! { <>
            if row.n > 1 { { part!(Button { label: "One found", about: row.what.clone(), icon: Icon::Eye, onpress: tell(Command::Record(Act::Moved { line, from: Account::Missing, to: Account::Bench, n: 1, reason: "found".to_owned() })) }) } }
            { part!(Button { label: if row.n > 1 { format!("All {} found", row.n) } else { "Found".to_owned() }, about: row.what.clone(), icon: Icon::Eye, onpress: tell(Command::Record(Act::Moved { line, from: Account::Missing, to: Account::Bench, n: row.n, reason: "found".to_owned() })) }) }
        </> },
        Target::Line(line) => {
            let count = props.oncount.reform(move |()| line);
            html! { { part!(Button { label: "Count it", about: row.what.clone(), icon: Icon::Balance, onpress: count }) } }
        }
        Target::Stray(_) => html! {
            { part!(Button { label: "Identify it", about: row.what.clone(), icon: Icon::Ruler, href: Route::WhatBolt { job: job.clone() }.href() }) }
        },
        _ => html! {},
    };
    let leads = match row.part {
        Some(part) => Some(Route::PutBackPart {
            job: job.clone(),
            part: part.to_string().into(),
        }),
        None => row.on_job.then(|| Route::Job { job: job.clone() }),
    };
    // Its part stands beside it.
    let mark = match leads.as_ref() == Some(&router::current()) {
        true => RowMark::Chosen,
        false => RowMark::None,
    };
    let href = leads.map(|route| AttrValue::from(route.href()));
    let state = match row.key.rule {
        Rule::TakeOut => Standing::Danger,
        r if r.next() == Next::PutRight => Standing::Danger,
        Rule::Curing => Standing::Waiting,
        _ => Standing::Owed,
    };
    html! {
        { part!(ListRow { what: row.what.clone(), state: state, owed: row.todo.clone(), lies: format!("since {}", row.opened), mark: mark, href: href, children: html! { <>
            { act }
            if row.can_be_excepted && row.key.rule != Rule::IndependentCheck {
                { part!(Button { label: "Accept as it is", about: row.what.clone(), kind: ButtonKind::Quiet, onpress: props.onexcept.clone() }) }
            }
        </> } }) }
    }
}

crate::plain!(Line, line);

#[derive(Properties, PartialEq)]
struct ExceptSheet {
    job: AttrValue,
    row: AuditRow,
    onclose: Callback<()>,
}

/// Reasons that need no typing.
const REASONS: [&str; 3] = [
    "It was so before",
    "Comes later, and is known",
    "Not needed on this machine",
];

/// An exception carries a name and a reason.
#[hook]
fn use_except_sheet(props: &ExceptSheet) -> Html {
    let desk = the_desk();
    let reason = use_local(String::new);
    let by = use_local(|| desk.prefs().by);
    let people = desk.read(&props.job, view::people).unwrap_or_default();
    let readiness = match (by.trim().is_empty(), reason.trim().is_empty()) {
        (true, _) => Readiness::Blocked("Say who accepts it".into()),
        (_, true) => Readiness::Blocked("Say why".into()),
        _ => Readiness::Ready,
    };
    let accept = {
        let (desk, job, key) = (desk.clone(), props.job.clone(), props.row.key);
        let (by, reason) = (by.clone(), reason.clone());
        Callback::from(move |()| {
            router::close_sheet();
            let reason = (*reason).clone();
            desk.tell_as(&job, Command::Except { owed: key, reason }, &by);
        })
    };
    html! {
        { part!(Sheet { title: "Accept as it is", onclose: props.onclose.clone(), foot: html! {
            { part!(Button { label: "Accept, with my name", kind: ButtonKind::Main, icon: Icon::Check, readiness: readiness, onpress: accept }) }
        }, children: html! { <>
            <p>{ props.row.what.clone() }</p>
            <p class="soft">{ "It stays in the record with your name and reason. Brakes, steering and the like are for whoever is licensed to decide." }</p>
            { offered("Why", &REASONS.map(str::to_owned), &reason) }
            { part!(TextField { label: "Why, in words", value: (*reason).clone(), oninput: {let r = reason.clone(); Callback::from(move |t: AttrValue| r.set(t.to_string()))} }) }
            if people.len() > 1 { { offered("Who accepts it", &people, &by) } }
            { part!(TextField { label: if people.len() > 1 { "Somebody else" } else { "Who accepts it" }, value: (*by).clone(), oninput: {let b = by.clone(); Callback::from(move |t: AttrValue| b.set(t.to_string()))} }) }
        </> } }) }
    }
}

crate::live!(ExceptSheet, use_except_sheet);
