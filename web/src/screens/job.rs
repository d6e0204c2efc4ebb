//! The Job screen: the verdict and the figures, make-safe steps, what is cut
//! off, drained, put in, to buy, and the way to the log and to a copy.
use crate::part;
mod bags;
mod describe;
mod follow;
mod one_more;

use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::view::{self, CareAct, CareRow, JobPage, JobRest};
use yew::prelude::*;

use super::put_back::{take_out, taken_out};
use super::{OfJob, copies, lost};
use crate::app::{Desk, the_desk};
use crate::kit::{
    Banner, BannerKind, Button, ButtonFace, ButtonKind, Count, CountSize, Fold, Icon, ListRow,
    Loading, MainAct, Page, Rows, Section, Standing, Verdict,
};
use crate::router::Route;

pub fn job_screen(props: &OfJob) -> Html {
    let desk = the_desk();
    let job = props.job.clone();
    let Some(page) = desk.read(&job, |book| view::job_page(book, desk.at())) else {
        return lost();
    };
    let c = page.card.counts;
    let state = match (page.card.danger, c.owed) {
        (true, _) => Standing::Danger,
        (false, 0) => Standing::Settled,
        _ => Standing::Owed,
    };
    let side = html! {
        { part!(Button { label: "Settings", icon: Icon::Settings, face: ButtonFace::IconOnly, kind: ButtonKind::Quiet, href: Route::Settings.href() }) }
    };
    let (label, icon, route) = if page.card.signed {
        ("Sign-off", Icon::Check, Route::SignOff { job: job.clone() })
    } else if c.off == 0 && c.back == 0 {
        (
            "Take off",
            Icon::TakeOff,
            Route::TakeOff { job: job.clone() },
        )
    } else if c.back > 0 && c.owed > 0 {
        (
            "Put back",
            Icon::PutBack,
            Route::PutBack { job: job.clone() },
        )
    } else if c.owed == 0 {
        ("Audit", Icon::Audit, Route::Audit { job: job.clone() })
    } else {
        (
            "Take off",
            Icon::TakeOff,
            Route::TakeOff { job: job.clone() },
        )
    };
    let act = html! {
        { part!(MainAct { children: html! { <>
            { part!(Button { label: label, kind: ButtonKind::Main, icon: icon, href: route.href() }) }
        </> } }) }
    };
    html! {
        { part!(Page { title: page.card.title.clone(), under: page.card.machine.clone(), back: Route::Jobs, side: side, act: act, children: html! { <>
            { part!(Verdict { state: state, words: page.card.verdict.clone(), text: (!page.card.under.is_empty()).then(|| AttrValue::from(page.card.under.clone())) }) }
            { super::again::touch_again(&desk, &job) }
            if !page.card.due.is_empty() {
                { part!(Banner { kind: BannerKind::Caution, icon: Icon::Clock, title: page.card.due.clone() }) }
            }
            { figures(&page) }
            if c.off + c.back > 0 {
                { part!(Button { label: "Picture", icon: Icon::SubAssembly, face: ButtonFace::Wide, href: Route::Picture { job: job.clone() }.href() }) }
            }
            { aim(&page) }
            { steps(&desk, &job, &page) }
            { care(&desk, &job, "Inside the machine", &page.insides, Icon::Rag) }
            if desk.standing().whole {
                { further_down(&desk, &job, page.card.signed) }
            } else {
                { part!(Loading { what: "The rest of this page" }) }
            }
        </> } }) }
    }
}

