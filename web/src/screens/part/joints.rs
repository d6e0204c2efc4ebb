//! What joins a part: fixings with their next act, ends, new items, findings.
use crate::part;
use countback_core::job::{Command, EndState, PlaceState, Thing};
use countback_core::journal::*;
use countback_core::view::{
    Choice, ConnectionRow, FindingRow, FixingRow, ItemRow, NextAct, TreatmentRow,
};
use countback_core::words;
use yew::prelude::*;

use crate::app::the_desk;
use crate::kit::{
    Button, ButtonFace, ButtonKind, ChipItem, ChipRow, Count, CountSize, Fold, IArray, Icon,
    ListRow, Rows, Section, Standing, use_local,
};
use crate::router::Route;
use crate::screens::cautions::Held;
use crate::screens::late::{Late, tell_or_ask};
use crate::screens::why::Why;

#[derive(Properties, PartialEq)]
pub struct Fixings {
    pub job: AttrValue,
    pub fixings: Vec<FixingRow>,
}

fn fixings(props: &Fixings) -> Html {
    if props.fixings.is_empty() {
        return html! {};
    }
    html! {
        { part!(Section { title: "Fixings", children: html! { <>
            { for props.fixings.iter().map(|f| html! { { part!(key: f.id.to_string(); FixingCard { job: props.job.clone(), fixing: f.clone() }) } }) }
        </> } }) }
    }
}

crate::plain!(Fixings, fixings);

#[derive(Properties, PartialEq)]
struct FixingCard {
    job: AttrValue,
    fixing: FixingRow,
}

