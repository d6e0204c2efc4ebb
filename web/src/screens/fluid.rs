//! A fluid goes back in: what stands against it, joint by joint, how much came
//! out and goes in, and the level afterwards.
use countback_core::job::{Command, Refusal};
use countback_core::journal::*;
use countback_core::view::{self, FluidPage, JointRow};
use yew::prelude::*;

use super::second::offered;
use crate::app::{Desk, Told, the_desk};
use crate::kit::{
    Button, ButtonFace, ButtonKind, ChipItem, ChipRow, IArray, Icon, ListRow, Readiness, Rows,
    Section, Sheet, Standing, State, TextField, Verdict, use_local,
};
use crate::part;
use crate::router::{self, Route};

/// The button of a fluid that is out, and the sheet behind it.
#[derive(Properties, PartialEq)]
pub struct Fill {
    pub job: AttrValue,
    pub fluid: FluidId,
    pub about: AttrValue,
}

/// Reasons that need no typing.
const REASONS: [&str; 2] = ["Filled to look for leaks", "What is open holds none of it"];
/// What is looked at once it has run.
const CHECKS: [(AfterRunKind, &str); 2] = [
    (AfterRunKind::LeakCheck, "leaks"),
    (AfterRunKind::LevelCheck, "the level"),
];
/// What was put in on the sheet so far.
struct Entry {
    amount: State<String>,
    why: State<String>,
    checks: State<Vec<AfterRunKind>>,
}
/// How many of the joints that are passed over are listed.
const MOST_PASSED: usize = 30;

#[hook]
fn use_fill(props: &Fill) -> Html {
    let desk = the_desk();
    let open = use_local(|| false);
    let amount = use_local(String::new);
    let why = use_local(String::new);
    let checks = use_local(|| CHECKS.map(|it| it.0).to_vec());
    let page = match *open {
        true => desk.read(&props.job, |book| {
            view::fluid_page(book, props.fluid, desk.at())
        }),
        false => None,
    };
    let set_open = |to: bool| {
        let open = open.clone();
        Callback::from(move |()| open.set(to))
    };
    let entry = Entry {
        amount,
        why,
        checks,
    };
    let sheet = page
        .flatten()
        .map(|page| fill_sheet(&desk, props, &page, &entry, set_open(false)));
    html! {
        <>
            { part!(Button { label: "Fill", about: props.about.clone(), icon: Icon::Fluid, onpress: set_open(true) }) }
            { sheet.unwrap_or_default() }
        </>
    }
}

crate::live!(Fill, use_fill);

fn fill_sheet(
    desk: &Desk,
    props: &Fill,
    page: &FluidPage,
    entry: &Entry,
    shut: Callback<()>,
) -> Html {
    let Entry {
        amount,
        why,
        checks,
    } = entry;
    let after: IArray<ChipItem<usize>> = CHECKS
        .iter()
        .enumerate()
        .map(|(n, (what, said))| ChipItem::new(n, *said, checks.contains(what)))
        .collect();
    let pick = {
        let checks = checks.clone();
        Callback::from(move |n: usize| {
            let Some((what, _)) = CHECKS.get(n) else {
                return;
            };
            let mut next = (*checks).clone();
            match next.iter().position(|it| it == what) {
                Some(at) => drop(next.remove(at)),
                None => next.push(*what),
            }
            checks.set(next);
        })
    };
    let readiness = match (page.cure.is_empty(), page.may || !why.trim().is_empty()) {
        (false, _) => Readiness::Blocked(page.cure.clone().into()),
        (true, true) => Readiness::Ready,
        (true, false) => Readiness::Blocked("Settle it, or say why all the same".into()),
    };
    let press = {
        let (desk, job, fluid) = (desk.clone(), props.job.clone(), props.fluid);
        let command = Command::Fill {
            fluid,
            amount: amount.trim().to_owned(),
            anyway: why.trim().to_owned(),
            checks: checks.to_vec(),
        };
        Callback::from(move |()| {
            let (desk2, job2) = (desk.clone(), job.clone());
            let done = Callback::from(move |told: Told| match told {
                // The sheet goes with the button that it belongs to.
                Told::Saved(_) | Told::Refused(Refusal::NotReady { .. }) | Told::Failed(_) => {}
                Told::Refused(other) => {
                    desk2.refuse(&job2, &other);
                }
            });
            desk.try_tell(&job, command.clone(), done);
        })
    };
    let foot = match page.may {
        true => html! {
            { part!(Button { label: "Filled", about: page.name.clone(), kind: ButtonKind::Main, face: ButtonFace::Wide, icon: Icon::Check, onpress: press }) }
        },
        false => html! {
            { part!(Button { label: "Filled all the same", about: page.name.clone(), kind: ButtonKind::Danger, face: ButtonFace::Wide, icon: Icon::Warning, readiness: readiness, onpress: press }) }
        },
    };
    let state = match page.may {
        true => Standing::Settled,
        false => Standing::Danger,
    };
    html! {
        { part!(Sheet { title: page.ask.clone(), onclose: shut, foot: foot, children: html! { <>
            { part!(Verdict { state: state, words: page.answer.clone() }) }
            if !page.against.is_empty() {
                { joints(desk, props, &page.against, "Settle it first", &page.holds_none, false) }
                { offered("Why all the same", &REASONS.map(str::to_owned), why) }
                { part!(TextField { label: "Why, in words", value: (**why).clone(), oninput: typing(why) }) }
            }
            { part!(Section { title: "How much", count: came_out(page), children: html! { <>
                { volume(desk, &props.job, "How much goes in", amount, into(amount)) }
                <p class="soft">{ "Left empty, it is not held against what came out." }</p>
            </> } }) }
            { part!(ChipRow::<usize> { label: "Look at once it has run", items: after, onpress: pick }) }
            if !page.passed_over.is_empty() {
                { joints(desk, props, &page.passed_over, "Taken to hold none of it", &page.holds_it, true) }
            }
        </> } }) }
    }
}

