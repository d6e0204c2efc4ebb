//! The picture: the job drawn from the outermost part to what lies deepest, to
//! be looked at whole or close to, opened by a tap, read as a list, printed.
use countback_core::view::{self, NodeState, PictureNode, PicturePage};
use web_sys::Element;
use yew::prelude::*;

use super::{OfJob, lost};
use crate::app::the_desk;
use crate::kit::{
    Button, ButtonFace, ButtonKind, Empty, Icon, ListLength, ListRow, MainAct, Page, PageWidth,
    Rows, Section, Standing, StateTag, use_local,
};
use crate::part;
use crate::router::Route;

/// Sizes to look at it in, as parts of its full size in hundredths.
const SIZES: [i32; 5] = [40, 60, 80, 100, 140];

/// What is looked at: all of it, or one of the sizes about a point of it.
#[derive(Clone, Copy, PartialEq)]
struct Look {
    size: Option<usize>,
    x: i32,
    y: i32,
}

#[hook]
pub fn use_picture_screen(props: &OfJob) -> Html {
    let desk = the_desk();
    let job = props.job.clone();
    let frame = use_node_ref();
    let page = desk.read(&job, |book| view::picture_page(book, desk.at()));
    let start = page.as_ref().map_or((0, 0), |p| p.look);
    let look = use_local(|| Look {
        size: Some(3),
        x: start.0,
        y: start.1,
    });
    // Keeps the point that was in the middle in the middle.
    {
        let frame = frame.clone();
        use_effect_with(*look, move |look| {
            if let (Some(frame), Some(size)) = (frame.cast::<Element>(), size_of(look.size)) {
                frame.set_scroll_left(look.x * size / 100 - frame.client_width() / 2);
                frame.set_scroll_top(look.y * size / 100 - frame.client_height() / 2);
            }
        });
    }
    let Some(page) = page else {
        return lost();
    };
    if page.nodes.is_empty() {
        return html! {
            { part!(Page { title: "Picture", back: Route::Job { job: job.clone() }, children: html! { <>
                { part!(Empty { icon: Icon::SubAssembly, title: "Nothing to draw yet.", text: "Each part that comes off is drawn here, under what had to be off before it.", children: html! { <>
                    { part!(Button { label: "Take off", icon: Icon::TakeOff, href: Route::TakeOff { job }.href() }) }
                </> } }) }
            </> } }) }
        };
    }
    let to = |size: Option<usize>| {
        let (look, frame) = (look.clone(), frame.clone());
        Callback::from(move |()| look.set(moved(*look, frame.cast::<Element>(), size)))
    };
    let (smaller, larger) = match look.size {
        None => (None, Some(0)),
        Some(0) => (None, Some(1)),
        Some(n) => (Some(n - 1), Some((n + 1).min(SIZES.len() - 1))),
    };
    let act = html! {
        { part!(MainAct { children: html! {
            <div class="zoom">
                { part!(Button { label: "Smaller", icon: Icon::Minus, face: ButtonFace::Wide, onpress: to(smaller) }) }
                { part!(Button { label: "Larger", icon: Icon::Plus, face: ButtonFace::Wide, onpress: to(larger) }) }
                { part!(Button { label: "Whole", icon: Icon::Eye, face: ButtonFace::Wide, onpress: to(None) }) }
            </div>
        } }) }
    };
    let print = Callback::from(|()| {
        if let Some(window) = web_sys::window() {
            let _ = window.print();
        }
    });
    html! {
        { part!(Page { title: "Picture", under: page.title.clone(), back: Route::Job { job: job.clone() }, width: PageWidth::Wide, act: act, side: html! {
            { part!(Button { label: "Print", icon: Icon::Print, face: ButtonFace::IconOnly, kind: ButtonKind::Quiet, onpress: print }) }
        }, children: html! { <>
            { drawing(&job, &page, &frame, look.size) }
            <p class="soft">{ "At the top what came off first, and goes back last. " }{ page.left_out.clone() }</p>
            <ul class="key" aria-label="How many stand so">
                { for page.counts.iter().map(|&(state, n)| html! {
                    <li>{ part!(StateTag { state: standing(state), icon: icon(state), word: format!("{n} {}", state.word()) }) }</li>
                }) }
            </ul>
            { list(&job, &page) }
        </> } }) }
    }
}

fn size_of(size: Option<usize>) -> Option<i32> {
    size.and_then(|n| SIZES.get(n).copied())
}

/// Another size about what is in the middle now.
fn moved(look: Look, frame: Option<Element>, size: Option<usize>) -> Look {
    let middle = frame.zip(size_of(look.size)).map(|(frame, now)| {
        let x = (frame.scroll_left() + frame.client_width() / 2) * 100 / now;
        (
            x,
            (frame.scroll_top() + frame.client_height() / 2) * 100 / now,
        )
    });
    let (x, y) = middle.unwrap_or((look.x, look.y));
    Look { size, x, y }
}

