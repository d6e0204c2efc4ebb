//! The page about a job's file: what it is, how much it holds, its checksum.
use crate::codec::CodecError;
use crate::codec::json::{Map, Writer, pretty};

/// What a job's file calls itself.
pub const FORMAT: &str = "countback-job";

/// The version of the file this program writes, and the latest it reads. The
/// acts carry their own.
pub const VERSION: u32 = 1;

/// `about.json`.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct About {
    /// For whoever looks into the file; not used when it is opened.
    pub title: String,
    pub acts: usize,
    /// Length of `job.jsonl` in bytes.
    pub bytes: usize,
    /// Of `job.jsonl`, lower-case hex.
    pub sha256: String,
    /// Hashes of the pictures and thumbnails that were packed, in order.
    pub photos: Vec<String>,
    pub thumbs: Vec<String>,
}

/// Why the page cannot be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum AboutFault {
    /// It is about something else, or no such page at all.
    NotAJob,
    Newer {
        version: u32,
    },
    Damaged {
        what: &'static str,
    },
}

impl From<CodecError> for AboutFault {
    fn from(fault: CodecError) -> Self {
        match fault {
            CodecError::Newer { version } => Self::Newer { version },
            CodecError::Damaged { what } => Self::Damaged { what },
        }
    }
}

impl About {
    pub fn to_json(&self) -> String {
        pretty(&Writer::object(|w| {
            w.put("format", FORMAT);
            w.count("version", VERSION);
            w.text("title", &self.title);
            w.number("acts", i64::try_from(self.acts).unwrap_or(i64::MAX));
            w.number("bytes", i64::try_from(self.bytes).unwrap_or(i64::MAX));
            w.put("sha256", &self.sha256);
            w.each("photos", &self.photos, String::clone);
            w.each("thumbs", &self.thumbs, String::clone);
        }))
    }

    pub fn from_json(text: &str) -> Result<Self, AboutFault> {
        let mut r = Map::parse(text).map_err(|_| AboutFault::NotAJob)?;
        if r.words("format")? != FORMAT {
            return Err(AboutFault::NotAJob);
        }
        match r.count("version")? {
            0 => return Err(AboutFault::Damaged { what: "version" }),
            VERSION => {}
            version => return Err(AboutFault::Newer { version }),
        }
        let hash = |text: &str| super::is_hash(text).then(|| text.to_owned());
        let about = Self {
            title: r.text("title")?,
            acts: size(&mut r, "acts")?,
            bytes: size(&mut r, "bytes")?,
            sha256: r.read("sha256", hash)?,
            photos: r.each("photos", hash)?,
            thumbs: r.each("thumbs", hash)?,
        };
        r.end()?;
        Ok(about)
    }
}

fn size(r: &mut Map, field: &'static str) -> Result<usize, AboutFault> {
    usize::try_from(r.whole(field)?).map_err(|_| AboutFault::Damaged { what: field })
}
