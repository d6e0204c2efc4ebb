//! Writing to IndexedDB: each of these is one strict transaction. What depends on what is there
//! (does the batch follow the last act?) is decided inside the transaction, in the event of its last
//! read, and all writes are issued in that same event.

use std::{cell::RefCell, rc::Rc};

use wasm_bindgen::{JsCast, JsValue, closure::Closure};
use web_sys::{IdbDatabase, IdbRequest};

use super::{
    batch::{Batch, JobHead},
    fault::Fault,
    idb::{Hand, Tx, fault_of},
    plan::{self, Plan},
    tables::*,
};

/// What a commit came to.
pub(super) struct Done {
    /// The job's head afterwards.
    pub(super) head: Option<JobHead>,
    pub(super) replayed: bool,
}

pub(super) async fn commit(db: &IdbDatabase, batch: &Batch) -> Result<Done, Fault> {
    // Everything is made ready before the transaction is opened.
    let acts = batch
        .rows
        .iter()
        .map(|row| (act_key(&batch.job, &row.key), act_to_js(row)));
    let acts: Vec<_> = acts.collect();
    let photos: Vec<_> = batch
        .photos
        .iter()
        .map(|row| (&row.hash, photo_to_js(row)))
        .collect();
    let thumbs: Vec<_> = batch
        .thumbs
        .iter()
        .map(|row| (&row.photo, thumb_to_js(row)))
        .collect();
    let tx = Tx::begin(db, &[ACTS, HEADS, PHOTOS, THUMBS, DRAFTS], true)?;
    let ask = |table: &'static str, key: &JsValue| -> Result<IdbRequest, Fault> {
        tx.store(table)?
            .get_key(key)
            .map_err(|error| fault_of(&error))
    };
    // Which pictures are there already: they are written once and never over.
    let mut pictures = Vec::new();
    for (table, rows) in [(PHOTOS, photos), (THUMBS, thumbs)] {
        for (hash, value) in rows {
            let key = JsValue::from_str(hash);
            pictures.push((table, ask(table, &key)?, key, value));
        }
    }
    let last = batch.rows.last().map(|row| act_key(&batch.job, &row.key));
    let last = last.map(|key| tx.store(ACTS)?.get(&key).map_err(|error| fault_of(&error)));
    let last = last.transpose()?;
    let head = tx.store(HEADS)?.get(&JsValue::from_str(&batch.job));
    let head = head.map_err(|error| fault_of(&error))?;

    let done: Rc<RefCell<Option<Done>>> = Rc::default();
    let (hand, found, told, batch) = (tx.hand(), head.clone(), done.clone(), batch.clone());
    // Requests are answered in the order they were made, so at the head's event all are.
    let write = Closure::once(move || {
        let written = decide(&batch, &found, last.as_ref()).and_then(|(plan, old)| {
            let head = match plan {
                Plan::Refuse(fault) => return Err(fault),
                Plan::Replay => {
                    return Ok(Done {
                        head: old,
                        replayed: true,
                    });
                }
                Plan::Write(head) => head,
            };
            let pictures = pictures
                .iter()
                .filter(|(_, there, ..)| result(there).is_none());
            let pictures = pictures.map(|(table, _, key, value)| (*table, key, value));
            let acts = acts.iter().map(|(key, value)| (ACTS, key, value));
            for (table, key, value) in acts.chain(pictures) {
                add(&hand, table, key, value)?;
            }
            drafts(&hand, &batch)?;
            if let Some(head) = &head {
                let store = hand.store(HEADS)?;
                let put = store.put_with_key(&head_to_js(head), &JsValue::from_str(&head.job));
                put.map_err(|error| fault_of(&error))?;
            }
            Ok(Done {
                head: head.or(old),
                replayed: false,
            })
        });
        match written {
            Ok(done) => drop(told.borrow_mut().replace(done)),
            Err(fault) => hand.refuse(fault),
        }
    });
    head.set_onsuccess(Some(write.as_ref().unchecked_ref()));
    let end = tx.end().await;
    head.set_onsuccess(None);
    end?;
    done.borrow_mut().take().ok_or(Fault::Gone)
}

fn decide(
    batch: &Batch,
    head: &IdbRequest,
    last: Option<&IdbRequest>,
) -> Result<(Plan, Option<JobHead>), Fault> {
    let head = result(head).map(|head| head_from_js(&head)).transpose()?;
    let last = last
        .and_then(result)
        .map(|row| act_from_js(&row))
        .transpose()?;
    Ok((plan::plan(head.as_ref(), last.as_ref(), batch), head))
}

fn add(hand: &Hand, table: &str, key: &JsValue, value: &JsValue) -> Result<(), Fault> {
    hand.store(table)?
        .add_with_key(value, key)
        .map(drop)
        .map_err(|error| fault_of(&error))
}

fn drafts(hand: &Hand, batch: &Batch) -> Result<(), Fault> {
    if batch.drop_draft.is_none() && batch.put_draft.is_none() {
        return Ok(());
    }
    let store = hand.store(DRAFTS)?;
    if let Some(key) = &batch.drop_draft {
        store
            .delete(&JsValue::from_str(key))
            .map_err(|error| fault_of(&error))?;
    }
    if let Some(draft) = &batch.put_draft {
        let put = store.put_with_key(&draft_to_js(draft), &JsValue::from_str(&draft.key));
        put.map_err(|error| fault_of(&error))?;
    }
    Ok(())
}

/// Removes a job whole: acts, head, its drafts, and the photos named.
pub(super) async fn delete(db: &IdbDatabase, job: &str, photos: &[String]) -> Result<(), Fault> {
    let (acts, its_drafts) = (acts_of(job)?, starting_with(&format!("{job}/"))?);
    let tx = Tx::begin(db, &[ACTS, HEADS, PHOTOS, THUMBS, DRAFTS], true)?;
    let remove = |table: &str, key: &JsValue| {
        tx.store(table)?
            .delete(key)
            .map(drop)
            .map_err(|error| fault_of(&error))
    };
    remove(ACTS, &acts)?;
    remove(HEADS, &JsValue::from_str(job))?;
    remove(DRAFTS, &its_drafts)?;
    for hash in photos {
        remove(PHOTOS, &JsValue::from_str(hash))?;
        remove(THUMBS, &JsValue::from_str(hash))?;
    }
    tx.end().await
}

/// The setting, put there first when it is not.
pub(super) async fn setting_or(db: &IdbDatabase, key: &str, value: &str) -> Result<String, Fault> {
    let tx = Tx::begin(db, &[SETTINGS], true)?;
    let (key, value) = (JsValue::from_str(key), JsValue::from_str(value));
    let got = tx
        .store(SETTINGS)?
        .get(&key)
        .map_err(|error| fault_of(&error))?;
    let (hand, found, new) = (tx.hand(), got.clone(), value.clone());
    let put = Closure::once(move || {
        if result(&found).is_some() {
            return;
        }
        let put = hand.store(SETTINGS).and_then(|store| {
            store
                .put_with_key(&new, &key)
                .map(drop)
                .map_err(|error| fault_of(&error))
        });
        if let Err(fault) = put {
            hand.refuse(fault);
        }
    });
    got.set_onsuccess(Some(put.as_ref().unchecked_ref()));
    let end = tx.end().await;
    got.set_onsuccess(None);
    end?;
    let found = result(&got).unwrap_or(value);
    Ok(found.as_string().unwrap_or_default())
}
