//! After a bug nothing is written. In a file of its own, because the stop holds for the whole page.
#![allow(
    clippy::expect_used,
    clippy::unwrap_used,
    clippy::panic,
    reason = "a failing test should panic"
)]

mod rows;

use countback_web::ports::{
    panic,
    store::{Fault, MemoryStore, Store},
};
use rows::acts;

async fn every_write_is_refused_and_reading_goes_on(store: &dyn Store) {
    let stopped = Some(Fault::StoppedAfterBug);
    assert_eq!(store.commit(acts(2, 2)).await.err(), stopped);
    assert_eq!(store.put_setting("a", "b").await.err(), stopped);
    assert_eq!(store.setting_or("a", "b").await.err(), stopped);
    assert_eq!(store.delete_job("job-a", &[]).await.err(), stopped);
    assert_eq!(store.rows("job-a").await.expect("rows").rows.len(), 1);
}

async fn memory() {
    let store = MemoryStore::new();
    store.commit(acts(1, 1)).await.expect("commit");
    panic::stop_writing();
    every_write_is_refused_and_reading_goes_on(&store).await;
}

#[cfg(not(target_arch = "wasm32"))]
#[test]
fn the_memory_store_stops() {
    let mut ctx = std::task::Context::from_waker(std::task::Waker::noop());
    assert!(std::pin::pin!(memory()).poll(&mut ctx).is_ready());
}

#[cfg(target_arch = "wasm32")]
mod browser {
    use std::rc::Rc;

    use countback_web::ports::{
        marker::MemoryShelf,
        store::{BrowserStore, First, Store},
    };
    use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

    use super::{acts, every_write_is_refused_and_reading_goes_on, memory, panic};

    wasm_bindgen_test_configure!(run_in_browser);

    #[wasm_bindgen_test]
    async fn both_stores_stop() {
        let shelf = Rc::new(MemoryShelf::default());
        let opened = BrowserStore::open("stop", shelf, First::default(), |_| {})
            .await
            .expect("opens");
        opened.store.commit(acts(1, 1)).await.expect("commit");
        memory().await;
        assert!(panic::stopped());
        every_write_is_refused_and_reading_goes_on(&opened.store).await;
    }
}
