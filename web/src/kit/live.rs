//! The one polite live region: tells a reader of the screen what was saved or refused.

use yew::prelude::*;

/// Properties of [`LiveRegion`].
#[derive(Properties, PartialEq)]
pub struct LiveRegion {
    pub message: AttrValue,
    /// Rises with every message, so that the same words twice are read twice.
    #[prop_or_default]
    pub serial: u32,
}

/// The live region. One stands in the page, always.
impl LiveRegion {
    /// Draws it.
    pub fn draw(&self) -> Html {
        let props = self;
        html! {
            <div class="unseen" role="status" aria-live="polite">
                <span key={props.serial}>{ props.message.clone() }</span>
            </div>
        }
    }
}
