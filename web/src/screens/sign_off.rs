//! The sign-off: the verdict, what stands against closing the job, what was
//! accepted by whom and why, and opening a closed one again with a reason.
use countback_core::job::Command;
use countback_core::view::{self, ExceptedRow, SignOffPage};
use yew::prelude::*;

use super::second::offered;
use super::{OfJob, lost};
use crate::app::the_desk;
use crate::kit::{
    Banner, BannerKind, Button, ButtonFace, ButtonKind, Icon, ListRow, MainAct, Page, Readiness,
    Rows, Section, Sheet, Standing, TextField, Verdict, use_local,
};
use crate::part;
use crate::router::{self, Route};

/// Reasons for opening it again that need no typing.
const REASONS: [&str; 3] = [
    "More work",
    "Something was forgotten",
    "A check found something",
];

#[hook]
pub fn use_sign_off(props: &OfJob) -> Html {
    let desk = the_desk();
    let job = props.job.clone();
    let by = use_local(|| desk.prefs().by);
    let reopening = use_local(|| false);
    let why = use_local(String::new);
    let Some(page) = desk.read(&job, |book| view::sign_off_page(book, desk.at())) else {
        return lost();
    };
    let people = desk.read(&job, view::people).unwrap_or_default();
    let typing = |into: &crate::kit::State<String>| {
        let into = into.clone();
        Callback::from(move |t: AttrValue| into.set(t.to_string()))
    };
    let sign = {
        let (desk, job, by) = (desk.clone(), job.clone(), (*by).clone());
        Callback::from(move |()| {
            desk.tell_as(&job, Command::SignOff, &by);
        })
    };
    let open_again = {
        let reopening = reopening.clone();
        Callback::from(move |()| reopening.set(true))
    };
    let act = match &page.signed {
        Some(_) => part!(Button {
            label: "Open the job again",
            face: ButtonFace::Wide,
            icon: Icon::OpenFile,
            onpress: open_again
        }),
        None => {
            let readiness = match (page.can_sign, page.n_open, by.trim().is_empty()) {
                (true, _, true) => Readiness::Blocked("Say who signs".into()),
                (true, _, false) => Readiness::Ready,
                (false, 0, _) => Readiness::Blocked("Nothing was taken off".into()),
                (false, n, _) => Readiness::Blocked(format!("{n} still open").into()),
            };
            part!(Button {
                label: "Sign off",
                kind: ButtonKind::Main,
                icon: Icon::Check,
                readiness: readiness,
                onpress: sign
            })
        }
    };
    let sheet = reopening.then(|| {
        let shut = {
            let reopening = reopening.clone();
            Callback::from(move |()| reopening.set(false))
        };
        let open = {
            let (desk, job, reason) = (desk.clone(), job.clone(), (*why).clone());
            Callback::from(move |()| {
                router::close_sheet();
                let reason = reason.clone();
                desk.tell(&job, Command::Reopen { reason });
            })
        };
        let readiness = match why.trim().is_empty() {
            true => Readiness::Blocked("Say why".into()),
            false => Readiness::Ready,
        };
        html! {
            { part!(Sheet { title: "Open the job again", onclose: shut, foot: html! {
                { part!(Button { label: "Open it again", kind: ButtonKind::Main, icon: Icon::OpenFile, readiness: readiness, onpress: open }) }
            }, children: html! { <>
                <p>{ "The sign-off stays in the record, with who signed and when." }</p>
                { offered("Why it is opened", &REASONS.map(str::to_owned), &why) }
                { part!(TextField { label: "Why, in words", value: (*why).clone(), oninput: typing(&why) }) }
            </> } }) }
        }
    });
    html! {
        <>
        { part!(Page { title: "Sign-off", under: page.title.clone(), back: Route::Audit { job: job.clone() }, act: part!(MainAct { children: html! { <>{ act }</> } }), children: html! { <>
            if !page.since.is_empty() {
                { part!(Banner { kind: BannerKind::Danger, title: page.since.clone() }) }
            }
            { verdict(&page) }
            if page.signed.is_none() && page.can_sign {
                if people.len() > 1 { { offered("Who signs", &people, &by) } }
                { part!(TextField { label: if people.len() > 1 { "Somebody else" } else { "Who signs" }, value: (*by).clone(), oninput: typing(&by) }) }
            }
            { against(&page, &job) }
            { remarks(&page, &job) }
            { accepted("Accepted as it is", &page.excepted) }
            { accepted("Left off by decision", &page.left_off) }
            if !page.history.is_empty() {
                { part!(Section { title: "Closed and opened", children: html! { <>
                    { part!(Rows { label: "Closed and opened", children: html! { <>
                        { for page.history.iter().map(|it| part!(ListRow { what: it.text.clone(), lead: Icon::Log, lies: format!("{}, {}", it.by, it.when) })) }
                    </> } }) }
                </> } }) }
            }
        </> } }) }
        { sheet.unwrap_or_default() }
        </>
    }
}

