//! The second look: by another name than whoever did the work, or let go with
//! a name and a reason; and what a part would hide before it is placed.
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::view::{self, CheckAsk, HiddenRow};
use yew::prelude::*;

use crate::app::{Desk, the_desk};
use crate::kit::{
    Banner, Button, ButtonFace, ButtonKind, ChipItem, ChipRow, IArray, Icon, ListRow, Readiness,
    Rows, Section, Sheet, Standing, TextField, use_local,
};
use crate::part;
use crate::router::{self, Route};

/// The button that asks for a second look, with the sheet behind it.
#[derive(Properties, PartialEq)]
pub struct SecondLook {
    pub job: AttrValue,
    pub what: Target,
    /// What it is about, read out; empty where that stands above it.
    #[prop_or_default]
    pub about: Option<AttrValue>,
}

#[hook]
fn use_second_look(props: &SecondLook) -> Html {
    let desk = the_desk();
    let open = use_local(|| false);
    let letting_go = use_local(|| false);
    let name = use_local(String::new);
    let reason = use_local(String::new);
    let shut = {
        let open = open.clone();
        Callback::from(move |()| open.set(false))
    };
    let press = {
        let (open, letting_go, name) = (open.clone(), letting_go.clone(), name.clone());
        Callback::from(move |()| {
            letting_go.set(false);
            name.set(String::new());
            open.set(true);
        })
    };
    let ask = match *open {
        true => desk
            .read(&props.job, |book| {
                view::check_ask(book, props.what, desk.at())
            })
            .flatten(),
        false => None,
    };
    let sheet = ask.map(|ask| match *letting_go {
        false => looks(&desk, &props.job, &ask, &name, &shut, {
            let (letting_go, name, by) = (letting_go.clone(), name.clone(), desk.prefs().by);
            Callback::from(move |()| {
                name.set(by.clone());
                letting_go.set(true);
            })
        }),
        true => lets_go(&desk, &props.job, &ask, (&name, &reason), &shut),
    });
    html! {
        <>
            { part!(Button { label: "Second look", about: props.about.clone(), face: ButtonFace::Wide, icon: Icon::SecondCheck, onpress: press }) }
            { sheet.unwrap_or_default() }
        </>
    }
}

crate::live!(SecondLook, use_second_look);

type Text = crate::kit::State<String>;

fn typing(into: &Text) -> Callback<AttrValue> {
    let into = into.clone();
    Callback::from(move |text: AttrValue| into.set(text.to_string()))
}

/// Chips that fill a text, for what need not be typed.
pub fn offered(label: &'static str, texts: &[String], into: &Text) -> Html {
    let items: IArray<ChipItem<u8>> = (0_u8..)
        .zip(texts)
        .map(|(n, text)| ChipItem::new(n, text.clone(), **into == *text))
        .collect();
    let (texts, into) = (texts.to_vec(), into.clone());
    let press = Callback::from(move |n: u8| {
        if let Some(text) = texts.get(usize::from(n)) {
            into.set(text.clone());
        }
    });
    part!(ChipRow::<u8> {
        label: label,
        items: items,
        onpress: press
    })
}

fn looks(
    desk: &Desk,
    job: &AttrValue,
    ask: &CheckAsk,
    name: &Text,
    shut: &Callback<()>,
    let_go: Callback<()>,
) -> Html {
    let who = name.trim().to_owned();
    let (label, readiness) = match who.is_empty() {
        true => (
            "Looked at it".to_owned(),
            Readiness::Blocked("Say who looks".into()),
        ),
        false => (format!("Looked at by {who}"), Readiness::Ready),
    };
    let done = {
        let (desk, job, what) = (desk.clone(), job.clone(), ask.what);
        Callback::from(move |()| {
            router::close_sheet();
            desk.tell_as(&job, Command::Check { what }, &who);
        })
    };
    html! {
        { part!(Sheet { title: "Second look", onclose: shut.clone(), foot: html! {
            { part!(Button { label: label, kind: ButtonKind::Main, icon: Icon::SecondCheck, readiness: readiness, onpress: done }) }
        }, children: html! { <>
            <p class="strong">{ ask.name.clone() }</p>
            <p>{ format!("Done by {}. Other eyes look, other hands touch it, and their name stands in the record.", ask.did) }</p>
            if !ask.others.is_empty() { { offered("Who looks", &ask.others, name) } }
            { part!(TextField { label: if ask.others.is_empty() { "Who looks" } else { "Somebody else" }, value: (**name).clone(), oninput: typing(name) }) }
            if ask.owed.is_some() {
                { part!(Button { label: "There is nobody else", kind: ButtonKind::Quiet, icon: Icon::Person, onpress: let_go }) }
            }
        </> } }) }
    }
}

/// Reasons that need no typing.
const REASONS: [&str; 2] = ["I work alone", "A workshop checks it before use"];

fn lets_go(
    desk: &Desk,
    job: &AttrValue,
    ask: &CheckAsk,
    (name, reason): (&Text, &Text),
    shut: &Callback<()>,
) -> Html {
    let who = name.trim().to_owned();
    let readiness = match (who.is_empty(), reason.trim().is_empty()) {
        (true, _) => Readiness::Blocked("Say who answers for it".into()),
        (_, true) => Readiness::Blocked("Say why".into()),
        _ => Readiness::Ready,
    };
    let done = {
        let (desk, job, owed, why) = (desk.clone(), job.clone(), ask.owed, (**reason).clone());
        Callback::from(move |()| {
            router::close_sheet();
            if let Some(owed) = owed {
                let reason = why.clone();
                desk.tell_as(&job, Command::Except { owed, reason }, &who);
            }
        })
    };
    html! {
        { part!(Sheet { title: "Second look", onclose: shut.clone(), foot: html! {
            { part!(Button { label: "Let it go, with my name", kind: ButtonKind::Danger, face: ButtonFace::Wide, icon: Icon::Warning, readiness: readiness, onpress: done }) }
        }, children: html! { <>
            <p class="strong">{ ask.name.clone() }</p>
            <p>{ format!("The record then says that no second person has looked, who let it go and why; and where that is {}, that nobody else has seen the work.", ask.did) }</p>
            { offered("Why", &REASONS.map(str::to_owned), reason) }
            { part!(TextField { label: "Why, in words", value: (**reason).clone(), oninput: typing(reason) }) }
            { part!(TextField { label: "Who answers for it", value: (**name).clone(), oninput: typing(name) }) }
        </> } }) }
    }
}

