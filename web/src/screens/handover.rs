//! The page for whoever takes over: read, printed, or handed on as text.
use countback_core::view::{self, Block, BlockKind};
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

use super::{OfJob, lost};
use crate::app::{NoticeKind, faults, the_desk};
use crate::kit::{Button, ButtonFace, ButtonKind, Glyph, Icon, MainAct, Page, Standing, Verdict};
use crate::part;
use crate::ports::share;
use crate::router::Route;

pub fn handover(props: &OfJob) -> Html {
    let desk = the_desk();
    let job = props.job.clone();
    let Some(page) = desk.read(&job, |book| view::handover_page(book, desk.at())) else {
        return lost();
    };
    let hand_on = {
        let (desk, title, text) = (desk.clone(), page.title.clone(), page.text.clone());
        Callback::from(move |()| {
            let handing = share::hand_over_text(&title, &text, "handover.txt");
            let desk = desk.clone();
            spawn_local(async move {
                if let Err(fault) = handing.await {
                    desk.say(NoticeKind::Fault, faults::file(&fault));
                }
            });
        })
    };
    let side = part!(Button {
        label: "Print it",
        icon: Icon::Print,
        face: ButtonFace::IconOnly,
        kind: ButtonKind::Quiet,
        onpress: Callback::from(|()| share::print())
    });
    let act = html! {
        { part!(MainAct { side: side, children: html! { <>
            { part!(Button { label: "Hand it on as text", kind: ButtonKind::Main, icon: Icon::Share, onpress: hand_on }) }
        </> } }) }
    };
    let state = match page.danger {
        true => Standing::Danger,
        false => Standing::Owed,
    };
    html! {
        { part!(Page { title: format!("Handover: {}", page.title), under: page.machine.clone(), back: Route::Job { job: job.clone() }, act: act, children: html! { <>
            { for page.blocks.iter().filter(|it| it.kind == BlockKind::Stop).map(block) }
            { part!(Verdict { state: state, words: page.verdict.clone() }) }
            { for page.blocks.iter().filter(|it| it.kind != BlockKind::Stop).map(block) }
            <p class="soft">{ page.state_of.clone() }</p>
            <p class="soft">{ "Talk at the machine as well. What was not logged is not on this page." }</p>
        </> } }) }
    }
}

fn block(block: &Block) -> Html {
    let (class, icon) = match block.kind {
        BlockKind::Stop => ("handover__block handover__block--stop", Some(Icon::Stop)),
        BlockKind::Doubt => (
            "handover__block handover__block--doubt",
            Some(Icon::Warning),
        ),
        BlockKind::Plain => ("handover__block", None),
    };
    html! {
        <section {class} key={block.title}>
            <h2 class="handover__title">
                if let Some(icon) = icon { { part!(Glyph { icon: icon }) } }
                <span>{ block.title }</span>
                if let Some(n) = block.n { <span class="handover__n">{ n }</span> }
            </h2>
            <ul class="handover__lines" aria-label={block.title}>
                { for block.lines.iter().map(|line| html! { <li>{ line.clone() }</li> }) }
            </ul>
        </section>
    }
}
