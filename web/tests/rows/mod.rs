//! Small rows for the store's tests.
#![allow(dead_code, reason = "each test file uses its part of them")]

use countback_web::ports::{
    hash::sha256_hex,
    store::{ActRow, Batch, DraftRow, PhotoRow, ThumbRow},
};

pub fn act(seq: u32) -> ActRow {
    ActRow {
        key: format!("{:08}", 1000 + seq),
        seq,
        line: format!(r#"{{"n":{seq}}}"#),
    }
}

pub fn acts(from: u32, to: u32) -> Batch {
    Batch {
        job: "job-a".into(),
        rows: (from..=to).map(act).collect(),
        ..Batch::default()
    }
}

pub fn photo(text: &str) -> PhotoRow {
    let bytes = text.as_bytes().to_vec();
    PhotoRow {
        hash: sha256_hex(&bytes),
        mime: "image/jpeg".into(),
        bytes: bytes.into(),
    }
}

pub fn thumb(photo: &PhotoRow, text: &str) -> ThumbRow {
    let bytes = text.as_bytes().to_vec();
    ThumbRow {
        photo: photo.hash.clone(),
        hash: sha256_hex(&bytes),
        mime: "image/jpeg".into(),
        bytes: bytes.into(),
    }
}

pub fn draft(key: &str, text: &str) -> DraftRow {
    DraftRow {
        key: key.into(),
        text: text.into(),
    }
}