fn verdict(page: &SignOffPage) -> Html {
    let state = match (page.verdict.danger, page.n_open) {
        (true, _) => Standing::Danger,
        (false, 0) => Standing::Settled,
        _ => Standing::Owed,
    };
    let (words, text) = match &page.signed {
        Some(it) => (
            format!("{}.", it.text),
            format!("By {}, {}.", it.by, it.when),
        ),
        None => (page.verdict.head.clone(), page.verdict.lines.join(" ")),
    };
    part!(Verdict {
        state: state,
        words: words,
        text: (!text.is_empty()).then(|| AttrValue::from(text))
    })
}

/// Why it cannot be closed: all of it, by what to do.
fn against(page: &SignOffPage, job: &AttrValue) -> Html {
    if page.against.is_empty() {
        return html! {};
    }
    html! {
        { part!(Section { title: "It cannot be closed yet", count: page.n_open.to_string(), children: html! { <>
            <p class="soft">{ "Settle each, or accept it on the Audit screen with a name and a reason." }</p>
            { part!(Rows { label: "It cannot be closed yet", children: html! { <>
                { for page.against.iter().map(|it| part!(ListRow { what: format!("{}: {}", it.title, it.n), lies: it.said.clone(), state: Standing::Owed, href: Route::Audit { job: job.clone() }.href() })) }
            </> } }) }
        </> } }) }
    }
}

/// Settled, and yet to be known by whoever reads it.
fn remarks(page: &SignOffPage, job: &AttrValue) -> Html {
    if page.late.is_empty() && page.not_touched == 0 {
        return html! {};
    }
    html! {
        { part!(Section { title: "To be known", children: html! { <>
            { part!(Rows { label: "To be known", children: html! { <>
                { for page.late.iter().map(|text| part!(ListRow { what: text.clone(), lead: Icon::Clock, state: Standing::Off, owed: "late" })) }
                if page.not_touched > 0 {
                    { part!(ListRow { what: format!("{} ticked, and not touched again", countback_core::words::plural(page.not_touched, "fixing")), lead: Icon::Hand, state: Standing::Off, owed: "no second touch", href: Route::Audit { job: job.clone() }.href() }) }
                }
            </> } }) }
        </> } }) }
    }
}

/// What was let be, with its reason, who and when.
pub fn accepted(title: &'static str, rows: &[ExceptedRow]) -> Html {
    if rows.is_empty() {
        return html! {};
    }
    html! {
        { part!(Section { title: title, count: rows.len().to_string(), children: html! { <>
            { part!(Rows { label: title, children: html! { <>
                { for rows.iter().map(|e| part!(ListRow { what: e.what.clone(), state: Standing::Off, owed: e.reason.clone(), lies: format!("{} {}, {}", e.note, e.by, e.when).trim().to_owned() })) }
            </> } }) }
        </> } }) }
    }
}
