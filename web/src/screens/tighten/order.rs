//! The order of tightening, chosen: from marks on a photo, from how the places
//! lie, or the maker's own, tapped one after another.
use countback_core::job::Book;
use countback_core::journal::*;
use countback_core::torque::pattern::{Layout, fits};
use countback_core::view;
use countback_core::words;
use yew::prelude::*;

use super::picture::OrderPicture;
use super::tell_now;
use crate::app::{the_desk, undo_mark};
use crate::kit::{
    Banner, BannerKind, Button, ButtonFace, ButtonKind, ChipItem, ChipRow, IArray, Icon,
    PhotoPoint, PhotoView, Readiness, Section, Sheet, Stepper, use_local,
};
use crate::part;
use crate::router;
use crate::screens::shots::use_shot;

/// Props of [`OrderSheet`].
#[derive(Properties, PartialEq)]
pub struct OrderSheet {
    pub job: AttrValue,
    pub fixing: FixingId,
    pub onclose: Callback<()>,
}

const LAYOUTS: [Layout; 4] = [
    Layout::Circle,
    Layout::Line,
    Layout::TwoRows,
    Layout::RectangleRing,
];

/// What is being put together.
#[derive(Clone, Debug, Default, PartialEq)]
struct Making {
    /// An order to be used, as it would be drawn.
    round: Option<Round>,
    layout: Option<Layout>,
    /// Places on a long side of a rectangle.
    along: u32,
    /// The maker's order so far, while it is being tapped.
    tapped: Option<Vec<u16>>,
    /// The photo that is being marked.
    marking: Option<PhotoId>,
}

