//! Counting a line again: what is really there, what is spare, what is scrap.
use crate::kit::use_local;
use crate::part;
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::view;
use yew::prelude::*;

use crate::app::the_desk;
use crate::kit::{Button, ButtonFace, ButtonKind, Icon, Section, Sheet, Stepper};
use crate::router;

/// The sheet in which a line is counted.
#[derive(Properties, PartialEq)]
pub struct CountSheet {
    pub job: AttrValue,
    pub line: LineId,
    pub onclose: Callback<()>,
}

/// What was set for the other accounts.
fn others(found: &[(Account, u32)], at: Account) -> Vec<(Account, u32)> {
    let mut left = found.to_vec();
    left.retain(|(of, _)| *of != at);
    left
}

/// What was found in each account; an account that was not touched is right.
#[hook]
fn use_count_sheet(props: &CountSheet) -> Html {
    let desk = the_desk();
    let found = use_local(Vec::<(Account, u32)>::new);
    let some = use_local(Vec::<(Account, u32)>::new);
    let Some(count) = desk
        .read(&props.job, |book| view::line_count(book, props.line))
        .flatten()
    else {
        return html! {};
    };
    let line = count.line;
    let rows = count.loose.iter().map(|(at, n, text)| {
        let (at, booked) = (*at, *n);
        let now = found.iter().find(|(a, _)| *a == at).map_or(*n, |&(_, n)| n);
        let choose = {
            let some = some.clone();
            Callback::from(move |n: u32| {
                let mut next = (*some).clone();
                next.retain(|(a, _)| *a != at);
                next.push((at, n));
                some.set(next);
            })
        };
        let set = {
            let found = found.clone();
            Callback::from(move |n: u32| {
                let mut next = others(&found, at);
                // As it is booked: nothing was set.
                if n != booked {
                    next.push((at, n));
                }
                found.set(next);
            })
        };
        let tell = |command: Command| {
            let (desk, job) = (desk.clone(), props.job.clone());
            let (found, left) = (found.clone(), others(&found, at));
            Callback::from(move |()| {
                // What is set for the others is not said yet.
                match left.is_empty() {
                    true => router::close_sheet(),
                    false => found.set(left.clone()),
                }
                desk.tell(&job, command.clone());
            })
        };
        let recount = tell(Command::Recount { line, account: at, found: now, reason: "counted again".to_owned() });
        let some = some.iter().find(|(a, _)| *a == at).map_or(1, |&(_, n)| n).min(*n);
        let moved = |to: Account, reason: &str| {
            tell(Command::Record(Act::Moved { line, from: at, to, n: some, reason: reason.to_owned() }))
        };
        html! {
            { part!(Section { title: text.clone(), count: format!("{n} booked"), children: html! { <>
                { part!(Stepper { label: "Really there", value: now, onchange: set }) }
                { part!(Button { label: format!("{now} counted"), icon: Icon::Check, face: ButtonFace::Wide, onpress: recount }) }
                if *n > 1 { { part!(Stepper { label: "Of these, not to go back", value: some, min: 1, max: *n, onchange: choose }) } }
                <div class="pair">
                    { part!(Button { label: format!("Keep {some} as spare"), icon: Icon::Shelf, kind: ButtonKind::Quiet, onpress: moved(Account::Spare, "kept as spare") }) }
                    { part!(Button { label: format!("Scrap {some}"), icon: Icon::Close, kind: ButtonKind::Quiet, onpress: moved(Account::Scrapped, "not fit to go back") }) }
                </div>
            </> } }) }
        }
    });
    let new = {
        let (desk, job, found) = (desk.clone(), props.job.clone(), found.clone());
        Callback::from(move |()| {
            if found.is_empty() {
                router::close_sheet();
            }
            desk.tell(
                &job,
                Command::Record(Act::StockAdded {
                    line,
                    to: Account::Bench,
                    n: 1,
                }),
            );
        })
    };
    html! {
        { part!(Sheet { title: count.name.clone(), onclose: props.onclose.clone(), children: html! { <>
            if count.missing > 0 {
                <p>{ format!("{} missing. Look in the machine before anything is closed.", count.missing) }</p>
            }
            { for rows }
            { part!(Button { label: "A new one came", icon: Icon::Plus, face: ButtonFace::Wide, onpress: new }) }
        </> } }) }
    }
}

crate::live!(CountSheet, use_count_sheet);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_set_for_others_is_not_lost_with_one() {
        let found = [(Account::Bench, 3), (Account::Spare, 1)];
        assert_eq!(others(&found, Account::Bench), [(Account::Spare, 1)]);
        assert_eq!(others(&found[..1], Account::Bench), []);
    }
}
