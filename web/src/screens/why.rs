//! A reason that is asked for before an act: a tap on one that is offered says
//! it, or it is typed.
use yew::prelude::*;

use crate::kit::{Button, ButtonFace, ButtonKind, Icon, Readiness, Sheet, TextField, use_local};
use crate::part;
use crate::router;

#[derive(Properties, PartialEq)]
pub struct Why {
    pub title: AttrValue,
    /// What it is said of.
    pub about: AttrValue,
    /// Reasons that need no typing.
    pub reasons: &'static [&'static str],
    pub onwhy: Callback<String>,
    pub onclose: Callback<()>,
}

#[hook]
fn use_why(props: &Why) -> Html {
    let typed = use_local(String::new);
    let say = |why: String| {
        let onwhy = props.onwhy.clone();
        Callback::from(move |()| {
            router::close_sheet();
            onwhy.emit(why.clone());
        })
    };
    let readiness = match typed.trim().is_empty() {
        true => Readiness::Blocked("Say why, above".into()),
        false => Readiness::Ready,
    };
    let oninput = {
        let typed = typed.clone();
        Callback::from(move |text: AttrValue| typed.set(text.to_string()))
    };
    html! {
        { part!(Sheet { title: props.title.clone(), onclose: props.onclose.clone(), foot: html! {
            { part!(Button { label: "Log it so", kind: ButtonKind::Main, icon: Icon::Check, readiness: readiness, onpress: say(typed.trim().to_owned()) }) }
        }, children: html! { <>
            <p class="strong">{ props.about.clone() }</p>
            { for props.reasons.iter().map(|&why| part!(Button { label: why, face: ButtonFace::Wide, onpress: say(why.to_owned()) })) }
            { part!(TextField { label: "Why, in words", value: (*typed).clone(), oninput: oninput }) }
        </> } }) }
    }
}

crate::live!(Why, use_why);
