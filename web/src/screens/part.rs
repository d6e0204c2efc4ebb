//! A part: its photos, its containers, its fixings with the one next act of
//! each, its ends, what is new, and the warning before it hides something.
use crate::part;
mod add;
mod add_size;
pub mod joints;
mod move_bag;
mod runs;
mod seat;

use crate::kit::use_local;
use countback_core::access::Goal;
use countback_core::job::{Command, PartState, Refusal};
use countback_core::journal::*;
use countback_core::view::{self, PartPage};
use yew::prelude::*;

use super::take_off::connection::ConnectionSheet;
use super::take_off::draft::DraftConnection;
use super::{cautions, lost};
use crate::app::{Along, Desk, Told, the_desk};
use crate::kit::{
    Banner, BannerKind, Button, ButtonFace, ButtonKind, Icon, ListRow, MainAct, Page, Readiness,
    Rows, Section, Sheet, Standing, State, StateTag, TextField,
};
use crate::router::{self, Route};

#[derive(Properties, PartialEq)]
pub struct PartScreen {
    pub job: AttrValue,
    pub part: AttrValue,
}

#[derive(Clone, Debug, PartialEq)]
enum Over {
    Nothing,
    Hides,
    Way,
    More,
    Words,
    /// A hose or plug that was forgotten.
    Hose,
    /// Into another bag, by the row.
    Bag(usize),
    Count(LineId),
}

#[hook]
fn use_part_screen(props: &PartScreen) -> Html {
    let desk = the_desk();
    let over = use_local(|| Over::Nothing);
    let job = props.job.clone();
    let id: Option<PartId> = props.part.parse().ok();
    let page = id.and_then(|id| {
        desk.read(&job, |book| view::part_page(book, id, desk.at()))
            .flatten()
    });
    let Some(page) = page else {
        return lost();
    };
    let left_off = page.state == PartState::LeftOff;
    // What was left off by decision can go back after all.
    let off = left_off || matches!(page.state, PartState::Off | PartState::Aside);
    let state = match page.state {
        PartState::Placed if page.finished => Standing::Settled,
        PartState::Placed => Standing::Owed,
        _ => Standing::Off,
    };
    let place = {
        let (desk, job, over, id) = (desk.clone(), job.clone(), over.clone(), page.id);
        Callback::from(move |anyway: bool| {
            let (desk2, job2, over2) = (desk.clone(), job.clone(), over.clone());
            let done = Callback::from(move |told: Told| match told {
                Told::Refused(Refusal::WouldBury { .. }) => over2.set(Over::Hides),
                Told::Refused(refusal) => desk2.refuse(&job2, &refusal),
                Told::Saved(_) => over2.set(Over::Nothing),
                Told::Failed(_) => {}
            });
            desk.try_tell(&job, Command::PlacePart { part: id, anyway }, done);
        })
    };
    // Put back by hand, what it is made of can hurt as it could coming off.
    let part = page.id;
    let next = match off {
        true => Some(Command::PlacePart {
            part,
            anyway: false,
        }),
        false if page.hides.is_empty() => None,
        false => Some(Command::TakeOffAgain { part, aside: false }),
    };
    let to_read = match next {
        Some(next) => cautions::unread(&desk, &job, &[next]),
        None => Vec::new(),
    };
    let main = if off {
        let press = place.reform(|()| false);
        let (label, kind) = match left_off {
            true => ("It goes back after all", ButtonKind::Plain),
            false => ("Place it", ButtonKind::Main),
        };
        html! { { part!(Button { label: label, kind: kind, face: ButtonFace::Wide, icon: Icon::PutBack, readiness: cautions::hold(&to_read), onpress: press }) } }
    } else if !page.hides.is_empty() {
        let (desk, job, part) = (desk.clone(), job.clone(), page.id);
        let press =
            Callback::from(move |()| desk.tell(&job, Command::TakeOffAgain { part, aside: false }));
        html! { { part!(Button { label: "It comes off again", kind: ButtonKind::Main, icon: Icon::TakeOff, readiness: cautions::hold(&to_read), onpress: press }) } }
    } else {
        html! { { part!(Button { label: "Back to the list", kind: ButtonKind::Plain, face: ButtonFace::Wide, icon: Icon::PutBack, href: Route::PutBack { job: job.clone() }.href() }) } }
    };
    let act = html! {
        { part!(MainAct { children: html! { <>{ main }</> } }) }
    };
    let under = if page.lies.is_empty() {
        None
    } else {
        Some(AttrValue::from(format!("Where: {}", page.lies)))
    };
    let close = {
        let over = over.clone();
        Callback::from(move |()| over.set(Over::Nothing))
    };
    let sheet = match (*over).clone() {
        Over::Nothing => html! {},
        Over::Hides => {
            let anyway = Callback::from(move |()| {
                router::close_sheet();
                place.emit(true);
            });
            super::second::refused(&desk, &job, (page.id, &page.name), close.clone(), anyway)
        }
        Over::Way => {
            let goal = Goal::Thing(Target::Part(page.id));
            part!(super::way_in::WaySheet {
                job: job.clone(),
                goal,
                earlier: false,
                onclose: close.clone()
            })
        }
        Over::Words => part!(super::put_right::PutRight {
            job: job.clone(),
            about: Target::Part(page.id),
            onclose: close.clone()
        }),
        Over::Hose => hose(&desk, &job, &page, close.clone()),
        Over::Count(line) => part!(super::counting::CountSheet {
            job: job.clone(),
            line,
            onclose: close.clone()
        }),
        Over::Bag(at) => move_bag(&desk, &job, &page, at, close.clone()),
        Over::More => {
            html! { { part!(MoreSheet { job: job.clone(), page: page.clone(), onclose: close.clone() }) } }
        }
    };
    html! {
        <>
        { part!(Page { title: page.name.clone(), under: under, back: Route::PutBack { job: job.clone() }, side: html! { { part!(StateTag { state: state, word: page.state_word }) } }, act: act, children: html! { <>
            { super::again::touch_again(&desk, &job) }
            { cautions::cards(&desk, &job, &to_read) }
            { warnings(&page) }
            { super::second::would_hide(&desk, &job, page.id) }
            { super::again::ticked(&desk, &job, Some(page.id)) }
            { photos(&desk, &job, &page) }
            { containers(&page, &over) }
            { part!(joints::Items { job: job.clone(), items: page.items.clone(), treatments: page.treatments.clone() }) }
            { part!(joints::Fixings { job: job.clone(), fixings: page.fixings.clone() }) }
            { part!(joints::Connections { job: job.clone(), connections: page.connections.clone(), runs_by: page.runs_by.clone() }) }
            { part!(Button { label: "Another hose or plug", icon: Icon::Hose, kind: ButtonKind::Quiet, face: ButtonFace::Wide, onpress: { let over = over.clone(); Callback::from(move |()| over.set(Over::Hose)) } }) }
            { part!(joints::Findings { job: job.clone(), findings: page.findings.clone() }) }
            { part!(Button { label: "Way in: the least to take off", icon: Icon::Find, kind: ButtonKind::Quiet, face: ButtonFace::Wide, onpress: { let over = over.clone(); Callback::from(move |()| over.set(Over::Way)) } }) }
            { part!(Button { label: "Put words right", icon: Icon::Edit, kind: ButtonKind::Quiet, face: ButtonFace::Wide, onpress: { let over = over.clone(); Callback::from(move |()| over.set(Over::Words)) } }) }
            { part!(Button { label: "More about it", icon: Icon::More, kind: ButtonKind::Quiet, face: ButtonFace::Wide, onpress: { let over = over.clone(); Callback::from(move |()| over.set(Over::More)) } }) }
        </> } }) }
        { sheet }
        </>
    }
}