fn fixing_card(props: &FixingCard) -> Html {
    let desk = the_desk();
    let f = &props.fixing;
    let id = f.id;
    let tell = |command: Command| {
        let (desk, job) = (desk.clone(), props.job.clone());
        Callback::from(move |()| desk.tell(&job, command.clone()))
    };
    let pass = Route::Tighten {
        job: props.job.clone(),
        fixing: id.to_string().into(),
    }
    .href();
    let state = match f.next {
        NextAct::Done if f.lacks.is_empty() => Standing::Settled,
        NextAct::Wait { .. } | NextAct::PartFirst => Standing::Blocked,
        NextAct::Repair => Standing::Danger,
        _ => Standing::Owed,
    };
    let next = match &f.next {
        NextAct::FitExtras => html! {
            { part!(Button { label: format!("Fitted: {}", f.extras.iter().map(|e| format!("{} × {}", e.n, e.text)).collect::<Vec<_>>().join(", ")), kind: ButtonKind::Main, icon: Icon::Check, onpress: tell(Command::FitExtras { fixing: id }) }) }
        },
        NextAct::Start { n } => html! {
            <div class="acts">
                { part!(Button { label: "One started", icon: Icon::Plus, onpress: tell(Command::Start { fixing: id, which: Thing::Next(1), line: None, anyway: false }) }) }
                { part!(Button { label: if f.short > 0 { format!("{n} started by hand") } else { format!("All {n} started by hand") }, kind: ButtonKind::Main, icon: Icon::Check, onpress: tell(Command::Start { fixing: id, which: Thing::Next(*n), line: None, anyway: false }) }) }
            </div>
        },
        NextAct::Tighten { to, value, text } => {
            let label = match (to, text.is_empty()) {
                (Tight::Final, true) => "All tight, by the maker's figure".to_owned(),
                (Tight::Final, false) => format!("All tight: {text}"),
                (_, _) => format!("All at {text}"),
            };
            html! {
                <div class="acts">
                    { part!(Button { label: "One by one", icon: Icon::Gauge, href: pass.clone() }) }
                    { part!(Button { label: label, kind: ButtonKind::Main, icon: Icon::Check, onpress: tell(Command::Tighten { fixing: id, which: Thing::All, to: *to, value: *value }) }) }
                </div>
            }
        }
        NextAct::Doubt { n } => html! {
            { part!(Button { label: format!("Look at {n} in doubt, one by one"), kind: ButtonKind::Main, icon: Icon::Gauge, href: pass.clone() }) }
        },
        NextAct::LastRound => html! {
            { part!(Button { label: "Once more all round", kind: ButtonKind::Main, icon: Icon::Renew, href: pass.clone() }) }
        },
        NextAct::Check => html! {
            { part!(super::super::second::SecondLook { job: props.job.clone(), what: Target::Fixing(id) }) }
        },
        NextAct::Repair => {
            let broken = f
                .cells
                .iter()
                .find(|c| c.state == PlaceState::Broken)
                .map_or(0, |c| c.index);
            html! { { part!(Button { label: "Thread repaired", face: ButtonFace::Wide, icon: Icon::Repair, onpress: tell(Command::Record(Act::PlaceRepaired { fixing: id, place: broken })) }) } }
        }
        NextAct::PartFirst => html! { <p class="soft">{ "Place the part first." }</p> },
        NextAct::Wait { text } => {
            html! { <p class="soft">{ format!("Not final yet: {text}.") }</p> }
        }
        NextAct::Done => html! {},
    };
    let mut lines: Vec<String> = Vec::new();
    if !f.tool.is_empty() {
        lines.push(format!("How: {}", f.tool));
    }
    if !f.stages.is_empty() {
        lines.push(format!(
            "Stages: {}. The maker's figure goes first.",
            f.stages.join(", then ")
        ));
    }
    if !f.also.is_empty() {
        lines.push(format!("Also holds: {}", f.also.join(", ")));
    }
    if f.inspect {
        lines.push("Look at each before it goes in: it was asked for.".to_owned());
    }
    if f.renew {
        lines.push("New ones; the old ones are not fitted.".to_owned());
    }
    if f.short > 0 {
        lines.push(format!("{} not to hand", f.short));
    }
    html! {
        <div class={classes!("joint", format!("joint--{}", state.suffix()))}>
            <div class="joint__head">
                <div class="joint__words">
                    <h3 class="joint__what">{ f.title.clone() }</h3>
                    if !f.place.is_empty() { <p class="soft">{ f.place.clone() }</p> }
                </div>
                { part!(Count { n: f.n_final, of: f.n, state: state, size: CountSize::Figure }) }
            </div>
            if f.n_in != f.n_final { <p class="joint__note">{ format!("{} of {} in, {} final", f.n_in, f.n, f.n_final) }</p> }
            { for lines.into_iter().map(|l| html! { <p class="joint__note">{ l }</p> }) }
            { for f.lacks.iter().map(|l| html! { <p class="joint__note strong">{ format!("Still: {l}") }</p> }) }
            if !f.hole_old.is_empty() { <p class="joint__note strong">{ f.hole_old.clone() }</p> }
            if !f.from.is_empty() { <p class="joint__note">{ f.from.iter().map(|(at, n)| format!("{n} {at}")).collect::<Vec<_>>().join(", ") }</p> }
            if f.inspect { { part!(Button { label: "Looked at, all good", about: f.title.clone(), face: ButtonFace::Wide, icon: Icon::Eye, onpress: tell(Command::Record(Act::LookedAt { fixing: id })) }) } }
            { next }
            { part!(Button { label: "All about it", about: f.title.clone(), kind: ButtonKind::Quiet, icon: Icon::Bolt, href: Route::Fixing { job: props.job.clone(), fixing: id.to_string().into() }.href() }) }
            if f.n_in > 0 || !matches!(f.next, NextAct::PartFirst) {
                { part!(Button { label: "Place by place", about: f.title.clone(), kind: ButtonKind::Quiet, icon: Icon::Place, href: pass }) }
            }
        </div>
    }
}

crate::plain!(FixingCard, fixing_card);

#[derive(Properties, PartialEq)]
pub struct Connections {
    pub job: AttrValue,
    pub connections: Vec<ConnectionRow>,
    /// Parts that they may run by.
    pub runs_by: Vec<Choice>,
}

/// What is known of an end, on one line.
fn said(what: [&str; 2]) -> Option<AttrValue> {
    let said: Vec<&str> = what.into_iter().filter(|it| !it.is_empty()).collect();
    (!said.is_empty()).then(|| AttrValue::from(said.join("; ")))
}