/// The drawing in its frame, which is moved as any page is.
fn drawing(job: &AttrValue, page: &PicturePage, frame: &NodeRef, size: Option<usize>) -> Html {
    const EDGE: i32 = 12;
    let (w, h) = (page.width + 2 * EDGE, page.height + 2 * EDGE);
    let far = size_of(size).is_none_or(|s| s < 80);
    let class = classes!(
        "picture",
        size.is_none().then_some("picture--whole"),
        far.then_some("picture--far"),
    );
    let scaled = |n: i32| size_of(size).map(|s| (n * s / 100).to_string());
    html! {
        <div class={class} ref={frame.clone()} tabindex="0" role="group" aria-label="The job, outermost part at the top">
            <svg class="picture__sheet" viewBox={format!("{} {} {w} {h}", -EDGE, -EDGE)} width={scaled(w)} height={scaled(h)}>
                <defs>
                    <pattern id="hatch" width="10" height="10" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
                        <path class="picture__hatch" d="M0 0V10" />
                    </pattern>
                </defs>
                <g aria-hidden="true">
                    { for page.lines.iter().map(|line| {
                        let open = if line.against { "line line--against" } else if line.open { "line line--open" } else { "line" };
                        html! { <path class={open} d={line.path.clone()} /> }
                    }) }
                </g>
                { for page.nodes.iter().map(|node| boxed(job, node)) }
            </svg>
        </div>
    }
}

/// A box and what a tap on it opens.
fn boxed(job: &AttrValue, node: &PictureNode) -> Html {
    let (x, y, w, h) = (node.x, node.y, node.w, node.h);
    let said = format!("{}, {} {}", node.name, node.state.word(), node.note);
    let top = 48 - 10 * node.lines.len() as i32;
    html! {
        <a class={classes!("node", format!("node--{}", class_of(node.state)))} href={to(job, node)} aria-label={said.trim_end().to_owned()} transform={format!("translate({x} {y})")}>
            <rect class="node__box" width={w.to_string()} height={h.to_string()} rx="10" />
            if node.state == NodeState::Waiting {
                <rect fill="url(#hatch)" width={w.to_string()} height={h.to_string()} rx="10" />
            }
            <g class="node__near">
                { for (0..).zip(&node.lines).map(|(n, line)| html! { <text class="node__name" x="12" y={(top + 21 * n).to_string()}>{ line.clone() }</text> }) }
                <path class="node__sign" d={icon(node.state).path()} transform={format!("translate(10 {})", h - 32)} />
                <text class="node__word" x="40" y={(h - 14).to_string()}>{ node.state.word() }</text>
            </g>
            <path class="node__sign node__far" d={icon(node.state).path()} transform={format!("translate({} {}) scale(2.5)", w / 2 - 30, h / 2 - 30)} />
        </a>
    }
}

fn to(job: &AttrValue, node: &PictureNode) -> String {
    match node.part {
        Some(part) => Route::PutBackPart {
            job: job.clone(),
            part: part.to_string().into(),
        },
        None => Route::WayIn { job: job.clone() },
    }
    .href()
}

/// The same in words, layer by layer.
fn list(job: &AttrValue, page: &PicturePage) -> Html {
    let length = if page.nodes.len() > 40 {
        ListLength::Long
    } else {
        ListLength::Short
    };
    html! {
        <details class="picture-list">
            <summary class="button button--plain button--wide">{ "The same as a list" }</summary>
            { part!(Section { title: "From the outermost in", count: page.nodes.len().to_string(), children: html! { <>
                { part!(Rows { label: "From the outermost in", length: length, children: html! { <>
                    { for page.nodes.iter().map(|node| {
                        let word = if node.note.is_empty() { node.state.word().to_owned() } else { node.note.clone() };
                        part!(ListRow { what: node.name.clone(), state: standing(node.state), owed: word, href: to(job, node) })
                    }) }
                </> } }) }
            </> } }) }
        </details>
    }
}

fn standing(state: NodeState) -> Standing {
    match state {
        NodeState::Hides => Standing::Danger,
        NodeState::Can => Standing::Can,
        NodeState::Begun => Standing::Owed,
        NodeState::Waiting => Standing::Waiting,
        NodeState::Blocked => Standing::Blocked,
        NodeState::LeftOff | NodeState::StillOn => Standing::Off,
        NodeState::Done => Standing::Settled,
    }
}

fn icon(state: NodeState) -> Icon {
    match state {
        NodeState::LeftOff => Icon::LeftOff,
        NodeState::StillOn => Icon::Machine,
        other => standing(other).icon(),
    }
}

fn class_of(state: NodeState) -> &'static str {
    match state {
        NodeState::LeftOff => "left",
        NodeState::StillOn => "on",
        other => standing(other).suffix(),
    }
}
