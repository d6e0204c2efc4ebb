//! The words of what is logged, put right: each as it stands, and a field for
//! the one that was tapped.
use countback_core::journal::Target;
use countback_core::view;
use yew::prelude::*;

use super::cautions;
use crate::app::{Along, the_desk};
use crate::kit::{
    Button, ButtonFace, ButtonKind, Icon, ListLength, ListRow, Readiness, Rows, Sheet, TextField,
    use_local,
};
use crate::part;
use crate::router;

/// Rows before the list gets a height of its own. A design choice, no source.
const LONG: usize = 40;

#[derive(Properties, PartialEq)]
pub struct PutRight {
    pub job: AttrValue,
    /// A part or a fixing; the job for what is of no part.
    pub about: Target,
    pub onclose: Callback<()>,
}

/// For what is of no part: the button, and its sheet.
#[derive(Properties, PartialEq)]
pub struct JobWords {
    pub job: AttrValue,
}

#[hook]
fn use_job_words(props: &JobWords) -> Html {
    let open = use_local(|| false);
    let set = |to: bool| {
        let open = open.clone();
        Callback::from(move |()| open.set(to))
    };
    html! {
        <>
            { part!(Button { label: "Names of bags, fluids and the like", icon: Icon::Edit, face: ButtonFace::Wide, onpress: set(true) }) }
            if *open { { part!(PutRight { job: props.job.clone(), about: Target::Job, onclose: set(false) }) } }
        </>
    }
}

crate::live!(JobWords, use_job_words);

#[hook]
fn use_put_right(props: &PutRight) -> Html {
    let desk = the_desk();
    // Which row is being put right, and what is typed for it.
    let now = use_local(|| None::<(usize, String)>);
    let rows = desk.read(&props.job, |book| view::words_of(book.job(), props.about));
    let rows = rows.unwrap_or_default();
    let picked = (*now)
        .clone()
        .and_then(|(at, typed)| Some((rows.get(at)?.clone(), at, typed)));
    let Some((row, at, typed)) = picked else {
        return html! {
            { part!(Sheet { title: "Put words right", onclose: props.onclose.clone(), children: html! { <>
                if rows.is_empty() { <p class="soft">{ "Nothing is logged here yet." }</p> }
                { part!(Rows { label: "Words", length: if rows.len() > LONG { ListLength::Long } else { ListLength::Short }, children: html! { <>
                    { for rows.iter().enumerate().map(|(n, row)| {
                        let (now, was) = (now.clone(), row.now.clone());
                        let press = Callback::from(move |()| now.set(Some((n, was.clone()))));
                        let said = if row.now.is_empty() { "nothing yet".to_owned() } else { row.now.clone() };
                        part!(ListRow { what: row.label.clone(), lead: Icon::Edit, lies: said, onpress: Some(press) })
                    }) }
                </> } }) }
            </> } }) }
        };
    };
    let command = desk.read(&props.job, |book| view::put_right(book.job(), &row, &typed));
    let command = command.unwrap_or_else(|| Err(String::new()));
    // A name can say of a thing that it is dangerous, where the old one did not.
    let to_read = match &command {
        Ok(command) => cautions::unread(&desk, &props.job, std::slice::from_ref(command)),
        Err(_) => Vec::new(),
    };
    let readiness = match &command {
        _ if typed.trim() == row.now => Readiness::Blocked("Nothing is changed".into()),
        Err(wrong) => Readiness::Blocked(wrong.clone().into()),
        Ok(_) => cautions::hold(&to_read),
    };
    let keep = {
        let (desk, job) = (desk.clone(), props.job.clone());
        Callback::from(move |()| {
            if let Ok(command) = command.clone() {
                router::close_sheet();
                desk.tell_then(&job, command, Along::default(), Callback::noop());
            }
        })
    };
    let oninput = {
        let now = now.clone();
        Callback::from(move |text: AttrValue| now.set(Some((at, text.to_string()))))
    };
    let back = Callback::from(move |()| now.set(None));
    let foot = html! {
        <>
            { part!(Button { label: "Keep it", kind: ButtonKind::Main, icon: Icon::Check, readiness: readiness, onpress: keep }) }
            { part!(Button { label: "Other words", face: ButtonFace::Wide, icon: Icon::Back, onpress: back }) }
        </>
    };
    html! {
        { part!(Sheet { title: "Put words right", onclose: props.onclose.clone(), foot: foot, children: html! { <>
            { part!(TextField { label: row.label.clone(), value: typed, hint: row.hint, oninput: oninput }) }
            { cautions::cards(&desk, &props.job, &to_read) }
            <p class="soft">{ "What was logged before stays in the log; from here on it is called this." }</p>
        </> } }) }
    }
}

crate::live!(PutRight, use_put_right);
