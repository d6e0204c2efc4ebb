//! The store's contract, case by case: every case runs against the memory store and the browser's.
//! A case gets a fresh, empty store.

use std::rc::Rc;

use countback_web::ports::{
    bytes::Bytes,
    store::{ActRow, Batch, Damaged, DraftRow, Fault, PhotoRow, Store, chain, verify_job},
};

use crate::rows::{act, acts, draft, photo, thumb};

pub type Fresh = Rc<dyn Store>;

pub async fn an_empty_store_holds_nothing(store: Fresh) {
    assert_eq!(store.jobs().await, Ok(vec![]));
    let rows = store.rows("job-a").await.expect("rows");
    assert!(rows.rows.is_empty() && rows.missing == 0);
    assert_eq!(store.photo("none").await, Ok(None));
    assert_eq!(store.thumb("none").await, Ok(None));
    assert_eq!(store.drafts("").await, Ok(vec![]));
    assert_eq!(store.setting("theme").await, Ok(None));
}

pub async fn a_committed_batch_comes_back_whole(store: Fresh) {
    let picture = photo("a picture");
    let batch = Batch {
        photos: vec![picture.clone()],
        thumbs: vec![thumb(&picture, "small")],
        put_draft: Some(draft("job-a/next", "half")),
        ..acts(1, 3)
    };
    let ack = store.commit(batch.clone()).await.expect("commit");
    assert_eq!((ack.last_seq, ack.replayed), (3, false));
    assert_eq!(ack.head, chain::of_rows(&batch.rows));
    assert_eq!(ack.unreadable, Vec::<String>::new());
    assert_eq!(store.rows("job-a").await.expect("rows").rows, batch.rows);
    assert_eq!(store.photo(&picture.hash).await, Ok(Some(picture.clone())));
    assert_eq!(
        store.thumb(&picture.hash).await,
        Ok(Some(batch.thumbs[0].clone()))
    );
    assert_eq!(
        store.drafts("job-a/").await,
        Ok(vec![draft("job-a/next", "half")])
    );
    assert_eq!(verify_job(&*store, "job-a").await, Ok(()));
}

pub async fn the_job_list_tells_first_and_last_line(store: Fresh) {
    store.commit(acts(1, 2)).await.expect("commit");
    store.commit(acts(3, 3)).await.expect("commit");
    let other = Batch {
        job: "job-b".into(),
        ..acts(1, 1)
    };
    store.commit(other).await.expect("commit");
    let jobs = store.jobs().await.expect("jobs");
    let told: Vec<_> = jobs
        .iter()
        .map(|job| (job.job.as_str(), job.count))
        .collect();
    assert_eq!(told, [("job-a", 3), ("job-b", 1)]);
    assert_eq!(jobs[0].first_line, act(1).line);
    assert_eq!(jobs[0].last_line, act(3).line);
}

pub async fn rows_come_in_key_order_not_in_order_of_writing(store: Fresh) {
    store.commit(acts(1, 2)).await.expect("commit");
    // A merged event of another device: it sorts first and was written last.
    let merged = ActRow {
        key: "00000001".into(),
        seq: 3,
        line: "{}".into(),
    };
    let batch = Batch {
        job: "job-a".into(),
        rows: vec![merged.clone()],
        ..Batch::default()
    };
    store.commit(batch).await.expect("commit");
    let rows = store.rows("job-a").await.expect("rows").rows;
    assert_eq!(rows, [merged, act(1), act(2)]);
    assert_eq!(verify_job(&*store, "job-a").await, Ok(()));
}

pub async fn a_repeated_batch_is_not_doubled(store: Fresh) {
    let first = store.commit(acts(1, 2)).await.expect("commit");
    let again = store.commit(acts(1, 2)).await.expect("again");
    assert!(again.replayed);
    assert_eq!((again.last_seq, &again.head), (2, &first.head));
    assert_eq!(store.rows("job-a").await.expect("rows").rows.len(), 2);
}

pub async fn a_second_writer_is_refused_and_nothing_is_written(store: Fresh) {
    store.commit(acts(1, 2)).await.expect("commit");
    let late = ActRow {
        key: "zz".into(),
        seq: 2,
        line: "{}".into(),
    };
    let picture = photo("of the late one");
    let batch = Batch {
        job: "job-a".into(),
        rows: vec![late],
        photos: vec![picture.clone()],
        ..Batch::default()
    };
    let refused = store.commit(batch).await;
    assert_eq!(
        refused,
        Err(Fault::OutOfOrder {
            expected: 3,
            found: 2
        })
    );
    assert_eq!(store.rows("job-a").await.expect("rows").rows.len(), 2);
    assert_eq!(store.photo(&picture.hash).await, Ok(None));
}

pub async fn a_gap_inside_a_batch_is_refused(store: Fresh) {
    let mut batch = acts(1, 3);
    batch.rows.remove(1);
    assert_eq!(
        store.commit(batch).await,
        Err(Fault::BadBatch { at_row: 1 })
    );
    assert_eq!(store.jobs().await, Ok(vec![]));
}

pub async fn an_act_is_never_written_over(store: Fresh) {
    store.commit(acts(1, 2)).await.expect("commit");
    let same_key = ActRow {
        key: act(1).key,
        seq: 3,
        line: "{other}".into(),
    };
    let rows = vec![same_key.clone()];
    let batch = Batch {
        job: "job-a".into(),
        rows,
        ..Batch::default()
    };
    assert_eq!(store.commit(batch).await, Err(Fault::KeyTaken));
    // The same in the middle of a batch: the whole batch stays out.
    let rows = vec![same_key, act(4)];
    let batch = Batch {
        job: "job-a".into(),
        rows,
        ..Batch::default()
    };
    assert_eq!(store.commit(batch).await, Err(Fault::KeyTaken));
    assert_eq!(
        store.rows("job-a").await.expect("rows").rows,
        [act(1), act(2)]
    );
    assert_eq!(verify_job(&*store, "job-a").await, Ok(()));
}

