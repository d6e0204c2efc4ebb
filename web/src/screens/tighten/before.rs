//! What is read before the first fastener is tightened.
use countback_core::journal::Hold;
use countback_core::view::{self, TightenPage};
use yew::prelude::*;

use crate::app::Desk;
use crate::kit::Page;
use crate::part;
use crate::router::Route;
use crate::screens::cautions;

/// The cautions that this job has not shown yet, one after the other; none once
/// all were read.
pub(super) fn to_read(
    desk: &Desk,
    job: &AttrValue,
    page: &TightenPage,
    back: &Route,
) -> Option<Html> {
    let read = cautions::read(desk, job);
    let left = desk.read(job, |book| view::pass_cautions(book.job(), page.id, &read))?;
    let it = left.first()?;
    Some(html! {
        { part!(Page { title: page.title.clone(), back: back.clone(), children: html! { <>
            <div class="pass-quiet">{ cautions::card(desk, job, it) }</div>
        </> } }) }
    })
}

/// What is tapped when it is so.
pub(super) const fn met(hold: Hold) -> &'static str {
    match hold {
        Hold::Neighbours => "Go on without them",
        Hold::Loaded => "It bears its weight now",
        Hold::Hot => "It is hot now",
    }
}

/// The chip that makes final wait.
pub(super) const fn hold_chip(hold: Hold) -> &'static str {
    match hold {
        Hold::Neighbours => "when its neighbours are in",
        Hold::Loaded => "bearing its weight",
        Hold::Hot => "at working heat",
    }
}
