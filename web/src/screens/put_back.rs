//! Put back: what comes out first, what can go back now, what blocks the rest,
//! what waits.
use crate::part;
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::view::{self, Row, RowState};
use yew::prelude::*;

use super::{OfJob, lost};
use crate::app::{Desk, the_desk};
use crate::kit::{
    Banner, BannerKind, Button, ButtonFace, ButtonKind, Count, CountSize, Empty, Icon, ListLength,
    ListRow, MainAct, Page, RowMark, Rows, Section, Standing,
};
use crate::router::{self, Route};

pub fn put_back(props: &OfJob) -> Html {
    let desk = the_desk();
    let job = props.job.clone();
    let Some(page) = desk.read(&job, |book| view::put_back_page(book, desk.at())) else {
        return lost();
    };
    if page.empty {
        return html! {
            { part!(Page { title: "Put back", children: html! { <>
                { part!(Empty { icon: Icon::PutBack, title: "Nothing is off.", text: "What you log under Take off is listed here, in the order in which it can go back.", children: html! { <>
                    { part!(Button { label: "Take off", icon: Icon::TakeOff, href: Route::TakeOff { job }.href() }) }
                </> } }) }
            </> } }) }
        };
    }
    let act = html! {
        { part!(MainAct { side: {html! {
            { part!(Button { label: "Undo the last entry", icon: Icon::Undo, face: ButtonFace::IconOnly, kind: ButtonKind::Quiet, onpress: {let (desk, job) = (desk.clone(), job.clone()); Callback::from(move |()| desk.strike_last(&job))} }) }
        }}, children: html! { <>
            { part!(Button { label: "Audit", kind: if page.all_back { ButtonKind::Main } else { ButtonKind::Plain }, face: ButtonFace::Wide, icon: Icon::Audit, href: Route::Audit { job: job.clone() }.href() }) }
        </> } }) }
    };
    let group = |title: &'static str, rows: &[Row], hint: Option<&'static str>| {
        if rows.is_empty() {
            return html! {};
        }
        html! {
            { part!(Section { title: title, count: rows.len().to_string(), children: html! { <>
                if let Some(hint) = hint { <p class="soft">{ hint }</p> }
                { part!(Rows { label: title, length: if rows.len() > 40 { ListLength::Long } else { ListLength::Short }, children: html! { <>
                    { for rows.iter().map(|row| line(&desk, &job, row)) }
                </> } }) }
            </> } }) }
        }
    };
    html! {
        { part!(Page { title: "Put back", side: html! { { part!(Count { n: page.n_back as u32, of: page.n_parts as u32, size: CountSize::Figure }) } }, act: act, children: html! { <>
            { super::again::touch_again(&desk, &job) }
            if !page.inside.is_empty() {
                { part!(Banner { kind: BannerKind::Danger, title: "Do not turn the engine. Something is inside.", children: html! { <>
                    { for page.inside.iter().map(|(id, text)| {
                        let (desk, job, id) = (desk.clone(), job.clone(), *id);
                        html! { { part!(Button { label: format!("Taken out: {text}"), icon: Icon::Rag, face: ButtonFace::Wide, onpress: Callback::from(move |()| take_out(&desk, &job, id)) }) } }
                    }) }
                </> } }) }
            }
            { group("Can go back now", &page.now, Some("The last off first. Any of these may be next.")) }
            { group("On, not finished", &page.begun, None) }
            { group("Something comes first", &page.blocked, None) }
            { group("Waiting", &page.waiting, None) }
            if page.all_back {
                { part!(Empty { icon: Icon::Settled, title: "All parts are back.", text: "The audit says whether anything else is owed.", children: html! { <>
                    { part!(Button { label: "Audit", icon: Icon::Audit, href: Route::Audit { job: job.clone() }.href() }) }
                </> } }) }
            }
        </> } }) }
    }
}

/// Takes everything of one kind out again.
pub fn take_out(desk: &Desk, job: &str, inside: InsideId) {
    let n = desk.read(job, |book| {
        book.job().insides.get(inside).map_or(0, |i| i.n_in)
    });
    if let Some(n) = n.filter(|n| *n > 0) {
        desk.tell(job, Command::Record(Act::TakenOut { inside, n }));
    }
}

fn line(desk: &Desk, job: &AttrValue, row: &Row) -> Html {
    let state = match row.state {
        RowState::Now => Standing::Can,
        RowState::Begun => Standing::Owed,
        RowState::Blocked => Standing::Blocked,
        RowState::Waiting => Standing::Waiting,
    };
    let owed = (!row.note.is_empty()).then(|| AttrValue::from(row.note.clone()));
    let lies = (!row.lies.is_empty()).then(|| AttrValue::from(row.lies.clone()));
    let lead = match row.what {
        Target::End(_) => Icon::Plug,
        _ => Icon::Part,
    };
    let act = match row.what {
        // An end on the machine has no page of its own: it is joined here.
        Target::End(end) if row.part.is_none() => {
            let (desk, job) = (desk.clone(), job.to_string());
            let begun = row.state == RowState::Begun;
            let label = if begun { "Fast" } else { "On" };
            let press = Callback::from(move |()| {
                let command = if begun {
                    Command::Record(Act::EndSecured { end })
                } else {
                    Command::Rejoin {
                        end,
                        seat: end,
                        anyway: false,
                    }
                };
                desk.tell(&job, command);
            });
            let can = matches!(row.state, RowState::Now | RowState::Begun);
            if can {
                html! { { part!(Button { label: label, about: row.title.clone(), icon: Icon::Check, onpress: press }) } }
            } else {
                html! {}
            }
        }
        _ => html! {},
    };
    let href = row.part.map(|part| {
        AttrValue::from(
            Route::PutBackPart {
                job: job.clone(),
                part: part.to_string().into(),
            }
            .href(),
        )
    });
    // Its page stands beside the list.
    let chosen = href.as_deref() == Some(router::current().href().as_str());
    let mark = if chosen {
        RowMark::Chosen
    } else {
        RowMark::None
    };
    html! {
        { part!(ListRow { what: row.title.clone(), mark: mark, lead: lead, lies: lies, tag: row.tags.first().cloned().map(AttrValue::from), state: state, owed: owed, href: href, children: html! { <>{ act }</> } }) }
    }
}