crate::live!(PartScreen, use_part_screen);

fn warnings(page: &PartPage) -> Html {
    html! {
        <>
            if !page.hides.is_empty() {
                { part!(Banner { kind: BannerKind::Danger, title: format!("Still owed behind it: {}", page.hides.join(", ")), text: "It comes off again first. Its fasteners go back into their bag, its hose ends are parted." }) }
            }
            if !page.left_off_why.is_empty() {
                { part!(Banner { title: format!("Left off by decision: {}", page.left_off_why), icon: Icon::LeftOff }) }
            }
            if !page.note.is_empty() {
                { part!(Banner { kind: BannerKind::Caution, title: page.note.clone(), text: "Noted when it came off." }) }
            }
            { for page.fixings.iter().filter(|f| !f.watch.is_empty()).map(|f| html! {
                { part!(Banner { kind: BannerKind::Caution, title: f.watch.clone(), text: if f.place.is_empty() { f.title.clone() } else { format!("{}, {}", f.title, f.place) } }) }
            }) }
            { for page.notes.iter().map(|n| html! { { part!(Banner { title: n.clone(), icon: Icon::Note }) } }) }
            if !page.carried.is_empty() {
                { part!(Banner { title: format!("Comes with it: {}", page.carried.join(", ")), icon: Icon::SubAssembly }) }
            }
            if !page.came_after.is_empty() { <p class="soft">{ format!("It came after {}.", page.came_after.join(", ")) }</p> }
            if !page.shuts.is_empty() { <p class="soft">{ format!("It shuts {}.", page.shuts.join(", ")) }</p> }
        </>
    }
}

fn photos(desk: &Desk, job: &AttrValue, page: &PartPage) -> Html {
    let of = Target::Part(page.id);
    let shots = super::shots::shots(desk, job, &page.photos, of, page.name.clone());
    part!(Section {
        title: "Photos",
        count: page.photos.len().to_string(),
        children: shots
    })
}