#[hook]
fn use_connections(props: &Connections) -> Html {
    let desk = the_desk();
    // The one of which it is said how it runs.
    let running = use_local(|| None::<(ConnectionId, String)>);
    // The end that is to stay off.
    let staying = use_local(|| None::<(EndId, String)>);
    if props.connections.is_empty() {
        return html! {};
    }
    let runs = (*running).clone().map(|(connection, title)| {
        let running = running.clone();
        part!(super::runs::Runs {
            job: props.job.clone(),
            connection: connection,
            title: title,
            parts: props.runs_by.clone(),
            onclose: Callback::from(move |()| running.set(None))
        })
    });
    let why = (*staying).clone().map(|(end, title)| {
        let (desk, job, staying) = (desk.clone(), props.job.clone(), staying.clone());
        let what = Target::End(end);
        let onwhy = Callback::from(move |reason| {
            desk.tell(&job, Command::LeaveOff { what, reason });
        });
        part!(Why {
            title: "Stays off, by decision",
            about: title,
            reasons: STAYS_OFF.as_slice(),
            onwhy: onwhy,
            onclose: Callback::from(move |()| staying.set(None))
        })
    });
    html! {
        <>
        { part!(Section { title: "Hoses and plugs", children: html! { <>
            { for props.connections.iter().map(|c| html! {
                <>
                { part!(Rows { label: c.title.clone(), children: html! { <>
                    { for c.ends.iter().map(|e| {
                        let (state, act) = match e.state {
                            EndState::Undisturbed => (Standing::Settled, html! {}),
                            EndState::Parted if e.left_with.is_some() => {
                                let reason = e.left_with.clone().unwrap_or_default();
                                (Standing::Owed, html! { { part!(Held { job: props.job.clone(), label: "Left off with it", about: e.title.clone(), icon: Icon::LeftOff, command: Command::LeaveOff { what: Target::End(e.id), reason } }) } })
                            }
                            EndState::Parted => (Standing::Owed, html! { { part!(Held { job: props.job.clone(), label: e.push, about: e.title.clone(), icon: Icon::Rejoin, command: Command::Rejoin { end: e.id, seat: e.id, anyway: false } }) } }),
                            EndState::Pushed | EndState::Doubtful => (Standing::Owed, html! { { part!(Held { job: props.job.clone(), label: e.secure, about: e.title.clone(), icon: Icon::Check, command: Command::Record(Act::EndSecured { end: e.id }) }) } }),
                            EndState::Secured if e.look => (Standing::Owed, part!(super::super::second::SecondLook { job: props.job.clone(), what: Target::End(e.id), about: e.title.clone() })),
                            EndState::LeftOff => (Standing::Off, html! {}),
                            EndState::Secured | EndState::Checked => (Standing::Settled, html! {}),
                        };
                        html! { { part!(ListRow { what: e.title.clone(), lead: Icon::Hose, state: state, owed: e.word, tag: c.tag.clone().map(AttrValue::from), lies: said([&e.clamp, &c.route]), children: html! { <>
                            { act }
                            if e.state == EndState::Parted && e.left_with.is_none() {
                                { part!(Button { label: "Stays off", about: e.title.clone(), kind: ButtonKind::Quiet, icon: Icon::LeftOff, onpress: { let (staying, it) = (staying.clone(), (e.id, e.title.clone())); Callback::from(move |()| staying.set(Some(it.clone()))) } }) }
                            }
                            if e.state == EndState::Parted { { part!(super::seat::OtherSeat { job: props.job.clone(), end: e.id, title: e.title.clone() }) } }
                            if let Some(label) = e.part { { part!(Held { job: props.job.clone(), label: label, about: e.title.clone(), icon: Icon::Unplug, command: Command::PartEnd { end: e.id } }) } }
                        </> } }) } }
                    }) }
                </> } }) }
                if c.ends.iter().any(|e| e.state == EndState::Parted) && !props.runs_by.is_empty() {
                    { part!(Button { label: "How it runs", about: c.title.clone(), kind: ButtonKind::Quiet, icon: Icon::Hose, onpress: { let (running, it) = (running.clone(), (c.id, c.title.clone())); Callback::from(move |()| running.set(Some(it.clone()))) } }) }
                }
                </>
            }) }
        </> } }) }
        { why.unwrap_or_default() }
        { runs.unwrap_or_default() }
        </>
    }
}

crate::live!(Connections, use_connections);

