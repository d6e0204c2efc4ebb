//! The wall to the part that is loaded when first needed: the page's start script keeps
//! `countback.load(name)`, which loads a part once and answers what it offers.

use js_sys::{Array, Uint8Array};
use wasm_bindgen::{JsCast, JsValue};

use countback_core::jobfile::JobFileError;

use super::ArchiveFault;
use crate::ports::{bytes::Bytes, js};

/// The loaded part.
pub(super) struct Lazy(JsValue);

/// An archive being written there.
pub(super) struct Packer(JsValue);

impl Lazy {
    pub(super) async fn load() -> Result<Lazy, ArchiveFault> {
        let missing = || ArchiveFault::NotLoaded {
            name: "NoLoader".into(),
        };
        let loader = js::get(&js_sys::global(), "countback").ok_or_else(missing)?;
        let loaded = js::call(&loader, "load", &["lazy".into()]).await;
        let part = loaded.map_err(|error| ArchiveFault::NotLoaded {
            name: js::error_name(&error),
        })?;
        Ok(Lazy(part))
    }

    pub(super) fn packer(&self) -> Result<Packer, ArchiveFault> {
        js::call_now(&self.0, "packer", &[])
            .map(Packer)
            .map_err(|error| fault(&error))
    }

    /// All entries by name, or none.
    pub(super) fn unpack(&self, archive: &Bytes) -> Result<Vec<(String, Bytes)>, ArchiveFault> {
        let all = js::call_now(&self.0, "unpack", &[archive.to_js().into()]);
        let all: Array = all.map_err(|error| fault(&error))?.unchecked_into();
        let entry = |pair: JsValue| {
            let pair: Array = pair.dyn_into().ok()?;
            let bytes: Uint8Array = pair.get(1).dyn_into().ok()?;
            Some((pair.get(0).as_string()?, Bytes::from_js(bytes)))
        };
        all.iter()
            .map(entry)
            .collect::<Option<_>>()
            .ok_or(ArchiveFault::Job(JobFileError::NotAJob))
    }
}

impl Packer {
    /// Adds an entry and gives the next part of the archive.
    pub(super) fn add(&self, name: &str, bytes: &Bytes) -> Result<Bytes, ArchiveFault> {
        part(js::call_now(
            &self.0,
            "add",
            &[name.into(), bytes.to_js().into()],
        ))
    }

    pub(super) fn finish(self) -> Result<Bytes, ArchiveFault> {
        part(js::call_now(&self.0, "finish", &[]))
    }
}

fn part(made: Result<JsValue, JsValue>) -> Result<Bytes, ArchiveFault> {
    let made: Option<Uint8Array> = made.map_err(|error| fault(&error))?.dyn_into().ok();
    made.map(Bytes::from_js)
        .ok_or(ArchiveFault::Job(JobFileError::NotAJob))
}

fn fault(error: &JsValue) -> ArchiveFault {
    let entry = js::text(error, "entry").unwrap_or_default();
    match js::error_name(error).as_str() {
        "NotAnArchive" => ArchiveFault::Job(JobFileError::NotAJob),
        "Damaged" => ArchiveFault::Damaged { entry },
        rule => ArchiveFault::Refused {
            rule: rule.into(),
            entry,
        },
    }
}
