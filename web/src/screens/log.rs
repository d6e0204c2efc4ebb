//! The log: every entry, the struck ones too, the latest first.
use crate::kit::use_local;
use crate::part;
use countback_core::job::Command;
use countback_core::view;
use yew::prelude::*;

use super::{OfJob, lost};
use crate::app::the_desk;
use crate::kit::{Button, ButtonKind, Icon, ListLength, ListRow, Page, RowMark, Rows};
use crate::router::Route;

/// Entries shown before more are asked for.
const AT_ONCE: usize = 200;

#[hook]
pub fn use_log(props: &OfJob) -> Html {
    let desk = the_desk();
    let most = use_local(|| AT_ONCE);
    let job = props.job.clone();
    let Some((rows, total)) = desk.read(&job, |book| {
        (view::log(book, desk.at(), *most), book.journal().len())
    }) else {
        return lost();
    };
    html! {
        { part!(Page { title: "Log", under: countback_core::words::plural(total as u32, "entry"), back: Route::Job { job: job.clone() }, children: html! { <>
            { part!(Rows { label: "Entries, the latest first", length: ListLength::Long, children: html! { <>
                { for rows.iter().map(|row| {
                    let strike = {
                        let (desk, job, event) = (desk.clone(), job.clone(), row.id);
                        Callback::from(move |()| desk.tell(&job, Command::Strike { event }))
                    };
                    let by = view::made(row);
                    html! {
                        { part!(ListRow { what: row.text.clone(), lies: by, mark: if row.struck { RowMark::Struck } else { RowMark::None }, children: html! { <>
                            if row.can_strike { { part!(Button { label: "Strike", about: row.text.clone(), kind: ButtonKind::Quiet, icon: Icon::Undo, onpress: strike }) } }
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
