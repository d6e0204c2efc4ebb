//! Writes one job of at least so many acts in the form of the demo jobs, for
//! timing the app on it: `make_big_job FOLDER ACTS`.
use std::path::PathBuf;
use std::{env, fs, io};

use countback_checks::bench::Bench;
use countback_core::jobfile::{self, pack_list};
use serde_json::json;

fn main() -> io::Result<()> {
    let mut args = env::args().skip(1);
    let (Some(folder), Some(acts)) = (args.next(), args.next().and_then(|n| n.parse().ok())) else {
        return Err(io::Error::other("usage: make_big_job FOLDER ACTS"));
    };
    let bench = worked(acts);
    let packed = pack_list(bench.book.journal(), &Default::default());
    let folder = PathBuf::from(folder);
    fs::create_dir_all(folder.join("big"))?;
    let index = json!({
        "jobs": [{
            "name": "big",
            "title": packed.about.title,
            "words": "For timing.",
            "files": {
                format!("big/{}", jobfile::ABOUT_ENTRY): packed.about_json.len(),
                format!("big/{}", jobfile::JOURNAL_ENTRY): packed.job_jsonl.len(),
            },
        }],
        "procedures": [],
    });
    fs::write(
        folder.join("big").join(jobfile::ABOUT_ENTRY),
        packed.about_json,
    )?;
    fs::write(
        folder.join("big").join(jobfile::JOURNAL_ENTRY),
        packed.job_jsonl,
    )?;
    fs::write(folder.join("index.json"), index.to_string())?;
    println!("{} acts", bench.book.journal().len());
    Ok(())
}

/// Parts off with two kinds of fasteners each, every other one back again,
/// until the journal is long enough. Last comes a cover that is on again with
/// none of its many bolts started, so that one tap after the other can be timed.
fn worked(acts: usize) -> Bench {
    let mut bench = Bench::default();
    let mut number = 0;
    while bench.book.journal().len() < acts {
        number += 1;
        let name = format!("Bracket {number}");
        let part = bench.part(
            &name,
            &[
                ("bolt | thread=M8 x 1.25 | length=25", 2),
                ("nut | thread=M6 x 1", 1),
            ],
        );
        if number % 2 == 0 {
            bench.place(part);
            bench.fasten(part);
        }
    }
    let cover = bench.part(
        "Cover plate",
        &[("bolt | thread=M8 x 1.25 | length=25", 400)],
    );
    bench.place(cover);
    bench
}
