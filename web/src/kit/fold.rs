//! Parts of a page that are folded until asked for: a group of a long list under its head, and what a short word
//! rests on. On paper all of it stands open.

use super::{Glyph, Icon, id::id_of, use_local};
use yew::prelude::*;

/// Properties of [`Fold`].
#[derive(Properties, PartialEq)]
pub struct Fold {
    pub title: AttrValue,
    /// At the end of the head: how many are in it.
    pub count: AttrValue,
    /// How it stands until it is tapped.
    pub open: bool,
    pub children: Html,
}

/// A [`super::Section`] whose head opens and shuts it. It stays as it was put while its screen stands.
#[hook]
fn use_fold(props: &Fold) -> Html {
    let put = use_local(|| None::<bool>);
    let open = put.unwrap_or(props.open);
    let id = id_of(&format!("fold {}", props.title));
    let turn = Callback::from(move |_: MouseEvent| put.set(Some(!open)));
    html! {
        <section class="section">
            <h2 class="fold__head">
                <button type="button" class="fold__turn" aria-expanded={open.to_string()} aria-controls={id.clone()} onclick={turn}>
                    <span class="fold__title">{ props.title.clone() }</span>
                    <span class="section__count"><span class="unseen">{ ", " }</span>{ props.count.clone() }</span>
                    { part!(Glyph { icon: Icon::Down }) }
                </button>
            </h2>
            <div {id} class="fold__body" hidden={!open}>{ props.children.clone() }</div>
        </section>
    }
}

crate::live!(Fold, use_fold);
