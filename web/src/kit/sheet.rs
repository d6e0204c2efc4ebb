//! A sheet for choosing. It is the browser's own modal dialog, so the page behind cannot be reached and focus stays in
//! it. Esc, the close button, a tap beside it and the back button all close it through its entry in the history.

use super::{Glyph, Icon, use_id};
use crate::router::{self, Route};
use gloo::events::{EventListener, EventListenerOptions};
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlDialogElement, HtmlElement, Node};
use yew::prelude::*;

/// Properties of [`Sheet`].
#[derive(Properties, PartialEq)]
pub struct Sheet {
    pub title: AttrValue,
    /// Called once the sheet has been closed by the person; the screen then stops rendering it.
    pub onclose: Callback<()>,
    #[prop_or_default]
    pub children: Html,
    /// What stays in reach at the foot: usually one main button.
    #[prop_or_default]
    pub foot: Option<Html>,
}

/// A sheet; open as long as it is rendered.
#[hook]
fn use_sheet(props: &Sheet) -> Html {
    let node = use_node_ref();
    let id = use_id();
    let onclose = use_mut_ref(|| props.onclose.clone());
    *onclose.borrow_mut() = props.onclose.clone();
    {
        let node = node.clone();
        use_effect_with((), move |()| {
            let opened = node.cast::<HtmlDialogElement>().map(|dialog| {
                let opened = open(dialog);
                let listeners = listen(&opened.dialog, opened.number, move || {
                    onclose.borrow().clone().emit(())
                });
                (opened, listeners)
            });
            move || {
                if let Some((opened, listeners)) = opened {
                    drop(listeners);
                    opened.close();
                }
            }
        });
    }
    html! {
        <dialog ref={node} class="sheet" aria-labelledby={id.clone()}>
            <div class="sheet__head">
                <h2 class="sheet__title" {id} tabindex="-1">{ props.title.clone() }</h2>
                <button type="button" class="button button--quiet button--icon" onclick={|_: MouseEvent| router::pop_sheet()}>
                    { part!(Glyph { icon: Icon::Close }) }<span class="unseen">{ "Close" }</span>
                </button>
            </div>
            <div class="sheet__body">{ props.children.clone() }</div>
            if let Some(foot) = &props.foot { <div class="sheet__foot">{ foot.clone() }</div> }
        </dialog>
    }
}

crate::live!(Sheet, use_sheet);

/// What must be put right again when the sheet goes.
struct Opened {
    dialog: HtmlDialogElement,
    opener: Option<Element>,
    /// Which sheet of the stack this is, from 1.
    number: u32,
}

fn open(dialog: HtmlDialogElement) -> Opened {
    let opener = web_sys::window()
        .and_then(|window| window.document())
        .and_then(|document| document.active_element());
    let number = router::sheets_open() + 1;
    router::push_sheet(number);
    // Fails only if it is open or not in the page, and it was rendered just now.
    let _ = dialog.show_modal();
    if let Ok(Some(title)) = dialog.query_selector(".sheet__title")
        && let Some(title) = title.dyn_ref::<HtmlElement>()
    {
        let _ = title.focus();
    }
    Opened {
        dialog,
        opener,
        number,
    }
}

impl Opened {
    fn close(self) {
        self.dialog.close();
        // Closed by the screen and not by the person: its entry is still there.
        if router::sheets_open() == self.number {
            router::pop_sheet();
        }
        if let Some(opener) = self
            .opener
            .as_ref()
            .and_then(|it| it.dyn_ref::<HtmlElement>())
            && opener.is_connected()
        {
            let _ = opener.focus();
        }
    }
}

fn listen(
    dialog: &HtmlDialogElement,
    number: u32,
    closed: impl Fn() + 'static,
) -> Vec<EventListener> {
    let mut listeners = Vec::with_capacity(4);
    if let Some(window) = web_sys::window() {
        listeners.push(EventListener::new(&window, "popstate", move |_| {
            if router::sheets_open() < number {
                closed();
            }
        }));
    }
    let options = EventListenerOptions::enable_prevent_default();
    // Esc, or Android's back gesture. Prevented, so that there is one way to close, through the history.
    let cancelled = EventListener::new_with_options(dialog, "cancel", options, |event| {
        event.prevent_default();
        router::pop_sheet();
    });
    // Where the browser does not let us prevent it, the dialog is shut already and its entry must follow.
    let shut = {
        let dialog = dialog.clone();
        EventListener::new(&dialog.clone(), "close", move |_| {
            if dialog.is_connected() && router::sheets_open() == number {
                router::pop_sheet();
            }
        })
    };
    let clicked = EventListener::new_with_options(dialog, "click", options, {
        let dialog = dialog.clone();
        move |event| {
            let Some(target) = event.target().and_then(|it| it.dyn_into::<Element>().ok()) else {
                return;
            };
            if target.is_same_node(Some(dialog.unchecked_ref::<Node>())) {
                router::pop_sheet();
            } else if let Ok(Some(link)) = target.closest("a[href^='#']")
                && let Some(href) = link.get_attribute("href")
            {
                // Followed by the browser, a link would leave the sheet's entry behind it in the history.
                event.prevent_default();
                router::go(&Route::parse(&href));
            }
        }
    });
    listeners.extend([cancelled, shut, clicked]);
    listeners
}
