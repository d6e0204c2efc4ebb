//! Ids that tie a label to its control. They only need to be unique in the page.

use std::cell::Cell;
use yew::prelude::*;

thread_local! {
    static NEXT: Cell<u32> = const { Cell::new(1) };
}

/// An id that stays the same as long as the component lives.
#[hook]
pub fn use_id() -> AttrValue {
    let id = use_memo((), |()| {
        let number = NEXT.with(|next| next.replace(next.get().wrapping_add(1)));
        AttrValue::from(format!("k{number}"))
    });
    (*id).clone()
}
