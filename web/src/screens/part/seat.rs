//! An end that is on a seat which is not its own: refused with whose seat it
//! is, or logged as it is, which the audit then names.
use countback_core::job::{Command, Refusal};
use countback_core::journal::*;
use countback_core::view;
use yew::prelude::*;

use super::super::cautions;
use super::add::chips;
use crate::app::{Told, the_desk};
use crate::kit::{
    Banner, BannerKind, Button, ButtonKind, ChipRow, Icon, Readiness, Sheet, use_local,
};
use crate::part;
use crate::router;

#[derive(Properties, PartialEq)]
pub struct OtherSeat {
    pub job: AttrValue,
    pub end: EndId,
    pub title: AttrValue,
}

#[hook]
fn use_other_seat(props: &OtherSeat) -> Html {
    let desk = the_desk();
    let open = use_local(|| false);
    let seat = use_local(|| None::<EndId>);
    let refused = use_local(String::new);
    let end = props.end;
    let seats = desk
        .read(&props.job, |book| view::other_seats(book, end))
        .unwrap_or_default();
    if seats.is_empty() && !*open {
        return html! {};
    }
    let log = |anyway: bool| {
        let (desk, job, seat, refused) = (desk.clone(), props.job.clone(), *seat, refused.clone());
        Callback::from(move |()| {
            let Some(seat) = seat else { return };
            let (desk2, job2, refused) = (desk.clone(), job.clone(), refused.clone());
            let done = Callback::from(move |told: Told| match told {
                Told::Refused(why @ Refusal::WrongEnd { .. }) => {
                    refused.set(desk2.refusal(&job2, &why));
                }
                Told::Refused(why) => {
                    router::close_sheet();
                    desk2.refuse(&job2, &why);
                }
                _ => router::close_sheet(),
            });
            desk.try_tell(&job, Command::Rejoin { end, seat, anyway }, done);
        })
    };
    let sheet = open.then(|| {
        let shut = {
            let open = open.clone();
            Callback::from(move |()| open.set(false))
        };
        let offered = chips(
            seats
                .iter()
                .map(|(id, name)| (name.as_str(), *seat == Some(*id))),
        );
        let pick = {
            let (seat, seats, refused) = (seat.clone(), seats.clone(), refused.clone());
            Callback::from(move |n: u32| {
                refused.set(String::new());
                seat.set(seats.get(n as usize).map(|s| s.0));
            })
        };
        let asked = seat.map(|seat| Command::Rejoin {
            end,
            seat,
            anyway: true,
        });
        let left = cautions::unread(&desk, &props.job, asked.as_slice());
        let readiness = match seat.is_some() {
            true => cautions::hold(&left),
            false => Readiness::Blocked("Choose where it is".into()),
        };
        let foot = if refused.is_empty() {
            html! { { part!(Button { label: "It is on there", kind: ButtonKind::Main, icon: Icon::Rejoin, readiness: readiness, onpress: log(false) }) } }
        } else {
            html! { <>
                { part!(Banner { kind: BannerKind::Danger, title: (*refused).clone(), text: "Take it off again, or log it as it is: the audit then names it until each is on its own seat." }) }
                { part!(Button { label: "Log it as it is", kind: ButtonKind::Danger, icon: Icon::Warning, onpress: log(true) }) }
            </> }
        };
        part!(Sheet { title: "On another seat", onclose: shut, foot: foot, children: html! { <>
            <p>{ props.title.clone() }</p>
            { part!(ChipRow::<u32> { label: "It is on the seat of", items: offered, onpress: pick }) }
            { cautions::cards(&desk, &props.job, &left) }
        </> } })
    });
    let press = {
        let (open, seat, refused) = (open.clone(), seat.clone(), refused.clone());
        Callback::from(move |()| {
            seat.set(None);
            refused.set(String::new());
            open.set(true);
        })
    };
    html! {
        <>
            { part!(Button { label: "On another seat", about: props.title.clone(), kind: ButtonKind::Quiet, icon: Icon::Warning, onpress: press }) }
            { sheet.unwrap_or_default() }
        </>
    }
}

crate::live!(OtherSeat, use_other_seat);
