//! The database as laid out in IndexedDB, and its rows as JavaScript objects. Nothing else knows.
//!
//! | store    | key          | value                                  |
//! |----------|--------------|----------------------------------------|
//! | acts     | [job, key]   | {key, seq, line}                       |
//! | heads    | job          | {job, count, head, first, last}        |
//! | photos   | hash         | {hash, mime, bytes: ArrayBuffer}       |
//! | thumbs   | photo's hash | {photo, hash, mime, bytes: ArrayBuffer}|
//! | drafts   | key          | {key, text}                            |
//! | settings | key          | text                                   |

use js_sys::{Array, ArrayBuffer, Object};
use wasm_bindgen::{JsCast, JsValue, prelude::wasm_bindgen};
use web_sys::{IdbDatabase, IdbKeyRange, IdbRequest};

use super::{
    batch::{ActRow, DraftRow, JobHead, PhotoRow, ThumbRow},
    fault::{Damaged, Fault},
    idb,
};
use crate::ports::{bytes::Bytes, js};

pub(super) const VERSION: u32 = 1;
pub(super) const ACTS: &str = "acts";
pub(super) const HEADS: &str = "heads";
pub(super) const PHOTOS: &str = "photos";
pub(super) const THUMBS: &str = "thumbs";
pub(super) const DRAFTS: &str = "drafts";
pub(super) const SETTINGS: &str = "settings";

pub(super) fn lay_out(db: &IdbDatabase) -> Result<(), JsValue> {
    for name in [ACTS, HEADS, PHOTOS, THUMBS, DRAFTS, SETTINGS] {
        db.create_object_store(name)?;
    }
    Ok(())
}

pub(super) fn act_key(job: &str, key: &str) -> JsValue {
    Array::of2(&job.into(), &key.into()).into()
}

/// All acts of a job: arrays sort after texts, so an empty array closes the range.
pub(super) fn acts_of(job: &str) -> Result<JsValue, Fault> {
    let (low, high) = (
        Array::of1(&job.into()),
        Array::of2(&job.into(), &Array::new()),
    );
    range(&low, &high)
}

/// All text keys that start with `prefix`.
pub(super) fn starting_with(prefix: &str) -> Result<JsValue, Fault> {
    range(&prefix.into(), &format!("{prefix}\u{ffff}").into())
}

fn range(low: &JsValue, high: &JsValue) -> Result<JsValue, Fault> {
    IdbKeyRange::bound(low, high)
        .map(JsValue::from)
        .map_err(|error| idb::fault_of(&error))
}

#[wasm_bindgen]
extern "C" {
    /// An act as an object. There are thousands of them, so they get accessors of their own: looking
    /// members up by name is several times slower.
    #[wasm_bindgen(extends = Object)]
    type ActObject;
    #[wasm_bindgen(method, getter)]
    fn key(this: &ActObject) -> JsValue;
    #[wasm_bindgen(method, setter)]
    fn set_key(this: &ActObject, key: &str);
    #[wasm_bindgen(method, getter)]
    fn seq(this: &ActObject) -> JsValue;
    #[wasm_bindgen(method, setter)]
    fn set_seq(this: &ActObject, seq: u32);
    #[wasm_bindgen(method, getter)]
    fn line(this: &ActObject) -> JsValue;
    #[wasm_bindgen(method, setter)]
    fn set_line(this: &ActObject, line: &str);
}

pub(super) fn act_to_js(row: &ActRow) -> JsValue {
    let made: ActObject = Object::new().unchecked_into();
    made.set_key(&row.key);
    made.set_seq(row.seq);
    made.set_line(&row.line);
    made.into()
}

pub(super) fn act_from_js(value: &JsValue) -> Result<ActRow, Fault> {
    let read = || {
        let act: &ActObject = value.dyn_ref::<Object>()?.unchecked_ref();
        let seq = act.seq().as_f64()? as u32;
        Some(ActRow {
            key: act.key().as_string()?,
            seq,
            line: act.line().as_string()?,
        })
    };
    read().ok_or_else(|| unreadable(ACTS, value, "key"))
}

