//! After running: the checks and when each falls due, that it ran, what the
//! meter reads, and a check that is to be owed.
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::view::{self, DuePage};
use countback_core::words;
use yew::prelude::*;

use super::machine::ItRan;
use super::second::offered;
use crate::app::the_desk;
use crate::kit::{
    Button, ButtonKind, ChipItem, ChipRow, IArray, Icon, ListRow, NumberField, Readiness, Reading,
    Rows, Section, Sheet, Standing, Stepper, TextField, use_local,
};
use crate::part;
use crate::router;

#[derive(Properties, PartialEq)]
pub struct AfterRunning {
    pub job: AttrValue,
}

/// The sheet that stands open.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Over {
    Nothing,
    Ran,
    Meter,
    Owe,
}

#[hook]
fn use_after_running(props: &AfterRunning) -> Html {
    let desk = the_desk();
    let over = use_local(|| Over::Nothing);
    let job = props.job.clone();
    let Some(page) = desk.read(&job, |book| view::due_page(book, desk.at())) else {
        return html! {};
    };
    if page.early && page.checks.is_empty() {
        return html! {};
    }
    let shut = {
        let over = over.clone();
        Callback::from(move |()| over.set(Over::Nothing))
    };
    let to = |next: Over| {
        let over = over.clone();
        Callback::from(move |()| over.set(next))
    };
    let count = match (page.n_due, page.checks.len()) {
        (0, 0) => format!("{} done", page.n_done),
        (0, open) => format!("{open} open"),
        (due, _) => format!("{due} due now"),
    };
    let meter = match page.meter.last.is_empty() {
        true => "Read the meter".to_owned(),
        false => format!("Read the meter, last {}", page.meter.last),
    };
    html! {
        <>
        { part!(Section { title: "After running", count: count, children: html! { <>
            if !page.ran.is_empty() { <p class="soft">{ format!("{}.", page.ran) }</p> }
            if page.checks.is_empty() && page.n_done == 0 { <p class="soft">{ "No check is owed after it has run." }</p> }
            { checks(&job, &page) }
            <div class="pair">
                { part!(Button { label: "It ran", icon: Icon::Machine, onpress: to(Over::Ran) }) }
                { part!(Button { label: meter, icon: Icon::Gauge, onpress: to(Over::Meter) }) }
            </div>
            { part!(Button { label: "Owe a check", icon: Icon::Plus, kind: ButtonKind::Quiet, onpress: to(Over::Owe) }) }
        </> } }) }
        if !page.cures.is_empty() {
            { part!(Section { title: "Curing", children: html! { <>
                { part!(Rows { label: "Curing", children: html! { <>
                    { for page.cures.iter().map(|it| part!(ListRow { what: it.text.clone(), lead: Icon::Cure, state: if it.cured { Standing::Settled } else { Standing::Waiting }, owed: it.note.clone() })) }
                </> } }) }
            </> } }) }
        }
        { match *over {
            Over::Nothing => html! {},
            Over::Ran => part!(ItRan { job, onclose: shut }),
            Over::Meter => part!(MeterSheet { job, kind: page.meter.kind, known: page.meter_known, onclose: shut }),
            Over::Owe => part!(OweSheet { job, onclose: shut }),
        } }
        </>
    }
}

crate::live!(AfterRunning, use_after_running);

fn checks(job: &AttrValue, page: &DuePage) -> Html {
    if page.checks.is_empty() {
        return html! {};
    }
    html! {
        { part!(Rows { label: "After running", children: html! { <>
            { for page.checks.iter().map(|check| {
                let state = if check.due { Standing::Owed } else { Standing::Waiting };
                html! {
                    { part!(ListRow { what: check.text.clone(), lead: Icon::Clock, state: state, owed: check.note.clone(), children: html! { <>
                        { part!(key: check.id.to_string(); Done { job: job.clone(), check: check.id, about: check.text.clone() }) }
                    </> } }) }
                }
            }) }
        </> } }) }
    }
}

