//! Loose fasteners of a part that lie elsewhere now: in another bag, in a new
//! one, on the bench.
use countback_core::job::{Command, ContainerPick};
use countback_core::journal::*;
use countback_core::view::{AddPage, ContainerShare};
use yew::prelude::*;

use super::add::chips;
use crate::app::the_desk;
use crate::kit::{
    Button, ButtonFace, ButtonKind, ChipRow, Icon, Readiness, Sheet, Stepper, TagCode, TagSize,
    use_local,
};
use crate::part;
use crate::router;

#[derive(Properties, PartialEq)]
pub struct MoveBag {
    pub job: AttrValue,
    pub page: AddPage,
    /// Where the part lies: a new bag lies with it.
    pub lies: AttrValue,
    /// What is moved.
    pub share: ContainerShare,
    /// All of the part that lies in the same place, this too.
    pub all: Vec<ContainerShare>,
    pub onclose: Callback<()>,
}

/// Where to.
#[derive(Clone, Copy, PartialEq, Eq)]
enum To {
    New,
    Have(ContainerId),
    Bench,
}

#[hook]
fn use_move_bag(props: &MoveBag) -> Html {
    let desk = the_desk();
    let share = &props.share;
    let to = use_local(|| None::<To>);
    let n = use_local(|| share.n);
    let mut places = Vec::new();
    if !props.page.tag.is_empty() {
        places.push((To::New, "A new bag".to_owned()));
    }
    if share.account != Account::Bench {
        places.push((To::Bench, "The bench".to_owned()));
    }
    let others = props.page.containers.iter();
    let others = others.filter(|(id, _)| share.account != Account::Container(*id));
    places.extend(others.map(|(id, name)| (To::Have(*id), name.clone())));
    let items = chips(
        places
            .iter()
            .map(|(at, name)| (name.as_str(), *to == Some(*at))),
    );
    let pick = {
        let (to, places) = (to.clone(), places.clone());
        Callback::from(move |n: u32| to.set(places.get(n as usize).map(|it| it.0)))
    };
    let readiness = match to.is_some() {
        true => Readiness::Ready,
        false => Readiness::Blocked("Choose where they lie now".into()),
    };
    let moved = |lines: Vec<(LineId, u32)>| {
        let (desk, job, to, from) = (desk.clone(), props.job.clone(), *to, share.account);
        let (tag, lies) = (props.page.tag.clone(), props.lies.to_string());
        Callback::from(move |()| {
            let to = match to {
                Some(To::New) => ContainerPick::New {
                    tag: tag.clone(),
                    kind: ContainerKind::Bag,
                    name: String::new(),
                    lies: lies.clone(),
                },
                Some(To::Have(id)) => ContainerPick::Have(id),
                Some(To::Bench) => ContainerPick::Bench,
                None => return,
            };
            router::close_sheet();
            let lines = lines.clone();
            desk.tell(&job, Command::Bag { from, lines, to });
        })
    };
    let all = props.all.iter().map(|it| (it.line, it.n)).collect();
    let foot = html! {
        <>
            { part!(Button { label: "They lie there now", kind: ButtonKind::Main, icon: Icon::Bag, readiness: readiness.clone(), onpress: moved(vec![(share.line, *n)]) }) }
            if props.all.len() > 1 {
                { part!(Button { label: "And all of this part that was with them", face: ButtonFace::Wide, icon: Icon::Bag, readiness: readiness, onpress: moved(all) }) }
            }
        </>
    };
    let set = {
        let n = n.clone();
        Callback::from(move |many: u32| n.set(many))
    };
    html! {
        { part!(Sheet { title: "Into another bag", onclose: props.onclose.clone(), foot: foot, children: html! { <>
            <p class="strong">{ format!("{} × {}", share.n, share.what) }</p>
            if share.n > 1 { { part!(Stepper { label: "How many", value: *n, min: 1, max: share.n, onchange: set }) } }
            { part!(ChipRow::<u32> { label: "They lie in", items: items, onpress: pick }) }
            if *to == Some(To::New) {
                <div class="write-tag">
                    { part!(TagCode { code: props.page.tag.clone(), size: TagSize::Large }) }
                    <span>{ "Write this on the bag." }</span>
                </div>
            }
        </> } }) }
    }
}

crate::live!(MoveBag, use_move_bag);
