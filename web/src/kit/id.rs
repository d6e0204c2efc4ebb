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

/// An id made from words that stand once on a page, for parts without state.
pub fn id_of(words: &str) -> AttrValue {
    // FNV-1a: only has to tell the labels of one page apart.
    let hash = words.bytes().fold(0x811c_9dc5_u32, |hash, byte| {
        (hash ^ u32::from(byte)).wrapping_mul(0x0100_0193)
    });
    AttrValue::from(format!("w{hash:08x}"))
}