/// Says that a check is done. Before it is due, a reason is asked for.
#[derive(Properties, PartialEq)]
pub struct Done {
    pub job: AttrValue,
    pub check: AfterRunId,
    /// What it is about.
    pub about: AttrValue,
}

/// Reasons that need no typing.
const EARLY: [&str; 3] = [
    "it ran, and was not logged",
    "whoever drives it does it",
    "looked at as it stands",
];

#[hook]
fn use_done(props: &Done) -> Html {
    let desk = the_desk();
    let open = use_local(|| false);
    let why = use_local(String::new);
    let after_run = props.check;
    let due = desk
        .read(&props.job, |book| {
            view::check_is_due(book, after_run, desk.at())
        })
        .unwrap_or_default();
    let done = |early: String| Command::CheckDone {
        after_run,
        reading: String::new(),
        early,
    };
    let press = {
        let (desk, job, open) = (desk.clone(), props.job.clone(), open.clone());
        let command = done(String::new());
        Callback::from(move |()| match due {
            true => desk.tell(&job, command.clone()),
            false => open.set(true),
        })
    };
    let shut = {
        let open = open.clone();
        Callback::from(move |()| open.set(false))
    };
    let early = {
        let (desk, job) = (desk.clone(), props.job.clone());
        let command = done(why.trim().to_owned());
        Callback::from(move |()| {
            router::close_sheet();
            desk.tell(&job, command.clone());
        })
    };
    let readiness = match why.trim().is_empty() {
        true => Readiness::Blocked("Say why it is done early".into()),
        false => Readiness::Ready,
    };
    html! {
        <>
            { part!(Button { label: "Done", about: props.about.clone(), icon: Icon::Check, onpress: press }) }
            if *open {
                { part!(Sheet { title: "Not due yet", onclose: shut, foot: html! {
                    { part!(Button { label: "Done early", kind: ButtonKind::Main, icon: Icon::Check, readiness: readiness, onpress: early }) }
                }, children: html! { <>
                    <p class="strong">{ props.about.clone() }</p>
                    <p class="soft">{ "Log that it ran or read the meter first, or say why it is done early. That stands in the record." }</p>
                    { offered("Why early", &EARLY.map(str::to_owned), &why) }
                    { part!(TextField { label: "Why, in words", value: (*why).clone(), oninput: { let why = why.clone(); Callback::from(move |t: AttrValue| why.set(t.to_string())) } }) }
                </> } }) }
            }
        </>
    }
}

crate::live!(Done, use_done);

const KINDS: [MeterKind; 3] = [MeterKind::Kilometres, MeterKind::Miles, MeterKind::Hours];

#[derive(Properties, PartialEq)]
struct MeterSheet {
    job: AttrValue,
    kind: MeterKind,
    known: bool,
    onclose: Callback<()>,
}

#[hook]
fn use_meter_sheet(props: &MeterSheet) -> Html {
    let desk = the_desk();
    let kind = use_local(|| props.kind);
    let typed = use_local(|| AttrValue::from(""));
    let Some(ask) = desk.read(&props.job, |book| view::meter_ask(book, *kind, desk.at())) else {
        return html! {};
    };
    let tenths = match Reading::of(&typed) {
        Reading::Number(n) if n < 400_000_000.0 => Some((n * 10.0).round() as u32),
        _ => None,
    };
    let wrong = tenths
        .filter(|&n| n < ask.tenths)
        .map(|_| AttrValue::from(format!("It read {} before. Read it again.", ask.last)));
    let readiness = match (tenths, &wrong) {
        (None, _) => Readiness::Blocked("Type what it reads".into()),
        (_, Some(_)) => Readiness::Blocked("Less than before".into()),
        _ => Readiness::Ready,
    };
    let log = {
        let (desk, job, kind) = (desk.clone(), props.job.clone(), *kind);
        Callback::from(move |()| {
            router::close_sheet();
            if let Some(tenths) = tenths {
                desk.tell(
                    &job,
                    Command::Record(Act::MeterRead(Meter { kind, tenths })),
                );
            }
        })
    };
    let items: IArray<ChipItem<u8>> = (0_u8..)
        .zip(KINDS)
        .map(|(n, it)| ChipItem::new(n, words::meter_unit(it), *kind == it))
        .collect();
    let choose = {
        let kind = kind.clone();
        Callback::from(move |n: u8| {
            if let Some(it) = KINDS.get(usize::from(n)) {
                kind.set(*it);
            }
        })
    };
    html! {
        { part!(Sheet { title: "Read the meter", onclose: props.onclose.clone(), foot: html! {
            { part!(Button { label: "Log the reading", kind: ButtonKind::Main, icon: Icon::Check, readiness: readiness, onpress: log }) }
        }, children: html! { <>
            if !props.known { { part!(ChipRow::<u8> { label: "It counts", items: items, onpress: choose }) } }
            { part!(NumberField { label: "It reads", value: (*typed).clone(), unit: AttrValue::from(ask.unit), hint: (!ask.last.is_empty()).then(|| AttrValue::from(format!("Last time {}", ask.last))), wrong: wrong, oninput: { let typed = typed.clone(); Callback::from(move |(text, _): (AttrValue, Reading)| typed.set(text)) } }) }
        </> } }) }
    }
}

