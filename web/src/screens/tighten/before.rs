//! What is read before the first fastener is tightened.
use countback_core::caution::DEFERS;
use countback_core::journal::Hold;
use countback_core::view::{self, TightenPage};
use yew::prelude::*;

use crate::app::Desk;
use crate::kit::{Caution, Gravity, IArray, Page};
use crate::part;
use crate::router::Route;

/// The cautions that this job has not shown yet, one after the other; none once
/// all were read.
pub(super) fn cautions(
    desk: &Desk,
    job: &AttrValue,
    page: &TightenPage,
    back: &Route,
) -> Option<Html> {
    let key = format!("cautions.{job}");
    let read = desk.typed(&key).unwrap_or_default();
    let left = desk.read(job, |book| view::pass_cautions(book.job(), page.id, &read))?;
    let it = left.first()?;
    let onread = {
        let (desk, read) = (desk.clone(), format!("{read}{}\n", it.title));
        Callback::from(move |()| {
            desk.keep_typed(&key, &read);
            desk.changed();
        })
    };
    let gravity = if it.grave {
        Gravity::Danger
    } else {
        Gravity::Care
    };
    let lines: IArray<AttrValue> = it.lines.iter().map(|&l| AttrValue::from(l)).collect();
    Some(html! {
        { part!(Page { title: page.title.clone(), back: back.clone(), children: html! { <>
            <div class="pass-quiet">{ part!(Caution { title: it.title, lines: lines, gravity: gravity, defers: DEFERS, onread: onread }) }</div>
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
