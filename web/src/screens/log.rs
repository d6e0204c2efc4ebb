//! The log: every entry, the struck ones too, the latest first.
use crate::part;
use countback_core::job::Command;
use countback_core::view;
use yew::prelude::*;

use super::{Lost, OfJob};
use crate::app::use_desk;
use crate::kit::{Button, ButtonKind, Icon, ListLength, ListRow, Page, RowMark, Rows};
use crate::router::Route;

/// Entries shown before more are asked for.
const AT_ONCE: usize = 200;

#[component]
pub fn Log(props: &OfJob) -> Html {
    let desk = use_desk();
    let most = use_state(|| AT_ONCE);
    let job = props.job.clone();
    let Some((rows, total)) = desk.read(&job, |book| {
        (view::log(book, desk.at(), *most), book.journal().len())
    }) else {
        return html! { <Lost /> };
    };
    html! {
        { part!(Page { title: "Log", under: format!("{total} entries"), back: Route::Job { job: job.clone() }, children: html! { <>
            { part!(Rows { label: "Entries, the latest first", length: ListLength::Long, children: html! { <>
                { for rows.iter().map(|row| {
                    let strike = {
                        let (desk, job, event) = (desk.clone(), job.clone(), row.id);
                        Callback::from(move |()| desk.tell(&job, Command::Strike { event }))
                    };
                    let by = if row.by.is_empty() { row.when.clone() } else { format!("{}, {}", row.when, row.by) };
                    html! {
                        { part!(ListRow { what: row.text.clone(), lies: by, mark: if row.struck { RowMark::Struck } else { RowMark::None }, children: html! { <>
                            if !row.struck { { part!(Button { label: "Strike", about: row.text.clone(), kind: ButtonKind::Quiet, icon: Icon::Undo, onpress: strike }) } }
                        </> } }) }
                    }
                }) }
            </> } }) }
            if rows.len() < total {
                { part!(Button { label: "Earlier entries", icon: Icon::Down, onpress: {let m = most.clone(); Callback::from(move |()| m.set(*m + AT_ONCE))} }) }
            }
        </> } }) }
    }
}