/// Reasons for leaving an end off that need no typing.
const STAYS_OFF: [&str; 3] = [
    "Not needed any more, blanked off",
    "A new one takes its place",
    "Joined to something else for good",
];

#[derive(Properties, PartialEq)]
pub struct Items {
    pub job: AttrValue,
    pub items: Vec<ItemRow>,
    pub treatments: Vec<TreatmentRow>,
}

#[hook]
fn use_items(props: &Items) -> Html {
    let desk = the_desk();
    // What was said after its joint was closed.
    let late = use_local(|| None::<Act>);
    // The one whose old one goes in again.
    let old = use_local(|| None::<usize>);
    if props.items.is_empty() && props.treatments.is_empty() {
        return html! {};
    }
    let tell = |act: Act| {
        let (desk, job, late) = (desk.clone(), props.job.clone(), late.clone());
        Callback::from(move |()| {
            let (late, said) = (late.clone(), act.clone());
            let onlate = Callback::from(move |()| late.set(Some(said.clone())));
            tell_or_ask(&desk, &job, Command::Record(act.clone()), onlate);
        })
    };
    let close = {
        let late = late.clone();
        Callback::from(move |()| late.set(None))
    };
    let sheet = (*late).clone().map(|act| {
        part!(Late {
            job: props.job.clone(),
            act: act,
            onclose: close
        })
    });
    let old_sheet = (*old).and_then(|at| props.items.get(at)).map(|i| {
        let (item, left) = (i.id, i.n - i.renewed);
        let (desk, job, late) = (desk.clone(), props.job.clone(), late.clone());
        let onwhy = Callback::from(move |reason: String| {
            let act = Act::ItemFitted {
                item,
                n: left,
                old: true,
                reason,
            };
            let (late, said) = (late.clone(), act.clone());
            let onlate = Callback::from(move |()| late.set(Some(said.clone())));
            tell_or_ask(&desk, &job, Command::Record(act), onlate);
        });
        let onclose = {
            let old = old.clone();
            Callback::from(move |()| old.set(None))
        };
        part!(Why {
            title: "Old one, for now",
            about: i.title.clone(),
            reasons: OLD_ONE.as_slice(),
            onwhy: onwhy,
            onclose: onclose
        })
    });
    html! {
        <>
        { part!(Section { title: "New, and put on", children: html! { <>
            { part!(Rows { label: "New, and put on", children: html! { <>
                { for props.items.iter().enumerate().map(|(at, i)| {
                    let left = i.n - i.renewed;
                    let (state, owed) = match (i.done, i.old_in > 0, i.to_buy > 0) {
                        (true, ..) => (Standing::Settled, "new one fitted".to_owned()),
                        (_, true, _) => (Standing::Owed, "old one fitted, a temporary".to_owned()),
                        (.., true) => (Standing::Waiting, format!("{} to buy", i.to_buy)),
                        _ => (Standing::Owed, "new one owed".to_owned()),
                    };
                    html! {
                        { part!(ListRow { what: format!("{} × {}", i.n, i.title), lead: Icon::Gasket, state: state, owed: owed, children: html! { <>
                            if !i.done {
                                if left > 1 { { part!(Button { label: "One new one fitted", about: i.title.clone(), kind: ButtonKind::Quiet, icon: Icon::Renew, onpress: tell(Act::ItemFitted { item: i.id, n: 1, old: false, reason: String::new() }) }) } }
                                { part!(Button { label: if left > 1 { format!("All {left} new ones fitted") } else { "New one fitted".to_owned() }, about: i.title.clone(), icon: Icon::Renew, onpress: tell(Act::ItemFitted { item: i.id, n: left, old: false, reason: String::new() }) }) }
                                if i.old_in == 0 {
                                    { part!(Button { label: "Old one, for now", about: i.title.clone(), kind: ButtonKind::Quiet, onpress: { let old = old.clone(); Callback::from(move |()| old.set(Some(at))) } }) }
                                }
                            }
                        </> } }) }
                    }
                }) }
                { for props.treatments.iter().map(|t| html! {
                    { part!(ListRow { what: t.title.clone(), lead: Icon::Cure, state: if t.applied && !t.dried { Standing::Settled } else { Standing::Owed }, owed: t.note.clone(), children: html! { <>
                        if !t.applied || t.dried { { part!(Button { label: if t.dried { "Put on anew" } else { "Put on" }, about: t.title.clone(), icon: Icon::Check, onpress: tell(Act::TreatmentApplied { treatment: t.id }) }) } }
                    </> } }) }
                }) }
            </> } }) }
        </> } }) }
        { sheet.unwrap_or_default() }
        { old_sheet.unwrap_or_default() }
        </>
    }
}

