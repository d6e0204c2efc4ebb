//! One fixing with all that is known of it: its count in large figures, where
//! it lies, then a card for each question, answered at most one tap further.
use crate::part;
mod also;
mod empty;
mod figure;
mod hole;
mod keep;
mod know;
mod meant;
mod more;
mod running;
mod swap;

use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::view::{self, FixingPage, NextAct};
use yew::prelude::*;

pub(super) use self::meant::meant_chips;
use super::lost;
use crate::app::{Desk, the_desk, undo_button};
use crate::kit::{
    Banner, BannerKind, Button, ButtonFace, ButtonKind, Card, Count, CountSize, Facts, IArray,
    Icon, ListRow, MainAct, Page, Rows, Standing, StateTag, TagCode, use_local,
};
use crate::router::{self, Route};

#[derive(Properties, PartialEq)]
pub struct FixingScreen {
    pub job: AttrValue,
    pub fixing: AttrValue,
}

/// The sheet that is open.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Over {
    Nothing,
    Thread,
    Mark,
    Hole,
    Keep,
    /// To keep the old ones where nothing is decided yet.
    KeepOld,
    Figure,
    Treat,
    Swap,
    /// A washer, shim or the like.
    SwapExtra,
    Thick,
    /// Places that stay empty.
    Empty,
    Words,
    /// Another part that it holds.
    Also,
    /// Washers and the like that were forgotten.
    More,
    /// Put on its threads, said after they were final.
    Late(TreatmentId),
}

/// What every sheet of this screen is given.
#[derive(Clone, PartialEq)]
struct Ask {
    job: AttrValue,
    page: FixingPage,
    onclose: Callback<()>,
}

impl Ask {
    /// Closes the sheet and says it.
    fn tell(&self, desk: &Desk, command: impl Fn() -> Command + 'static) -> Callback<()> {
        let (desk, job) = (desk.clone(), self.job.clone());
        Callback::from(move |()| {
            router::close_sheet();
            desk.tell(&job, command());
        })
    }
}

#[hook]
fn use_fixing_screen(props: &FixingScreen) -> Html {
    let desk = the_desk();
    let over = use_local(|| Over::Nothing);
    let job = props.job.clone();
    let id: Option<FixingId> = props.fixing.parse().ok();
    let page = id.and_then(|id| {
        desk.read(&job, |book| view::fixing_page(book, id, desk.at()))
            .flatten()
    });
    let Some(page) = page else { return lost() };
    let ask = Ask {
        job: job.clone(),
        page: page.clone(),
        onclose: {
            let over = over.clone();
            Callback::from(move |()| over.set(Over::Nothing))
        },
    };
    let open = |which: Over| {
        let over = over.clone();
        Callback::from(move |()| over.set(which))
    };
    let sheet = match *over {
        Over::Nothing => html! {},
        Over::Thread => part!(know::Threads { ask }),
        Over::Mark => part!(know::Marks { ask }),
        Over::Hole => part!(hole::Measure { ask }),
        Over::Keep => part!(keep::Keep {
            old: ask.page.reuse.renew,
            ask
        }),
        Over::KeepOld => part!(keep::Keep { old: true, ask }),
        Over::Treat => part!(keep::Treat { ask }),
        Over::Figure => part!(figure::Stages { ask }),
        Over::Swap => part!(swap::Swap { ask, extra: false }),
        Over::SwapExtra => part!(swap::Swap { ask, extra: true }),
        Over::Thick => part!(know::Thick { ask }),
        Over::Empty => part!(empty::Empty { ask }),
        Over::Also => part!(also::Also { ask }),
        Over::More => part!(more::More { ask }),
        Over::Words => part!(super::put_right::PutRight {
            job: job.clone(),
            about: Target::Fixing(ask.page.row.id),
            onclose: ask.onclose
        }),
        Over::Late(treatment) => part!(super::late::Late {
            job: job.clone(),
            act: Act::TreatmentApplied { treatment },
            onclose: ask.onclose
        }),
    };
    let back = match page.part {
        Some(part) => Route::PutBackPart {
            job: job.clone(),
            part: part.to_string().into(),
        },
        None => Route::PutBack { job: job.clone() },
    };
    let tighten = Route::Tighten {
        job: job.clone(),
        fixing: props.fixing.clone(),
    };
    let act = html! {
        { part!(MainAct { side: undo_button(&job, "Undo the last entry", ButtonKind::Quiet), children: html! { <>
            { part!(Button { label: if page.torqued { "Tighten it" } else { "Make it fast" }, kind: ButtonKind::Main, icon: Icon::Torque, href: tighten.href() }) }
        </> } }) }
    };
    let under = if page.row.place.is_empty() {
        format!("of {}", page.of)
    } else {
        format!("of {}, {}", page.of, page.row.place)
    };
    html! {
        <>
        { part!(Page { title: page.row.title.clone(), under: under, back: back, act: act, children: html! { <>
            { head(&page) }
            { super::again::touch_again(&desk, &job) }
            { for page.wrong.iter().map(|w| html! {
                { part!(Banner { kind: BannerKind::Danger, title: w.clone(), text: "A swap. The audit names it until it is put right." }) }
            }) }
            { photos(&desk, &job, &page) }
            if page.threaded {
                { thread(&page, open(Over::Thread), open(Over::Mark)) }
                { against_hole(&page, open(Over::Hole)) }
            }
            if page.shim { { thick(&page, open(Over::Thick)) } }
            { again((&desk, &job), &page, (open(Over::Keep), open(Over::KeepOld))) }
            if page.torqued { { torque(&page, open(Over::Figure)) } }
            if let Some(it) = page.self_locking.clone() { { part!(running::Running { job: job.clone(), fixing: page.row.id, detail: page.detail.clone(), it: it }) } }
            if page.self_locking.is_none() { { running::say_so(&desk, &job, &page) } }
            if page.threaded { { on_it(&desk, &job, &page, open(Over::Treat), {
                let over = over.clone();
                Callback::from(move |it| over.set(Over::Late(it)))
            }) } }
            { neighbours(&job, &page, (open(Over::Swap), open(Over::SwapExtra))) }
            <div class="pair">
                { part!(Button { label: "To buy", icon: Icon::ToBuy, href: Route::ToBuy { job: job.clone() }.href() }) }
                { part!(Button { label: "What is this bolt?", icon: Icon::Find, href: Route::WhatBolt { job: job.clone() }.href() }) }
            </div>
            if !page.may_stay_empty.is_empty() {
                { part!(Button { label: "A place stays empty, by decision", kind: ButtonKind::Quiet, face: ButtonFace::Wide, icon: Icon::LeftOff, onpress: open(Over::Empty) }) }
            }
            { part!(Button { label: "A washer or the like came with each", kind: ButtonKind::Quiet, face: ButtonFace::Wide, icon: Icon::Plus, onpress: open(Over::More) }) }
            if !page.others.is_empty() {
                { part!(Button { label: "It also holds another part", kind: ButtonKind::Quiet, face: ButtonFace::Wide, icon: Icon::SubAssembly, onpress: open(Over::Also) }) }
            }
            { part!(Button { label: "Put words right", kind: ButtonKind::Quiet, face: ButtonFace::Wide, icon: Icon::Edit, onpress: open(Over::Words) }) }
        </> } }) }
        { sheet }
        </>
    }
}

