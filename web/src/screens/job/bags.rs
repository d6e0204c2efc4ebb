//! The bags and boxes of a job: where each lies, what should be in it, and a
//! count of a line in it.
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::view;
use yew::prelude::*;

use gloo::timers::callback::Timeout;

use super::super::counting::CountSheet;
use crate::app::the_desk;
use crate::kit::{
    Button, ButtonKind, Card, ChipItem, ChipRow, Fold, IArray, Icon, ListRow, Readiness, Rows,
    Section, Sheet, TextField, use_local,
};
use crate::part;
use crate::router::{self, Route};

#[derive(Properties, PartialEq)]
pub struct Bags {
    pub job: AttrValue,
    pub containers: Vec<view::ContainerRow>,
}

/// The page and the focus on its title come first, in ms.
const LED_MS: u32 = 60;

/// Cards before they are folded. A design choice, no source.
const LONG: usize = 6;

fn id_of(bag: ContainerId) -> String {
    format!("bag-{bag}")
}

/// Many are folded, but for one that was sought.
fn of_length(n: usize, sought: Option<ContainerId>, children: Html) -> Html {
    let (title, count) = ("Bags and boxes", n.to_string());
    match n > LONG {
        false => part!(Section {
            title: title,
            count: count,
            children: children
        }),
        true => part!(Fold {
            title: title,
            count: count,
            open: sought.is_some(),
            children: children
        }),
    }
}

/// The sheet that stands open.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Over {
    Nothing,
    Count(LineId),
    Move(ContainerId),
}

/// The bags and what should be in them; a tap on a line counts it again.
#[hook]
fn use_bags(props: &Bags) -> Html {
    let over = use_local(|| Over::Nothing);
    // Where a tag led here, its bag is what is looked at.
    let sought: Option<ContainerId> = match router::current() {
        Route::Bag { bag, .. } => bag.parse().ok(),
        _ => None,
    };
    use_effect_with(sought, |sought| {
        let timer = sought.map(|id| Timeout::new(LED_MS, move || router::lead_to(&id_of(id))));
        move || drop(timer)
    });
    // An empty one is shown only where its tag led here.
    let shown = props.containers.iter();
    let shown: Vec<&view::ContainerRow> = shown
        .filter(|c| c.total > 0 || sought == Some(c.id))
        .collect();
    if shown.is_empty() {
        return html! {};
    }
    let to = |next: Over| {
        let over = over.clone();
        Callback::from(move |()| over.set(next))
    };
    let job = props.job.clone();
    let sheet = match *over {
        Over::Nothing => html! {},
        Over::Count(line) => part!(CountSheet {
            job,
            line,
            onclose: to(Over::Nothing)
        }),
        Over::Move(id) => props
            .containers
            .iter()
            .find(|c| c.id == id)
            .map(|bag| {
                part!(MoveSheet {
                    job,
                    bag: bag.clone(),
                    onclose: to(Over::Nothing)
                })
            })
            .unwrap_or_default(),
    };
    html! {
        <>
        { of_length(shown.len(), sought, html! { <>
            { for shown.iter().map(|c| html! {
                <div key={id_of(c.id)} id={id_of(c.id)} tabindex="-1" class="sought">{ part!(Card { title: format!("{} {}", c.kind, c.tag), children: html! { <>
                    if !c.lies.is_empty() { <p class="soft">{ c.lies.clone() }</p> }
                    if c.total > 0 {
                        { part!(Rows { label: format!("{} {}", c.kind, c.tag), children: html! { <>
                            { for c.holds.iter().map(|(line, n, text)| {
                                part!(ListRow { what: format!("{n} × {text}"), onpress: to(Over::Count(*line)) })
                            }) }
                        </> } }) }
                    } else {
                        <p>{ c.said.clone() }</p>
                    }
                    { part!(Button { label: "It lies elsewhere now", about: format!("{} {}", c.kind, c.tag), kind: ButtonKind::Quiet, icon: Icon::Shelf, onpress: to(Over::Move(c.id)) }) }
                </> } }) }</div>
            }) }
        </> }) }
        { sheet }
        </>
    }
}

crate::live!(Bags, use_bags);

#[derive(Properties, PartialEq)]
struct MoveSheet {
    job: AttrValue,
    bag: view::ContainerRow,
    onclose: Callback<()>,
}

/// Where a bag lies now: a place that is known here, or another in words.
#[hook]
fn use_move_sheet(props: &MoveSheet) -> Html {
    let desk = the_desk();
    let bag = &props.bag;
    let lies = use_local(String::new);
    let known = desk
        .read(&props.job, |book| view::chips(book, &[]).lies)
        .unwrap_or_default();
    let places: IArray<ChipItem<usize>> = known
        .iter()
        .enumerate()
        .filter(|(_, place)| **place != bag.lies)
        .map(|(n, place)| ChipItem::new(n, place.clone(), *lies == *place))
        .collect();
    let pick = {
        let lies = lies.clone();
        Callback::from(move |n: usize| {
            if let Some(place) = known.get(n) {
                lies.set(place.clone());
            }
        })
    };
    let readiness = match lies.trim().is_empty() {
        true => Readiness::Blocked("Say where it lies".into()),
        false => Readiness::Ready,
    };
    let keep = {
        let (desk, job, container) = (desk.clone(), props.job.clone(), bag.id);
        let lies = lies.trim().to_owned();
        Callback::from(move |()| {
            router::close_sheet();
            let lies = lies.clone();
            desk.tell(
                &job,
                Command::Record(Act::ContainerMoved { container, lies }),
            );
        })
    };
    let foot = part!(Button {
        label: "It lies there",
        kind: ButtonKind::Main,
        icon: Icon::Check,
        readiness: readiness,
        onpress: keep
    });
    let typed = {
        let lies = lies.clone();
        Callback::from(move |t: AttrValue| lies.set(t.to_string()))
    };
    html! {
        { part!(Sheet { title: format!("{} {}", bag.kind, bag.tag), onclose: props.onclose.clone(), foot: foot, children: html! { <>
            if !bag.lies.is_empty() { <p>{ format!("It lay: {}.", bag.lies) }</p> }
            { part!(ChipRow::<usize> { label: "It lies now", items: places, onpress: pick }) }
            { part!(TextField { label: "Where, in words", value: (*lies).clone(), hint: "second drawer, under the bench", oninput: typed }) }
        </> } }) }
    }
}

crate::live!(MoveSheet, use_move_sheet);