/// A hose or plug that was forgotten is filled in as at taking off, and logged
/// by itself.
fn hose(desk: &Desk, job: &AttrValue, page: &PartPage, onclose: Callback<()>) -> Html {
    let Some(offered) = add::page(desk, job, page.id) else {
        return html! {};
    };
    let ondone = {
        let (desk, job, part) = (desk.clone(), job.clone(), page.id);
        Callback::from(move |it: Option<DraftConnection>| {
            if let Some(it) = it {
                desk.tell(&job, it.command(part));
            }
        })
    };
    part!(ConnectionSheet {
        job: job.clone(),
        next_tag: offered.tag,
        taken: Vec::new(),
        part: page.name.clone(),
        parts_off: offered.parts_off,
        parts: offered.parts,
        connection: None,
        to: Some(page.id),
        onchange: Callback::noop(),
        ondone: ondone,
        onclose: onclose
    })
}

/// The sheet that moves what a row of its containers says.
fn move_bag(
    desk: &Desk,
    job: &AttrValue,
    page: &PartPage,
    at: usize,
    onclose: Callback<()>,
) -> Html {
    let (Some(share), Some(offered)) = (page.containers.get(at), add::page(desk, job, page.id))
    else {
        return html! {};
    };
    let with = page
        .containers
        .iter()
        .filter(|it| it.account == share.account);
    part!(move_bag::MoveBag {
        job: job.clone(),
        page: offered,
        lies: page.lies.clone(),
        share: share.clone(),
        all: with.cloned().collect::<Vec<_>>(),
        onclose: onclose
    })
}

fn containers(page: &PartPage, over: &State<Over>) -> Html {
    if page.containers.is_empty() {
        return html! {};
    }
    html! {
        { part!(Section { title: "Its fasteners lie in", children: html! { <>
            { part!(Rows { label: "Containers", children: html! { <>
                { for page.containers.iter().enumerate().map(|(at, c)| {
                    let open = |to: Over| { let over = over.clone(); Callback::from(move |()| over.set(to.clone())) };
                    let others = if c.others == 0 { String::new() } else { format!("{}{} for other parts stay in it.", if c.where_.is_empty() { "" } else { ". " }, c.others) };
                    html! { { part!(ListRow { what: format!("{} × {}", c.n, c.what), lead: Icon::Bag, tag: (!c.tag.is_empty()).then(|| AttrValue::from(c.tag.clone())), lies: format!("{}{others}", c.where_), children: html! { <>
                        { part!(Button { label: "Move", about: c.what.clone(), kind: ButtonKind::Quiet, icon: Icon::Bag, onpress: open(Over::Bag(at)) }) }
                        { part!(Button { label: "Count", about: c.what.clone(), kind: ButtonKind::Quiet, icon: Icon::Balance, onpress: open(Over::Count(c.line)) }) }
                    </> } }) } }
                }) }
            </> } }) }
        </> } }) }
    }
}

#[derive(Properties, PartialEq)]
struct MoreSheet {
    job: AttrValue,
    page: PartPage,
    onclose: Callback<()>,
}

