//! Put back: what comes out first, what can go back now, what blocks the rest,
//! what waits.
use crate::part;
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::view::{self, Group, HeldRow, Row, RowState};
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
    let work = desk.at_work(&job);
    let Some(page) = desk.read(&job, |book| view::put_back_page(book, desk.at(), &work)) else {
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
        { part!(MainAct { children: html! { <>
            if let (Some(next), Some(href)) = (&page.next, page.next.as_ref().and_then(|n| part_href(&job, n))) {
                { part!(Button { label: format!("Next: {}", next.title), kind: ButtonKind::Main, icon: Icon::PutBack, href: href }) }
            } else {
                { part!(Button { label: "Audit", kind: if page.all_back { ButtonKind::Main } else { ButtonKind::Plain }, face: ButtonFace::Wide, icon: Icon::Audit, href: Route::Audit { job: job.clone() }.href() }) }
            }
        </> } }) }
    };
    let group = |title: &'static str, rows: &[Row]| {
        if rows.is_empty() {
            return html! {};
        }
        html! {
            { part!(Section { title: title, count: rows.len().to_string(), children: html! { <>
                { part!(Rows { label: title, length: if rows.len() > 40 { ListLength::Long } else { ListLength::Short }, children: html! { <>
                    { for rows.iter().map(|row| line(&job, row)) }
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
                        html! { { part!(Button { label: format!("{}: {text}", taken_out(&desk, &job, id)), icon: Icon::Rag, face: ButtonFace::Wide, onpress: Callback::from(move |()| take_out(&desk, &job, id)) }) } }
                    }) }
                </> } }) }
            }
            { for page.open.iter().map(|(text, over)| {
                let (kind, icon) = if *over { (BannerKind::Danger, Icon::Stop) } else { (BannerKind::Caution, Icon::Cure) };
                part!(Banner { title: text.clone(), kind, icon })
            }) }
            { for page.cured.iter().map(|it| part!(Banner { title: it.clone(), icon: Icon::Cure })) }
            if page.n_now > 0 {
                { part!(Section { title: "Can go back now", count: page.n_now.to_string(), children: html! { <>
                    <p class="soft">{ "Any of these may be next. " }{ page.changes.clone() }</p>
                    { for page.now.iter().map(|g| from_here(&job, g)) }
                </> } }) }
            }
            { group("On, not finished", &page.begun) }
            { part!(Button { label: "Picture", icon: Icon::SubAssembly, face: ButtonFace::Wide, href: Route::Picture { job: job.clone() }.href() }) }
            { group("Waiting", &page.waiting) }
            { held(&desk, &job, &page.held) }
            { group("Something comes first", &page.blocked) }
            if page.all_back {
                { part!(Empty { icon: Icon::Settled, title: "All parts are back.", text: "The audit says whether anything else is owed.", children: html! { <>
                    { part!(Button { label: "Audit", icon: Icon::Audit, href: Route::Audit { job: job.clone() }.href() }) }
                </> } }) }
            }
        </> } }) }
    }
}

/// What can be done from one position.
fn from_here(job: &AttrValue, group: &Group) -> Html {
    html! {
        <>
            if !group.title.is_empty() { <h3 class="from-here">{ group.title.clone() }</h3> }
            { part!(Rows { label: "Can go back now", length: if group.rows.len() > 40 { ListLength::Long } else { ListLength::Short }, children: html! { <>
                { for group.rows.iter().map(|row| line(job, row)) }
            </> } }) }
        </>
    }
}

/// What is waited for, and what it holds up; the first few at once.
fn held(desk: &Desk, job: &AttrValue, rows: &[HeldRow]) -> Html {
    const FIRST: usize = 4;
    if rows.is_empty() {
        return html! {};
    }
    let (first, rest) = rows.split_at(rows.len().min(FIRST));
    let list = |label: &'static str, rows: &[HeldRow]| {
        let rows = rows.iter().map(|row| held_line(desk, job, row));
        part!(Rows {
            label: label,
            children: html! { <>{ for rows }</> }
        })
    };
    html! {
        { part!(Section { title: "Held up by", count: rows.len().to_string(), children: html! { <>
            { list("Held up by", first) }
            if !rest.is_empty() {
                <details>
                    <summary class="button button--plain button--wide">{ format!("{} more", rest.len()) }</summary>
                    { list("Held up by, the rest", rest) }
                </details>
            }
        </> } }) }
    }
}

fn held_line(desk: &Desk, job: &AttrValue, row: &HeldRow) -> Html {
    let (desk, job) = (desk.clone(), job.clone());
    let arrived = row.arrived.clone().map(|command| {
        let press = Callback::from(move |()| desk.tell(&job, command.clone()));
        part!(Button {
            label: "Arrived",
            about: row.by.clone(),
            icon: Icon::Check,
            onpress: press
        })
    });
    part!(ListRow {
        what: row.by.clone(),
        lead: Icon::Cure,
        lies: row.holds.clone(),
        state: Standing::Waiting,
        owed: row.note.clone(),
        children: html! { <>{ arrived.unwrap_or_default() }</> }
    })
}

/// The page on which a line is settled.
fn part_href(job: &AttrValue, row: &Row) -> Option<String> {
    row.part.map(|part| {
        Route::PutBackPart {
            job: job.clone(),
            part: part.to_string().into(),
        }
        .href()
    })
}

/// Takes everything of one kind out again.
///
/// One at a time: a tap for all of them would say of the rag that is still in
/// there that it is out.
pub fn take_out(desk: &Desk, job: &str, inside: InsideId) {
    if still_in(desk, job, inside) > 0 {
        desk.tell(job, Command::Record(Act::TakenOut { inside, n: 1 }));
    }
}

/// What the button for it says.
pub fn taken_out(desk: &Desk, job: &str, inside: InsideId) -> String {
    match still_in(desk, job, inside) {
        0 | 1 => "Taken out".to_owned(),
        n => format!("One of {n} taken out"),
    }
}

fn still_in(desk: &Desk, job: &str, inside: InsideId) -> u32 {
    let n = desk.read(job, |book| book.job().insides.get(inside).map(|i| i.n_in));
    n.flatten().unwrap_or_default()
}

fn line(job: &AttrValue, row: &Row) -> Html {
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
        Target::End(_) if row.part.is_none() && row.look => {
            part!(super::second::SecondLook {
                job: job.clone(),
                what: row.what,
                about: row.title.clone()
            })
        }
        // An end on the machine has no page of its own: it is joined here.
        Target::End(end) if row.part.is_none() => {
            let begun = row.state == RowState::Begun;
            let fast = || the_desk().read(job, |book| view::secure(book, end));
            let label = match begun {
                true => fast().unwrap_or_default(),
                false => "On",
            };
            let command = if begun {
                Command::Record(Act::EndSecured { end })
            } else {
                Command::Rejoin {
                    end,
                    seat: end,
                    anyway: false,
                }
            };
            let can = matches!(row.state, RowState::Now | RowState::Begun);
            if can {
                html! { { part!(super::cautions::Held { job: job.clone(), label: label, about: row.title.clone(), icon: Icon::Check, command: command }) } }
            } else {
                html! {}
            }
        }
        _ => html! {},
    };
    let href = part_href(job, row).map(AttrValue::from);
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
