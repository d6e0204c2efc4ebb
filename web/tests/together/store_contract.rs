//! Runs every case of the store's contract against both stores.

macro_rules! cases {
    ($($case:ident,)*) => {
        #[cfg(not(target_arch = "wasm32"))]
        mod memory {
            $(#[test]
            fn $case() {
                super::run_now(crate::contract::$case(super::memory_store()));
            })*
        }
        #[cfg(target_arch = "wasm32")]
        mod memory {
            $(#[wasm_bindgen_test::wasm_bindgen_test]
            async fn $case() {
                crate::contract::$case(super::memory_store()).await;
            })*
        }
        #[cfg(target_arch = "wasm32")]
        mod browser {
            $(#[wasm_bindgen_test::wasm_bindgen_test]
            async fn $case() {
                let name = concat!("contract-", stringify!($case));
                crate::contract::$case(super::browser_store(name).await).await;
            })*
        }
    };
}

cases! {
    an_empty_store_holds_nothing,
    a_committed_batch_comes_back_whole,
    the_job_list_tells_first_and_last_line,
    rows_come_in_key_order_not_in_order_of_writing,
    a_repeated_batch_is_not_doubled,
    a_second_writer_is_refused_and_nothing_is_written,
    a_gap_inside_a_batch_is_refused,
    an_act_is_never_written_over,
    a_job_written_anew_takes_the_place_of_all_that_was_there,
    a_photo_with_a_wrong_hash_stays_out_with_its_act,
    a_photo_is_written_once_and_may_come_again,
    a_draft_is_kept_without_an_act_and_dropped_with_one,
    drafts_are_found_by_prefix,
    settings_are_kept_and_the_first_one_wins_where_asked,
    deleting_a_job_leaves_the_others,
}

fn memory_store() -> crate::contract::Fresh {
    std::rc::Rc::new(countback_web::ports::store::MemoryStore::new())
}

#[cfg(target_arch = "wasm32")]
async fn browser_store(name: &str) -> crate::contract::Fresh {
    use countback_web::ports::{
        marker::MemoryShelf,
        store::{BrowserStore, First},
    };
    let shelf = std::rc::Rc::new(MemoryShelf::default());
    let opened = BrowserStore::open(name, shelf, First::default(), |_| {})
        .await
        .expect("opens");
    assert_eq!(opened.store.write_and_read_back().await, Ok(()));
    std::rc::Rc::new(opened.store)
}

/// The memory store answers at once, so one poll is all it takes.
#[cfg(not(target_arch = "wasm32"))]
fn run_now(work: impl Future<Output = ()>) {
    let mut ctx = std::task::Context::from_waker(std::task::Waker::noop());
    assert!(
        std::pin::pin!(work).poll(&mut ctx).is_ready(),
        "the memory store never waits"
    );
}
