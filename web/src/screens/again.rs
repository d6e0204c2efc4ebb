//! After a break: the last things done to what was in hand, to be touched again
//! one by one before going on. And what was ticked in a way that asks for a
//! second touch: many at once, too fast, out of order.
use countback_core::job::Command;
use countback_core::journal::PartId;
use countback_core::view;
use yew::prelude::*;

use crate::app::Desk;
use crate::kit::{Banner, BannerKind, Button, ButtonKind, Icon, Section, Standing, StateTag};
use crate::part;

/// The card, while there is something to ask.
pub fn touch_again(desk: &Desk, job: &AttrValue) -> Html {
    let card = desk.broken_off(job).and_then(|broken| {
        desk.read(job, |book| view::resume_card(book, broken))
            .flatten()
    });
    let Some(card) = card else { return html! {} };
    let rows = card.touch.iter().map(|(touch, text)| {
        let answer = |sure: bool| {
            let (desk, job, touch) = (desk.clone(), job.clone(), *touch);
            Callback::from(move |()| desk.tell(&job, Command::Record(touch.answer(sure))))
        };
        html! {
            <div class="again__line">
                <span>{ text.clone() }</span>
                <div class="pair">
                    { part!(Button { label: "Sure", about: text.clone(), icon: Icon::Check, onpress: answer(true) }) }
                    { part!(Button { label: "Not sure", about: text.clone(), icon: Icon::Help, onpress: answer(false) }) }
                </div>
            </div>
        }
    });
    let go_on = {
        let (desk, job, act) = (desk.clone(), job.clone(), card.go_on());
        Callback::from(move |()| desk.tell(&job, Command::Record(act.clone())))
    };
    html! {
        { part!(Banner { kind: BannerKind::Caution, title: format!("{} Last in hand: {}. Touch these again.", card.why, card.hand), text: card.next.clone(), children: html! { <>
            { for rows }
            { part!(Button { label: "Go on", kind: ButtonKind::Quiet, onpress: go_on }) }
        </> } }) }
    }
}

/// Places that were ticked and not worked at, each to be touched once more:
/// those of one part, or of the whole job.
pub fn ticked(desk: &Desk, job: &AttrValue, part: Option<PartId>) -> Html {
    let rows = desk
        .read(job, |book| view::again_rows(book, part))
        .unwrap_or_default();
    if rows.is_empty() {
        return html! {};
    }
    let n: usize = rows.iter().map(|row| row.places.len().max(1)).sum();
    let hides = rows.iter().any(|row| row.under);
    let tell = |act| {
        let (desk, job) = (desk.clone(), job.clone());
        let command = Command::Record(act);
        Callback::from(move |()| desk.tell(&job, command.clone()))
    };
    html! {
        { part!(Section { title: "Touch these again", count: countback_core::words::plural(n as u32, if rows.iter().any(|row| row.places.is_empty()) { "thing" } else { "place" }), children: html! { <>
            <p class="soft">{ if hides { "Tap each with a hand on it, before it is out of sight. It stands in the record." } else { "Tap each with a hand on it. It stands in the record." } }</p>
            { for rows.iter().map(|row| html! {
                <div class="joint" key={format!("{}-{}", row.what, row.why)}>
                    <h3 class="joint__what">{ row.title.clone() }</h3>
                    { part!(StateTag { state: Standing::Owed, word: if row.safety { format!("{}; lives hang on it", row.why) } else { row.why.to_owned() } }) }
                    if row.places.is_empty() {
                        { part!(Button { label: "Touched and sure", about: row.title.clone(), icon: Icon::Check, onpress: tell(row.answer(Vec::new(), true)) }) }
                    }
                    <div class="places" role="group" aria-label={format!("Touch again, {}", row.title)}>
                        { for row.places.iter().map(|&(place, number)| {
                            let press = tell(row.answer(vec![place], true));
                            html! {
                                <button type="button" key={place} class="place place--owed" onclick={press.reform(|_: MouseEvent| ())}>
                                    <span class="unseen">{ "Place " }</span>
                                    <span class="place__number">{ number }</span>
                                    <span class="unseen">{ ", " }</span>
                                    <span class="place__word">{ "touch" }</span>
                                </button>
                            }
                        }) }
                    </div>
                    { part!(Button { label: "Not sure of them", about: row.title.clone(), icon: Icon::Help, kind: ButtonKind::Quiet, onpress: tell(row.answer(row.places.iter().map(|p| p.0).collect(), false)) }) }
                </div>
            }) }
        </> } }) }
    }
}
