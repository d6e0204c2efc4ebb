//! From a request to a file: its type, how long it may be kept, and the
//! headers that every answer carries.

use super::http::{Answer, Request};
use crate::policy;
use std::fs;
use std::path::{Component, Path};

/// The answer for a request, read fresh from `folder`.
pub fn answer(folder: &Path, request: &Request) -> Answer {
    let mut answer = Answer {
        status: 200,
        headers: policy::headers(),
        body: Vec::new(),
    };
    if !request.readable {
        return refuse(answer, 405, "only reading is possible here");
    }
    let relative = match request.path.trim_start_matches('/') {
        "" => "index.html",
        other => other,
    };
    // Nothing above the folder, however it was written.
    let plain = Path::new(relative)
        .components()
        .all(|part| matches!(part, Component::Normal(_)));
    let Some(body) = plain
        .then(|| fs::read(folder.join(relative)).ok())
        .flatten()
    else {
        return refuse(answer, 404, "no such file");
    };
    answer.body = body;
    answer.set("Content-Type", media_type(relative).to_owned());
    let age = if is_hashed(relative) {
        "public, max-age=31536000, immutable"
    } else {
        "no-cache"
    };
    answer.set("Cache-Control", age.to_owned());
    answer
}

fn refuse(mut answer: Answer, status: u16, text: &str) -> Answer {
    answer.status = status;
    answer.set("Content-Type", "text/plain; charset=utf-8".to_owned());
    answer.set("Cache-Control", "no-store".to_owned());
    answer.body = text.as_bytes().to_vec();
    answer
}

/// The type by the name's ending.
fn media_type(path: &str) -> &'static str {
    match path.rsplit('.').next().unwrap_or_default() {
        "html" => "text/html; charset=utf-8",
        "js" | "mjs" => "text/javascript; charset=utf-8",
        "wasm" => "application/wasm",
        "css" => "text/css; charset=utf-8",
        "json" => "application/json",
        "webmanifest" => "application/manifest+json",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "jpg" | "jpeg" => "image/jpeg",
        "webp" => "image/webp",
        "txt" | "jsonl" | "csv" => "text/plain; charset=utf-8",
        _ => "application/octet-stream",
    }
}

/// Whether the name, or the folder's, ends in 16 hex digits of a content
/// hash; such a file never changes.
fn is_hashed(path: &str) -> bool {
    path.split(['/', '.', '_']).any(|word| {
        word.rsplit_once('-').is_some_and(|(_, tail)| {
            tail.len() == 16 && tail.bytes().all(|byte| byte.is_ascii_hexdigit())
        })
    })
}
