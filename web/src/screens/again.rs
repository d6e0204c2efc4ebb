//! After a break: the last things done to what was in hand, to be touched again
//! one by one before going on.
use countback_core::job::Command;
use countback_core::view;
use yew::prelude::*;

use crate::app::Desk;
use crate::kit::{Banner, BannerKind, Button, ButtonKind, Icon};
use crate::part;

/// The card, while there is something to ask.
pub fn touch_again(desk: &Desk, job: &AttrValue) -> Html {
    let Some(since) = desk.standing().away_since else {
        return html! {};
    };
    let card = desk
        .read(job, |book| view::resume_card(book, since, desk.at()))
        .flatten();
    let Some(card) = card else { return html! {} };
    let rows = card.touch.iter().map(|(touch, text)| {
        let answer = |sure: bool| {
            let (desk, job, touch) = (desk.clone(), job.clone(), *touch);
            Callback::from(move |()| desk.tell(&job, Command::Record(touch.answer(sure))))
        };
        html! {
            <div class="again__line">
                <span>{ text.clone() }</span>
                { part!(Button { label: "Sure", about: text.clone(), icon: Icon::Check, onpress: answer(true) }) }
                { part!(Button { label: "Not sure", about: text.clone(), icon: Icon::Help, onpress: answer(false) }) }
            </div>
        }
    });
    let later = {
        let desk = desk.clone();
        Callback::from(move |()| desk.back_at_work())
    };
    html! {
        { part!(Banner { kind: BannerKind::Caution, title: format!("You were at {}. Touch the last ones again.", card.hand), text: card.next.clone(), children: html! { <>
            { for rows }
            { part!(Button { label: "Go on", kind: ButtonKind::Quiet, onpress: later }) }
        </> } }) }
    }
}
