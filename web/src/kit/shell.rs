//! The frame of every screen: page, head, sections, the main act in reach of the thumb, list and detail side by side.

use super::{Glyph, Icon};
use crate::router::{self, Route};
use web_sys::{FocusOptions, HtmlElement};
use yew::prelude::*;

/// Properties of [`Shell`].
#[derive(Properties, PartialEq)]
pub struct Shell {
    /// The page.
    pub children: Html,
    /// A [`super::NavBar`], inside a job.
    #[prop_or_default]
    pub nav: Option<Html>,
    /// The icon button that strikes the last entry, in the same corner of every screen of a job: above the bar, beside
    /// the main act where there is one.
    #[prop_or_default]
    pub undo: Option<Html>,
}

/// The whole window: the page first, then the bar.
impl Shell {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        html! {
            <div class={classes!("shell", props.undo.is_some().then_some("shell--undo"))}>
                <main class="shell__main" id="main">
                    { props.children.clone() }
                    if let Some(undo) = &props.undo { <div class="undo">{ undo.clone() }</div> }
                </main>
                { props.nav.clone() }
            </div>
        }
    }
}

/// How wide a page may be.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PageWidth {
    #[default]
    Column,
    /// Holds a [`Split`].
    Wide,
}

/// Properties of [`Page`].
#[derive(Properties, PartialEq)]
pub struct Page {
    pub title: AttrValue,
    /// A line under the title: the machine, the part.
    #[prop_or_default]
    pub under: Option<AttrValue>,
    /// Where the back button leads if we did not come from inside the app; no button without it.
    #[prop_or_default]
    pub back: Option<Route>,
    /// Beside the title: icon buttons, a tag, a state.
    #[prop_or_default]
    pub side: Option<Html>,
    /// A [`MainAct`].
    #[prop_or_default]
    pub act: Option<Html>,
    #[prop_or_default]
    pub width: PageWidth,
    pub children: Html,
}

/// One screen: head, body, main act.
impl Page {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        let wide = match props.width {
            PageWidth::Column => None,
            PageWidth::Wide => Some("page--wide"),
        };
        html! {
            <div class={classes!("page", wide)}>
                { part!(PageHead { title: props.title.clone(), under: props.under.clone(), back: props.back.clone(), side: props.side.clone() }) }
                <div class="page__body">{ props.children.clone() }</div>
                { props.act.clone() }
            </div>
        }
    }
}

/// Properties of [`PageHead`].
#[derive(Properties, PartialEq)]
pub struct PageHead {
    pub title: AttrValue,
    #[prop_or_default]
    pub under: Option<AttrValue>,
    #[prop_or_default]
    pub back: Option<Route>,
    #[prop_or_default]
    pub side: Option<Html>,
}

/// The head of a screen. Its title takes focus when the address has changed, so that reading starts there; the page
/// does not jump, so that going back keeps its place.
#[hook]
fn use_page_head(props: &PageHead) -> Html {
    let node = use_node_ref();
    {
        let node = node.clone();
        use_effect_with(router::current_hash(), move |_| {
            if let Some(title) = node.cast::<HtmlElement>() {
                let options = FocusOptions::new();
                options.set_prevent_scroll(true);
                let _ = title.focus_with_options(&options);
            }
        });
    }
    let back = props.back.clone().map(|fallback| {
        html! {
            <button type="button" class="button button--quiet button--icon" onclick={move |_: MouseEvent| router::back(&fallback)}>
                { part!(Glyph { icon: Icon::Back }) }<span class="unseen">{ "Back" }</span>
            </button>
        }
    });
    html! {
        <header class={classes!("page-head", back.is_some().then_some("page-head--back"))}>
            { back }
            <div class="page-head__words">
                <h1 ref={node} tabindex="-1">{ props.title.clone() }</h1>
                if let Some(under) = &props.under { <p class="page-head__under">{ under.clone() }</p> }
            </div>
            if let Some(side) = &props.side { <div class="page-head__side">{ side.clone() }</div> }
        </header>
    }
}

crate::live!(PageHead, use_page_head);

/// Properties of [`Section`].
#[derive(Properties, PartialEq)]
pub struct Section {
    pub title: AttrValue,
    /// At the end of the head: "12 owed".
    #[prop_or_default]
    pub count: Option<AttrValue>,
    pub children: Html,
}

/// A ruled-off part of a page.
impl Section {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        html! {
            <section class="section">
                <div class="section__head">
                    <h2>{ props.title.clone() }</h2>
                    if let Some(count) = &props.count { <span class="section__count">{ count.clone() }</span> }
                </div>
                { props.children.clone() }
            </section>
        }
    }
}

/// What stands below the main act.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum ActPlace {
    #[default]
    AboveBar,
    /// There is no bar on this screen.
    Bottom,
}

/// Properties of [`MainAct`].
#[derive(Properties, PartialEq)]
pub struct MainAct {
    /// The main button.
    pub children: Html,
    /// Icon buttons beside it, on the side of the holding hand.
    #[prop_or_default]
    pub side: Option<Html>,
    #[prop_or_default]
    pub place: ActPlace,
}

/// The one main act of a screen, in reach of either thumb.
impl MainAct {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        let alone = match props.place {
            ActPlace::AboveBar => None,
            ActPlace::Bottom => Some("main-act--alone"),
        };
        html! {
            <div class={classes!("main-act", alone)}>
                <div class="main-act__act">{ props.children.clone() }</div>
                if let Some(side) = &props.side { <div class="main-act__side">{ side.clone() }</div> }
            </div>
        }
    }
}

/// Properties of [`Split`].
#[derive(Properties, PartialEq)]
pub struct Split {
    pub list: Html,
    /// The chosen thing. On a phone it stands in place of the list.
    #[prop_or_default]
    pub detail: Option<Html>,
    /// What the empty half says on a wide screen.
    #[prop_or(AttrValue::Static("Choose a line to see it here."))]
    pub hint: AttrValue,
}

/// List and detail: side by side from 900 px, one at a time below.
impl Split {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        let list = if props.detail.is_some() {
            "split__list--behind"
        } else {
            "split__list"
        };
        html! {
            <div class="split">
                <div class={list}>{ props.list.clone() }</div>
                if let Some(detail) = &props.detail {
                    <div class="split__detail">{ detail.clone() }</div>
                } else {
                    <p class="split__detail split__detail--empty soft">{ props.hint.clone() }</p>
                }
            </div>
        }
    }
}
