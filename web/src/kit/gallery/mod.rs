//! Every part of the kit on a few pages with invented content, to be looked at in both themes and sizes.
//! Built only with the feature `gallery`; never shipped. The address's `?board=` chooses the page.

mod controls;
mod pages;
mod states;

use super::*;
use crate::router::{Route, Tab, use_route};
use wasm_bindgen::prelude::wasm_bindgen;
use yew::prelude::*;

/// Mounts the gallery on the page by itself.
#[wasm_bindgen]
pub fn show_gallery() {
    yew::Renderer::<Gallery>::new().render();
}

/// A page of the gallery.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Board {
    Controls,
    TakeOff,
    PutBack,
    Part,
    Audit,
    States,
    Long,
}

impl Board {
    const ALL: [(Board, &'static str); 7] = [
        (Board::Controls, "controls"),
        (Board::TakeOff, "take-off"),
        (Board::PutBack, "put-back"),
        (Board::Part, "part"),
        (Board::Audit, "audit"),
        (Board::States, "states"),
        (Board::Long, "long"),
    ];

    /// The board the address asks for.
    fn asked() -> Board {
        let search = web_sys::window()
            .and_then(|window| window.location().search().ok())
            .unwrap_or_default();
        Board::ALL
            .into_iter()
            .find(|(_, name)| search.ends_with(&format!("board={name}")))
            .map_or(Board::Controls, |it| it.0)
    }
}

/// The gallery.
#[component]
pub fn Gallery() -> Html {
    let route = use_route(&Callback::noop());
    let board = use_state_eq(Board::asked);
    let job = AttrValue::Static("sample");
    let (tab, page) = match *board {
        Board::Controls => (None, html! { <controls::Controls /> }),
        Board::TakeOff => (Some(Tab::TakeOff), html! { <pages::TakeOff /> }),
        Board::PutBack => (Some(Tab::PutBack), html! { <pages::PutBack /> }),
        Board::Part => (Some(Tab::PutBack), html! { <pages::Part /> }),
        Board::Audit => (Some(Tab::Audit), html! { <pages::AuditPage /> }),
        Board::States => (Some(Tab::Job), html! { <states::States /> }),
        Board::Long => (Some(Tab::Find), html! { <states::Long /> }),
    };
    let chips: IArray<ChipItem<Board>> = Board::ALL
        .into_iter()
        .map(|(it, name)| ChipItem::new(it, name, it == *board))
        .collect();
    let choose = {
        let board = board.clone();
        move |it| board.set(it)
    };
    let nav = part!(NavBar {
        job,
        current: tab.or(route.tab())
    });
    html! {
        { part!(Shell { nav: nav, children: html! { <>
            { page }
            <div class="page__body">{ part!(ChipRow::<Board> { label: "Board", items: chips, onpress: choose }) }</div>
            if route == Route::Lost { { part!(Banner { title: "This address names no place", kind: BannerKind::Caution }) } }
        </> } }) }
    }
}