crate::live!(FixingScreen, use_fixing_screen);

/// Photos of it, and one more.
fn photos(desk: &Desk, job: &AttrValue, page: &FixingPage) -> Html {
    let of = Target::Fixing(page.row.id);
    let caption = format!("{} of {}", page.row.title, page.of);
    super::shots::shots(desk, job, &page.photos, of, caption)
}

/// How many, in figures to be read at arm's length, and where they lie.
fn head(page: &FixingPage) -> Html {
    let f = &page.row;
    let (state, word) = match f.next {
        NextAct::Done => match f.lacks.first() {
            None => (Standing::Settled, "all final"),
            Some(lacks) => (Standing::Owed, *lacks),
        },
        NextAct::Repair => (Standing::Danger, "repair first"),
        NextAct::PartFirst => (Standing::Blocked, "its part is off"),
        NextAct::Wait { .. } => (Standing::Blocked, "waits"),
        NextAct::FitExtras => (Standing::Owed, "washers first"),
        NextAct::Start { .. } => (Standing::Owed, "to start"),
        NextAct::Tighten { .. } => (Standing::Owed, "to tighten"),
        NextAct::Doubt { .. } => (Standing::Owed, "in doubt"),
        NextAct::LastRound => (Standing::Owed, "last round"),
        NextAct::Check => (Standing::Owed, "second look"),
    };
    let mut facts: Vec<(AttrValue, AttrValue)> = Vec::new();
    let mut fact = |word: &'static str, text: String| {
        if !text.is_empty() {
            facts.push((word.into(), text.into()));
        }
    };
    fact("In", format!("{} of {}, {} final", f.n_in, f.n, f.n_final));
    fact("Places", page.places.clone());
    fact("Class", page.class.clone());
    fact("Tool", f.tool.clone());
    fact(
        "With each",
        f.extras
            .iter()
            .map(|e| e.text.clone())
            .collect::<Vec<_>>()
            .join(", "),
    );
    if f.short > 0 {
        fact("Not to hand", f.short.to_string());
    }
    let facts: IArray<(AttrValue, AttrValue)> = facts.into_iter().collect();
    html! {
        <section class="fixing-head">
            <div class="fixing-head__figure">
                { part!(Count { n: f.n_final, of: f.n, state: state, size: CountSize::Figure }) }
                { part!(StateTag { state: state, word: word }) }
            </div>
            { part!(Facts { items: facts }) }
            { for page.containers.iter().map(|c| html! {
                <p class="fixing-head__bag">
                    if !c.tag.is_empty() { { part!(TagCode { code: c.tag.clone() }) } }
                    <span>{ if c.where_.is_empty() { format!("{} × {}", c.n, c.what) } else { format!("{} × {}, {}", c.n, c.what, c.where_) } }</span>
                </p>
            }) }
            if !f.watch.is_empty() { { part!(Banner { kind: BannerKind::Caution, title: f.watch.clone() }) } }
        </section>
    }
}

