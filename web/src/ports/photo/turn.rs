//! One at a time: whoever wants to decode a picture waits for the one before.

use std::cell::RefCell;

use futures_channel::oneshot::{Receiver, Sender, channel};

thread_local! {
    static LAST: RefCell<Option<Receiver<()>>> = const { RefCell::new(None) };
}

/// The turn, until dropped.
pub(super) struct Turn(#[allow(dead_code, reason = "dropping it ends the turn")] Sender<()>);

pub(super) async fn turn() -> Turn {
    let (mine, end_of_mine) = channel();
    let before = LAST.with(|last| last.borrow_mut().replace(end_of_mine));
    if let Some(before) = before {
        // It ends by the other's being dropped, which reads as an error here.
        let _ = before.await;
    }
    Turn(mine)
}
