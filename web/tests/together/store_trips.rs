//! The memory store fails at every operation in turn: whatever the failure, the state afterwards is
//! the one before or the one after the act, and the same batch may be tried again.

use std::{cell::RefCell, rc::Rc};

use crate::rows::{act, acts};
use countback_web::ports::{
    marker::MemoryShelf,
    store::{Disk, Fault, LostJob, MemoryStore, Opening, Store, Trip, TripHow, verify_job},
};

fn now<T>(work: impl Future<Output = T>) -> Option<T> {
    let mut ctx = std::task::Context::from_waker(std::task::Waker::noop());
    match std::pin::pin!(work).poll(&mut ctx) {
        std::task::Poll::Ready(done) => Some(done),
        std::task::Poll::Pending => None,
    }
}

#[test]
fn a_failure_at_any_operation_leaves_before_or_after_and_a_retry_mends_it() {
    let ways = [
        TripHow::Before(Fault::StorageFull),
        TripHow::After(Fault::NoAnswer),
        TripHow::Hang,
    ];
    for (how, at) in ways.iter().flat_map(|how| (1..=8).map(move |at| (how, at))) {
        let (disk, shelf) = (
            Rc::new(RefCell::new(Disk::default())),
            MemoryShelf::default(),
        );
        let (store, _) = MemoryStore::open(disk.clone(), Rc::new(shelf.clone()));
        store.trip(Trip {
            at,
            how: how.clone(),
        });
        let mut acknowledged = 0;
        for n in 1..=8 {
            let tried = now(store.commit(acts(n, n)));
            let stored = disk.borrow().acts.len() as u32;
            match tried {
                Some(Ok(_)) => assert_eq!(stored, n),
                _ => assert!(stored == n - 1 || stored == n, "{how:?} at {at}: {stored}"),
            }
            if !matches!(tried, Some(Ok(_))) {
                let again = now(store.commit(acts(n, n)))
                    .expect("answers")
                    .expect("retry");
                assert_eq!(
                    again.replayed,
                    matches!(how, TripHow::After(_)),
                    "{how:?} at {at}"
                );
            }
            acknowledged = n;
        }
        let (again, opening) = MemoryStore::open(disk, Rc::new(shelf));
        assert_eq!(opening, Opening::Known { jobs: 1 });
        let rows = now(again.rows("job-a"))
            .expect("answers")
            .expect("rows")
            .rows;
        assert_eq!(rows, (1..=acknowledged).map(act).collect::<Vec<_>>());
        assert_eq!(now(verify_job(&again, "job-a")), Some(Ok(())));
    }
}

#[test]
fn a_write_whose_answer_was_never_heard_is_found_at_the_next_start() {
    let (disk, shelf) = (
        Rc::new(RefCell::new(Disk::default())),
        MemoryShelf::default(),
    );
    let (store, _) = MemoryStore::open(disk.clone(), Rc::new(shelf.clone()));
    now(store.commit(acts(1, 2)))
        .expect("answers")
        .expect("commit");
    store.trip(Trip {
        at: 2,
        how: TripHow::After(Fault::NoAnswer),
    });
    assert_eq!(now(store.commit(acts(3, 3))), Some(Err(Fault::NoAnswer)));
    // The mark says 2, the disk 3: not a loss, and the mark follows.
    let (_, opening) = MemoryStore::open(disk.clone(), Rc::new(shelf.clone()));
    assert_eq!(opening, Opening::Known { jobs: 1 });
    disk.borrow_mut().heads.clear();
    let (_, opening) = MemoryStore::open(disk, Rc::new(shelf));
    let lost = LostJob {
        job: "job-a".into(),
        had: 3,
        have: 0,
        missing: 3,
    };
    assert_eq!(opening, Opening::Lost { jobs: vec![lost] });
}

#[test]
fn as_many_acts_but_others_is_a_loss_too() {
    let (disk, shelf) = (
        Rc::new(RefCell::new(Disk::default())),
        MemoryShelf::default(),
    );
    let (store, _) = MemoryStore::open(disk.clone(), Rc::new(shelf.clone()));
    now(store.commit(acts(1, 2)))
        .expect("answers")
        .expect("commit");
    if let Some(head) = disk.borrow_mut().heads.get_mut("job-a") {
        head.head = "another history".into();
    }
    let (_, opening) = MemoryStore::open(disk, Rc::new(shelf));
    let lost = LostJob {
        job: "job-a".into(),
        had: 2,
        have: 2,
        missing: 0,
    };
    assert_eq!(opening, Opening::Lost { jobs: vec![lost] });
}

#[test]
fn deleting_a_job_is_no_loss_even_when_the_answer_was_never_heard() {
    let (disk, shelf) = (
        Rc::new(RefCell::new(Disk::default())),
        MemoryShelf::default(),
    );
    let (store, _) = MemoryStore::open(disk.clone(), Rc::new(shelf.clone()));
    now(store.commit(acts(1, 2)))
        .expect("answers")
        .expect("commit");
    store.trip(Trip {
        at: 2,
        how: TripHow::After(Fault::NoAnswer),
    });
    assert_eq!(
        now(store.delete_job("job-a", &[])),
        Some(Err(Fault::NoAnswer))
    );
    let (_, opening) = MemoryStore::open(disk, Rc::new(shelf));
    assert_eq!(opening, Opening::FirstRun);
}
