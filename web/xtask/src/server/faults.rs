//! What can be made to go wrong on a host, one file at a time.

use super::http::Answer;
use anyhow::{Context, Error, Result, bail};
use std::fs;
use std::path::PathBuf;
use std::str::FromStr;

/// One fault, for every path that contains `pattern`.
#[derive(Clone, Debug)]
pub struct Fault {
    pub pattern: String,
    pub kind: Kind,
}

/// What goes wrong.
#[derive(Clone, Debug)]
pub enum Kind {
    /// Answers with this status and no file.
    Status(u16),
    /// Names the wrong type.
    Mime(String),
    /// Sends another file's bytes, as an old copy would be.
    Body(PathBuf),
    /// Lets the browser keep the file for so many seconds.
    Age(u32),
    /// Accepts the request and never answers.
    Hang,
}

impl Kind {
    /// Changes a good answer into the faulty one.
    pub fn spoil(&self, answer: &mut Answer) {
        match self {
            Self::Status(status) => {
                answer.status = *status;
                answer.body.clear();
                answer.set("Cache-Control", "no-store".to_owned());
            }
            Self::Mime(mime) => answer.set("Content-Type", mime.clone()),
            Self::Body(file) => answer.body = fs::read(file).unwrap_or_default(),
            Self::Age(seconds) => answer.set("Cache-Control", format!("max-age={seconds}")),
            Self::Hang => {}
        }
    }
}

/// `status 500 PATTERN`, `mime TYPE PATTERN`, `body FILE PATTERN`,
/// `age SECONDS PATTERN`, `hang PATTERN`.
impl FromStr for Fault {
    type Err = Error;

    fn from_str(line: &str) -> Result<Self> {
        let words: Vec<&str> = line.split_whitespace().collect();
        let (kind, pattern) = match words[..] {
            ["status", status, pattern] => (Kind::Status(status.parse()?), pattern),
            ["mime", mime, pattern] => (Kind::Mime(mime.to_owned()), pattern),
            ["body", file, pattern] => (Kind::Body(PathBuf::from(file)), pattern),
            ["age", seconds, pattern] => (
                Kind::Age(seconds.parse().context("age in seconds")?),
                pattern,
            ),
            ["hang", pattern] => (Kind::Hang, pattern),
            _ => bail!("no such fault: {line}"),
        };
        Ok(Self {
            pattern: pattern.to_owned(),
            kind,
        })
    }
}