/// What a start leaves for when the rest of the page stands. It is in the
/// WASM's second file.
#[inline(never)]
fn further_down(desk: &Desk, job: &AttrValue, signed: bool) -> Html {
    let Some(page) = desk.read(job, |book| view::job_rest(book, desk.at())) else {
        return lost();
    };
    html! {
        <>
            { part!(super::part::joints::Findings { job: job.clone(), findings: page.findings.clone() }) }
            { care(desk, job, "Cut off", &page.supplies, Icon::Battery) }
            { care(desk, job, "Fluids", &page.fluids, Icon::Fluid) }
            { part!(super::shots::OfAll { job: job.clone() }) }
            { part!(super::machine::May { job: job.clone() }) }
            { part!(super::due::AfterRunning { job: job.clone() }) }
            { to_buy(desk, job, &page) }
            { part!(bags::Bags { job: job.clone(), containers: page.containers.clone() }) }
            { part!(Stray { job: job.clone(), strays: page.strays.clone() }) }
            { part!(Section { title: "Record", count: countback_core::words::plural(page.n_entries as u32, "entry"), children: html! { <>
                if let Some(last) = &page.last_entry {
                    { part!(Rows { label: "Last entry", children: html! { <>{ part!(ListRow { what: last.text.clone(), lies: format!("{} {}", last.when, last.by), lead: Icon::Log, href: Route::Log { job: job.clone() }.href() }) }</> } }) }
                }
                { part!(Button { label: "Handover page", icon: Icon::People, face: ButtonFace::Wide, href: Route::Handover { job: job.clone() }.href() }) }
                if !signed {
                    { part!(describe::Describe { job: job.clone() }) }
                    { part!(follow::Follow { job: job.clone() }) }
                    { part!(super::put_right::JobWords { job: job.clone() }) }
                }
                { copies::under_record(desk, job, signed) }
            </> } }) }
        </>
    }
}

/// What the job is for, and the reading when it was opened.
fn aim(page: &JobPage) -> Html {
    let mut said = vec![page.aim.clone(), page.meter.clone(), page.procedure.clone()];
    said.retain(|s| !s.is_empty());
    if said.is_empty() {
        return html! {};
    }
    html! { <p class="soft">{ format!("{}.", said.join(". ")) }</p> }
}

fn figures(page: &JobPage) -> Html {
    let c = page.card.counts;
    let cell = |n: u32, what: &'static str, state: Standing| {
        html! { <div class="tally" key={what}>{ part!(Count { n: n, state: state, size: CountSize::Row }) }<span>{ what }</span></div> }
    };
    let owed = if c.owed == 0 {
        Standing::Settled
    } else {
        Standing::Owed
    };
    html! {
        <div class="tallies">
            { cell(c.off as u32, "off", Standing::Off) }
            { cell(c.owed as u32, "owed", owed) }
            { cell(c.waiting as u32, "waiting", Standing::Waiting) }
            { cell(c.loose, "loose fasteners", Standing::Off) }
        </div>
    }
}

fn steps(desk: &Desk, job: &AttrValue, page: &JobPage) -> Html {
    let open = page.steps.iter().filter(|s| !s.done).count();
    html! {
        { part!(Section { title: "Make safe", count: if page.steps.is_empty() { String::new() } else { format!("{} of {} confirmed", page.steps.len() - open, page.steps.len()) }, children: html! { <>
            if page.steps.iter().any(|s| !s.done || s.late) {
                { part!(Rows { label: "Make-safe steps", children: html! { <>
                    { for page.steps.iter().filter(|s| !s.done || s.late).map(|s| {
                        let state = if s.done { Standing::Settled } else { Standing::Owed };
                        html! {
                            { part!(ListRow { what: s.text.clone(), lead: Icon::Lock, state: state, owed: if s.done { "confirmed late, when something was off already" } else { "not confirmed" }, children: html! { <>
                                if !s.done { { part!(super::cautions::Held { job: job.clone(), label: "Confirm", about: s.text.clone(), icon: Icon::Check, command: Command::Record(Act::SafeStepConfirmed { step: s.id }) }) } }
                            </> } }) }
                        }
                    }) }
                </> } }) }
            }
            if page.card.signed {
                // Nothing is made safe for work that is over.
            } else if !page.begun {
                <div class="pair">
                    { for page.step_offers.iter().map(|step| {
                        let (desk, job, it) = (desk.clone(), job.clone(), step.clone());
                        part!(Button { label: step.text.clone(), onpress: Callback::from(move |()| desk.tell(&job, Command::Record(Act::SafeStepListed(it.clone())))) })
                    }) }
                    if desk.standing().whole { { another_step(job, page) } }
                </div>
                if page.steps.is_empty() {
                    <p class="soft">{ "Tap what applies here; each is confirmed before the first part comes off." }</p>
                }
            } else if desk.standing().whole {
                { another_step(job, page) }
            }
        </> } }) }
    }
}