fn came_out(page: &FluidPage) -> String {
    match page.out.is_empty() {
        true => "what came out was not measured".to_owned(),
        false => format!("{} came out", page.out),
    }
}

/// Joints with the one tap that says what each has to do with the fluid.
fn joints(
    desk: &Desk,
    props: &Fill,
    rows: &[JointRow],
    title: &'static str,
    say: &str,
    holds: bool,
) -> Html {
    let each = rows.iter().take(MOST_PASSED).map(|it| {
        let (job, row) = (&props.job, &it.row);
        let href = row.part.map(|part| {
            let (job, part) = (job.clone(), part.to_string().into());
            AttrValue::from(Route::PutBackPart { job, part }.href())
        });
        let (desk, job, fluid, on) = (desk.clone(), job.clone(), props.fluid, it.on);
        let press = Callback::from(move |()| {
            let act = Act::JointHolds { fluid, on, holds };
            desk.tell(&job, Command::Record(act));
        });
        let state = if holds { Standing::Off } else { Standing::Owed };
        html! {
            { part!(ListRow { what: row.what.clone(), state: state, owed: row.todo.clone(), href: href, children: html! { <>
                { part!(Button { label: say.to_owned(), about: row.what.clone(), icon: Icon::Fluid, onpress: press }) }
            </> } }) }
        }
    });
    html! {
        { part!(Section { title: title, count: rows.len().to_string(), children: html! { <>
            { part!(Rows { label: title, children: html! { <>{ for each }</> } }) }
        </> } }) }
    }
}

/// The button of a fluid that is in: that its level is right.
#[derive(Properties, PartialEq)]
pub struct Level {
    pub job: AttrValue,
    pub fluid: FluidId,
    pub about: AttrValue,
}

#[hook]
fn use_level(props: &Level) -> Html {
    let desk = the_desk();
    let open = use_local(|| false);
    let amount = use_local(String::new);
    let page = match *open {
        true => desk.read(&props.job, |book| {
            view::fluid_page(book, props.fluid, desk.at())
        }),
        false => None,
    };
    let set_open = |to: bool| {
        let open = open.clone();
        Callback::from(move |()| open.set(to))
    };
    let sheet = page.flatten().map(|page| {
        let press = {
            let (desk, job, fluid) = (desk.clone(), props.job.clone(), props.fluid);
            let act = Act::LevelSeen {
                fluid,
                amount: amount.trim().to_owned(),
            };
            Callback::from(move |()| {
                router::close_sheet();
                desk.tell(&job, Command::Record(act.clone()));
            })
        };
        html! {
            { part!(Sheet { title: format!("Level: {}", page.name), onclose: set_open(false), foot: html! {
                { part!(Button { label: "The level is right", about: page.name.clone(), kind: ButtonKind::Main, face: ButtonFace::Wide, icon: Icon::Check, onpress: press }) }
            }, children: html! { <>
                if !page.volumes.is_empty() { <p>{ page.volumes.clone() }</p> }
                <p class="soft">{ "As the maker has it read: cold or warm, level ground, after bleeding." }</p>
                { volume(&desk, &props.job, "Added to get there", &amount, into(&amount)) }
            </> } }) }
        }
    });
    html! {
        <>
            { part!(Button { label: "Level", about: props.about.clone(), icon: Icon::Eye, onpress: set_open(true) }) }
            { sheet.unwrap_or_default() }
        </>
    }
}

crate::live!(Level, use_level);

fn typing(into: &State<String>) -> Callback<AttrValue> {
    let into = into.clone();
    Callback::from(move |text: AttrValue| into.set(text.to_string()))
}

fn into(text: &State<String>) -> Callback<String> {
    let text = text.clone();
    Callback::from(move |said: String| text.set(said))
}

/// A volume by steps, or typed.
pub fn volume(
    desk: &Desk,
    job: &AttrValue,
    label: &'static str,
    text: &str,
    set: Callback<String>,
) -> Html {
    let steps: IArray<ChipItem<usize>> = view::VOLUME_STEPS
        .iter()
        .enumerate()
        .map(|(n, (said, _))| ChipItem::new(n, *said, false))
        .collect();
    let step = {
        let (desk, job, text) = (desk.clone(), job.clone(), text.to_owned());
        let set = set.clone();
        Callback::from(move |n: usize| {
            let Some((_, tenths)) = view::VOLUME_STEPS.get(n) else {
                return;
            };
            let next = desk.read(&job, |book| {
                view::volume_step(book.job(), &text, *tenths, desk.at())
            });
            set.emit(next.unwrap_or_default());
        })
    };
    html! {
        <>
            { part!(TextField { label: label, value: text.to_owned(), oninput: set.reform(|t: AttrValue| t.to_string()) }) }
            { part!(ChipRow::<usize> { label: "More, less", items: steps, onpress: step }) }
        </>
    }
}
