//! The demo jobs, made by working them through the core: the checked-in files
//! under `demo-jobs/` are what this makes, and a test sees that they are.
pub mod draw;
pub mod hand;
pub mod procedures;
pub mod terms;
pub mod tiller;
pub mod workboat;

use std::collections::BTreeSet;

use countback_core::jobfile::{self, pack_list};
use countback_core::procedure::procedure_to_json;
use serde_json::{Value, json};

use hand::Hand;

/// A file under `demo-jobs/`.
pub struct DemoFile {
    /// With forward slashes, from the folder.
    pub path: String,
    pub bytes: Vec<u8>,
}

/// Every file of the demo, `index.json` last.
pub fn files() -> Vec<DemoFile> {
    let mut files = Vec::new();
    let jobs = vec![
        job(
            &mut files,
            "workboat",
            &workboat::job().0,
            "Half stripped: the front of a boat's engine, some of it back. Three things are wrong with it. Open the audit.",
        ),
        job(
            &mut files,
            "tiller",
            &tiller::job(),
            "Finished and signed off: a small job from the first nut to the last check.",
        ),
    ];
    let mut procedures = Vec::new();
    for (name, procedure) in procedures::all() {
        let path = format!("procedures/{name}.json");
        let text = procedure_to_json(&procedure);
        procedures.push(json!({
            "file": path,
            "bytes": text.len(),
            "title": procedure.title,
            "words": format!("{}. {}.", procedure.machine, procedure.aim),
        }));
        let bytes = text.into_bytes();
        files.push(DemoFile { path, bytes });
    }
    let index = json!({ "jobs": jobs, "procedures": procedures });
    let text = serde_json::to_string_pretty(&index).expect("plain values");
    files.push(DemoFile {
        path: "index.json".to_owned(),
        bytes: format!("{text}\n").into_bytes(),
    });
    files
}

/// The files of one job, and what the index says of it.
fn job(files: &mut Vec<DemoFile>, name: &str, hand: &Hand, words: &str) -> Value {
    let at_hand: BTreeSet<String> = hand
        .pictures
        .iter()
        .flat_map(|p| [p.hash.clone(), p.thumb_hash.clone()])
        .collect();
    let packed = pack_list(hand.bench.book.journal(), &at_hand);
    let first = files.len();
    let mut add = |path: String, bytes: Vec<u8>| files.push(DemoFile { path, bytes });
    let title = packed.about.title.clone();
    add(
        format!("{name}/{}", jobfile::ABOUT_ENTRY),
        packed.about_json.into_bytes(),
    );
    add(
        format!("{name}/{}", jobfile::JOURNAL_ENTRY),
        packed.job_jsonl.into_bytes(),
    );
    for picture in &hand.pictures {
        add(
            format!("{name}/photos/{}.png", picture.hash),
            picture.png.clone(),
        );
        add(
            format!("{name}/thumbs/{}.png", picture.thumb_hash),
            picture.thumb_png.clone(),
        );
    }
    let listed: serde_json::Map<String, Value> = files[first..]
        .iter()
        .map(|f| (f.path.clone(), json!(f.bytes.len())))
        .collect();
    json!({ "name": name, "title": title, "words": words, "files": listed })
}
