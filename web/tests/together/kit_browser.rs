//! The controls in a real browser: what only a browser can show, focus and history and the modal dialog.

use countback_web::kit::{Button, NumberField, Page, Reading, Sheet, Stepper};
use countback_web::part;
use countback_web::router::{self, Route};
use std::cell::{Cell, RefCell};
use std::rc::Rc;
use wasm_bindgen::JsCast;
use wasm_bindgen_futures::JsFuture;
use wasm_bindgen_test::wasm_bindgen_test;
use web_sys::{Document, Element, Event, HtmlElement, HtmlInputElement};
use yew::prelude::*;

fn document() -> Document {
    web_sys::window().unwrap().document().unwrap()
}

/// Lets the page render, move focus and finish a step through its history.
async fn settle() {
    let wait = js_sys::Promise::new(&mut |done, _| {
        web_sys::window()
            .unwrap()
            .set_timeout_with_callback_and_timeout_and_arguments_0(&done, 120)
            .unwrap();
    });
    JsFuture::from(wait).await.unwrap();
}

/// A place of its own in the page for each test.
fn stage() -> Element {
    let stage = document().create_element("div").unwrap();
    document().body().unwrap().append_child(&stage).unwrap();
    stage
}

fn find<T: JsCast>(within: &Element, selector: &str) -> T {
    within
        .query_selector(selector)
        .unwrap()
        .unwrap_or_else(|| panic!("no {selector}"))
        .dyn_into()
        .unwrap()
}

fn focused() -> Element {
    document().active_element().unwrap()
}

#[derive(Properties, PartialEq)]
struct BenchProps {
    closed: Rc<Cell<u32>>,
}

/// A page with a button that opens a sheet, as screens have it.
#[component]
fn Bench(props: &BenchProps) -> Html {
    let open = use_state_eq(|| false);
    let onclose = {
        let (open, closed) = (open.clone(), props.closed.clone());
        move |()| {
            closed.set(closed.get() + 1);
            open.set(false);
        }
    };
    let onpress = {
        let open = open.clone();
        move |()| open.set(true)
    };
    html! {
        <>
            { part!(Button { label: "Choose", onpress }) }
            if *open {
                { part!(Sheet { title: "Where does it lie?", onclose, children: html! { <a href="#/job/7/find">{ "Find it" }</a> } }) }
            }
        </>
    }
}

/// A stage with an open sheet, and how often it was closed.
async fn opened() -> (Element, yew::AppHandle<Bench>, Rc<Cell<u32>>) {
    router::replace(&Route::Job { job: "7".into() });
    let stage = stage();
    let closed = Rc::new(Cell::new(0));
    let app = yew::Renderer::<Bench>::with_root_and_props(
        stage.clone(),
        BenchProps {
            closed: closed.clone(),
        },
    )
    .render();
    settle().await;
    let opener: HtmlElement = find(&stage, "button");
    opener.focus().unwrap();
    opener.click();
    settle().await;
    assert!(
        stage.query_selector("dialog[open]").unwrap().is_some(),
        "the sheet is open"
    );
    (stage, app, closed)
}

fn assert_closed(stage: &Element, closed: &Cell<u32>) {
    assert!(
        stage.query_selector("dialog").unwrap().is_none(),
        "the sheet has gone"
    );
    assert_eq!(closed.get(), 1, "and said so once");
    assert_eq!(
        focused().text_content().as_deref(),
        Some("Choose"),
        "focus is back at its opener"
    );
    assert_eq!(
        router::current(),
        Route::Job { job: "7".into() },
        "the page under it is still there"
    );
}

#[wasm_bindgen_test]
async fn the_back_button_closes_a_sheet_and_stays_on_the_page() {
    let (stage, app, closed) = opened().await;
    assert_eq!(
        focused().class_name(),
        "sheet__title",
        "reading starts at its title"
    );
    web_sys::window()
        .unwrap()
        .history()
        .unwrap()
        .back()
        .unwrap();
    settle().await;
    assert_closed(&stage, &closed);
    app.destroy();
}

#[wasm_bindgen_test]
async fn escape_and_the_close_button_close_a_sheet() {
    let (stage, app, closed) = opened().await;
    let options = web_sys::EventInit::new();
    options.set_cancelable(true);
    let escape = Event::new_with_event_init_dict("cancel", &options).unwrap();
    find::<Element>(&stage, "dialog")
        .dispatch_event(&escape)
        .unwrap();
    settle().await;
    assert_closed(&stage, &closed);
    app.destroy();

    let (stage, app, closed) = opened().await;
    find::<HtmlElement>(&stage, ".sheet__head button").click();
    settle().await;
    assert_closed(&stage, &closed);
    app.destroy();
}

