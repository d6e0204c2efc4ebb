//! What ships beside the page and is fetched when asked for: the demo jobs and procedures, and the
//! list of them. Same origin only; without a network the worker answers.

use js_sys::{Array, ArrayBuffer, JSON, Object, Promise};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;

use super::{bytes::Bytes, js};

const FOLDER: &str = "./demo-jobs/";

/// A job that ships as an example.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DemoJob {
    pub title: String,
    /// What is to be seen in it.
    pub words: String,
    /// The folder its entries lie in.
    name: String,
    /// Its files, each with its size in bytes. Its pictures ship as one file:
    /// their bytes one after another, in this order.
    files: Vec<(String, u32)>,
}

/// `demo-jobs/index.json`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Demos {
    pub jobs: Vec<DemoJob>,
    /// Files of procedures.
    procedures: Vec<String>,
}

/// Reads the list. `None` when it cannot be had or read.
pub async fn demos() -> Option<Demos> {
    let list = text(all(&["index.json".to_owned()]).await?.first()?)?;
    let list = JSON::parse(&list).ok()?;
    let job = |it: JsValue| {
        let files: Object = js::get(&it, "files")?.dyn_into().ok()?;
        Some(DemoJob {
            title: js::text(&it, "title")?,
            words: js::text(&it, "words")?,
            name: js::text(&it, "name")?,
            files: Object::entries(&files)
                .iter()
                .filter_map(|it| {
                    let it: Array = it.dyn_into().ok()?;
                    Some((it.get(0).as_string()?, it.get(1).as_f64()? as u32))
                })
                .collect(),
        })
    };
    let procedures = rows(&list, "procedures")?;
    Some(Demos {
        jobs: rows(&list, "jobs")?
            .iter()
            .map(job)
            .collect::<Option<_>>()?,
        procedures: procedures
            .iter()
            .filter_map(|it| js::text(&it, "file"))
            .collect(),
    })
}

/// The entries of a demo job, as in a job's file.
pub async fn entries(job: &DemoJob) -> Option<Vec<(String, Bytes)>> {
    let folder = format!("{}/", job.name);
    let (pictures, texts): (Vec<_>, Vec<_>) = job
        .files
        .iter()
        .partition(|(file, _)| file.ends_with(".png"));
    let mut asked: Vec<String> = texts.iter().map(|(file, _)| file.clone()).collect();
    if !pictures.is_empty() {
        asked.push(format!("{folder}pictures.bin"));
    }
    let mut bytes = all(&asked).await?;
    if !pictures.is_empty() {
        let sizes: Vec<u32> = pictures.iter().map(|(_, size)| *size).collect();
        let pack = bytes.pop()?;
        bytes.extend(pack.cut(&sizes)?);
    }
    let names = texts.iter().chain(&pictures).map(|(file, _)| file);
    let names = names.map(|file| file.strip_prefix(&folder).map(str::to_owned));
    names
        .zip(bytes)
        .map(|(name, bytes)| Some((name?, bytes)))
        .collect()
}

/// The files of the procedures.
pub async fn procedures(demos: &Demos) -> Option<Vec<String>> {
    all(&demos.procedures).await?.iter().map(text).collect()
}

fn rows(of: &JsValue, name: &str) -> Option<Array> {
    js::get(of, name)?.dyn_into().ok()
}

fn text(bytes: &Bytes) -> Option<String> {
    String::from_utf8(bytes.to_vec()).ok()
}

/// All of these files side by side, or none.
async fn all(files: &[String]) -> Option<Vec<Bytes>> {
    let window = js::window()?;
    let asked: Array = files
        .iter()
        .filter_map(|file| {
            let address = format!("{FOLDER}{file}").into();
            js::call_now(&window, "fetch", &[address]).ok()
        })
        .collect();
    let answers = together(&asked).await?;
    let bodies: Array = answers
        .iter()
        .filter(|answer| js::get(answer, "ok").is_some_and(|ok| ok.is_truthy()))
        .filter_map(|answer| js::call_now(&answer, "arrayBuffer", &[]).ok())
        .collect();
    let bodies = together(&bodies).await?;
    if bodies.length() as usize != files.len() {
        return None;
    }
    let bytes = |body: JsValue| Some(Bytes::from_buffer(body.dyn_ref::<ArrayBuffer>()?));
    bodies.iter().map(bytes).collect()
}

async fn together(promises: &Array) -> Option<Array> {
    JsFuture::from(Promise::all(promises))
        .await
        .ok()?
        .dyn_into()
        .ok()
}
