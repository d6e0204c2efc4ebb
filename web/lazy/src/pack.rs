//! Writes an archive entry by entry. The same entries give the same bytes: no time is written.

use std::io::Write;

use zip::{CompressionMethod, DateTime, ZipWriter, write::SimpleFileOptions};

use crate::{
    fault::ArchiveFault,
    limits::{Limits, check_name},
    window::Window,
};

/// An archive being written.
pub struct Packer {
    window: Window,
    writer: ZipWriter<Window>,
}

impl Default for Packer {
    fn default() -> Self {
        let window = Window::default();
        Packer {
            writer: ZipWriter::new(window.clone()),
            window,
        }
    }
}

impl Packer {
    /// Adds an entry; answers the bytes of the archive that are settled by now.
    ///
    /// # Errors
    /// A name that no entry may have, one that is there already, or too large an entry.
    pub fn add(&mut self, name: &str, bytes: &[u8]) -> Result<Vec<u8>, ArchiveFault> {
        let limits = Limits::default();
        check_name(name, &limits)?;
        if bytes.len() as u64 > limits.entry {
            return Err(ArchiveFault::EntryTooLarge { entry: name.into() });
        }
        // The entry before is settled when this one begins, and not earlier: its header is patched.
        let settled = self.window.end();
        let options = SimpleFileOptions::default()
            .compression_method(CompressionMethod::Stored)
            .last_modified_time(DateTime::default());
        self.writer
            .start_file(name, options)
            .map_err(|_| ArchiveFault::Duplicate)?;
        self.writer
            .write_all(bytes)
            .map_err(|_| ArchiveFault::NotWritten)?;
        Ok(self.window.take_before(settled))
    }

    /// Ends the archive; answers what is left of it.
    ///
    /// # Errors
    /// Only if an entry before had failed.
    pub fn finish(self) -> Result<Vec<u8>, ArchiveFault> {
        self.writer.finish().map_err(|_| ArchiveFault::NotWritten)?;
        Ok(self.window.take_before(u64::MAX))
    }
}
