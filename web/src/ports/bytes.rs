//! Bytes that may live on either side of the WASM wall: a photo's bytes stay in JavaScript memory
//! and pass through Rust as a handle, so that the WASM heap (which never shrinks) stays small.

use std::rc::Rc;

use js_sys::{ArrayBuffer, Uint8Array};

/// A cheap handle on immutable bytes. Cloning copies the handle.
#[derive(Clone, Debug)]
pub struct Bytes(Inner);

#[derive(Clone, Debug)]
enum Inner {
    Rust(Rc<[u8]>),
    Js(Uint8Array),
}

impl Bytes {
    pub(super) fn from_js(array: Uint8Array) -> Self {
        Bytes(Inner::Js(array))
    }

    pub(super) fn from_buffer(buffer: &ArrayBuffer) -> Self {
        Bytes(Inner::Js(Uint8Array::new(buffer)))
    }

    /// The bytes as a JS array: no copy when they already live there.
    pub(super) fn to_js(&self) -> Uint8Array {
        match &self.0 {
            Inner::Rust(bytes) => Uint8Array::from(&bytes[..]),
            Inner::Js(array) => array.clone(),
        }
    }

    /// A buffer holding these bytes and nothing else, as the database keeps them.
    pub(super) fn to_buffer(&self) -> ArrayBuffer {
        let array = self.to_js();
        let buffer = array.buffer();
        if buffer.byte_length() == array.length() {
            buffer
        } else {
            array.slice(0, array.length()).buffer()
        }
    }

    /// The Rust side's bytes, when that is where they are.
    pub(super) fn in_rust(&self) -> Option<&[u8]> {
        match &self.0 {
            Inner::Rust(bytes) => Some(bytes),
            Inner::Js(_) => None,
        }
    }

    pub fn len(&self) -> usize {
        match &self.0 {
            Inner::Rust(bytes) => bytes.len(),
            Inner::Js(array) => array.length() as usize,
        }
    }

    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// A copy in the WASM heap: for small things, never for a photo.
    pub fn to_vec(&self) -> Vec<u8> {
        match &self.0 {
            Inner::Rust(bytes) => bytes.to_vec(),
            Inner::Js(array) => array.to_vec(),
        }
    }

    /// These bytes in pieces of such sizes, one after another; nothing where
    /// they do not add up.
    pub(super) fn cut(&self, sizes: &[u32]) -> Option<Vec<Self>> {
        let whole = self.to_js();
        let mut at = 0_u32;
        let mut pieces = Vec::new();
        for size in sizes {
            let end = at.checked_add(*size)?;
            pieces.push(Self::from_js(whole.subarray(at, end)));
            at = end;
        }
        (at == whole.length()).then_some(pieces)
    }

    /// Calls `look` with the bytes in order, `step` at a time, so that a whole file is never copied
    /// at once. Stops early when `look` returns false.
    pub fn in_steps(&self, step: usize, mut look: impl FnMut(&[u8]) -> bool) {
        match &self.0 {
            Inner::Rust(bytes) => {
                for part in bytes.chunks(step.max(1)) {
                    if !look(part) {
                        return;
                    }
                }
            }
            Inner::Js(array) => {
                let (step, end) = (step.max(1) as u32, array.length());
                let mut at = 0;
                while at < end {
                    let to = end.min(at.saturating_add(step));
                    if !look(&array.subarray(at, to).to_vec()) {
                        return;
                    }
                    at = to;
                }
            }
        }
    }
}

impl From<Vec<u8>> for Bytes {
    fn from(bytes: Vec<u8>) -> Self {
        Bytes(Inner::Rust(bytes.into()))
    }
}

impl PartialEq for Bytes {
    fn eq(&self, other: &Self) -> bool {
        self.len() == other.len() && self.to_vec() == other.to_vec()
    }
}

impl Eq for Bytes {}
