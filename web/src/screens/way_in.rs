//! Way in: what is to be got at, the least that comes off for it, the other
//! ways, and one more way written down.
use countback_core::access::Goal;
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::view::{self, WayAnswer};
use yew::prelude::*;

use super::{OfJob, lost};
use crate::app::the_desk;
use crate::kit::{
    Button, ButtonFace, ButtonKind, ChipItem, ChipRow, Empty, IArray, Icon, ListLength, ListRow,
    Page, Readiness, Rows, Section, Sheet, Standing, use_local,
};
use crate::part;
use crate::router::Route;

#[hook]
pub fn use_way_in_screen(props: &OfJob) -> Html {
    let desk = the_desk();
    let job = props.job.clone();
    // The job it is of, and the thing.
    let chosen = use_local(|| None::<(AttrValue, Goal)>);
    let Some(groups) = desk.read(&job, |book| view::way_in_page(book, desk.at())) else {
        return lost();
    };
    let earlier = desk
        .read_all(&job, view::earlier_groups)
        .unwrap_or_default();
    let sheet = (*chosen).clone().map(|(of, goal)| {
        let chosen = chosen.clone();
        let onclose = Callback::from(move |()| chosen.set(None));
        part!(WaySheet {
            earlier: of != job,
            job: of,
            goal,
            onclose
        })
    });
    html! {
        <>
        { part!(Page { title: "Way in", under: "What do you want to get at?", back: Route::TakeOff { job: job.clone() }, children: html! { <>
            if groups.is_empty() && earlier.is_empty() {
                { part!(Empty { icon: Icon::Find, title: "Nothing is named yet.", text: "A job opened from a procedure knows its parts before the first bolt. Else each part is known once it was off.", children: html! { <>
                    { part!(Button { label: "Take off", icon: Icon::TakeOff, href: Route::TakeOff { job: job.clone() }.href() }) }
                </> } }) }
            }
            { for groups.iter().map(|group| html! {
                { part!(Section { title: group.title, count: group.rows.len().to_string(), children: html! { <>
                    { part!(Rows { label: group.title, length: if group.rows.len() > 40 { ListLength::Long } else { ListLength::Short }, children: html! { <>
                        { for group.rows.iter().map(|row| {
                            let (chosen, of) = (chosen.clone(), (job.clone(), row.goal));
                            part!(ListRow { what: row.name.clone(), lead: icon(row.goal), onpress: Callback::from(move |()| chosen.set(Some(of.clone()))) })
                        }) }
                    </> } }) }
                </> } }) }
            }) }
            { for earlier.iter().map(|group| html! {
                { part!(Section { title: group.title.clone(), count: group.rows.len().to_string(), children: html! { <>
                    { part!(Rows { label: group.title.clone(), length: if group.rows.len() > 40 { ListLength::Long } else { ListLength::Short }, children: html! { <>
                        { for group.rows.iter().map(|row| {
                            let (chosen, of) = (chosen.clone(), (AttrValue::from(group.job.clone()), row.goal));
                            part!(ListRow { what: row.name.clone(), lead: icon(row.goal), onpress: Callback::from(move |()| chosen.set(Some(of.clone()))) })
                        }) }
                    </> } }) }
                </> } }) }
            }) }
        </> } }) }
        { sheet.unwrap_or_default() }
        </>
    }
}

fn icon(goal: Goal) -> Icon {
    match goal {
        Goal::Planned(_) => Icon::Procedure,
        Goal::Thing(Target::Connection(_)) | Goal::PlannedConnection(..) => Icon::Hose,
        Goal::Thing(Target::Opening(_)) => Icon::Rag,
        Goal::Thing(_) => Icon::Part,
    }
}

#[derive(Properties, PartialEq)]
pub struct WaySheet {
    pub job: AttrValue,
    pub goal: Goal,
    /// Of another job on this machine, as it was before that was begun.
    pub earlier: bool,
    pub onclose: Callback<()>,
}