/// What it is: thread and class.
fn thread(page: &FixingPage, onthread: Callback<()>, onmark: Callback<()>) -> Html {
    let known = |text: &str| match text {
        "" => AttrValue::Static("not known"),
        text => AttrValue::from(text.to_owned()),
    };
    let word = |text| AttrValue::Static(text);
    let facts: IArray<(AttrValue, AttrValue)> = [
        (word("Thread"), known(&page.thread)),
        (word("Class"), known(&page.class)),
    ]
    .into_iter()
    .collect();
    html! {
        { part!(Card { title: "Which one it is", children: html! { <>
            { part!(Facts { items: facts }) }
            { part!(Button { label: "What thread is it?", face: ButtonFace::Wide, icon: Icon::Bolt, onpress: onthread }) }
            { part!(Button { label: "Read the mark on the head", face: ButtonFace::Wide, icon: Icon::Eye, onpress: onmark }) }
        </> } }) }
    }
}

/// What tells a shim from its neighbours.
fn thick(page: &FixingPage, onpress: Callback<()>) -> Html {
    let known = page.spec.length_um.is_some();
    let (state, word) = match known {
        true => (Standing::Can, "noted"),
        false => (Standing::Waiting, "not measured"),
    };
    html! {
        { part!(Card { title: "Which one it is", state: state, word: word, children: html! { <>
            <p class="strong">{ page.spec.label() }</p>
            { part!(Button { label: "How thick is it?", face: ButtonFace::Wide, icon: Icon::Ruler, onpress }) }
        </> } }) }
    }
}

fn against_hole(page: &FixingPage, onpress: Callback<()>) -> Html {
    let (state, word) = match &page.hole_text {
        Some(text) if text.bad => (Standing::Danger, "do not fit"),
        Some(text) if text.doubt => (Standing::Owed, "look again"),
        Some(_) => (Standing::Settled, "fits"),
        None => (Standing::Waiting, "not measured"),
    };
    html! {
        { part!(Card { title: "Length against the hole", state: state, word: word, children: html! { <>
            if let Some(text) = &page.hole_text {
                <p class="sum-line">{ text.sum.clone() }</p>
                <p>{ text.verdict.clone() }</p>
            }
            if !page.row.hole_old.is_empty() { { part!(Banner { kind: BannerKind::Caution, title: page.row.hole_old.clone() }) } }
            { part!(Button { label: "Measure the hole", face: ButtonFace::Wide, icon: Icon::Ruler, onpress }) }
        </> } }) }
    }
}

fn again(
    (desk, job): (&Desk, &AttrValue),
    page: &FixingPage,
    (onpress, onkeep): (Callback<()>, Callback<()>),
) -> Html {
    let r = &page.reuse;
    let look = page.row.inspect;
    let (state, word) = match (r.doubt || look, r.renew && page.row.short > 0) {
        (true, _) if look => (Standing::Owed, "look at them"),
        (true, _) => (Standing::Owed, "decide"),
        (_, true) => (Standing::Waiting, "to buy"),
        _ => (Standing::Settled, "decided"),
    };
    html! {
        { part!(Card { title: "Old or new", state: state, word: word, children: html! { <>
            <p class="strong">{ r.now.clone() }</p>
            <p class="soft">{ r.trade.clone() }</p>
            if look { { looked_at(desk, job, page) } }
            { part!(Button { label: if r.renew { "Fit the old ones all the same" } else { "Take new ones" }, face: ButtonFace::Wide, icon: Icon::Renew, onpress }) }
            if r.undecided.is_some() {
                { part!(Button { label: "Keep the old ones, with a reason", face: ButtonFace::Wide, icon: Icon::Undo, onpress: onkeep }) }
            }
            { keep::stretches(desk, job, page) }
        </> } }) }
    }
}

/// Each was looked at before it goes back, as was asked for.
fn looked_at(desk: &Desk, job: &AttrValue, page: &FixingPage) -> Html {
    let (desk, job, fixing) = (desk.clone(), job.clone(), page.row.id);
    let press =
        Callback::from(move |()| desk.tell(&job, Command::Record(Act::LookedAt { fixing })));
    part!(Button {
        label: "Looked at, all good",
        face: ButtonFace::Wide,
        icon: Icon::Eye,
        onpress: press
    })
}