pub(super) fn head_to_js(head: &JobHead) -> JsValue {
    js::object([
        ("job", head.job.as_str().into()),
        ("count", head.count.into()),
        ("head", head.head.as_str().into()),
        ("first", head.first_line.as_str().into()),
        ("last", head.last_line.as_str().into()),
    ])
}

pub(super) fn head_from_js(value: &JsValue) -> Result<JobHead, Fault> {
    let read = || {
        Some(JobHead {
            job: js::text(value, "job")?,
            count: js::number(value, "count")? as u32,
            head: js::text(value, "head")?,
            first_line: js::text(value, "first")?,
            last_line: js::text(value, "last")?,
        })
    };
    read().ok_or_else(|| unreadable(HEADS, value, "job"))
}

pub(super) fn photo_to_js(row: &PhotoRow) -> JsValue {
    js::object([
        ("hash", row.hash.as_str().into()),
        ("mime", row.mime.as_str().into()),
        ("bytes", row.bytes.to_buffer().into()),
    ])
}

pub(super) fn photo_from_js(value: &JsValue, hash: &str) -> Result<PhotoRow, Fault> {
    let read = || Some((js::text(value, "mime")?, buffer(value)?));
    let damaged = || Fault::Corrupt {
        what: Damaged::Photo { hash: hash.into() },
    };
    let (mime, bytes) = read().ok_or_else(damaged)?;
    Ok(PhotoRow {
        hash: hash.into(),
        mime,
        bytes,
    })
}

pub(super) fn thumb_to_js(row: &ThumbRow) -> JsValue {
    js::object([
        ("photo", row.photo.as_str().into()),
        ("hash", row.hash.as_str().into()),
        ("mime", row.mime.as_str().into()),
        ("bytes", row.bytes.to_buffer().into()),
    ])
}

pub(super) fn thumb_from_js(value: &JsValue, photo: &str) -> Result<ThumbRow, Fault> {
    let read = || {
        Some((
            js::text(value, "hash")?,
            js::text(value, "mime")?,
            buffer(value)?,
        ))
    };
    let damaged = || Fault::Corrupt {
        what: Damaged::Thumb {
            photo: photo.into(),
        },
    };
    let (hash, mime, bytes) = read().ok_or_else(damaged)?;
    Ok(ThumbRow {
        photo: photo.into(),
        hash,
        mime,
        bytes,
    })
}

pub(super) fn draft_to_js(row: &DraftRow) -> JsValue {
    js::object([
        ("key", row.key.as_str().into()),
        ("text", row.text.as_str().into()),
    ])
}

pub(super) fn draft_from_js(value: &JsValue) -> Result<DraftRow, Fault> {
    let read = || {
        Some(DraftRow {
            key: js::text(value, "key")?,
            text: js::text(value, "text")?,
        })
    };
    read().ok_or_else(|| unreadable(DRAFTS, value, "key"))
}

/// A finished request's result; `None` when there was nothing.
pub(super) fn result(request: &IdbRequest) -> Option<JsValue> {
    request
        .result()
        .ok()
        .filter(|value| !value.is_undefined() && !value.is_null())
}

/// A finished `getAll`, row by row.
pub(super) fn results<T>(
    request: &IdbRequest,
    read: impl Fn(&JsValue) -> Result<T, Fault>,
) -> Result<Vec<T>, Fault> {
    let all: Array = result(request)
        .and_then(|all| all.dyn_into().ok())
        .unwrap_or_default();
    all.iter().map(|value| read(&value)).collect()
}

fn buffer(value: &JsValue) -> Option<Bytes> {
    let buffer: ArrayBuffer = js::get(value, "bytes")?.dyn_into().ok()?;
    Some(Bytes::from_buffer(&buffer))
}

fn unreadable(store: &'static str, value: &JsValue, name: &str) -> Fault {
    let key = js::text(value, name).unwrap_or_default();
    Fault::Corrupt {
        what: Damaged::Row { store, key },
    }
}
