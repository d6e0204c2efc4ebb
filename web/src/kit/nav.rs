//! The five screens of a job, as a bar at the bottom or a rail at the side.

use super::{Glyph, Icon};
use crate::router::Tab;
use gloo::events::EventListener;
use wasm_bindgen::JsCast;
use web_sys::HtmlElement;
use yew::prelude::*;

/// Properties of [`NavBar`].
#[derive(Properties, PartialEq)]
pub struct NavBar {
    pub job: AttrValue,
    #[prop_or_default]
    pub current: Option<Tab>,
}

/// The word of a screen, in the bar and as its title.
pub const fn tab_word(tab: Tab) -> &'static str {
    match tab {
        Tab::Job => "Job",
        Tab::TakeOff => "Take off",
        Tab::PutBack => "Put back",
        Tab::Audit => "Audit",
        Tab::Find => "Find",
    }
}

const fn tab_icon(tab: Tab) -> Icon {
    match tab {
        Tab::Job => Icon::Job,
        Tab::TakeOff => Icon::TakeOff,
        Tab::PutBack => Icon::PutBack,
        Tab::Audit => Icon::Audit,
        Tab::Find => Icon::Find,
    }
}

/// The bar of the five screens.
#[hook]
fn use_nav_bar(props: &NavBar) -> Html {
    let items = Tab::ALL.iter().map(|&tab| {
        let current = (props.current == Some(tab)).then_some("page");
        html! {
            <li class="nav__item">
                <a class="nav__link" href={tab.route(props.job.clone()).href()} aria-current={current}>
                    { part!(Glyph { icon: tab_icon(tab) }) }<span>{ tab_word(tab) }</span>
                </a>
            </li>
        }
    });
    let node = use_node_ref();
    {
        let node = node.clone();
        use_effect_with((), move |()| {
            publish_height(&node);
            let listener = web_sys::window().map(|window| {
                EventListener::new(&window, "resize", move |_| publish_height(&node))
            });
            move || drop(listener)
        });
    }
    html! { <nav ref={node} class="nav" aria-label="Screens"><ul class="nav__list">{ for items }</ul></nav> }
}

crate::live!(NavBar, use_nav_bar);

/// Tells the styles how high the bar has come out, so that the main act stands on it whatever the size of the text.
fn publish_height(node: &NodeRef) {
    let (Some(bar), Some(document)) = (
        node.cast::<HtmlElement>(),
        web_sys::window().and_then(|it| it.document()),
    ) else {
        return;
    };
    if let Some(root) = document
        .document_element()
        .as_ref()
        .and_then(|it| it.dyn_ref::<HtmlElement>())
    {
        let _ = root
            .style()
            .set_property("--bar", &format!("{}px", bar.offset_height()));
    }
}
