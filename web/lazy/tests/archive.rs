//! The archive: what goes in comes out, others can read it, and hostile ones are refused.
#![allow(
    clippy::expect_used,
    clippy::unwrap_used,
    clippy::panic,
    reason = "a failing test should panic"
)]

use std::io::{Cursor, Read, Write};

use countback_lazy::{fault::ArchiveFault, limits::Limits, pack::Packer, unpack::unpack};
use zip::{CompressionMethod, ZipArchive, ZipWriter, write::SimpleFileOptions};

type Entries = Vec<(String, Vec<u8>)>;

fn pack(entries: &Entries) -> Vec<u8> {
    let mut packer = Packer::default();
    let mut archive = Vec::new();
    for (name, bytes) in entries {
        archive.extend(packer.add(name, bytes).expect("added"));
    }
    archive.extend(packer.finish().expect("finished"));
    archive
}

fn open_within(archive: &[u8], limits: &Limits) -> Result<Entries, ArchiveFault> {
    let mut entries = Entries::new();
    unpack(
        Cursor::new(archive),
        archive.len() as u64,
        limits,
        |name, bytes| {
            entries.push((name.to_owned(), bytes));
        },
    )?;
    Ok(entries)
}

fn open(archive: &[u8]) -> Result<Entries, ArchiveFault> {
    open_within(archive, &Limits::default())
}

fn job() -> Entries {
    let photo = |n: u8| {
        (
            format!("photos/{}.jpg", n.to_string().repeat(64)),
            vec![n; 5000],
        )
    };
    let mut entries = vec![
        ("about.json".into(), b"{}".to_vec()),
        ("job.jsonl".into(), b"{\"a\":1}\n".to_vec()),
    ];
    entries.extend((1..=9).map(photo));
    entries.push(("thumbs/empty.jpg".into(), Vec::new()));
    entries
}

#[test]
fn what_goes_in_comes_out_in_order() {
    assert_eq!(open(&pack(&job())), Ok(job()));
    assert_eq!(open(&pack(&Entries::new())), Ok(Entries::new()));
}

#[test]
fn the_same_entries_give_the_same_bytes() {
    assert_eq!(pack(&job()), pack(&job()));
}

#[test]
fn little_is_held_while_writing() {
    let mut packer = Packer::default();
    let mut given = 0;
    for n in 0..50 {
        given += packer
            .add(&format!("photos/{n}.jpg"), &[7; 100_000])
            .expect("added")
            .len();
        assert!(given >= n * 100_000, "only one entry is held back");
    }
}

#[test]
fn a_name_that_is_a_path_is_neither_written_nor_read() {
    let bad = [
        "../a", "/a", "a/../b", "a//b", "a/b/c", "", "a\\b", "c:a", ".hidden", "a/.b", "A", "a\0b",
        "a/", "ä",
    ];
    for name in bad {
        let refused = Packer::default().add(name, b"x");
        assert!(
            matches!(refused, Err(ArchiveFault::BadName { .. })),
            "{name:?}: {refused:?}"
        );
        let archive = foreign(&[(name, b"x")], CompressionMethod::Stored);
        let refused = open(&archive);
        assert!(
            matches!(refused, Err(ArchiveFault::BadName { .. })),
            "{name:?}: {refused:?}"
        );
    }
    let long = "a".repeat(97);
    assert!(matches!(
        Packer::default().add(&long, b""),
        Err(ArchiveFault::BadName { .. })
    ));
}

fn foreign(entries: &[(&str, &[u8])], method: CompressionMethod) -> Vec<u8> {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in entries {
        let options = SimpleFileOptions::default().compression_method(method);
        writer.start_file(*name, options).expect("started");
        writer.write_all(bytes).expect("written");
    }
    writer.finish().expect("finished").into_inner()
}

#[test]
fn a_compressed_entry_is_refused_before_it_is_inflated() {
    // The method's number in both headers is changed to 8, "deflated".
    let mut archive = pack(&vec![("job.jsonl".into(), b"x".to_vec())]);
    let central = find(&archive, b"PK\x01\x02");
    archive[8] = 8;
    archive[central + 10] = 8;
    assert_eq!(
        open(&archive),
        Err(ArchiveFault::NotPlain {
            entry: "job.jsonl".into()
        })
    );
}

fn find(archive: &[u8], mark: &[u8; 4]) -> usize {
    archive
        .windows(4)
        .position(|window| window == mark)
        .expect("record")
}

