//! All jobs on this phone; the first screen.
use crate::part;
use countback_core::view;
use yew::prelude::*;

use super::copies;
use crate::app::the_desk;
use crate::kit::{
    ActPlace, Button, ButtonFace, ButtonKind, Empty, Icon, ListRow, MainAct, Page, Rows, Standing,
};
use crate::router::Route;

pub fn jobs() -> Html {
    let desk = the_desk();
    let mut cards: Vec<(String, view::JobCard)> = desk
        .jobs()
        .into_iter()
        .filter_map(|key| {
            desk.read(&key, |book| view::job_card(book, desk.at()))
                .map(|card| (key, card))
        })
        .collect();
    cards.sort_by(|a, b| a.1.signed.cmp(&b.1.signed).then_with(|| b.0.cmp(&a.0)));
    let side = html! {
        { part!(Button { label: "Settings", icon: Icon::Settings, face: ButtonFace::IconOnly, kind: ButtonKind::Quiet, href: Route::Settings.href() }) }
    };
    let act = html! {
        { part!(MainAct { place: ActPlace::Bottom, children: html! { <>
            { part!(Button { label: "New job", kind: ButtonKind::Main, icon: Icon::Plus, href: Route::NewJob.href() }) }
        </> } }) }
    };
    html! {
        { part!(Page { title: "Jobs", side: side, act: act, children: html! { <>
            if cards.is_empty() {
                { part!(Empty { icon: Icon::Part, title: "What comes off is owed back.", text: "Log what you take off, close the phone, come back weeks later, and put it back against the log. It all stays on this phone and needs no network.", children: html! { <>
                    { copies::examples(&desk, ButtonKind::Plain) }
                    { copies::open(&desk) }
                </> } }) }
            } else {
                { part!(Rows { label: "Jobs", children: html! { <>
                    { for cards.iter().map(|(key, card)| card_row(key, card)) }
                </> } }) }
                { copies::open(&desk) }
                { copies::examples(&desk, ButtonKind::Quiet) }
            }
        </> } }) }
    }
}

fn card_row(key: &str, card: &view::JobCard) -> Html {
    let state = match card {
        c if c.danger => Standing::Danger,
        c if !c.due.is_empty() => Standing::Owed,
        c if c.signed => Standing::Settled,
        c if c.counts.owed > 0 => Standing::Owed,
        _ => Standing::Can,
    };
    // Danger goes first; what fell due before how much is owed.
    let owed = match card.due.is_empty() || card.danger {
        true => card.verdict.clone(),
        false => card.due.clone(),
    };
    let lies = match (card.machine.is_empty(), card.counts.off) {
        (true, n) => format!("{n} off"),
        (false, n) => format!("{}, {n} off", card.machine),
    };
    html! {
        { part!(ListRow { what: card.title.clone(), lies: lies, lead: Icon::Job, state: state, owed: owed, href: Route::Job { job: key.to_owned().into() }.href() }) }
    }
}