crate::live!(MeterSheet, use_meter_sheet);

#[derive(Properties, PartialEq)]
struct OweSheet {
    job: AttrValue,
    onclose: Callback<()>,
}

const CHECKS: [AfterRunKind; 4] = [
    AfterRunKind::LeakCheck,
    AfterRunKind::LevelCheck,
    AfterRunKind::Retighten,
    AfterRunKind::Other,
];

/// A check of the whole machine: what, and after how much. Each limit at nought
/// means that it falls due at the first run.
#[hook]
fn use_owe_sheet(props: &OweSheet) -> Html {
    let desk = the_desk();
    let what = use_local(|| AfterRunKind::LeakCheck);
    let due = use_local(Due::default);
    let items: IArray<ChipItem<u8>> = (0_u8..)
        .zip(CHECKS)
        .map(|(n, it)| ChipItem::new(n, words::after_run(it), *what == it))
        .collect();
    let choose = {
        let what = what.clone();
        Callback::from(move |n: u8| {
            if let Some(it) = CHECKS.get(usize::from(n)) {
                what.set(*it);
            }
        })
    };
    let log = {
        let (desk, job, what, due) = (desk.clone(), props.job.clone(), *what, *due);
        Callback::from(move |()| {
            router::close_sheet();
            let on = Target::Job;
            let text = String::new();
            desk.tell(
                &job,
                Command::Record(Act::AfterRunOwed {
                    what,
                    on,
                    text,
                    due,
                }),
            );
        })
    };
    let limit =
        |label: &'static str, unit: &'static str, value: u32, step: u32, set: fn(&mut Due, u32)| {
            let state = due.clone();
            let change = Callback::from(move |n: u32| {
                let mut next = *state;
                set(&mut next, n);
                state.set(next);
            });
            part!(Stepper {
                label: label,
                value: value,
                max: 9_990_u32,
                step: step,
                unit: AttrValue::from(unit),
                onchange: change
            })
        };
    html! {
        { part!(Sheet { title: "Owe a check", onclose: props.onclose.clone(), foot: html! {
            { part!(Button { label: format!("Owe it {}", words::due(*due)), kind: ButtonKind::Main, icon: Icon::Check, onpress: log }) }
        }, children: html! { <>
            { part!(ChipRow::<u8> { label: "What is checked", items: items, onpress: choose }) }
            <p class="soft">{ "Whichever comes first. The maker's intervals go first." }</p>
            { limit("Warm-ups", "", u32::from(due.heat_cycles), 1, |d, n| d.heat_cycles = n.min(99) as u16) }
            { limit("Distance", "km", due.km, 10, |d, n| d.km = n) }
            { limit("Running hours", "h", due.hours, 1, |d, n| d.hours = n) }
            { limit("Days", "days", due.days, 1, |d, n| d.days = n) }
        </> } }) }
    }
}

crate::live!(OweSheet, use_owe_sheet);