#[test]
fn two_entries_of_one_name_are_refused() {
    assert!(Packer::default().add("a", b"1").is_ok());
    let mut packer = Packer::default();
    packer.add("a", b"1").expect("added");
    assert_eq!(packer.add("a", b"2"), Err(ArchiveFault::Duplicate));
    let mut archive = pack(&vec![
        ("aa".into(), b"1".to_vec()),
        ("ab".into(), b"2".to_vec()),
    ]);
    while let Some(at) = archive.windows(2).position(|window| window == b"ab") {
        archive[at + 1] = b'a';
    }
    assert_eq!(open(&archive), Err(ArchiveFault::Duplicate));
}

#[test]
fn entries_that_share_bytes_are_refused() {
    let mut archive = pack(&vec![("a".into(), vec![1; 50]), ("b".into(), vec![2; 50])]);
    // The second directory entry is pointed at the first one's bytes.
    let first = find(&archive, b"PK\x01\x02");
    let second = first + 4 + find(&archive[first + 4..], b"PK\x01\x02");
    archive[second + 42..second + 46].fill(0);
    assert_eq!(open(&archive), Err(ArchiveFault::Overlap));
}

#[test]
fn each_limit_holds() {
    let archive = pack(&job());
    let all = Limits::default();
    let too_many = Limits { entries: 11, ..all };
    assert_eq!(
        open_within(&archive, &too_many),
        Err(ArchiveFault::TooManyEntries)
    );
    let entry = Limits { entry: 4999, ..all };
    assert!(matches!(
        open_within(&archive, &entry),
        Err(ArchiveFault::EntryTooLarge { .. })
    ));
    let total = Limits {
        total: 45_009,
        ..all
    };
    assert_eq!(open_within(&archive, &total), Err(ArchiveFault::TooLarge));
    let whole = Limits {
        archive: archive.len() as u64 - 1,
        ..all
    };
    assert_eq!(open_within(&archive, &whole), Err(ArchiveFault::TooLarge));
    let exact = Limits {
        archive: archive.len() as u64,
        entries: 12,
        entry: 5000,
        total: 45_010,
        ..all
    };
    assert_eq!(open_within(&archive, &exact), Ok(job()));
}

#[test]
fn an_end_record_that_promises_sixty_thousand_entries_is_refused_at_once() {
    let mut archive = pack(&job());
    let end = archive.len() - 22;
    archive[end + 8..end + 12].copy_from_slice(&[0x60, 0xea, 0x60, 0xea]);
    assert_eq!(open(&archive), Err(ArchiveFault::TooManyEntries));
}

#[test]
fn a_changed_byte_is_found_wherever_it_matters_and_nothing_ever_panics() {
    let small = vec![
        ("job.jsonl".into(), b"{\"a\":1}".to_vec()),
        ("b".into(), b"x".to_vec()),
    ];
    let archive = pack(&small);
    let mut taken = 0;
    for at in 0..archive.len() {
        for flip in [1u8, 0x80, 0xff] {
            let mut harmed = archive.clone();
            harmed[at] ^= flip;
            if let Ok(entries) = open(&harmed) {
                taken += 1;
                // Names may differ (they are not under the checksum) but bytes never.
                let bytes = |all: &Entries| all.iter().map(|(_, b)| b.clone()).collect::<Vec<_>>();
                assert_eq!(bytes(&entries), bytes(&small), "byte {at}");
            }
        }
    }
    assert!(
        taken > 0,
        "fields without meaning here, such as times, may change"
    );
}

#[test]
fn an_archive_cut_anywhere_is_refused() {
    let archive = pack(&job());
    for end in 0..archive.len() {
        assert!(open(&archive[..end]).is_err(), "cut at {end}");
    }
}

#[test]
fn what_stands_before_or_after_the_archive_is_not_overlooked() {
    let archive = pack(&job());
    let before = [b"<html>".as_slice(), &archive].concat();
    assert!(open(&before).is_err());
    let after = [archive.as_slice(), b"tail"].concat();
    assert!(open(&after).is_err());
}

#[test]
fn an_ordinary_zip_library_reads_the_bytes_back() {
    let mut archive = ZipArchive::new(Cursor::new(pack(&job()))).expect("opens");
    let mut text = String::new();
    let mut file = archive.by_name("job.jsonl").expect("entry");
    file.read_to_string(&mut text).expect("text");
    assert_eq!(text, "{\"a\":1}\n");
}
