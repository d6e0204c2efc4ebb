//! Building the index: words to numbers, numbers to records, terms in order so
//! that a beginning is a range.

use std::collections::BTreeMap;

use rustc_hash::FxHashMap;

use super::JobKey;
use super::size::Sized;
use super::synonyms::Synonyms;
use super::tags::TagOn;
use super::tokens::each_token;
use crate::fastener::FastenerSpec;
use crate::job::Job;
use crate::journal::{NoteId, PhotoId, Target};
use crate::tag::TagCode;

/// A thing that can be found.
#[derive(Clone, Debug)]
pub(super) struct Doc {
    pub job: JobKey,
    pub what: Target,
    pub photo: Option<PhotoId>,
    pub note: Option<NoteId>,
    /// Weight of all its words together.
    pub len: f32,
}

/// That a word stands in a record, and with what weight.
#[derive(Clone, Copy, Debug)]
pub(super) struct Posting {
    pub doc: u32,
    pub weight: f32,
}

/// The index over one or several jobs.
#[derive(Clone, Debug, Default)]
pub struct Index {
    pub(super) docs: Vec<Doc>,
    /// In order of text.
    pub(super) terms: Vec<Box<str>>,
    /// Which letters a term has, to rule out misspellings at a glance.
    pub(super) letters: Vec<u32>,
    /// Where a term's postings begin; one more than there are terms.
    pub(super) starts: Vec<u32>,
    /// By term, then by record.
    pub(super) postings: Vec<Posting>,
    pub(super) mean_len: f32,
    /// In order of record.
    pub(super) sized: Vec<Sized>,
    pub(super) tags: BTreeMap<TagCode, Vec<TagOn>>,
    pub(super) synonyms: Synonyms,
}

impl Index {
    /// Builds the index of these jobs.
    pub fn of<'a>(jobs: impl IntoIterator<Item = (JobKey, &'a Job)>) -> Self {
        let mut builder = Builder::default();
        for (key, job) in jobs {
            builder.key = key;
            builder.take(job);
        }
        builder.build()
    }

    /// How many things can be found.
    pub fn len(&self) -> usize {
        self.docs.len()
    }
    pub fn is_empty(&self) -> bool {
        self.docs.is_empty()
    }
}

/// A bit for each letter of a word, and one for anything else.
pub(super) fn letters_of(word: &str) -> u32 {
    word.bytes().fold(0, |bits, b| match b {
        b'a'..=b'z' => bits | 1 << (b - b'a'),
        _ => bits | 1 << 26,
    })
}

/// Gathers records, one at a time.
#[derive(Default)]
pub(super) struct Builder {
    key: JobKey,
    docs: Vec<Doc>,
    ids: FxHashMap<Box<str>, u32>,
    /// Term, record and weight, in order of record.
    rows: Vec<(u32, Posting)>,
    /// Words of the record at hand.
    open: Vec<(u32, f32)>,
    scratch: String,
    sized: Vec<Sized>,
    tags: BTreeMap<TagCode, Vec<TagOn>>,
}

impl Builder {
    /// Closes the record at hand and opens one for `what`.
    pub fn record(&mut self, what: Target) -> &mut Self {
        self.close_record();
        self.docs.push(Doc {
            job: self.key,
            what,
            photo: None,
            note: None,
            len: 0.0,
        });
        self
    }
    pub fn text(&mut self, text: &str, weight: f32) -> &mut Self {
        let (ids, open) = (&mut self.ids, &mut self.open);
        each_token(text, &mut self.scratch, |word| {
            let next = ids.len() as u32;
            let id = match ids.get(word) {
                Some(&id) => id,
                None => *ids.entry(word.into()).or_insert(next),
            };
            open.push((id, weight));
        });
        self
    }
    pub fn photo(&mut self, id: PhotoId) -> &mut Self {
        if let Some(doc) = self.docs.last_mut() {
            doc.photo = Some(id);
        }
        self
    }
    pub fn note(&mut self, id: NoteId) -> &mut Self {
        if let Some(doc) = self.docs.last_mut() {
            doc.note = Some(id);
        }
        self
    }
    pub fn spec(&mut self, spec: &FastenerSpec) -> &mut Self {
        let doc = self.docs.len().saturating_sub(1) as u32;
        self.sized.push(Sized {
            doc,
            kind: spec.kind,
            head: spec.head,
            thread: spec.thread,
        });
        self
    }
    /// A tag that is no code is a word like others.
    pub fn tag(&mut self, tag: &str, what: Target) -> &mut Self {
        match tag.parse::<TagCode>() {
            Ok(code) => self.tags.entry(code).or_default().push(TagOn {
                job: self.key,
                what,
            }),
            Err(_) => {
                self.text(tag, 3.0);
            }
        }
        self
    }

    pub fn close_record(&mut self) {
        let Some(doc) = self.docs.len().checked_sub(1) else {
            return;
        };
        self.open.sort_unstable_by_key(|it| it.0);
        let mut len = 0.0;
        let mut last: Option<(u32, f32)> = None;
        for &(term, weight) in &self.open {
            len += weight;
            match &mut last {
                Some((same, sum)) if *same == term => *sum += weight,
                _ => {
                    if let Some((term, weight)) = last.replace((term, weight)) {
                        let doc = doc as u32;
                        self.rows.push((term, Posting { doc, weight }));
                    }
                }
            }
        }
        if let Some((term, weight)) = last {
            let doc = doc as u32;
            self.rows.push((term, Posting { doc, weight }));
        }
        if let Some(doc) = self.docs.last_mut() {
            // A record may be closed twice; the second time has no words.
            doc.len += len;
        }
        self.open.clear();
    }

    fn build(self) -> Index {
        let mut by_text: Vec<(Box<str>, u32)> = self.ids.into_iter().collect();
        by_text.sort_unstable_by(|a, b| a.0.cmp(&b.0));
        let mut rank = vec![0_u32; by_text.len()];
        for (n, (_, id)) in by_text.iter().enumerate() {
            if let Some(rank) = rank.get_mut(*id as usize) {
                *rank = n as u32;
            }
        }
        let rank_of = |id: u32| rank.get(id as usize).copied().unwrap_or_default() as usize;
        let mut starts = vec![0_u32; by_text.len() + 1];
        for (id, _) in &self.rows {
            if let Some(count) = starts.get_mut(rank_of(*id) + 1) {
                *count += 1;
            }
        }
        let mut sum = 0;
        for start in &mut starts {
            sum += *start;
            *start = sum;
        }
        let mut next = starts.clone();
        let mut postings = vec![
            Posting {
                doc: 0,
                weight: 0.0
            };
            self.rows.len()
        ];
        for (id, posting) in self.rows {
            if let Some(at) = next.get_mut(rank_of(id)) {
                if let Some(slot) = postings.get_mut(*at as usize) {
                    *slot = posting;
                }
                *at += 1;
            }
        }
        let total: f32 = self.docs.iter().map(|it| it.len).sum();
        let terms: Vec<Box<str>> = by_text.into_iter().map(|it| it.0).collect();
        Index {
            mean_len: (total / self.docs.len().max(1) as f32).max(1.0),
            docs: self.docs,
            letters: terms.iter().map(|it| letters_of(it)).collect(),
            terms,
            starts,
            postings,
            sized: self.sized,
            tags: self.tags,
            synonyms: Synonyms::default(),
        }
    }
}