/// The button for a step that is none of the usual. It is in the second file.
#[inline(never)]
fn another_step(job: &AttrValue, page: &JobPage) -> Html {
    part!(one_more::AnotherStep {
        job: job.clone(),
        offers: page.step_offers.clone()
    })
}

fn care(desk: &Desk, job: &AttrValue, title: &'static str, rows: &[CareRow], icon: Icon) -> Html {
    if rows.is_empty() {
        return html! {};
    }
    let open = rows.iter().filter(|r| !r.done).count();
    html! {
        { part!(Section { title: title, count: format!("{open} open"), children: html! { <>
            { part!(Rows { label: title, children: html! { <>
                { for rows.iter().map(|r| {
                    let state = match (r.done, r.on) {
                        (true, _) => Standing::Settled,
                        (false, Target::Inside(_)) => Standing::Danger,
                        _ => Standing::Owed,
                    };
                    html! {
                        { part!(ListRow { what: r.text.clone(), lead: icon, state: state, owed: r.note.clone(), children: html! { <>
                            if !r.done { { care_act(desk, job, r) } }
                        </> } }) }
                    }
                }) }
            </> } }) }
        </> } }) }
    }
}

/// The one act that settles a line.
fn care_act(desk: &Desk, job: &AttrValue, row: &CareRow) -> Html {
    let (label, act) = match row.act {
        CareAct::Fill(fluid) => {
            return part!(super::fluid::Fill {
                job: job.clone(),
                fluid,
                about: row.text.clone()
            });
        }
        CareAct::Level(fluid) => {
            return part!(super::fluid::Level {
                job: job.clone(),
                fluid,
                about: row.text.clone()
            });
        }
        CareAct::TakeOut(id) => {
            let (desk, job) = (desk.clone(), job.clone());
            let label = taken_out(&desk, &job, id);
            let press = Callback::from(move |()| take_out(&desk, &job, id));
            return part!(Button {
                label: label,
                about: row.text.clone(),
                icon: Icon::Check,
                onpress: press
            });
        }
        CareAct::Restore(supply) => ("On again", Act::SupplyRestored { supply }),
        CareAct::Bleed(fluid) => ("Bled", Act::FluidBled { fluid }),
        CareAct::Other => return html! {},
    };
    let (desk, job) = (desk.clone(), job.clone());
    let press = Callback::from(move |()| desk.tell(&job, Command::Record(act.clone())));
    part!(Button {
        label: label,
        about: row.text.clone(),
        icon: Icon::Check,
        onpress: press
    })
}

/// Lines of a group before it is folded. A design choice, no source.
const LONG: usize = 8;

/// A part of the page, folded where it is long.
fn long(title: &'static str, n: usize, children: Html) -> Html {
    let count = n.to_string();
    match n > LONG {
        false => part!(Section {
            title: title,
            count: count,
            children: children
        }),
        true => part!(Fold {
            title: title,
            count: count,
            open: false,
            children: children
        }),
    }
}

