//! The one polite live region: tells a reader of the screen what was saved or refused.

use yew::prelude::*;

/// Properties of [`LiveRegion`].
#[derive(Properties, PartialEq)]
pub struct LiveRegionProps {
    pub message: AttrValue,
    /// Rises with every message, so that the same words twice are read twice.
    #[prop_or_default]
    pub serial: u32,
}

/// The live region. One stands in the page, always.
#[component]
pub fn LiveRegion(props: &LiveRegionProps) -> Html {
    html! {
        <div class="unseen" role="status" aria-live="polite">
            <span key={props.serial}>{ props.message.clone() }</span>
        </div>
    }
}
