//! The to-buy list: like things together for all parts, ordered and arrived by
//! a tap, taken along as text or as a table.
use crate::part;
mod own;

use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::view::{self, BuyLine, ToBuyPage};
use yew::prelude::*;

use super::{OfJob, lost};
use crate::app::{Desk, the_desk};
use crate::kit::{
    Button, ButtonFace, ButtonKind, Count, CountSize, Empty, Icon, ListRow, MainAct, Page, Rows,
    Standing, Tally,
};
use crate::router::Route;

pub fn to_buy(props: &OfJob) -> Html {
    let desk = the_desk();
    let job = props.job.clone();
    let Some(page) = desk.read(&job, |book| view::to_buy_page(book, desk.at())) else {
        return lost();
    };
    let back = Route::Job { job: job.clone() };
    if page.lines.is_empty() {
        return html! {
            { part!(Page { title: "To buy", back: back, children: html! { <>
                { part!(Empty { icon: Icon::ToBuy, title: "Nothing to buy.", text: "One-use things that come off, fasteners taken new and parts to renew are listed here, each with its size and count." }) }
                { part!(own::OwnLine { job: job.clone() }) }
            </> } }) }
        };
    }
    let total: u32 = page.lines.iter().map(|l| l.n).sum();
    let state = if page.to_order == 0 {
        Standing::Waiting
    } else {
        Standing::Owed
    };
    html! {
        { part!(Page { title: "To buy", under: page.title.clone(), back: back, side: html! { { part!(Count { n: total, state: state, size: CountSize::Figure }) } }, act: take_along(&desk, &page), children: html! { <>
            <p class="soft">{ if page.to_order == 0 { "All of it is on order.".to_owned() } else { format!("{} still to be ordered.", page.to_order) } }</p>
            { part!(Rows { label: "To buy", children: html! { <>{ for page.lines.iter().map(|l| line(&desk, &job, l)) }</> } }) }
            { part!(own::OwnLine { job: job.clone() }) }
        </> } }) }
    }
}

/// Text by the clipboard, a table as a file.
fn take_along(desk: &Desk, page: &ToBuyPage) -> Html {
    let copy = {
        let (desk, text) = (desk.clone(), page.text.clone());
        Callback::from(move |()| desk.copy_text(&text))
    };
    let save = {
        let (desk, csv, title) = (desk.clone(), page.csv.clone(), page.title.clone());
        Callback::from(move |()| {
            desk.hand_out(&format!("to buy {title}"), "csv", "text/csv", &csv);
        })
    };
    html! {
        { part!(MainAct { children: html! { <div class="pair">
            { part!(Button { label: "Copy as text", kind: ButtonKind::Main, icon: Icon::Note, onpress: copy }) }
            { part!(Button { label: "Save as CSV", face: ButtonFace::Wide, icon: Icon::SaveCopy, onpress: save }) }
        </div> } }) }
    }
}

fn line(desk: &Desk, job: &AttrValue, line: &BuyLine) -> Html {
    // Each want is booked by itself: it is for a part of its own.
    let tell = |act: fn(Want, u32, u32) -> Option<Act>| {
        let (desk, job, wants) = (desk.clone(), job.clone(), line.wants.clone());
        Callback::from(move |()| {
            for &(want, n, on_order) in &wants {
                if let Some(act) = act(want, n, on_order) {
                    desk.tell(&job, Command::Record(act));
                }
            }
        })
    };
    let ordered = line.on_order >= line.n;
    let (state, owed) = match (ordered, line.on_order) {
        (true, _) => (Standing::Waiting, "ordered".to_owned()),
        (_, 0) => (Standing::Owed, "not ordered".to_owned()),
        (_, n) => (Standing::Owed, format!("{n} ordered")),
    };
    let order = tell(|want, n, on_order| {
        let n = n.saturating_sub(on_order);
        (n > 0).then_some(Act::Ordered { want, n })
    });
    let arrive = tell(|want, n, _| Some(Act::Arrived { want, n }));
    // Of several, one alone: of what was ordered first.
    let one = {
        let (desk, job, first) = (desk.clone(), job.clone(), line.wants.first().map(|it| it.0));
        Callback::from(move |()| {
            if let Some(want) = first {
                desk.tell(&job, Command::Record(Act::Arrived { want, n: 1 }));
            }
        })
    };
    part!(ListRow {
        what: line.text.clone(),
        lies: line.for_.join("; "),
        lead: Icon::Delivery,
        tally: Tally {
            n: line.n,
            of: None
        },
        state: state,
        owed: owed,
        children: html! { <>
            if !ordered { { part!(Button { label: "Ordered", about: line.text.clone(), kind: ButtonKind::Quiet, onpress: order }) } }
            if line.n > 1 { { part!(Button { label: "One arrived", about: line.text.clone(), kind: ButtonKind::Quiet, onpress: one }) } }
            { part!(Button { label: if line.n > 1 { "All arrived" } else { "Arrived" }, about: line.text.clone(), icon: Icon::Check, onpress: arrive }) }
        </> }
    })
}