/// What is done less often: off again, left off, replaced, a finding, words,
/// and what was forgotten.
#[hook]
fn use_more_sheet(props: &MoreSheet) -> Html {
    let desk = the_desk();
    let adding = use_local(|| None::<add::Adding>);
    let at = AttrValue::from(format!("{}/part/{}", props.job, props.page.id));
    let reason = use_local(|| desk.typed(&at).unwrap_or_default());
    let lies = use_local(|| props.page.lies.clone());
    let id = props.page.id;
    let offered = add::page(&desk, &props.job, id);
    if let (Some(now), Some(offered)) = ((*adding).clone(), &offered) {
        let form = add::Form {
            desk,
            job: props.job.clone(),
            part: id,
            part_name: props.page.name.clone(),
            lies: props.page.lies.clone(),
            page: offered.clone(),
            now,
            at: adding,
        };
        return add::sheet(&form, props.onclose.clone());
    }
    let add = |what: add::What| {
        let (adding, offered) = (adding.clone(), offered.clone());
        Callback::from(move |()| {
            adding.set(offered.as_ref().map(|page| add::Adding::new(what, page)));
        })
    };
    let tell_of = |command: Box<dyn Fn(String) -> Command>, says: bool| {
        let (desk, job, reason) = (desk.clone(), props.job.clone(), reason.clone());
        let at = at.clone();
        Callback::from(move |()| {
            router::close_sheet();
            let (desk2, at) = (desk.clone(), at.clone());
            let done = Callback::from(move |told: Told| {
                if says && matches!(told, Told::Saved(_)) {
                    desk2.keep_typed(&at, "");
                }
            });
            desk.tell_then(&job, command((*reason).clone()), Along::default(), done);
        })
    };
    // With what was typed, and without.
    let tell = |command| tell_of(command, true);
    let plainly = |command| tell_of(command, false);
    let placed = props.page.state == PartState::Placed;
    let needs = |r: &str| {
        if r.trim().is_empty() {
            Readiness::Blocked("Say why, above".into())
        } else {
            Readiness::Ready
        }
    };
    let (name, note) = (props.page.name.clone(), props.page.note.clone());
    let loosening = the_desk().read(&props.job, |book| view::loosen_again(book.job(), id));
    let loosening = loosening.unwrap_or_default();
    html! {
        { part!(Sheet { title: props.page.name.clone(), onclose: props.onclose.clone(), foot: html! { { part!(Button { label: "Back to the part", face: ButtonFace::Wide, icon: Icon::Back, onpress: Callback::from(|()| router::close_sheet()) }) } }, children: html! { <>
            if placed {
                { for loosening.iter().map(|it| html! { <p>{ it.said.clone() }</p> }) }
                { part!(Button { label: "It comes off again", face: ButtonFace::Wide, icon: Icon::TakeOff, onpress: plainly(Box::new(move |_| Command::TakeOffAgain { part: id, aside: false })) }) }
            }
            { add::offers(placed, add) }
            { part!(TextField { label: "Where it lies", value: (*lies).clone(), oninput: {let l = lies.clone(); Callback::from(move |t: AttrValue| l.set(t.to_string()))} }) }
            { part!(Button { label: "Keep the new place", face: ButtonFace::Wide, icon: Icon::Shelf, onpress: {let lies = lies.clone(); plainly(Box::new(move |_| Command::Record(Act::PartDescribed { part: id, name: name.clone(), lies: (*lies).clone(), note: note.clone() })))} }) }
            { part!(TextField { label: "Why, or what was found", value: (*reason).clone(), oninput: {let (r, at) = (reason.clone(), at.clone()); Callback::from(move |t: AttrValue| { the_desk().keep_typed(&at, &t); r.set(t.to_string()); })} }) }
            { part!(Button { label: "Finding", face: ButtonFace::Wide, icon: Icon::Eye, readiness: needs(&reason), onpress: tell(Box::new(move |text| Command::Record(Act::FindingNoted { on: Target::Part(id), text }))) }) }
            { part!(Button { label: "Leak check owed after the first run", face: ButtonFace::Wide, icon: Icon::Droplet, onpress: tell(Box::new(move |text| owe_check(id, AfterRunKind::LeakCheck, text))) }) }
            { part!(Button { label: "Re-tighten owed after the first warm-up", face: ButtonFace::Wide, icon: Icon::Gauge, onpress: tell(Box::new(move |text| owe_check(id, AfterRunKind::Retighten, text))) }) }
            { part!(Button { label: "Note", face: ButtonFace::Wide, icon: Icon::Note, readiness: needs(&reason), onpress: tell(Box::new(move |text| Command::Record(Act::NoteAdded { on: Target::Part(id), text }))) }) }
            if !placed && props.page.state != PartState::LeftOff {
                { part!(Button { label: "A new part takes its place", face: ButtonFace::Wide, icon: Icon::Renew, onpress: tell(Box::new(move |note| Command::Replace { part: id, note, as_ordered: true, fasteners: Vec::new() })) }) }
                { part!(Button { label: "The new part is another than ordered", face: ButtonFace::Wide, icon: Icon::Warning, readiness: needs(&reason), onpress: tell(Box::new(move |note| Command::Replace { part: id, note, as_ordered: false, fasteners: Vec::new() })) }) }
                if !props.page.fixings.is_empty() {
                    { part!(Button { label: "It brings other fasteners", face: ButtonFace::Wide, icon: Icon::Bolt, onpress: add(add::What::Brings) }) }
                }
                <p class="soft">{ "Is it there for safety or for what the engine gives off? Then the law where you are decides whether it may stay off." }</p>
                { part!(Button { label: "Left off by decision", kind: ButtonKind::Danger, face: ButtonFace::Wide, icon: Icon::LeftOff, readiness: needs(&reason), onpress: tell(Box::new(move |reason| Command::LeaveOff { what: Target::Part(id), reason })) }) }
            }
        </> } }) }
    }
}

crate::live!(MoreSheet, use_more_sheet);

/// A check of a part that falls due after the machine has run.
fn owe_check(part: PartId, what: AfterRunKind, text: String) -> Command {
    let due = Due {
        heat_cycles: u16::from(what == AfterRunKind::Retighten),
        ..Due::default()
    };
    Command::Record(Act::AfterRunOwed {
        what,
        on: Target::Part(part),
        text,
        due,
    })
}
