//! What the app loads only when first needed: the archive that a job travels in, as a ZIP file with
//! stored entries. This file is the wall to JavaScript; [`pack`] and [`unpack`] are plain Rust.
//! What the entries mean is the page's affair.

pub mod fault;
pub mod limits;
pub mod pack;
pub mod unpack;
mod window;

use std::io::{self, Read, Seek, SeekFrom};

use fault::ArchiveFault;
use js_sys::{Array, Object, Reflect, Uint8Array};
use limits::Limits;
use wasm_bindgen::{JsValue, prelude::wasm_bindgen};

/// An archive being written, in parts that follow each other.
#[wasm_bindgen]
pub struct Packer(pack::Packer);

/// Begins an archive.
#[wasm_bindgen]
pub fn packer() -> Packer {
    Packer(pack::Packer::default())
}

#[wasm_bindgen]
impl Packer {
    /// Adds an entry and gives the archive's next part. Throws `{name, entry}`.
    pub fn add(&mut self, name: &str, bytes: &Uint8Array) -> Result<Uint8Array, JsValue> {
        let part = self
            .0
            .add(name, &bytes.to_vec())
            .map_err(|fault| thrown(&fault))?;
        Ok(Uint8Array::from(&part[..]))
    }

    /// The last part. Throws `{name, entry}`.
    pub fn finish(self) -> Result<Uint8Array, JsValue> {
        let part = self.0.finish().map_err(|fault| thrown(&fault))?;
        Ok(Uint8Array::from(&part[..]))
    }
}

/// All entries of an archive as `[name, bytes]`, or none: throws `{name, entry}`.
#[wasm_bindgen]
pub fn unpack(archive: &Uint8Array) -> Result<Array, JsValue> {
    let entries = Array::new();
    let size = u64::from(archive.length());
    let reader = JsReader {
        array: archive.clone(),
        at: 0,
    };
    unpack::unpack(reader, size, &Limits::default(), |name, bytes| {
        let bytes = Uint8Array::from(&bytes[..]);
        entries.push(&Array::of2(&name.into(), &bytes));
    })
    .map_err(|fault| thrown(&fault))?;
    Ok(entries)
}

fn thrown(fault: &ArchiveFault) -> JsValue {
    let made = Object::new();
    let (name, entry) = fault.name_and_entry();
    for (key, value) in [("name", name), ("entry", entry)] {
        // Setting a member of a plain object cannot fail.
        let _ = Reflect::set(&made, &key.into(), &value.into());
    }
    made.into()
}

/// Reads an archive where it lies in JavaScript memory, so that only one entry at a time is here.
struct JsReader {
    array: Uint8Array,
    at: u64,
}

impl Read for JsReader {
    fn read(&mut self, to: &mut [u8]) -> io::Result<usize> {
        let length = u64::from(self.array.length());
        let start = self.at.min(length);
        let count = (length - start).min(to.len() as u64);
        // Both fit, because the array's length is 32 bits wide.
        let part = self.array.subarray(start as u32, (start + count) as u32);
        if let Some(to) = to.get_mut(..count as usize) {
            part.copy_to(to);
        }
        self.at = start + count;
        Ok(count as usize)
    }
}

impl Seek for JsReader {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        self.at = window::target(to, self.at, u64::from(self.array.length()))?;
        Ok(self.at)
    }
}