fn torque(page: &FixingPage, onpress: Callback<()>) -> Html {
    let doubted = page.stages.iter().any(|s| !s.doubt.is_empty());
    let (state, word) = match (page.stages.is_empty(), doubted) {
        (true, _) => (Standing::Waiting, "no figure"),
        (_, true) => (Standing::Owed, "doubt the figure"),
        _ => (Standing::Can, "noted"),
    };
    html! {
        { part!(Card { title: "Torque", state: state, word: word, children: html! { <>
            { for page.stages.iter().enumerate().map(|(n, s)| html! {
                <div class="stage" key={n}>
                    <p class="sum-line">{ if page.stages.len() > 1 { format!("{}. {}", n + 1, s.shown) } else { s.shown.clone() } }</p>
                    if !s.entered.is_empty() { <p class="soft">{ format!("Entered as {}.", s.entered) }</p> }
                    if !s.doubt.is_empty() { { part!(Banner { kind: BannerKind::Caution, title: s.doubt.clone() }) } }
                    if !s.reckoned.is_empty() { <p class="soft">{ s.reckoned.clone() }</p> }
                </div>
            }) }
            if !page.meant.is_empty() { <p class="strong">{ page.meant.clone() }</p> }
            if let Some(oiled) = page.dry_but_oiled { { part!(Banner { kind: BannerKind::Caution, title: oiled }) } }
            if !page.detail.source.is_empty() { <p class="soft">{ format!("From: {}", page.detail.source) }</p> }
            { part!(Button { label: if page.stages.is_empty() { "Enter the maker's figure" } else { "Change the figure" }, face: ButtonFace::Wide, icon: Icon::Edit, onpress }) }
        </> } }) }
    }
}

/// Lubricant, thread-locker, sealant on its threads.
fn on_it(
    desk: &Desk,
    job: &AttrValue,
    page: &FixingPage,
    onpress: Callback<()>,
    onlate: Callback<TreatmentId>,
) -> Html {
    html! {
        { part!(Card { title: "On its threads", children: html! { <>
            if !page.treatments.is_empty() {
                { part!(Rows { label: "On its threads", children: html! { <>
                    { for page.treatments.iter().map(|t| {
                        let (desk, job, id) = (desk.clone(), job.clone(), t.id);
                        let late = onlate.reform(move |()| id);
                        let put_on = Callback::from(move |()| {
                            let command = Command::Record(Act::TreatmentApplied { treatment: id });
                            super::late::tell_or_ask(&desk, &job, command, late.clone());
                        });
                        part!(ListRow { what: t.title.clone(), lead: Icon::Droplet, state: if t.applied && !t.dried { Standing::Settled } else { Standing::Owed }, owed: t.note.clone(), children: html! { <>
                            if !t.applied || t.dried { { part!(Button { label: if t.dried { "Put on anew" } else { "Put on" }, about: t.title.clone(), icon: Icon::Check, onpress: put_on }) } }
                        </> } })
                    }) }
                </> } }) }
            }
            { part!(Button { label: "Lubricant, thread-locker, sealant", face: ButtonFace::Wide, icon: Icon::Droplet, onpress }) }
        </> } }) }
    }
}

/// Other sizes on the same part, which can be mixed up with these.
fn neighbours(
    job: &AttrValue,
    page: &FixingPage,
    (onpress, onextra): (Callback<()>, Callback<()>),
) -> Html {
    if page.sizes.is_empty() && page.offered.is_empty() && page.offered_extras.is_empty() {
        return html! {};
    }
    html! {
        { part!(Card { title: "Not to be mixed up", children: html! { <>
            if !page.sizes.is_empty() {
                { part!(Rows { label: "Sizes on the same part", children: html! { <>
                    { for page.sizes.iter().map(|s| {
                        let href = (!s.here).then(|| AttrValue::from(Route::Fixing { job: job.clone(), fixing: s.id.to_string().into() }.href()));
                        let places = if s.here { format!("{} (this one)", s.places) } else { s.places.clone() };
                        part!(ListRow { what: s.text.clone(), lead: Icon::Bolt, lies: places, href: href })
                    }) }
                </> } }) }
            }
            if !page.open.is_empty() && !page.offered.is_empty() {
                { part!(Button { label: "Another one went in", face: ButtonFace::Wide, icon: Icon::Warning, onpress }) }
            }
            if !page.offered_extras.is_empty() {
                { part!(Button { label: "Another shim, washer or spacer went in", face: ButtonFace::Wide, icon: Icon::Warning, onpress: onextra }) }
            }
        </> } }) }
    }
}
