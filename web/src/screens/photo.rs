//! A photo with its numbered marks, each the way to what it shows, and the
//! setting of marks.
use crate::kit::use_local;
use crate::part;
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::view;
use countback_core::words;
use yew::prelude::*;

use super::lost;
use super::shots::use_shot;
use crate::app::the_desk;
use crate::kit::{
    Button, ButtonFace, ChipItem, ChipRow, IArray, Icon, ListRow, Page, PhotoMark, PhotoPoint,
    PhotoView, Rows, Section, Sheet, Standing,
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
        desk.read(&job, |book| {
            let job = book.job();
            let photo = job.photos.get(id)?;
            let row = view::photo_rows(job, desk.at(), |on| photo.taken.on.contains(&on))
                .into_iter()
                .find(|r| r.id == id)?;
            let part = photo.taken.on.iter().find_map(|on| match on {
                Target::Part(p) => Some(*p),
                _ => None,
            });
            // What a mark can point at: the joints of what is on the photo.
            let mut targets: Vec<Target> = Vec::new();
            if let Some(it) = part.and_then(|p| job.parts.get(p)) {
                targets.extend(it.fixings.iter().map(|&f| Target::Fixing(f)));
                targets.extend(it.ends.iter().map(|&e| Target::End(e)));
                targets.extend(part.map(Target::Part));
            }
            let targets: Vec<(Target, String)> = targets
                .into_iter()
                .map(|t| (t, words::name(job, t)))
                .collect();
            Some((row, part, targets))
        })
        .flatten()
    });
    let hash = found.as_ref().map(|f| f.0.hash.clone()).unwrap_or_default();
    let src = use_shot(hash.into(), false);
    let (Some((row, part, targets)), Some(photo)) = (found, id) else {
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
        let items: IArray<ChipItem<usize>> = targets
            .iter()
            .enumerate()
            .map(|(n, (_, name))| ChipItem::new(n, name.clone(), false))
            .collect();
        let number = row.marks.iter().map(|m| m.number).max().unwrap_or(0) + 1;
        let pick = {
            let (desk, job, targets) = (desk.clone(), job.clone(), targets.clone());
            Callback::from(move |n: usize| {
                let Some(&(what, _)) = targets.get(n) else {
                    return;
                };
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
            { part!(Sheet { title: format!("Mark {number}"), onclose: close, children: html! { <>
                { part!(ChipRow::<usize> { label: "It shows", items: items, onpress: pick }) }
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
