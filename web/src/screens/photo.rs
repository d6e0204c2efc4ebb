//! A photo with its numbered marks, each the way to what it shows, and the
//! setting of marks.
use crate::kit::use_local;
use crate::part;
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::view::{self, Choice};
use yew::prelude::*;

use super::lost;
use super::pick::{Pick, PickHow};
use super::shots::use_shot;
use crate::app::the_desk;
use crate::kit::{
    Button, ButtonFace, IArray, Icon, ListRow, Page, PhotoMark, PhotoPoint, PhotoView, Rows,
    Section, Sheet, Standing,
};
use crate::router::{self, Route};

#[derive(Properties, PartialEq)]
pub struct PhotoScreen {
    pub job: AttrValue,
    pub photo: AttrValue,
}

#[hook]
fn use_photo_screen(props: &PhotoScreen) -> Html {
    let desk = the_desk();
    let job = props.job.clone();
    let setting = use_local(|| false);
    let point = use_local(|| None::<PhotoPoint>);
    let id: Option<PhotoId> = props.photo.parse().ok();
    let found = id.and_then(|id| {
        desk.read(&job, |book| view::photo_page(book.job(), id, desk.at()))
            .flatten()
    });
    let hash = found
        .as_ref()
        .map(|f| f.row.hash.clone())
        .unwrap_or_default();
    let src = use_shot(hash.into(), false);
    let (Some(view::PhotoPage { row, part, targets }), Some(photo)) = (found, id) else {
        return lost();
    };
    let marks: IArray<PhotoMark> = row
        .marks
        .iter()
        .map(|m| PhotoMark {
            number: m.number,
            point: PhotoPoint { x: m.x, y: m.y },
            name: m.label.clone().into(),
            tag: m.size.clone().into(),
            group: m.group,
        })
        .collect();
    let alt = if row.caption.is_empty() {
        "photo".to_owned()
    } else {
        row.caption.clone()
    };
    // The page of what a mark shows, where it has one.
    let shows = {
        let (job, part) = (job.clone(), part);
        move |what: Target| match what {
            Target::Fixing(fixing) => Some(Route::Fixing {
                job: job.clone(),
                fixing: fixing.to_string().into(),
            }),
            Target::Part(it) => Some(to_part(&job, it)),
            _ => part.map(|it| to_part(&job, it)),
        }
    };
    let onmark = {
        let ways: Vec<(u16, Option<Route>)> =
            (row.marks.iter().map(|m| (m.number, shows(m.what)))).collect();
        Callback::from(move |number: u16| {
            let way = ways.iter().find(|(n, _)| *n == number);
            if let Some((_, Some(route))) = way {
                router::go(route);
            }
        })
    };
    let onplace = setting.then(|| {
        let (point, setting) = (point.clone(), setting.clone());
        Callback::from(move |p: PhotoPoint| {
            point.set(Some(p));
            setting.set(false);
        })
    });
    let sheet = (*point).map(|p| {
        let all: Vec<Choice> = (0_usize..)
            .zip(&targets)
            .map(|(n, (_, name))| Choice {
                id: n.to_string(),
                name: name.clone(),
            })
            .collect();
        let pick = {
            let (desk, job, targets) = (desk.clone(), job.clone(), targets.clone());
            Callback::from(move |n: String| {
                let picked = n.parse::<usize>().ok();
                let Some(&(what, _)) = picked.and_then(|n| targets.get(n)) else {
                    return;
                };
                let number = desk.read(&job, |book| view::mark_number(book.job(), photo, what));
                let number = number.unwrap_or_default();
                router::close_sheet();
                desk.tell(
                    &job,
                    Command::Record(Act::MarkSet {
                        photo,
                        number,
                        x: p.x,
                        y: p.y,
                        what,
                    }),
                );
            })
        };
        let close = {
            let point = point.clone();
            Callback::from(move |()| point.set(None))
        };
        html! {
            { part!(Sheet { title: "What the mark shows", onclose: close, children: html! { <>
                { part!(Pick { label: "It shows", all: all, chosen: Vec::new(), most: 12, how: PickHow::One, onpress: pick }) }
            </> } }) }
        }
    });
    let back = match part {
        Some(part) => to_part(&job, part),
        None => Route::Job { job: job.clone() },
    };
    html! {
        <>
        { part!(Page { title: alt.clone(), under: row.when.clone(), back: back, children: html! { <>
            { part!(PhotoView { src, alt, marks, onplace, onmark }) }
            { part!(Button { label: if *setting { "Tap the photo where it is" } else { "Set a mark" }, icon: Icon::Place, face: ButtonFace::Wide, onpress: {let s = setting.clone(); Callback::from(move |()| s.set(!*s))} }) }
            if !row.marks.is_empty() {
                { part!(Section { title: "Marks", children: html! { <>
                    { part!(Rows { label: "Marks", children: html! { <>
                        { for row.marks.iter().map(|m| html! {
                            { part!(ListRow { what: format!("{}. {}", m.number, m.label), href: shows(m.what).map(|it| AttrValue::from(it.href())), state: if m.done { Standing::Settled } else { Standing::Owed } }) }
                        }) }
                    </> } }) }
                </> } }) }
            }
        </> } }) }
        { sheet.unwrap_or_default() }
        </>
    }
}

crate::live!(PhotoScreen, use_photo_screen);

fn to_part(job: &AttrValue, part: PartId) -> Route {
    Route::PutBackPart {
        job: job.clone(),
        part: part.to_string().into(),
    }
}