/// What placing a part would hide, on its page, before it is placed.
pub fn would_hide(desk: &Desk, job: &AttrValue, part: PartId) -> Html {
    let work = desk.at_work(job);
    let hides = desk.read(job, |book| view::hides(book, part, &work));
    let hides = hides.unwrap_or_default();
    html! {
        <>
            if !hides.owed.is_empty() {
                { part!(Section { title: "It would hide what is owed", count: hides.owed.len().to_string(), children: html! { <>
                    { hidden(job, "It would hide what is owed", &hides.owed, Standing::Owed) }
                </> } }) }
            }
            if !hides.still.is_empty() {
                { part!(Banner { title: hides.still.clone(), text: "Keep that way open until it is done." }) }
            }
            if !hides.advised.is_empty() {
                { part!(Section { title: "Look once more before it is hidden", count: hides.advised.len().to_string(), children: html! { <>
                    { hidden(job, "Look once more before it is hidden", &hides.advised, Standing::Can) }
                </> } }) }
            }
        </>
    }
}

fn hidden(job: &AttrValue, label: &'static str, rows: &[HiddenRow], state: Standing) -> Html {
    html! {
        { part!(Rows { label: label, children: html! { <>
            { for rows.iter().map(|row| hidden_row(job, row, state, row.can_check, true)) }
        </> } }) }
    }
}

fn hidden_row(job: &AttrValue, row: &HiddenRow, state: Standing, look: bool, priced: bool) -> Html {
    let href = row.part.map(|part| {
        let (job, part) = (job.clone(), part.to_string().into());
        AttrValue::from(Route::PutBackPart { job, part }.href())
    });
    let look = match look {
        true => {
            html! { <>{ part!(SecondLook { job: job.clone(), what: row.what, about: row.name.clone() }) }</> }
        }
        false => html! {},
    };
    part!(ListRow {
        what: row.name.clone(),
        state: state,
        owed: match priced && !row.cost.is_empty() {
            true => format!("{} Forgotten, it costs {}.", row.todo, row.cost),
            false => row.todo.clone(),
        },
        href: href,
        children: look
    })
}

/// The refusal to place a part, with what it would hide and what that would
/// cost. Each line leads to where it is dealt with.
pub fn refused(
    desk: &Desk,
    job: &AttrValue,
    (part, name): (PartId, &str),
    onclose: Callback<()>,
    anyway: Callback<()>,
) -> Html {
    let work = desk.at_work(job);
    let hides = desk.read(job, |book| view::hides(book, part, &work));
    let hides = hides.unwrap_or_default();
    html! {
        { part!(Sheet { title: match hides.owed.is_empty() {
            true => format!("Before {name} goes on"),
            false => format!("{name} would hide what is owed"),
        }, onclose: onclose, foot: html! {
            if hides.owed.is_empty() && hides.own.is_empty() {
                { part!(Button { label: "Place it", kind: ButtonKind::Main, icon: Icon::PutBack, onpress: anyway.clone() }) }
            } else {
                { part!(Button { label: "Leave it off for now", kind: ButtonKind::Main, icon: Icon::Back, onpress: Callback::from(|()| router::close_sheet()) }) }
            }
        }, children: html! { <>
            if !hides.own.is_empty() {
                { part!(Rows { label: "What goes on it first", children: html! { <>
                    { for hides.own.iter().map(|row| own_row(desk, job, row)) }
                </> } }) }
            }
            if !hides.owed.is_empty() { <p>{ match hides.owed.len() {
                1 => format!("Once {name} is on, getting at it again costs {}", hides.cost),
                _ => format!("Once {name} is on, getting at the dearest of these again costs {}", hides.cost),
            } }</p> }
            if !hides.owed.is_empty() {
                { part!(Rows { label: "What it would hide", children: html! { <>
                    { for hides.owed.iter().map(|row| hidden_row(job, row, Standing::Owed, false, hides.owed.len() > 1)) }
                </> } }) }
            }
            if !hides.owed.is_empty() || !hides.own.is_empty() { { part!(Button { label: "Place it all the same", kind: ButtonKind::Danger, face: ButtonFace::Wide, icon: Icon::Warning, onpress: anyway }) } }
        </> } }) }
    }
}

/// A seal or sealant of the part itself: one tap says that it is there.
fn own_row(desk: &Desk, job: &AttrValue, row: &HiddenRow) -> Html {
    let said = row.settle.clone().map(|command| {
        let (desk, job) = (desk.clone(), job.clone());
        let press = Callback::from(move |()| desk.tell(&job, command.clone()));
        let (label, icon) = match row.what {
            Target::Item(_) => ("New one fitted", Icon::Renew),
            _ => ("Put on", Icon::Check),
        };
        html! { { part!(Button { label, about: row.name.clone(), icon, onpress: press }) } }
    });
    part!(ListRow {
        what: row.name.clone(),
        state: Standing::Owed,
        owed: row.todo.clone(),
        children: said.unwrap_or_default()
    })
}