#[hook]
fn use_order_sheet(props: &OrderSheet) -> Html {
    let desk = the_desk();
    let making = use_local(Making::default);
    let (job, id) = (props.job.clone(), props.fixing);
    let found = desk.read(&job, |book: &Book| {
        let it = book.job().fixings.get(id)?;
        let parts = it.parts.clone();
        let photos = view::photo_rows(book.job(), desk.at(), |on| match on {
            Target::Part(p) => parts.contains(&p),
            on => on == Target::Fixing(id),
        });
        let offers = view::photo_offers(book.job(), id);
        let said = view::marks_said(book.job(), id);
        Some((it.clone(), photos, offers, said))
    });
    let marked = making.marking.map(|m| m.to_string());
    let hash = found.as_ref().and_then(|f| f.as_ref()).and_then(|f| {
        let row = f.1.iter().find(|p| Some(p.id.to_string()) == marked)?;
        Some(row.hash.clone())
    });
    let src = use_shot(hash.clone().unwrap_or_default().into(), false);
    let Some((it, photos, offers, said)) = found.flatten() else {
        return html! {};
    };
    let n = it.places.len();
    let set = |change: fn(&mut Making, u32)| {
        let making = making.clone();
        Callback::from(move |value: u32| {
            let mut next = (*making).clone();
            change(&mut next, value);
            making.set(next);
        })
    };
    let relay = {
        let (making, it) = (making.clone(), it.clone());
        move |layout: Layout, along: u32| {
            making.set(Making {
                round: view::chosen_layout(id, &it, layout, along as usize),
                layout: Some(layout),
                along,
                ..Making::default()
            });
        }
    };
    let along = making.along.max(3);
    let layouts: IArray<ChipItem<usize>> = LAYOUTS
        .iter()
        .enumerate()
        .filter(|(_, l)| fits(**l, n))
        .map(|(at, &l)| ChipItem::new(at, words::layout(l), making.layout == Some(l)))
        .collect();
    let pick = {
        let relay = relay.clone();
        let first = (n as u32).div_ceil(3).max(3);
        Callback::from(move |at: usize| {
            if let Some(&layout) = LAYOUTS.get(at) {
                relay(layout, first);
            }
        })
    };
    // The maker's order is tapped on the points there are, numbered as they lie.
    let base = making.round.clone().or_else(|| it.round.clone());
    let shown = match (&making.tapped, &base) {
        (Some(tapped), base) => tapping(id, n, tapped, base.as_ref()),
        (None, Some(round)) => Some(round.clone()),
        (None, None) => None,
    };
    let drawing = desk
        .read(&job, |book| {
            view::drawing(book.job(), &it, shown.as_ref(), None)
        })
        .unwrap_or_default();
    let ready = match &making.tapped {
        Some(tapped) if tapped.len() == n => shown.clone(),
        Some(_) => None,
        None => making.round.clone(),
    };
    let use_it = {
        let (desk, job, ready) = (desk.clone(), job.clone(), ready.clone());
        Callback::from(move |()| {
            if let Some(round) = ready.clone() {
                router::close_sheet();
                tell_now(&desk, &job, Act::RoundSet(round));
            }
        })
    };
    let foot = html! {
        { part!(Button { label: if making.tapped.is_some() { "Use the maker's order" } else { "Use this order" }, kind: ButtonKind::Main, icon: Icon::Check, readiness: if ready.is_some() { Readiness::Ready } else { Readiness::Blocked(blocked(&making, n).into()) }, onpress: use_it }) }
    };
    let body = if let Some(photo) = making.marking {
        let next = desk.read(&job, |book| {
            view::mark_number(book.job(), photo, Target::Fixing(id))
        });
        let next = next.unwrap_or_default();
        let marks: IArray<crate::kit::PhotoMark> = photos
            .iter()
            .filter(|p| p.id == photo)
            .flat_map(|p| &p.marks)
            .filter(|m| m.what == Target::Fixing(id))
            .map(|m| crate::kit::PhotoMark {
                number: m.number,
                point: PhotoPoint { x: m.x, y: m.y },
                name: m.label.clone().into(),
                tag: m.size.clone().into(),
                group: m.group,
            })
            .collect();
        let left = n.saturating_sub(marks.len());
        let onplace = (left > 0).then(|| {
            let (desk, job) = (desk.clone(), job.clone());
            Callback::from(move |p: PhotoPoint| {
                let what = Target::Fixing(id);
                let (x, y) = (p.x, p.y);
                tell_now(
                    &desk,
                    &job,
                    Act::MarkSet {
                        photo,
                        number: next,
                        x,
                        y,
                        what,
                    },
                );
            })
        });
        html! { <>
            <p>{ if left > 0 { format!("Tap each place on the photo: {left} to go.") } else { "All are marked.".to_owned() } }</p>
            { part!(PhotoView { src, alt: "The places", marks, onplace }) }
            { undo_mark(&job).unwrap_or_default() }
            { part!(Button { label: "Done marking", icon: Icon::Check, face: ButtonFace::Wide, onpress: set(|m, _| m.marking = None).reform(|()| 0) }) }
        </> }
    } else if let Some(tapped) = &making.tapped {
        let cells = (0..n as u16).map(|place| {
            let making = making.clone();
            let turn = tapped.iter().position(|&p| p == place);
            let press = Callback::from(move |_: MouseEvent| {
                let mut next = (*making).clone();
                if let Some(tapped) = next.tapped.as_mut().filter(|t| !t.contains(&place)) {
                    tapped.push(place);
                    making.set(next);
                }
            });
            html! {
                <button type="button" key={place} class={classes!("place", if turn.is_some() { "place--settled" } else { "place--open" })} onclick={press}>
                    <span class="unseen">{ "Place " }</span>
                    <span class="place__number">{ lying(&it, place) }</span>
                    <span class="place__word">{ turn.map_or_else(|| "not yet".to_owned(), |t| format!("turn {}", t + 1)) }</span>
                </button>
            }
        });
        html! { <>
            <p>{ "Tap the places one after another, as the maker has them." }</p>
            { part!(OrderPicture { drawing: drawing }) }
            <div class="places" role="group" aria-label="Places">{ for cells }</div>
            { part!(Button { label: "Take back the last", icon: Icon::Undo, face: ButtonFace::Wide, onpress: set(|m, _| { if let Some(t) = m.tapped.as_mut() { t.pop(); } }).reform(|()| 0) }) }
        </> }
    } else {
        let unclear = offers.iter().any(|o| o.unclear);
        html! { <>
            { part!(OrderPicture { drawing: drawing }) }
            { for said.into_iter().map(|s| html! { { part!(Banner { kind: BannerKind::Caution, title: s }) } }) }
            if unclear { { part!(Banner { kind: BannerKind::Caution, title: "The marks fit no layout clearly. Choose the order yourself, or put in the maker's." }) } }
            if !offers.is_empty() {
                { part!(Section { title: "From the marks on the photo", children: html! { <>
                    { for offers.into_iter().map(|o| {
                        let making = making.clone();
                        let (text, round) = (o.text, o.round);
                        html! { { part!(Button { label: text, icon: Icon::Photo, face: ButtonFace::Wide, onpress: Callback::from(move |()| making.set(Making { round: Some(round.clone()), ..Making::default() })) }) } }
                    }) }
                </> } }) }
            }
            { part!(Section { title: "How do they lie?", children: html! { <>
                { part!(ChipRow::<usize> { label: "They lie as", items: layouts, onpress: pick }) }
                if making.layout == Some(Layout::RectangleRing) {
                    { part!(Stepper { label: "On a long side, corners counted", value: along, min: 3, max: (n as u32).saturating_sub(2) / 2, onchange: { let relay = relay.clone(); Callback::from(move |a: u32| relay(Layout::RectangleRing, a)) } }) }
                }
            </> } }) }
            { part!(Button { label: "Put in the maker's order", icon: Icon::Edit, face: ButtonFace::Wide, onpress: set(|m, _| m.tapped = Some(Vec::new())).reform(|()| 0) }) }
            { for photos.iter().map(|p| {
                let (making, photo) = (making.clone(), p.id);
                let of = if p.caption.is_empty() { p.when.clone() } else { p.caption.clone() };
                html! { { part!(Button { label: "Mark the places on a photo", about: of, icon: Icon::Photo, kind: ButtonKind::Quiet, face: ButtonFace::Wide, onpress: Callback::from(move |()| making.set(Making { marking: Some(photo), ..Making::default() })) }) } }
            }) }
        </> }
    };
    html! {
        { part!(Sheet { title: "Order of tightening", onclose: props.onclose.clone(), foot: foot, children: body }) }
    }
}

crate::live!(OrderSheet, use_order_sheet);

fn blocked(making: &Making, n: usize) -> String {
    match &making.tapped {
        Some(tapped) => format!("{} of {n} tapped", tapped.len()),
        None => "Choose how they lie".to_owned(),
    }
}

/// The number of a place as it lies, before it has a turn, or that it keeps.
fn lying(it: &countback_core::job::Fixing, place: u16) -> u16 {
    it.kept_number(place).unwrap_or(place + 1)
}

/// The round as tapped so far; what has no turn yet follows as it lies, so that
/// it can be drawn.
fn tapping(id: FixingId, n: usize, tapped: &[u16], base: Option<&Round>) -> Option<Round> {
    let full = tapped.len() == n;
    let order = if full {
        tapped.to_vec()
    } else {
        (0..n as u16).collect()
    };
    Some(Round {
        fixing: id,
        photo: base.and_then(|b| b.photo),
        points: base.map(|b| b.points.clone()).unwrap_or_default(),
        order,
        maker: full,
    })
}
