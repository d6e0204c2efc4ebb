//! What a start reads first, asked for by `boot.js` while the WASM is on its way. The question is put
//! down with each move of the person. An answer to another question is not looked at, nor is one
//! that cannot be read: the store then reads by itself, and says what is wrong.

use js_sys::{Array, JSON, global};
use wasm_bindgen::{JsCast, JsValue};
use web_sys::IdbDatabase;

use super::{
    First,
    batch::{ActRow, JobHead},
    tables::{ACTS, HEADS, SETTINGS, VERSION, head_from_js},
};
use crate::ports::js;

/// Under this key `boot.js` looks for the question.
pub const KEPT: &str = "countback.first";

/// How long the answer is waited for, in ms, before the store asks by itself.
const PATIENCE_MS: i32 = 1_000;

/// What was read: all heads, the acts of the job that was wanted, the settings as they were named.
pub(super) type Found = (Vec<JobHead>, Vec<ActRow>, Vec<Option<String>>);

/// The question for `first` in the database `name`, as `boot.js` reads it.
pub fn question(name: &str, first: First<'_>) -> String {
    let texts =
        |all: &[&str]| JsValue::from(all.iter().map(|it| JsValue::from(*it)).collect::<Array>());
    let rows = first.job.map(|job| {
        let columns = texts(&["key", "seq", "line"]);
        js::object([
            ("store", ACTS.into()),
            ("of", job.into()),
            ("columns", columns),
        ])
    });
    let keys = js::object([("store", SETTINGS.into()), ("of", texts(first.settings))]);
    let all = js::object([
        ("base", name.into()),
        ("version", VERSION.into()),
        ("all", HEADS.into()),
        ("rows", rows.unwrap_or_default()),
        ("keys", keys),
    ]);
    // A plain object of texts can always be written.
    JSON::stringify(&all).map(String::from).unwrap_or_default()
}

/// The answer to this question, with the database that it was read from. Whoever
/// has it closes that; call once.
pub(super) async fn take(name: &str, first: First<'_>) -> Option<(IdbDatabase, Found)> {
    let asked = js::get(&js::get(&global(), "countback")?, "first")?;
    let answer = match js::text(&asked, "question")? == question(name, first) {
        true => js::within(PATIENCE_MS, js::settle(js::get(&asked, "answer")?)).await,
        false => None,
    };
    let is_left = || js::call_now(&asked, "isLeft", &[]).is_ok_and(|it| it.is_truthy());
    let found = match answer {
        Some(Ok(answer)) if !is_left() => read(&answer, first),
        _ => None,
    };
    if found.is_none() {
        let _ = js::call_now(&asked, "leave", &[]);
    }
    found
}

fn read(answer: &JsValue, first: First<'_>) -> Option<(IdbDatabase, Found)> {
    let list = |name| js::get(answer, name)?.dyn_into::<Array>().ok();
    let heads = list("every")?
        .iter()
        .map(|it| head_from_js(&it).ok())
        .collect::<Option<_>>()?;
    let rows = match first.job {
        Some(_) => acts(js::number(answer, "count")? as usize, &list("columns")?)?,
        None => Vec::new(),
    };
    let settings = list("ones")?.iter().map(|it| it.as_string()).collect();
    let db = js::get(answer, "db")?.dyn_into().ok()?;
    Some((db, (heads, rows, settings)))
}

/// Acts come as one text for each column, a line for each act: thousands of small texts are dear to
/// bring over.
fn acts(count: usize, columns: &Array) -> Option<Vec<ActRow>> {
    if count == 0 {
        return Some(Vec::new());
    }
    let text = |at| columns.get(at).as_string();
    let (keys, seqs, lines) = (text(0)?, text(1)?, text(2)?);
    let mut lines = lines.split('\n');
    let mut seqs = seqs.split('\n');
    let rows = keys.split('\n').map(|key| {
        Some(ActRow {
            key: key.to_owned(),
            seq: seqs.next()?.parse().ok()?,
            line: lines.next()?.to_owned(),
        })
    });
    let rows: Vec<_> = rows.collect::<Option<_>>()?;
    (rows.len() == count && lines.next().is_none() && seqs.next().is_none()).then_some(rows)
}