#[wasm_bindgen_test]
async fn a_link_in_a_sheet_uses_up_its_entry_in_the_history() {
    let (stage, app, closed) = opened().await;
    let entries = web_sys::window()
        .unwrap()
        .history()
        .unwrap()
        .length()
        .unwrap();
    find::<HtmlElement>(&stage, "dialog a").click();
    settle().await;
    assert_eq!(router::current(), Route::Find { job: "7".into() });
    assert_eq!(closed.get(), 1, "the sheet closed");
    assert_eq!(
        web_sys::window()
            .unwrap()
            .history()
            .unwrap()
            .length()
            .unwrap(),
        entries,
        "no entry was added"
    );
    router::back(&Route::Jobs);
    settle().await;
    assert_eq!(
        router::current(),
        Route::Job { job: "7".into() },
        "one step back is the page the sheet stood on"
    );
    app.destroy();
}

#[derive(Properties, PartialEq)]
struct CounterProps {
    heard: Rc<RefCell<Vec<u32>>>,
}

#[component]
fn Counter(props: &CounterProps) -> Html {
    let value = use_state_eq(|| 3_u32);
    let onchange = {
        let (value, heard) = (value.clone(), props.heard.clone());
        move |it| {
            heard.borrow_mut().push(it);
            value.set(it);
        }
    };
    part!(Stepper {
        label: "Bolts",
        value: *value,
        min: 2_u32,
        max: 5_u32,
        onchange
    })
}

#[wasm_bindgen_test]
async fn a_stepper_stays_between_its_ends_however_the_number_comes() {
    let stage = stage();
    let heard = Rc::new(RefCell::new(Vec::new()));
    let app = yew::Renderer::<Counter>::with_root_and_props(
        stage.clone(),
        CounterProps {
            heard: heard.clone(),
        },
    )
    .render();
    settle().await;
    for _ in 0..3 {
        find::<HtmlElement>(&stage, "button[aria-label='One more: Bolts']").click();
        settle().await;
    }
    assert_eq!(*heard.borrow(), [4, 5], "the third press has nowhere to go");
    find::<HtmlElement>(&stage, ".stepper__value").click();
    settle().await;
    let input: HtmlInputElement = find(&stage, "input");
    assert_eq!(
        focused(),
        *input.unchecked_ref::<Element>(),
        "the number is ready to be typed over"
    );
    input.set_value("1");
    input.blur().unwrap();
    settle().await;
    assert_eq!(
        *heard.borrow(),
        [4, 5, 2],
        "what is typed is held to the ends too"
    );
    app.destroy();
}

#[component]
fn Titled() -> Html {
    let torque = use_state(|| AttrValue::from("12"));
    let oninput = {
        let torque = torque.clone();
        move |(text, _): (AttrValue, Reading)| torque.set(text)
    };
    part!(Page {
        title: "Water pump",
        children: part!(NumberField {
            label: "Torque",
            unit: "N·m",
            value: (*torque).clone(),
            oninput
        })
    })
}

#[wasm_bindgen_test]
async fn the_title_takes_focus_once_and_typing_keeps_it_in_the_field() {
    router::replace(&Route::Job { job: "8".into() });
    let stage = stage();
    let app = yew::Renderer::<Titled>::with_root(stage.clone()).render();
    settle().await;
    assert_eq!(focused().tag_name(), "H1");
    let input: HtmlInputElement = find(&stage, "input");
    input.focus().unwrap();
    for text in ["12,", "12,5", "12,5x"] {
        input.set_value(text);
        let options = web_sys::InputEventInit::new();
        options.set_bubbles(true);
        let typed = web_sys::InputEvent::new_with_event_init_dict("input", &options).unwrap();
        input.dispatch_event(&typed).unwrap();
        settle().await;
        assert_eq!(
            focused(),
            *input.unchecked_ref::<Element>(),
            "the field keeps focus at {text}"
        );
        assert_eq!(input.value(), text, "and its text");
    }
    assert_eq!(
        input.get_attribute("aria-invalid").as_deref(),
        Some("true"),
        "what cannot be read is said so"
    );
    app.destroy();
}
