//! The end of a file that is being written: what can still change is here, what cannot has been
//! taken away, so that an archive of any size is written with little memory.

use std::{
    cell::RefCell,
    io::{self, Seek, SeekFrom, Write},
    rc::Rc,
};

/// A writer whose bytes can be taken from its front. Clones share the bytes.
#[derive(Clone, Debug, Default)]
pub(crate) struct Window(Rc<RefCell<Inner>>);

#[derive(Debug, Default)]
struct Inner {
    /// How many bytes have been taken away.
    base: u64,
    bytes: Vec<u8>,
    at: u64,
}

impl Window {
    /// The length of the whole file so far.
    pub(crate) fn end(&self) -> u64 {
        let inner = self.0.borrow();
        inner.base + inner.bytes.len() as u64
    }

    /// Takes everything before `to`, which must not change any more.
    pub(crate) fn take_before(&self, to: u64) -> Vec<u8> {
        let mut inner = self.0.borrow_mut();
        let count = to.saturating_sub(inner.base).min(inner.bytes.len() as u64);
        inner.base += count;
        inner.bytes.drain(..count as usize).collect()
    }
}

impl Write for Window {
    fn write(&mut self, from: &[u8]) -> io::Result<usize> {
        let mut inner = self.0.borrow_mut();
        // Writing into what was taken away would be lost.
        let start = inner
            .at
            .checked_sub(inner.base)
            .ok_or(io::ErrorKind::InvalidInput)? as usize;
        let end = start + from.len();
        if inner.bytes.len() < end {
            inner.bytes.resize(end, 0);
        }
        if let Some(to) = inner.bytes.get_mut(start..end) {
            to.copy_from_slice(from);
        }
        inner.at += from.len() as u64;
        Ok(from.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

impl Seek for Window {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        let end = self.end();
        let mut inner = self.0.borrow_mut();
        inner.at = target(to, inner.at, end)?;
        Ok(inner.at)
    }
}

/// Where a seek leads.
pub(crate) fn target(to: SeekFrom, at: u64, end: u64) -> io::Result<u64> {
    let found = match to {
        SeekFrom::Start(at) => Some(at),
        SeekFrom::End(by) => end.checked_add_signed(by),
        SeekFrom::Current(by) => at.checked_add_signed(by),
    };
    found.ok_or_else(|| io::ErrorKind::InvalidInput.into())
}