/// The answer, and another way to be tapped together.
#[hook]
fn use_way_sheet(props: &WaySheet) -> Html {
    let desk = the_desk();
    let by_minutes = use_local(|| false);
    let noting = use_local(|| None::<Vec<String>>);
    let work = desk.at_work(&props.job);
    let answer = desk.read(&props.job, |book| {
        let answer = if props.earlier {
            view::way_answer_earlier
        } else {
            view::way_answer
        };
        answer(book, props.goal, *by_minutes, &work)
    });
    let Some(answer) = answer.flatten() else {
        return html! {};
    };
    let measures: IArray<ChipItem<bool>> = [
        ChipItem::new(false, "Fewest acts", !*by_minutes),
        ChipItem::new(true, "Least time", *by_minutes),
    ]
    .into_iter()
    .collect();
    let measure = {
        let by_minutes = by_minutes.clone();
        Callback::from(move |it: bool| by_minutes.set(it))
    };
    let put = |to: Option<Vec<String>>| {
        let noting = noting.clone();
        Callback::from(move |()| noting.set(to.clone()))
    };
    let foot = match (&*noting, answer.noted_of) {
        (Some(over), Some(what)) => {
            let needs: Vec<Need> = over.iter().filter_map(|id| need(id)).collect();
            let readiness = if needs.is_empty() {
                Readiness::Blocked("Tap what would come off".into())
            } else {
                Readiness::Ready
            };
            let (desk, job, noting) = (desk.clone(), props.job.clone(), noting.clone());
            let press = Callback::from(move |()| {
                let needs = needs.clone();
                desk.tell(&job, Command::Record(Act::WayNoted { what, needs }));
                noting.set(None);
            });
            Some(part!(Button {
                label: "Log this way",
                kind: ButtonKind::Main,
                icon: Icon::Check,
                readiness,
                onpress: press
            }))
        }
        (None, Some(_)) if !answer.over.is_empty() => Some(part!(Button {
            label: "There is another way",
            icon: Icon::Plus,
            face: ButtonFace::Wide,
            onpress: put(Some(Vec::new()))
        })),
        _ => None,
    };
    let body = match &*noting {
        Some(over) => {
            let items: IArray<ChipItem<String>> = answer
                .over
                .iter()
                .map(|(id, name)| {
                    let id = id.to_string();
                    let on = over.contains(&id);
                    ChipItem::new(id, name.clone(), on)
                })
                .collect();
            let (noting, over) = (noting.clone(), over.clone());
            let pick = Callback::from(move |id: String| {
                let mut next = over.clone();
                match next.iter().position(|o| *o == id) {
                    Some(at) => {
                        next.remove(at);
                    }
                    None => next.push(id),
                }
                noting.set(Some(next));
            });
            html! {
                <>
                    { part!(ChipRow::<String> { label: "Can also be reached by taking off", items: items, onpress: pick }) }
                    if !answer.but.is_empty() {
                        <p class="soft">{ answer.but }</p>
                    }
                </>
            }
        }
        None => html! {
            <>
                { part!(ChipRow::<bool> { label: "What counts", items: measures, onpress: measure }) }
                { way(&answer) }
            </>
        },
    };
    html! {
        { part!(Sheet { title: format!("Way in to {}", answer.name), onclose: props.onclose.clone(), foot: foot, children: body }) }
    }
}

crate::live!(WaySheet, use_way_sheet);

fn need(id: &str) -> Option<Need> {
    let part: PartId = id.parse().ok()?;
    Some(Need {
        first: Target::Part(part),
        why: Why::BlocksReach,
    })
}

/// What comes off, in order, and what else would do.
fn way(answer: &WayAnswer) -> Html {
    html! {
        <>
            <p class="way-sum">{ answer.sum.clone() }</p>
            if !answer.steps.is_empty() {
                <ol class="steps" aria-label="What comes off, in order">
                    { for answer.steps.iter().map(|step| html! { <li><span class="strong">{ step.name.clone() }</span><br /><span class="soft">{ step.note.clone() }</span></li> }) }
                </ol>
            }
            if !answer.others.is_empty() {
                { part!(Rows { label: "Other ways", children: html! { <>
                    { for answer.others.iter().map(|other| part!(ListRow { what: other.by.clone(), state: Standing::Can, owed: other.sum.clone() })) }
                </> } }) }
            }
            <p class="soft">{ answer.note.clone() }</p>
        </>
    }
}