fn to_buy(desk: &Desk, job: &AttrValue, page: &JobRest) -> Html {
    if page.to_buy.is_empty() {
        return part!(Button {
            label: "To buy: nothing yet",
            icon: Icon::ToBuy,
            face: ButtonFace::Wide,
            href: Route::ToBuy { job: job.clone() }.href()
        });
    }
    let many = page.to_buy.len() > LONG;
    let whole = part!(Button {
        label: "The whole list",
        icon: Icon::ToBuy,
        face: ButtonFace::Wide,
        href: Route::ToBuy { job: job.clone() }.href()
    });
    html! {
        <>
        { long("To buy", page.to_buy.len(), html! { <>
            { part!(Rows { label: "To buy", children: html! { <>
                { for page.to_buy.iter().map(|b| {
                    let tell = |arrived: bool| {
                        let (desk, job, want, n, on_order) = (desk.clone(), job.clone(), b.want, b.n, b.on_order);
                        Callback::from(move |()| {
                            let act = if arrived { Act::Arrived { want, n } } else { Act::Ordered { want, n: n - on_order.min(n - 1) } };
                            desk.tell(&job, Command::Record(act));
                        })
                    };
                    let one = {
                        let (desk, job, want) = (desk.clone(), job.clone(), b.want);
                        Callback::from(move |()| desk.tell(&job, Command::Record(Act::Arrived { want, n: 1 })))
                    };
                    let ordered = b.on_order >= b.n;
                    let state = if ordered { Standing::Waiting } else { Standing::Owed };
                    html! {
                        { part!(ListRow { what: format!("{} × {}", b.n, b.text), lies: b.what_for.clone(), lead: Icon::Delivery, state: state, owed: if ordered { "ordered" } else { "not ordered" }, children: html! { <>
                            if !ordered { { part!(Button { label: "Ordered", about: format!("{} for {}", b.text, b.what_for), kind: ButtonKind::Quiet, onpress: tell(false) }) } }
                            if b.n > 1 { { part!(Button { label: "One arrived", about: format!("{} for {}", b.text, b.what_for), kind: ButtonKind::Quiet, onpress: one }) } }
                            { part!(Button { label: if b.n > 1 { "All arrived" } else { "Arrived" }, about: format!("{} for {}", b.text, b.what_for), icon: Icon::Check, onpress: tell(true) }) }
                        </> } }) }
                    }
                }) }
            </> } }) }
            if !many { { whole.clone() } }
        </> }) }
        // The list itself is a tap away, however long it is.
        if many { { whole } }
        </>
    }
}

#[derive(Properties, PartialEq)]
struct Stray {
    job: AttrValue,
    strays: Vec<CareRow>,
}

/// Fasteners of unknown origin: found, and settled.
fn stray(props: &Stray) -> Html {
    let desk = the_desk();
    html! {
        { part!(Section { title: "Found, unknown", children: html! { <>
            { part!(Rows { label: "Found, unknown", children: html! { <>
                { for props.strays.iter().map(|s| {
                    let settle = {
                        let (desk, job, on) = (desk.clone(), props.job.clone(), s.on);
                        Callback::from(move |()| if let Target::Stray(stray) = on {
                            desk.tell(&job, Command::Record(Act::StraySettled { stray, reason: "not of this job".to_owned() }));
                        })
                    };
                    // What is missing and may be it; all else by what is measured.
                    let short = match s.on {
                        Target::Stray(stray) => desk.read(&props.job, |book| view::stray_fits(book, stray)),
                        _ => None,
                    };
                    let short = short.unwrap_or_default();
                    let belongs = short.iter().map(|(line, name)| {
                        let (desk, job, on, line) = (desk.clone(), props.job.clone(), s.on, *line);
                        let press = Callback::from(move |()| if let Target::Stray(stray) = on {
                            desk.tell(&job, Command::Record(Act::StrayIdentified { stray, line }));
                        });
                        part!(Button { label: format!("It is the {name}"), icon: Icon::Check, onpress: press })
                    });
                    let state = if s.done { Standing::Settled } else { Standing::Owed };
                    html! {
                        { part!(ListRow { what: s.text.clone(), lead: Icon::Bolt, state: state, owed: if s.done { s.note.clone() } else { "where does it belong?".to_owned() }, children: html! { <>
                            if !s.done { { for belongs } }
                            if !s.done { { part!(Button { label: "Not of this job", about: s.text.clone(), kind: ButtonKind::Quiet, onpress: settle }) } }
                        </> } }) }
                    }
                }) }
            </> } }) }
            { part!(Button { label: "A fastener turned up", icon: Icon::Bolt, face: ButtonFace::Wide, href: Route::WhatBolt { job: props.job.clone() }.href() }) }
        </> } }) }
    }
}

crate::plain!(Stray, stray);
