//! Writing to IndexedDB: each of these is one strict transaction. What depends on what is there
//! (does the batch follow the last act?) is decided inside the transaction, in the event of its last
//! read, and all writes are issued in that same event.

use std::{cell::RefCell, rc::Rc};

use wasm_bindgen::{JsCast, JsValue, closure::Closure};
use web_sys::{IdbDatabase, IdbObjectStore, IdbRequest};

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

/// Writes the batch. `known` is the job's head as this page last saw it: with it the writes need not
/// wait for a read. It is compared with what is there inside the same transaction, and when it is
/// out of date everything is taken back and done after reading.
pub(super) async fn commit(
    db: &IdbDatabase,
    batch: &Batch,
    known: Option<&JobHead>,
) -> Result<Done, Fault> {
    // Everything is made ready before a transaction is opened.
    let ready = Ready::of(batch);
    if let Some(known) = known.filter(|_| !batch.instead)
        && let Plan::Write(new) = plan::plan(Some(known), None, batch)
    {
        match at_once(db, batch, &ready, known, new).await {
            Err(Fault::OutOfOrder { .. } | Fault::KeyTaken) => {}
            done => return done,
        }
    }
    after_reading(db, batch, ready).await
}

/// A row as it will be written: table, key, value.
type Row = (&'static str, JsValue, JsValue);

struct Ready {
    acts: Vec<Row>,
    pictures: Vec<Row>,
    tables: Vec<&'static str>,
}

impl Ready {
    fn of(batch: &Batch) -> Ready {
        let text = |key: &String| JsValue::from_str(key);
        let acts = batch.rows.iter();
        let acts = acts.map(|row| (ACTS, act_key(&batch.job, &row.key), act_to_js(row)));
        let photos = batch.photos.iter();
        let photos = photos.map(|row| (PHOTOS, text(&row.hash), photo_to_js(row)));
        let thumbs = batch.thumbs.iter();
        let thumbs = thumbs.map(|row| (THUMBS, text(&row.photo), thumb_to_js(row)));
        let pictures: Vec<_> = photos.chain(thumbs).collect();
        let mut tables = vec![ACTS, HEADS];
        if !pictures.is_empty() {
            tables.extend([PHOTOS, THUMBS]);
        }
        if batch.drop_draft.is_some() || batch.put_draft.is_some() {
            tables.push(DRAFTS);
        }
        if batch.put_setting.is_some() {
            tables.push(SETTINGS);
        }
        Ready {
            acts: acts.collect(),
            pictures,
            tables,
        }
    }
}

/// Issues every write together with the read that checks `known`.
async fn at_once(
    db: &IdbDatabase,
    batch: &Batch,
    ready: &Ready,
    known: &JobHead,
    new: Option<JobHead>,
) -> Result<Done, Fault> {
    let tx = Tx::begin(db, &ready.tables, true)?;
    let head = tx.store(HEADS)?.get(&JsValue::from_str(&batch.job));
    let head = head.map_err(|error| fault_of(&error))?;
    let (hand, found, wanted) = (tx.hand(), head.clone(), known.clone());
    let check = Closure::once(move || {
        let there = result(&found).map(|head| head_from_js(&head));
        if there != Some(Ok(wanted)) {
            hand.refuse(Fault::OutOfOrder {
                expected: 0,
                found: 0,
            });
        }
    });
    head.set_onsuccess(Some(check.as_ref().unchecked_ref()));
    let issued = issue(
        &tx.hand(),
        ready.acts.iter().chain(&ready.pictures),
        batch,
        new.as_ref(),
    );
    if let Err(fault) = issued {
        tx.hand().refuse(fault);
    }
    let end = tx.end().await;
    head.set_onsuccess(None);
    end?;
    Ok(Done {
        head: new.or_else(|| Some(known.clone())),
        replayed: false,
    })
}

/// Reads what the decision needs and writes in the event of the last of these reads.
async fn after_reading(db: &IdbDatabase, batch: &Batch, ready: Ready) -> Result<Done, Fault> {
    let tx = Tx::begin(db, &ready.tables, true)?;
    // Which pictures are there already: they are written once and never over.
    let mut there = Vec::new();
    for (table, key, _) in &ready.pictures {
        there.push(
            tx.store(table)?
                .get_key(key)
                .map_err(|error| fault_of(&error))?,
        );
    }
    let last = ready.acts.last().map(|(_, key, _)| key);
    let last = last.map(|key| tx.store(ACTS)?.get(key).map_err(|error| fault_of(&error)));
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
            let pictures = ready.pictures.iter().zip(&there);
            let pictures = pictures.filter(|(_, there)| result(there).is_none());
            let rows = ready.acts.iter().chain(pictures.map(|(row, _)| row));
            issue(&hand, rows, &batch, head.as_ref())?;
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
    if batch.instead {
        // What is there counts for nothing.
        return Ok((plan::plan(None, None, batch), None));
    }
    let head = result(head).map(|head| head_from_js(&head)).transpose()?;
    let last = last
        .and_then(result)
        .map(|row| act_from_js(&row))
        .transpose()?;
    Ok((plan::plan(head.as_ref(), last.as_ref(), batch), head))
}

/// Issues all writes of a batch; nothing is awaited between them.
fn issue<'a>(
    hand: &Hand,
    rows: impl Iterator<Item = &'a Row>,
    batch: &Batch,
    head: Option<&JobHead>,
) -> Result<(), Fault> {
    if batch.instead {
        let acts = acts_of(&batch.job)?;
        let cleared = hand.store(ACTS)?.delete(&acts);
        cleared.map_err(|error| fault_of(&error))?;
    }
    let mut open: Option<(&str, IdbObjectStore)> = None;
    for (table, key, value) in rows {
        let store = match open {
            Some((of, ref store)) if of == *table => store,
            _ => &open.insert((*table, hand.store(table)?)).1,
        };
        store
            .add_with_key(value, key)
            .map_err(|error| fault_of(&error))?;
    }
    if let Some(key) = &batch.drop_draft {
        let deleted = hand.store(DRAFTS)?.delete(&JsValue::from_str(key));
        deleted.map_err(|error| fault_of(&error))?;
    }
    if let Some(draft) = &batch.put_draft {
        put(hand, DRAFTS, &draft.key, &draft_to_js(draft))?;
    }
    if let Some((key, value)) = &batch.put_setting {
        put(hand, SETTINGS, key, &JsValue::from_str(value))?;
    }
    head.map_or(Ok(()), |head| {
        put(hand, HEADS, &head.job, &head_to_js(head))
    })
}

fn put(hand: &Hand, table: &str, key: &str, value: &JsValue) -> Result<(), Fault> {
    let put = hand
        .store(table)?
        .put_with_key(value, &JsValue::from_str(key));
    put.map(drop).map_err(|error| fault_of(&error))
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
