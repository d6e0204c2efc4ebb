//! Reads an archive from elsewhere: everything about it is checked before an entry is given out, and
//! every size is counted while reading, whatever the archive says of itself.

use std::io::{Read, Seek, SeekFrom};

use zip::{
    CompressionMethod, ZipArchive,
    read::{ArchiveOffset, Config},
};

use crate::{
    fault::ArchiveFault,
    limits::{Limits, check_name},
};

/// The end record of a ZIP file: 22 bytes when it has no comment (APPNOTE 4.3.16, memory).
const END: usize = 22;
const END_MARK: &[u8] = b"PK\x05\x06";
/// The pointer of the 64-bit form stands 20 bytes before it.
const POINTER: usize = 20;
const POINTER_MARK: &[u8] = b"PK\x06\x07";

/// Gives every entry to `take`, in the archive's order, once all names and places are found good.
/// When an error is answered, throw away what was taken.
///
/// # Errors
/// The first thing found wrong.
pub fn unpack(
    mut reader: impl Read + Seek,
    size: u64,
    limits: &Limits,
    mut take: impl FnMut(&str, Vec<u8>),
) -> Result<(), ArchiveFault> {
    if size > limits.archive {
        return Err(ArchiveFault::TooLarge);
    }
    let promised = promised_entries(&mut reader, size).ok_or(ArchiveFault::NotAnArchive)?;
    if promised > limits.entries {
        return Err(ArchiveFault::TooManyEntries);
    }
    let config = Config {
        archive_offset: ArchiveOffset::Known(0),
    };
    let archive = ZipArchive::with_config(config, reader);
    let mut archive = archive.map_err(|_| ArchiveFault::NotAnArchive)?;
    if archive.has_duplicate_names() {
        return Err(ArchiveFault::Duplicate);
    }
    if archive.len() != promised {
        return Err(ArchiveFault::NotAnArchive);
    }
    if archive
        .has_overlapping_entries()
        .map_err(|_| ArchiveFault::NotAnArchive)?
    {
        return Err(ArchiveFault::Overlap);
    }
    let names = check_entries(&mut archive, limits)?;
    let mut total = 0;
    for (at, name) in names.iter().enumerate() {
        let damaged = || ArchiveFault::Damaged {
            entry: name.clone(),
        };
        let file = archive.by_index(at).map_err(|_| damaged())?;
        let declared = file.size();
        let mut bytes = Vec::new();
        file.take(limits.entry + 1)
            .read_to_end(&mut bytes)
            .map_err(|_| damaged())?;
        let read = bytes.len() as u64;
        total += read;
        if read > limits.entry {
            return Err(ArchiveFault::EntryTooLarge {
                entry: name.clone(),
            });
        }
        if total > limits.total {
            return Err(ArchiveFault::TooLarge);
        }
        if read != declared {
            return Err(damaged());
        }
        take(name, bytes);
    }
    Ok(())
}

/// The number of entries that the end record tells. `None` when there is no such record just at the
/// end, or when it is of the 64-bit form, which an archive within the limits never needs.
fn promised_entries(reader: &mut (impl Read + Seek), size: u64) -> Option<usize> {
    let tail = size.min((END + POINTER) as u64);
    reader.seek(SeekFrom::Start(size - tail)).ok()?;
    let mut bytes = vec![0; tail as usize];
    reader.read_exact(&mut bytes).ok()?;
    let (before, end) = bytes.split_at_checked(bytes.len().checked_sub(END)?)?;
    if !end.starts_with(END_MARK) || before.starts_with(POINTER_MARK) {
        return None;
    }
    let &[low, high] = end.get(10..12)?.first_chunk::<2>()?;
    Some(usize::from(u16::from_le_bytes([low, high])))
}

/// Looks at every entry without reading its bytes. Answers the names, by index.
fn check_entries(
    archive: &mut ZipArchive<impl Read + Seek>,
    limits: &Limits,
) -> Result<Vec<String>, ArchiveFault> {
    let mut declared = 0u64;
    let mut names = Vec::with_capacity(archive.len());
    for at in 0..archive.len() {
        let file = archive
            .by_index_raw(at)
            .map_err(|_| ArchiveFault::NotAnArchive)?;
        let name = String::from_utf8_lossy(file.name_raw()).into_owned();
        check_name(&name, limits)?;
        let plain = file.compression() == CompressionMethod::Stored
            && !file.encrypted()
            && file.is_file()
            && file.compressed_size() == file.size();
        if !plain {
            return Err(ArchiveFault::NotPlain { entry: name });
        }
        if file.size() > limits.entry {
            return Err(ArchiveFault::EntryTooLarge { entry: name });
        }
        declared = declared.saturating_add(file.size());
        names.push(name);
    }
    if declared > limits.total {
        return Err(ArchiveFault::TooLarge);
    }
    Ok(names)
}
