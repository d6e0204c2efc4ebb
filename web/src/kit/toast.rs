//! "Saved. Undo": says what was written down and offers to strike it. It goes by itself; the log keeps the same offer.

use super::{Glyph, Icon};
use gloo::timers::callback::Timeout;
use yew::prelude::*;

/// How long a toast stays, in milliseconds: long enough to look up from the work. A design choice, no source.
const STAYS_MS: u32 = 10_000;

/// Properties of [`Toast`].
#[derive(Properties, PartialEq)]
pub struct Toast {
    /// What was saved: "Saved: 4 bolts in bag 207".
    pub message: AttrValue,
    /// Rises with every toast, so that a new one starts its time afresh.
    pub serial: u32,
    /// Strikes the act, if it can be struck.
    #[prop_or_default]
    pub onundo: Option<Callback<()>>,
    /// Its time is over.
    pub onend: Callback<()>,
}

/// A toast. It is not itself announced: the live region says it.
#[hook]
fn use_toast(props: &Toast) -> Html {
    {
        let onend = props.onend.clone();
        use_effect_with(props.serial, move |_| {
            let timer = Timeout::new(STAYS_MS, move || onend.emit(()));
            move || drop(timer)
        });
    }
    html! {
        <div class="toast">
            <div class="toast__box" key={props.serial}>
                { part!(Glyph { icon: Icon::Check }) }
                <span class="toast__words">{ props.message.clone() }</span>
                if let Some(onundo) = &props.onundo {
                    <button type="button" class="toast__undo" onclick={onundo.reform(|_: MouseEvent| ())}>
                        { part!(Glyph { icon: Icon::Undo }) }<span>{ "Undo" }</span>
                    </button>
                }
            </div>
        </div>
    }
}

crate::live!(Toast, use_toast);