pub async fn a_photo_with_a_wrong_hash_stays_out_with_its_act(store: Fresh) {
    let mut picture = photo("a picture");
    picture.bytes = Bytes::from(b"another".to_vec());
    let batch = Batch {
        photos: vec![picture.clone()],
        ..acts(1, 1)
    };
    let what = Damaged::Photo { hash: picture.hash };
    assert_eq!(store.commit(batch).await, Err(Fault::Corrupt { what }));
    assert_eq!(store.jobs().await, Ok(vec![]));
}

pub async fn a_photo_is_written_once_and_may_come_again(store: Fresh) {
    let picture = photo("same");
    store
        .commit(Batch {
            photos: vec![picture.clone()],
            ..acts(1, 1)
        })
        .await
        .expect("commit");
    let again = PhotoRow {
        mime: "image/png".into(),
        ..picture.clone()
    };
    store
        .commit(Batch {
            photos: vec![again],
            ..acts(2, 2)
        })
        .await
        .expect("commit");
    assert_eq!(store.photo(&picture.hash).await, Ok(Some(picture)));
}

pub async fn a_draft_is_kept_without_an_act_and_dropped_with_one(store: Fresh) {
    let keep = Batch {
        put_draft: Some(draft("job-a/part", "cam cov")),
        ..acts(1, 0)
    };
    let ack = store.commit(keep).await.expect("draft");
    assert_eq!((ack.last_seq, ack.head.as_str()), (0, ""));
    assert_eq!(store.jobs().await, Ok(vec![]));
    let done = Batch {
        drop_draft: Some("job-a/part".into()),
        ..acts(1, 1)
    };
    store.commit(done).await.expect("commit");
    assert_eq!(store.drafts("job-a/").await, Ok(vec![]));
}

pub async fn drafts_are_found_by_prefix(store: Fresh) {
    for key in ["job-a/part", "job-a/note", "job-ab/part", "pending"] {
        let batch = Batch {
            put_draft: Some(draft(key, key)),
            ..Batch::default()
        };
        store.commit(batch).await.expect("draft");
    }
    let keys = |rows: Vec<DraftRow>| rows.into_iter().map(|row| row.key).collect::<Vec<_>>();
    let of_job = store.drafts("job-a/").await.expect("drafts");
    assert_eq!(keys(of_job), ["job-a/note", "job-a/part"]);
    assert_eq!(store.drafts("").await.expect("drafts").len(), 4);
}

pub async fn settings_are_kept_and_the_first_one_wins_where_asked(store: Fresh) {
    store.put_setting("theme", "dark").await.expect("put");
    store.put_setting("theme", "light").await.expect("put");
    assert_eq!(store.setting("theme").await, Ok(Some("light".into())));
    assert_eq!(store.setting_or("device", "1").await, Ok("1".into()));
    assert_eq!(store.setting_or("device", "2").await, Ok("1".into()));
}

pub async fn a_job_written_anew_takes_the_place_of_all_that_was_there(store: Fresh) {
    store.commit(acts(1, 4)).await.expect("commit");
    let other = Batch {
        job: "job-b".into(),
        ..acts(1, 2)
    };
    store.commit(other.clone()).await.expect("commit");
    let anew = Batch {
        instead: true,
        ..acts(1, 3)
    };
    let ack = store.commit(anew.clone()).await.expect("commit");
    assert_eq!((ack.last_seq, ack.replayed), (3, false));
    assert_eq!(store.rows("job-a").await.expect("rows").rows, anew.rows);
    assert_eq!(verify_job(&*store, "job-a").await, Ok(()));
    // It goes on from there, and no other job is touched.
    store.commit(acts(4, 5)).await.expect("commit");
    assert_eq!(verify_job(&*store, "job-a").await, Ok(()));
    assert_eq!(store.rows("job-b").await.expect("rows").rows, other.rows);
    // One that does not follow within itself leaves what is there.
    let mut gap = acts(1, 3);
    gap.rows.remove(1);
    gap.instead = true;
    assert!(store.commit(gap).await.is_err());
    assert_eq!(store.rows("job-a").await.expect("rows").rows.len(), 5);
}

pub async fn deleting_a_job_leaves_the_others(store: Fresh) {
    let (mine, shared) = (photo("mine"), photo("shared"));
    let photos = vec![mine.clone(), shared.clone()];
    let put_draft = Some(draft("job-a/part", "half"));
    store
        .commit(Batch {
            photos,
            put_draft,
            ..acts(1, 2)
        })
        .await
        .expect("commit");
    let other = Batch {
        job: "job-b".into(),
        ..acts(1, 2)
    };
    store.commit(other.clone()).await.expect("commit");
    store
        .delete_job("job-a", std::slice::from_ref(&mine.hash))
        .await
        .expect("delete");
    let left: Vec<_> = store
        .jobs()
        .await
        .expect("jobs")
        .into_iter()
        .map(|j| j.job)
        .collect();
    assert_eq!(left, ["job-b"]);
    assert!(store.rows("job-a").await.expect("rows").rows.is_empty());
    assert_eq!(store.rows("job-b").await.expect("rows").rows, other.rows);
    assert_eq!(store.photo(&mine.hash).await, Ok(None));
    assert_eq!(store.photo(&shared.hash).await, Ok(Some(shared)));
    assert_eq!(store.drafts("").await, Ok(vec![]));
    // The same job may be opened again from a file.
    assert_eq!(
        store.commit(acts(1, 1)).await.map(|ack| ack.last_seq),
        Ok(1)
    );
}