crate::live!(Items, use_items);

/// Reasons for putting an old one in again that need no typing.
const OLD_ONE: [&str; 3] = [
    "No new one to hand",
    "Only to move it",
    "Comes off again soon",
];

#[derive(Properties, PartialEq)]
pub struct Findings {
    pub job: AttrValue,
    pub findings: Vec<FindingRow>,
}

const DECISIONS: [Decision; 5] = [
    Decision::Refit,
    Decision::Clean,
    Decision::Repair,
    Decision::Renew,
    Decision::LeaveOff,
];

/// Reasons for a decision that need no typing.
const fn reasons(it: Decision) -> &'static [&'static str] {
    match it {
        Decision::Refit => &["It is good as it is", "The maker allows it"],
        Decision::Clean => &["Only dirty", "Light rust"],
        Decision::Repair => &["It can be made good", "No new one to be had"],
        Decision::Renew => &["Worn", "Cracked or bent", "Always renewed"],
        Decision::LeaveOff => &["Not needed on this machine", "Comes later, and is known"],
    }
}

#[hook]
fn use_findings(props: &Findings) -> Html {
    let desk = the_desk();
    let asked = use_local(|| None::<(FindingId, Decision)>);
    let sheet = (*asked).and_then(|(finding, decision)| {
        let row = props.findings.iter().find(|f| f.id == finding)?;
        let (desk, job) = (desk.clone(), props.job.clone());
        let onwhy = Callback::from(move |reason: String| {
            let act = Act::Decided {
                finding,
                decision,
                reason,
            };
            desk.tell(&job, Command::Record(act));
        });
        let asked = asked.clone();
        Some(part!(Why {
            title: format!("Why: {}", words::decision(decision)),
            about: row.text.clone(),
            reasons: reasons(decision),
            onwhy: onwhy,
            onclose: Callback::from(move |()| asked.set(None))
        }))
    });
    if props.findings.is_empty() {
        return html! {};
    }
    html! {
        <>
        { findings_of(props.findings.len(), html! { <>
            { for props.findings.iter().map(|f| {
                let id = f.id;
                let items: IArray<ChipItem<usize>> = DECISIONS.iter().enumerate()
                    .map(|(n, &d)| ChipItem::new(n, words::decision(d), f.decision == words::decision(d))).collect();
                let decide = {
                    let asked = asked.clone();
                    Callback::from(move |n: usize| asked.set(DECISIONS.get(n).map(|&decision| (id, decision))))
                };
                let done = {
                    let (desk, job) = (desk.clone(), props.job.clone());
                    Callback::from(move |()| desk.tell(&job, Command::Record(Act::WorkDone { finding: id })))
                };
                let state = if f.done { Standing::Settled } else { Standing::Owed };
                html! {
                    <div class="joint" key={id.to_string()}>
                        <h3 class="joint__what">{ f.text.clone() }</h3>
                        { part!(ChipRow::<usize> { label: "Decision", items: items, onpress: decide }) }
                        if f.decided && !f.done { { part!(Button { label: "Work done", about: f.text.clone(), icon: Icon::Check, onpress: done }) } }
                        { part!(crate::kit::StateTag { state: state, word: if f.done { "settled" } else if f.decided { "work owed" } else { "no decision" } }) }
                    </div>
                }
            }) }
        </> }) }
        { sheet.unwrap_or_default() }
        </>
    }
}

/// Many are folded.
fn findings_of(n: usize, children: Html) -> Html {
    match n > 6 {
        false => part!(Section {
            title: "Findings",
            children: children
        }),
        true => part!(Fold {
            title: "Findings",
            count: n.to_string(),
            open: false,
            children: children
        }),
    }
}

crate::live!(Findings, use_findings);
