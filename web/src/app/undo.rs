//! Striking the last entry: at once where it is this person's own and of just
//! now, else after it was named and asked about.
use countback_core::job::Command;
use countback_core::journal::EventId;
use countback_core::view::{self, Undoing};
use yew::prelude::*;

use super::{Desk, the_desk};
use crate::kit::{Button, ButtonFace, ButtonKind, Icon, Sheet};
use crate::part;
use crate::router;

impl Desk {
    /// The last entry of a job, as undo would strike it; none while one is
    /// being saved, as that is then the last.
    pub fn undoing(&self, job: &str) -> Option<Undoing> {
        let by = self.prefs().by;
        self.read(job, |book| view::undoing(book, &by, self.at()))?
    }

    /// Strikes the last entry, or asks first.
    fn strike_last(&self, job: &str) {
        // A tap between another and its end would strike what was before it.
        let Some(it) = self.undoing(job).filter(|_| !self.inner.busy.get()) else {
            return;
        };
        if it.asks.is_some() {
            let asked = (job.to_owned(), it.event);
            self.inner.undoing.replace(Some(asked));
            self.changed();
        } else {
            self.tell(job, Command::Strike { event: it.event });
        }
    }
}

/// The button that strikes the last entry; its name says which one. Nothing
/// where there is none to strike.
pub fn undo_button(job: &AttrValue, label: &'static str, kind: ButtonKind) -> Option<Html> {
    let about = match the_desk().standing().whole {
        true => Some(named(job)?),
        // The words of an entry come in the WASM's second file.
        false => None,
    };
    Some(button(job, label, kind, ButtonFace::IconOnly, about))
}

#[inline(never)]
fn named(job: &str) -> Option<String> {
    the_desk().undoing(job).map(|it| it.text)
}

/// The same in words, where the last entry marks a place on a photo.
pub fn undo_mark(job: &AttrValue) -> Option<Html> {
    let it = the_desk().undoing(job).filter(|it| it.is_mark)?;
    let (kind, face) = (ButtonKind::Plain, ButtonFace::Wide);
    Some(button(job, "Undo the last mark", kind, face, Some(it.text)))
}

fn button(
    job: &AttrValue,
    label: &'static str,
    kind: ButtonKind,
    face: ButtonFace,
    about: Option<String>,
) -> Html {
    let job = job.clone();
    part!(Button {
        label: label,
        about: about.map(|it| AttrValue::from(format!(": {it}"))),
        icon: Icon::Undo,
        face: face,
        kind: kind,
        onpress: Callback::from(move |()| the_desk().strike_last(&job))
    })
}

/// The question before an entry is struck that is another person's or old.
pub(super) fn asked() -> Html {
    let desk = the_desk();
    let asked = desk.inner.undoing.borrow().clone();
    match asked {
        Some((job, event)) => ask(&desk, job, event),
        None => html! {},
    }
}

#[inline(never)]
fn ask(desk: &Desk, job: String, event: EventId) -> Html {
    let close = {
        let desk = desk.clone();
        Callback::from(move |()| {
            desk.inner.undoing.replace(None);
            desk.changed();
        })
    };
    // It is about the entry that was named, not about one that came since.
    let Some(it) = desk.undoing(&job).filter(|it| it.event == event) else {
        desk.inner.undoing.replace(None);
        return html! {};
    };
    let made = desk.read(&job, |book| it.made(book, desk.at()));
    let desk = desk.clone();
    let strike = Callback::from(move |()| {
        router::close_sheet();
        desk.tell(&job, Command::Strike { event });
    });
    html! {
        { part!(Sheet { title: "Strike the last entry?", onclose: close, foot: html! { <>
            { part!(Button { label: "Strike it", kind: ButtonKind::Danger, face: ButtonFace::Wide, icon: Icon::Undo, onpress: strike }) }
            { part!(Button { label: "Leave it", kind: ButtonKind::Plain, face: ButtonFace::Wide, onpress: Callback::from(|()| router::close_sheet()) }) }
        </> }, children: html! { <>
            <p><strong>{ it.text }</strong></p>
            <p class="soft">{ made }</p>
            if let Some(why) = it.asks { <p>{ format!("{why} It stays in the log, struck.") }</p> }
        </> } }) }
    }
}
